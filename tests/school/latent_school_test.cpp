// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The school itself: sound documents, the same for the same seed, true chances that change nothing.

#include "latent_school.h"
#include "baselines.h"
#include "core/attempt/attempt_document.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace markerlamp::school {

namespace {

std::vector<std::string> zonesOf(const School& school) {
    std::vector<std::string> zones;
    for (const core::Zone& zone : school.rubric()->zones) zones.push_back(zone.id);
    return zones;
}

Shape small(Shape shape) {
    shape.trainees = 12;
    return shape;
}

}  // namespace

TEST(LatentSchool, HoldsAttemptsThatAreSoundDocuments) {
    for (const Shape& shape : {small(steady()), small(patchy())}) {
        const School school(shape, 3);
        ASSERT_GT(school.attempts().size(), 20u);
        for (const Held& held : school.attempts()) {
            const auto problems = core::checkAgainstRubric(held.attempt, *school.rubric());
            EXPECT_TRUE(problems.empty()) << (problems.empty() ? "" : problems.front().message);
            const auto read = core::readAttempt(core::writeAttempt(held.attempt));
            ASSERT_TRUE(read) << read.error().message;
            EXPECT_EQ(*read, held.attempt);
        }
    }
}

TEST(LatentSchool, IsTheSameForTheSameSeedAndAnotherForAnother) {
    const School one(small(steady()), 5), again(small(steady()), 5), other(small(steady()), 6);
    ASSERT_EQ(one.attempts().size(), again.attempts().size());
    for (std::size_t i = 0; i < one.attempts().size(); ++i)
        EXPECT_EQ(one.attempts()[i].attempt, again.attempts()[i].attempt);
    EXPECT_NE(one.attempts().front().attempt, other.attempts().front().attempt);
}

TEST(LatentSchool, AsksForATrueChanceWithoutTeachingAnything) {
    const School school(small(patchy()), 7);
    const double day = school.firstDay() + 120;
    const auto zones = zonesOf(school);
    const std::vector<int> active = school.activeAt(day);
    ASSERT_FALSE(active.empty());
    const double before = school.passChance(active.front(), day, zones, 300, 11);
    for (int i = 0; i < 20; ++i) (void)school.passChance(active.front(), day + 40, zones, 10, 12);
    EXPECT_EQ(school.passChance(active.front(), day, zones, 300, 11), before);
}

TEST(LatentSchool, JudgesAnImaginedTestAsTheScoringRulesJudgeAnAttempt) {
    // Over many whole attempts that were seen to the end, as many pass by the scorecard as the true chance
    // just before each promises; the examiner's severity is the instructors' average.
    Shape shape = steady();
    shape.trainees = 150;
    shape.wholeShare = 1;
    shape.stepsPerZone = 6;
    const School school(shape, 2);
    const auto zones = zonesOf(school);
    double promised = 0, variance = 0, passed = 0;
    for (const Held& held : school.attempts()) {
        if (held.stopped) continue;
        const bool unseen = std::ranges::any_of(held.card.steps, [](const core::StepScore& step) {
            return step.outcome == core::StepOutcome::Unseen;
        });
        if (unseen) continue;
        const double chance = school.passChance(held.trainee, held.day, zones, 60, 17);
        promised += chance;
        variance += chance * (1 - chance) * (1 + 1 / 60.0);
        passed += held.card.result == core::AttemptResult::Pass;
    }
    ASSERT_GT(promised, 100);
    EXPECT_NEAR(passed, promised, 4 * std::sqrt(variance));
}

TEST(LatentSchool, ForgetsAndLearns) {
    Shape shape = steady();
    shape.trainees = 40;
    const School school(shape, 4);
    const auto zones = zonesOf(school);
    double early = 0, late = 0, muchLater = 0;
    for (int trainee = 0; trainee < shape.trainees; ++trainee) {
        early += school.passChance(trainee, school.firstDay() + 40, zones, 100, 1);
        late += school.passChance(trainee, school.firstDay() + 180, zones, 100, 1);
        muchLater += school.passChance(trainee, school.firstDay() + 500, zones, 100, 1);
    }
    EXPECT_GT(late, early + 4);
    EXPECT_LT(muchLater, late - 4);
}

TEST(LatentSchool, SteadyAndPatchyDifferInPractice) {
    const School often(steady(), 1), seldom(patchy(), 1);
    EXPECT_GT(often.attempts().size(), 1.5 * static_cast<double>(seldom.attempts().size()));
    const auto whole = [](const School& school) {
        return static_cast<double>(std::ranges::count_if(school.attempts(), &Held::whole)) /
               static_cast<double>(school.attempts().size());
    };
    EXPECT_NEAR(whole(often), 0.8, 0.06);
    EXPECT_NEAR(whole(seldom), 0.35, 0.08);
}

TEST(Baselines, ConvolveAsTheBinomialDoes) {
    // Binomial(10, 0.7), at least 8: 0.3827827864 (scipy 1.10.1, binom.sf).
    EXPECT_NEAR(chanceOfPassing(std::vector<Chanced>(10, Chanced{0.7, 1, false}), 8), 0.3827827864, 1e-10);
    // All sixteen outcomes by hand: weights 2 1, one of them must be right.
    EXPECT_NEAR(chanceOfPassing({{0.9, 2, true}, {0.5, 1, false}}, 3), 0.45, 1e-12);
}

TEST(Baselines, FindPersonsAndItemsOfARaschWorld) {
    Luck luck(9);
    std::vector<Answer> answers;
    const auto truth = [](int person, int item) {
        return 1 / (1 + std::exp(-(0.05 * (person - 20) + 0.2 * (item - 10))));
    };
    for (int person = 0; person < 40; ++person)
        for (int item = 0; item < 20; ++item)
            for (int round = 0; round < 5; ++round)
                answers.push_back({person, item, luck.happens(truth(person, item))});
    const PersonPlusItem fit(answers, 40, 20);
    double miss = 0;
    for (int person = 0; person < 40; ++person)
        for (int item = 0; item < 20; ++item)
            miss += std::abs(fit.chance(person, item) - truth(person, item)) / 800;
    EXPECT_LT(miss, 0.04);
}

}  // namespace markerlamp::school
