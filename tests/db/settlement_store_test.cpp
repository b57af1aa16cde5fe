// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What was settled between two scorings: kept once, never changed, out as a document and in again.

#include "core/agreement/settlement.h"
#include "db/exchange/exchange.h"
#include "db_support.h"

#include <gtest/gtest.h>

#include <fstream>

namespace markerlamp::db {
namespace {

using namespace testing;
using core::Settlement;

Settlement settled(const std::string& id, const std::string& at = "2026-03-20T09:00:00-05:00") {
    return {id, "a-1", "a-2", "a-3", "i-1", at, {"start"}, {"leak-test"}, {}, {}};
}

TEST(SettlementStore, KeepsEachRecordOnceAndNeverChangesIt) {
    Folder folder;
    auto file = ProgramFile::create(folder / "p.markerlamp").value();
    EXPECT_EQ(file->addSettlement(settled("s-2", "2026-03-20T09:00:00-05:00")).value(), Added::New);
    EXPECT_EQ(file->addSettlement(settled("s-1", "2026-03-20T08:30:00-06:00")).value(), Added::New);
    EXPECT_EQ(file->addSettlement(settled("s-2")).value(), Added::AlreadyThere);
    Settlement other = settled("s-2");
    other.open = {"horn"};
    const auto refused = file->addSettlement(other);
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().kind, core::ErrorKind::Conflict);
    EXPECT_NE(refused.error().message.find("s-2"), std::string::npos);
    const auto list = file->settlements().value();
    ASSERT_EQ(list.size(), 2u);
    EXPECT_EQ(list[0], settled("s-2")) << "oldest first, by the moment and not by the text";
    EXPECT_EQ(core::standing(list, "a-1", "a-2")->id, "s-1");
    EXPECT_EQ(core::standing(list, "a-2", "a-1"), nullptr);
    EXPECT_EQ(core::settledAttempts(list), (std::set<std::string>{"a-3"}));
    // The instructor was made, as an attempt's is.
    EXPECT_EQ(file->instructors()->at(0).key, "i-1");
}

TEST(SettlementStore, RefusesWhatCouldNotLeaveAsADocument) {
    Folder folder;
    auto file = ProgramFile::create(folder / "p.markerlamp").value();
    Settlement one = settled("s-1");
    one.settled = one.first;
    const auto same = file->addSettlement(one);
    ASSERT_FALSE(same);
    EXPECT_NE(same.error().problems.at(0).remedy.find("three attempts"), std::string::npos);
    one = settled("s-1", "yesterday");
    EXPECT_FALSE(file->addSettlement(one));
    one = settled("s-1");
    one.open = {"start"};  // stands under firstRight too
    EXPECT_FALSE(file->addSettlement(one));
    EXPECT_TRUE(file->settlements()->empty());
}

TEST(SettlementExchange, ComesBackTheSameToTheByte) {
    Folder folder;
    auto file = programWithRubric(folder / "p.markerlamp");
    ASSERT_TRUE(file->addAttempt(sampleAttempt("a-1")));
    ASSERT_TRUE(file->addSettlement(settled("s-1")));
    ASSERT_TRUE(exportTo(*file, folder / "out"));
    auto again = ProgramFile::create(folder / "q.markerlamp").value();
    const auto report = importPaths(*again, {folder / "out"});
    ASSERT_TRUE(report);
    EXPECT_TRUE(report->allAccepted());
    EXPECT_EQ(again->settlements().value(), std::vector{settled("s-1")});
    ASSERT_TRUE(exportTo(*again, folder / "out2"));
    const auto first = everything(folder / "out");
    EXPECT_EQ(first, everything(folder / "out2"));
    EXPECT_TRUE(first.contains("settlements.jsonl"));
    const auto offered = importPaths(*again, {folder / "out"});
    ASSERT_TRUE(offered);
    for (const auto& item : offered->items)
        EXPECT_EQ(item.outcome, ImportReport::Outcome::AlreadyThere) << item.file;
}

TEST(SettlementExchange, ARefusalNamesLineAndKey) {
    Folder folder;
    auto file = ProgramFile::create(folder / "p.markerlamp").value();
    std::ofstream(folder / "settlements.jsonl")
        << "{\"format\":\"markerlamp.settlements/1\"}\n"
           "{\"id\":\"s-1\",\"first\":\"a\",\"second\":\"b\",\"settled\":\"c\",\"by\":\"i\",\"at\":"
           "\"2026-03-20T09:00:00Z\",\"first_right\":[],\"second_right\":[],\"other\":[],\"open\":[],"
           "\"why\":\"x\"}\n";
    const auto report = importPaths(*file, {folder / "settlements.jsonl"}).value();
    ASSERT_EQ(report.items.size(), 1u);
    ASSERT_EQ(report.items[0].outcome, ImportReport::Outcome::Refused);
    EXPECT_EQ(report.items[0].error.problems.at(0).line, 2);
    EXPECT_EQ(report.items[0].error.problems.at(0).path, "why");
    EXPECT_TRUE(file->settlements()->empty());
}

}  // namespace
}  // namespace markerlamp::db
