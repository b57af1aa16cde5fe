#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The forecast's chance of each single step, from its draws: the day effect integrated on a grid of our own.

#include "core/readiness/forecast.h"

#include <cmath>
#include <vector>

namespace markerlamp::school {

/// E of the logistic over a normal day effect, on a grid of half standard deviations.
inline double chanceOverDays(double logit, double spread) {
    double sum = 0, weights = 0;
    for (int half = -8; half <= 8; ++half) {
        const double z = half / 2.0, weight = std::exp(-z * z / 2);
        sum += weight / (1 + std::exp(-(logit + spread * z)));
        weights += weight;
    }
    return sum / weights;
}

/// In the order of draws.steps.
inline std::vector<double> stepChances(const core::TestDraws& draws) {
    std::vector<double> chances(draws.steps.size());
    for (std::size_t d = 0; d < static_cast<std::size_t>(draws.draws); ++d)
        for (std::size_t s = 0; s < chances.size(); ++s)
            chances[s] +=
                chanceOverDays(draws.logit[d * chances.size() + s], draws.daySpread[d]) / draws.draws;
    return chances;
}

}  // namespace markerlamp::school
