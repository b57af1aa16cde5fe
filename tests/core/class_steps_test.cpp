// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/program/class_steps.h"
#include "practice_support.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace markerlamp::core {
namespace {

using ::testing::ElementsAre;
using testing::MarkedAttempt;
using testing::practiceRubric;
using testing::recordOf;

TEST(ClassSteps, CountEachTraineeOnceByTheLastTry) {
    const auto rubric = practiceRubric(1, 3);
    // Step 0: everybody misses it at last; step 1: only the first tries; step 2: one of four.
    const std::vector<MarkedAttempt> attempts{
        {rubric, "a1", "a", "i", 20000, "rww"}, {rubric, "a2", "a", "i", 20003, "wrr"},
        {rubric, "b1", "b", "i", 20001, "wwr"}, {rubric, "b2", "b", "i", 20004, "wrw"},
        {rubric, "c1", "c", "i", 20002, "wrr"}, {rubric, "d1", "d", "i", 20005, "wrr"}};
    const auto steps = classSteps(*recordOf(attempts), 19990);
    ASSERT_EQ(steps.size(), 3U);
    EXPECT_EQ(steps[0].step, "z0s0");
    EXPECT_EQ(steps[0].trainees, 4);
    EXPECT_EQ(steps[0].missed, 4);
    EXPECT_THAT(steps[0].attempts, ElementsAre("d1", "b2", "a2", "c1"));
    EXPECT_EQ(steps[1].step, "z0s2");
    EXPECT_EQ(steps[1].missed, 1);
    EXPECT_THAT(steps[1].attempts, ElementsAre("b2"));
    EXPECT_EQ(steps[2].missed, 0);
    // 80 % Jeffreys interval of 4 of 4: low end is the 10 % quantile of Beta(4.5, 0.5), by the series of the
    // incomplete beta function (worked out apart): 0.7281.
    EXPECT_NEAR(steps[0].low, 0.7281, 0.0005);
    EXPECT_EQ(steps[0].high, 1);
}

TEST(ClassSteps, LeaveOutWhatFewTriedLately) {
    const auto rubric = practiceRubric(1, 2);
    const std::vector<MarkedAttempt> attempts{{rubric, "a1", "a", "i", 20000, "ww"},
                                              {rubric, "b1", "b", "i", 20001, "ww"},
                                              {rubric, "c1", "c", "i", 20002, "ww"}};
    EXPECT_EQ(classSteps(*recordOf(attempts), 20000).size(), 2U);
    EXPECT_TRUE(classSteps(*recordOf(attempts), 20000.5).empty());
    EXPECT_TRUE(classSteps(*recordOf({}), 0).empty());
}

}  // namespace
}  // namespace markerlamp::core
