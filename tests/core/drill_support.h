#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Draws filled by hand, so that what a plan should be can be worked out beside the test.

#include "core/readiness/forecast.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <functional>
#include <memory>
#include <string>
#include <vector>

namespace markerlamp::core::testing {

inline double logitOf(double p) {
    return std::log(p / (1 - p));
}

/// One part with all zones. `now` and `then` give a step's chance in a draw, without and with one more drill.
inline TestDraws drawsOf(const Rubric& rubric, int draws,
                         const std::function<double(const Step&, int draw)>& now,
                         const std::function<double(const Step&, int draw)>& then, double daySpread = 0) {
    TestDraws all;
    all.scope.rubric = std::make_shared<const Rubric>(rubric);
    TestPart part;
    all.inPart.emplace_back();
    std::vector<const Step*> steps;
    for (const Zone& zone : all.scope.rubric->zones) {
        part.zones.push_back(zone.id);
        for (const Step& step : zone.steps) {
            all.inPart[0].push_back(int(all.steps.size()));
            all.steps.push_back({step.id, zone.id, step.weight, step.mustPass, step.minutes});
            steps.push_back(&step);
        }
    }
    all.scope.parts.push_back(std::move(part));
    all.draws = draws;
    for (int d = 0; d < draws; ++d) {
        for (const Step* step : steps) {
            all.logit.push_back(logitOf(now(*step, d)));
            all.drilled.push_back(logitOf(then(*step, d)));
        }
        all.daySpread.push_back(daySpread);
        all.kept.push_back(1);
    }
    return all;
}

/// The same chance in every draw.
inline TestDraws drawsOf(const Rubric& rubric, const std::function<double(const Step&)>& now,
                         const std::function<double(const Step&)>& then) {
    return drawsOf(
        rubric, 1, [&](const Step& step, int) { return now(step); },
        [&](const Step& step, int) { return then(step); });
}

}  // namespace markerlamp::core::testing
