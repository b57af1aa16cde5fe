// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/export/study_keys.h"
#include "core/export/csv_folder.h"
#include "core/export/study_folder.h"

#include "core/base/moment.h"

#include <gtest/gtest.h>

#include <numeric>
#include <set>

namespace markerlamp::core {
namespace {

/// Bytes 0, 1, 2, ... 31.
StudySalt countingSalt() {
    StudySalt salt;
    std::iota(salt.begin(), salt.end(), static_cast<unsigned char>(0));
    return salt;
}

/// Expected values by Python's hashlib, another implementation of BLAKE2b (RFC 7693):
/// hashlib.blake2b(b"T\0t-017", key=bytes(range(32)), digest_size=16).hexdigest()[:20], and so on.
TEST(StudyKeys, AreTheKeyedHashesOfTheStandard) {
    const StudyKeys keys(countingSalt());
    EXPECT_EQ(keys.of(KeyKind::Trainee, "t-017"), "Tee54c39bcea3471d5206");
    EXPECT_EQ(keys.of(KeyKind::Bus, "14"), "B1e93b2cb0ba327b330df");
    // 7 * (4000 + int.from_bytes(blake2b(b"weeks\0t-017", ...).digest()[:8], "big") % 5000)
    EXPECT_EQ(keys.shiftDays("t-017"), 38794);
}

TEST(StudyKeys, DifferByKindAndSalt) {
    const StudyKeys keys(countingSalt()), others(freshSalt());
    std::set<std::string> tails;
    for (const KeyKind kind : {KeyKind::Trainee, KeyKind::Instructor, KeyKind::Bus, KeyKind::Group,
                               KeyKind::Attempt, KeyKind::Rubric}) {
        tails.insert(keys.of(kind, "same").substr(1));
        EXPECT_NE(keys.of(kind, "same"), others.of(kind, "same"));
        EXPECT_EQ(keys.of(kind, ""), "");
    }
    EXPECT_EQ(tails.size(), 6u);
    EXPECT_NE(freshSalt(), freshSalt());
}

TEST(StudyKeys, MoveDatesByWholeWeeksPastTheYear2100) {
    const StudyKeys keys(countingSalt());
    std::set<int> shifts;
    for (int i = 0; i < 200; ++i) {
        const int days = keys.shiftDays("t-" + std::to_string(i));
        shifts.insert(days);
        EXPECT_EQ(days % 7, 0);
        EXPECT_GE(std::get<std::string>(keys.shifted("2024-01-01", ColumnKind::Date, days)), "2100");
        EXPECT_LT(std::get<std::string>(keys.shifted("2030-01-01", ColumnKind::Date, days)), "2210");
    }
    EXPECT_GT(shifts.size(), 180u);
    EXPECT_EQ(keys.shifted("2026-02-28", ColumnKind::Date, 7), Cell("2026-03-07"));
}

TEST(StudyKeys, KeepTheTimeOfDayToTheQuarterHour) {
    const StudyKeys keys(countingSalt());
    const auto moved = [&](const char* text) { return keys.shifted(text, ColumnKind::Moment, 14); };
    EXPECT_EQ(moved("2026-03-02T06:10:59-05:00"), Cell("2026-03-16T06:00"));
    EXPECT_EQ(moved("2026-03-02T23:59:59-05:00"), Cell("2026-03-16T23:45"));
    EXPECT_EQ(moved("2026-03-02T23:15Z"), Cell("2026-03-16T23:15"));
    EXPECT_EQ(moved("yesterday, at Ada's"), Cell());
    EXPECT_EQ(keys.shifted("soon", ColumnKind::Date, 14), Cell());
}

TEST(StudySalts, AreReadAsTheyAreWritten) {
    const StudySalt salt = freshSalt();
    EXPECT_EQ(readSalt(toText(salt), "s").value(), salt);
    EXPECT_EQ(toText(countingSalt()), "000102030405060708090a0b0c0d0e0f101112131415161718191a1b1c1d1e1f\n");
}

TEST(StudySalts, RefuseWhatIsNone) {
    std::string text = toText(countingSalt());
    text[5] = 'g';
    for (const std::string& wrong : {std::string(), std::string("password\n"), text, text + "00"}) {
        const auto read = readSalt(wrong, "my-salt");
        ASSERT_FALSE(read) << wrong;
        EXPECT_EQ(read.error().kind, ErrorKind::Refused);
        EXPECT_TRUE(read.error().message.starts_with("my-salt is no salt file: it holds 64 digits"));
    }
}

/// Every column that a study keeps word for word is one of these; a column that is new is left out until
/// somebody decides.
TEST(StudyTables, KeepWordsOfTheRubricAndOfTheProgramOnly) {
    const std::set<std::string_view> sure{
        "state",      "zones",         "result",         "reasons",     "zone",      "step",
        "outcome",    "points_missed", "reading_unit",   "last_result", "readiness", "readiness_computed",
        "gates_shut", "gates_unknown", "segments_passed"};
    for (const Table& table : studyTables())
        for (const Column& column : table.columns)
            if (column.study.what == StudyRule::What::Keep &&
                (column.kind == ColumnKind::Text || column.kind == ColumnKind::Date ||
                 column.kind == ColumnKind::Moment)) {
                EXPECT_TRUE(sure.contains(column.name)) << table.name << "." << column.name;
            }
    EXPECT_EQ(StudyRule{}.what, StudyRule::What::LeaveOut);
}

TEST(ExportTables, NameEachColumnOnceAndSayWhatIsInIt) {
    for (const Table& table : exportTables()) {
        EXPECT_EQ(exportTable(table.id).name, table.name);
        std::set<std::string_view> names;
        for (const Column& column : table.columns) {
            EXPECT_TRUE(names.insert(column.name).second) << table.name << "." << column.name;
            EXPECT_EQ(column.name.find_first_not_of("abcdefghijklmnopqrstuvwxyz_"), std::string_view::npos);
            EXPECT_GT(column.about.size(), 5u) << column.name;
            EXPECT_GE(column.width, static_cast<int>(column.name.size() * 2 / 3)) << column.name;
        }
        EXPECT_TRUE(names.contains("trainee")) << table.name;
    }
}

/// The characters that the OWASP page "CSV Injection" lists, and what it advises (an apostrophe before them).
TEST(CsvText, DefusesWhatASpreadsheetWouldCalculate) {
    const auto text = [](const char* words) { return csvText(Cell(words), ColumnKind::Text); };
    for (const char* evil : {"=1+1", "+1", "-1", "@SUM(A1)", "\tx", "\rx", "\nx", "=HYPERLINK(\"http://x\")"})
        EXPECT_EQ(text(evil), "'" + std::string(evil));
    for (const char* tame : {"Ada Example", "a=b", "1-2", "'quoted", "", " =1"}) EXPECT_EQ(text(tame), tame);
}

TEST(CsvText, LeavesNumbersAlone) {
    EXPECT_EQ(csvText(Cell(-1.5), ColumnKind::Number), "-1.5");
    EXPECT_EQ(csvText(Cell(std::int64_t{-7}), ColumnKind::Whole), "-7");
    EXPECT_EQ(csvText(Cell(200.0 / 3), ColumnKind::Percent), "66.6667");
    EXPECT_EQ(csvText(Cell(1.0 / 3), ColumnKind::Share), "0.333333");
    EXPECT_EQ(csvText(Cell(true), ColumnKind::YesNo), "yes");
    EXPECT_EQ(csvText(Cell(false), ColumnKind::YesNo), "no");
    EXPECT_EQ(csvText(Cell(), ColumnKind::Number), "");
}

}  // namespace
}  // namespace markerlamp::core
