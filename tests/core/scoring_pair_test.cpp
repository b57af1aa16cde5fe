// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/agreement/scoring_pair.h"
#include "core/agreement/shared_attempts.h"
#include "core/readiness/practice_record.h"
#include "scoring_support.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace markerlamp::core {
namespace {

using testing::AttemptBuilder;
using testing::makeRubric;
using testing::makeStep;
using testing::outcomeOf;
using testing::stepOf;

class ScoringPairs : public ::testing::Test {
protected:
    ScoringPairs()
        : rubric(std::make_shared<const Rubric>(makeRubric(std::vector<Step>{
              makeStep("a"), makeStep("b", 2), makeStep("c"), makeStep("d"), makeStep("e")}))) {}

    [[nodiscard]] const Step& step(const std::string& id) const { return *rubric->step(id); }
    AttemptBuilder scoring(const std::string& id, const std::string& instructor, const std::string& of = {}) {
        AttemptBuilder builder(*rubric);
        builder.header().id = id;
        builder.header().instructor = instructor;
        builder.header().of = of;
        return builder;
    }
    [[nodiscard]] ScoredAttempt scored(const Attempt& attempt) const {
        return {rubric, attempt, score(*rubric, attempt)};
    }
    /// a alike; b: all points, one point; c: whole, omitted; d: unseen, whole; e: unseen by both.
    ScoredAttempt first() {
        auto one = scoring("one", "carver");
        one.at(10).whole(step("a")).at(20).whole(step("b")).at(30).whole(step("c"));
        one.at(50).mark(EventKind::Unseen, "d").mark(EventKind::Unseen, "e").at(60).end();
        return scored(one);
    }
    /// The clock of the second is 2 s behind: it was started later.
    ScoredAttempt second() {
        auto two = scoring("two", "abbot", "one");
        two.at(8).whole(step("a")).at(18).show("b").say("b", "p0").at(38).whole(step("d"));
        two.at(48).mark(EventKind::Omit, "c").mark(EventKind::Unseen, "e").at(58).end();
        return scored(two);
    }

