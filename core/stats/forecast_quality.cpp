// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/stats/forecast_quality.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstddef>
#include <numeric>

namespace markerlamp::core {

namespace {

constexpr double kClip = 1e-6;

/// What is known of the forecasts of one group.
struct GroupSums {
    int results = 0;
    int happened = 0;
    double forecasts = 0;

    void add(const ForecastAndResult& pair) {
        ++results;
        happened += pair.happened ? 1 : 0;
        forecasts += pair.forecast;
    }
    [[nodiscard]] double share() const { return static_cast<double>(happened) / results; }
    [[nodiscard]] double meanForecast() const { return forecasts / results; }
};

double lowerEnd(std::size_t group, int groups) {
    return static_cast<double>(group) / groups;
}

/// Group of a forecast among `groups` of equal width: [from, to), the last one with its upper end. Compared
/// with the ends as they are computed, so that 0.3 does not fall below itself.
std::size_t groupOf(double forecast, int groups) {
    const auto last = static_cast<std::size_t>(groups) - 1;
    auto group = std::min(last, static_cast<std::size_t>(std::max(0.0, forecast * groups)));
    while (group < last && forecast >= lowerEnd(group + 1, groups)) ++group;
    while (group > 0 && forecast < lowerEnd(group, groups)) --group;
    return group;
}

std::vector<GroupSums> grouped(const std::vector<ForecastAndResult>& pairs, int groups) {
    std::vector<GroupSums> sums(static_cast<std::size_t>(std::max(groups, 1)));
    for (const ForecastAndResult& pair : pairs) sums[groupOf(pair.forecast, groups)].add(pair);
    return sums;
}

double square(double x) {
    return x * x;
}

/// Mean squared miss of these chances in place of the forecasts.
double meanSquaredMiss(const std::vector<ForecastAndResult>& pairs, const std::vector<double>& chances) {
    double sum = 0;
    for (std::size_t i = 0; i < pairs.size(); ++i) sum += square(chances[i] - (pairs[i].happened ? 1 : 0));
    return sum / static_cast<double>(pairs.size());
}

std::vector<ForecastGroup> forecastGroups(const std::vector<ForecastAndResult>& pairs, int groups) {
    std::vector<ForecastGroup> list;
    const std::vector<GroupSums> sums = grouped(pairs, groups);
    for (std::size_t g = 0; g < sums.size(); ++g) {
        ForecastGroup& group = list.emplace_back();
        group.from = lowerEnd(g, groups);
        group.to = lowerEnd(g + 1, groups);
        group.results = sums[g].results;
        group.happened = sums[g].happened;
        if (group.results > 0) group.meanForecast = sums[g].meanForecast();
        group.share = wilson(group.happened, group.results, 0.95);
    }
    return list;
}

}  // namespace

BrierParts brierParts(const std::vector<ForecastAndResult>& pairs, int groups) {
    assert(groups > 0);
    BrierParts parts;
    if (pairs.empty()) return parts;
    const auto n = static_cast<double>(pairs.size());
    const std::vector<GroupSums> sums = grouped(pairs, groups);
    double happened = 0;
    for (const GroupSums& group : sums) happened += group.happened;
    const double base = happened / n;
    parts.uncertainty = base * (1 - base);
    for (const GroupSums& group : sums) {
        if (group.results == 0) continue;
        parts.reliability += group.results * square(group.meanForecast() - group.share()) / n;
        parts.resolution += group.results * square(group.share() - base) / n;
    }
    for (const ForecastAndResult& pair : pairs) {
        const GroupSums& group = sums[groupOf(pair.forecast, groups)];
        const double off = pair.forecast - group.meanForecast();
        parts.withinVariance += square(off) / n;
        parts.withinCovariance += 2 * off * ((pair.happened ? 1 : 0) - group.share()) / n;
    }
    return parts;
}

std::vector<double> recalibrated(const std::vector<ForecastAndResult>& pairs) {
    std::vector<std::size_t> order(pairs.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::ranges::stable_sort(order, {}, [&](std::size_t i) { return pairs[i].forecast; });

    // Equal forecasts are one block from the start; a block that does not lie above the one before is pooled
    // with it.
    struct Block {
        double happened = 0;
        int results = 0;
    };
    std::vector<Block> blocks;
    for (std::size_t i = 0; i < order.size();) {
        Block block;
        const double forecast = pairs[order[i]].forecast;
        for (; i < order.size() && pairs[order[i]].forecast == forecast; ++i) {
            block.happened += pairs[order[i]].happened ? 1 : 0;
            ++block.results;
        }
        while (!blocks.empty() &&
               blocks.back().happened * block.results >= block.happened * blocks.back().results) {
            block.happened += blocks.back().happened;
            block.results += blocks.back().results;
            blocks.pop_back();
        }
        blocks.push_back(block);
    }

    std::vector<double> chances(pairs.size());
    std::size_t next = 0;
    for (const Block& block : blocks)
        for (int k = 0; k < block.results; ++k) chances[order[next++]] = block.happened / block.results;
    return chances;
}

ForecastQuality forecastQuality(const std::vector<ForecastAndResult>& pairs, int groups) {
    ForecastQuality quality;
    quality.results = static_cast<int>(pairs.size());
    if (pairs.empty()) return quality;
    std::vector<double> forecasts;
    double logLoss = 0;
    for (const ForecastAndResult& pair : pairs) {
        assert(pair.forecast >= 0 && pair.forecast <= 1);
        forecasts.push_back(pair.forecast);
        quality.happened += pair.happened ? 1 : 0;
        const double clipped = std::clamp(pair.forecast, kClip, 1 - kClip);
        if (clipped != pair.forecast) ++quality.clipped;
        logLoss -= std::log(pair.happened ? clipped : 1 - clipped);
    }
    quality.logLoss = logLoss / quality.results;
    quality.brier = meanSquaredMiss(pairs, forecasts);
    quality.parts = brierParts(pairs, groups);
    quality.baseBrier = quality.parts.uncertainty;
    if (*quality.baseBrier > 0) quality.skill = 1 - *quality.brier / *quality.baseBrier;
    if (quality.results < kFewestForCalibration) return quality;

    quality.groups = forecastGroups(pairs, groups);
    const double best = meanSquaredMiss(pairs, recalibrated(pairs));
    quality.miscalibration = *quality.brier - best;
    quality.discrimination = *quality.baseBrier - best;
    return quality;
}

}  // namespace markerlamp::core
