// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/store/erase_store.h"

#include "core/base/files.h"
#include "db/copies/copies.h"
#include "db/copies/copies_folder.h"
#include "db/sqlite/failure.h"
#include "db/writer/spill_file.h"

#include <chrono>
#include <thread>

namespace markerlamp::db {

using core::Erased;
using core::ErrorKind;
using core::LastRecord;
using core::Result;

namespace {

constexpr int kTriesToEmptyTheLog = 20;
constexpr std::chrono::milliseconds kBetweenTries{100};

// Days that records bear; what only says until when something holds is none.
constexpr const char* kLastRecords =
    "SELECT trainee, MAX(day) FROM ("
    "SELECT key AS trainee, started AS day FROM trainee UNION ALL SELECT key, permit_issued FROM trainee "
    "UNION ALL SELECT key, theory_date FROM trainee "
    "UNION ALL SELECT trainee, substr(started, 1, 10) FROM attempt "
    "UNION ALL SELECT a.trainee, substr(e.at_time, 1, 10) FROM event e JOIN attempt a ON a.number = "
    "e.attempt "
    "WHERE e.at_time IS NOT NULL "
    "UNION ALL SELECT trainee, substr(at_time, 1, 10) FROM forecast "
    "UNION ALL SELECT trainee, substr(at_time, 1, 10) FROM readiness_override "
    "UNION ALL SELECT trainee, date FROM test_result "
    "UNION ALL SELECT trainee, substr(at_time, 1, 10) FROM struck_result "
    "UNION ALL SELECT trainee, MAX(date, substr(at_time, 1, 10)) FROM clock_hours "
    "UNION ALL SELECT trainee, MAX(date, substr(at_time, 1, 10)) FROM booked_test "
    "UNION ALL SELECT trainee, MAX(left_on, returned_on, substr(at_time, 1, 10)) FROM absence "
    "UNION ALL SELECT trainee, MAX(range_done, road_done, proficient_on, permit_seen, self_certified, "
    "theory_reported, wheel_reported) FROM course"
    ") WHERE day <> '' GROUP BY trainee ORDER BY trainee";

// Tables whose rows about the person go. First those that open the way for others: a struck result may only
// go while what struck it is there.
constexpr const char* kRowsThatGo[] = {
    // What was chosen for a pair of scorings and not settled yet may name the person in a reason.
    ("DELETE FROM fact WHERE key IN (SELECT f.key FROM fact f JOIN attempt a ON instr(f.key, a.id) > 0 "
     "WHERE f.key LIKE 'draft.settling.%' AND a.trainee = ?)"),
    "DELETE FROM fact WHERE key = 'ui.start.trainee' AND value = ?",
    "DELETE FROM test_result WHERE trainee = ? AND id IN (SELECT result FROM struck_result)",
    "DELETE FROM struck_result WHERE trainee = ?",
    "DELETE FROM clock_hours WHERE trainee = ?",
    "DELETE FROM booked_test WHERE trainee = ?",
    "DELETE FROM absence WHERE trainee = ?",
    "DELETE FROM licence WHERE trainee = ?",
    "DELETE FROM course WHERE trainee = ?",
    "DELETE FROM attempt_projection WHERE attempt IN (SELECT number FROM attempt WHERE trainee = ?)",
};

// What stays under the new key, ?2. The ids of test results may have been made from the old one.
constexpr const char* kRowsThatStay[] = {
    "UPDATE forecast SET trainee = ?2 WHERE trainee = ?1",
    "UPDATE readiness_override SET trainee = ?2, reason = '(erased)' WHERE trainee = ?1",
    "UPDATE test_result SET id = lower(hex(randomblob(16))), trainee = ?2, note = '' WHERE trainee = ?1",
    "UPDATE attempt SET trainee = ?2 WHERE trainee = ?1",
};

constexpr const char* kTextsOfEvents =
    "UPDATE event SET text = CASE kind WHEN 11 THEN '(erased)' END WHERE text IS NOT NULL AND attempt IN "
    "(SELECT number FROM attempt WHERE trainee = ?)";

int changedBy(Connection& connection, const char* sql, const std::string& trainee,
              const std::string& anonymous = {}) {
    Query query = connection.query(sql);
    query->bind(1, trainee);
    if (!anonymous.empty()) query->bind(2, anonymous);
    return query->exec();
}

std::string textFrom(Connection& connection, const char* sql) {
    Query query = connection.query(sql);
    query->executeStep();
    return textOf(*query, 0);
}

bool has(Connection& connection, const char* sql, const std::string& trainee) {
    Query query = connection.query(sql);
    query->bind(1, trainee);
    return query->executeStep();
}

/// What this program makes beside a file: copies before a change of form, and what a run that broke off left.
bool isCopyOf(const std::string& program, const std::string& name) {
    return name.starts_with(program + ".before-") || name.starts_with("." + program + ".before-") ||
           name.starts_with("." + program + ".part-") || name.starts_with("." + program + ".fresh-") ||
           name.starts_with("." + program + ".look-");
}

}  // namespace

Result<std::vector<LastRecord>> EraseStore::lastRecords() {
    return guarded("the days of the records cannot be read", [&]() -> Result<std::vector<LastRecord>> {
        Query query = m_connection.query(kLastRecords);
        std::vector<LastRecord> list;
        while (query->executeStep()) list.push_back({textOf(*query, 0), textOf(*query, 1)});
        return list;
    });
}

Result<void> EraseStore::mayErase(const std::string& trainee) {
    if (trainee.starts_with(core::kErasedPrefix))
        return core::fail(ErrorKind::Refused, trainee + " was erased already");
    if (!has(m_connection, "SELECT 1 FROM trainee WHERE key = ?", trainee))
        return core::fail(ErrorKind::NotFound, "there is no trainee " + trainee + " in the file");
    std::error_code ec;
    std::vector<std::filesystem::path> outside = spillPlaces(m_path);
    outside.push_back(refusedPath(m_path));
    for (const std::filesystem::path& waiting : outside)
        if (std::filesystem::exists(waiting, ec))
            return core::fail(ErrorKind::Refused,
                              waiting.string() +
                                  " holds presses that are not in the file and may be about "
                                  "this person; open the file so that they are stored, or "
                                  "remove it once nobody needs it, and erase then");
    if (has(m_connection,
            "SELECT 1 FROM attempt a WHERE trainee = ? AND set_aside = 0 AND NOT EXISTS "
            "(SELECT 1 FROM event e WHERE e.attempt = a.number AND e.kind = 15)",
            trainee))
        return core::fail(ErrorKind::Refused, "an attempt of " + trainee +
                                                  " is not ended; end it or set it aside, and erase then");
    return emptyLog();
}

Result<Erased> EraseStore::erase(const std::string& trainee) {
    return guarded("nobody was erased", [&]() -> Result<Erased> {
        if (auto may = mayErase(trainee); !may) return core::fail(may.error());
        // No copy is begun before and done after.
        auto lock = CopiesLock::take(m_path);
        if (!lock) return core::fail(lock.error());
        Erased erased;
        // Overwritten with zeros, so that nothing is left in pages that are used again.
        m_connection.database().exec("PRAGMA secure_delete = ON");
        auto done = m_connection.transaction([&] { return eraseRecords(trainee, erased); });
        if (!done) return core::fail(done.error());
        if (auto scrubbed = scrubFile(); !scrubbed) return core::fail(scrubbed.error());
        if (auto removed = removeCopies(erased); !removed) return core::fail(removed.error());
        // So that the program is not without a copy; one that cannot be made now is made at the next start.
        (void)makeCopy(m_path, core::CopyReason::Erasing, nowInMs());
        return erased;
    });
}

Result<void> EraseStore::eraseRecords(const std::string& trainee, Erased& erased) {
    erased.anonymous = textFrom(m_connection, "SELECT 'erased-' || lower(hex(randomblob(6)))");
    const std::string& anonymous = erased.anonymous;
    changedBy(m_connection,
              "INSERT INTO trainee (key, name, started, permit_issued, permit_expires, medical_expires, "
              "theory_date, \"group\", note, to_complete) VALUES (?1, ?1, '', '', '', '', '', '', '', 0)",
              anonymous);
    changedBy(m_connection, "INSERT INTO erasing (trainee, anonymous) VALUES (?, ?)", trainee, anonymous);
    erased.texts = changedBy(m_connection, kTextsOfEvents, trainee);
    for (const char* rows : kRowsThatGo) changedBy(m_connection, rows, trainee);
    for (const char* rows : kRowsThatStay)
        erased.attempts = changedBy(m_connection, rows, trainee, anonymous);
    if (auto told = tellTrail(trainee, anonymous); !told) return told;
    changedBy(m_connection, "DELETE FROM erasing WHERE trainee = ?", trainee);
    changedBy(m_connection, "DELETE FROM trainee WHERE key = ?", trainee);
    if (!secondFolder(m_connection, m_path).empty())
        putFact(m_connection, kErasedFact, std::to_string(nowInMs()));
    return {};
}

/// What the trail says about the person goes; what it says of the attempts begins anew without a name.
Result<void> EraseStore::tellTrail(const std::string& trainee, const std::string& anonymous) {
    const std::vector<std::int64_t> entries = m_trail.takeOutWords(trainee);
    if (auto told =
            m_trail.add({core::kPersonErased, {}, anonymous, core::wordsOfErasing(entries, anonymous), {}});
        !told)
        return told;
    return m_attempts.tellAllOf(anonymous, core::kAttemptWithoutName);
}

/// Writes the file anew without its free pages, and then the log into it.
Result<void> EraseStore::scrubFile() {
    // The planner's samples, where a database tool made them, hold values of rows.
    m_connection.database().exec("DROP TABLE IF EXISTS sqlite_stat4");
    m_connection.database().exec("VACUUM");
    return emptyLog();
}

Result<void> EraseStore::emptyLog() {
    for (int tries = 0; tries < kTriesToEmptyTheLog; ++tries) {
        SQLite::Statement checkpoint(m_connection.database(), "PRAGMA wal_checkpoint(TRUNCATE)");
        if (checkpoint.executeStep() && checkpoint.getColumn(0).getInt() == 0) return {};
        std::this_thread::sleep_for(kBetweenTries);
    }
    return core::fail(ErrorKind::Busy, "another program reads " + m_path.string() +
                                           ", so its log cannot be emptied; close the file everywhere");
}

Result<void> EraseStore::removeCopies(Erased& erased) {
    const std::string program = m_path.filename().string();
    std::error_code ec;
    std::filesystem::directory_iterator entries(std::filesystem::absolute(m_path).parent_path(), ec);
    std::vector<std::filesystem::path> copies;
    for (; !ec && entries != std::filesystem::directory_iterator(); entries.increment(ec))
        if (isCopyOf(program, entries->path().filename().string())) copies.push_back(entries->path());
    for (const std::filesystem::path& copy : copies) {
        if (!ec) std::filesystem::remove_all(copy, ec);
        if (!ec) erased.copies.push_back(copy.string());
    }
    const auto still = [&](const std::string& detail) {
        return core::fail(ErrorKind::Machine,
                          "the person is erased from " + m_path.string() +
                              ", but copies that still hold the name cannot be removed; remove " + program +
                              ".before-*.bak and what lies in " + copiesFolder(m_path).string() + " by hand",
                          detail);
    };
    if (ec) return still(ec.message());
    if (auto gone = removeCopiesIn(copiesFolder(m_path), erased.copies); !gone)
        return still(gone.error().detail);
    const std::filesystem::path second = secondFolder(m_connection, m_path);
    if (second.empty() || std::filesystem::is_directory(second, ec)) {
        if (!second.empty() && !removeCopiesIn(second, erased.copies)) erased.unreached = second.string();
    } else if (!std::filesystem::is_directory(second.parent_path(), ec)) {
        erased.unreached = second.string();
    }
    return {};
}

}  // namespace markerlamp::db
