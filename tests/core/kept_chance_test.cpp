// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/readiness/kept_chance.h"
#include "practice_support.h"

#include <gtest/gtest.h>

#include <cmath>

namespace markerlamp::core {
namespace {

TEST(BetaBinomial, FindsAlikePersons) {
    // Everybody 8 of 10: one chance for all, so next to no spread between persons.
    const BetaBelief belief = betaBinomial(std::vector<BetaCounts>(40, {8, 10}));
    EXPECT_NEAR(belief.mean(), 0.8, 0.02);
    EXPECT_GT(belief.a + belief.b, 20);
}

TEST(BetaBinomial, FindsUnlikePersons) {
    // Half keep it always, half never: the spread between persons is all there is.
    std::vector<BetaCounts> persons(20, {10, 10});
    persons.insert(persons.end(), 20, {0, 10});
    const BetaBelief belief = betaBinomial(persons);
    EXPECT_NEAR(belief.mean(), 0.5, 0.1);
    EXPECT_LT(belief.a + belief.b, 1);
}

TEST(BetaBinomial, AssumesWhereNothingWasSeen) {
    const BetaBelief belief = betaBinomial({});
    EXPECT_GT(belief.mean(), 0.5);
    EXPECT_LT(belief.a + belief.b, 10) << "a few attempts outweigh it";
}

TEST(BetaBelief, HasQuantiles) {
    // scipy.stats.beta(7.5, 3.5).ppf([.025, .975]) as in the Jeffreys example of 7/10 (worked by scipy and
    // Boost).
    const BetaBelief belief{7.5, 3.5};
    EXPECT_NEAR(belief.quantile(0.025), 0.3941816819, 1e-9);
    EXPECT_NEAR(belief.quantile(0.975), 0.9073054061, 1e-9);
}

/// A record of one rule only: per trainee a word of k (kept) and b (broken), one letter an attempt.
std::shared_ptr<const PracticeRecord> ruleRecord(const std::vector<std::string>& trainees) {
    Rubric document = *testing::practiceRubric(1, 3);
    document.order.push_back(testing::chainRule("chain", {"z0s0", "z0s1"}));
    document.order.back().strict = document.order.back().mustPass = true;
    auto record = std::make_shared<PracticeRecord>();
    for (std::size_t t = 0; t < trainees.size(); ++t) {
        for (std::size_t a = 0; a < trainees[t].size(); ++a) {
            testing::AttemptBuilder builder(document);
            builder.header().id = std::to_string(t) + "-" + std::to_string(a);
            builder.header().trainee = "t" + std::to_string(t);
            builder.header().started = momentOf(20000 + double(a));
            const bool kept = trainees[t][a] == 'k';
            for (const std::string step : {kept ? "z0s0" : "z0s1", kept ? "z0s1" : "z0s0", "z0s2"})
                builder.show(step);
            const Attempt attempt = builder.end();
            record->add(document, attempt, score(document, attempt));
        }
    }
    record->sort();
    return record;
}

double keeps(const Habits& habits, const PracticeRecord& record, const std::string& trainee) {
    const auto attempts = record.attemptsOf(record.traineeNumber(trainee).value(), 1e9);
    return habits.keeping(attempts, 400).chances(0).mean();
}

TEST(Habits, TellKeepersFromBreakers) {
    const auto record = ruleRecord({"kkkkkk", "bbbbbb", "kbkbkb", "k", "b", "kkkkkk", "bkbkkk", "kkkbkk"});
    const Habits habits(*record, 1e9);
    EXPECT_GT(keeps(habits, *record, "t0"), 0.8);
    EXPECT_LT(keeps(habits, *record, "t1"), 0.45);
    EXPECT_GT(keeps(habits, *record, "t0"), keeps(habits, *record, "t3")) << "six times tell more than once";
    EXPECT_GT(keeps(habits, *record, "t3"), keeps(habits, *record, "t4"));
    EXPECT_LT(keeps(habits, *record, "t2"), keeps(habits, *record, "t0"));
}

TEST(Habits, LearnThatTheProgramLearns) {
    // All break it at first and keep it later: who is at his fifth attempt will keep it, whoever he is.
    const auto record = ruleRecord(std::vector<std::string>(12, "bbbkkkkk"));
    const Habits habits(*record, 1e9);
    EXPECT_GT(keeps(habits, *record, "t0"), 0.85);
    EXPECT_LT(habits.keeping({}, 400).chances(0).mean(), 0.5);
}

TEST(Habits, AssumeForARuleWithoutRecord) {
    const auto record = ruleRecord({});
    const Habits habits(*record, 1e9);
    const Eigen::ArrayXd chances = habits.keeping({}, 400).chances(-1);
    EXPECT_GT(chances.mean(), 0.5);
    EXPECT_GT((chances - chances.mean()).matrix().norm() / 20, 0.1) << "and knows little";
}

TEST(Habits, KnowNothingFromTheirDayOn) {
    const auto record = ruleRecord({"kkbbbb", "kkkkkk", "kbbbbb"});
    const auto earlier = ruleRecord({"kk", "kk", "kb"});
    const Habits habits(*record, 20002), known(*earlier, 20002);
    const std::vector<std::size_t> own = record->attemptsOf(0, 20002);
    EXPECT_EQ(habits.keeping(own, 50).chances(0).mean(),
              known.keeping(earlier->attemptsOf(0, 20002), 50).chances(0).mean());
}

}  // namespace
}  // namespace markerlamp::core
