// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/readiness/track_record.h"
#include "scoring_support.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <random>

namespace markerlamp::core {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

FrozenForecast forecastOf(const std::string& id, const std::string& attempt, double chance,
                          const std::string& at, const std::string& trainee = "t-1") {
    FrozenForecast forecast;
    forecast.id = id;
    forecast.trainee = trainee;
    forecast.at = at;
    forecast.attempt = attempt;
    forecast.about =
        attempt.empty() ? FrozenForecast::About::OfficialTest : FrozenForecast::About::FullAttempt;
    forecast.rubric = "r";
    forecast.modelVersion = 1;
    forecast.chance = chance;
    forecast.low = chance / 2;
    forecast.high = (1 + chance) / 2;
    forecast.word = forecast.computed = ReadinessWord::Close;
    return forecast;
}

TestResult testOf(const std::string& id, const std::string& date, bool passed,
                  const std::string& trainee = "t-1", const std::string& segment = "inspection") {
    return {id, trainee, date, segment, passed, ""};
}

std::vector<std::string> pairsOf(const TrackRecord& record) {
    std::vector<std::string> list;
    for (const TrackRow& row : record.rows)
        list.push_back(row.of + (row.passed ? " passed " : " failed ") +
                       std::to_string(row.chance).substr(0, 4));
    return list;
}

TEST(FrozenRecord, PairsAForecastWithItsAttempt) {
    const TrackRecord record = frozenRecord({forecastOf("f1", "a1", 0.25, "2026-03-02T06:00:00-05:00"),
                                             forecastOf("f2", "a2", 0.75, "2026-03-09T06:00:00-05:00"),
                                             forecastOf("f3", "gone", 0.9, "2026-03-09T06:00:00-05:00")},
                                            {{"a1", {AttemptResult::Fail, "2026-03-02T06:10:00-05:00"}},
                                             {"a2", {AttemptResult::Pass, "2026-03-09T06:10:00-05:00"}}},
                                            {});
    EXPECT_THAT(pairsOf(record), ElementsAre("a1 failed 0.25", "a2 passed 0.75"));
    const TrackRow& row = record.rows[1];
    EXPECT_EQ(row.source, TrackRow::Source::Frozen);
    EXPECT_EQ(row.about, FrozenForecast::About::FullAttempt);
    EXPECT_EQ(row.trainee, "t-1");
    EXPECT_EQ(row.at, "2026-03-09T06:00:00-05:00");
    EXPECT_EQ(row.resultAt, "2026-03-09T06:10:00-05:00");
    EXPECT_EQ(row.low, 0.375);
    EXPECT_EQ(row.high, 0.875);
    EXPECT_EQ(row.modelVersion, 1);
    EXPECT_FALSE(row.tooLittle);
}

TEST(FrozenRecord, IncompleteIsNoResult) {
    EXPECT_THAT(frozenRecord({forecastOf("f1", "a1", 0.5, "2026-03-02T06:00:00-05:00")},
                             {{"a1", {AttemptResult::Incomplete, "2026-03-02T06:10:00-05:00"}}}, {})
                    .rows,
                IsEmpty());
}

TEST(FrozenRecord, AForecastFrozenAfterItsResultNeverCounts) {
    const std::map<std::string, AttemptOutcome> attempts{
        {"a1", {AttemptResult::Pass, "2026-03-02T06:10:00-05:00"}}};
    EXPECT_THAT(frozenRecord({forecastOf("f1", "a1", 0.9, "2026-03-02T06:10:01-05:00")}, attempts, {}).rows,
                IsEmpty());
    // 11:10 UTC is the very moment; half an hour earlier by its clock and yet later is 06:00 in the next
    // zone.
    EXPECT_EQ(frozenRecord({forecastOf("f1", "a1", 0.9, "2026-03-02T11:10:00Z")}, attempts, {}).rows.size(),
              1u);
    EXPECT_THAT(frozenRecord({forecastOf("f1", "a1", 0.9, "2026-03-02T06:00:00-06:00")}, attempts, {}).rows,
                IsEmpty());
    EXPECT_THAT(frozenRecord({forecastOf("f1", "", 0.9, "2026-03-03T06:00:00-05:00")}, {},
                             {testOf("x1", "2026-03-02", true)})
                    .rows,
                IsEmpty());
    EXPECT_THAT(frozenRecord({forecastOf("f1", "", 0.9, "2026-03-02T06:00:00-05:00")}, {},
                             {testOf("x1", "2026-03-02", true)})
                    .rows,
                IsEmpty())
        << "a test has no hour: a forecast of that day may have come after it";
}

TEST(FrozenRecord, TheNewestForecastBeforeAResultCounts) {
    const auto early = forecastOf("f1", "a1", 0.2, "2026-03-01T06:00:00-05:00");
    const auto late = forecastOf("f2", "a1", 0.4, "2026-03-02T06:00:00-05:00");
    const auto afterwards = forecastOf("f3", "a1", 0.6, "2026-03-02T07:00:00-05:00");
    const std::map<std::string, AttemptOutcome> attempts{
        {"a1", {AttemptResult::Pass, "2026-03-02T06:10:00-05:00"}}};
    std::vector<FrozenForecast> all{late, early, afterwards};
    for (int turn = 0; turn < 3; ++turn, std::rotate(all.begin(), all.begin() + 1, all.end()))
        EXPECT_THAT(pairsOf(frozenRecord(all, attempts, {})), ElementsAre("a1 passed 0.40"));
}

TEST(FrozenRecord, PairsTestsWithTheNewestForecastOfEarlierDays) {
    const std::vector<FrozenForecast> forecasts{
        forecastOf("f1", "", 0.3, "2026-03-01T06:00:00-05:00"),
        forecastOf("f2", "a1", 0.5,
                   "2026-03-04T23:30:00-05:00"),  // the 5th in UTC, the 4th on the yard's clock
        forecastOf("f3", "", 0.9, "2026-03-04T06:00:00-05:00", "t-2")};
    const TrackRecord record =
        frozenRecord(forecasts, {},
                     {testOf("x1", "2026-03-05", true), testOf("x0", "2026-03-05", true, "t-3"),
                      testOf("x2", "2026-03-05", false, "t-1", "road")});
    EXPECT_THAT(pairsOf(record), ElementsAre("x1 passed 0.50"))
        << "a forecast of one's own, and of the inspection alone";
    EXPECT_EQ(record.rows[0].about, FrozenForecast::About::OfficialTest);
    EXPECT_EQ(record.rows[0].resultAt, "2026-03-05");
}

TEST(FrozenRecord, AForecastIsAboutTheNextTestOnly) {
    const auto first = forecastOf("f1", "", 0.8, "2026-03-01T06:00:00-05:00");
    const std::vector<TestResult> tests{testOf("x2", "2026-03-12", true), testOf("x1", "2026-03-05", false)};
    EXPECT_THAT(pairsOf(frozenRecord({first}, {}, tests)), ElementsAre("x1 failed 0.80"));
    const auto second = forecastOf("f2", "", 0.6, "2026-03-10T06:00:00-05:00");
    EXPECT_THAT(pairsOf(frozenRecord({first, second}, {}, tests)),
                ElementsAre("x1 failed 0.80", "x2 passed 0.60"));
}

TEST(FrozenRecord, QualityStandsBesideTheBaseRateAndCalibrationWaitsForTwenty) {
    std::vector<FrozenForecast> forecasts;
    std::map<std::string, AttemptOutcome> attempts;
    for (int i = 0; i < 20; ++i) {
        const std::string id = "a" + std::to_string(10 + i);
        forecasts.push_back(forecastOf("f" + id, id, i % 2 == 0 ? 0.75 : 0.25, "2026-03-02T06:00:00-05:00"));
        // Of the ten at 0.75 eight pass, of the ten at 0.25 two.
        const bool passed = i % 2 == 0 ? i >= 4 : i < 4;
        attempts[id] = {passed ? AttemptResult::Pass : AttemptResult::Fail, "2026-03-02T06:10:00-05:00"};
    }
    const TrackRecord record = frozenRecord(forecasts, attempts, {});
    EXPECT_FALSE(record.tooFew());
    EXPECT_EQ(record.quality.results, 20);
    // By hand: (8 * 0.0625 + 2 * 0.5625) / 10 in both groups; base 10 of 20.
    EXPECT_NEAR(record.quality.brier.value(), 0.1625, 1e-12);
    EXPECT_NEAR(record.quality.baseBrier.value(), 0.25, 1e-12);
    EXPECT_NEAR(record.quality.skill.value(), 0.35, 1e-12);
    EXPECT_EQ(record.quality.groups.size(), 5u);
    EXPECT_NEAR(record.quality.miscalibration.value(), 0.0025, 1e-12) << "0.05 off, squared";

    attempts.erase("a29");
    const TrackRecord fewer = frozenRecord(forecasts, attempts, {});
    EXPECT_TRUE(fewer.tooFew());
    EXPECT_EQ(fewer.quality.results, 19);
    EXPECT_TRUE(fewer.quality.brier);
    EXPECT_THAT(fewer.quality.groups, IsEmpty());
}

TEST(FrozenRecord, SaysWhereThereWasTooLittleData) {
    auto forecast = forecastOf("f1", "a1", 0.5, "2026-03-02T06:00:00-05:00");
    forecast.computed = ReadinessWord::TooLittle;
    forecast.word = ReadinessWord::Ready;  // overridden
    EXPECT_TRUE(frozenRecord({forecast}, {{"a1", {AttemptResult::Pass, "2026-03-02T06:10:00-05:00"}}}, {})
                    .rows[0]
                    .tooLittle);
}

/// A small program: eight steps, five trainees who get better at different speed, an attempt every three
/// days.
class Replay : public ::testing::Test {
protected:
    void SetUp() override {
        std::vector<Step> steps;
        for (int i = 0; i < 8; ++i) steps.push_back(testing::makeStep("s" + std::to_string(i)));
        m_rubric = std::make_shared<const Rubric>(testing::makeRubric(steps));
        std::mt19937 random(7);
        for (int round = 0; round < 5; ++round)
            for (int trainee = 0; trainee < 5; ++trainee) {
                std::vector<bool> done;
                for (int i = 0; i < 8; ++i)
                    done.push_back(random() / 4294967296.0 < 0.35 + 0.1 * round + 0.05 * trainee);
                m_done.push_back(done);
            }
    }

