#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Program files that this process works on. SQLite opens whatever lies under a name, and takes any log beside
// it for its own: while another file lies in the place of one that is held, no connection is made there.

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
    std::shared_ptr<Entry> m_entry;
};

}  // namespace markerlamp::db
