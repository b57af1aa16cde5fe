// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/sqlite/files.h"

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <string>
#include <system_error>

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

namespace markerlamp::db {

using core::ErrorKind;
using core::Result;

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

tl::unexpected<core::Error> machine(const std::filesystem::path& path, const char* doing, int code) {
    return core::fail(ErrorKind::Machine, path.string() + " cannot be " + doing + ": " + std::strerror(code));
}

Result<void> syncPath(const std::filesystem::path& path, int flags) {
    const Descriptor file(::open(path.c_str(), flags | O_CLOEXEC));
    if (file.get() < 0) return machine(path, "opened", errno);
    if (::fsync(file.get()) != 0) return machine(path, "synced", errno);
    return {};
}

std::filesystem::path folderOf(const std::filesystem::path& path) {
    return path.has_parent_path() ? path.parent_path() : std::filesystem::path(".");
}

}  // namespace

Result<void> createPrivateFile(const std::filesystem::path& path) {
    const Descriptor file(::open(path.c_str(), O_CREAT | O_EXCL | O_RDWR | O_CLOEXEC, S_IRUSR | S_IWUSR));
    if (file.get() >= 0) return {};
    if (errno == EEXIST) return core::fail(ErrorKind::Conflict, path.string() + " exists already");
    return machine(path, "made", errno);
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
        if (code == EEXIST) return core::fail(ErrorKind::Conflict, name.string() + " exists already");
        if (code != 0) return machine(name, "made", code);
    }
    return syncFolder(folderOf(name));
}

Result<void> writeWhole(const std::filesystem::path& path, std::string_view bytes) {
    const Descriptor file(::open(path.c_str(), O_CREAT | O_EXCL | O_WRONLY | O_CLOEXEC, S_IRUSR | S_IWUSR));
    if (file.get() < 0) return machine(path, "made", errno);
    while (!bytes.empty()) {
        const ssize_t written = ::write(file.get(), bytes.data(), bytes.size());
        if (written < 0 && errno == EINTR) continue;
        if (written < 0) return machine(path, "written", errno);
        bytes.remove_prefix(static_cast<std::size_t>(written));
    }
    if (::fsync(file.get()) != 0) return machine(path, "synced", errno);
    return {};
}

Result<void> syncFolder(const std::filesystem::path& folder) {
    return syncPath(folder, O_RDONLY | O_DIRECTORY);
}

void removeDatabase(const std::filesystem::path& path) noexcept {
    for (const char* tail : {"", "-wal", "-shm", "-journal"}) ::unlink((path.string() + tail).c_str());
}

std::filesystem::path besideName(const std::filesystem::path& path, std::string_view tag) {
    const std::string stem =
        "." + path.filename().string() + "." + std::string(tag) + "-" + std::to_string(::getpid());
    for (int count = 1;; ++count) {
        auto name = folderOf(path) / (stem + "-" + std::to_string(count));
        std::error_code ec;
        if (!std::filesystem::exists(std::filesystem::symlink_status(name, ec))) return name;
    }
}

}  // namespace markerlamp::db
