// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Coefficients of agreement against published tables and reference programs; sources in
// tests/data/agreement.json.

#include "core/agreement/coefficients.h"
#include "scoring_support.h"

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

namespace markerlamp::core {
namespace {

using nlohmann::json;

json cases() {
    return json::parse(testing::readTestData("agreement.json")).at("cases");
}

/// Counts of the pairs of classes that two raters gave -> one unit a pair.
RatingTable fromJoint(const json& counts) {
    RatingTable table{static_cast<int>(counts.size()), 2, {}};
    for (int i = 0; i < table.classes; ++i)
        for (int j = 0; j < table.classes; ++j)
            for (int k = 0; k < counts[i][j].get<int>(); ++k) table.units.push_back({i, j});
    return table;
}

/// Per unit, how many raters gave each class.
RatingTable fromCounts(const json& counts) {
    RatingTable table{static_cast<int>(counts[0].size()), 0, {}};
    for (const json& row : counts) {
        std::vector<int>& unit = table.units.emplace_back();
        for (std::size_t c = 0; c < row.size(); ++c)
            unit.insert(unit.end(), static_cast<std::size_t>(row[c].get<int>()), static_cast<int>(c));
        table.raters = static_cast<int>(unit.size());
    }
    return table;
}

RatingTable fromUnits(const json& units, int classes) {
    RatingTable table{classes, static_cast<int>(units[0].size()), {}};
    for (const json& row : units) {
        std::vector<int>& unit = table.units.emplace_back();
        for (const json& cell : row) unit.push_back(cell.is_null() ? kNotRated : cell.get<int>());
    }
    return table;
}

void expectKappa(const RatingTable& table, KappaWeights weights, double value, double error) {
    const auto kappa = cohenKappa(table, weights);
    ASSERT_TRUE(kappa);
    EXPECT_NEAR(kappa->value, value, 1e-9);
    ASSERT_TRUE(kappa->error);
    EXPECT_NEAR(*kappa->error, error, 1e-9);
}

TEST(Agreement, KappaOfTwoRatersAgreesWithPublishedTables) {
    const json all = cases();
    for (const char* name : {"cohen1960", "sas3x3", "mod20_5", "ex45_15", "ex25_35", "paradox80"}) {
        SCOPED_TRACE(name);
        const json& c = all.at(name);
        expectKappa(fromJoint(c.at("table")), KappaWeights::Plain, c.at("kappa"), c.at("ase"));
    }
    // Cohen 1960 gives .492; the printout gives .4842 and .1380 (four digits each).
    EXPECT_NEAR(cohenKappa(fromJoint(all["cohen1960"]["table"]), KappaWeights::Plain)->value, 0.492, 5e-4);
    const auto printed = cohenKappa(fromJoint(all["sas3x3"]["table"]), KappaWeights::Plain);
    EXPECT_NEAR(printed->value, 0.4842, 5e-5);
    EXPECT_NEAR(*printed->error, 0.1380, 5e-5);
}

TEST(Agreement, WeightedKappaAgreesWithThreeReferencePrograms) {
    const json all = cases();
    for (const char* name : {"ms_Winnipeg", "ms_NewOrleans"}) {
        SCOPED_TRACE(name);
        const json& c = all.at(name);
        const RatingTable table = fromJoint(c.at("table"));
        expectKappa(table, KappaWeights::Plain, c["unweighted"]["kappa"], c["unweighted"]["ase"]);
        expectKappa(table, KappaWeights::Linear, c["linear"]["kappa"], c["linear"]["ase"]);
        expectKappa(table, KappaWeights::Quadratic, c["quadratic"]["kappa"], c["quadratic"]["ase"]);
    }
    const RatingTable cohen = fromJoint(all["cohen1960"]["table"]);
    EXPECT_NEAR(cohenKappa(cohen, KappaWeights::Linear)->value, all["cohen1960"]["linear"], 1e-9);
    EXPECT_NEAR(cohenKappa(cohen, KappaWeights::Quadratic)->value, all["cohen1960"]["quadratic"], 1e-9);
}

TEST(Agreement, FleissKappaAgreesWithPublishedTables) {
    const json all = cases();
    const RatingTable thirty = fromCounts(all["fleiss1971"]["counts"]);
    EXPECT_NEAR(*fleissKappa(thirty), all["fleiss1971"]["fleiss"], 1e-9);
    EXPECT_NEAR(*fleissKappa(thirty), 0.430, 5e-4);  // as published
    const RatingTable ten = fromCounts(all["fleiss_14x10"]["table"]);
    EXPECT_NEAR(*fleissKappa(ten), all["fleiss_14x10"]["fleiss"], 1e-9);
    EXPECT_NEAR(*fleissKappa(ten), 0.210, 5e-4);
    RatingTable gap = ten;
    gap.units[3][2] = kNotRated;
    EXPECT_FALSE(fleissKappa(gap));  // it knows no gaps
}

TEST(Agreement, AlphaAgreesWithKrippendorffsExamples) {
    const json all = cases();
    const RatingTable twelve = fromUnits(all["kripp4x12"]["data"], 5);
    EXPECT_NEAR(*krippendorffAlpha(twelve, AlphaScale::Nominal), 0.743, 5e-4);  // as published
    EXPECT_NEAR(*krippendorffAlpha(twelve, AlphaScale::Ordinal), 0.815, 5e-4);
    EXPECT_NEAR(*krippendorffAlpha(twelve, AlphaScale::Nominal), all["kripp4x12"]["nominal"], 1e-9);
    EXPECT_NEAR(*krippendorffAlpha(twelve, AlphaScale::Ordinal), all["kripp4x12"]["ordinal"], 1e-9);
    const RatingTable fifteen = fromUnits(all["kripp3x15"]["data"], 5);
    EXPECT_NEAR(*krippendorffAlpha(fifteen, AlphaScale::Nominal), 0.691358, 5e-7);  // as published
    EXPECT_NEAR(*krippendorffAlpha(fifteen, AlphaScale::Ordinal), all["kripp3x15"]["ordinal"], 1e-9);
    const RatingTable small = fromUnits(all["kripp_small"]["data"], 2);
    EXPECT_NEAR(*krippendorffAlpha(small, AlphaScale::Nominal), -1.0 / 3, 1e-12);
}

TEST(Agreement, Ac1StaysHighWhereKappaCollapses) {
    const json all = cases();
    EXPECT_NEAR(*gwetAc1(fromUnits(all["kripp4x12"]["data"], 5)), all["kripp4x12"]["ac1"], 1e-9);
    for (const char* name : {"mod20_5", "ex45_15", "ex25_35", "paradox80"}) {
        SCOPED_TRACE(name);
        const RatingTable table = fromJoint(all[name]["table"]);
        EXPECT_NEAR(*gwetAc1(table), all[name]["ac1"], 1e-9);
        EXPECT_NEAR(*krippendorffAlpha(table, AlphaScale::Nominal), all[name]["alpha"], 1e-9);
    }
    // Feinstein & Cicchetti 1990: 80 in 100 agreed, and kappa is below nothing.
    const RatingTable paradox = fromJoint(all["paradox80"]["table"]);
    EXPECT_NEAR(*shareAgreed(paradox), 0.80, 1e-12);
    EXPECT_LT(cohenKappa(paradox, KappaWeights::Plain)->value, 0);
    EXPECT_NEAR(*agreementOn(paradox, 0), 160.0 / 180, 1e-12);  // 2a / (2a + b + c), by hand
    EXPECT_NEAR(*agreementOn(paradox, 1), 0, 1e-12);
}

TEST(Agreement, WhatIsUndefinedStaysUndefined) {
    const RatingTable same = fromUnits(cases()["edge_all_same"]["data"], 3);
    EXPECT_EQ(shareAgreed(same), 1);
    EXPECT_FALSE(cohenKappa(same, KappaWeights::Plain));
    EXPECT_FALSE(cohenKappa(same, KappaWeights::Quadratic));
    EXPECT_FALSE(fleissKappa(same));
    EXPECT_FALSE(krippendorffAlpha(same, AlphaScale::Nominal));
    EXPECT_FALSE(krippendorffAlpha(same, AlphaScale::Ordinal));
    const RatingTable none{3, 2, {}};
    EXPECT_FALSE(shareAgreed(none));
    EXPECT_FALSE(cohenKappa(none, KappaWeights::Plain));
    EXPECT_FALSE(fleissKappa(none));
    EXPECT_FALSE(krippendorffAlpha(none, AlphaScale::Nominal));
    EXPECT_FALSE(gwetAc1(none));
    EXPECT_FALSE(agreementOn(none, 0));
    const RatingTable apart{2, 2, {{0, kNotRated}, {kNotRated, 1}}};  // nothing was rated twice
    EXPECT_FALSE(shareAgreed(apart));
    EXPECT_FALSE(cohenKappa(apart, KappaWeights::Plain));
    EXPECT_FALSE(krippendorffAlpha(apart, AlphaScale::Nominal));
    EXPECT_FALSE(gwetAc1(apart));
}

TEST(Agreement, IntervalResamplesAttemptsNotSteps) {
    // Ten attempts of twenty steps; in half of them everything is agreed, in half nothing: the steps say far
    // less than 200 independent ones would.
    RatingTable table{2, 2, {}};
    std::vector<int> attempts, steps;
    for (int attempt = 0; attempt < 10; ++attempt)
        for (int step = 0; step < 20; ++step) {
            table.units.push_back({step % 2, attempt % 2 == 0 ? step % 2 : 1 - step % 2});
            attempts.push_back(attempt);
            steps.push_back(static_cast<int>(steps.size()));
        }
    const auto byAttempt = resampledInterval(table, attempts, shareAgreed);
    const auto byStep = resampledInterval(table, steps, shareAgreed);
    ASSERT_TRUE(byAttempt && byStep);
    EXPECT_GT(byAttempt->high - byAttempt->low, 3 * (byStep->high - byStep->low));
    // Binomial(10, 1/2) / 10 has its 2.5 % and 97.5 % quantiles at 0.2 and 0.8.
    EXPECT_NEAR(byAttempt->low, 0.2, 1e-9);
    EXPECT_NEAR(byAttempt->high, 0.8, 1e-9);
    EXPECT_EQ(byAttempt, resampledInterval(table, attempts, shareAgreed));  // fixed seed
    EXPECT_FALSE(resampledInterval(table, std::vector<int>(200, 7), shareAgreed));
}

TEST(Agreement, TablesAreReadStrictly) {
    const auto good = readRatingTable("unit,a,b\n1,0,2\n2,,1\n", 3);
    ASSERT_TRUE(good);
    EXPECT_EQ(good->units, (std::vector<std::vector<int>>{{0, 2}, {kNotRated, 1}}));
    const auto bad = readRatingTable("a,b\n0,3\nx,1\n1,-1\n", 3, "table.csv");
    ASSERT_FALSE(bad);
    ASSERT_EQ(bad.error().problems.size(), 3u);
    EXPECT_EQ(bad.error().problems[0].line, 2);
    EXPECT_EQ(bad.error().problems[0].path, "b");
    EXPECT_EQ(bad.error().problems[1].id, "x");
    EXPECT_EQ(bad.error().problems[2].line, 4);
    EXPECT_FALSE(readRatingTable("a\n0\n", 3));
    EXPECT_FALSE(readRatingTable("a,b\n0,0\n", 1));
    EXPECT_FALSE(readRatingTable("", 3));
}

}  // namespace
}  // namespace markerlamp::core