    [[nodiscard]] static std::string started(std::size_t i) {
        const std::size_t day = 1 + 3 * (i / 5);
        return "2026-03-" + std::string(day < 10 ? "0" : "") + std::to_string(day) + "T0" +
               std::to_string(5 + i % 5) + ":00:00-05:00";
    }

    [[nodiscard]] std::vector<ReplayAttempt> attempts(PracticeRecord& record) const {
        std::vector<ReplayAttempt> list;
        for (std::size_t i = 0; i < m_done.size(); ++i) {
            testing::AttemptBuilder builder(*m_rubric);
            builder.header().id = "a" + std::to_string(10 + i);
            builder.header().trainee = "t" + std::to_string(i % 5);
            builder.header().started = started(i);
            for (std::size_t s = 0; s < 8; ++s)
                if (m_done[i][s]) builder.whole(m_rubric->zones[0].steps[s]);
            const Attempt attempt = builder.end();
            const Scorecard card = score(*m_rubric, attempt);
            EXPECT_TRUE(record.add(*m_rubric, attempt, card));
            list.push_back({attempt.header.id,
                            attempt.header.trainee,
                            attempt.header.started,
                            m_rubric,
                            {},
                            card.result});
        }
        record.sort();
        return list;
    }

    [[nodiscard]] TrackRecord replayed(const std::function<bool(double)>& progress = {}) const {
        const auto record = std::make_shared<PracticeRecord>();
        auto list = attempts(*record);
        std::ranges::reverse(list);  // in any order
        ModelSeries models(record);
        return replay(models, list, progress);
    }

