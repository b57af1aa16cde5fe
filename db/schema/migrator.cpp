// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/schema/migrator.h"

#include "db/copies/sound_copy.h"
#include "db/schema/schema_check.h"
#include "db/sqlite/failure.h"

#include <string>
#include <system_error>

namespace markerlamp::db {

using core::ErrorKind;
using core::Result;

namespace {

int newest(const std::vector<SchemaStep>& steps) {
    return steps.empty() ? 0 : steps.back().number;
}

/// Foreign keys are not enforced while a step rebuilds tables, and the switch has no effect inside a
/// transaction.
class ForeignKeysOff {
public:
    explicit ForeignKeysOff(SQLite::Database& database) : m_database(database) {
        m_database.exec("PRAGMA foreign_keys = OFF");
    }
    ~ForeignKeysOff() { m_database.tryExec("PRAGMA foreign_keys = ON"); }
    ForeignKeysOff(const ForeignKeysOff&) = delete;
    ForeignKeysOff& operator=(const ForeignKeysOff&) = delete;

private:
    SQLite::Database& m_database;
};

Result<void> runStep(Connection& connection, const SchemaStep& step) {
    SQLite::Database& database = connection.database();
    return connection.transaction([&]() -> Result<void> {
        if (connection.pragma("user_version") >= step.number) return {};  // another program was quicker
        database.exec(step.sql);
        SQLite::Statement dangling(database, "PRAGMA foreign_key_check");
        if (dangling.executeStep())
            return core::fail(ErrorKind::Machine, "rows of " + dangling.getColumn(0).getString() +
                                                      " would name records that do not exist");
        database.exec("PRAGMA user_version = " + std::to_string(step.number));
        return {};
    });
}

/// FILE.before-N.bak, or with a count when a copy of that name is kept from an earlier try.
std::filesystem::path copyName(const std::filesystem::path& path, int step) {
    for (int count = 1;; ++count) {
        const std::string again = count == 1 ? "" : "-" + std::to_string(count);
        std::filesystem::path name = path.string() + ".before-" + std::to_string(step) + again + ".bak";
        std::error_code ec;
        if (!std::filesystem::exists(name, ec)) return name;
    }
}

Result<std::filesystem::path> copyBefore(Connection& connection, const std::filesystem::path& path,
                                         int step) {
    const std::filesystem::path name = copyName(path, step);
    if (auto copied = soundCopy(connection, path, name); !copied) return core::fail(copied.error());
    return name;
}

}  // namespace

Result<int> identify(Connection& connection, const std::filesystem::path& path,
                     const std::vector<SchemaStep>& steps) {
    return guarded(path.string() + " cannot be opened", [&]() -> Result<int> {
        if (connection.pragma("application_id") != kApplicationId)
            return core::fail(ErrorKind::Refused, path.string() + " is not a Markerlamp program file");
        const int version = static_cast<int>(connection.pragma("user_version"));
        if (version > newest(steps))
            return core::fail(
                ErrorKind::NewerFile,
                path.string() + " was made by a newer version of this program (its form is number " +
                    std::to_string(version) + ", this version knows up to " + std::to_string(newest(steps)) +
                    "); install the newer version to open it, nothing was changed");
        if (version < 1)
            return core::fail(ErrorKind::Refused, path.string() + " is an unfinished program file");
        if (auto ours = checkSchema(connection, path, version, steps); !ours) return core::fail(ours.error());
        return version;
    });
}

Result<Migration> migrate(Connection& connection, const std::filesystem::path& path,
                          const std::vector<SchemaStep>& steps) {
    auto version = identify(connection, path, steps);
    if (!version) return core::fail(version.error());
    Migration migration{*version, *version, {}};
    if (*version == newest(steps)) return migration;
    auto copy = copyBefore(connection, path, *version + 1);
    if (!copy) return core::fail(copy.error());
    migration.copy = *copy;
    const auto done = guarded(path.string() + " cannot be brought up to date", [&]() -> Result<void> {
        const ForeignKeysOff off(connection.database());
        for (const SchemaStep& step : steps) {
            if (step.number <= migration.to) continue;
            if (auto ran = runStep(connection, step); !ran) {
                core::Error error = ran.error();
                error.message = path.string() + " could not be brought up to date (step " + step.name +
                                "): " + error.message +
                                "; it was left as it was before that step, and a copy from " +
                                "before any change is " + migration.copy.string();
                return core::fail(std::move(error));
            }
            migration.to = step.number;
        }
        return {};
    });
    if (!done) return core::fail(done.error());
    return migration;
}

Result<void> initialise(Connection& connection, const std::vector<SchemaStep>& steps) {
    return guarded("the file cannot be made", [&]() -> Result<void> {
        connection.database().exec("PRAGMA application_id = " + std::to_string(kApplicationId));
        for (const SchemaStep& step : steps)
            if (auto ran = runStep(connection, step); !ran) return ran;
        return {};
    });
}

}  // namespace markerlamp::db
