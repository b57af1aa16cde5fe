// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/whole_files.h"

#include "core/base/files.h"
#include "db/sqlite/connection.h"
#include "db/sqlite/failure.h"

#include <string>
#include <vector>

namespace markerlamp::db {

using core::Result;

namespace {

/// The tables that hold records, not what tells how they came about; `schema` is main or other.
std::vector<std::string> tables(SQLite::Database& database, const std::string& schema) {
    SQLite::Statement statement(
        database, "SELECT name FROM " + schema +
                      ".sqlite_master WHERE type = 'table' AND name NOT LIKE "
                      "'sqlite@_%' ESCAPE '@' AND name NOT IN ('attempt_projection', 'trail_entry') "
                      "ORDER BY name");
    std::vector<std::string> names;
    while (statement.executeStep()) names.push_back(statement.getColumn(0).getString());
    return names;
}

/// Every table has a primary key: as many rows and none that the other lacks is the same.
bool sameRows(SQLite::Database& database, const std::string& table) {
    std::string name = table;  // as the file has it, so whatever a stranger wrote
    for (std::size_t at = 0; (at = name.find('"', at)) != std::string::npos; at += 2) name.insert(at, 1, '"');
    const std::string counted =
        table == "fact" ? " WHERE key NOT LIKE 'ui.%' AND key NOT LIKE 'projection.%'" : "";
    const auto rows = [&](const char* schema) {
        return " FROM " + std::string(schema) + ".\"" + name + "\"" + counted;
    };
    SQLite::Statement statement(database, "SELECT (SELECT count(*)" + rows("main") + ") = (SELECT count(*)" +
                                              rows("other") + ") AND NOT EXISTS (SELECT *" + rows("main") +
                                              " EXCEPT SELECT *" + rows("other") + ")");
    return statement.executeStep() && statement.getColumn(0).getInt() == 1;
}

}  // namespace

Result<bool> sameRecords(const std::filesystem::path& a, const std::filesystem::path& b) {
    // For writing, though nothing is written: a connection that only reads leaves an empty log behind.
    auto first = Connection::open(a, Access::ReadWrite);
    if (!first) return core::fail(first.error());
    // Opened on its own as well: ATTACH would make a file that is missing.
    if (auto second = Connection::open(b, Access::ReadWrite); !second) return core::fail(second.error());
    return guarded(a.string() + " and " + b.string() + " cannot be compared", [&]() -> Result<bool> {
        SQLite::Database& database = (*first)->database();
        SQLite::Statement attach(database, "ATTACH ? AS other");
        attach.bind(1, std::filesystem::absolute(b).string());
        attach.exec();
        const std::vector<std::string> names = tables(database, "main");
        if (names != tables(database, "other")) return false;
        for (const std::string& name : names)
            if (!sameRows(database, name)) return false;
        return true;
    });
}

std::filesystem::path freshNameFor(const std::filesystem::path& path) {
    return core::besideName(path, "fresh");
}

void discardFresh(const std::filesystem::path& fresh) noexcept {
    removeDatabase(fresh);
}

Result<void> replaceProgram(const std::filesystem::path& old, const std::filesystem::path& fresh) {
    std::error_code ec;
    // The last connection takes the log away when it closes. A log that stays belongs to somebody, and would
    // be taken for the log of the fresh file.
    for (const auto& path : {old, fresh})
        if (std::filesystem::exists(path.string() + "-wal", ec) || ec)
            return core::fail(core::ErrorKind::Busy, path.string() + " is open elsewhere; close it first");
    return core::supersede(fresh, old);
}

}  // namespace markerlamp::db
