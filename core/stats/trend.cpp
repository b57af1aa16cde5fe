// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/stats/trend.h"

#include <boost/math/distributions/normal.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <map>
#include <numbers>

namespace markerlamp::core {

namespace {

constexpr int kMostForExactTest = 50;

double median(std::vector<double> values) {
    std::ranges::sort(values);
    const std::size_t middle = values.size() / 2;
    return values.size() % 2 == 1 ? values[middle] : (values[middle - 1] + values[middle]) / 2;
}

double twoSidedNormal(double z) {
    return std::erfc(std::abs(z) / std::numbers::sqrt2);
}

/// Sums over the groups of equal values, t of them each, that the tie corrections need.
struct Ties {
    double pairs = 0;    ///< sum of t (t - 1) / 2
    double triples = 0;  ///< sum of t (t - 1) (t - 2)
    double spread = 0;   ///< sum of t (t - 1) (2 t + 5)

    explicit Ties(const std::vector<double>& values) {
        std::map<double, double> groups;
        for (const double value : values) ++groups[value];
        for (const auto& [value, t] : groups) {
            pairs += t * (t - 1) / 2;
            triples += t * (t - 1) * (t - 2);
            spread += t * (t - 1) * (2 * t + 5);
        }
    }
};

struct PairCounts {
    int concordant = 0;
    int discordant = 0;
    std::vector<double> slopes;  ///< of the pairs whose x differ
};

PairCounts comparePairs(const std::vector<double>& x, const std::vector<double>& y) {
    PairCounts counts;
    for (std::size_t i = 0; i < x.size(); ++i)
        for (std::size_t j = i + 1; j < x.size(); ++j) {
            const double dx = x[j] - x[i];
            const double dy = y[j] - y[i];
            if (dx == 0) continue;
            counts.slopes.push_back(dy / dx);
            if (dy != 0) ++((dx > 0) == (dy > 0) ? counts.concordant : counts.discordant);
        }
    return counts;
}

/// Chance that a random order of n values has at most `inversions` of them: the count of inversions is a sum
/// of independent values, the k-th even on 0 .. k - 1 (Kendall 1938).
double chanceOfInversions(int n, int inversions) {
    std::vector<double> chance{1};
    for (int k = 2; k <= n; ++k) {
        std::vector<double> next(chance.size() + static_cast<std::size_t>(k) - 1, 0);
        for (std::size_t i = 0; i < chance.size(); ++i)
            for (std::size_t j = 0; j < static_cast<std::size_t>(k); ++j) next[i + j] += chance[i] / k;
        chance = std::move(next);
    }
    double sum = 0;
    for (std::size_t i = 0; i < chance.size() && i <= static_cast<std::size_t>(inversions); ++i)
        sum += chance[i];
    return sum;
}

/// Two-sided p of Kendall's S. With ties: normal approximation with the tie-corrected variance (Kendall, Rank
/// Correlation Methods, chapter 4; from memory, checked against published software, see the tests).
double kendallP(int n, const PairCounts& counts, const Ties& tiesX, const Ties& tiesY) {
    if (tiesX.pairs == 0 && tiesY.pairs == 0 && n <= kMostForExactTest)
        return std::min(1.0, 2 * chanceOfInversions(n, std::min(counts.concordant, counts.discordant)));
    const double m = n;
    const double all = m * (m - 1);
    const double variance = (all * (2 * m + 5) - tiesX.spread - tiesY.spread) / 18 +
                            2 * tiesX.pairs * tiesY.pairs / all +
                            tiesX.triples * tiesY.triples / (9 * all * (m - 2));
    if (variance <= 0) return 1;
    return twoSidedNormal((counts.concordant - counts.discordant) / std::sqrt(variance));
}

/// Sen 1968: the slopes that stand C / 2 places on either side of the middle one, C = z sqrt(Var S). With so
/// few values that the place lies outside, the outermost slope is taken.
Interval slopeInterval(const std::vector<double>& sorted, int n, const Ties& tiesX, const Ties& tiesY,
                       double level) {
    const double m = n;
    const double variance = (m * (m - 1) * (2 * m + 5) - tiesX.spread - tiesY.spread) / 18;
    const double z = boost::math::quantile(boost::math::normal_distribution<double>(), (1 + level) / 2);
    const double width = z * std::sqrt(std::max(0.0, variance));
    const auto count = static_cast<double>(sorted.size());
    const auto low = std::max(0L, std::lround((count - width) / 2) - 1);
    const auto high = std::min(static_cast<long>(sorted.size()) - 1, std::lround((count + width) / 2));
    return {sorted[static_cast<std::size_t>(low)], sorted[static_cast<std::size_t>(high)]};
}

bool allFinite(const std::vector<double>& values) {
    return std::ranges::all_of(values, [](double value) { return std::isfinite(value); });
}

}  // namespace

std::optional<Trend> theilSen(const std::vector<double>& x, const std::vector<double>& y, double level) {
    if (x.size() != y.size() || x.size() < static_cast<std::size_t>(kFewestForTrend) || !allFinite(x) ||
        !allFinite(y) || !(level > 0 && level < 1))
        return std::nullopt;
    PairCounts counts = comparePairs(x, y);
    if (counts.slopes.empty()) return std::nullopt;
    const Ties tiesX(x);
    const Ties tiesY(y);

    Trend trend;
    trend.values = static_cast<int>(x.size());
    std::ranges::sort(counts.slopes);
    trend.slope = median(counts.slopes);
    std::vector<double> rest;
    for (std::size_t i = 0; i < x.size(); ++i) rest.push_back(y[i] - trend.slope * x[i]);
    trend.intercept = median(std::move(rest));
    const Interval interval = slopeInterval(counts.slopes, trend.values, tiesX, tiesY, level);
    trend.low = interval.low;
    trend.high = interval.high;
    const double all = trend.values * (trend.values - 1) / 2.0;
    const double untied = std::sqrt((all - tiesX.pairs) * (all - tiesY.pairs));
    if (untied > 0) {
        trend.tau = (counts.concordant - counts.discordant) / untied;
        trend.p = kendallP(trend.values, counts, tiesX, tiesY);
    }
    return trend;
}

std::optional<PassTrend> cochranArmitage(const std::vector<double>& scores, const std::vector<int>& passed,
                                         const std::vector<int>& of) {
    if (scores.size() != passed.size() || scores.size() != of.size() || !allFinite(scores))
        return std::nullopt;
    double n = 0;
    double successes = 0;
    double scoreSum = 0;
    for (std::size_t i = 0; i < scores.size(); ++i) {
        if (of[i] < 1 || passed[i] < 0 || passed[i] > of[i]) return std::nullopt;
        n += of[i];
        successes += passed[i];
        scoreSum += scores[i] * of[i];
    }
    if (n == 0) return std::nullopt;
    const double mean = scoreSum / n;
    const double share = successes / n;
    double slope = 0;
    double spread = 0;
    for (std::size_t i = 0; i < scores.size(); ++i) {
        slope += (scores[i] - mean) * passed[i];
        spread += of[i] * (scores[i] - mean) * (scores[i] - mean);
    }
    const double variance = share * (1 - share) * spread;
    if (!(variance > 0)) return std::nullopt;
    const double z = slope / std::sqrt(variance);
    return PassTrend{z, twoSidedNormal(z)};
}

}  // namespace markerlamp::core
