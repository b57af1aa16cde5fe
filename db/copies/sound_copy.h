#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The one way in which a database becomes another file: SQLite's online backup into a file beside the name,
// looked through, synced, renamed. Writers go on meanwhile; the copy is of one moment.

#include "core/base/result.h"
#include "db/sqlite/connection.h"

#include <filesystem>
#include <string>

namespace markerlamp::db {

/// The first thing that is wrong inside: pages, indexes, rows that name records that are not there. Empty:
/// sound.
[[nodiscard]] std::string unsoundness(SQLite::Database& database);

/// Copies what `source` has open to `part`, which must not exist; mode 0600. What is left when it fails the
/// caller takes away. @param path the source, for messages
core::Result<void> copyInto(Connection& source, const std::filesystem::path& path,
                            const std::filesystem::path& part);

/// copyInto() a name beside `name`, then publish: Conflict when something of that name is there. Nothing of
/// it is left when it fails.
core::Result<void> soundCopy(Connection& source, const std::filesystem::path& path,
                             const std::filesystem::path& name);

}  // namespace markerlamp::db
