// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/base/files.h"

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <cstring>
#include <system_error>

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

namespace markerlamp::core {

namespace {

class Descriptor {
public:
    explicit Descriptor(int fd) : m_fd(fd) {}
    ~Descriptor() {
        if (m_fd >= 0) ::close(m_fd);
    }
    Descriptor(const Descriptor&) = delete;
    Descriptor& operator=(const Descriptor&) = delete;
    [[nodiscard]] int get() const { return m_fd; }

private:
    int m_fd;
};

tl::unexpected<Error> machine(const std::filesystem::path& path, const char* doing, int code) {
    return fail(ErrorKind::Machine, path.string() + " cannot be " + doing + ": " + std::strerror(code));
}

bool isAbsent(int code) {
    return code == ENOENT || code == ENOTDIR;
}

std::filesystem::path folderOf(const std::filesystem::path& path) {
    return path.has_parent_path() ? path.parent_path() : std::filesystem::path(".");
}

Result<void> regularFile(const std::filesystem::path& path, const struct stat& status) {
    if (S_ISREG(status.st_mode)) return {};
    const char* what = S_ISDIR(status.st_mode)    ? "a folder"
                       : S_ISFIFO(status.st_mode) ? "a pipe"
                       : S_ISSOCK(status.st_mode) ? "a socket"
                                                  : "a device";
    return fail(ErrorKind::Refused, path.string() + " is " + what + "; name a regular file");
}

Result<void> writeBytes(int fd, const std::filesystem::path& path, std::string_view bytes) {
    while (!bytes.empty()) {
        const ssize_t written = ::write(fd, bytes.data(), bytes.size());
        if (written < 0 && errno == EINTR) continue;
        if (written < 0) return machine(path, "written", errno);
        bytes.remove_prefix(static_cast<std::size_t>(written));
    }
    if (::fsync(fd) != 0) return machine(path, "synced", errno);
    return {};
}

Result<void> syncPath(const std::filesystem::path& path, int flags) {
    const Descriptor file(::open(path.c_str(), flags | O_CLOEXEC));
    if (file.get() < 0) return machine(path, "opened", errno);
    if (::fsync(file.get()) != 0) return machine(path, "synced", errno);
    return {};
}

}  // namespace

Result<std::string> readDocument(const std::filesystem::path& path, std::size_t most) {
    // Looked at before it is opened, because opening some devices does something, and after, because another
    // file can have come under the name in between.
    struct stat status = {};
    if (::stat(path.c_str(), &status) != 0) {
        if (isAbsent(errno)) return fail(ErrorKind::NotFound, "there is no file " + path.string());
        return machine(path, "read", errno);
    }
    if (auto regular = regularFile(path, status); !regular) return fail(regular.error());
    const Descriptor file(::open(path.c_str(), O_RDONLY | O_NONBLOCK | O_NOCTTY | O_CLOEXEC));
    if (file.get() < 0 || ::fstat(file.get(), &status) != 0) return machine(path, "read", errno);
    if (auto regular = regularFile(path, status); !regular) return fail(regular.error());
    std::string text;
    std::string block(std::size_t{1} << 16, '\0');
    while (text.size() <= most) {
        const ssize_t got = ::read(file.get(), block.data(), std::min(block.size(), most + 1 - text.size()));
        if (got < 0 && errno == EINTR) continue;
        if (got < 0) return machine(path, "read", errno);
        if (got == 0) break;
        text.append(block, 0, static_cast<std::size_t>(got));
    }
    return text;
}

Result<void> replaceFile(const std::filesystem::path& path, std::string_view bytes) {
    const auto target = replaceTarget(path);
    if (!target) return fail(target.error());
    struct stat status = {};
    const bool isThere = ::stat(target->c_str(), &status) == 0;
    const std::filesystem::path part = besideName(*target, "part");
    auto filled = [&]() -> Result<void> {
        const Descriptor file(::open(part.c_str(), O_CREAT | O_EXCL | O_WRONLY | O_CLOEXEC, 0666));
        if (file.get() < 0) return machine(path, "written", errno);
        if (isThere && ::fchmod(file.get(), status.st_mode & 07777) != 0)
            return machine(path, "written", errno);
        if (auto written = writeBytes(file.get(), path, bytes); !written) return written;
        if (::rename(part.c_str(), target->c_str()) != 0) return machine(path, "written", errno);
        return syncFolder(folderOf(*target));
    }();
    if (!filled) ::unlink(part.c_str());
    return filled;
}

Result<std::filesystem::path> replaceTarget(const std::filesystem::path& path) {
    std::filesystem::path target = path;
    std::error_code ec;
    const bool isLink = std::filesystem::is_symlink(std::filesystem::symlink_status(path, ec));
    struct stat status = {};
    if (::stat(path.c_str(), &status) == 0) {
        if (auto regular = regularFile(path, status); !regular) return fail(regular.error());
        if (::access(path.c_str(), W_OK) != 0) return machine(path, "written", errno);
        if (isLink) target = std::filesystem::canonical(path, ec);
        if (ec) return machine(path, "written", ec.value());
    } else if (!isAbsent(errno)) {
        return machine(path, "written", errno);
    } else if (isLink) {
        return fail(ErrorKind::Refused, path.string() + " is a link that leads nowhere; name a regular file");
    }
    if (auto there = folderIsThere(target); !there) return fail(there.error());
    return target;
}

Result<void> folderIsThere(const std::filesystem::path& path) {
    const std::filesystem::path folder = folderOf(path);
    struct stat status = {};
    if (::stat(folder.c_str(), &status) != 0) {
        if (isAbsent(errno))
            return fail(ErrorKind::NotFound, "there is no folder " + folder.string() + " for " +
                                                 path.filename().string() + "; make it first");
        return machine(folder, "used", errno);
    }
    if (!S_ISDIR(status.st_mode)) return fail(ErrorKind::Refused, folder.string() + " is not a folder");
    return {};
}

Result<void> createPrivateFile(const std::filesystem::path& path) {
    const Descriptor file(::open(path.c_str(), O_CREAT | O_EXCL | O_RDWR | O_CLOEXEC, S_IRUSR | S_IWUSR));
    if (file.get() >= 0) return {};
    if (errno == EEXIST) return fail(ErrorKind::Conflict, path.string() + " exists already");
    // The name may be one that nobody gave: what the reader knows is the folder.
    return fail(ErrorKind::Machine,
                "no file can be made in the folder " + folderOf(path).string() + ": " + std::strerror(errno));
}

Result<void> publish(const std::filesystem::path& made, const std::filesystem::path& name) {
    if (auto synced = syncPath(made, O_RDONLY); !synced) return synced;
    if (::renameat2(AT_FDCWD, made.c_str(), AT_FDCWD, name.c_str(), RENAME_NOREPLACE) != 0) {
        int code = errno;
        if (code == EINVAL || code == ENOSYS) {
            // Some file systems cannot rename without replacing; a second link refuses as well.
            code = ::link(made.c_str(), name.c_str()) == 0 ? 0 : errno;
            if (code == 0) ::unlink(made.c_str());
        }
        if (code == EEXIST) return fail(ErrorKind::Conflict, name.string() + " exists already");
        if (code != 0) return machine(name, "made", code);
    }
    return syncFolder(folderOf(name));
}

Result<void> supersede(const std::filesystem::path& made, const std::filesystem::path& name) {
    if (auto synced = syncPath(made, O_RDONLY); !synced) return synced;
    if (::rename(made.c_str(), name.c_str()) != 0) return machine(name, "replaced", errno);
    return syncFolder(folderOf(name));
}

Result<void> writeWhole(const std::filesystem::path& path, std::string_view bytes) {
    const Descriptor file(::open(path.c_str(), O_CREAT | O_EXCL | O_WRONLY | O_CLOEXEC, S_IRUSR | S_IWUSR));
    if (file.get() < 0) return machine(path, "made", errno);
    return writeBytes(file.get(), path, bytes);
}

Result<void> syncFolder(const std::filesystem::path& folder) {
    return syncPath(folder, O_RDONLY | O_DIRECTORY);
}

std::filesystem::path besideName(const std::filesystem::path& path, std::string_view tag) {
    // Names have at most 255 bytes, and SQLite wants some for what it keeps beside.
    constexpr std::size_t kMostOfTheName = 200;
    const std::string stem = "." + path.filename().string().substr(0, kMostOfTheName) + "." +
                             std::string(tag) + "-" + std::to_string(::getpid());
    for (int count = 1;; ++count) {
        auto name = folderOf(path) / (stem + "-" + std::to_string(count));
        std::error_code ec;
        if (!std::filesystem::exists(std::filesystem::symlink_status(name, ec))) return name;
    }
}

}  // namespace markerlamp::core
