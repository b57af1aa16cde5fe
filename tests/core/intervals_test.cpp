// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/stats/intervals.h"
#include "scoring_support.h"

#include <gtest/gtest.h>

#include <array>
#include <limits>
#include <sstream>

namespace markerlamp::core {
namespace {

TEST(Intervals, AgreeWithTheOutsideTable) {
    std::istringstream table(testing::readTestData("proportion-intervals.csv"));
    std::string line;
    int rows = 0;
    while (std::getline(table, line)) {
        if (line.starts_with('#') || line.starts_with('x')) continue;
        SCOPED_TRACE(line);
        std::array<double, 7> field{};
        std::istringstream fields(line);
        std::string text;
        for (double& value : field) {
            ASSERT_TRUE(std::getline(fields, text, ','));
            value = std::stod(text);
        }
        const auto [x, n, level, wilsonLow, wilsonHigh, jeffreysLow, jeffreysHigh] = field;
        const auto score = wilson(x, n, level);
        const auto beta = jeffreys(x, n, level);
        ASSERT_TRUE(score && beta);
        EXPECT_NEAR(score->low, wilsonLow, 1e-9);
        EXPECT_NEAR(score->high, wilsonHigh, 1e-9);
        EXPECT_NEAR(beta->low, jeffreysLow, 1e-9);
        EXPECT_NEAR(beta->high, jeffreysHigh, 1e-9);
        ++rows;
    }
    EXPECT_EQ(rows, 48);
}

// Newcombe 1998, Statistics in Medicine 17:857-872, table I, score method without continuity correction
// (values from memory, confirmed with statsmodels 0.13.5).
TEST(Intervals, WilsonGivesTheValuesOfNewcombe) {
    struct Row {
        double x, n, low, high;
    };
    for (const Row& row : {Row{81, 263, 0.2553, 0.3662}, Row{15, 148, 0.0624, 0.1605}, Row{0, 20, 0, 0.1611},
                           Row{1, 29, 0.0061, 0.1718}}) {
        const auto interval = wilson(row.x, row.n, 0.95);
        ASSERT_TRUE(interval);
        EXPECT_NEAR(interval->low, row.low, 5e-5);
        EXPECT_NEAR(interval->high, row.high, 5e-5);
    }
}

TEST(Intervals, EndsAreExact) {
    EXPECT_EQ(wilson(0, 7, 0.8)->low, 0);
    EXPECT_EQ(wilson(7, 7, 0.8)->high, 1);
    EXPECT_EQ(jeffreys(0, 7, 0.8)->low, 0);
    EXPECT_EQ(jeffreys(7, 7, 0.8)->high, 1);
}

TEST(Intervals, NothingForCountsThatMakeNoSense) {
    const double nan = std::numeric_limits<double>::quiet_NaN();
    for (const auto& [x, n, level] :
         {std::array{0.0, 0.0, 0.8}, std::array{-1.0, 5.0, 0.8}, std::array{6.0, 5.0, 0.8},
          std::array{1.0, 5.0, 0.0}, std::array{1.0, 5.0, 1.0}, std::array{nan, 5.0, 0.8},
          std::array{1.0, nan, 0.8}}) {
        EXPECT_FALSE(wilson(x, n, level));
        EXPECT_FALSE(jeffreys(x, n, level));
    }
}

TEST(Intervals, FractionalCountsLieBetweenTheWholeOnes) {
    const auto below = wilson(3, 10, 0.8);
    const auto between = wilson(3.5, 10, 0.8);
    const auto above = wilson(4, 10, 0.8);
    EXPECT_LT(below->low, between->low);
    EXPECT_LT(between->low, above->low);
    EXPECT_LT(below->high, between->high);
    EXPECT_LT(between->high, above->high);
}

}  // namespace
}  // namespace markerlamp::core
