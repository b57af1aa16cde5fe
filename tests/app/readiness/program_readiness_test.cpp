// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/readiness/program_readiness.h"

#include "yard_program.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <QTemporaryDir>

#include <string>
#include <vector>

namespace markerlamp::app {
namespace {

using core::ErrorKind;
using ::testing::HasSubstr;
using namespace markerlamp::testing;

class ProgramReadinessTest : public ::testing::Test {
protected:
    void SetUp() override {
        m_file =
            db::ProgramFile::create((m_dir.path() + QStringLiteral("/p.markerlamp")).toStdString()).value();
        ASSERT_TRUE(m_file->addRubric(yardRubric(1)));
    }
    void add(const core::Attempt& one) {
        const auto done = m_file->addAttempt(one);
        ASSERT_TRUE(done) << done.error().message;
    }
    std::unique_ptr<ProgramReadiness> read() {
        auto done = ProgramReadiness::read(*m_file);
        EXPECT_TRUE(done) << done.error().message;
        return done ? std::move(*done) : nullptr;
    }
    static ReadinessQuestion at(const std::string& moment) {
        ReadinessQuestion question;
        question.at = core::dayOf(moment).value();
        return question;
    }
    static const core::Gate& gate(const core::Readiness& readiness, const std::string& id) {
        for (const core::Gate& one : readiness.gates)
            if (one.id == id) return one;
        throw std::out_of_range("no gate " + id);
    }

