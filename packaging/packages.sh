# Sourced by the two set-up commands: installs by apt what is missing, without questions.
# Lists: one package a line, checked against Debian 12.

build_packages="g++ cmake ninja-build pkg-config ccache mold
qt6-base-dev libqt6opengl6-dev qt6-charts-dev qt6-svg-dev qt6-tools-dev qt6-tools-dev-tools qt6-l10n-tools
libsqlite3-dev libsqlitecpp-dev libyaml-cpp-dev nlohmann-json3-dev libexpected-dev liblemon-dev libboost-dev
libeigen3-dev libsodium-dev libxlsxwriter-dev libarchive-dev libxkbcommon-dev fonts-b612 libgtest-dev libgmock-dev librapidcheck-dev"
# What the tests look at besides: PDF pages, desktop files, metainfo, packages, fuzzing.
test_packages="poppler-utils desktop-file-utils appstream dpkg-dev file xvfb xauth xdotool imagemagick sqlite3 git
clang-14 libclang-rt-14-dev libbenchmark-dev
python3 python3-openpyxl python3-argon2
r-base-core r-cran-lme4 r-cran-psych r-cran-psychtools r-cran-psychotools"
# What packaging/static-analysis runs.
analysis_packages="clang-tidy clazy"
# Only the benchmark of the forecast looks for python3-sklearn, as a peer; it says so where it is missing.

# install_missing PACKAGE...: quick and silent when nothing is missing.
install_missing() {
    missing=""
    for package in "$@"; do
        status=$(dpkg-query -W -f '${db:Status-Status}' "$package" 2>/dev/null || true)
        [ "$status" = installed ] || missing="$missing $package"
    done
    [ -n "$missing" ] || return 0
    echo "Installing by apt:$missing"
    if [ "$(id -u)" -eq 0 ]; then
        as_root=""
    elif command -v sudo >/dev/null 2>&1; then
        as_root="sudo"
    else
        echo "These packages are missing and can only be installed by root or with sudo:$missing" >&2
        exit 3
    fi
    $as_root env DEBIAN_FRONTEND=noninteractive apt-get update -q
    # shellcheck disable=SC2086  # one word per package is meant
    $as_root env DEBIAN_FRONTEND=noninteractive apt-get install -q -y --no-install-recommends $missing
}
