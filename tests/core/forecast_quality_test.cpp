// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/stats/forecast_quality.h"
#include "scoring_support.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>
#include <nlohmann/json.hpp>

#include <cmath>

namespace markerlamp::core {
namespace {

nlohmann::json outsideCase(const std::string& name) {
    return nlohmann::json::parse(testing::readTestData("forecast-scores.json")).at("cases").at(name);
}

std::vector<ForecastAndResult> pairsOf(const nlohmann::json& outside) {
    std::vector<ForecastAndResult> pairs;
    for (std::size_t i = 0; i < outside.at("f").size(); ++i)
        pairs.push_back({outside["f"][i].get<double>(), outside["y"][i].get<int>() == 1});
    return pairs;
}

double sumOf(const BrierParts& parts) {
    return parts.reliability - parts.resolution + parts.uncertainty + parts.withinVariance -
           parts.withinCovariance;
}

TEST(ForecastQuality, AgreesWithTheOutsideFiguresWhereEqualForecastsShareAGroup) {
    const auto outside = outsideCase("twelve");
    const ForecastQuality quality = forecastQuality(pairsOf(outside), 10);
    EXPECT_EQ(quality.results, 12);
    EXPECT_EQ(quality.happened, 6);
    EXPECT_NEAR(quality.brier.value(), outside["brier"].get<double>(), 1e-12);
    EXPECT_NEAR(quality.logLoss.value(), outside["log_loss"].get<double>(), 1e-12);
    EXPECT_NEAR(quality.parts.reliability, outside["reliability"].get<double>(), 1e-12);
    EXPECT_NEAR(quality.parts.resolution, outside["resolution"].get<double>(), 1e-12);
    EXPECT_NEAR(quality.parts.uncertainty, outside["uncertainty"].get<double>(), 1e-12);
    EXPECT_NEAR(quality.parts.withinVariance, 0, 1e-12);
    EXPECT_NEAR(quality.parts.withinCovariance, 0, 1e-12);
}

TEST(ForecastQuality, AgreesWithTheOutsideFiguresWithUnequalForecastsInAGroup) {
    const auto outside = outsideCase("sixty");
    const ForecastQuality quality = forecastQuality(pairsOf(outside), 10);
    EXPECT_NEAR(quality.brier.value(), outside["brier"].get<double>(), 1e-12);
    EXPECT_NEAR(quality.baseBrier.value(), outside["uncertainty"].get<double>(), 1e-12);
    EXPECT_NEAR(quality.skill.value(), outside["skill_vs_base_rate"].get<double>(), 1e-12);
    EXPECT_NEAR(quality.logLoss.value(), outside["log_loss"].get<double>(), 1e-12);
    EXPECT_NEAR(quality.parts.reliability, outside["reliability"].get<double>(), 1e-12);
    EXPECT_NEAR(quality.parts.resolution, outside["resolution"].get<double>(), 1e-12);
    EXPECT_NEAR(quality.parts.withinVariance, outside["within_bin_variance"].get<double>(), 1e-12);
    EXPECT_NEAR(quality.parts.withinCovariance, outside["within_bin_covariance"].get<double>(), 1e-12);
    EXPECT_NEAR(quality.miscalibration.value(), outside["corp"]["miscalibration"].get<double>(), 1e-12);
    EXPECT_NEAR(quality.discrimination.value(), outside["corp"]["discrimination"].get<double>(), 1e-12);
    ASSERT_EQ(quality.groups.size(), 10u);
    std::vector<int> sizes(10, 0);
    for (const auto& bin : outside["bin_of_ten"]) ++sizes[bin.get<std::size_t>()];
    for (std::size_t g = 0; g < 10; ++g) EXPECT_EQ(quality.groups[g].results, sizes[g]) << g;
}

RC_GTEST_PROP(ForecastQuality, PartsAddUpToTheBrierScoreForAnyGroups, ()) {
    const auto raw = *rc::gen::nonEmpty(rc::gen::container<std::vector<std::pair<int, bool>>>(
        rc::gen::pair(rc::gen::inRange(0, 101), rc::gen::arbitrary<bool>())));
    std::vector<ForecastAndResult> pairs;
    for (const auto& [percent, happened] : raw) pairs.push_back({percent / 100.0, happened});
    const int groups = *rc::gen::inRange(1, 13);
    const ForecastQuality quality = forecastQuality(pairs, groups);
    RC_ASSERT(std::abs(sumOf(brierParts(pairs, groups)) - *quality.brier) < 1e-12);
    // Recalibration keeps the order of the forecasts and never does worse on the results it was made from.
    const std::vector<double> chances = recalibrated(pairs);
    double miss = 0;
    for (std::size_t i = 0; i < pairs.size(); ++i) {
        miss += std::pow(chances[i] - (pairs[i].happened ? 1 : 0), 2) / static_cast<double>(pairs.size());
        for (std::size_t j = 0; j < pairs.size(); ++j)
            if (pairs[i].forecast < pairs[j].forecast) RC_ASSERT(chances[i] <= chances[j] + 1e-12);
    }
    RC_ASSERT(miss <= *quality.brier + 1e-12);
    RC_ASSERT(miss <= *quality.baseBrier + 1e-12);
}

TEST(ForecastQuality, AGroupHoldsItsLowerEndAndTheLastOneItsUpperEnd) {
    std::vector<ForecastAndResult> pairs;
    for (int i = 0; i <= 10; ++i) {
        pairs.push_back({i / 10.0, true});
        pairs.push_back({i / 10.0, false});
    }
    const ForecastQuality quality = forecastQuality(pairs, 10);
    for (std::size_t g = 0; g < 10; ++g) {
        EXPECT_EQ(quality.groups[g].results, g == 9 ? 4 : 2) << g;
        EXPECT_EQ(quality.groups[g].share, wilson(g == 9 ? 2 : 1, g == 9 ? 4 : 2, 0.95));
    }
    EXPECT_NEAR(quality.groups[9].meanForecast, 0.95, 1e-12);
}

TEST(ForecastQuality, UnderTwentyResultsNoCalibrationIsClaimed) {
    std::vector<ForecastAndResult> pairs(19, {0.7, true});
    pairs[0].happened = false;
    EXPECT_TRUE(forecastQuality(pairs).groups.empty());
    EXPECT_FALSE(forecastQuality(pairs).miscalibration);
    EXPECT_TRUE(forecastQuality(pairs).brier);
    pairs.push_back({0.2, false});
    const ForecastQuality enough = forecastQuality(pairs);
    EXPECT_EQ(enough.groups.size(), 5u);
    EXPECT_FALSE(enough.groups[0].share) << "an empty group has no share";
    EXPECT_TRUE(enough.miscalibration && enough.discrimination);
}

TEST(ForecastQuality, NothingAndAllTheSame) {
    const ForecastQuality none = forecastQuality({});
    EXPECT_EQ(none.results, 0);
    EXPECT_FALSE(none.brier || none.baseBrier || none.skill || none.logLoss);
    const ForecastQuality all = forecastQuality({{1, true}, {1, true}});
    EXPECT_EQ(all.brier, 0);
    EXPECT_EQ(all.baseBrier, 0);
    EXPECT_FALSE(all.skill) << "nothing to beat";
    EXPECT_EQ(all.clipped, 2);
    // One sure forecast that failed: -ln(1e-6) by the clip.
    EXPECT_NEAR(forecastQuality({{1, false}}).logLoss.value(), 13.815510557964274, 1e-9);
}

}  // namespace
}  // namespace markerlamp::core
