// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What each press of the live page records, and where the marker goes.

#include "app/scoring/scoring_model.h"

#include "core/scoring/scorecard.h"
#include "scoring_support.h"

#include <gtest/gtest.h>

#include <QSignalSpy>

namespace markerlamp {
namespace {

using app::ScoringModel;
using core::Outcome;
using testing::KeptSink;
using testing::TurnedClock;

class ScoringModelTest : public ::testing::Test {
protected:
    void begin(core::AttemptHeader header = testing::smallHeader()) {
        auto made = ScoringModel::start(testing::smallRubric(), std::move(header), m_sink, m_clock);
        ASSERT_TRUE(made) << made.error().message;
        m_model = std::move(*made);
    }
    void SetUp() override { begin(); }
    ScoringModel& model() { return *m_model; }
    /// Two seconds later.
    void press(Outcome outcome) {
        m_clock.pass(2);
        model().outcome(outcome);
    }
    [[nodiscard]] std::string at(int index) { return index < 0 ? "none" : model().step(index).id; }

    KeptSink m_sink;
    TurnedClock m_clock;
    std::unique_ptr<ScoringModel> m_model;
};

TEST_F(ScoringModelTest, StartStoresTheHeaderAndPutsTheMarkerOnTheFirstStep) {
    EXPECT_EQ(m_sink.header.id, testing::smallHeader().id);
    EXPECT_TRUE(m_sink.events.empty());
    EXPECT_EQ(model().stepCount(), 11);  // the lift door is not on this bus
    EXPECT_EQ(at(model().marker()), "a");
    EXPECT_EQ(model().justScored(), -1);
}

TEST_F(ScoringModelTest, BothIsShowAndEveryPointAndTheMarkerGoesOn) {
    press(Outcome::Both);
    EXPECT_EQ(m_sink.words(), "show a; say a p1; say a p2; say a p3");
    EXPECT_EQ(at(model().justScored()), "a");
    EXPECT_EQ(at(model().marker()), "b");
    EXPECT_DOUBLE_EQ(m_sink.events.front().t, 2.0);
}

TEST_F(ScoringModelTest, EachOutcomePadRecordsItsOwnEvents) {
    press(Outcome::Partly);
    EXPECT_EQ(m_sink.lastPress(), "show a; partly a");
    press(Outcome::ShownOnly);
    EXPECT_EQ(m_sink.lastPress(), "show b");
    press(Outcome::SaidOnly);
    EXPECT_EQ(m_sink.lastPress(), "say c p1; say c p2");
    press(Outcome::Omitted);
    EXPECT_EQ(m_sink.lastPress(), "omit d");
    press(Outcome::NotObserved);
    EXPECT_EQ(m_sink.lastPress(), "unseen e");
    press(Outcome::Both);
    EXPECT_EQ(m_sink.lastPress(), "say f p1");  // there is nothing to show
    EXPECT_EQ(at(model().marker()), "g");
}

TEST_F(ScoringModelTest, DigitsFlipPointsOfTheStepJustScored) {
    press(Outcome::Both);
    model().flipPoint(2);
    EXPECT_EQ(m_sink.lastPress(), "retract 4");
    model().flipPoint(2);
    EXPECT_EQ(m_sink.lastPress(), "say a p3");
    EXPECT_EQ(at(model().marker()), "b");
    QSignalSpy refused(&model(), &ScoringModel::refused);
    model().flipPoint(3);
    EXPECT_EQ(refused.count(), 1);
}

TEST_F(ScoringModelTest, WrongNamesTheLastFlippedPointElseTheStepAsAWhole) {
    press(Outcome::Both);
    model().flipPoint(1);
    model().wrong();
    EXPECT_EQ(m_sink.lastPress(), "wrong a p2");
    EXPECT_EQ(model().marks(0).points[1], core::PointMark::Wrong);
    press(Outcome::Both);
    model().wrong();
    EXPECT_EQ(m_sink.lastPress(), "wrong b");
}

TEST_F(ScoringModelTest, TheArmedPromptCountsForTheNextOutcomeOnly) {
    model().armPrompt();
    EXPECT_TRUE(model().promptArmed());
    press(Outcome::Both);
    EXPECT_EQ(m_sink.lastPress(), "prompt a; show a; say a p1; say a p2; say a p3");
    EXPECT_FALSE(model().promptArmed());
    press(Outcome::Both);
    EXPECT_EQ(m_sink.lastPress(), "show b; say b p1; say b p2");
    model().armPrompt();
    model().armPrompt();
    EXPECT_FALSE(model().promptArmed());
}

TEST_F(ScoringModelTest, PromptOnTheStepJustScoredCreditsItAgainAfterTheHelp) {
    press(Outcome::Both);
    model().promptLast();
    EXPECT_EQ(model().marks(0).prompts, 1);
    const core::Scorecard card = core::score(*testing::smallRubric(), model().recorder().attempt());
    EXPECT_EQ(card.steps[0].outcome, core::StepOutcome::Prompted);
}

TEST_F(ScoringModelTest, LampsAreHalfTonedUntilThePressIsDurable) {
    m_sink.storesAtOnce = false;
    press(Outcome::Both);
    press(Outcome::Both);
    EXPECT_TRUE(model().pending(0));
    EXPECT_TRUE(model().sign(1).pending);
    EXPECT_FALSE(model().allStored());
    emit m_sink.stored(m_sink.ticket - 1);
    EXPECT_FALSE(model().pending(0));
    EXPECT_TRUE(model().pending(1));
    m_sink.store();
    EXPECT_FALSE(model().pending(1));
    EXPECT_TRUE(model().allStored());
}

TEST_F(ScoringModelTest, AFailedWriteIsToldAndNeverBlocksThePresses) {
    m_sink.storesAtOnce = false;
    press(Outcome::Both);
    m_sink.fail(QStringLiteral("the disk is full"), 1);
    EXPECT_EQ(model().troubleText(), QStringLiteral("the disk is full"));
    EXPECT_EQ(model().waiting(), 1);
    press(Outcome::Both);
    EXPECT_EQ(at(model().marker()), "c");
    m_sink.store();
    m_sink.fail({}, 0);
    EXPECT_TRUE(model().troubleText().isEmpty());
    EXPECT_FALSE(model().pending(1));
}

TEST_F(ScoringModelTest, ScoringAScoredStepAgainKeepsItsFirstTime) {
    press(Outcome::ShownOnly);
    press(Outcome::Both);
    model().goTo(0);
    press(Outcome::Both);
    EXPECT_EQ(m_sink.lastPress(), "say a p1; say a p2; say a p3");
    EXPECT_EQ(model().marks(0).position, 1);
    EXPECT_EQ(at(model().marker()), "c");
}

TEST_F(ScoringModelTest, ATileEndSetsOneLampAndLeavesTheOther) {
    model().showOn(2);
    EXPECT_EQ(m_sink.lastPress(), "show c");
    model().sayOn(2);
    EXPECT_EQ(m_sink.lastPress(), "say c p1; say c p2");
    EXPECT_TRUE(model().marks(2).shown);
    QSignalSpy refused(&model(), &ScoringModel::refused);
    model().showOn(2);
    EXPECT_EQ(refused.count(), 1);
    model().showOn(5);  // nothing to show
    EXPECT_EQ(refused.count(), 2);
}

TEST_F(ScoringModelTest, SlideMovesTheLastOutcomeToTheNextStep) {
    press(Outcome::Both);
    model().slide(1);
    EXPECT_TRUE(model().marks(0).open());
    EXPECT_TRUE(model().marks(1).shown);
    EXPECT_EQ(at(model().justScored()), "b");
    EXPECT_EQ(at(model().marker()), "c");
    // Every point was said: so it is of the other step, however many it has.
    EXPECT_EQ(model().marks(1).points, (std::vector{core::PointMark::Said, core::PointMark::Said}));
}

TEST_F(ScoringModelTest, SlideRepeatedTakesTheGrowingRun) {
    press(Outcome::Both);
    press(Outcome::ShownOnly);
    press(Outcome::Both);
    model().slide(1);  // c -> d
    model().slide(1);  // b -> c
    EXPECT_TRUE(model().marks(3).shown);
    EXPECT_TRUE(model().marks(2).shown);
    EXPECT_EQ(model().marks(2).points[0], core::PointMark::Open);
    EXPECT_TRUE(model().marks(1).open());
    EXPECT_TRUE(model().marks(0).shown);
    model().slide(1);  // a -> b
    EXPECT_TRUE(model().marks(0).open());
    QSignalSpy refused(&model(), &ScoringModel::refused);
    model().slide(1);
    EXPECT_EQ(refused.count(), 1);
    EXPECT_EQ(at(model().marker()), "e");
}

TEST_F(ScoringModelTest, SlideUpTakesTheRunThatHasRoom) {
    model().goTo(1);
    press(Outcome::Both);
    press(Outcome::ShownOnly);
    model().slide(-1);
    EXPECT_TRUE(model().marks(0).shown);
    EXPECT_TRUE(model().marks(1).shown);
    EXPECT_TRUE(model().marks(2).open());
    EXPECT_EQ(at(model().justScored()), "b");
}

TEST_F(ScoringModelTest, SlideStopsAtAStepThatHasAnOutcome) {
    model().goTo(1);
    press(Outcome::Omitted);
    model().goTo(0);
    press(Outcome::Both);
    QSignalSpy refused(&model(), &ScoringModel::refused);
    const std::size_t before = m_sink.events.size();
    model().slide(1);
    EXPECT_EQ(refused.count(), 1);
    EXPECT_EQ(m_sink.events.size(), before);
}

TEST_F(ScoringModelTest, UndoRetractsThePressAndBringsTheMarkerBack) {
    press(Outcome::Both);
    press(Outcome::Both);
    model().undo();
    EXPECT_TRUE(model().marks(1).open());
    EXPECT_EQ(at(model().marker()), "b");
    EXPECT_EQ(at(model().justScored()), "a");
    model().redo();
    EXPECT_TRUE(model().marks(1).shown);
    EXPECT_EQ(at(model().marker()), "c");
    model().undo();
    model().undo();
    EXPECT_EQ(at(model().marker()), "a");
    QSignalSpy refused(&model(), &ScoringModel::refused);
    model().undo();
    EXPECT_EQ(refused.count(), 1);
}

TEST_F(ScoringModelTest, OneUndoTakesBackAWholeSlide) {
    press(Outcome::Both);
    model().slide(1);
    model().undo();
    EXPECT_TRUE(model().marks(0).shown);
    EXPECT_TRUE(model().marks(1).open());
}

TEST_F(ScoringModelTest, ZoneKeysOpenZonesAndAgainTheNextDarkStepThere) {
    model().goToZone(1);
    EXPECT_EQ(at(model().marker()), "g");
    model().goToZone(1);
    EXPECT_EQ(at(model().marker()), "i");
    model().goToZone(1);
    EXPECT_EQ(at(model().marker()), "g");
    model().goToZone(2);
    EXPECT_EQ(model().currentZone(), 2);
    EXPECT_EQ(at(model().marker()), "chocks");
}

TEST_F(ScoringModelTest, AfterTheLastStepOfAZoneTheNextZoneWithOpenStepsFollows) {
    model().goTo(7);
    press(Outcome::Both);
    EXPECT_EQ(at(model().marker()), "chocks");
    model().goTo(10);
    press(Outcome::Both);
    EXPECT_EQ(at(model().marker()), "a");
}

TEST_F(ScoringModelTest, DarkStepsLeftBehindAreCounted) {
    model().goTo(3);
    press(Outcome::Both);
    EXPECT_EQ(model().darkBehindIn(0), 3);
    model().firstDark();
    EXPECT_EQ(at(model().marker()), "a");
}

TEST_F(ScoringModelTest, PausesKeepTheClockStill) {
    m_clock.pass(10);
    model().pauseOrGoOn();
    EXPECT_TRUE(model().paused());
    m_clock.pass(100);
    EXPECT_DOUBLE_EQ(model().runningSeconds(), 10);
    model().pauseOrGoOn();
    m_clock.pass(5);
    EXPECT_DOUBLE_EQ(model().runningSeconds(), 15);
    EXPECT_EQ(m_sink.words(), "pause; resume");
}

TEST_F(ScoringModelTest, ReadingsNotesAndDefectsAreRecorded) {
    EXPECT_TRUE(model().reading(9, 2.5));
    EXPECT_EQ(m_sink.lastPress(), "reading leak 2.500");
    EXPECT_EQ(m_sink.events.back().unit, "psi");
    EXPECT_FALSE(model().reading(0, 3));
    model().note(QStringLiteral("  slow start "), -1);
    EXPECT_EQ(m_sink.events.back().text, "slow start");
    model().fault(QStringLiteral("flat tire"), 0);
    EXPECT_EQ(m_sink.lastPress(), "fault a");
    EXPECT_TRUE(model().marks(0).fault);
}

TEST_F(ScoringModelTest, ResumeTakesTheTimeBetweenAsAPause) {
    press(Outcome::Both);
    m_clock.pass(1);
    const core::Attempt stored = model().recorder().attempt();
    m_model.reset();
    KeptSink sink;
    TurnedClock clock;
    clock.setWallTime(app::ScoringModel::start(testing::smallRubric(), testing::smallHeader(), sink, clock)
                          .value()
                          ->wallTimeAt(600));
    auto resumed = ScoringModel::resume(testing::smallRubric(), stored, sink, clock);
    ASSERT_TRUE(resumed) << resumed.error().message;
    EXPECT_EQ(sink.words(), "pause; resume");
    EXPECT_DOUBLE_EQ(sink.events[0].t, 2);
    EXPECT_DOUBLE_EQ(sink.events[1].t, 600);
    EXPECT_DOUBLE_EQ((*resumed)->runningSeconds(), 2);
    EXPECT_TRUE((*resumed)->marks(0).shown);
    EXPECT_EQ((*resumed)->marker(), 1);
}

TEST_F(ScoringModelTest, ATimeOfDayThatIsSetBackMovesNoEventBack) {
    press(Outcome::Both);
    m_clock.pass(1);
    m_clock.setWallTime(m_clock.wallTime().addDays(-3));
    model().note(QStringLiteral("the clock was set"), -1);
    m_clock.pass(1);
    m_clock.setWallTime(m_clock.wallTime().addDays(9));
    model().note(QStringLiteral("and set again"), -1);
    for (std::size_t i = 1; i < m_sink.events.size(); ++i)
        EXPECT_GE(m_sink.events[i].t, m_sink.events[i - 1].t);
    EXPECT_DOUBLE_EQ(m_sink.events.back().t - m_sink.events.front().t, 2) << "by the steady clock alone";
    // Resumed by a clock that stands before the start: it is not believed.
    const core::Attempt stored = model().recorder().attempt();
    const double last = stored.events.back().t;
    m_model.reset();
    KeptSink sink;
    TurnedClock clock;
    clock.setWallTime(clock.wallTime().addYears(-1));
    auto resumed = ScoringModel::resume(testing::smallRubric(), stored, sink, clock);
    ASSERT_TRUE(resumed) << resumed.error().message;
    clock.pass(2);
    (*resumed)->note(QStringLiteral("goes on"), -1);
    EXPECT_DOUBLE_EQ(sink.events.front().t, last);
    EXPECT_DOUBLE_EQ(sink.events.back().t, last + 2);
}

TEST_F(ScoringModelTest, AnAttemptWithoutStepsOnThisBusIsRefused) {
    core::AttemptHeader header = testing::smallHeader();
    header.zones = {"no-such-zone"};
    EXPECT_FALSE(ScoringModel::start(testing::smallRubric(), header, m_sink, m_clock));
}

}  // namespace
}  // namespace markerlamp
