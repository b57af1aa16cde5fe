// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/sqlite/held_place.h"

#include <algorithm>
#include <mutex>
#include <vector>

namespace markerlamp::db {

struct HeldPlace::Entry {
    std::filesystem::path path;
    std::optional<FileId> file, log;
};

namespace {

std::mutex& mutex() {
    static std::mutex one;
    return one;
}

/// Behind mutex().
std::vector<std::shared_ptr<HeldPlace::Entry>>& entries() {
    static std::vector<std::shared_ptr<HeldPlace::Entry>> all;
    return all;
}

}  // namespace

HeldPlace::HeldPlace(const std::filesystem::path& path) : m_entry(std::make_shared<Entry>()) {
    m_entry->path = realPath(path);
    const std::lock_guard lock(mutex());
    entries().push_back(m_entry);
}

HeldPlace::~HeldPlace() {
    const std::lock_guard lock(mutex());
    std::erase(entries(), m_entry);
}

void HeldPlace::set(std::optional<FileId> file, std::optional<FileId> log) {
    const std::lock_guard lock(mutex());
    m_entry->file = file;
    m_entry->log = log;
}

std::string HeldPlace::wrongAt(const std::filesystem::path& path) {
    const std::filesystem::path real = realPath(path);
    const std::lock_guard lock(mutex());
    for (const auto& entry : entries()) {
        if (entry->path != real) continue;
        if (entry->file && fileIdOf(real) != entry->file)
            return "another file has taken the place of the open one; put the right one back";
        if (entry->log && fileIdOf(logOf(real)) != entry->log)
            return "the log of the open file, " + logOf(real).string() +
                   ", is not there any more, or another one has taken its place; put it back";
    }
    return {};
}

}  // namespace markerlamp::db
