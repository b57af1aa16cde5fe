// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// markerlamp_readiness_table [SCHOOLS [TRAINEES]]: the table of core/readiness/README.md, as Markdown.

#include "trial.h"

#include <cstdio>
#include <cstdlib>
#include <initializer_list>

namespace {

using namespace markerlamp::school;

void table(const Shape& shape, const Plan& plan, const char* what, int schools) {
    std::vector<Foretold> rows;
    for (int seed = 1; seed <= schools; ++seed) {
        const School school(shape, static_cast<std::uint64_t>(seed));
        const auto held = hold(school, plan, static_cast<std::uint64_t>(seed) << 32);
        rows.insert(rows.end(), held.begin(), held.end());
    }
    double truth = 0;
    for (const Foretold& row : rows) truth += row.truth / static_cast<double>(rows.size());
    std::printf(
        "\n%s, %s: %zu forecasts in %d schools of %d trainees, mean true chance %.2f; the 90 %% interval "
        "holds %.1f %% of the true chances, mean width %.2f\n\n",
        shape.name.c_str(), what, rows.size(), schools, shape.trainees, truth, 100 * coverage(rows),
        meanWidth(rows));
    std::printf("| forecast | distance to the truth | bias | Brier | log loss |\n|---|---|---|---|---|\n");
    for (std::size_t m = 0; m < kMethods; ++m) {
        const auto method = static_cast<Method>(m);
        const Verdict made = verdict(rows, method);
        const std::string_view name = nameOf(method);
        std::printf("| %.*s | %.4f | %+.3f | %.4f | %.4f |\n", static_cast<int>(name.size()), name.data(),
                    made.distance, made.bias, made.brier, made.logLoss);
    }
}

}  // namespace

int main(int count, char** words) {
    const int schools = count > 1 ? std::atoi(words[1]) : 5;
    const int trainees = count > 2 ? std::atoi(words[2]) : 60;
    if (schools < 1 || trainees < 2) {
        std::fprintf(stderr, "usage: markerlamp_readiness_table [SCHOOLS [TRAINEES]]\n");
        return 2;
    }
    for (Shape shape : {steady(), patchy()}) {
        shape.trainees = trainees;
        Plan plan;
        table(shape, plan, "whole inspection", schools);
        plan.drawn = true;
        table(shape, plan, "drawn section", schools);
    }
    return 0;
}
