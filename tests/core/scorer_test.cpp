// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The scoring rules of one step (1 to 5: order position, credit, points, readings, outcome) one by one, with
// cases worked by hand; those of the whole card are in scorer_card_test.

#include "scoring_support.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace markerlamp::core {
namespace {

using testing::AttemptBuilder;
using testing::chainRule;
using ::testing::ElementsAre;
using ::testing::IsEmpty;
using testing::makeRubric;
using testing::makeStep;
using testing::outcomeOf;
using testing::stepOf;

Step withNumber(Step step, std::optional<double> low, std::optional<double> high, double tolerance = 0) {
    PointNumber number;
    number.low = low;
    number.high = high;
    number.unit = "psi";
    number.tolerance = tolerance;
    step.say[0].number = number;
    return step;
}

Step withReading(Step step, std::optional<double> low, std::optional<double> high, bool exclusive = false,
                 bool required = false) {
    ReadingRule rule;
    rule.quantity = "pressure";
    rule.low = low;
    rule.high = high;
    rule.unit = "psi";
    rule.exclusive = exclusive;
    rule.required = required;
    step.reading = rule;
    return step;
}

Limit makeLimit(const std::string& id, std::optional<double> low, std::optional<double> high,
                bool exclusive = false) {
    Limit limit;
    limit.id = id;
    limit.low = low;
    limit.high = high;
    limit.unit = "psi";
    limit.exclusive = exclusive;
    limit.source = "test";
    return limit;
}

// --- Which events count -------------------------------------------------------------------------------

TEST(ScorerEvents, RetractedEventEarnsNothing) {
    const Rubric rubric = makeRubric({makeStep("a")});
    const Scorecard card = score(rubric, AttemptBuilder(rubric).show("a").say("a").retract(2).end());
    EXPECT_EQ(outcomeOf(card, "a"), StepOutcome::Partial);
    EXPECT_EQ(stepOf(card, "a").said, 0);
    EXPECT_THAT(stepOf(card, "a").missedPoints, ElementsAre("p0"));
}

TEST(ScorerEvents, RetractedPromptGivesTheCreditBack) {
    const Rubric rubric = makeRubric({makeStep("a")});
    AttemptBuilder attempt(rubric);
    attempt.mark(EventKind::Prompt, "a").show("a").say("a");
    EXPECT_EQ(outcomeOf(score(rubric, attempt), "a"), StepOutcome::Prompted);
    attempt.retract(1);
    EXPECT_EQ(outcomeOf(score(rubric, attempt), "a"), StepOutcome::Satisfied);
    EXPECT_FALSE(stepOf(score(rubric, attempt), "a").prompted);
}

TEST(ScorerEvents, AmendmentAfterTheEndCounts) {
    const Rubric rubric = makeRubric({makeStep("a")});
    AttemptBuilder attempt(rubric);
    attempt.show("a").end();
    EXPECT_EQ(score(rubric, attempt).result, AttemptResult::Fail);
    Event& late = attempt.at(1).add(EventKind::Say, "a");
    late.point = "p0";
    late.by = "instructor-a";
    late.at = "2026-03-02T09:00:00-05:00";
    const Scorecard card = score(rubric, attempt);
    EXPECT_EQ(outcomeOf(card, "a"), StepOutcome::Satisfied);
    EXPECT_EQ(card.result, AttemptResult::Pass);
}

// --- Scope --------------------------------------------------------------------------------------------

TEST(ScorerScope, LeavesOutZonesAndEquipmentThatTheAttemptDoesNotHave) {
    Step air = makeStep("air");
    air.when = {"air-brakes"};
    Step hydraulic = makeStep("hydraulic");
    hydraulic.when = {"!air-brakes"};
    const Rubric rubric =
        makeRubric(std::vector<Zone>{{"one", "One", {air, hydraulic}}, {"two", "Two", {makeStep("far")}}});
    AttemptBuilder attempt(rubric, {"air-brakes"});
    attempt.header().zones = {"one"};
    const Scorecard card = score(rubric, attempt.whole(air).end());
    ASSERT_EQ(card.steps.size(), 1u);
    EXPECT_EQ(card.steps[0].step, "air");
    ASSERT_EQ(card.zones.size(), 1u);
    EXPECT_EQ(card.zones[0], (ZoneScore{"one", 100, 1, 1}));
    EXPECT_EQ(card.possible, 1);
}

// --- Rule 1: engaged, position ------------------------------------------------------------------------

TEST(ScorerPosition, IsThatOfTheFirstShowEvenWhenExplainedBefore) {
    const Rubric rubric = makeRubric({makeStep("a"), makeStep("b")});
    const Scorecard card =
        score(rubric, AttemptBuilder(rubric).say("b").show("a").say("a").show("b").show("b").end());
    EXPECT_EQ(stepOf(card, "a").position, 2);
    EXPECT_EQ(stepOf(card, "b").position, 4);
}

TEST(ScorerPosition, ExplainingAheadDoesNotPutAStepOutOfOrder) {
    Rubric rubric = makeRubric({makeStep("a"), makeStep("b")});
    rubric.order.push_back(chainRule("line", {"a", "b"}));
    EXPECT_THAT(score(rubric, AttemptBuilder(rubric).say("b").show("a").show("b").end()).displaced,
                IsEmpty());
    EXPECT_THAT(score(rubric, AttemptBuilder(rubric).show("b").show("a").end()).displaced, ElementsAre("b"));
}

TEST(ScorerPosition, IsTheFirstEngagingEventWithoutAShow) {
    const Rubric rubric = makeRubric({makeStep("a")});
    for (EventKind kind : {EventKind::Partly, EventKind::Wrong, EventKind::Fault}) {
        const Scorecard card =
            score(rubric, AttemptBuilder(rubric).mark(EventKind::Prompt, "a").mark(kind, "a").say("a").end());
        EXPECT_EQ(stepOf(card, "a").position, 2) << static_cast<int>(kind);
    }
}

TEST(ScorerPosition, PromptOmitUnseenAndNoteDoNotEngage) {
    const Rubric rubric = makeRubric({makeStep("a")});
    for (EventKind kind :
         {EventKind::Prompt, EventKind::Omit, EventKind::Unseen, EventKind::Unreached, EventKind::Note}) {
        const Scorecard card = score(rubric, AttemptBuilder(rubric).mark(kind, "a").end());
        EXPECT_EQ(stepOf(card, "a").position, 0) << static_cast<int>(kind);
    }
}

TEST(ScorerPosition, RetractedFirstShowMovesTheStep) {
    const Rubric rubric = makeRubric({makeStep("a")});
    EXPECT_EQ(stepOf(score(rubric, AttemptBuilder(rubric).show("a").show("a").retract(1)), "a").position, 2);
}

// --- Rule 2: own and prompted credit ------------------------------------------------------------------

TEST(ScorerCredit, BeforeTheFirstPromptIsOwn) {
    const Rubric rubric = makeRubric({makeStep("a", 2)});
    const Scorecard card = score(rubric, AttemptBuilder(rubric)
                                             .show("a")
                                             .say("a", "p0")
                                             .mark(EventKind::Prompt, "a")
                                             .say("a", "p1")
                                             .mark(EventKind::Prompt, "a")
                                             .end());
    const StepScore& step = stepOf(card, "a");
    EXPECT_EQ(step.outcome, StepOutcome::Prompted);
    EXPECT_TRUE(step.shown);
    EXPECT_EQ(step.said, 1);
    EXPECT_THAT(step.missedPoints, ElementsAre("p1"));
    EXPECT_TRUE(step.prompted);
}

TEST(ScorerCredit, PromptAfterEverythingTakesNothingAway) {
    const Rubric rubric = makeRubric({makeStep("a")});
    const Scorecard card =
        score(rubric, AttemptBuilder(rubric).show("a").say("a").mark(EventKind::Prompt, "a").end());
    EXPECT_EQ(outcomeOf(card, "a"), StepOutcome::Satisfied);
    EXPECT_TRUE(stepOf(card, "a").prompted);
}

TEST(ScorerCredit, SayingAPointAgainAfterAPromptKeepsTheOwnCredit) {
    const Rubric rubric = makeRubric({makeStep("a")});
    const Scorecard card =
        score(rubric, AttemptBuilder(rubric).show("a").say("a").mark(EventKind::Prompt, "a").say("a").end());
    EXPECT_EQ(stepOf(card, "a").said, 1);
}

TEST(ScorerCredit, ShowAfterAPromptIsNotShown) {
    const Rubric rubric = makeRubric({makeStep("a")});
    const Scorecard card =
        score(rubric, AttemptBuilder(rubric).say("a").mark(EventKind::Prompt, "a").show("a").end());
    EXPECT_FALSE(stepOf(card, "a").shown);
    EXPECT_EQ(card.shownPercent, 0);
    EXPECT_EQ(card.saidPercent, 100);
    EXPECT_EQ(outcomeOf(card, "a"), StepOutcome::Prompted);
}

TEST(ScorerCredit, PromptOnOneStepLeavesTheOthersAlone) {
    const Rubric rubric = makeRubric({makeStep("a"), makeStep("b")});
    const Scorecard card =
        score(rubric, AttemptBuilder(rubric).mark(EventKind::Prompt, "a").show("b").say("b").end());
    EXPECT_EQ(outcomeOf(card, "b"), StepOutcome::Satisfied);
}

// --- Rule 3: shown, points, numbers -------------------------------------------------------------------

TEST(ScorerPoints, StepWithNothingToShowNeedsOnlyWords) {
    Step step = makeStep("a");
    step.show.clear();
    const Rubric rubric = makeRubric({step});
    const Scorecard card = score(rubric, AttemptBuilder(rubric).say("a").end());
    EXPECT_EQ(outcomeOf(card, "a"), StepOutcome::Satisfied);
    EXPECT_EQ(card.shownPercent, 100) << "no step with something to show";
}

TEST(ScorerPoints, AsManyDistinctPointsAsNeeded) {
    Step step = makeStep("a", 3);
    step.sayNeeded = 2;
    const Rubric rubric = makeRubric({step});
    const Scorecard twice =
        score(rubric, AttemptBuilder(rubric).show("a").say("a", "p0").say("a", "p0").end());
    EXPECT_EQ(outcomeOf(twice, "a"), StepOutcome::Partial);
    const Scorecard two = score(rubric, AttemptBuilder(rubric).show("a").say("a", "p2").say("a", "p0").end());
    EXPECT_EQ(outcomeOf(two, "a"), StepOutcome::Satisfied);
    EXPECT_THAT(stepOf(two, "a").missedPoints, ElementsAre("p1"));
    EXPECT_EQ(stepOf(two, "a").needed, 2);
}

TEST(ScorerPoints, PartlyEarnsNoPoint) {
    const Rubric rubric = makeRubric({makeStep("a")});
    const Scorecard card = score(rubric, AttemptBuilder(rubric).show("a").mark(EventKind::Partly, "a").end());
    EXPECT_EQ(outcomeOf(card, "a"), StepOutcome::Partial);
    EXPECT_EQ(stepOf(card, "a").said, 0);
}

/// Whether a say of this value counts.
bool counts(const Rubric& rubric, double value, const std::string& unit = "psi") {
    return stepOf(score(rubric, AttemptBuilder(rubric).sayValue("a", value, unit)), "a").said == 1;
}
bool countsRange(const Rubric& rubric, double low, double high) {
    return stepOf(score(rubric, AttemptBuilder(rubric).sayRange("a", low, high, "psi")), "a").said == 1;
}

TEST(ScorerNumbers, OneBoundWantsThatNumberWithinTheTolerance) {
    const Rubric exact = makeRubric({withNumber(makeStep("a"), {}, 3)});
    EXPECT_TRUE(counts(exact, 3));
    EXPECT_FALSE(counts(exact, 2)) << "a smaller loss is not what the rule says";
    EXPECT_FALSE(counts(exact, 4));
    const Rubric loose = makeRubric({withNumber(makeStep("a"), 60, {}, 5)});
    EXPECT_TRUE(counts(loose, 55));
    EXPECT_TRUE(counts(loose, 65));
    EXPECT_FALSE(counts(loose, 54.999));
    EXPECT_FALSE(counts(loose, 65.001));
}

TEST(ScorerNumbers, SingleValueForARangeLiesInItWidenedByTheTolerance) {
    const Rubric rubric = makeRubric({withNumber(makeStep("a"), 20, 45, 2)});
    EXPECT_TRUE(counts(rubric, 18));
    EXPECT_TRUE(counts(rubric, 30));
    EXPECT_TRUE(counts(rubric, 47));
    EXPECT_FALSE(counts(rubric, 17.9));
    EXPECT_FALSE(counts(rubric, 47.1));
}

TEST(ScorerNumbers, StatedRangeNeedsBothBoundsEachWithinTheTolerance) {
    const Rubric rubric = makeRubric({withNumber(makeStep("a"), 20, 45, 2)});
    EXPECT_TRUE(countsRange(rubric, 20, 45));
    EXPECT_TRUE(countsRange(rubric, 22, 43));
    EXPECT_FALSE(countsRange(rubric, 20, 48));
    EXPECT_FALSE(countsRange(rubric, 17, 45));
    EXPECT_FALSE(countsRange(makeRubric({withNumber(makeStep("a"), {}, 45, 2)}), 20, 45))
        << "the point has one bound only";
}

TEST(ScorerNumbers, UnitsMustBeEqual) {
    const Rubric rubric = makeRubric({withNumber(makeStep("a"), {}, 3)});
    EXPECT_FALSE(counts(rubric, 3, "kPa"));
    EXPECT_FALSE(counts(rubric, 3, ""));
}

TEST(ScorerNumbers, WithoutANumberOnEitherSideThePointCounts) {
    const Rubric withRule = makeRubric({withNumber(makeStep("a"), {}, 3)});
    EXPECT_EQ(stepOf(score(withRule, AttemptBuilder(withRule).say("a")), "a").said, 1);
    const Rubric without = makeRubric({makeStep("a")});
    EXPECT_TRUE(counts(without, 17));
}

TEST(ScorerNumbers, WrongNumberEngagesButEarnsNothingAndARightOneLaterDoes) {
    const Rubric rubric = makeRubric({withNumber(makeStep("a"), {}, 3)});
    AttemptBuilder attempt(rubric);
    attempt.show("a").sayValue("a", 5, "psi");
    EXPECT_EQ(outcomeOf(score(rubric, attempt), "a"), StepOutcome::Partial);
    attempt.sayValue("a", 3, "psi");
    EXPECT_EQ(outcomeOf(score(rubric, attempt), "a"), StepOutcome::Satisfied);
}

TEST(ScorerNumbers, ExclusivePlaysNoPartInWhatIsRecited) {
    Step step = makeStep("a");
    step.say[0].number.emplace().limit = "static-leak";
    Rubric rubric = makeRubric({step});
    rubric.limits = {makeLimit("static-leak", {}, 2, true)};
    EXPECT_TRUE(counts(rubric, 2));
}

TEST(ScorerNumbers, LimitOfTheBusReplacesBothBounds) {
    Step step = makeStep("a");
    step.say[0].number.emplace().limit = "knob";
    Rubric rubric = makeRubric({step});
    rubric.limits = {makeLimit("knob", 20, 45)};
    AttemptBuilder attempt(rubric);
    attempt.header().limits["knob"] = {std::nullopt, 40.0};
    const auto said = [&](double value) {
        AttemptBuilder one = attempt;
        return stepOf(score(rubric, one.sayValue("a", value, "psi")), "a").said;
    };
    EXPECT_EQ(said(30), 0) << "the lower bound of the rubric is gone, so the one bound is wanted";
    EXPECT_EQ(said(40), 1);
    EXPECT_EQ(said(45), 0);
}

// --- Rule 4: readings ---------------------------------------------------------------------------------

StepOutcome afterReading(const Rubric& rubric, double value) {
    return outcomeOf(score(rubric, AttemptBuilder(rubric).show("a").say("a").reading("a", value, "psi")),
                     "a");
}

TEST(ScorerReadings, BoundsBelongToTheLimitUnlessExclusive) {
    const Rubric inclusive = makeRubric({withReading(makeStep("a"), 20, 45)});
    EXPECT_EQ(afterReading(inclusive, 20), StepOutcome::Satisfied);
    EXPECT_EQ(afterReading(inclusive, 45), StepOutcome::Satisfied);
    EXPECT_EQ(afterReading(inclusive, 45.001), StepOutcome::Wrong);
    EXPECT_EQ(afterReading(inclusive, 19.999), StepOutcome::Wrong);
    const Rubric exclusive = makeRubric({withReading(makeStep("a"), 20, 45, true)});
    EXPECT_EQ(afterReading(exclusive, 20), StepOutcome::Wrong);
    EXPECT_EQ(afterReading(exclusive, 45), StepOutcome::Wrong);
    EXPECT_EQ(afterReading(exclusive, 44.999), StepOutcome::Satisfied);
}

TEST(ScorerReadings, OneSidedLimitIsOpenOnTheOther) {
    const Rubric upper = makeRubric({withReading(makeStep("a"), {}, 3)});
    EXPECT_EQ(afterReading(upper, -1000), StepOutcome::Satisfied);
    EXPECT_EQ(afterReading(upper, 3.5), StepOutcome::Wrong);
    const Rubric lower = makeRubric({withReading(makeStep("a"), 60, {})});
    EXPECT_EQ(afterReading(lower, 1e6), StepOutcome::Satisfied);
    EXPECT_EQ(afterReading(lower, 59), StepOutcome::Wrong);
}

TEST(ScorerReadings, TheLastStandingOneCounts) {
    const Rubric rubric = makeRubric({withReading(makeStep("a"), {}, 3)});
    AttemptBuilder attempt(rubric);
    attempt.show("a").say("a").reading("a", 2, "psi").reading("a", 5, "psi");
    EXPECT_EQ(outcomeOf(score(rubric, attempt), "a"), StepOutcome::Wrong);
    EXPECT_EQ(outcomeOf(score(rubric, attempt.retract(4)), "a"), StepOutcome::Satisfied);
}

TEST(ScorerReadings, CallingOutTheDefectMeetsIt) {
    const Rubric rubric = makeRubric({withReading(makeStep("a"), {}, 3, false, true)});
    AttemptBuilder attempt(rubric);
    attempt.show("a").say("a").reading("a", 5, "psi").mark(EventKind::Fault, "a");
    EXPECT_EQ(outcomeOf(score(rubric, attempt), "a"), StepOutcome::Satisfied);
    EXPECT_EQ(
        outcomeOf(score(rubric, AttemptBuilder(rubric).show("a").say("a").mark(EventKind::Fault, "a")), "a"),
        StepOutcome::Satisfied)
        << "also without any reading";
}

TEST(ScorerReadings, MissingOneMattersOnlyWhenRequired) {
    const Rubric required = makeRubric({withReading(makeStep("a"), {}, 3, false, true)});
    EXPECT_EQ(outcomeOf(score(required, AttemptBuilder(required).show("a").say("a")), "a"),
              StepOutcome::Partial);
    const Rubric wanted = makeRubric({withReading(makeStep("a"), {}, 3)});
    EXPECT_EQ(outcomeOf(score(wanted, AttemptBuilder(wanted).show("a").say("a")), "a"),
              StepOutcome::Satisfied);
}

TEST(ScorerReadings, PromptMakesNoDifferenceToThem) {
    const Rubric rubric = makeRubric({withReading(makeStep("a"), {}, 3, false, true)});
    EXPECT_EQ(outcomeOf(score(rubric, AttemptBuilder(rubric)
                                          .show("a")
                                          .say("a")
                                          .mark(EventKind::Prompt, "a")
                                          .reading("a", 2, "psi")),
                        "a"),
              StepOutcome::Satisfied);
}

TEST(ScorerReadings, LimitOfTheBusReplacesBothBoundsAndKeepsExclusive) {
    Step step = makeStep("a");
    step.reading.emplace().limit = "leak";
    Rubric rubric = makeRubric({step});
    rubric.limits = {makeLimit("leak", 1, 3, true)};
    const auto outcome = [&](double value, LimitBounds bounds) {
        AttemptBuilder attempt(rubric);
        attempt.header().limits["leak"] = bounds;
        return outcomeOf(score(rubric, attempt.show("a").say("a").reading("a", value, "psi")), "a");
    };
    EXPECT_EQ(outcome(0.5, {std::nullopt, 2.0}), StepOutcome::Satisfied) << "no lower bound any more";
    EXPECT_EQ(outcome(2, {std::nullopt, 2.0}), StepOutcome::Wrong) << "still exclusive";
    EXPECT_EQ(outcome(2.5, {std::nullopt, 2.0}), StepOutcome::Wrong);
    EXPECT_EQ(outcome(100, {1.0, std::nullopt}), StepOutcome::Satisfied);
}

// --- Rule 5: outcome ----------------------------------------------------------------------------------

TEST(ScorerOutcome, UntouchedStepIsOmitted) {
    const Rubric rubric = makeRubric({makeStep("a")});
    EXPECT_EQ(outcomeOf(score(rubric, AttemptBuilder(rubric).end()), "a"), StepOutcome::Omitted);
}

TEST(ScorerOutcome, LastOfOmitUnseenUnreachedDecides) {
    const Rubric rubric = makeRubric({makeStep("a")});
    const auto after = [&](std::vector<EventKind> kinds) {
        AttemptBuilder attempt(rubric);
        for (EventKind kind : kinds) attempt.mark(kind, "a");
        return outcomeOf(score(rubric, attempt), "a");
    };
    using enum EventKind;
    EXPECT_EQ(after({Omit, Unseen}), StepOutcome::Unseen);
    EXPECT_EQ(after({Unseen, Unreached}), StepOutcome::Unreached);
    EXPECT_EQ(after({Unreached, Unseen, Omit}), StepOutcome::Omitted);
    EXPECT_EQ(after({Unseen, Prompt}), StepOutcome::Omitted) << "prompted, so it was observed";
    EXPECT_EQ(after({Prompt, Unreached}), StepOutcome::Omitted);
    EXPECT_EQ(after({Unseen, Partly}), StepOutcome::Partial);
    EXPECT_EQ(after({Partly, Unseen}), StepOutcome::Partial) << "engaged comes first";
}

TEST(ScorerOutcome, RetractedUnseenUncoversTheOneBefore) {
    const Rubric rubric = makeRubric({makeStep("a")});
    AttemptBuilder attempt(rubric);
    attempt.mark(EventKind::Unreached, "a").mark(EventKind::Unseen, "a").retract(2);
    EXPECT_EQ(outcomeOf(score(rubric, attempt), "a"), StepOutcome::Unreached);
}

TEST(ScorerOutcome, WrongOutweighsFullCredit) {
    const Rubric rubric = makeRubric({makeStep("a")});
    EXPECT_EQ(
        outcomeOf(score(rubric, AttemptBuilder(rubric).show("a").say("a").mark(EventKind::Wrong, "a")), "a"),
        StepOutcome::Wrong);
}

TEST(ScorerOutcome, OmitDoesNotTakeCreditAway) {
    const Rubric rubric = makeRubric({makeStep("a")});
    EXPECT_EQ(
        outcomeOf(score(rubric, AttemptBuilder(rubric).show("a").say("a").mark(EventKind::Omit, "a")), "a"),
        StepOutcome::Satisfied);
}

TEST(ScorerOutcome, PromptWithoutEnoughCreditIsPartial) {
    const Rubric rubric = makeRubric({makeStep("a")});
    EXPECT_EQ(outcomeOf(score(rubric, AttemptBuilder(rubric).mark(EventKind::Prompt, "a").show("a")), "a"),
              StepOutcome::Partial);
}

}  // namespace
}  // namespace markerlamp::core
