// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What is proposed for steps that are dark at the end, and how it is changed.

#include "app/scoring/settle_model.h"

#include "app/scoring/scoring_model.h"
#include "scoring_support.h"

#include <gtest/gtest.h>

namespace markerlamp {
namespace {

using app::SettleModel;
using core::Outcome;
using testing::KeptSink;
using testing::TurnedClock;

class SettleModelTest : public ::testing::Test {
protected:
    void SetUp() override {
        auto made = app::ScoringModel::start(testing::smallRubric(), testing::smallHeader(), m_sink, m_clock);
        ASSERT_TRUE(made) << made.error().message;
        m_model = std::move(*made);
        // a, c, d and f are done one after the other; b is passed over; e lies in a pause.
        m_model->goTo(0);
        press();
        m_model->goTo(2);
        press();
        press();
        m_clock.pass(1);
        m_model->pause();
        m_clock.pass(60);
        m_model->pauseOrGoOn();
        m_model->goTo(5);
        press();
    }
    void press() {
        m_clock.pass(10);
        m_model->outcome(Outcome::Both);
    }

    KeptSink m_sink;
    TurnedClock m_clock;
    std::unique_ptr<app::ScoringModel> m_model;
};

TEST_F(SettleModelTest, ProposalsNameTheirReason) {
    SettleModel settle(*m_model);
    ASSERT_EQ(settle.rows().size(), 4u);
    EXPECT_EQ(settle.rows()[0].outcome, Outcome::Omitted);
    EXPECT_TRUE(settle.rows()[0].why.contains(QLatin1String("1 and 3")))
        << settle.rows()[0].why.toStdString();
    EXPECT_EQ(settle.rows()[1].outcome, Outcome::NotObserved);
    EXPECT_TRUE(settle.rows()[1].why.contains(QLatin1String("pause")));
    // Nobody came to the rear and to the brakes: one row each, not the trainee's fault.
    EXPECT_TRUE(settle.rows()[2].wholeZone());
    EXPECT_EQ(settle.rows()[2].steps.size(), 2u);
    EXPECT_EQ(settle.rows()[3].outcome, Outcome::NotReached);
    EXPECT_EQ(settle.darkSteps(), 7);
    EXPECT_EQ(settle.count(Outcome::NotReached), 5);
}

TEST_F(SettleModelTest, AcceptingEndsTheAttemptInOnePress) {
    SettleModel settle(*m_model);
    settle.set(3, Outcome::Omitted);
    ASSERT_TRUE(settle.accept());
    EXPECT_EQ(m_sink.lastPress(),
              "omit b; unseen e; unreached g; unreached i; omit chocks; omit leak; omit spring; end");
    EXPECT_TRUE(m_model->ended());
}

TEST_F(SettleModelTest, AZoneChangesAsAWholeAndUndoBringsItBack) {
    SettleModel settle(*m_model);
    settle.setZone(0, Outcome::NotObserved);
    EXPECT_EQ(settle.rows()[0].outcome, Outcome::NotObserved);
    EXPECT_TRUE(settle.undo());
    EXPECT_EQ(settle.rows()[0].outcome, Outcome::Omitted);
    EXPECT_FALSE(settle.undo());
}

TEST_F(SettleModelTest, AStepThatWasDoneIsScoredAndItsRowGoes) {
    SettleModel settle(*m_model);
    settle.didIt(0);
    EXPECT_EQ(m_sink.lastPress(), "show b; say b p1; say b p2");
    EXPECT_EQ(settle.rows().size(), 3u);
    EXPECT_TRUE(settle.undo());
    EXPECT_EQ(settle.rows().size(), 4u);
    EXPECT_TRUE(m_model->marks(1).open());
}

TEST_F(SettleModelTest, StepsBesideThePlanOfADrillAreNoEvidence) {
    // b was passed over on purpose: the drill left it out. e lies in a pause, g and i in a zone never
    // entered.
    SettleModel settle(*m_model, {"b", "e", "g"});
    ASSERT_EQ(settle.rows().size(), 4u);
    EXPECT_EQ(settle.rows()[0].outcome, Outcome::NotObserved);
    EXPECT_TRUE(settle.rows()[0].why.contains(QLatin1String("plan"))) << settle.rows()[0].why.toStdString();
    EXPECT_TRUE(settle.rows()[1].why.contains(QLatin1String("pause"))) << "it has a reason of its own";
    EXPECT_EQ(settle.rows()[2].outcome, Outcome::NotReached) << "a zone nobody came to is no evidence anyway";
    settle.set(0, Outcome::Omitted);
    EXPECT_EQ(settle.rows()[0].outcome, Outcome::Omitted) << "it is a proposal; the instructor decides";
    settle.undo();
    ASSERT_TRUE(settle.accept());
    EXPECT_EQ(m_sink.lastPress().substr(0, 9), "unseen b;");
}

}  // namespace
}  // namespace markerlamp
