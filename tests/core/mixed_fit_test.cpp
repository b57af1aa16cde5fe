// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The fit against computed fits of open data. Ours is the Laplace approximation, as lme4's glmer has it. What
// is left between them: our spreads also count the uncertainty of the shared effects (as restricted
// likelihood does), and shared effects that are a group stand at their joint mode.

#include "core/readiness/mixed_fit.h"
#include "scoring_support.h"

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include <array>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

namespace markerlamp::core {
namespace {

using nlohmann::json;

/// One person's answers, item by item.
struct Answers {
    std::vector<std::pair<int, bool>> items;
};

constexpr int kPersonGroup = 0, kItemGroup = 1;

/// logit p = intercept + item + person. Items free (a wide prior) or a group.
MixedProblem answersProblem(const std::vector<Answers>& persons, int items, bool itemsAreGroup) {
    MixedProblem problem;
    problem.persons = int(persons.size());
    const int intercept = kRowFeatures, first = kRowFeatures + 1;
    problem.globals = first + items;
    problem.prior.mean = Eigen::VectorXd::Zero(problem.globals);
    problem.prior.sd = Eigen::VectorXd::Constant(problem.globals, 100);
    if (!itemsAreGroup) problem.prior.sd[intercept] = 1e-3;  // the items carry it
    problem.prior.group.assign(std::size_t(problem.globals), -1);
    if (itemsAreGroup)
        for (int i = 0; i < items; ++i) problem.prior.group[std::size_t(first + i)] = kItemGroup;
    problem.groups = {{1, 1e-6}, {1, 1e-6}};  // no prior on the spreads: as the other programs
    problem.rows = [&persons, intercept](int person, PersonRows& rows) {
        MixedSitting sitting;
        sitting.global = {{intercept, 1.0}};
        sitting.local = {{0, 1.0}};
        for (const auto& [item, right] : persons[std::size_t(person)].items) {
            MixedRow row;
            row.global = first + item;
            row.right = right;
            rows.rows.push_back(row);
        }
        sitting.end = rows.rows.size();
        rows.sittings.push_back(sitting);
        rows.group = {kPersonGroup};
    };
    return problem;
}

MixedFit fitted(const MixedProblem& problem) {
    MixedOptions options;
    options.mostPasses = 200;
    options.spreadTolerance = 1e-6;
    options.tolerance = 1e-6;
    return fitMixed(problem, options);
}

std::vector<Answers> lsat6() {
    std::istringstream text(testing::readTestData("lsat6-patterns.csv"));
    std::vector<Answers> persons;
    std::string line;
    while (std::getline(text, line)) {
        if (line.empty() || (line[0] != '0' && line[0] != '1')) continue;
        std::array<int, 6> values{};
        std::istringstream fields(line);
        for (int& value : values) {
            fields >> value;
            fields.ignore(1);
        }
        Answers answers;
        for (int i = 0; i < 5; ++i) answers.items.emplace_back(i, values[std::size_t(i)] == 1);
        persons.insert(persons.end(), std::size_t(values[5]), answers);
    }
    return persons;
}

TEST(MixedFit, FindsTheRaschModelOfLsat6) {
    const std::vector<Answers> persons = lsat6();
    ASSERT_EQ(persons.size(), 1000u);
    const MixedFit fit = fitted(answersProblem(persons, 5, false));
    const json fits = json::parse(testing::readTestData("mixed-fits.json"));
    for (int i = 0; i < 5; ++i)
        EXPECT_NEAR(fit.global[kRowFeatures + 1 + i],
                    fits["lsat6_laplace"]["beta"][std::size_t(i)].get<double>(), 2e-3)
            << i;
    EXPECT_NEAR(fit.spread[0], fits["lsat6_laplace"]["sd"].get<double>(), 3e-3);
    // Laplace falls short of quadrature where a person has five rows. Ours have hundreds.
    EXPECT_NEAR(fit.spread[0], fits["lsat6"]["sd"].get<double>(), 0.05);
}

TEST(MixedFit, PrefersTheSpreadThatLaplacePrefers) {
    // The Laplace log-likelihood itself, by which half-lives are compared, peaks where lme4's does.
    const std::vector<Answers> persons = lsat6();
    const double sd =
        json::parse(testing::readTestData("mixed-fits.json"))["lsat6_laplace"]["sd"].get<double>();
    std::vector<double> likelihood;
    for (const double spread : {sd - 0.12, sd, sd + 0.12}) {
        MixedOptions options;
        options.estimateSpreads = false;
        options.spread = {spread, 1};
        likelihood.push_back(fitMixed(answersProblem(persons, 5, false), options).logMarginal);
    }
    EXPECT_GT(likelihood[1], likelihood[0]);
    EXPECT_GT(likelihood[1], likelihood[2]);
}

/// VerbAgg of R's lme4, written by R itself: it is not ours to keep a copy.
std::vector<Answers> verbAgg() {
    const std::string file = (std::filesystem::temp_directory_path() /
                              ("markerlamp-verbagg-" + std::to_string(std::rand()) + ".csv"))
                                 .string();
    const std::string command =
        "Rscript -e \"data(VerbAgg, package='lme4'); write.csv(data.frame(as.integer(VerbAgg\\$id), "
        "as.integer(VerbAgg\\$item), as.integer(VerbAgg\\$r2 == 'Y')), '" +
        file + "', row.names=FALSE, quote=FALSE)\" >/dev/null 2>&1";
    if (std::system(command.c_str()) != 0) return {};
    std::ifstream text(file);
    std::string line;
    std::getline(text, line);
    std::vector<Answers> persons;
    while (std::getline(text, line)) {
        int person = 0, item = 0, yes = 0;
        if (std::sscanf(line.c_str(), "%d,%d,%d", &person, &item, &yes) != 3) continue;
        persons.resize(std::max(persons.size(), std::size_t(person)));
        persons[std::size_t(person) - 1].items.emplace_back(item - 1, yes == 1);
    }
    std::filesystem::remove(file);
    return persons;
}

TEST(MixedFit, FindsTheCrossedSpreadsOfVerbAgg) {
    const std::vector<Answers> persons = verbAgg();
    if (persons.empty()) GTEST_SKIP() << "needs R with its package lme4 (r-cran-lme4) for the data";
    ASSERT_EQ(persons.size(), 316u);
    const MixedFit fit = fitted(answersProblem(persons, 24, true));
    const json laplace = json::parse(testing::readTestData("mixed-fits.json"))["verbagg_null"];
    EXPECT_NEAR(fit.global[kRowFeatures], laplace["beta"].get<double>(), 0.02);
    EXPECT_NEAR(fit.spread[kPersonGroup], laplace["sd_id"].get<double>(), 5e-3);
    EXPECT_NEAR(fit.spread[kItemGroup], laplace["sd_item"].get<double>(),
                0.03);  // 24 items: 2 % of restriction
}

TEST(MixedFit, KeepsASpreadOffNothing) {
    // Everybody the same: the fixed point alone would run into 0.
    std::vector<Answers> persons(6);
    for (Answers& one : persons)
        for (int i = 0; i < 8; ++i) one.items.emplace_back(i, i % 2 == 0);
    MixedProblem problem = answersProblem(persons, 8, true);
    problem.groups = {{0.8, 3}, {0.8, 3}};
    const MixedFit fit = fitted(problem);
    EXPECT_GT(fit.spread[0], 0.2);
    EXPECT_LT(fit.spread[0], 0.8);
}

TEST(MixedFit, StopsWhenTold) {
    const std::vector<Answers> persons = lsat6();
    MixedOptions options;
    int passes = 0;
    options.progress = [&] { return ++passes < 2; };
    EXPECT_TRUE(fitMixed(answersProblem(persons, 5, false), options).stopped);
    EXPECT_EQ(passes, 2);
}

}  // namespace
}  // namespace markerlamp::core