    QTemporaryDir m_dir;
    std::unique_ptr<db::ProgramFile> m_file;
};

TEST_F(ProgramReadinessTest, KnowsOnlyWhatBeganBeforeTheMoment) {
    add(yardAttempt("a-1", "t-1", "2026-03-02T08:00:00-05:00", kYardSteps));
    add(yardAttempt("a-2", "t-1", "2026-03-04T08:00:00-05:00", kYardSteps));
    add(yardAttempt("a-3", "t-1", "2026-03-06T08:00:00-05:00", {"lamps"}));
    auto readiness = read();
    const auto between = readiness->readiness("t-1", at("2026-03-06T08:00:00-05:00"));
    ASSERT_TRUE(between) << between.error().message;
    EXPECT_EQ(between->forecast.attempts, 2) << "the third begins at that moment";
    EXPECT_EQ(gate(*between, "must-pass").state, core::GateState::Met);
    const auto after = readiness->readiness("t-1", at("2026-03-06T08:00:01-05:00"));
    EXPECT_EQ(after->forecast.attempts, 3);
    EXPECT_EQ(gate(*after, "must-pass").state, core::GateState::NotMet);
    ReadinessQuestion ahead;
    ahead.aheadDays = 7;
    EXPECT_DOUBLE_EQ(readiness->momentFor("t-1", ahead).value(),
                     core::dayOf("2026-03-13T08:00:00-05:00").value());
    ReadinessQuestion now;
    now.now = core::dayOf("2026-03-20T08:00:00Z").value();
    EXPECT_EQ(readiness->momentFor("t-1", now), now.now);
    EXPECT_EQ(readiness->readiness("t-1", now)->forecast.at, now.now);
}

TEST_F(ProgramReadinessTest, TestsWhatTheLatestAttemptSays) {
    core::Attempt hydraulic = yardAttempt("a-2", "t-1", "2026-03-04T08:00:00-05:00", {"lamps", "horn"});
    hydraulic.header.equipment.clear();
    add(yardAttempt("a-1", "t-1", "2026-03-02T08:00:00-05:00", kYardSteps));
    add(hydraulic);
    auto readiness = read();
    const auto steps = [&](const std::string& moment, ReadinessQuestion question = {}) {
        question.at = core::dayOf(moment).value();
        const auto planner = readiness->planner("t-1", question);
        std::vector<std::string> ids;
        if (planner)
            for (const core::ScopeStep& step : planner->draws().steps) ids.push_back(step.step);
        return ids;
    };
    EXPECT_EQ(steps("2026-03-03T08:00:00-05:00"), kYardSteps);
    EXPECT_EQ(steps("2026-03-05T08:00:00-05:00"), (std::vector<std::string>{"lamps", "horn"}))
        << "the bus of the latest attempt";
    ReadinessQuestion outside;
    outside.section = "outside";
    EXPECT_EQ(steps("2026-03-03T08:00:00-05:00", outside), (std::vector<std::string>{"lamps", "hoses"}));
    ASSERT_TRUE(m_file->addRubric(yardRubric(2)));
    readiness = read();
    EXPECT_EQ(steps("2026-03-05T08:00:00-05:00"), (std::vector<std::string>{"lamps", "mirror", "horn"}))
        << "the newest edition";
}

TEST_F(ProgramReadinessTest, WhoHasNoAttemptIsTestedOnWhatTheProgramUsesMost) {
    std::string other = yardRubric(1);
    other.replace(other.find("id: yard"), 8, "id: barn");
    ASSERT_TRUE(m_file->addRubric(other));
    ASSERT_TRUE(m_file->saveTrainee({"t-2", "Bo Example", "", "", "", "", {}, "", "", "", false}));
    auto nobody = read();
    EXPECT_EQ(nobody->planner("t-2", at("2026-03-05T08:00:00Z"))->draws().scope.rubric->id, "barn")
        << "without any attempt the first one";
    add(yardAttempt("a-1", "t-1", "2026-03-02T08:00:00-05:00", kYardSteps));
    auto readiness = read();
    const auto planner = readiness->planner("t-2", at("2026-03-05T08:00:00Z"));
    ASSERT_TRUE(planner) << planner.error().message;
    EXPECT_EQ(planner->draws().scope.rubric->id, "yard");
    EXPECT_EQ(planner->draws().scope.equipment, std::vector<std::string>{"air-brakes"});
    const auto word = readiness->readiness("t-2", at("2026-03-05T08:00:00Z"));
    ASSERT_TRUE(word);
    EXPECT_EQ(word->word, core::ReadinessWord::TooLittle);
}

// Half past eleven in the evening of 2 March is already 3 March by UTC: the day is the yard's own.
TEST_F(ProgramReadinessTest, TodayIsTheDayOfTheYard) {
    ASSERT_TRUE(m_file->saveTrainee(
        {"t-1", "Ada Example", "", "2026-02-01", "2026-03-16", "", {}, "", "", "", false}));
    add(yardAttempt("a-1", "t-1", "2026-03-02T23:00:00-05:00", {"lamps", "hoses"}));
    add(yardAttempt("a-2", "t-1", "2026-03-02T23:30:00-05:00", {"lamps"}));
    auto readiness = read();
    const auto done = [&](const std::string& moment) {
        std::vector<std::string> ids;
        const auto planner = readiness->planner("t-1", at(moment));
        if (planner)
            for (const core::DrillBlock& block : planner->blocks())
                if (block.doneToday) ids.push_back(block.id);
        return ids;
    };
    EXPECT_EQ(done("2026-03-02T23:20:00-05:00"), (std::vector<std::string>{"lamps", "hoses"}));
    EXPECT_EQ(done("2026-03-02T23:50:00-05:00"), std::vector<std::string>{"lamps"})
        << "the hoses failed since: they may be drilled again";
    EXPECT_TRUE(done("2026-03-03T00:10:00-05:00").empty()) << "the next day";
    const auto runs = [&](const std::string& moment) {
        return gate(*readiness->readiness("t-1", at(moment)), "permit-runs").state;
    };
    EXPECT_EQ(runs("2026-03-02T23:50:00-05:00"), core::GateState::Met) << "14 days left on 2 March";
    EXPECT_EQ(runs("2026-03-03T00:10:00-05:00"), core::GateState::NotMet) << "13 on 3 March";
}

TEST_F(ProgramReadinessTest, RefusesWhatCannotBeAsked) {
    add(yardAttempt("a-1", "t-1", "2026-03-02T08:00:00-05:00", kYardSteps));
    ASSERT_TRUE(m_file->saveTrainee({"t-2", "Bo Example", "", "", "", "", {}, "", "", "", false}));
    auto readiness = read();
    const auto stranger = readiness->readiness("t-9", at("2026-03-05T08:00:00Z"));
    ASSERT_FALSE(stranger);
    EXPECT_EQ(stranger.error().kind, ErrorKind::NotFound);
    EXPECT_THAT(stranger.error().message, HasSubstr("t-1, t-2"));
    ReadinessQuestion question = at("2026-03-05T08:00:00Z");
    question.section = "inside";
    const auto section = readiness->readiness("t-1", question);
    ASSERT_FALSE(section);
    EXPECT_THAT(
        core::toText(section.error().problems.empty() ? core::Problem{} : section.error().problems.front()) +
            section.error().message,
        HasSubstr("outside"))
        << "names what there is";
    ReadinessQuestion ahead;
    ahead.aheadDays = 7;
    EXPECT_FALSE(readiness->momentFor("t-2", ahead));
    EXPECT_EQ(readiness->planner("t-2", ahead).error().kind, ErrorKind::Refused);
    ASSERT_TRUE(m_file->setFact("program.gate.full_attempt_days", "soon"));
    EXPECT_FALSE(ProgramReadiness::read(*m_file)) << "a setting that makes no sense";
    auto empty = db::ProgramFile::create((m_dir.path() + QStringLiteral("/q.markerlamp")).toStdString());
    ASSERT_TRUE((*empty)->saveTrainee({"t-2", "Bo Example", "", "", "", "", {}, "", "", "", false}));
    const auto none = ProgramReadiness::read(**empty).value()->readiness("t-2", at("2026-03-05T08:00:00Z"));
    ASSERT_FALSE(none);
    EXPECT_THAT(none.error().message, HasSubstr("rubric"));
}

TEST_F(ProgramReadinessTest, CanBeStopped) {
    add(yardAttempt("a-1", "t-1", "2026-03-02T08:00:00-05:00", kYardSteps));
    const auto never = [](double) { return false; };
    const auto stopped = ProgramReadiness::read(*m_file, never);
    ASSERT_FALSE(stopped);
    EXPECT_EQ(stopped.error().kind, ErrorKind::Usage);
    EXPECT_EQ(stopped.error().message, "");
    EXPECT_TRUE(read()->replayed(never).rows.empty());
}

TEST_F(ProgramReadinessTest, AnOverrideCountsForItsTraineeFromItsMomentOn) {
    for (const char* trainee : {"t-1", "t-2"})
        for (const char* day : {"02", "03", "04"})
            add(yardAttempt(std::string("a-") + trainee + day, trainee,
                            std::string("2026-03-") + day + "T08:00:00-05:00", kYardSteps));
    ASSERT_TRUE(m_file->addOverride({"o-1", "t-1", core::ReadinessWord::NotYet, "slow on the road", "i-1",
                                     "2026-03-05T08:00:00-05:00", false}));
    auto readiness = read();
    EXPECT_FALSE(readiness->readiness("t-1", at("2026-03-05T07:00:00-05:00"))->override_);
    const auto after = readiness->readiness("t-1", at("2026-03-05T09:00:00-05:00"));
    ASSERT_TRUE(after->override_);
    EXPECT_EQ(after->word, core::ReadinessWord::NotYet);
    EXPECT_FALSE(readiness->readiness("t-2", at("2026-03-05T09:00:00-05:00"))->override_);
}

TEST_F(ProgramReadinessTest, PairsFrozenForecastsAndPlaysThePastAgain) {
    for (const char* day : {"02", "03", "04"})
        add(yardAttempt(std::string("a-") + day, "t-1", std::string("2026-03-") + day + "T08:00:00-05:00",
                        kYardSteps));
    core::Attempt part = yardAttempt("a-05", "t-1", "2026-03-05T08:00:00-05:00", {"horn"});
    part.header.zones = {"cab"};
    add(part);
    core::FrozenForecast frozen;
    frozen.id = "f-1";
    frozen.trainee = "t-1";
    frozen.at = "2026-03-04T08:00:00-05:00";
    frozen.attempt = "a-04";
    frozen.rubric = "yard";
    frozen.chance = 0.75;
    ASSERT_TRUE(m_file->addForecast(frozen));
    frozen.id = "f-2";
    frozen.about = core::FrozenForecast::About::OfficialTest;
    frozen.attempt.clear();
    frozen.at = "2026-03-08T08:00:00-05:00";
    ASSERT_TRUE(m_file->addForecast(frozen));
    ASSERT_TRUE(m_file->addTestResult({"r-1", "t-1", "2026-03-09", "inspection", false, ""}));
    auto readiness = read();
    const core::TrackRecord record = readiness->frozen();
    ASSERT_EQ(record.rows.size(), 2u);
    EXPECT_EQ(record.rows[0].of, "a-04");
    EXPECT_TRUE(record.rows[0].passed);
    EXPECT_EQ(record.rows[1].of, "r-1");
    EXPECT_FALSE(record.rows[1].passed);
    // (0.75 - 1)^2 and (0.75 - 0)^2, halved.
    EXPECT_DOUBLE_EQ(record.quality.brier.value(), (0.0625 + 0.5625) / 2);
    const core::TrackRecord again = readiness->replayed();
    ASSERT_EQ(again.rows.size(), 3u) << "the drill in one zone is no test";
    EXPECT_EQ(again.rows[0].source, core::TrackRow::Source::Replayed);
    EXPECT_EQ(again.rows[2].of, "a-04");
}

}  // namespace
}  // namespace markerlamp::app
