// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/readiness/pass_chance.h"
#include "core/readiness/forecast.h"
#include "scoring_support.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>
#include <nlohmann/json.hpp>

#include <cmath>
#include <memory>

namespace markerlamp::core {
namespace {

using nlohmann::json;

std::vector<ScoredChance> stepsOf(const json& given) {
    std::vector<ScoredChance> steps;
    for (std::size_t i = 0; i < given["p"].size(); ++i)
        steps.push_back({given["p"][i].get<double>(), given["points"][i].get<int>(), false});
    for (const json& must : given["must"]) steps[must.get<std::size_t>()].mustPass = true;
    return steps;
}

TEST(PassChance, AgreesWithOtherPrograms) {
    const json document = json::parse(testing::readTestData("score-distribution.json"));
    ASSERT_GE(document["cases"].size(), 7u);
    for (const json& given : document["cases"]) {
        SCOPED_TRACE(given["name"].get<std::string>());
        const std::vector<ScoredChance> steps = stepsOf(given);
        const std::vector<double> score = scoreDistribution(steps);
        ASSERT_EQ(score.size(), given["pmf"].size());
        for (std::size_t k = 0; k < score.size(); ++k)
            EXPECT_NEAR(score[k], given["pmf"][k].get<double>(), 1e-12);
        EXPECT_NEAR(passChance(steps, given["need"].get<int>()), given["pass_prob"].get<double>(), 1e-12);
    }
}

TEST(PassChance, IsTheBinomialTailForEqualSteps) {
    for (const int n : {1, 7, 40}) {
        for (const double p : {0.05, 0.5, 0.93}) {
            const std::vector<double> score =
                scoreDistribution(std::vector<ScoredChance>(std::size_t(n), {p, 1, false}));
            for (int k = 0; k <= n; ++k) {
                const double choose =
                    std::exp(std::lgamma(n + 1.0) - std::lgamma(k + 1.0) - std::lgamma(n - k + 1.0));
                EXPECT_NEAR(score[std::size_t(k)], choose * std::pow(p, k) * std::pow(1 - p, n - k), 1e-10);
            }
        }
    }
}

TEST(PassChance, NeedsWhatTheScoringRulesNeed) {
    EXPECT_EQ(neededScore(80, 150), 120);
    EXPECT_EQ(neededScore(80, 151), 121);  // 120.8
    EXPECT_EQ(neededScore(0, 10), 0);
    EXPECT_EQ(neededScore(100, 10), 10);
    EXPECT_EQ(neededScore(100.0 / 3, 3), 1);
    EXPECT_EQ(neededScore(80, 0), 1) << "nothing in scope scores 0 percent";
    for (int possible = 1; possible < 300; ++possible) {
        for (const double percent : {33.3, 66.6666666667, 70.0, 80.0, 85.5, 90.0}) {
            const int need = neededScore(percent, possible);
            EXPECT_GE(100.0 * need / possible, percent - 1e-9);
            EXPECT_LT(100.0 * (need - 1) / possible, percent - 1e-9);
        }
    }
}

TEST(PassChance, IsNothingWhereTheNeedIsOutOfReach) {
    EXPECT_EQ(passChance({{1, 2, false}}, 3), 0);
    EXPECT_EQ(passGains({{1, 2, false}}, 3), std::vector<double>{0});
    EXPECT_EQ(passChance({}, 0), 1);
}

RC_GTEST_PROP(PassChance, GainsAreTheDerivatives, ()) {
    const auto n = *rc::gen::inRange<std::size_t>(1, 9);
    std::vector<ScoredChance> steps;
    int sum = 0;
    for (std::size_t i = 0; i < n; ++i) {
        steps.push_back(
            {*rc::gen::inRange(0, 101) / 100.0, *rc::gen::inRange(1, 4), *rc::gen::inRange(0, 5) == 0});
        sum += steps.back().weight;
    }
    const int need = *rc::gen::inRange(0, sum + 1);
    const std::vector<double> gains = passGains(steps, need);
    for (std::size_t j = 0; j < n; ++j) {  // a chance is linear in that of one step
        std::vector<ScoredChance> right = steps, wrong = steps;
        right[j].right = 1;
        wrong[j].right = 0;
        RC_ASSERT(std::abs(gains[j] - (passChance(right, need) - passChance(wrong, need))) < 1e-12);
    }
}

/// Draws by hand: one part over all steps.
TestDraws byHand(const std::vector<double>& logits, const std::vector<int>& must, double percent,
                 double daySpread) {
    std::vector<Step> steps;
    for (std::size_t i = 0; i < logits.size(); ++i)
        steps.push_back(testing::makeStep("s" + std::to_string(i)));
    Rubric rubric = testing::makeRubric(steps);
    rubric.pass.percent = percent;
    TestDraws draws;
    draws.scope = wholeScope(std::make_shared<const Rubric>(rubric), {});
    draws.inPart.resize(1);
    for (std::size_t i = 0; i < logits.size(); ++i) {
        draws.steps.push_back({"s" + std::to_string(i), "z", 1, false, 0.3});
        draws.inPart[0].push_back(int(i));
    }
    for (const int i : must) draws.steps[std::size_t(i)].mustPass = true;
    draws.draws = 1;
    draws.logit = logits;
    draws.drilled = logits;
    draws.daySpread = {daySpread};
    draws.kept = {1};
    return draws;
}

TEST(PassChances, IntegrateTheDayOutsideTheScore) {
    const json document = json::parse(testing::readTestData("ability-integrated.json"));
    ASSERT_EQ(document["cases"].size(), 3u);
    for (const json& given : document["cases"]) {
        std::vector<double> logits;
        for (const json& easiness : given["easiness"])
            logits.push_back(easiness.get<double>() + given["ability_mean"].get<double>());
        const double percent = 100.0 * given["need"].get<int>() / double(logits.size());
        const double sd = given["ability_sd"].get<double>();
        // The days are eleven points of a quadrature; the published values come from a dense one.
        EXPECT_NEAR(passChances(byHand(logits, {}, percent, sd))[0], given["integrated"].get<double>(),
                    sd == 0 ? 1e-9 : 2e-3)
            << "sd " << sd;
    }
}

TEST(PassChances, AgreeWithTheConvolutionOnACalmDay) {
    const json document = json::parse(testing::readTestData("score-distribution.json"));
    for (const json& given : document["cases"]) {
        bool whole = true;
        for (const json& points : given["points"]) whole = whole && points == 1;
        if (!whole || given["name"] == "extremes") continue;
        std::vector<double> logits;
        for (const json& p : given["p"]) logits.push_back(std::log(p.get<double>() / (1 - p.get<double>())));
        const double percent = 100.0 * given["need"].get<int>() / double(logits.size());
        EXPECT_NEAR(passChances(byHand(logits, given["must"].get<std::vector<int>>(), percent, 0))[0],
                    given["pass_prob"].get<double>(), 1e-10)
            << given["name"];
    }
}

TEST(PassChances, GoOverThePartsByTheirShares) {
    TestDraws draws = byHand({2, -1}, {}, 100, 0);
    const double first = 1 / (1 + std::exp(-2.0)), second = 1 / (1 + std::exp(1.0));
    draws.scope.parts = {{"a", "A", 0.25, {}}, {"b", "B", 0.75, {}}};
    draws.inPart = {{0}, {1}};
    draws.kept = {1, 0.5};
    EXPECT_NEAR(passChances(draws)[0], 0.25 * first + 0.75 * 0.5 * second, 1e-12);
}

TEST(PassChances, WeightsCountInTheTest) {
    TestDraws draws = byHand({0.3, -0.2, 1.0, 0.7}, {}, 60, 0.5);
    const std::vector<int> weights{3, 2, 1, 4};
    for (std::size_t i = 0; i < 4; ++i) draws.steps[i].weight = weights[i];
    draws.steps[1].mustPass = true;
    // A dense sum over days in place of the quadrature.
    double sum = 0, mass = 0;
    for (double day = -6; day <= 6; day += 0.001) {
        std::vector<ScoredChance> steps;
        for (std::size_t i = 0; i < 4; ++i)
            steps.push_back({1 / (1 + std::exp(-draws.logit[i] - 0.5 * day)), weights[i], i == 1});
        sum += std::exp(-day * day / 2) * passChance(steps, 6);
        mass += std::exp(-day * day / 2);
    }
    EXPECT_NEAR(passChances(draws)[0], sum / mass, 1e-5);
}

}  // namespace
}  // namespace markerlamp::core
