// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What became of the sheets of attempts. Hand-made records; no published source.

#include "core/history/sheet_record.h"

#include <gtest/gtest.h>

namespace markerlamp::core {
namespace {

SheetRecord record(const std::string& id, SheetEvent what, const std::string& at,
                   const std::string& attempt = "a-1") {
    return {id, attempt, what, at};
}

TEST(SheetRecords, TheFirstSheetAndTheNewestSigningCount) {
    const auto standings = sheetStandings({
        record("p-3", SheetEvent::Signed, "2026-03-04T07:00:00-05:00"),
        record("p-1", SheetEvent::Made, "2026-03-02T07:00:00-05:00"),
        record("p-2", SheetEvent::Made, "2026-03-03T07:00:00-05:00"),
        record("q-1", SheetEvent::Made, "2026-03-05T07:00:00-05:00", "a-2"),
    });
    ASSERT_EQ(standings.size(), 2U);
    EXPECT_EQ(standings.at("a-1").made, "2026-03-02T07:00:00-05:00");
    EXPECT_EQ(standings.at("a-1").signedAt, "2026-03-04T07:00:00-05:00");
    EXPECT_EQ(standings.at("a-2").signedAt, "");
}

TEST(SheetRecords, ASigningThatWasTakenBackDoesNotStandAndCanComeAgain) {
    std::vector<SheetRecord> records{record("p-1", SheetEvent::Signed, "2026-03-02T07:00:00-05:00"),
                                     // Ten minutes later, as the other offset says it.
                                     record("p-2", SheetEvent::TakenBack, "2026-03-02T12:10:00Z")};
    EXPECT_EQ(sheetStandings(records).at("a-1").signedAt, "");
    records.push_back(record("p-3", SheetEvent::Signed, "2026-03-02T07:11:00-05:00"));
    EXPECT_EQ(sheetStandings(records).at("a-1").signedAt, "2026-03-02T07:11:00-05:00");
    EXPECT_EQ(sheetStandings(records).at("a-1").made, "") << "signed on a sheet made elsewhere";
}

TEST(SheetRecords, AreADocumentThatComesBackTheSame) {
    const std::vector<SheetRecord> records{record("p-1", SheetEvent::Made, "2026-03-02T07:00:00-05:00"),
                                           record("p-2", SheetEvent::Signed, "2026-03-02T07:10:00-05:00"),
                                           record("p-3", SheetEvent::TakenBack, "2026-03-02T07:20:00-05:00")};
    const std::string text = writeSheetRecords(records);
    EXPECT_EQ(text.substr(0, text.find('\n')), R"({"format":"markerlamp.sheets/1"})");
    const auto read = readSheetRecords(text);
    ASSERT_TRUE(read);
    EXPECT_EQ(*read, records);
}

TEST(SheetRecords, ARefusalNamesLineKeyAndWhatWouldBeRight) {
    const auto read = readSheetRecords(
        "{\"format\":\"markerlamp.sheets/1\"}\n"
        "{\"id\":\"p-1\",\"attempt\":\"a-1\",\"what\":\"lost\",\"at\":\"2026-03-02T07:00:00Z\"}\n"
        "{\"id\":\"p-1\",\"attempt\":\"a-1\",\"what\":\"made\",\"at\":\"yesterday\"}\n",
        "sheets.jsonl");
    ASSERT_FALSE(read);
    const auto& problems = read.error().problems;
    ASSERT_EQ(problems.size(), 3U);
    EXPECT_EQ(problems[0].line, 2);
    EXPECT_EQ(problems[0].path, "what");
    EXPECT_NE(problems[0].remedy.find("taken-back"), std::string::npos);
    EXPECT_EQ(problems[1].line, 3);
    EXPECT_EQ(problems[2].path, "id") << "stands twice";
}

}  // namespace
}  // namespace markerlamp::core
