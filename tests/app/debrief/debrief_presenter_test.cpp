// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What the debrief says, without a window: counts, what to say next time and in which order, the plan.

#include "app/debrief/debrief_presenter.h"

#include "app/support/display.h"
#include "scored_attempts.h"

#include <gtest/gtest.h>

namespace markerlamp::testing {
namespace {

using app::Debrief;
using core::Outcome;
using core::StepOutcome;

Debrief debriefOf(const std::vector<core::ScoredAttempt>& history) {
    return app::makeDebrief(history, {QStringLiteral("Nell Invented"), QStringLiteral("Greta Invented"),
                                      QStringLiteral("Bus 14")});
}

std::vector<std::string> missedSteps(const Debrief& debrief) {
    std::vector<std::string> steps;
    for (const app::MissedLine& line : debrief.missed) steps.push_back(line.say.step);
    return steps;
}

int count(const Debrief& debrief, const char* words) {
    for (const app::CountFact& fact : debrief.counts)
        if (fact.words == QLatin1String(words)) return fact.count;
    ADD_FAILURE() << "no count " << words;
    return -1;
}

TEST(DebriefPresenter, CountsWhatHappened) {
    // By hand: 11 steps in scope (h wants a lift). All but f have something to show, all but e points.
    core::Recorder recorder = beginSmall("one", "2026-03-02T06:10:00-05:00");
    ASSERT_TRUE(recorder.outcome("a", Outcome::Both, 1));
    ASSERT_TRUE(recorder.outcome("b", Outcome::Both, 2, true));  // with help
    ASSERT_TRUE(recorder.outcome("c", Outcome::ShownOnly, 3));   // shown, not explained
    ASSERT_TRUE(recorder.outcome("d", Outcome::Omitted, 4));
    ASSERT_TRUE(recorder.outcome("e", Outcome::Both, 5));
    ASSERT_TRUE(recorder.outcome("f", Outcome::Both, 6));
    ASSERT_TRUE(recorder.outcome("g", Outcome::NotObserved, 7));
    ASSERT_TRUE(recorder.outcome("i", Outcome::SaidOnly, 8));
    ASSERT_TRUE(recorder.outcome("chocks", Outcome::Both, 9));
    ASSERT_TRUE(recorder.outcome("leak", Outcome::Both, 10));
    ASSERT_TRUE(recorder.reading("leak", 4, "psi", 11));  // over 3 psi, not called out: wrong
    ASSERT_TRUE(recorder.outcome("spring", Outcome::NotReached, 12));
    ASSERT_TRUE(recorder.finish({}, 13));
    const Debrief debrief = debriefOf({scoredNow(recorder)});

    EXPECT_EQ(count(debrief, "of 8 shown"), 5) << "a, c, e, chocks, leak; b only with help";
    EXPECT_EQ(count(debrief, "of 8 explained"), 5) << "a, f, i, chocks, leak; b only with help";
    EXPECT_EQ(count(debrief, "omitted"), 1);
    EXPECT_EQ(count(debrief, "wrong"), 1);
    EXPECT_EQ(count(debrief, "with help"), 1);
    EXPECT_EQ(count(debrief, "out of place"), 0);
    EXPECT_EQ(count(debrief, "not observed"), 1);
    EXPECT_EQ(count(debrief, "not reached"), 1);
    // Satisfied: a, e, f, chocks of the 9 that were observed, weight 1 each.
    EXPECT_EQ(debrief.resultLine.toStdString(), "44 % satisfied (4 of 9), pass mark 80 %");
    EXPECT_EQ(debrief.reasons.toStdString(), "must pass: Rims; Applied leakage");
}

TEST(DebriefPresenter, RanksMustPassThenRepeatedThenWeightThenWalkOrder) {
    // d is missed in all three, c in the last two, a and i now only; b must pass and is missed now only.
    const auto history = std::vector{
        smallAttempt("one", "2026-03-02T06:10:00-05:00", {{"d", Outcome::Omitted}}),
        smallAttempt("two", "2026-03-04T06:10:00-05:00", {{"d", Outcome::Partly}, {"c", Outcome::Omitted}}),
        smallAttempt("three", "2026-03-09T06:10:00-05:00",
                     {{"i", Outcome::Omitted},
                      {"d", Outcome::ShownOnly},
                      {"c", Outcome::Omitted},
                      {"b", Outcome::Partly},
                      {"a", Outcome::SaidOnly}})};
    const Debrief debrief = debriefOf(history);
    EXPECT_EQ(missedSteps(debrief), (std::vector<std::string>{"b", "d", "c", "a", "i"}));
    EXPECT_EQ(debrief.missed[1].say.missedRecent, 3);
    EXPECT_EQ(debrief.missed[1].say.seenRecent, 3);
    EXPECT_EQ(debrief.missed[1].say.recent,
              (std::vector{StepOutcome::Omitted, StepOutcome::Partial, StepOutcome::Partial}));
    for (int i = 0; i < 5; ++i) EXPECT_EQ(debrief.missed[static_cast<std::size_t>(i)].rank, i + 1);
    EXPECT_EQ(debrief.number, 3);
}

TEST(DebriefPresenter, TellsWhatToShowAndSay) {
    const Debrief debrief = debriefOf({smallAttempt("one", "2026-03-02T06:10:00-05:00",
                                                    {{"a", Outcome::SaidOnly},
                                                     {"c", Outcome::Omitted},
                                                     {"leak", Outcome::ShownOnly},
                                                     {"e", Outcome::Omitted}})});
    std::map<std::string, app::MissedLine> lines;
    for (const app::MissedLine& line : debrief.missed) lines[line.say.step] = line;
    EXPECT_EQ(lines["a"].sentence.toStdString(), "Show: Point.");
    EXPECT_EQ(lines["a"].lampWords.toStdString(), "not shown, 3 of 3 points said");
    EXPECT_EQ(lines["c"].sentence.toStdString(), "Show it, and say “all there; tight.”");
    EXPECT_EQ(lines["c"].lampWords.toStdString(), "omitted");
    EXPECT_EQ(lines["leak"].sentence.toStdString(), "“full minute; at most <b>3 psi</b>.”")
        << "numbers stand out";
    EXPECT_EQ(lines["leak"].missing.toStdString(), "full minute; at most 3 psi");
    EXPECT_EQ(lines["e"].sentence.toStdString(), "Show: Sound.");
}

TEST(DebriefPresenter, WhatWasDoneWithHelpIsToBeTheSameWithoutIt) {
    core::Recorder recorder = beginSmall("one", "2026-03-02T06:10:00-05:00");
    ASSERT_TRUE(recorder.outcome("c", Outcome::Both, 1, true));
    ASSERT_TRUE(recorder.finish({}, 9));
    for (const app::MissedLine& line : debriefOf({scoredNow(recorder)}).missed)
        if (line.say.step == "c") {
            EXPECT_TRUE(line.sentence.contains(QStringLiteral("without"))) << line.sentence.toStdString();
            EXPECT_FALSE(line.sentence.contains(QStringLiteral("Show"))) << line.sentence.toStdString();
            return;
        }
    FAIL() << "c is not among the missed";
}

TEST(DebriefPresenter, PlanCountsEachZone) {
    const Debrief debrief = debriefOf(
        {smallAttempt("one", "2026-03-02T06:10:00-05:00",
                      {{"a", Outcome::Omitted}, {"b", Outcome::Omitted}, {"g", Outcome::NotObserved}})});
    ASSERT_EQ(debrief.plan.size(), 3u);
    EXPECT_EQ(debrief.plan[0].satisfied, 4);
    EXPECT_EQ(debrief.plan[0].observed, 6);
    EXPECT_TRUE(debrief.plan[0].weak) << "67 % is under the mark of 80 %";
    EXPECT_EQ(debrief.plan[1].satisfied, 1);
    EXPECT_EQ(debrief.plan[1].observed, 1) << "what was not observed does not count";
    EXPECT_FALSE(debrief.plan[1].weak);
    EXPECT_EQ(debrief.plan[2].observed, 3);
}

TEST(DebriefPresenter, OrderSaysWhatBelongsWhere) {
    // a is done after f: one step would have to move.
    core::Recorder recorder = beginSmall("one", "2026-03-02T06:10:00-05:00");
    double t = 0;
    for (const char* step : {"b", "c", "d", "e", "f", "a"})
        ASSERT_TRUE(recorder.outcome(step, Outcome::Both, t += 3));
    ASSERT_TRUE(recorder.finish({}, t));
    const Debrief debrief = debriefOf({scoredNow(recorder)});
    EXPECT_EQ(debrief.order.displaced, 1);
    ASSERT_EQ(debrief.order.groups.size(), 1u);
    EXPECT_TRUE(debrief.order.groups[0].late);
    EXPECT_EQ(debrief.order.groups[0].sentence.toStdString(),
              "Tire tread depth belongs before Rims: the walk goes this way");
    ASSERT_EQ(debrief.order.ticks.size(), 6u);
    EXPECT_EQ(debrief.order.ticks.back().done, 5);
    EXPECT_EQ(debrief.order.ticks.back().belongs, 0);
}

TEST(DebriefPresenter, EachMissedStepHasItsOwnCaution) {
    const Debrief debrief =
        debriefOf({smallAttempt("one", "2026-03-02T06:10:00-05:00", {{"chocks", Outcome::Omitted}})});
    ASSERT_FALSE(debrief.missed.empty());
    for (const app::MissedLine& line : debrief.missed)
        EXPECT_EQ(line.caution.toStdString(), line.say.step == "chocks" ? "Wheels chocked" : "");
}

}  // namespace
}  // namespace markerlamp::testing
