// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/sqlite/held_place.h"

#include <sqlite3.h>

#include <algorithm>
#include <mutex>
#include <vector>

#include <sys/stat.h>

namespace markerlamp::db {

struct HeldPlace::Entry {
    std::filesystem::path path;
    std::optional<FileId> file, log;
    bool connection = false;
};

namespace {

constexpr const char* kTaken = "another file has taken the place of the open one; put the right one back";

std::mutex& mutex() {
    static std::mutex one;
    return one;
}

/// Behind mutex().
std::vector<std::shared_ptr<HeldPlace::Entry>>& entries() {
    static std::vector<std::shared_ptr<HeldPlace::Entry>> all;
    return all;
}

/// Behind mutex(). Who holds a place says which file belongs there, as it may have come under other numbers;
/// where nobody does, the connections that are open do.
bool belongs(const std::filesystem::path& real, const std::optional<FileId>& file) {
    bool held = false, asHeld = true, asOpen = true;
    for (const auto& entry : entries()) {
        if (entry->path != real || !entry->file) continue;
        held = held || !entry->connection;
        (entry->connection ? asOpen : asHeld) &= entry->file == file;
    }
    return held ? asHeld : asOpen;
}

void add(const std::shared_ptr<HeldPlace::Entry>& entry) {
    const std::lock_guard lock(mutex());
    entries().push_back(entry);
}
void remove(const std::shared_ptr<HeldPlace::Entry>& entry) {
    const std::lock_guard lock(mutex());
    std::erase(entries(), entry);
}

thread_local OpenedFile* t_listens = nullptr;

}  // namespace

HeldPlace::HeldPlace(const std::filesystem::path& path) : m_entry(std::make_shared<Entry>()) {
    m_entry->path = realPath(path);
    add(m_entry);
}

HeldPlace::~HeldPlace() {
    remove(m_entry);
}

void HeldPlace::set(std::optional<FileId> file, std::optional<FileId> log) {
    const std::lock_guard lock(mutex());
    m_entry->file = file;
    m_entry->log = log;
}

std::string HeldPlace::wrongAt(const std::filesystem::path& path) {
    const std::filesystem::path real = realPath(path);
    const std::lock_guard lock(mutex());
    if (!belongs(real, fileIdOf(real))) return kTaken;
    for (const auto& entry : entries())
        if (entry->path == real && entry->log && fileIdOf(logOf(real)) != entry->log)
            return "the log of the open file, " + logOf(real).string() +
                   ", is not there any more, or another one has taken its place; put it back";
    return {};
}

/// SQLite asks for the numbers of each file it has opened, by a call that may be put in place of the system's
/// (sqlite3_vfs, xSetSystemCall).
struct OpenedFile::Hook {
    static int status(int file, struct stat* found) {
        const int code = ::fstat(file, found);
        if (code == 0 && t_listens != nullptr) t_listens->m_last = FileId{found->st_dev, found->st_ino};
        return code;
    }
    static bool set() {
        sqlite3_vfs* vfs = sqlite3_vfs_find("unix");
        return vfs != nullptr && vfs->iVersion >= 3 &&
               vfs->xSetSystemCall(vfs, "fstat", reinterpret_cast<sqlite3_syscall_ptr>(&status)) == SQLITE_OK;
    }
};

OpenedFile::OpenedFile() : m_outer(t_listens) {
    [[maybe_unused]] static const bool hooked = Hook::set();
    t_listens = this;
}

OpenedFile::~OpenedFile() {
    t_listens = m_outer;
}

OpenPlace::OpenPlace() : m_entry(std::make_shared<HeldPlace::Entry>()) {
    m_entry->connection = true;
    add(m_entry);
}

OpenPlace::~OpenPlace() {
    remove(m_entry);
}

std::string OpenPlace::take(const std::filesystem::path& path, const std::optional<FileId>& file) {
    const std::filesystem::path real = realPath(path);
    const std::lock_guard lock(mutex());
    if (!belongs(real, file)) return kTaken;
    m_entry->path = real;
    m_entry->file = file;
    return {};
}

}  // namespace markerlamp::db