    std::shared_ptr<const Rubric> m_rubric;
    std::vector<std::vector<bool>> m_done;
};

TEST_F(Replay, ForecastsEveryFullAttemptOldestFirst) {
    const TrackRecord record = replayed();
    ASSERT_EQ(record.rows.size(), 25u);
    EXPECT_EQ(record.quality.results, 25);
    EXPECT_FALSE(record.tooFew());
    for (std::size_t i = 0; i < record.rows.size(); ++i) {
        const TrackRow& row = record.rows[i];
        EXPECT_EQ(row.of, "a" + std::to_string(10 + i));
        EXPECT_EQ(row.at, started(i));
        EXPECT_EQ(row.source, TrackRow::Source::Replayed);
        EXPECT_EQ(row.modelVersion, kForecastVersion);
        EXPECT_TRUE(row.chance > 0 && row.chance < 1 && row.low <= row.high);
        // 80 percent of eight steps are seven.
        EXPECT_EQ(row.passed, std::ranges::count(m_done[i], true) >= 7);
        EXPECT_TRUE(row.tooLittle || i >= 5) << "nothing is known before a first attempt";
    }
}

TEST_F(Replay, KnowsNothingOfWhatCameLater) {
    const TrackRecord before = replayed();
    // The last round turns out otherwise: no forecast before it may move, its own neither.
    for (std::size_t i = 20; i < 25; ++i) m_done[i].flip();
    const TrackRecord after = replayed();
    for (std::size_t i = 0; i <= 20; ++i) {
        EXPECT_EQ(before.rows[i].chance, after.rows[i].chance) << before.rows[i].of;
        EXPECT_EQ(before.rows[i].low, after.rows[i].low);
    }
    // And what came earlier does count.
    for (std::size_t i = 0; i < 5; ++i) m_done[i].flip();
    EXPECT_NE(replayed().rows[10].chance, after.rows[10].chance);
}

TEST_F(Replay, SaysWhatTheForecastOfThatMomentSays) {
    const auto record = std::make_shared<PracticeRecord>();
    const auto list = attempts(*record);
    ModelSeries models(record);
    const TrackRecord past = replay(models, list);
    ModelSeries fresh(record);
    ForecastRequest request;
    request.trainee = "t2";
    request.at = *dayOf(started(17));
    request.scope = wholeScope(m_rubric, {});
    const Forecast alone = forecast(*fresh.at(request.at), request);
    EXPECT_EQ(past.rows[17].trainee, "t2");
    EXPECT_EQ(past.rows[17].chance, alone.chance);
    EXPECT_EQ(past.rows[17].tooLittle, alone.tooLittle);
}

TEST_F(Replay, IncompleteAttemptsHaveNoResult) {
    const auto record = std::make_shared<PracticeRecord>();
    auto list = attempts(*record);
    list[3].result = AttemptResult::Incomplete;
    ModelSeries models(record);
    const TrackRecord past = replay(models, list);
    EXPECT_EQ(past.rows.size(), 24u);
    EXPECT_TRUE(std::ranges::none_of(past.rows, [](const TrackRow& row) { return row.of == "a13"; }));
}

TEST_F(Replay, StopsWhenProgressSaysSo) {
    std::vector<double> told;
    EXPECT_EQ(replayed([&](double done) { return told.push_back(done), true; }).rows.size(), 25u);
    EXPECT_TRUE(std::ranges::is_sorted(told));
    EXPECT_GE(told.front(), 0);
    EXPECT_LE(told.back(), 1);
    EXPECT_THAT(replayed([](double done) { return done < 0.5; }).rows, IsEmpty());
    EXPECT_THAT(replayed([](double) { return false; }).rows, IsEmpty());
}

}  // namespace
}  // namespace markerlamp::core