    std::shared_ptr<const Rubric> rubric;
};

TEST_F(ScoringPairs, OnlyDifferencesAreListed) {
    const ScoringPair pair = compareScorings(first(), second());
    ASSERT_EQ(pair.differences.size(), 3u);
    EXPECT_EQ(pair.differences[0].step, "b");
    EXPECT_EQ(pair.differences[0].first.outcome, StepOutcome::Satisfied);
    EXPECT_EQ(pair.differences[0].second.outcome, StepOutcome::Partial);
    EXPECT_EQ(pair.differences[0].zone, "Zone");
    EXPECT_EQ(pair.differences[1].step, "c");
    EXPECT_TRUE(pair.differences[1].second.marks.omitted);
    EXPECT_EQ(pair.differences[2].step, "d");
    EXPECT_FALSE(pair.differences[2].observedByBoth());
    EXPECT_EQ(pair.observedByBoth, 3);
    EXPECT_EQ(pair.differing, 2);
    EXPECT_EQ(pair.observedByOne, 1);
}

TEST_F(ScoringPairs, ClocksAreAlignedByTheMedianOfCommonSteps) {
    const ScoringPair pair = compareScorings(first(), second());
    EXPECT_EQ(pair.commonSteps, 2);  // a and b
    EXPECT_DOUBLE_EQ(pair.behind, -2);
    EXPECT_DOUBLE_EQ(pair.differences[0].seconds, 20);
    EXPECT_DOUBLE_EQ(pair.differences[2].seconds, 40) << "38 on the second's clock";

    // One step that was marked late by one of them does not move the clock: the median, not the mean.
    auto one = scoring("one", "carver");
    one.at(10).show("a").at(20).show("b").at(30).show("c").at(40).end();
    auto two = scoring("two", "abbot", "one");
    two.at(11).show("a").at(23).show("b").at(130).show("c").at(140).end();
    EXPECT_DOUBLE_EQ(compareScorings(scored(one), scored(two)).behind, 3);
    auto none = scoring("three", "abbot", "one");
    none.mark(EventKind::Omit, "a").end();
    const ScoringPair unaligned = compareScorings(scored(one), scored(none));
    EXPECT_EQ(unaligned.commonSteps, 0);
    EXPECT_DOUBLE_EQ(unaligned.behind, 0);
}

TEST_F(ScoringPairs, WhichPointsWereSaidCountsToo) {
    auto one = scoring("one", "carver");
    one.show("b").say("b", "p0").end();
    auto two = scoring("two", "abbot", "one");
    two.show("b").say("b", "p1").end();
    const ScoringPair pair = compareScorings(scored(one), scored(two));
    ASSERT_EQ(pair.differences.size(), 1u);
    EXPECT_EQ(pair.differences[0].first.outcome, pair.differences[0].second.outcome);
}

TEST_F(ScoringPairs, ASettledRecordTakesWhatWasChosen) {
    const std::map<std::string, Settling> choices{{"b", {Choice::Second, {}, "one point only, heard again"}},
                                                  {"c", {Choice::First, {}, {}}},
                                                  {"d", {Choice::Other, {true, true, false, {}}, {}}}};
    const auto attempt = settledAttempt(first(), second(), choices, "three", "dunn");
    ASSERT_TRUE(attempt) << attempt.error().message;
    EXPECT_EQ(attempt->header.id, "three");
    EXPECT_EQ(attempt->header.of, "one");
    EXPECT_EQ(attempt->header.instructor, "dunn");
    EXPECT_EQ(attempt->header.started, first().attempt.header.started);
    const Scorecard card = score(*rubric, *attempt);
    EXPECT_EQ(outcomeOf(card, "a"), StepOutcome::Satisfied);
    EXPECT_EQ(stepOf(card, "b").missedPoints, std::vector<std::string>{"p1"});
    EXPECT_EQ(outcomeOf(card, "c"), StepOutcome::Satisfied);
    EXPECT_TRUE(stepOf(card, "d").shown);
    EXPECT_EQ(stepOf(card, "d").said, 0);
    EXPECT_EQ(outcomeOf(card, "e"), StepOutcome::Unseen);
    // Times are the first's: the second's show of b at 18 s stands at 20.
    for (const Event& event : attempt->events)
        if (event.step == "b" && event.kind == EventKind::Show) {
            EXPECT_DOUBLE_EQ(event.t, 20);
        }
    const auto note = std::ranges::find(attempt->events, EventKind::Note, &Event::kind);
    ASSERT_NE(note, attempt->events.end());
    EXPECT_EQ(note->step, "b");
    EXPECT_EQ(note->text, "one point only, heard again");
    EXPECT_DOUBLE_EQ(attempt->events.back().t, 60);
}

TEST_F(ScoringPairs, WhatIsOpenIsNeitherCreditNorFault) {
    const auto attempt = settledAttempt(first(), second(), {{"c", {Choice::Open, {}, {}}}}, "three", "dunn");
    ASSERT_TRUE(attempt);
    const Scorecard card = score(*rubric, *attempt);
    for (const char* id : {"b", "c", "d"}) EXPECT_EQ(outcomeOf(card, id), StepOutcome::Unseen) << id;
    EXPECT_EQ(card.possible, 1);
    EXPECT_EQ(card.earned, 1);
}

TEST_F(ScoringPairs, OtherMarksCanBeOmittedUnseenOrHelped) {
    const auto outcome = [&](const OtherMarks& marks) {
        const auto attempt =
            settledAttempt(first(), second(), {{"b", {Choice::Other, marks, {}}}}, "three", "dunn");
        return outcomeOf(score(*rubric, attempt.value()), "b");
    };
    EXPECT_EQ(outcome({true, false, false, {}}), StepOutcome::Omitted);
    EXPECT_EQ(outcome({false, true, false, {"p0"}}), StepOutcome::Unseen);
    EXPECT_EQ(outcome({true, true, true, {"p0", "p1"}}), StepOutcome::Prompted);
    EXPECT_EQ(outcome({true, true, false, {"p0", "p1"}}), StepOutcome::Satisfied);
    const OtherMarks back = otherMarksOf(step("b"), foldMarks(*rubric, first().attempt)[1]);
    EXPECT_EQ(back, (OtherMarks{true, true, false, {"p0", "p1"}}));
}

TEST_F(ScoringPairs, AmendmentsAndRetractsAreTakenAsTheyStand) {
    auto one = scoring("one", "carver");
    one.show("a").say("a", "p0").retract(2).end();
    Event& amended = one.add(EventKind::Show, "c");
    amended.by = "carver";
    amended.at = "2026-03-03T08:00:00-05:00";
    amended.t = 3;
    auto two = scoring("two", "abbot", "one");
    two.whole(step("a")).whole(step("c")).end();
    const auto attempt = settledAttempt(scored(one), scored(two), {{"c", {Choice::First, {}, {}}}}, "x", "d");
    ASSERT_TRUE(attempt) << attempt.error().message;
    const Scorecard card = score(*rubric, *attempt);
    EXPECT_TRUE(stepOf(card, "c").shown);
    EXPECT_EQ(stepOf(card, "c").said, 0);
    EXPECT_TRUE(std::ranges::all_of(attempt->events, [](const Event& event) { return event.by.empty(); }));
}

TEST_F(ScoringPairs, RefusesWhatCannotBeSettled) {
    auto open = scoring("two", "abbot", "one");
    open.show("a");
    EXPECT_FALSE(settledAttempt(first(), scored(open), {}, "x", "d"));
    EXPECT_FALSE(settledAttempt(first(), second(), {}, "x", ""));
    const auto alike = settledAttempt(first(), second(), {{"a", {Choice::First, {}, {}}}}, "x", "d");
    ASSERT_FALSE(alike);
    EXPECT_NE(alike.error().message.find("\"a\""), std::string::npos);
}

TEST_F(ScoringPairs, OnlyTheFirstScoringIsPracticeOfTheTrainee) {
    const ScoredAttempt one = first(), two = second();
    const Attempt three = settledAttempt(one, two, {}, "three", "dunn").value();
    PracticeRecord record;
    EXPECT_TRUE(record.add(*rubric, one.attempt, one.card));
    EXPECT_FALSE(record.add(*rubric, two.attempt, two.card));
    EXPECT_FALSE(record.add(*rubric, three, score(*rubric, three)));
    record.sort();
    ASSERT_EQ(record.attempts().size(), 1u);
    EXPECT_EQ(record.attempts()[0].id, "one");
}

}  // namespace
}  // namespace markerlamp::core
