// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/copies/sound_copy.h"

#include "core/base/files.h"
#include "db/sqlite/failure.h"

#include <SQLiteCpp/Backup.h>

#include <sqlite3.h>

#include <chrono>
#include <thread>

namespace markerlamp::db {

using core::ErrorKind;
using core::Result;

namespace {

constexpr int kTries = 50;
constexpr std::chrono::milliseconds kBetweenTries{100};

long long numberOf(SQLite::Database& database, const char* pragma) {
    SQLite::Statement statement(database, std::string("PRAGMA ") + pragma);
    return statement.executeStep() ? statement.getColumn(0).getInt64() : 0;
}

/// All pages in one step: what others write meanwhile is not in the copy. Only a checkpoint of another
/// program can be in the way, and that passes.
bool copyPages(SQLite::Database& from, SQLite::Database& to) {
    SQLite::Backup backup(to, from);
    for (int tries = 0; tries < kTries; ++tries) {
        if (backup.executeStep(-1) == SQLITE_DONE) return true;
        std::this_thread::sleep_for(kBetweenTries);
    }
    return false;
}

}  // namespace

std::string unsoundness(SQLite::Database& database) {
    SQLite::Statement check(database, "PRAGMA integrity_check(1)");
    if (!check.executeStep()) return "it cannot be looked through";
    if (std::string first = check.getColumn(0).getString(); first != "ok") return first;
    SQLite::Statement dangling(database, "PRAGMA foreign_key_check");
    if (!dangling.executeStep()) return {};
    return "a row of " + dangling.getColumn(0).getString() + " names a record of " +
           dangling.getColumn(2).getString() + " that is not there";
}

Result<void> copyInto(Connection& source, const std::filesystem::path& path,
                      const std::filesystem::path& part) {
    return guarded("the copy of " + path.string() + " cannot be made", [&]() -> Result<void> {
        if (auto made = core::createPrivateFile(part); !made) return made;
        SQLite::Database copy(std::filesystem::absolute(part).string(), SQLite::OPEN_READWRITE);
        if (!copyPages(source.database(), copy))
            return core::fail(ErrorKind::Busy, "another program is writing to " + path.string());
        // A file of its own, without a log beside it.
        copy.exec("PRAGMA journal_mode = DELETE");
        for (const char* number : {"application_id", "user_version"})
            if (numberOf(copy, number) != source.pragma(number))
                return core::fail(ErrorKind::Machine, "the copy of " + path.string() + " is not like it");
        if (const std::string wrong = unsoundness(copy); !wrong.empty())
            return core::fail(
                ErrorKind::Machine,
                path.string() + " is damaged, so no copy of it was made; take the newest good copy of it",
                wrong);
        return {};
    });
}

Result<void> soundCopy(Connection& source, const std::filesystem::path& path,
                       const std::filesystem::path& name) {
    const std::filesystem::path part = core::besideName(name, "part");
    const auto copied = copyInto(source, path, part);
    auto done = copied ? publishDatabase(part, name) : copied;
    removeDatabase(part);
    return done;
}

}  // namespace markerlamp::db
