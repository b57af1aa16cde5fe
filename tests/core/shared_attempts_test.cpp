// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/agreement/shared_attempts.h"
#include "scoring_support.h"

#include <gtest/gtest.h>

namespace markerlamp::core {
namespace {

using testing::AttemptBuilder;
using testing::makeRubric;
using testing::makeStep;

class SharedAttempts : public ::testing::Test {
protected:
    SharedAttempts()
        : rubric(std::make_shared<const Rubric>(
              makeRubric(std::vector<Step>{makeStep("a"), makeStep("b", 2), makeStep("c")}))) {}

    /// @param of empty for a first scoring
    AttemptBuilder scoring(const std::string& id, const std::string& instructor, const std::string& of = {}) {
        AttemptBuilder builder(*rubric);
        builder.header().id = id;
        builder.header().instructor = instructor;
        builder.header().of = of;
        return builder;
    }
    ScoredAttempt scored(const Attempt& attempt) { return {rubric, attempt, score(*rubric, attempt)}; }

    /// a and c in full by both; b in full by the first, half by the second.
    std::vector<ScoredAttempt> twoScorings() {
        auto first = scoring("one", "carver");
        first.whole(rubric->zones[0].steps[0])
            .whole(rubric->zones[0].steps[1])
            .whole(rubric->zones[0].steps[2])
            .end();
        auto second = scoring("two", "abbot", "one");
        second.whole(rubric->zones[0].steps[0]).show("b").say("b").whole(rubric->zones[0].steps[2]).end();
        return {scored(second), scored(first)};
    }

    std::shared_ptr<const Rubric> rubric;
};

TEST_F(SharedAttempts, SecondScoringsGoToTheirFirst) {
    auto attempts = twoScorings();
    auto open = scoring("three", "dunn", "one");
    open.show("a");  // not ended
    auto lone = scoring("four", "dunn", "nowhere");
    lone.show("a").end();
    attempts.push_back(scored(open));
    attempts.push_back(scored(lone));
    const auto shared = sharedAttempts(attempts);
    ASSERT_EQ(shared.size(), 1u);
    ASSERT_EQ(shared[0].scorings.size(), 2u);
    EXPECT_EQ(shared[0].scorings[0].attempt.header.id, "one");
    EXPECT_EQ(shared[0].scorings[1].attempt.header.id, "two");
}

TEST_F(SharedAttempts, ComparesStepByStep) {
    const auto shared = sharedAttempts(twoScorings());
    const ComparedSteps said = comparedSteps(shared, Compared::Said);
    EXPECT_EQ(said.table.units, (std::vector<std::vector<int>>{{2, 2}, {2, 1}, {2, 2}}));
    const Agreement shown = agreementOf(shared, Compared::Shown);
    EXPECT_EQ(shown.counts, (std::vector<std::vector<int>>{{0, 0}, {0, 3}}));
    EXPECT_EQ(shown.share, 1);
    EXPECT_FALSE(shown.kappa);  // both used one class
    EXPECT_FALSE(shown.agreedNo);
    const Agreement credited = agreementOf(shared, Compared::Credited);
    EXPECT_EQ(credited.counts, (std::vector<std::vector<int>>{{0, 0}, {1, 2}}));
    EXPECT_NEAR(*credited.share, 2.0 / 3, 1e-12);
    EXPECT_NEAR(*credited.agreedYes, 4.0 / 5, 1e-12);
    EXPECT_FALSE(credited.byAttempt);  // one attempt: its steps were resampled
}

TEST_F(SharedAttempts, WhatOneCouldNotObserveIsNotCompared) {
    auto first = scoring("one", "carver");
    first.show("a").mark(EventKind::Unseen, "b").mark(EventKind::Omit, "c").end();
    auto second = scoring("two", "abbot", "one");
    second.show("a").show("b").show("c").end();
    const auto shared = sharedAttempts({scored(first), scored(second)});
    const ComparedSteps shown = comparedSteps(shared, Compared::Shown);
    EXPECT_EQ(shown.steps, (std::vector<std::string>{"a", "c"}));
    EXPECT_EQ(shown.table.units, (std::vector<std::vector<int>>{{1, 1}, {0, 1}}));
}

TEST_F(SharedAttempts, NamesTheStepsThatAreReadDifferently) {
    const auto disputed = disputedSteps(sharedAttempts(twoScorings()));
    ASSERT_EQ(disputed.size(), 1u);
    EXPECT_EQ(disputed[0].step, "b");
    EXPECT_EQ(disputed[0].title, "Step b");
    EXPECT_EQ(disputed[0].compared, 1);
    EXPECT_EQ(disputed[0].differing, 1);
}

TEST_F(SharedAttempts, PairsStandByKeyNotByStrictness) {
    const auto pairs = pairsOfInstructors(sharedAttempts(twoScorings()));
    ASSERT_EQ(pairs.size(), 1u);
    EXPECT_EQ(pairs[0].a, "abbot");
    EXPECT_EQ(pairs[0].b, "carver");
    EXPECT_EQ(pairs[0].steps, 3);
    EXPECT_EQ(pairs[0].differing, 1);
    EXPECT_EQ(pairs[0].onlyA, 0);
    ASSERT_TRUE(pairs[0].share);
    EXPECT_LT(pairs[0].share->low, 2.0 / 3);
}

TEST_F(SharedAttempts, NothingToCompareIsNoError) {
    const auto agreement = agreementOf({}, Compared::Said);
    EXPECT_EQ(agreement.steps, 0);
    EXPECT_FALSE(agreement.share);
    EXPECT_FALSE(agreement.interval);
    EXPECT_TRUE(disputedSteps({}).empty());
    EXPECT_TRUE(pairsOfInstructors({}).empty());
}

}  // namespace
}  // namespace markerlamp::core
