#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Program files that this process works on. SQLite opens whatever lies under a name, and takes any log beside
// it for its own, and begins the log's index anew under the feet of who reads: while another file lies in the
// place of one that is held or open, no connection is made there.

#include "db/sqlite/file_id.h"

#include <filesystem>
#include <memory>
#include <optional>
#include <string>

namespace markerlamp::db {

class HeldPlace {
public:
    explicit HeldPlace(const std::filesystem::path& path);
    ~HeldPlace();
    HeldPlace(const HeldPlace&) = delete;
    HeldPlace& operator=(const HeldPlace&) = delete;

    /// What belongs there; nothing: whatever comes.
    void set(std::optional<FileId> file, std::optional<FileId> log);
    /// Why nothing may be opened under this name now; empty: it may.
    [[nodiscard]] static std::string wrongAt(const std::filesystem::path& path);

    struct Entry;

private:
    friend class OpenPlace;
    std::shared_ptr<Entry> m_entry;
};

/// Hears from SQLite which file the connections get that the thread makes while this lives: a name may lead
/// elsewhere a moment later.
class OpenedFile {
public:
    OpenedFile();
    ~OpenedFile();
    OpenedFile(const OpenedFile&) = delete;
    OpenedFile& operator=(const OpenedFile&) = delete;

    /// Nothing: the file system in use tells nothing.
    [[nodiscard]] std::optional<FileId> last() const { return m_last; }

    struct Hook;

private:
    std::optional<FileId> m_last;
    OpenedFile* m_outer;
};

/// The place of one connection, for as long as it is open.
class OpenPlace {
public:
    OpenPlace();
    ~OpenPlace();
    OpenPlace(const OpenPlace&) = delete;
    OpenPlace& operator=(const OpenPlace&) = delete;

    /// The connection got this file by this name. Why it may not look at it; empty: it may.
    [[nodiscard]] std::string take(const std::filesystem::path& path, const std::optional<FileId>& file);

private:
    std::shared_ptr<HeldPlace::Entry> m_entry;
};

}  // namespace markerlamp::db
