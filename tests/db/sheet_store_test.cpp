// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db_support.h"

#include "db/exchange/exchange.h"

#include <gtest/gtest.h>

namespace markerlamp::db {
namespace {

using namespace testing;
using core::SheetEvent;
using core::SheetRecord;

SheetRecord signedOn(const std::string& id, const std::string& attempt = "a-1") {
    return {id, attempt, SheetEvent::Signed, "2026-03-20T09:00:00-05:00"};
}

TEST(SheetStore, KeepsEachRecordOnceAndNeverChangesIt) {
    Folder folder;
    auto file = ProgramFile::create(folder / "p.markerlamp").value();
    EXPECT_EQ(file->addSheetRecord(signedOn("p-2")).value(), Added::New);
    EXPECT_EQ(file->addSheetRecord({"p-1", "a-1", SheetEvent::Made, "2026-03-20T08:30:00-05:00"}).value(),
              Added::New);
    EXPECT_EQ(file->addSheetRecord(signedOn("p-2")).value(), Added::AlreadyThere);
    const auto refused = file->addSheetRecord(signedOn("p-2", "a-9"));
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().kind, core::ErrorKind::Conflict);
    const auto all = file->sheetRecords().value();
    ASSERT_EQ(all.size(), 2U);
    EXPECT_EQ(all[0].id, "p-1") << "oldest first";
    EXPECT_EQ(all[1], signedOn("p-2"));
    EXPECT_EQ(file->sheetRecords("a-1")->size(), 2U);
    EXPECT_TRUE(file->sheetRecords("a-2")->empty());
    EXPECT_FALSE(file->addSheetRecord({"p-3", "a-1", SheetEvent::Made, "soon"}));
}

TEST(SheetExchange, ComesBackTheSameToTheByte) {
    Folder folder;
    auto file = programWithRubric(folder / "p.markerlamp");
    ASSERT_TRUE(file->addSheetRecord(signedOn("p-1")));
    ASSERT_TRUE(exportTo(*file, folder / "out"));
    auto again = ProgramFile::create(folder / "q.markerlamp").value();
    const auto report = importPaths(*again, {folder / "out"});
    ASSERT_TRUE(report);
    EXPECT_TRUE(report->allAccepted());
    EXPECT_EQ(again->sheetRecords().value(), std::vector{signedOn("p-1")});
    ASSERT_TRUE(exportTo(*again, folder / "out2"));
    const auto first = everything(folder / "out");
    EXPECT_EQ(first, everything(folder / "out2"));
    EXPECT_TRUE(first.contains("sheets.jsonl"));
}

}  // namespace
}  // namespace markerlamp::db
