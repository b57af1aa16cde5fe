// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// A limit set makes a new edition of a rubric: what changes, what does not, what is refused.

#include "core/rubric/new_edition.h"

#include "../support/sample_attempt.h"

#include <gtest/gtest.h>

namespace markerlamp::core {
namespace {

using testing::builtInLimits;
using testing::builtInRubric;

TEST(NewEdition, NamesEveryChangeWithBothBounds) {
    const Rubric rubric = builtInRubric("air-brake-school-bus");
    const LimitSet set = builtInLimits("modernised-test");
    const LimitComparison comparison = compareLimits(rubric, set);
    EXPECT_TRUE(comparison.unknown.empty());
    EXPECT_EQ(comparison.changes.size() + comparison.same.size(), set.limits.size());
    for (const LimitChange& change : comparison.changes) {
        EXPECT_EQ(change.before, *rubric.limit(change.before.id));
        EXPECT_NE(change.before, change.after);
    }
    const auto edition = newEdition(rubric, set, 2);
    ASSERT_TRUE(edition) << edition.error().message;
    EXPECT_EQ(edition->edition, 2);
    // Georgia section 11M.1.2: cut-out about 120 to 140 psi.
    EXPECT_EQ(edition->limit("cut-out")->low, 120);
    EXPECT_EQ(edition->limit("cut-out")->high, 140);
    EXPECT_EQ(*edition, *withLimits(rubric, set, 2));
    const auto read = readRubric(writeRubric(*edition));
    ASSERT_TRUE(read);
    EXPECT_EQ(*read, *edition);
}

TEST(NewEdition, LeavesOutAndNamesWhatTheRubricDoesNotHave) {
    const Rubric rubric = builtInRubric("hydraulic-brake-school-bus");
    LimitSet set = builtInLimits("federal-in-use");
    Limit strange = set.limits.front();
    strange.id = "wing-span";
    set.limits.push_back(strange);
    set.limits.front().low = 99;
    EXPECT_EQ(compareLimits(rubric, set).unknown, std::vector<std::string>{"wing-span"});
    const auto edition = newEdition(rubric, set, 2);
    ASSERT_TRUE(edition) << edition.error().message;
    EXPECT_EQ(edition->limit("wing-span"), nullptr);
    EXPECT_EQ(edition->limit(set.limits.front().id)->low, 99);
}

TEST(NewEdition, IsRefusedWhenNothingChanges) {
    const Rubric rubric = builtInRubric("air-brake-school-bus");
    const LimitSet own{"own", "Own", "", rubric.limits};
    const auto same = newEdition(rubric, own, 2);
    ASSERT_FALSE(same);
    EXPECT_NE(same.error().message.find("changes nothing"), std::string::npos);
    LimitSet other{"other", "Other", "", {rubric.limits.front()}};
    other.limits.front().id = "wing-span";
    EXPECT_FALSE(newEdition(rubric, other, 2));
}

TEST(NewEdition, IsRefusedInAnotherUnitAndUnderAnOldNumber) {
    const Rubric rubric = builtInRubric("air-brake-school-bus");
    LimitSet set{"kpa", "Metric", "", {*rubric.limit("applied-leak")}};
    set.limits.front().unit = "kPa";
    ASSERT_EQ(compareLimits(rubric, set).otherUnit.size(), 1u);
    const auto metric = newEdition(rubric, set, 2);
    ASSERT_FALSE(metric);
    ASSERT_EQ(metric.error().problems.size(), 1u);
    EXPECT_EQ(metric.error().problems[0].path, "limits.applied-leak.unit");
    set.limits.front().unit = "psi";
    set.limits.front().high = 2;
    EXPECT_FALSE(newEdition(rubric, set, 1));
    EXPECT_TRUE(newEdition(rubric, set, 7));
}

}  // namespace
}  // namespace markerlamp::core
