// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/store/trail_store.h"

#include "core/base/moment.h"
#include "db/copies/copies.h"
#include "db/store/record_store.h"

namespace markerlamp::db {

using core::Result;
using core::TrailEntry;

namespace {

#define MARKERLAMP_COLUMNS \
    "number, at_time, at_ms, by_whom, what, salt, trainee, subject, words, digest, seal"
constexpr const char* kAll = "SELECT " MARKERLAMP_COLUMNS " FROM trail_entry ORDER BY number";
constexpr const char* kNew =
    "INSERT INTO trail_entry (" MARKERLAMP_COLUMNS ") VALUES (?,?,?,?,?,?,?,?,?,?,?)";
constexpr const char* kStandIn = "CREATE TEMP TABLE IF NOT EXISTS trail_entry (" MARKERLAMP_COLUMNS ")";
#undef MARKERLAMP_COLUMNS

TrailEntry entryOf(const SQLite::Statement& row) {
    TrailEntry entry;
    entry.number = row.getColumn(0).getInt64();
    entry.at = textOf(row, 1);
    entry.atMs = row.getColumn(2).getInt64();
    entry.by = textOf(row, 3);
    entry.what = textOf(row, 4);
    entry.salt = textOf(row, 5);
    entry.trainee = textOf(row, 6);
    entry.subject = textOf(row, 7);
    entry.words = textOf(row, 8);
    entry.digest = textOf(row, 9);
    entry.seal = textOf(row, 10);
    return entry;
}

}  // namespace

Result<void> TrailStore::prepare() {
    if (!m_connection.readOnly()) return {};
    return guarded("the trail cannot be read", [&]() -> Result<void> {
        if (!m_connection.database().tableExists("trail_entry")) m_connection.makeTemporary(kStandIn);
        return {};
    });
}

Result<void> TrailStore::add(const TrailChange& change) {
    return m_connection.transaction([&]() -> Result<void> {
        TrailEntry entry;
        std::string before;
        {
            Query last =
                m_connection.query("SELECT number, seal FROM trail_entry ORDER BY number DESC LIMIT 1");
            if (last->executeStep()) {
                entry.number = last->getColumn(0).getInt64();
                before = textOf(*last, 1);
            }
        }
        ++entry.number;
        entry.atMs = nowInMs() / 1000 * 1000;
        entry.at = core::momentOf(entry.atMs, minutesEastAt(entry.atMs));
        entry.by = !m_name.empty()      ? m_name
                   : !change.by.empty() ? change.by
                                        : std::string(core::kNobodySignedIn);
        entry.what = change.what;
        entry.salt = core::trailSalt();
        entry.trainee = change.trainee;
        entry.subject = change.subject;
        entry.words = change.words;
        entry.digest = core::digestOf(entry);
        entry.seal = core::sealOf(before, entry);
        Query query = m_connection.query(kNew);
        query->bind(1, static_cast<int64_t>(entry.number));
        query->bind(2, entry.at);
        query->bind(3, static_cast<int64_t>(entry.atMs));
        query->bind(4, entry.by);
        query->bind(5, entry.what);
        query->bind(6, entry.salt);
        query.bindOrNull(7, entry.trainee);
        query->bind(8, entry.subject);
        query->bind(9, entry.words);
        query->bind(10, entry.digest);
        query->bind(11, entry.seal);
        query->exec();
        return {};
    });
}

Result<std::vector<TrailEntry>> TrailStore::entries() {
    return listed(m_connection, kAll, "trail", entryOf);
}

std::vector<std::int64_t> TrailStore::takeOutWords(const std::string& trainee) {
    std::vector<std::int64_t> numbers;
    {
        Query query = m_connection.query("SELECT number FROM trail_entry WHERE trainee = ? ORDER BY number");
        query->bind(1, trainee);
        while (query->executeStep()) numbers.push_back(query->getColumn(0).getInt64());
    }
    Query query = m_connection.query(
        "UPDATE trail_entry SET salt = NULL, trainee = NULL, subject = NULL, words = NULL WHERE trainee = ?");
    query->bind(1, trainee);
    query->exec();
    return numbers;
}

}  // namespace markerlamp::db
