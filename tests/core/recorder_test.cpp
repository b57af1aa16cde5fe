// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/attempt/recorder.h"

#include "core/scoring/scorecard.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

namespace markerlamp::core {
namespace {

Step makeStep(std::string id, int points, bool show = true) {
    Step step;
    step.id = id;
    step.title = id;
    if (show) step.show = "point at it";
    for (int i = 0; i < points; ++i) step.say.push_back({"p" + std::to_string(i + 1), "say it", {}, {}});
    step.sayNeeded = points;
    return step;
}

std::shared_ptr<const Rubric> smallRubric() {
    auto rubric = std::make_shared<Rubric>();
    rubric->id = "small";
    rubric->title = "Small";
    rubric->pass.percent = 80;
    rubric->limits.push_back(
        {"leak", std::nullopt, 3.0, "psi", false, "common practice, no published source"});
    Zone front{"front", "Front", {makeStep("a", 3), makeStep("b", 1), makeStep("c", 0), makeStep("d", 2)}};
    front.steps[1].reading = ReadingRule{"loss", "leak", {}, {}, {}, false, {}, false, 0};
    Zone rear{"rear", "Rear", {makeStep("e", 1), makeStep("f", 2, false)}};
    rubric->zones = {front, rear};
    rubric->order.push_back({"walk", {"a", "b", "c"}, {}, {}, false, false, {}});
    return rubric;
}

AttemptHeader header() {
    AttemptHeader h;
    h.id = "x";
    h.rubric = "small";
    h.zones = {"front", "rear"};
    h.started = "2026-03-02T06:10:00-05:00";
    return h;
}

Recorder fresh() {
    return Recorder::start(smallRubric(), header()).value();
}

StepOutcome outcomeOf(const Recorder& recorder, std::string_view step) {
    for (const StepScore& s : score(recorder.rubric(), recorder.attempt()).steps)
        if (s.step == step) return s.outcome;
    ADD_FAILURE() << "no such step";
    return StepOutcome::Omitted;
}

int positionOf(const Recorder& recorder, std::string_view step) {
    return recorder.marksOf(step)->position;
}

TEST(Recorder, BothShowsAndSaysEveryPointInOnePress) {
    Recorder r = fresh();
    const auto events = r.outcome("a", Outcome::Both, 1.5).value();
    ASSERT_EQ(events.size(), 4u);
    EXPECT_EQ(events[0].kind, EventKind::Show);
    EXPECT_EQ(events[3].point, "p3");
    for (const Event& e : events) EXPECT_EQ(e.t, 1.5);
    EXPECT_EQ(outcomeOf(r, "a"), StepOutcome::Satisfied);
}

TEST(Recorder, RescoringKeepsTheFirstTimeForTheOrder) {
    Recorder r = fresh();
    ASSERT_TRUE(r.outcome("a", Outcome::Both, 1));
    ASSERT_TRUE(r.outcome("b", Outcome::Both, 2));
    const int before = positionOf(r, "a");
    ASSERT_TRUE(r.outcome("a", Outcome::Partly, 3));
    EXPECT_EQ(positionOf(r, "a"), before);
    EXPECT_EQ(outcomeOf(r, "a"), StepOutcome::Partial);
    ASSERT_TRUE(r.outcome("a", Outcome::Both, 4));
    EXPECT_EQ(positionOf(r, "a"), before);
    EXPECT_EQ(outcomeOf(r, "a"), StepOutcome::Satisfied);
}

TEST(Recorder, OmittedTakesEarlierCreditAway) {
    Recorder r = fresh();
    ASSERT_TRUE(r.outcome("a", Outcome::Both, 1));
    ASSERT_TRUE(r.outcome("a", Outcome::Omitted, 2));
    EXPECT_EQ(outcomeOf(r, "a"), StepOutcome::Omitted);
    EXPECT_TRUE(r.marksOf("a")->omitted);
    ASSERT_TRUE(r.outcome("a", Outcome::Both, 3));
    EXPECT_FALSE(r.marksOf("a")->omitted);
    EXPECT_EQ(outcomeOf(r, "a"), StepOutcome::Satisfied);
}

TEST(Recorder, PromptedOutcomeIsNoOwnCredit) {
    Recorder r = fresh();
    ASSERT_TRUE(r.outcome("a", Outcome::Both, 1, true));
    EXPECT_EQ(outcomeOf(r, "a"), StepOutcome::Prompted);
    ASSERT_TRUE(r.outcome("c", Outcome::ShownOnly, 2));
    ASSERT_TRUE(r.outcome("c", Outcome::ShownOnly, 3, true));
    EXPECT_EQ(outcomeOf(r, "c"), StepOutcome::Prompted);
}

TEST(Recorder, PromptOnACompleteStepMakesItPrompted) {
    Recorder r = fresh();
    ASSERT_TRUE(r.outcome("a", Outcome::Both, 1));
    const int before = positionOf(r, "a");
    ASSERT_TRUE(r.prompt("a", 2));
    EXPECT_EQ(outcomeOf(r, "a"), StepOutcome::Prompted);
    EXPECT_EQ(positionOf(r, "a"), before);
}

TEST(Recorder, DigitsFlipPointsBothWays) {
    Recorder r = fresh();
    ASSERT_TRUE(r.outcome("a", Outcome::Partly, 1));
    ASSERT_TRUE(r.flipPoint("a", 1, 2));
    EXPECT_FALSE(r.marksOf("a")->partly);
    EXPECT_EQ(r.marksOf("a")->points[1], PointMark::Said);
    ASSERT_TRUE(r.flipPoint("a", 1, 3));
    EXPECT_EQ(r.marksOf("a")->points[1], PointMark::Open);
    ASSERT_TRUE(r.wrong("a", 1, {}, 4));
    EXPECT_EQ(r.marksOf("a")->points[1], PointMark::Wrong);
    EXPECT_EQ(outcomeOf(r, "a"), StepOutcome::Wrong);
    ASSERT_TRUE(r.flipPoint("a", 1, 5));
    EXPECT_EQ(r.marksOf("a")->points[1], PointMark::Open);
    EXPECT_FALSE(r.flipPoint("a", 3, 6));
}

TEST(Recorder, ShowKeepsWhatWasSaid) {
    Recorder r = fresh();
    ASSERT_TRUE(r.outcome("a", Outcome::SaidOnly, 1));
    ASSERT_TRUE(r.flipPoint("a", 1, 2));
    const auto events = r.show("a", 3).value();
    ASSERT_EQ(events.size(), 1u);
    EXPECT_EQ(events[0].kind, EventKind::Show);
    EXPECT_EQ(r.marksOf("a")->points, (std::vector{PointMark::Said, PointMark::Open, PointMark::Said}));
    EXPECT_TRUE(r.show("a", 4)->empty());
    EXPECT_EQ(r.show("f", 5).error().kind, ErrorKind::Refused);
    ASSERT_TRUE(r.undo(6));
    EXPECT_FALSE(r.marksOf("a")->shown);
}

TEST(Recorder, SlideMovesTheMarksToAnOpenStep) {
    Recorder r = fresh();
    ASSERT_TRUE(r.outcome("a", Outcome::Both, 1));
    ASSERT_TRUE(r.slide("a", "d", 2));
    EXPECT_TRUE(r.marksOf("a")->open());
    EXPECT_EQ(outcomeOf(r, "d"), StepOutcome::Satisfied);
    ASSERT_TRUE(r.outcome("a", Outcome::ShownOnly, 3));
    EXPECT_FALSE(r.slide("a", "d", 4)) << "the target already has an outcome";
}

TEST(Recorder, ReadingInAnotherUnitIsRefused) {
    Recorder r = fresh();
    EXPECT_FALSE(r.reading("b", 20, "kPa", 1));
    EXPECT_FALSE(r.reading("a", 2, "psi", 1));
    EXPECT_TRUE(r.attempt().events.empty());
    ASSERT_TRUE(r.reading("b", 2, "psi", 1));
    EXPECT_EQ(r.marksOf("b")->reading, 2.0);
}

TEST(Recorder, UndoAndRedoWalkTheWholeWay) {
    Recorder r = fresh();
    std::vector<std::vector<StepMarks>> states{r.marks()};
    const auto press = [&](auto result) {
        ASSERT_TRUE(result);
        states.push_back(r.marks());
    };
    press(r.outcome("a", Outcome::Both, 1));
    press(r.flipPoint("a", 2, 2));
    press(r.outcome("b", Outcome::Partly, 3));
    press(r.outcome("e", Outcome::NotObserved, 4));
    const auto same = [](std::vector<StepMarks> a, std::vector<StepMarks> b) {
        for (auto* list : {&a, &b})
            for (StepMarks& m : *list) m.position = m.position > 0 ? 1 : 0, m.firstSeconds = 0;
        return a == b;
    };
    for (std::size_t i = states.size() - 1; i-- > 0;) {
        ASSERT_TRUE(r.canUndo());
        ASSERT_TRUE(r.undo(10));
        EXPECT_TRUE(same(r.marks(), states[i])) << i;
    }
    EXPECT_FALSE(r.canUndo());
    for (std::size_t i = 1; i < states.size(); ++i) {
        ASSERT_TRUE(r.canRedo());
        ASSERT_TRUE(r.redo(20));
        EXPECT_TRUE(same(r.marks(), states[i])) << i;
    }
    EXPECT_FALSE(r.canRedo());
}

TEST(Recorder, FinishSettlesDarkStepsAndClosesTheAttempt) {
    Recorder r = fresh();
    ASSERT_TRUE(r.outcome("a", Outcome::Both, 1));
    ASSERT_TRUE(r.outcome("d", Outcome::Both, 100));
    const auto proposals = r.proposeSettling(true);
    ASSERT_EQ(proposals.size(), 4u);
    EXPECT_EQ(proposals[0].step, "b");
    EXPECT_EQ(proposals[0].outcome, Outcome::Omitted);
    EXPECT_EQ(proposals[2].step, "e");
    EXPECT_EQ(proposals[2].outcome, Outcome::NotReached);
    EXPECT_EQ(proposals[2].why, SettleProposal::Why::ZoneNeverEntered);
    ASSERT_TRUE(r.finish(proposals, 120));
    EXPECT_TRUE(r.ended());
    EXPECT_FALSE(r.outcome("b", Outcome::Both, 121)) << "no change without who and when";
    r.amendAs("i-1", "2026-03-02T09:00:00-05:00");
    const auto events = r.outcome("b", Outcome::Both, 500).value();
    EXPECT_EQ(events.front().t, 120);
    EXPECT_EQ(events.front().by, "i-1");
    EXPECT_TRUE(r.marksOf("b")->amended);
}

TEST(Recorder, ProposesNotObservedInsideAPauseAndAsksAboutASlide) {
    Recorder r = fresh();
    ASSERT_TRUE(r.outcome("a", Outcome::Both, 1));
    ASSERT_TRUE(r.pause(10));
    EXPECT_FALSE(r.pause(11));
    ASSERT_TRUE(r.resumeClock(60));
    ASSERT_TRUE(r.outcome("c", Outcome::ShownOnly, 70));
    ASSERT_TRUE(r.outcome("e", Outcome::Both, 80));
    const auto proposals = r.proposeSettling(false);
    EXPECT_EQ(proposals[0].step, "b");
    EXPECT_EQ(proposals[0].why, SettleProposal::Why::InsidePause);
    EXPECT_EQ(proposals[0].outcome, Outcome::NotObserved);
    EXPECT_EQ(r.paused(), false);
}

TEST(Recorder, ResumesWhereItStoppedAndCanStillUndo) {
    Recorder r = fresh();
    ASSERT_TRUE(r.outcome("a", Outcome::Both, 1));
    ASSERT_TRUE(r.outcome("b", Outcome::Both, 2));
    Recorder again = Recorder::resume(r.rubricPtr(), r.attempt()).value();
    EXPECT_EQ(again.marks(), r.marks());
    ASSERT_TRUE(again.undo(3));
    EXPECT_TRUE(again.marksOf("b")->open());
    EXPECT_FALSE(again.marksOf("a")->open());
}

TEST(Recorder, NextOpenGoesOnInRubricOrderAndThenFromTheStart) {
    Recorder r = fresh();
    ASSERT_TRUE(r.outcome("d", Outcome::Both, 1));
    EXPECT_EQ(r.nextOpenAfter("d"), "e");
    ASSERT_TRUE(r.outcome("e", Outcome::Both, 2));
    ASSERT_TRUE(r.outcome("f", Outcome::SaidOnly, 3));
    EXPECT_EQ(r.nextOpenAfter("f"), "a");
}

// Whatever is pressed in whatever order, the events stay numbered, timed and consistent, and undoing all of
// it leaves every step dark.
RC_GTEST_PROP(Recorder, AnyRunOfPressesStaysSound, ()) {
    Recorder r = fresh();
    const std::vector<std::string> steps{"a", "b", "c", "d", "e", "f"};
    const int presses = *rc::gen::inRange(1, 30);
    double t = 0;
    for (int i = 0; i < presses; ++i) {
        t += *rc::gen::inRange(0, 5);
        const auto step = *rc::gen::elementOf(steps);
        switch (*rc::gen::inRange(0, 7)) {
            case 0:
            case 1:
                (void)r.outcome(step, static_cast<Outcome>(*rc::gen::inRange(0, 7)), t,
                                *rc::gen::arbitrary<bool>());
                break;
            case 2:
                (void)r.flipPoint(step, *rc::gen::inRange(0, 3), t);
                break;
            case 3:
                (void)r.wrong(step, *rc::gen::inRange(-1, 3), {}, t);
                break;
            case 4:
                (void)r.slide(step, *rc::gen::elementOf(steps), t);
                break;
            case 5:
                (void)r.undo(t);
                break;
            case 6:
                (void)r.redo(t);
                break;
        }
    }
    const auto& events = r.attempt().events;
    std::vector<int> taken;
    for (std::size_t i = 0; i < events.size(); ++i) {
        RC_ASSERT(events[i].n == static_cast<int>(i) + 1);
        if (i > 0) RC_ASSERT(events[i].t >= events[i - 1].t);
        if (events[i].kind == EventKind::Retract) {
            RC_ASSERT(events[i].retracts >= 1 && events[i].retracts < events[i].n);
            RC_ASSERT(events[static_cast<std::size_t>(events[i].retracts) - 1].kind != EventKind::Retract);
            RC_ASSERT(std::find(taken.begin(), taken.end(), events[i].retracts) == taken.end());
            taken.push_back(events[i].retracts);
        }
    }
    while (r.canUndo()) RC_ASSERT(r.undo(t).has_value());
    for (const StepMarks& marks : r.marks()) RC_ASSERT(marks.open());
}

}  // namespace
}  // namespace markerlamp::core
