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
    for (int turn = 0; turn < 3; ++turn, std::ranges::rotate(all, all.begin() + 1))
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

}  // namespace
}  // namespace markerlamp::core
