#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Whether a file's tables, indexes, views and triggers are the ones that the numbered steps make, to the
// letter. A file that a stranger made may have the right numbers in its head and a trigger that deletes, or a
// view where a table belongs: it is refused before anything of it runs.

#include "core/base/result.h"
#include "db/schema/schema_steps.h"
#include "db/sqlite/connection.h"

#include <filesystem>
#include <vector>

namespace markerlamp::db {

/// The cache of figures for lists. The program makes it, no step does, and makes it anew when it is another.
inline constexpr const char* kFiguresTable =
    "CREATE TABLE attempt_projection ("
    "attempt INTEGER PRIMARY KEY REFERENCES attempt (number), ended INTEGER NOT NULL, result INTEGER NOT "
    "NULL, percent REAL NOT NULL, earned INTEGER NOT NULL, possible INTEGER NOT NULL, shown_percent REAL "
    "NOT NULL, said_percent REAL NOT NULL, order_percent REAL NOT NULL, seconds REAL NOT NULL, "
    "steps_scored INTEGER NOT NULL, steps_in_scope INTEGER NOT NULL, amended INTEGER NOT NULL, partial "
    "INTEGER NOT NULL) STRICT";

/// Refused, with the name of what is too much, missing or different; nothing of the file has run then.
/// @param version the number of the file's form, one of the steps'
core::Result<void> checkSchema(Connection& connection, const std::filesystem::path& path, int version,
                               const std::vector<SchemaStep>& steps);

}  // namespace markerlamp::db
