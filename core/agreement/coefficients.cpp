// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/agreement/coefficients.h"

#include <algorithm>
#include <cmath>
#include <random>

namespace markerlamp::core {

namespace {

using Row = std::vector<double>;
using Matrix = std::vector<Row>;

// Differences below this are rounding: a chance agreement that near to 1 leaves nothing to correct for.
constexpr double kNothing = 1e-12;

std::size_t classesOf(const RatingTable& table) {
    return static_cast<std::size_t>(table.classes);
}

/// How many raters gave each class to a unit.
Row countsOf(const std::vector<int>& unit, std::size_t classes) {
    Row counts(classes, 0);
    for (const int code : unit)
        if (code != kNotRated) ++counts[static_cast<std::size_t>(code)];
    return counts;
}

double sumOf(const Row& row) {
    double sum = 0;
    for (const double value : row) sum += value;
    return sum;
}

/// (observed - expected) / (1 - expected), or nothing where that is 0/0.
std::optional<double> corrected(double observed, double expected) {
    if (1 - expected < kNothing) return std::nullopt;
    return (observed - expected) / (1 - expected);
}

double weightOf(KappaWeights weights, std::size_t a, std::size_t b, std::size_t classes) {
    if (weights == KappaWeights::Plain) return a == b ? 1 : 0;
    const double apart =
        std::abs(static_cast<double>(a) - static_cast<double>(b)) / static_cast<double>(classes - 1);
    return weights == KappaWeights::Linear ? 1 - apart : 1 - apart * apart;
}

/// Shares of the pairs of classes that the two raters gave, with the number of units rated by both.
std::pair<Matrix, int> jointShares(const RatingTable& table) {
    Matrix shares(classesOf(table), Row(classesOf(table), 0));
    int both = 0;
    for (const auto& unit : table.units) {
        if (unit[0] == kNotRated || unit[1] == kNotRated) continue;
        ++shares[static_cast<std::size_t>(unit[0])][static_cast<std::size_t>(unit[1])];
        ++both;
    }
    for (Row& row : shares)
        for (double& cell : row) cell /= std::max(both, 1);
    return {std::move(shares), both};
}

/// Krippendorff's coincidences: o_ck = sum over units of n_c (n_k - [c = k]) / (m - 1).
Matrix coincidences(const RatingTable& table) {
    const std::size_t classes = classesOf(table);
    Matrix o(classes, Row(classes, 0));
    for (const auto& unit : table.units) {
        const Row counts = countsOf(unit, classes);
        const double rated = sumOf(counts);
        if (rated < 2) continue;
        for (std::size_t c = 0; c < classes; ++c)
            for (std::size_t k = 0; k < classes; ++k)
                o[c][k] += counts[c] * (counts[k] - (c == k ? 1 : 0)) / (rated - 1);
    }
    return o;
}

/// Squared difference of two classes; ordinal by the ranks that the margins give.
double difference(AlphaScale scale, const Row& margins, std::size_t c, std::size_t k) {
    if (c == k) return 0;
    if (scale == AlphaScale::Nominal) return 1;
    const auto [from, to] = c < k ? std::pair(c, k) : std::pair(k, c);
    double between = 0;
    for (std::size_t g = from; g <= to; ++g) between += margins[g];
    const double apart = between - (margins[from] + margins[to]) / 2;
    return apart * apart;
}

}  // namespace

std::optional<double> shareAgreed(const RatingTable& table) {
    double agreed = 0;
    int units = 0;
    for (const auto& unit : table.units) {
        const Row counts = countsOf(unit, classesOf(table));
        const double rated = sumOf(counts);
        if (rated < 2) continue;
        double pairs = 0;
        for (const double count : counts) pairs += count * (count - 1);
        agreed += pairs / (rated * (rated - 1));
        ++units;
    }
    if (units == 0) return std::nullopt;
    return agreed / units;
}

std::optional<Kappa> cohenKappa(const RatingTable& table, KappaWeights weights) {
    if (table.raters != 2) return std::nullopt;
    const auto [shares, both] = jointShares(table);
    if (both == 0) return std::nullopt;
    const std::size_t classes = classesOf(table);
    Row first(classes, 0), second(classes, 0);
    for (std::size_t i = 0; i < classes; ++i)
        for (std::size_t j = 0; j < classes; ++j) {
            first[i] += shares[i][j];
            second[j] += shares[i][j];
        }
    double observed = 0, expected = 0;
    Row firstMean(classes, 0), secondMean(classes, 0);
    for (std::size_t i = 0; i < classes; ++i)
        for (std::size_t j = 0; j < classes; ++j) {
            const double w = weightOf(weights, i, j, classes);
            observed += w * shares[i][j];
            expected += w * first[i] * second[j];
            firstMean[i] += w * second[j];
            secondMean[j] += w * first[i];
        }
    const auto value = corrected(observed, expected);
    if (!value) return std::nullopt;

    // Fleiss, Cohen & Everitt 1969, for any weights.
    double spread = 0;
    for (std::size_t i = 0; i < classes; ++i)
        for (std::size_t j = 0; j < classes; ++j) {
            const double part = weightOf(weights, i, j, classes) * (1 - expected) -
                                (firstMean[i] + secondMean[j]) * (1 - observed);
            spread += shares[i][j] * part * part;
        }
    const double away = observed * expected - 2 * expected + observed;
    const double variance = (spread - away * away) / (both * std::pow(1 - expected, 4));
    Kappa kappa{*value, std::nullopt, both};
    if (variance > -kNothing) kappa.error = std::sqrt(std::max(variance, 0.0));
    return kappa;
}

std::optional<double> fleissKappa(const RatingTable& table) {
    const std::size_t classes = classesOf(table);
    Row shares(classes, 0);
    double agreed = 0, rated = 0;
    for (const auto& unit : table.units) {
        const Row counts = countsOf(unit, classes);
        const double here = sumOf(counts);
        if (&unit == &table.units.front()) rated = here;
        if (here != rated || here < 2) return std::nullopt;
        double pairs = 0;
        for (std::size_t c = 0; c < classes; ++c) {
            pairs += counts[c] * (counts[c] - 1);
            shares[c] += counts[c];
        }
        agreed += pairs / (here * (here - 1));
    }
    if (table.units.empty()) return std::nullopt;
    const auto units = static_cast<double>(table.units.size());
    double expected = 0;
    for (const double share : shares) expected += std::pow(share / (units * rated), 2);
    return corrected(agreed / units, expected);
}

std::optional<double> krippendorffAlpha(const RatingTable& table, AlphaScale scale) {
    const Matrix o = coincidences(table);
    const std::size_t classes = o.size();
    Row margins(classes, 0);
    for (std::size_t c = 0; c < classes; ++c) margins[c] = sumOf(o[c]);
    const double n = sumOf(margins);
    double observed = 0, expected = 0;
    for (std::size_t c = 0; c < classes; ++c)
        for (std::size_t k = 0; k < classes; ++k) {
            const double d = difference(scale, margins, c, k);
            observed += o[c][k] * d;
            expected += margins[c] * margins[k] * d;
        }
    if (expected < kNothing) return std::nullopt;
    return 1 - (n - 1) * observed / expected;
}

std::optional<double> gwetAc1(const RatingTable& table) {
    const auto observed = shareAgreed(table);
    if (!observed || table.classes < 2) return std::nullopt;
    const std::size_t classes = classesOf(table);
    Row shares(classes, 0);
    int units = 0;
    for (const auto& unit : table.units) {
        const Row counts = countsOf(unit, classes);
        const double rated = sumOf(counts);
        if (rated < 1) continue;
        for (std::size_t c = 0; c < classes; ++c) shares[c] += counts[c] / rated;
        ++units;
    }
    double expected = 0;
    for (const double share : shares) expected += share / units * (1 - share / units);
    return corrected(*observed, expected / (table.classes - 1));
}

std::optional<double> agreementOn(const RatingTable& table, int oneClass) {
    if (table.raters != 2) return std::nullopt;
    int both = 0, one = 0;
    for (const auto& unit : table.units) {
        if (unit[0] == kNotRated || unit[1] == kNotRated) continue;
        const int named = (unit[0] == oneClass ? 1 : 0) + (unit[1] == oneClass ? 1 : 0);
        if (named == 2) ++both;
        if (named == 1) ++one;
    }
    if (both + one == 0) return std::nullopt;
    return 2.0 * both / (2.0 * both + one);
}

std::optional<Interval> resampledInterval(
    const RatingTable& table, const std::vector<int>& group,
    const std::function<std::optional<double>(const RatingTable&)>& statistic, double level, int resamples,
    std::uint64_t seed) {
    std::vector<int> names = group;
    std::ranges::sort(names);
    names.erase(std::unique(names.begin(), names.end()), names.end());
    if (names.size() < 2 || group.size() != table.units.size()) return std::nullopt;
    std::vector<std::vector<std::size_t>> members(names.size());
    for (std::size_t unit = 0; unit < group.size(); ++unit)
        members[static_cast<std::size_t>(std::ranges::lower_bound(names, group[unit]) - names.begin())]
            .push_back(unit);

    std::mt19937_64 random(seed);
    std::vector<double> values;
    RatingTable again{table.classes, table.raters, {}};
    for (int i = 0; i < resamples; ++i) {
        again.units.clear();
        for (std::size_t k = 0; k < members.size(); ++k)
            // The remainder, not a distribution: its numbers are the same with every standard library.
            for (const std::size_t unit : members[random() % members.size()])
                again.units.push_back(table.units[unit]);
        if (const auto value = statistic(again)) values.push_back(*value);
    }
    if (values.size() * 2 < static_cast<std::size_t>(resamples)) return std::nullopt;
    std::ranges::sort(values);
    const auto quantile = [&](double share) {
        const double at = share * static_cast<double>(values.size() - 1);
        const auto below = static_cast<std::size_t>(at);
        const std::size_t above = std::min(below + 1, values.size() - 1);
        return values[below] + (at - static_cast<double>(below)) * (values[above] - values[below]);
    };
    return Interval{quantile((1 - level) / 2), quantile(1 - (1 - level) / 2)};
}

}  // namespace markerlamp::core
