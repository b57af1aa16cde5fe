// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/copies/copies_folder.h"

#include "core/base/files.h"
#include "db/copies/sound_copy.h"
#include "db/schema/migrator.h"

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <utility>

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

namespace markerlamp::db {

using core::ErrorKind;
using core::Result;

Result<CopiesLock> CopiesLock::take(const std::filesystem::path& program) {
    const std::filesystem::path folder = copiesFolder(program);
    if (auto made = privateFolder(folder); !made) return core::fail(made.error());
    const int fd = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    int locked = fd < 0 ? -1 : ::flock(fd, LOCK_EX);
    while (locked != 0 && fd >= 0 && errno == EINTR) locked = ::flock(fd, LOCK_EX);
    // A file system without locks: one workstation works on a file there as well, so go on without.
    if (fd >= 0 && (locked == 0 || errno == ENOLCK || errno == EOPNOTSUPP || errno == EINVAL))
        return CopiesLock(fd);
    const int why = errno;
    if (fd >= 0) ::close(fd);
    return core::fail(ErrorKind::Machine, "the folder of the copies, " + folder.string() +
                                              ", cannot be used: " + std::strerror(why));
}

CopiesLock::CopiesLock(CopiesLock&& other) noexcept : m_fd(std::exchange(other.m_fd, -1)) {}

CopiesLock::~CopiesLock() {
    if (m_fd >= 0) ::close(m_fd);
}

std::string factOf(Connection& connection, const std::string& key) {
    Query query = connection.query("SELECT value FROM fact WHERE key = ?");
    query->bind(1, key);
    return query->executeStep() ? textOf(*query, 0) : std::string();
}

void putFact(Connection& connection, const std::string& key, const std::string& value) {
    Query query = connection.query(
        "INSERT INTO fact (key, value) VALUES (?, ?) ON CONFLICT (key) DO UPDATE SET "
        "value = excluded.value");
    query->bind(1, key);
    query->bind(2, value);
    query->exec();
}

std::filesystem::path secondFolder(Connection& connection, const std::filesystem::path& program) {
    const std::string place = factOf(connection, kSecondPlaceFact);
    if (place.empty()) return {};
    return std::filesystem::path(place) /
           (program.filename().string() + ".copies-" + factOf(connection, kCopiesIdFact));
}

Result<void> privateFolder(const std::filesystem::path& folder) {
    if (::mkdir(folder.c_str(), S_IRWXU) == 0) return {};
    const int why = errno;
    std::error_code ec;
    if (why == EEXIST && std::filesystem::is_directory(folder, ec)) return {};
    if (why == ENOENT)
        return core::fail(
            ErrorKind::NotFound,
            "there is no folder " + std::filesystem::absolute(folder, ec).parent_path().string());
    return core::fail(ErrorKind::Machine,
                      "the folder " + folder.string() + " cannot be made: " + std::strerror(why));
}

std::vector<CopyFile> copiesIn(const std::filesystem::path& folder) {
    std::vector<CopyFile> copies;
    std::error_code ec;
    std::filesystem::directory_iterator entry(folder, ec);
    for (; !ec && entry != std::filesystem::directory_iterator(); entry.increment(ec)) {
        const auto name = core::readCopyFileName(entry->path().filename().string());
        std::error_code unread;
        if (!name || !entry->is_regular_file(unread)) continue;
        copies.push_back({entry->path(), *name, entry->file_size(unread), false});
    }
    return copies;
}

std::filesystem::path freeName(const std::filesystem::path& folder, core::CopyName name) {
    // Whatever their reason: of two copies of one second the count tells which is newer.
    for (const CopyFile& copy : copiesIn(folder))
        if (copy.name.ms / 1000 == name.ms / 1000) name.count = std::max(name.count, copy.name.count + 1);
    return folder / core::copyFileName(name);
}

Result<std::filesystem::path> makeCopy(const std::filesystem::path& program, core::CopyReason reason,
                                       std::int64_t nowMs) {
    auto source = Connection::open(program, Access::ReadOnly);
    if (!source) return core::fail(source.error());
    if (auto ours = identify(**source, program); !ours) return core::fail(ours.error());
    const std::filesystem::path name = freeName(copiesFolder(program), {nowMs, reason, 1});
    if (auto done = soundCopy(**source, program, name); !done) return core::fail(done.error());
    return name;
}

Result<void> removeCopiesIn(const std::filesystem::path& folder, std::vector<std::string>& removed) {
    std::vector<std::filesystem::path> all;
    std::error_code ec;
    std::filesystem::directory_iterator entry(folder, ec);
    for (; !ec && entry != std::filesystem::directory_iterator(); entry.increment(ec)) {
        // A copy, its log where it was put aside with one, or what a run that broke off left.
        const std::string name = entry->path().filename().string();
        const std::string whole = name.substr(name.starts_with(".") ? 1 : 0);
        const std::size_t end = whole.find(".markerlamp");
        if (end != std::string::npos && core::readCopyFileName(whole.substr(0, end + 11)))
            all.push_back(entry->path());
    }
    for (const std::filesystem::path& path : all) {
        if (!ec) std::filesystem::remove(path, ec);
        if (!ec) removed.push_back(path.string());
    }
    if (!ec) return {};
    return core::fail(ErrorKind::Machine, "copies in " + folder.string() + " cannot be removed",
                      ec.message());
}

}  // namespace markerlamp::db
