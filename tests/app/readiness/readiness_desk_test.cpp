// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The desk over a real program file with a clock that the test turns.

#include "app/readiness/readiness_desk.h"

#include "app/shell/session.h"
#include "app/support/display.h"
#include "readiness_support.h"

#include <gtest/gtest.h>

#include <QSignalSpy>
#include <QTemporaryDir>

#include <mutex>

namespace markerlamp {
namespace {

using app::ReadinessDesk;
using State = app::ReadinessStanding::State;
using core::ReadinessWord;
using testing::eventually;

class ReadinessDeskTest : public ::testing::Test {
protected:
    void SetUp() override {
        auto made = app::Session::create(m_dir.filePath(QStringLiteral("small.markerlamp")), false);
        ASSERT_TRUE(made) << made.error().message;
        m_session = std::move(*made);
        ASSERT_TRUE(file().addRubric(testing::kSmallRubric, "small"));
        for (const char* key : {"t-1", "t-2"}) {
            core::Trainee trainee;
            trainee.key = key;
            trainee.name = std::string("Trainee ") + key;
            ASSERT_TRUE(file().saveTrainee(trainee));
        }
        core::Instructor instructor;
        instructor.key = "i-1";
        instructor.name = "K. Invented";
        ASSERT_TRUE(file().saveInstructor(instructor));
        makeDesk();
    }
    void makeDesk() {
        m_desk =
            std::make_unique<ReadinessDesk>(*m_session, testing::opener(m_script), [this] { return m_now; });
    }
    db::ProgramFile& file() { return m_session->file(); }
    static QString one() { return QStringLiteral("t-1"); }
    static QString two() { return QStringLiteral("t-2"); }
    State state(const QString& trainee) const { return m_desk->of(trainee).state; }
    bool isKnown(const QString& trainee) {
        return eventually([&] { return state(trainee) == State::Known; });
    }
    /// An ended attempt of this trainee on the small rubric.
    QString attemptOf(const QString& trainee, const std::string& id) {
        core::Attempt attempt;
        attempt.header = header(trainee, id);
        core::Event end;
        end.n = 1;
        end.kind = core::EventKind::End;
        attempt.events = {end};
        const auto added = file().addAttempt(attempt);
        EXPECT_TRUE(added) << added.error().message;
        return app::qs(id);
    }
    core::AttemptHeader header(const QString& trainee, const std::string& id) {
        core::AttemptHeader header;
        header.id = id;
        header.rubric = "small";
        header.edition = 3;
        header.trainee = app::ss(trainee);
        header.instructor = "i-1";
        header.bus = "14";
        header.equipment = {"air-brakes"};
        const auto rubric = file().rubric("small", 3);
        for (const core::Zone& zone : (*rubric)->zones) header.zones.push_back(zone.id);
        header.started = app::isoMoment(m_now);
        return header;
    }

