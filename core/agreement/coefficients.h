#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Coefficients of agreement between raters. What is undefined (0/0: everybody used one class) is nullopt,
// neither 0 nor 1.
//
// Sources: Cohen 1960 and 1968 (kappa, weighted kappa); Fleiss, Cohen & Everitt 1969 (their standard errors);
// Fleiss 1971; Krippendorff 2011 with Hayes & Krippendorff 2007 (alpha); Gwet 2008 (AC1); Cicchetti &
// Feinstein 1990 (positive and negative agreement).

#include "core/agreement/rating_table.h"
#include "core/stats/intervals.h"

#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

namespace markerlamp::core {

/// Share of agreeing pairs of raters, averaged over the units that two or more rated. For two raters the
/// plain percent agreement / 100. nullopt when no unit was rated twice.
[[nodiscard]] std::optional<double> shareAgreed(const RatingTable& table);

enum class KappaWeights { Plain, Linear, Quadratic };

struct Kappa {
    double value = 0;
    std::optional<double> error;  ///< large-sample standard error; absent where it is 0/0
    int units = 0;                ///< rated by both
};
/// Cohen's kappa of the first two raters, over the units that both rated. nullopt for another number of
/// raters.
[[nodiscard]] std::optional<Kappa> cohenKappa(const RatingTable& table, KappaWeights weights);

/// Any number of raters, each unit rated by the same number of them (else nullopt).
[[nodiscard]] std::optional<double> fleissKappa(const RatingTable& table);

enum class AlphaScale { Nominal, Ordinal };
/// Any number of raters, gaps allowed; units rated once are left out.
[[nodiscard]] std::optional<double> krippendorffAlpha(const RatingTable& table, AlphaScale scale);

/// Any number of raters, gaps allowed. Chance agreement over the classes offered.
[[nodiscard]] std::optional<double> gwetAc1(const RatingTable& table);

/// Two raters, two classes: agreement on one class among all that named it, 2a / (2a + b + c).
[[nodiscard]] std::optional<double> agreementOn(const RatingTable& table, int oneClass);

/// Percentile interval by resampling groups of units (the steps of one attempt hang together) with
/// replacement.
/// @param group of each unit, same length as table.units
/// @param statistic may be undefined on a resample; such resamples are left out
/// @return nullopt for fewer than two groups, or when fewer than half of the resamples were defined
[[nodiscard]] std::optional<Interval> resampledInterval(
    const RatingTable& table, const std::vector<int>& group,
    const std::function<std::optional<double>(const RatingTable&)>& statistic, double level = 0.95,
    int resamples = 2000, std::uint64_t seed = 20260101);

}  // namespace markerlamp::core
