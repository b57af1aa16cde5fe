// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Hand-made people; what needs action and in which order is our choice, no published source.

#include "core/program/attention.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace markerlamp::core {
namespace {

using ::testing::ElementsAre;

const std::string kToday = "2026-03-12";

Sitting sitting(const std::string& date, double percent, bool whole = true) {
    return {"a-" + date, date, "i-1", percent, whole};
}

/// In training, papers in order, a whole attempt two days ago, not ready.
Standing usual(const std::string& key = "t-1") {
    Standing one;
    one.person.trainee.key = key;
    one.person.trainee.started = "2026-01-10";
    one.person.trainee.permitIssued = "2026-01-12";
    one.person.trainee.permitExpires = "2026-12-31";
    one.person.trainee.medicalExpires = "2027-01-31";
    one.sittings = {sitting("2026-02-24", 50), sitting("2026-03-03", 58), sitting("2026-03-10", 66)};
    one.word = ReadinessWord::NotYet;
    one.readyLow = 10;
    one.readyHigh = 30;
    return one;
}

std::optional<Attention> look(const Standing& one) {
    return attentionFor(one, kToday, {}, {});
}

void expectKind(const Standing& one, AttentionKind kind, AttentionAction action) {
    const auto found = look(one);
    ASSERT_TRUE(found);
    EXPECT_EQ(found->kind, kind);
    EXPECT_EQ(found->action, action);
    EXPECT_EQ(found->trainee, one.person.trainee.key);
}

BookedTest testOn(const std::string& date) {
    BookedTest test;
    test.id = "b-" + date;
    test.trainee = "t-1";
    test.date = date;
    test.segments = {"inspection"};
    return test;
}

TEST(Attention, NothingForWhoIsOnTheWay) {
    EXPECT_FALSE(look(usual()));
}

TEST(Attention, ThePermitThatEndsFirst) {
    Standing one = usual();
    one.person.trainee.permitExpires = "2026-04-05";
    one.readyHigh = 24;
    EXPECT_EQ(look(one)->kind, AttentionKind::DateAhead) << "24 days from 12 March is 5 April, the last day";
    one.readyHigh = 25;
    expectKind(one, AttentionKind::PermitFirst, AttentionAction::BookSession);
    EXPECT_EQ(look(one)->days, 24);
    EXPECT_EQ(look(one)->date, "2026-04-05");
    EXPECT_EQ(look(one)->readyHigh, 25);
    one.word = ReadinessWord::Ready;
    EXPECT_NE(look(one)->kind, AttentionKind::PermitFirst);
}

TEST(Attention, WhatHasRunOutComesFirst) {
    Standing one = usual();
    one.person.trainee.medicalExpires = "2026-03-11";
    one.failedTwice = {"Low-pressure warning"};
    expectKind(one, AttentionKind::DateOver, AttentionAction::EnterDate);
    EXPECT_EQ(look(one)->dateKind, DateKind::Medical);
    EXPECT_EQ(look(one)->days, -1);
}

TEST(Attention, ReadyWithoutATest) {
    Standing one = usual();
    one.word = ReadinessWord::Ready;
    expectKind(one, AttentionKind::ReadyNoTest, AttentionAction::BookTest);
    one.person.bookings = {testOn("2026-03-20")};
    EXPECT_FALSE(look(one));
    one.person.bookings.front().state = BookingState::Cancelled;
    expectKind(one, AttentionKind::ReadyNoTest, AttentionAction::BookTest);
}

TEST(Attention, ANearTestForWhoIsNotReady) {
    Standing one = usual();
    one.person.bookings = {testOn("2026-03-26")};
    expectKind(one, AttentionKind::TestUnready, AttentionAction::Drill);
    EXPECT_EQ(look(one)->days, 14);
    one.person.bookings = {testOn("2026-03-27")};
    EXPECT_FALSE(look(one));
}

TEST(Attention, AMustPassStepMissedTwiceRunning) {
    Standing one = usual();
    one.failedTwice = {"Applied leakage", "Spring brakes"};
    expectKind(one, AttentionKind::MustPassTwice, AttentionAction::Drill);
    EXPECT_THAT(look(one)->steps, ElementsAre("Applied leakage", "Spring brakes"));
    EXPECT_THAT(look(one)->attempts, ElementsAre("a-2026-03-10", "a-2026-03-03"));
}

TEST(Attention, ALongTimeWithoutAnAttempt) {
    Standing one = usual();
    one.sittings = {sitting("2026-02-27", 66)};
    EXPECT_FALSE(look(one)) << "13 days";
    one.sittings = {sitting("2026-02-26", 66)};
    expectKind(one, AttentionKind::Stalled, AttentionAction::BookSession);
    EXPECT_EQ(look(one)->days, 14);
    one.sittings.clear();
    one.word = ReadinessWord::TooLittle;
    EXPECT_EQ(look(one)->days, 61) << "since the start of training";
    one.person.trainee.started.clear();
    EXPECT_FALSE(look(one));
}

TEST(Attention, NoGainOverTheLastWholeAttempts) {
    Standing one = usual();
    one.sittings = {sitting("2026-03-01", 40), sitting("2026-03-03", 66), sitting("2026-03-05", 60),
                    sitting("2026-03-07", 90, false), sitting("2026-03-10", 67)};
    expectKind(one, AttentionKind::NoGain, AttentionAction::SeeMarks);
    EXPECT_THAT(look(one)->percents, ElementsAre(66, 60, 67));
    one.sittings.back().percent = 67.5;
    EXPECT_FALSE(look(one)) << "more than a point is a gain";
}

TEST(Attention, WhoIsNotWorkedOutYetIsNotJudged) {
    Standing one = usual();
    one.word.reset();
    one.readyHigh.reset();
    one.sittings = {sitting("2026-03-03", 66), sitting("2026-03-05", 60), sitting("2026-03-10", 50)};
    EXPECT_FALSE(look(one));
}

TEST(Attention, WhoIsAwayOrHasPassedIsLeftAlone) {
    Standing one = usual();
    one.person.trainee.permitExpires = "2026-03-01";
    Absence away;
    away.trainee = "t-1";
    away.left = "2026-03-01";
    one.person.absences = {away};
    EXPECT_FALSE(look(one));
    one.person.absences.clear();
    EXPECT_TRUE(look(one));
    for (const std::string_view segment : kSegments) {
        TestResult result;
        result.id = std::string(segment);
        result.trainee = "t-1";
        result.date = "2026-03-02";
        result.segment = segment;
        result.passed = true;
        one.person.results.push_back(result);
    }
    EXPECT_FALSE(look(one));
}

TEST(Attention, ADateThatIsNearComesAfterTheTraining) {
    Standing one = usual();
    one.person.trainee.medicalExpires = "2026-03-30";
    expectKind(one, AttentionKind::DateAhead, AttentionAction::EnterDate);
    one.failedTwice = {"Spring brakes"};
    EXPECT_EQ(look(one)->kind, AttentionKind::MustPassTwice);
}

TEST(Attention, ASheetThatIsNotSignedAfterSevenDays) {
    Standing one = usual();
    one.unsignedSheets = {{"a-2026-03-05", "2026-03-05"}};
    EXPECT_FALSE(look(one)) << "seven days are not more than seven";
    one.unsignedSheets = {{"a-2026-03-03", "2026-03-04"}, {"a-2026-03-10", "2026-03-10"}};
    expectKind(one, AttentionKind::SheetUnsigned, AttentionAction::NoteSigning);
    EXPECT_EQ(look(one)->days, 8);
    EXPECT_THAT(look(one)->attempts, ElementsAre("a-2026-03-03"));
    one.person.trainee.medicalExpires = "2026-03-20";
    EXPECT_EQ(look(one)->kind, AttentionKind::DateAhead) << "papers before paper";
}

TEST(Attention, ASecondScoringThatWaitsComesLast) {
    Standing one = usual();
    one.openSecondScorings = {"b-1", "b-2"};
    expectKind(one, AttentionKind::SecondOpen, AttentionAction::Settle);
    EXPECT_THAT(look(one)->attempts, ElementsAre("b-1", "b-2"));
    one.unsignedSheets = {{"a-2026-03-03", "2026-03-03"}};
    EXPECT_EQ(look(one)->kind, AttentionKind::SheetUnsigned);
}

TEST(Attention, TheListIsByUrgency) {
    std::vector<Standing> all{usual("t-1"), usual("t-2"), usual("t-3"), usual("t-4"), usual("t-5")};
    all[0].sittings = {sitting("2026-02-20", 66)};
    all[1].sittings = {sitting("2026-02-10", 66)};
    all[2].word = ReadinessWord::Ready;
    all[3].person.trainee.permitExpires = "2026-03-20";
    std::vector<std::string> order;
    for (const Attention& one : attentionList(all, kToday, {}, {})) order.push_back(one.trainee);
    EXPECT_THAT(order, ElementsAre("t-4", "t-3", "t-2", "t-1"));
}

TEST(Attention, SparesFromTheLatestDayToThePermit) {
    Standing one = usual();
    one.person.trainee.permitExpires = "2026-04-11";
    EXPECT_EQ(daysToSpare(one, kToday, {}), 0);
    one.person.trainee.permitExpires.clear();
    EXPECT_EQ(permitEnd(one.person.trainee, {}), "2027-01-12") << "one year from its issue, 49 CFR 383.25(c)";
    one.readyHigh.reset();
    EXPECT_FALSE(daysToSpare(one, kToday, {}));
    one.readyAfter = 400;
    EXPECT_EQ(daysToSpare(one, kToday, {}), 306 - 400) << "at most: the latest day is open";
    EXPECT_FALSE(look(one)) << "the earliest day is near";
    one.readyLow = 153;
    EXPECT_EQ(look(one)->kind, AttentionKind::PermitFirst);
}

TEST(AttentionSettings, AreFactsThatAreChecked) {
    AttentionSettings settings;
    settings.stalledDays = 21;
    settings.flatPoints = 2.5;
    const auto again = attentionSettingsFromFacts(factsFromAttentionSettings(settings));
    ASSERT_TRUE(again);
    EXPECT_EQ(*again, settings);
    const auto wrong = attentionSettingsFromFacts({{"program.attention.stalled_days", "soon"}});
    ASSERT_FALSE(wrong);
    EXPECT_EQ(wrong.error().problems.size(), 1U);
    EXPECT_FALSE(attentionSettingsFromFacts({{"program.attention.stale_days", "3"}})) << "misspelt";
}

}  // namespace
}  // namespace markerlamp::core
