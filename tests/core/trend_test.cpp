// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/stats/trend.h"
#include "scoring_support.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>
#include <nlohmann/json.hpp>

#include <cmath>
#include <limits>

namespace markerlamp::core {
namespace {

nlohmann::json outsideCase(const std::string& name) {
    return nlohmann::json::parse(testing::readTestData("trend.json")).at("cases").at(name);
}

TEST(Trend, AgreesWithTheOutsideFigures) {
    const auto outside = outsideCase("scores8");
    const auto trend =
        theilSen(outside["x"].get<std::vector<double>>(), outside["y"].get<std::vector<double>>());
    ASSERT_TRUE(trend);
    EXPECT_NEAR(trend->slope, outside["theil_sen"].get<double>(), 1e-12);
    EXPECT_NEAR(trend->low, outside["lo"].get<double>(), 1e-12);
    EXPECT_NEAR(trend->high, outside["hi"].get<double>(), 1e-12);
    EXPECT_NEAR(trend->tau, outside["tau"].get<double>(), 1e-12);
    EXPECT_NEAR(trend->p, outside["p"].get<double>(), 1e-12);
    EXPECT_EQ(trend->values, 8);
}

TEST(Trend, AgreesWithOutsideFiguresOnUnevenDays) {
    // scipy 1.10.1: theilslopes at 0.95 and 0.8, kendalltau(method="exact").
    const std::vector<double> x{0, 3, 7, 10, 14, 21, 24, 28, 31, 40};
    const std::vector<double> y{55.5, 61, 58, 66, 64, 71.5, 70, 69, 75, 78};
    const auto wide = theilSen(x, y);
    const auto narrow = theilSen(x, y, 0.8);
    ASSERT_TRUE(wide && narrow);
    EXPECT_NEAR(wide->slope, 0.5238095238095238, 1e-12);
    EXPECT_NEAR(wide->low, 0.35, 1e-12);
    EXPECT_NEAR(wide->high, 0.7083333333333334, 1e-12);
    EXPECT_NEAR(narrow->low, 0.4, 1e-12);
    EXPECT_NEAR(narrow->high, 0.6290322580645161, 1e-12);
    EXPECT_NEAR(wide->tau, 0.7777777777777777, 1e-12);
    EXPECT_NEAR(wide->p, 0.0009463183421516755, 1e-12);
}

TEST(Trend, AgreesWithOutsideFiguresOnTies) {
    // scipy 1.10.1: theilslopes, kendalltau(method="asymptotic"); R 4.2.2 cor.test(exact = FALSE) gives the
    // same p.
    const auto trend = theilSen({1, 2, 3, 3, 5, 8, 8, 13}, {61, 64, 64, 70, 72, 72, 72, 77});
    ASSERT_TRUE(trend);
    EXPECT_NEAR(trend->slope, 4.0 / 3, 1e-12);
    EXPECT_NEAR(trend->low, 0.4, 1e-12);
    EXPECT_NEAR(trend->high, 2.75, 1e-12);
    EXPECT_NEAR(trend->tau, 0.9207368843792512, 1e-12);
    EXPECT_NEAR(trend->p, 0.0027394674080110397, 1e-12);
}

TEST(Trend, ExactTestHoldsUpToFiftyValues) {
    std::vector<double> x, y;
    for (int i = 0; i < 50; ++i) {
        x.push_back(i);
        y.push_back((i * 7) % 50);
    }
    // scipy 1.10.1, kendalltau(method="exact").
    const auto trend = theilSen(x, y);
    ASSERT_TRUE(trend);
    EXPECT_NEAR(trend->tau, 0.04, 1e-12);
    EXPECT_NEAR(trend->p, 0.6895534439683061, 1e-10);
    // Four values in order: 2 of the 24 orders are as extreme.
    EXPECT_NEAR(theilSen({1, 2, 3, 4}, {1, 2, 3, 4})->p, 2.0 / 24, 1e-12);
}

TEST(Trend, InterceptIsTheMedianOfWhatTheSlopeLeaves) {
    const auto trend = theilSen({0, 1, 2, 3, 4}, {10, 12, 14, 60, 18});
    ASSERT_TRUE(trend);
    EXPECT_DOUBLE_EQ(trend->slope, 2) << "one wild value does not turn it";
    EXPECT_DOUBLE_EQ(trend->intercept, 10);
}

TEST(Trend, UnderFourValuesNoneIsClaimed) {
    EXPECT_FALSE(theilSen({}, {}));
    EXPECT_FALSE(theilSen({1, 2, 3}, {50, 60, 70}));
    EXPECT_TRUE(theilSen({1, 2, 3, 4}, {50, 60, 70, 80}));
    EXPECT_FALSE(theilSen({1, 2, 3, 4}, {50, 60, 70}));
    EXPECT_FALSE(theilSen({5, 5, 5, 5}, {50, 60, 70, 80})) << "all on one day";
    EXPECT_FALSE(theilSen({1, 2, 3, std::numeric_limits<double>::quiet_NaN()}, {50, 60, 70, 80}));
}

TEST(Trend, NothingThatMovesIsNoTrend) {
    const auto flat = theilSen({1, 2, 3, 4, 5}, {70, 70, 70, 70, 70});
    ASSERT_TRUE(flat);
    EXPECT_EQ(flat->slope, 0);
    EXPECT_EQ(flat->tau, 0);
    EXPECT_EQ(flat->p, 1);
}

TEST(Trend, BeatsLastMinusFirstOnNoise) {
    // One bad last day after steady progress: last minus first says "worse".
    const std::vector<double> y{60, 63, 66, 70, 73, 76, 58};
    const auto trend = theilSen({1, 2, 3, 4, 5, 6, 7}, y);
    ASSERT_TRUE(trend);
    EXPECT_LT(y.back() - y.front(), 0);
    EXPECT_GT(trend->slope, 0);
}

RC_GTEST_PROP(Trend, LiesWithinItsIntervalAndTurnsWithTheValues, ()) {
    const auto values = *rc::gen::container<std::vector<int>>(9, rc::gen::inRange(0, 12));
    std::vector<double> x, y, negative;
    for (std::size_t i = 0; i < values.size(); ++i) {
        x.push_back(static_cast<double>(i * i));
        y.push_back(values[i]);
        negative.push_back(-values[i]);
    }
    const auto trend = theilSen(x, y);
    const auto turned = theilSen(x, negative);
    RC_ASSERT(trend && turned);
    RC_ASSERT(trend->low <= trend->slope && trend->slope <= trend->high);
    RC_ASSERT(std::abs(trend->slope + turned->slope) < 1e-12);
    RC_ASSERT(std::abs(trend->p - turned->p) < 1e-12);
    RC_ASSERT(trend->p >= 0 && trend->p <= 1 && std::abs(trend->tau) <= 1 + 1e-12);
}

TEST(PassTrend, AgreesWithTheOutsideFigures) {
    const auto outside = outsideCase("cochran_armitage");
    const auto trend = cochranArmitage(outside["score"].get<std::vector<double>>(),
                                       outside["successes"].get<std::vector<int>>(),
                                       outside["trials"].get<std::vector<int>>());
    ASSERT_TRUE(trend);
    EXPECT_NEAR(trend->z, outside["z"].get<double>(), 1e-12);
    EXPECT_NEAR(trend->p, outside["p_two_sided"].get<double>(), 1e-12);
    EXPECT_NEAR(trend->z * trend->z, 9.0144, 5e-5) << "R 4.2.2 prop.trend.test prints X-squared = 9.0144";
}

TEST(PassTrend, IsAbsentWhereItIsUndefined) {
    EXPECT_FALSE(cochranArmitage({}, {}, {}));
    EXPECT_FALSE(cochranArmitage({1, 2}, {0, 0}, {5, 5})) << "none passed";
    EXPECT_FALSE(cochranArmitage({1, 2}, {5, 5}, {5, 5})) << "all passed";
    EXPECT_FALSE(cochranArmitage({1, 1}, {2, 3}, {5, 5})) << "all sessions alike";
    EXPECT_FALSE(cochranArmitage({1, 2}, {6, 3}, {5, 5}));
    EXPECT_FALSE(cochranArmitage({1, 2}, {-1, 3}, {5, 5}));
    EXPECT_FALSE(cochranArmitage({1, 2}, {0, 3}, {0, 5}));
    EXPECT_FALSE(cochranArmitage({1, 2, 3}, {2, 3}, {5, 5}));
}

}  // namespace
}  // namespace markerlamp::core
