// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The one-minute stopwatch and its verdicts. The limit is that of the model commercial driver manual, section
// 5.3: at most 3 psi in one minute with the brake applied, for a single vehicle.

#include "app/scoring/brake_minute.h"

#include "app/scoring/scoring_model.h"
#include "scoring_support.h"

#include <gtest/gtest.h>

#include <QSignalSpy>

namespace markerlamp {
namespace {

using app::BrakeMinute;
using app::Verdict;
using testing::KeptSink;
using testing::TurnedClock;

class BrakeMinuteTest : public ::testing::Test {
protected:
    void SetUp() override {
        auto made = app::ScoringModel::start(testing::smallRubric(), testing::smallHeader(), m_sink, m_clock);
        ASSERT_TRUE(made) << made.error().message;
        m_model = std::move(*made);
        m_minute = std::make_unique<BrakeMinute>(*m_model, m_clock);
        m_leak = m_minute->firstMinuteStep();
        ASSERT_EQ(m_model->step(m_leak).id, "leak");
    }
    void wait(double seconds) {
        for (double left = seconds; left > 0; left -= 0.25) {
            m_clock.pass(std::min(0.25, left));
            m_minute->tick();
        }
    }
    void fullMinute(double before) {
        m_minute->setBefore(m_leak, before);
        m_minute->startOrStop(m_leak);
        wait(60.25);
    }

    KeptSink m_sink;
    TurnedClock m_clock;
    std::unique_ptr<app::ScoringModel> m_model;
    std::unique_ptr<BrakeMinute> m_minute;
    int m_leak = -1;
};

TEST_F(BrakeMinuteTest, StopsItselfAfterAMinuteAndAsksForTheFigureAfter) {
    QSignalSpy over(m_minute.get(), &BrakeMinute::minuteOver);
    m_minute->setBefore(m_leak, 118);
    m_minute->startOrStop(m_leak);
    wait(43);
    EXPECT_TRUE(m_minute->running());
    EXPECT_EQ(m_minute->clockText(), QStringLiteral("0:43"));
    wait(17);
    EXPECT_FALSE(m_minute->running());
    EXPECT_EQ(over.count(), 1);
    EXPECT_TRUE(m_minute->waitsForAfter(m_leak));
    EXPECT_EQ(m_minute->clockText(), QStringLiteral("1:00"));
}

TEST_F(BrakeMinuteTest, TheDropBecomesTheReadingOfTheStep) {
    fullMinute(118);
    m_minute->setAfter(m_leak, 115.2);
    EXPECT_EQ(m_sink.lastPress(), "reading leak 2.800");
    EXPECT_EQ(m_minute->runVerdict(m_leak, 0), Verdict::TooClose);  // read to half a psi
    EXPECT_EQ(m_minute->before(m_leak), 118);
    // The next minute starts from what was read last.
    m_minute->startOrStop(m_leak);
    EXPECT_EQ(m_minute->before(m_leak), 115.2);
}

TEST_F(BrakeMinuteTest, AnEarlyStopIsKeptAsShortAndJudgesNothing) {
    m_minute->setBefore(m_leak, 118);
    m_minute->startOrStop(m_leak);
    wait(43);
    m_minute->startOrStop(m_leak);
    EXPECT_EQ(m_minute->runText(m_leak, 0), QStringLiteral("short: 43 s"));
    EXPECT_FALSE(m_minute->runVerdict(m_leak, 0));
    EXPECT_EQ(m_sink.events.back().kind, core::EventKind::Note);
    EXPECT_TRUE(QString::fromStdString(m_sink.events.back().text).startsWith(QLatin1String("short: 43 s")));
    m_minute->setAfter(m_leak, 100);
    EXPECT_EQ(m_sink.events.back().kind, core::EventKind::Note);  // no reading from a short run
}

TEST_F(BrakeMinuteTest, AMinuteThroughWhichTheComputerSleptIsNotTaken) {
    m_minute->setBefore(m_leak, 118);
    m_minute->startOrStop(m_leak);
    wait(20);
    QSignalSpy said(m_minute.get(), &BrakeMinute::said);
    m_clock.sleep(0.6);
    wait(1);
    EXPECT_FALSE(m_minute->running());
    ASSERT_FALSE(said.isEmpty());
    EXPECT_EQ(said.last().first().toString(), QStringLiteral("The computer slept - repeat the minute"));
    EXPECT_FALSE(m_minute->waitsForAfter(m_leak));
}

TEST_F(BrakeMinuteTest, ClocksThatPartByLessThanHalfASecondAreNoSleep) {
    m_minute->startOrStop(m_leak);
    m_clock.sleep(0.4);
    wait(60);
    EXPECT_TRUE(m_minute->waitsForAfter(m_leak));
}

TEST_F(BrakeMinuteTest, MoreAfterThanBeforeIsRefusedAndStoresNothing) {
    fullMinute(100);
    const std::size_t events = m_sink.events.size();
    m_minute->setAfter(m_leak, 101);
    EXPECT_EQ(m_sink.events.size(), events);
    EXPECT_TRUE(m_minute->waitsForAfter(m_leak));
}

TEST(Verdict, WordsTellWithinTooCloseAndOver) {
    core::Limit leak;
    leak.high = 3;
    leak.unit = "psi";
    EXPECT_EQ(app::verdictOf(2, leak, 0.5), Verdict::Within);
    EXPECT_EQ(app::verdictOf(2.5, leak, 0.5), Verdict::TooClose);
    EXPECT_EQ(app::verdictOf(3.5, leak, 0.5), Verdict::TooClose);
    EXPECT_EQ(app::verdictOf(4, leak, 0.5), Verdict::Over);
    // Without a tolerance figures are exact; the bound belongs to the limit unless it is exclusive.
    EXPECT_EQ(app::verdictOf(3, leak, 0), Verdict::Within);
    leak.exclusive = true;
    EXPECT_EQ(app::verdictOf(3, leak, 0), Verdict::Over);
    core::Limit spring;
    spring.low = 20;
    spring.high = 45;
    EXPECT_EQ(app::verdictOf(18, spring, 1), Verdict::Under);
    EXPECT_EQ(app::verdictOf(30, spring, 1), Verdict::Within);
    EXPECT_EQ(app::verdictOf(46, spring, 1), Verdict::TooClose);
}

}  // namespace
}  // namespace markerlamp
