// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/store/sheet_store.h"

#include "db/store/record_store.h"

namespace markerlamp::db {

using core::Result;
using core::SheetRecord;

namespace {

constexpr const char* kAll = "SELECT id, attempt, what, at_time FROM sheet_record ORDER BY at_ms, id";
constexpr const char* kOfAttempt =
    "SELECT id, attempt, what, at_time FROM sheet_record WHERE attempt = ? ORDER BY at_ms, id";
constexpr const char* kOne = "SELECT id, attempt, what, at_time FROM sheet_record WHERE id = ?";
constexpr const char* kNew =
    "INSERT INTO sheet_record (id, attempt, what, at_time, at_ms) VALUES (?,?,?,?,?)";
// Stands in where the file is of a form before this table; nothing can be added to it.
constexpr const char* kStandIn =
    "CREATE TEMP TABLE IF NOT EXISTS sheet_record (id, attempt, what, at_time, at_ms)";

SheetRecord recordOf(const SQLite::Statement& row) {
    return {textOf(row, 0), textOf(row, 1), core::sheetEventOf(textOf(row, 2)), textOf(row, 3)};
}

constexpr KindOfRecord<SheetRecord> kRecord{
    "record of a sheet", kOne, recordOf, core::writeSheetRecords, core::readSheetRecords, "sheet.recorded"};

}  // namespace

Result<void> SheetStore::prepare() {
    if (!m_connection.readOnly()) return {};
    return guarded("the records of sheets cannot be read", [&]() -> Result<void> {
        if (!m_connection.database().tableExists("sheet_record")) m_connection.makeTemporary(kStandIn);
        return {};
    });
}

Result<std::vector<SheetRecord>> SheetStore::records(const std::optional<std::string>& attempt) {
    return listed(m_connection, attempt ? kOfAttempt : kAll, "records of sheets", recordOf, attempt);
}

Result<Added> SheetStore::add(const SheetRecord& record) {
    return addOnce(m_connection, m_trail, kRecord, record, m_people.traineeOfAttempt(record.attempt),
                   [&]() -> Result<void> {
                       const auto at = momentIn(record.at);
                       if (!at) return core::fail(at.error());
                       Query query = m_connection.query(kNew);
                       query->bind(1, record.id);
                       query->bind(2, record.attempt);
                       query->bind(3, std::string(core::nameOf(record.what)));
                       query->bind(4, record.at);
                       query->bind(5, static_cast<int64_t>(*at));
                       query->exec();
                       return {};
                   });
}

}  // namespace markerlamp::db
