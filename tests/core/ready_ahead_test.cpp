// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/readiness/ready_ahead.h"
#include "core/readiness/draws_ahead.h"
#include "practice_support.h"

#include <gtest/gtest.h>

namespace markerlamp::core {
namespace {

using testing::MarkedAttempt;
using testing::practiceRubric;
using testing::recordOf;

constexpr double kLater = 20060;

/// Trainees who begin badly and do one step more right each attempt, and one who stays as he was.
std::vector<MarkedAttempt> learners(const std::shared_ptr<const Rubric>& rubric, int steps) {
    std::vector<MarkedAttempt> all;
    const auto add = [&](const std::string& trainee, int attempt, int right) {
        std::string marks(static_cast<std::size_t>(steps), 'w');
        for (int s = 0; s < right && s < steps; ++s) marks[static_cast<std::size_t>((s * 7) % steps)] = 'r';
        all.push_back(
            {rubric, trainee + std::to_string(attempt), trainee, "i", 20000 + 4.0 * attempt, marks});
    };
    for (int t = 0; t < 6; ++t)
        for (int a = 0; a < 8; ++a) add("t" + std::to_string(t), a, 3 + t + a);
    for (int a = 0; a < 8; ++a) add("early", a % 3, 3 + a % 3);
    for (int a = 0; a < 8; ++a) add("flat", a, 3);
    return all;
}

ReadyAhead aheadOf(const LearningModel& model, const std::shared_ptr<const Rubric>& rubric,
                   const std::string& trainee) {
    return readyAhead(model, {trainee, kLater, wholeScope(rubric, {})}, 0.8, 4);
}

TEST(ReadyAhead, GoesOnAsTheTraineeHasLearned) {
    const auto rubric = practiceRubric(2, 6);
    const auto model = LearningModel::fit(recordOf(learners(rubric, 12)));
    const ReadyAhead best = aheadOf(*model, rubric, "t5"), early = aheadOf(*model, rubric, "early"),
                     flat = aheadOf(*model, rubric, "flat");
    EXPECT_TRUE(best.now);
    EXPECT_EQ(best.highDays(), 0);
    for (const ReadyAhead& later : {early, flat}) {
        EXPECT_FALSE(later.now);
        EXPECT_TRUE(!later.high || *later.high > 0);
        EXPECT_TRUE(!later.high || (later.low && *later.high >= *later.low));
        EXPECT_EQ(later.horizonDays(), kFarthestAhead * 4);
    }
    if (early.low) {
        EXPECT_EQ(early.lowDays(), *early.low * 4);
    }
}

TEST(ReadyAhead, WhoIsThereNowNeedsNoFurtherAttempt) {
    const auto rubric = practiceRubric(2, 6);
    std::vector<MarkedAttempt> attempts = learners(rubric, 12);
    for (int a = 0; a < 8; ++a)
        attempts.push_back({rubric, "good" + std::to_string(a), "good", "i", 20000 + 4.0 * a, ""});
    const auto model = LearningModel::fit(recordOf(attempts));
    const ReadyAhead good = aheadOf(*model, rubric, "good");
    EXPECT_TRUE(good.now);
    EXPECT_EQ(good.low, 0);
    EXPECT_EQ(good.highDays(), 0);
}

TEST(ReadyAhead, FurtherAttemptsNeverLowerASkill) {
    const auto rubric = practiceRubric(2, 6);
    const auto model = LearningModel::fit(recordOf(learners(rubric, 12)));
    ForecastRequest request{"t2", kLater, wholeScope(rubric, {}), 40};
    const TestDraws now = testDraws(*model, request);
    request.further = 6;
    const TestDraws later = testDraws(*model, request);
    ASSERT_EQ(now.logit.size(), later.logit.size());
    double before = 0, after = 0;
    for (std::size_t i = 0; i < now.logit.size(); ++i) {
        before += now.logit[i];
        after += later.logit[i];
    }
    EXPECT_GT(after, before);
}

TEST(DrawsAhead, AreThoseOfEachLookByItself) {
    const auto rubric = practiceRubric(2, 6);
    const auto model = LearningModel::fit(recordOf(learners(rubric, 12)));
    // A section of which the record knows nothing too: what is drawn anew is the same in every look.
    for (const std::string trainee : {"t2", "nobody"}) {
        ForecastRequest request{trainee, kLater, wholeScope(rubric, {}), 40};
        std::vector<TestDraws> made;
        testDrawsAhead(*model, request, std::array{0, 3, 9}, [&](const TestDraws& draws) {
            made.push_back(draws);
            return made.size() < 2;
        });
        ASSERT_EQ(made.size(), 2U) << "ends when it is told to";
        for (const int further : {0, 3}) {
            request.further = further;
            const TestDraws alone = testDraws(*model, request);
            const TestDraws& same = made[further == 0 ? 0 : 1];
            EXPECT_EQ(same.logit, alone.logit) << trainee << " " << further;
            EXPECT_EQ(same.drilled, alone.drilled);
            EXPECT_EQ(same.kept, alone.kept);
            EXPECT_EQ(same.daySpread, alone.daySpread);
        }
    }
}

TEST(PaceOf, IsTheMedianOfTheLastGaps) {
    EXPECT_EQ(paceOf({}, 5), 5);
    EXPECT_EQ(paceOf({20000}, 5), 5);
    EXPECT_EQ(paceOf({20000, 20003}, 5), 3);
    EXPECT_EQ(paceOf({0, 100, 102, 105, 107, 110, 113}, 5), 3) << "only the last five gaps";
    EXPECT_EQ(paceOf({20000, 20000.2, 20000.4}, 5), 1) << "at least a day";
}

}  // namespace
}  // namespace markerlamp::core
