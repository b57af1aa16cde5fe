#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Erasing a person: name, papers and all words about the person leave the file and the log beside it, copies
// that the program made are removed; the marks stay under a key that says nothing.

#include "core/base/result.h"
#include "core/people/keeping.h"
#include "db/sqlite/connection.h"
#include "db/store/attempt_store.h"
#include "db/store/trail_store.h"

#include <filesystem>
#include <string>
#include <vector>

namespace markerlamp::db {

class EraseStore {
public:
    EraseStore(Connection& connection, TrailStore& trail, AttemptStore& attempts, std::filesystem::path path)
        : m_connection(connection), m_trail(trail), m_attempts(attempts), m_path(std::move(path)) {}

    /// One for each trainee who has a record, by key.
    core::Result<std::vector<core::LastRecord>> lastRecords();
    /// Refused while presses wait beside the file, while an attempt of the trainee is open, and (Busy) while
    /// another program reads. When the log cannot be emptied after all the records are erased nevertheless,
    /// and the error says what to do.
    core::Result<core::Erased> erase(const std::string& trainee);

private:
    core::Result<void> mayErase(const std::string& trainee);
    core::Result<void> eraseRecords(const std::string& trainee, core::Erased& erased);
    core::Result<void> tellTrail(const std::string& trainee, const std::string& anonymous);
    core::Result<void> scrubFile();
    core::Result<void> emptyLog();
    core::Result<void> removeCopies(core::Erased& erased);

    Connection& m_connection;
    TrailStore& m_trail;
    AttemptStore& m_attempts;
    std::filesystem::path m_path;
};

}  // namespace markerlamp::db
