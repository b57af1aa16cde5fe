// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The scoring rules one by one, with cases worked by hand.

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
using Code = Reason::Code;

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

std::vector<Code> codes(const Scorecard& card) {
    std::vector<Code> all;
    for (const Reason& reason : card.reasons) all.push_back(reason.code);
    return all;
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

// --- Rule 6: sums -------------------------------------------------------------------------------------

TEST(ScorerSums, WeighStepsThatWereObserved) {
    Step heavy = makeStep("heavy", 3);
    heavy.weight = 5;
    Step light = makeStep("light", 1);
    Step unseen = makeStep("unseen", 4);
    unseen.weight = 7;
    Step unreached = makeStep("unreached", 2);
    unreached.weight = 2;
    Step words = makeStep("words", 1);
    words.show.clear();
    words.weight = 3;
    const Rubric rubric = makeRubric(
        std::vector<Zone>{{"one", "One", {heavy, light, unseen}}, {"two", "Two", {unreached, words}}});
    const Scorecard card = score(rubric, AttemptBuilder(rubric)
                                             .show("heavy")
                                             .say("heavy", "p0")
                                             .whole(light)
                                             .mark(EventKind::Unseen, "unseen")
                                             .mark(EventKind::Unreached, "unreached")
                                             .whole(words)
                                             .end());
    EXPECT_EQ(card.possible, 5 + 1 + 3);
    EXPECT_EQ(card.earned, 1 + 3);
    EXPECT_DOUBLE_EQ(card.percent, 400.0 / 9);
    EXPECT_DOUBLE_EQ(card.shownPercent, 100) << "5 + 1 of 5 + 1; the step of words does not count";
    EXPECT_DOUBLE_EQ(card.saidPercent, 100.0 * 3 / 5) << "1 of 3, 1 of 1, 1 of 1";
    EXPECT_EQ(card.zones[0], (ZoneScore{"one", 100.0 / 6, 1, 6}));
    EXPECT_EQ(card.zones[1], (ZoneScore{"two", 100, 3, 3}));
}

TEST(ScorerSums, NothingObservedIsZeroPercentButNothingMissed) {
    const Rubric rubric = makeRubric({makeStep("a")});
    const Scorecard card = score(rubric, AttemptBuilder(rubric).mark(EventKind::Unseen, "a").end());
    EXPECT_EQ(card.possible, 0);
    EXPECT_EQ(card.percent, 0);
    EXPECT_EQ(card.zones[0].percent, 0);
    EXPECT_EQ(card.shownPercent, 100);
    EXPECT_EQ(card.saidPercent, 100);
    EXPECT_EQ(card.orderPercent, 100);
    EXPECT_EQ(card.result, AttemptResult::Fail) << "0 is below 80";
}

// --- Rule 7: order ------------------------------------------------------------------------------------

TEST(ScorerOrder, BindsThroughAnOmittedStep) {
    Rubric rubric = makeRubric({makeStep("a"), makeStep("b"), makeStep("c")});
    rubric.order = {chainRule("first-half", {"a", "b"}), chainRule("second-half", {"b", "c"})};
    const Scorecard card = score(rubric, AttemptBuilder(rubric).show("c").show("a").end());
    EXPECT_THAT(card.orderFaults, ElementsAre(OrderFault{"a", "c", "first-half"}));
    EXPECT_THAT(card.displaced, ElementsAre("c")) << "the earlier rubric position is kept";
    EXPECT_DOUBLE_EQ(card.orderPercent, 50);
    EXPECT_THAT(card.brokenRules, IsEmpty()) << "neither rule states a before c itself";
}

TEST(ScorerOrder, ChainStatesAllItsOrderedPairs) {
    Rubric rubric = makeRubric({makeStep("a"), makeStep("b"), makeStep("c")});
    rubric.order = {chainRule("line", {"a", "b", "c"})};
    const Scorecard card = score(rubric, AttemptBuilder(rubric).show("c").show("a").end());
    EXPECT_THAT(card.brokenRules, ElementsAre("line"));
}

TEST(ScorerOrder, NamesTheRuleThatStatesThePairBeforeOneThatImpliesIt) {
    Rubric rubric = makeRubric({makeStep("a"), makeStep("b"), makeStep("c")});
    rubric.order = {chainRule("one", {"a", "b"}), chainRule("two", {"b", "c"}), chainRule("own", {"a", "c"})};
    const Scorecard card = score(rubric, AttemptBuilder(rubric).show("c").show("a").end());
    EXPECT_THAT(card.orderFaults, ElementsAre(OrderFault{"a", "c", "own"}));
    EXPECT_THAT(card.brokenRules, ElementsAre("own"));
}

TEST(ScorerOrder, OneLateStepIsOneDisplacedHoweverManyPairsItBreaks) {
    std::vector<Step> steps;
    std::vector<std::string> ids;
    for (int i = 0; i < 6; ++i) {
        ids.push_back("s" + std::to_string(i));
        steps.push_back(makeStep(ids.back()));
    }
    Rubric rubric = makeRubric(steps);
    rubric.order = {chainRule("line", ids)};
    AttemptBuilder attempt(rubric);
    for (int i : {0, 2, 3, 4, 5, 1}) attempt.show(ids[static_cast<std::size_t>(i)]);
    const Scorecard card = score(rubric, attempt, true);
    EXPECT_EQ(card.orderFaults.size(), 4u);
    EXPECT_THAT(card.displaced, ElementsAre("s1"));
    EXPECT_THAT(card.alwaysDisplaced, ElementsAre("s1"));
    EXPECT_DOUBLE_EQ(card.orderPercent, 100.0 * 5 / 6);
}

TEST(ScorerOrder, PrefersToKeepMustPassStepsThenEarlierOnes) {
    Step late = makeStep("b");
    late.mustPass = true;
    Rubric rubric = makeRubric({makeStep("a"), late});
    rubric.order = {chainRule("line", {"a", "b"})};
    const Scorecard card = score(rubric, AttemptBuilder(rubric).show("b").show("a").end(), true);
    EXPECT_THAT(card.displaced, ElementsAre("a")) << "the must-pass step stays";
    EXPECT_THAT(card.alwaysDisplaced, IsEmpty()) << "one of two";
}

TEST(ScorerOrder, ListsDisplacedInObservedOrder) {
    Rubric rubric = makeRubric({makeStep("a"), makeStep("b"), makeStep("c"), makeStep("d")});
    rubric.order = {chainRule("line", {"a", "b", "c", "d"})};
    const Scorecard card =
        score(rubric, AttemptBuilder(rubric).show("d").show("c").show("b").show("a").end());
    EXPECT_THAT(card.displaced, ElementsAre("d", "c", "b"));
    EXPECT_EQ(card.orderFaults.size(), 6u);
    EXPECT_DOUBLE_EQ(card.orderPercent, 25);
}

TEST(ScorerOrder, ZoneEntriesStandForAllTheirSteps) {
    Rubric rubric = makeRubric(std::vector<Zone>{{"one", "One", {makeStep("a"), makeStep("b")}},
                                                 {"two", "Two", {makeStep("c"), makeStep("d")}}});
    OrderRule rule;
    rule.id = "zones";
    rule.first = {"zone:one"};
    rule.then = {"zone:two"};
    rubric.order = {rule};
    const Scorecard card =
        score(rubric, AttemptBuilder(rubric).show("b").show("d").show("a").show("c").end());
    EXPECT_THAT(card.orderFaults, ElementsAre(OrderFault{"a", "d", "zones"}));
    EXPECT_THAT(card.brokenRules, ElementsAre("zones"));
}

// --- Rule 8: result -----------------------------------------------------------------------------------

TEST(ScorerResult, PercentOnTheMarkPassesAndBelowFails) {
    std::vector<Step> steps;
    for (int i = 0; i < 3; ++i) steps.push_back(makeStep("s" + std::to_string(i)));
    Rubric rubric = makeRubric(steps);
    AttemptBuilder attempt(rubric);
    attempt.whole(steps[0]).whole(steps[1]).end();  // 200/3 percent
    const double percent = 200.0 / 3;
    const auto resultAt = [&](double mark) {
        rubric.pass.percent = mark;
        return score(rubric, attempt).result;
    };
    EXPECT_EQ(resultAt(percent), AttemptResult::Pass);
    EXPECT_EQ(resultAt(percent + 5e-10), AttemptResult::Pass) << "within 1e-9";
    EXPECT_EQ(resultAt(percent + 1e-8), AttemptResult::Fail);
    EXPECT_THAT(codes(score(rubric, attempt)), ElementsAre(Code::BelowPercent));
}

TEST(ScorerResult, MustPassStepNeedsOwnFullCredit) {
    Step must = makeStep("must");
    must.mustPass = true;
    Step big = makeStep("big");
    big.weight = 99;
    const Rubric rubric = makeRubric({must, big});
    const auto failsFor = [&](AttemptBuilder attempt, StepOutcome outcome) {
        const Scorecard card = score(rubric, attempt.whole(big).end());
        EXPECT_EQ(outcomeOf(card, "must"), outcome);
        EXPECT_EQ(card.result, AttemptResult::Fail);
        EXPECT_THAT(card.reasons, ElementsAre(Reason{Code::MustPass, "must", {}}));
    };
    failsFor(AttemptBuilder(rubric), StepOutcome::Omitted);
    failsFor(AttemptBuilder(rubric).show("must"), StepOutcome::Partial);
    failsFor(AttemptBuilder(rubric).mark(EventKind::Prompt, "must").whole(must), StepOutcome::Prompted);
    failsFor(AttemptBuilder(rubric).whole(must).mark(EventKind::Wrong, "must"), StepOutcome::Wrong);
    EXPECT_EQ(score(rubric, AttemptBuilder(rubric).whole(must).whole(big).end()).result, AttemptResult::Pass);
}

TEST(ScorerResult, UnseenMustPassStepIsIncomplete) {
    Step must = makeStep("must");
    must.mustPass = true;
    const Step other = makeStep("other");
    const Rubric rubric = makeRubric({must, other});
    for (EventKind kind : {EventKind::Unseen, EventKind::Unreached}) {
        const Scorecard card = score(rubric, AttemptBuilder(rubric).mark(kind, "must").whole(other).end());
        EXPECT_EQ(card.result, AttemptResult::Incomplete);
        EXPECT_THAT(card.reasons, ElementsAre(Reason{Code::Unseen, "must", {}}));
    }
}

TEST(ScorerResult, UnseenOrdinaryStepDoesNotMatter) {
    const Rubric rubric = makeRubric({makeStep("a"), makeStep("b")});
    const Scorecard card =
        score(rubric, AttemptBuilder(rubric).whole(makeStep("a")).mark(EventKind::Unseen, "b").end());
    EXPECT_EQ(card.result, AttemptResult::Pass);
    EXPECT_THAT(card.reasons, IsEmpty());
}

TEST(ScorerResult, UnfinishedIsIncompleteUnlessItFailsAnyway) {
    const Rubric rubric = makeRubric({makeStep("a")});
    const Scorecard good = score(rubric, AttemptBuilder(rubric).whole(makeStep("a")));
    EXPECT_EQ(good.result, AttemptResult::Incomplete);
    EXPECT_THAT(codes(good), ElementsAre(Code::Unfinished));
    const Scorecard bad = score(rubric, AttemptBuilder(rubric).show("a"));
    EXPECT_EQ(bad.result, AttemptResult::Fail);
    EXPECT_THAT(codes(bad), ElementsAre(Code::BelowPercent, Code::Unfinished));
}

TEST(ScorerResult, OnlyARuleThatIsStrictAndMustPassFails) {
    const std::vector<Step> steps{makeStep("a"), makeStep("b")};
    Rubric rubric = makeRubric(steps);
    rubric.order = {chainRule("line", {"a", "b"})};
    AttemptBuilder attempt(rubric);
    attempt.whole(steps[1]).whole(steps[0]).end();
    for (const bool strict : {false, true})
        for (const bool mustPass : {false, true}) {
            rubric.order[0].strict = strict;
            rubric.order[0].mustPass = mustPass;
            const Scorecard card = score(rubric, attempt);
            EXPECT_THAT(card.brokenRules, ElementsAre("line"));
            if (strict && mustPass) {
                EXPECT_EQ(card.result, AttemptResult::Fail);
                EXPECT_THAT(card.reasons, ElementsAre(Reason{Code::StrictOrder, {}, "line"}));
            } else {
                EXPECT_EQ(card.result, AttemptResult::Pass);
                EXPECT_THAT(card.reasons, IsEmpty());
            }
        }
}

TEST(ScorerResult, OverTimeIsReportedAndFailsOnlyWhenTheRubricSaysSo) {
    const Step a = makeStep("a");
    Rubric rubric = makeRubric({a});
    rubric.pass.minutes = 1;
    const auto lasting = [&](double seconds) {
        return score(rubric, AttemptBuilder(rubric).whole(a).at(seconds).end());
    };
    EXPECT_THAT(codes(lasting(60)), IsEmpty()) << "exactly the allowance is not over it";
    EXPECT_EQ(lasting(60.5).result, AttemptResult::Pass);
    EXPECT_THAT(codes(lasting(60.5)), ElementsAre(Code::OverTime));
    rubric.pass.minutesFail = true;
    EXPECT_EQ(lasting(60.5).result, AttemptResult::Fail);
    EXPECT_EQ(lasting(60).result, AttemptResult::Pass);
}

// --- Rule 9: seconds ----------------------------------------------------------------------------------

double secondsOf(const AttemptBuilder& attempt, const Rubric& rubric) {
    return score(rubric, attempt).seconds;
}

TEST(ScorerSeconds, RunFromTheFirstEventToTheLastWithoutPauses) {
    const Rubric rubric = makeRubric({makeStep("a")});
    AttemptBuilder attempt(rubric);
    attempt.at(5).show("a").at(10).clock(EventKind::Pause).at(30).clock(EventKind::Resume);
    attempt.at(40).clock(EventKind::Pause).at(41).clock(EventKind::Resume).at(50).end();
    EXPECT_DOUBLE_EQ(secondsOf(attempt, rubric), 50 - 5 - 20 - 1);
}

TEST(ScorerSeconds, OpenPauseLastsToTheLastLine) {
    const Rubric rubric = makeRubric({makeStep("a")});
    AttemptBuilder attempt(rubric);
    attempt.at(0).show("a").at(10).clock(EventKind::Pause).at(25).end();
    EXPECT_DOUBLE_EQ(secondsOf(attempt, rubric), 10);
}

TEST(ScorerSeconds, RetractedEventsAndRetractsCount) {
    const Rubric rubric = makeRubric({makeStep("a")});
    AttemptBuilder attempt(rubric);
    attempt.at(2).show("a").at(20).show("a").at(30).retract(1);
    EXPECT_DOUBLE_EQ(secondsOf(attempt, rubric), 28);
}

TEST(ScorerSeconds, NoEventsTakeNoTime) {
    const Rubric rubric = makeRubric({makeStep("a")});
    const Scorecard card = score(rubric, AttemptBuilder(rubric));
    EXPECT_EQ(card.seconds, 0);
    EXPECT_EQ(outcomeOf(card, "a"), StepOutcome::Omitted);
}

}  // namespace
}  // namespace markerlamp::core