    QTemporaryDir m_dir;
    std::unique_ptr<app::Session> m_session;
    std::shared_ptr<testing::Script> m_script = std::make_shared<testing::Script>();
    QDateTime m_now = QDateTime::fromString(QStringLiteral("2026-03-12T06:50:00-05:00"), Qt::ISODate);
    std::unique_ptr<ReadinessDesk> m_desk;
};

const char* const kId1 = "11111111-0000-4000-8000-000000000001";
const char* const kId2 = "11111111-0000-4000-8000-000000000002";

TEST_F(ReadinessDeskTest, AnswersInTheBackgroundAndSaysHowFarItIs) {
    std::atomic<bool> goOn{false};
    m_script->answer = [&](const std::string& trainee, double now, bool, const auto& progress) {
        EXPECT_NE(QThread::currentThread(), qApp->thread());
        progress(0.5);
        while (!goOn) QThread::msleep(1);
        return core::Result<app::ReadinessAnswer>(testing::closeAnswer(trainee, now));
    };
    QSignalSpy progressed(m_desk.get(), &ReadinessDesk::progressed);
    m_desk->ask(one());
    EXPECT_EQ(state(one()), State::Computing);
    ASSERT_TRUE(eventually([&] { return progressed.count() > 0; }));
    EXPECT_GT(m_desk->of(one()).progress, 0.4);
    EXPECT_FALSE(m_desk->of(one()).known);
    goOn = true;
    ASSERT_TRUE(isKnown(one()));
    EXPECT_EQ(m_desk->of(one()).answer.readiness.word, ReadinessWord::Close);
    EXPECT_EQ(m_desk->of(one()).at, m_now);
    EXPECT_TRUE(m_desk->idle());
}

TEST_F(ReadinessDeskTest, WhatIsKnownIsNotWorkedOutAgainUntilItIsHoursOld) {
    m_desk->ask(one());
    ASSERT_TRUE(isKnown(one()));
    m_desk->ask(one());
    EXPECT_EQ(m_script->asked, 1);
    m_now = m_now.addSecs(7 * 3600);
    m_desk->ask(one());
    EXPECT_TRUE(eventually([&] { return m_script->asked == 2; }));
    EXPECT_EQ(m_script->opened, 1) << "the file has not changed";
}

TEST_F(ReadinessDeskTest, NothingRunsWhileAnAttemptIsScored) {
    std::atomic<bool> slow{true};
    m_script->answer = [&](const std::string& trainee, double now, bool, const auto& progress) {
        return slow ? testing::untilStopped(progress)
                    : core::Result<app::ReadinessAnswer>(testing::closeAnswer(trainee, now));
    };
    m_desk->ask(one());
    ASSERT_TRUE(eventually([&] { return m_script->asked == 1; }));
    m_desk->hold(true);
    ASSERT_TRUE(eventually([&] { return state(one()) == State::Held; }));
    m_desk->ask(two());
    EXPECT_EQ(state(two()), State::Held);
    QTest::qWait(30);
    EXPECT_EQ(m_script->asked, 1) << "nothing is begun while it is held";
    slow = false;
    m_desk->hold(false);
    EXPECT_TRUE(isKnown(one()));
    EXPECT_TRUE(isKnown(two()));
}

TEST_F(ReadinessDeskTest, StoppingEndsItAndAskingBeginsAgain) {
    std::atomic<bool> slow{true};
    m_script->answer = [&](const std::string& trainee, double now, bool, const auto& progress) {
        return slow ? testing::untilStopped(progress)
                    : core::Result<app::ReadinessAnswer>(testing::closeAnswer(trainee, now));
    };
    m_desk->ask(two());
    m_desk->ask(one());
    m_desk->stop();
    ASSERT_TRUE(eventually([&] { return state(two()) == State::Stopped; }));
    EXPECT_EQ(state(one()), State::Stopped);
    EXPECT_TRUE(m_desk->idle());
    slow = false;
    m_desk->ask(one());
    EXPECT_TRUE(isKnown(one()));
}

TEST_F(ReadinessDeskTest, AnAttemptMakesOnlyItsTraineeOld) {
    std::mutex mutex;
    std::vector<std::string> asked;
    m_script->answer = [&](const std::string& trainee, double now, bool, const auto&) {
        const std::lock_guard lock(mutex);
        asked.push_back(trainee);
        return core::Result<app::ReadinessAnswer>(testing::closeAnswer(trainee, now));
    };
    m_desk->askAll({one(), two()});
    ASSERT_TRUE(isKnown(one()));
    ASSERT_TRUE(isKnown(two()));
    m_session->noteAttemptChanged(attemptOf(one(), kId1));
    EXPECT_TRUE(m_desk->of(one()).old);
    EXPECT_FALSE(m_desk->of(two()).old);
    EXPECT_TRUE(m_desk->of(one()).known) << "the old figures stay in sight meanwhile";
    ASSERT_TRUE(eventually([&] { return state(one()) == State::Known && !m_desk->of(one()).old; }));
    EXPECT_EQ(asked, (std::vector<std::string>{"t-1", "t-2", "t-1"}));
    EXPECT_EQ(m_script->opened, 2) << "the file is read anew";
}

TEST_F(ReadinessDeskTest, AChangeDuringTheWorkIsNotLost) {
    std::atomic<int> turn{0};
    m_script->answer = [&](const std::string& trainee, double now, bool, const auto& progress) {
        return turn++ == 0 ? testing::untilStopped(progress)
                           : core::Result<app::ReadinessAnswer>(testing::closeAnswer(trainee, now));
    };
    m_desk->ask(one());
    ASSERT_TRUE(eventually([&] { return turn == 1; }));
    m_session->noteAttemptChanged(attemptOf(one(), kId1));
    ASSERT_TRUE(isKnown(one()));
    EXPECT_FALSE(m_desk->of(one()).old);
    EXPECT_EQ(turn, 2);
    EXPECT_EQ(m_script->opened, 2);
}

TEST_F(ReadinessDeskTest, AFileThatCannotBeReadIsToldToEverybodyWhoWaits) {
    m_script->open = [] {
        return core::Result<void>(core::fail(core::ErrorKind::Machine, "the disk is gone"));
    };
    m_desk->hold(true);
    m_desk->ask(two());
    m_desk->ask(one());
    m_desk->hold(false);
    ASSERT_TRUE(eventually([&] { return state(one()) == State::Failed && state(two()) == State::Failed; }));
    EXPECT_EQ(m_desk->of(two()).error.message, "the disk is gone");
    EXPECT_EQ(m_script->opened, 1);
}

TEST_F(ReadinessDeskTest, ClosingDoesNotWaitForTheWork) {
    m_script->answer = [&](const std::string&, double, bool, const auto& progress) {
        return testing::untilStopped(progress);
    };
    m_desk->ask(one());
    ASSERT_TRUE(eventually([&] { return m_script->asked == 1; }));
    m_desk.reset();  // would never come back if it did not stop what runs
    SUCCEED();
}

TEST_F(ReadinessDeskTest, AnOwnWordNeedsAReasonAndAName) {
    m_desk->ask(one());
    ASSERT_TRUE(isKnown(one()));
    const auto noReason =
        m_desk->setOverride(one(), ReadinessWord::Ready, QStringLiteral("  "), QStringLiteral("i-1"));
    ASSERT_FALSE(noReason);
    EXPECT_NE(noReason.error().message.find("reason"), std::string::npos);
    EXPECT_FALSE(m_desk->setOverride(one(), ReadinessWord::Ready, QStringLiteral("seen"), {}));
    EXPECT_TRUE(m_desk->overridesOf(one()).empty()) << "nothing is stored";
    EXPECT_EQ(m_desk->of(one()).answer.readiness.word, ReadinessWord::Close);
}

TEST_F(ReadinessDeskTest, AnOwnWordShowsAtOnceAndTheComputedOneStaysBesideIt) {
    m_desk->ask(one());
    ASSERT_TRUE(isKnown(one()));
    QSignalSpy changed(m_desk.get(), &ReadinessDesk::changed);
    ASSERT_TRUE(m_desk->setOverride(one(), ReadinessWord::Ready, QStringLiteral("two clean days"),
                                    QStringLiteral("i-1")));
    const core::Readiness& readiness = m_desk->of(one()).answer.readiness;
    EXPECT_EQ(changed.count(), 1);
    EXPECT_EQ(readiness.word, ReadinessWord::Ready);
    EXPECT_EQ(readiness.computed, ReadinessWord::Close);
    ASSERT_TRUE(readiness.override_);
    EXPECT_EQ(readiness.override_->reason, "two clean days");
    EXPECT_EQ(readiness.override_->at, "2026-03-12T06:50:00-05:00");
    EXPECT_NEAR(readiness.forecast.chance, 0.71, 1e-12) << "the figures are not touched";

    m_now = m_now.addSecs(60);
    ASSERT_TRUE(m_desk->withdrawOverride(one(), QStringLiteral("was another bus"), QStringLiteral("i-1")));
    EXPECT_EQ(m_desk->of(one()).answer.readiness.word, ReadinessWord::Close);
    EXPECT_EQ(m_desk->overridesOf(one()).size(), 2u) << "both entries stay on file";
    EXPECT_FALSE(m_desk->withdrawOverride(one(), QStringLiteral("again"), QStringLiteral("i-1")));
}

TEST_F(ReadinessDeskTest, AnOwnWordOutlivesTheDesk) {
    ASSERT_TRUE(m_desk->setOverride(one(), ReadinessWord::NotYet, QStringLiteral("not safe at the doors"),
                                    QStringLiteral("i-1")));
    makeDesk();
    m_desk->ask(one());
    ASSERT_TRUE(isKnown(one()));
    EXPECT_EQ(m_desk->of(one()).answer.readiness.word, ReadinessWord::NotYet);
}

TEST_F(ReadinessDeskTest, FreezesTheForecastBeforeAFullAttempt) {
    m_desk->ask(one());
    ASSERT_TRUE(isKnown(one()));
    QSignalSpy frozen(m_desk.get(), &ReadinessDesk::frozen);
    ASSERT_TRUE(m_desk->freezeBefore(header(one(), kId1)));
    ASSERT_TRUE(eventually([&] { return frozen.count() == 1; }));
    const auto kept = file().forecasts();
    ASSERT_TRUE(kept);
    ASSERT_EQ(kept->size(), 1u);
    const core::FrozenForecast& forecast = kept->front();
    EXPECT_EQ(forecast.about, core::FrozenForecast::About::FullAttempt);
    EXPECT_EQ(forecast.trainee, "t-1");
    EXPECT_EQ(forecast.attempt, kId1);
    EXPECT_EQ(forecast.rubric, "small");
    EXPECT_EQ(forecast.edition, 3);
    EXPECT_EQ(forecast.at, "2026-03-12T06:50:00-05:00");
    EXPECT_EQ(forecast.modelVersion, core::kForecastVersion);
    EXPECT_NEAR(forecast.chance, 0.71, 1e-12);
    EXPECT_NEAR(forecast.low, 0.52, 1e-12);
    EXPECT_EQ(forecast.word, ReadinessWord::Close);
}

TEST_F(ReadinessDeskTest, FreezesNothingThatWasNotForecast) {
    EXPECT_FALSE(m_desk->freezeBefore(header(one(), kId1))) << "not worked out";
    m_desk->ask(one());
    ASSERT_TRUE(isKnown(one()));
    core::AttemptHeader part = header(one(), kId1);
    part.zones.pop_back();
    EXPECT_FALSE(m_desk->freezeBefore(part)) << "not over all zones";
    core::AttemptHeader other = header(one(), kId1);
    other.rubric = "air-brake-school-bus";
    EXPECT_FALSE(m_desk->freezeBefore(other)) << "another rubric than what was forecast";
    core::AttemptHeader second = header(one(), kId1);
    second.of = kId2;
    EXPECT_FALSE(m_desk->freezeBefore(second)) << "a second scoring is the same performance";
    m_now = m_now.addDays(1);
    EXPECT_FALSE(m_desk->freezeBefore(header(one(), kId1))) << "of yesterday";
    EXPECT_TRUE(file().forecasts()->empty());
}

TEST_F(ReadinessDeskTest, SendingToTheTestKeepsWhatWasShown) {
    EXPECT_FALSE(m_desk->sendToTest(one()));
    m_desk->ask(one());
    ASSERT_TRUE(isKnown(one()));
    ASSERT_TRUE(m_desk->setOverride(one(), ReadinessWord::Ready, QStringLiteral("seen twice"),
                                    QStringLiteral("i-1")));
    const auto kept = m_desk->sendToTest(one());
    ASSERT_TRUE(kept) << kept.error().message;
    EXPECT_EQ(kept->about, core::FrozenForecast::About::OfficialTest);
    EXPECT_TRUE(kept->attempt.empty());
    EXPECT_EQ(kept->word, ReadinessWord::Ready);
    EXPECT_EQ(kept->computed, ReadinessWord::Close);
    ASSERT_EQ(file().forecasts()->size(), 1u);
    EXPECT_EQ(file().forecasts()->front(), *kept);
}

TEST_F(ReadinessDeskTest, ReadsTheRealFile) {
    attemptOf(one(), kId1);
    ReadinessDesk desk(*m_session, {}, [this] { return m_now.addSecs(3600); });
    desk.ask(one());
    ASSERT_TRUE(eventually(
        [&] { return desk.of(one()).state == State::Known || desk.of(one()).state == State::Failed; }));
    ASSERT_EQ(desk.of(one()).state, State::Known) << desk.of(one()).error.message;
    EXPECT_EQ(desk.of(one()).answer.readiness.forecast.attempts, 1);
    EXPECT_EQ(desk.of(one()).answer.readiness.word, ReadinessWord::TooLittle);
    EXPECT_EQ(desk.of(one()).answer.rubric, "small");
    ASSERT_NE(desk.of(one()).answer.planner, nullptr);
    EXPECT_FALSE(desk.of(one()).answer.planner->blocks().empty());
    desk.ask(QStringLiteral("nobody"));
    ASSERT_TRUE(eventually([&] { return desk.of(QStringLiteral("nobody")).state == State::Failed; }));
    EXPECT_NE(desk.of(QStringLiteral("nobody")).error.message.find("nobody"), std::string::npos);
}

}  // namespace
}  // namespace markerlamp
