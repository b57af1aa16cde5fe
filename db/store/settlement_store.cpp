// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/store/settlement_store.h"

#include "db/store/json_columns.h"
#include "db/store/record_store.h"

namespace markerlamp::db {

using core::Result;
using core::Settlement;

namespace {

#define MARKERLAMP_COLUMNS                                                                             \
    "id, first_scoring, second_scoring, settled, by_whom, at_time, first_right, second_right, other, " \
    "left_open"

constexpr const char* kAll = "SELECT " MARKERLAMP_COLUMNS " FROM settlement ORDER BY at_ms, id";
constexpr const char* kOne = "SELECT " MARKERLAMP_COLUMNS " FROM settlement WHERE id = ?";
constexpr const char* kNew =
    "INSERT INTO settlement (" MARKERLAMP_COLUMNS ", at_ms) VALUES (?,?,?,?,?,?,?,?,?,?,?)";
// Stands in where the file is of a form before this table; nothing can be added to it.
constexpr const char* kStandIn = "CREATE TEMP TABLE IF NOT EXISTS settlement (" MARKERLAMP_COLUMNS ", at_ms)";
#undef MARKERLAMP_COLUMNS

Settlement settlementOf(const SQLite::Statement& row) {
    return {textOf(row, 0),
            textOf(row, 1),
            textOf(row, 2),
            textOf(row, 3),
            textOf(row, 4),
            textOf(row, 5),
            listFromJson(textOf(row, 6)),
            listFromJson(textOf(row, 7)),
            listFromJson(textOf(row, 8)),
            listFromJson(textOf(row, 9))};
}

constexpr KindOfRecord<Settlement> kRecord{
    "settlement", kOne, settlementOf, core::writeSettlements, core::readSettlements, "settlement.added"};

}  // namespace

Result<void> SettlementStore::prepare() {
    if (!m_connection.readOnly()) return {};
    return guarded("the settlements cannot be read", [&]() -> Result<void> {
        if (!m_connection.database().tableExists("settlement")) m_connection.makeTemporary(kStandIn);
        return {};
    });
}

Result<std::vector<Settlement>> SettlementStore::settlements() {
    return listed(m_connection, kAll, "settlements", settlementOf);
}

Result<Added> SettlementStore::add(const Settlement& s) {
    return addOnce(m_connection, m_trail, kRecord, s, m_people.traineeOfAttempt(s.first),
                   [&]() -> Result<void> {
                       const auto at = momentIn(s.at);
                       if (!at) return core::fail(at.error());
                       if (auto known = m_people.ensureInstructor(s.by); !known) return known;
                       Query query = m_connection.query(kNew);
                       query->bind(1, s.id);
                       query->bind(2, s.first);
                       query->bind(3, s.second);
                       query->bind(4, s.settled);
                       query->bind(5, s.by);
                       query->bind(6, s.at);
                       query->bind(7, toJsonText(s.firstRight));
                       query->bind(8, toJsonText(s.secondRight));
                       query->bind(9, toJsonText(s.other));
                       query->bind(10, toJsonText(s.open));
                       query->bind(11, static_cast<int64_t>(*at));
                       query->exec();
                       return {};
                   });
}

}  // namespace markerlamp::db
