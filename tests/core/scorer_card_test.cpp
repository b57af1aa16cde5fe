// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The scoring rules of the whole card (6 to 9: sums, order, result, seconds) one by one, with cases worked by
// hand; those of one step are in scorer_test.

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
using Code = Reason::Code;

std::vector<Code> codes(const Scorecard& card) {
    std::vector<Code> all;
    for (const Reason& reason : card.reasons) all.push_back(reason.code);
    return all;
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
