// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/agreement/strictness.h"
#include "core/agreement/shared_attempts.h"

#include <gtest/gtest.h>

#include <cmath>

namespace markerlamp::core {
namespace {

using Severity = LearningModel::Severity;

/// A severity as the model gives it: the raw figure, shrunken by a normal prior of this spread.
Severity shrunken(const std::string& who, double raw, double error, double spread, int steps) {
    const double weight = spread * spread / (spread * spread + error * error);
    return {who, raw * weight, std::sqrt(weight) * error, steps};
}

TEST(Strictness, TakesTheShrinkingBack) {
    // 100 steps at 0.2 logits each way of error, prior spread 0.5; half of the steps are credited, so that a
    // logit is 25 steps in 100 (the slope of the logistic curve at 1/2 is 1/4).
    const auto funnel =
        strictnessFunnel({shrunken("a", 0.4, 0.2, 0.5, 100), shrunken("b", -0.1, 0.2, 0.5, 100)}, 0.5, 0.5,
                         {{"a", 3}, {"b", 4}});
    ASSERT_EQ(funnel.instructors.size(), 2u);
    EXPECT_NEAR(funnel.instructors[0].credit, -10, 1e-9) << "stricter: credits less";
    EXPECT_NEAR(funnel.instructors[1].credit, 2.5, 1e-9);
    EXPECT_NEAR(funnel.instructors[0].low, -10 - 1.96 * 5, 1e-3);
    EXPECT_NEAR(funnel.instructors[0].high, -10 + 1.96 * 5, 1e-3);
    // The limit at as many steps is the same multiple of the raw error, and half as wide at four times as
    // many.
    EXPECT_NEAR(funnel.limit(100, kOuter), 1.96 * 5, 1e-3);
    EXPECT_NEAR(funnel.limit(400, kOuter), 1.96 * 2.5, 1e-3);
    EXPECT_TRUE(funnel.instructors[0].outsideOuter);  // 10 > 9.8
    EXPECT_FALSE(funnel.instructors[1].outsideInner);
}

TEST(Strictness, FewSharedAttemptsSayNothing) {
    const auto funnel = strictnessFunnel({shrunken("a", 2, 0.2, 0.5, 100), shrunken("b", -2, 0.2, 0.5, 100)},
                                         0.5, 0.5, {{"a", kFewestShared - 1}});
    for (const Strictness& one : funnel.instructors) {
        EXPECT_TRUE(one.tooFew);
        EXPECT_FALSE(one.outsideInner);
        EXPECT_FALSE(one.outsideOuter);
    }
    EXPECT_EQ(funnel.judged(), 0);
    EXPECT_EQ(funnel.chanceByLuck(0.95), 0);
}

TEST(Strictness, SaysHowOftenLuckAlonePutsOneOutside) {
    std::vector<Severity> five;
    std::map<std::string, int> shared;
    for (const char* who : {"e", "d", "c", "b", "a"}) {
        five.push_back(shrunken(who, 0, 0.2, 0.5, 100));
        shared[who] = 5;
    }
    const auto funnel = strictnessFunnel(five, 0.5, 0.8, shared);
    // 1 - 0.95^5 and 1 - 0.8^5, by hand.
    EXPECT_NEAR(funnel.chanceByLuck(0.95), 0.2262190625, 1e-9);
    EXPECT_NEAR(funnel.chanceByLuck(0.80), 0.67232, 1e-9);
    EXPECT_EQ(funnel.instructors.front().instructor, "a") << "by key, not by strictness";
}

TEST(Strictness, NothingKnownIsNothingShown) {
    // An error as wide as the prior: the model learned nothing about them.
    const auto funnel = strictnessFunnel({{"a", 0, 0.5, 10}, {"b", 0.1, 0.5, 0}}, 0.5, 0.5, {});
    EXPECT_TRUE(funnel.instructors.empty());
    EXPECT_EQ(funnel.limit(100, kOuter), 0);
    EXPECT_TRUE(strictnessFunnel({{"a", 0.1, 0.2, 10}}, 0, 0.5, {}).instructors.empty());
}

}  // namespace
}  // namespace markerlamp::core
