// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What a copy has that the open file has not, counted.

#include "db/copies/copies.h"
#include "db/schema/migrator.h"
#include "db/sqlite/failure.h"

#include <string>
#include <vector>

namespace markerlamp::db {

using core::Result;

namespace {

int counted(SQLite::Database& database, const std::string& sql) {
    SQLite::Statement statement(database, sql);
    return statement.executeStep() ? statement.getColumn(0).getInt() : 0;
}

bool hasTable(SQLite::Database& database, const std::string& schema, const std::string& table) {
    return counted(database, "SELECT count(*) FROM " + schema +
                                 ".sqlite_master WHERE type = 'table' AND name = '" + table + "'") > 0;
}

int onlyIn(SQLite::Database& database, const std::string& a, const std::string& b, const std::string& table,
           const std::string& key) {
    if (!hasTable(database, a, table)) return 0;
    std::string sql = "SELECT count(*) FROM " + a + "." + table;
    if (hasTable(database, b, table))
        sql += " WHERE " + key + " NOT IN (SELECT " + key + " FROM " + b + "." + table + ")";
    return counted(database, sql);
}

/// Tables of records with an id of their own, besides attempts.
std::vector<std::string> recordTables(SQLite::Database& database, const std::string& schema) {
    SQLite::Statement rows(
        database, "SELECT m.name FROM " + schema + ".sqlite_master m JOIN pragma_table_info(m.name, '" +
                      schema +
                      "') c WHERE m.type = 'table' AND c.name = 'id' AND c.pk = 1 AND m.name <> "
                      "'limit_set'");
    std::vector<std::string> names;
    while (rows.executeStep()) names.push_back(rows.getColumn(0).getString());
    return names;
}

CopyDifference::Count countOnlyIn(SQLite::Database& database, const std::string& a, const std::string& b) {
    CopyDifference::Count count;
    count.attempts = onlyIn(database, a, b, "attempt", "id");
    count.trainees = onlyIn(database, a, b, "trainee", "key");
    for (const std::string& table : recordTables(database, a))
        count.others += onlyIn(database, a, b, table, "id");
    const auto events = [](const std::string& schema, const std::string& attempt) {
        return "(SELECT count(*) FROM " + schema + ".event e WHERE e.attempt = " + attempt + ")";
    };
    count.events =
        counted(database, "SELECT total(max(0, " + events(a, "x.number") + " - " + events(b, "y.number") +
                              ")) FROM " + a + ".attempt x JOIN " + b + ".attempt y ON y.id = x.id");
    return count;
}

}  // namespace

Result<CopyDifference> differenceOf(const std::filesystem::path& program, const std::filesystem::path& copy) {
    auto file = Connection::open(program, Access::ReadOnly);
    if (!file) return core::fail(file.error());
    // Opened on its own as well: ATTACH would make a file that is missing.
    auto other = Connection::open(copy, Access::ReadOnly);
    if (!other) return core::fail(other.error());
    for (const auto& [connection, path] : {std::pair{file->get(), &program}, std::pair{other->get(), &copy}})
        if (auto ours = identify(*connection, *path); !ours) return core::fail(ours.error());
    other->reset();
    return guarded(copy.string() + " cannot be compared with the open file", [&]() -> Result<CopyDifference> {
        SQLite::Database& database = (*file)->database();
        SQLite::Statement attach(database, "ATTACH ? AS copy");
        attach.bind(1, std::filesystem::absolute(copy).string());
        attach.exec();
        return CopyDifference{countOnlyIn(database, "copy", "main"), countOnlyIn(database, "main", "copy")};
    });
}

}  // namespace markerlamp::db
