// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/claim.h"

#include <array>
#include <cerrno>
#include <chrono>
#include <ctime>
#include <sstream>
#include <system_error>
#include <utility>
#include <vector>

#include <fcntl.h>
#include <pwd.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

namespace markerlamp::db {

namespace {

constexpr int kTries = 20;  // somebody else lets go just then

std::string hostName() {
    std::array<char, 256> name{};
    return ::gethostname(name.data(), name.size() - 1) == 0 ? std::string(name.data()) : std::string();
}

std::string userName() {
    std::vector<char> room(16384);
    passwd entry{};
    passwd* found = nullptr;
    if (::getpwuid_r(::getuid(), &entry, room.data(), room.size(), &found) == 0 && found != nullptr)
        return found->pw_name;
    return std::to_string(::getuid());
}

std::string now() {
    const std::time_t seconds = std::chrono::system_clock::to_time_t(std::chrono::system_clock::now());
    std::tm utc{};
    std::array<char, 32> text{};
    if (::gmtime_r(&seconds, &utc) == nullptr) return {};
    return {text.data(), std::strftime(text.data(), text.size(), "%Y-%m-%dT%H:%M:%SZ", &utc)};
}

Holder readHolder(int fd) {
    std::array<char, 1024> bytes{};
    const ssize_t size = ::pread(fd, bytes.data(), bytes.size(), 0);
    std::istringstream in(std::string(bytes.data(), size > 0 ? static_cast<std::size_t>(size) : 0));
    Holder holder;
    for (std::string* field : {&holder.host, &holder.user, &holder.process, &holder.since})
        if (!std::getline(in, *field)) break;
    return holder;
}

void writeHolder(int fd) {
    const std::string text =
        hostName() + '\n' + userName() + '\n' + std::to_string(::getpid()) + '\n' + now() + '\n';
    // Only told to others: the lock holds without it.
    if (::ftruncate(fd, 0) == 0) (void)!::pwrite(fd, text.data(), text.size(), 0);
}

/// Whether the name still leads to what is open: a holder that lets go takes the name away.
bool isNamed(int fd, const std::filesystem::path& place) {
    struct stat open {
    }, named{};
    return ::fstat(fd, &open) == 0 && ::lstat(place.c_str(), &named) == 0 && open.st_dev == named.st_dev &&
           open.st_ino == named.st_ino;
}

}  // namespace

Claim::Claim(int fd, std::filesystem::path place) : m_fd(fd), m_place(std::move(place)) {}

Claim::~Claim() {
    // Before the lock goes: who waits for it finds that the name is gone, and tries anew.
    if (isNamed(m_fd, m_place)) ::unlink(m_place.c_str());
    ::close(m_fd);
}

std::filesystem::path Claim::placeFor(const std::filesystem::path& program) {
    std::error_code ec;
    auto real = std::filesystem::weakly_canonical(program, ec);  // by whatever link it is reached
    if (ec) real = std::filesystem::absolute(program, ec);
    return real.parent_path() / ("." + real.filename().string() + ".in-use");
}

Claim::Outcome Claim::on(const std::filesystem::path& program) {
    const auto place = placeFor(program);
    for (int tried = 0; tried < kTries; ++tried) {
        const int fd = ::open(place.c_str(), O_RDWR | O_CREAT | O_CLOEXEC | O_NOFOLLOW, 0600);
        if (fd < 0) return {};
        if (::flock(fd, LOCK_EX | LOCK_NB) != 0) {
            const bool held = errno == EWOULDBLOCK;
            Outcome outcome;
            if (held) outcome.heldBy = readHolder(fd);
            ::close(fd);
            return outcome;
        }
        if (!isNamed(fd, place)) {
            ::close(fd);
            continue;
        }
        // Who may write to the program may ask for it too.
        struct stat modes {};
        if (::stat(program.c_str(), &modes) == 0) (void)!::fchmod(fd, modes.st_mode & 0666);
        writeHolder(fd);
        return {std::unique_ptr<Claim>(new Claim(fd, place)), {}};
    }
    return {};
}

}  // namespace markerlamp::db
