// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The forecast against the true chances of invented schools, beside what a program could do without it.
// markerlamp_readiness_table prints the same over more schools (core/readiness/README.md).

#include "trial.h"

#include <gtest/gtest.h>

namespace markerlamp::school {

namespace {

Plan quick() {
    Plan plan;
    plan.moments = {100, 150};
    plan.draws = 200;
    plan.runs = 400;
    return plan;
}

const std::vector<Foretold>& steadyRows() {
    static const std::vector<Foretold> rows = hold(School(steady(), 11), quick(), 1);
    return rows;
}

const std::vector<Foretold>& patchyRows() {
    static const std::vector<Foretold> rows = hold(School(patchy(), 12), quick(), 2);
    return rows;
}

/// The model's distance to the truth is at most `share` of each other method's.
void expectBeats(const std::vector<Foretold>& rows, double share) {
    const double model = verdict(rows, Method::Model).distance;
    for (std::size_t m = 1; m < kMethods; ++m) {
        const auto other = static_cast<Method>(m);
        EXPECT_LT(model, share * verdict(rows, other).distance) << nameOf(other);
    }
}

}  // namespace

TEST(ForecastTrial, IsNearerToTheTruthThanAnythingSimplerWithSteadyPractice) {
    ASSERT_GT(steadyRows().size(), 60u);
    expectBeats(steadyRows(), 0.8);
}

TEST(ForecastTrial, IsNearerToTheTruthThanAnythingSimplerWithPatchyPractice) {
    ASSERT_GT(patchyRows().size(), 40u);
    expectBeats(patchyRows(), 0.9);
}

TEST(ForecastTrial, ItsIntervalsHoldTheTruthAsOftenAsTheySay) {
    // 90 % promised. Bounds: two standard errors of some hundred forecasts that lean on one fit, and the
    // school being no member of the model's family.
    for (const auto* rows : {&steadyRows(), &patchyRows()}) {
        EXPECT_GE(coverage(*rows), 0.80);
        EXPECT_LE(coverage(*rows), 0.985);
        EXPECT_LT(meanWidth(*rows), 0.75);
    }
}

}  // namespace markerlamp::school
