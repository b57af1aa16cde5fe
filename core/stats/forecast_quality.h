#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// How good probability forecasts were. Sources: Brier 1950; Murphy 1973; Stephenson, Coelho & Jolliffe 2008;
// Dimitriadis, Gneiting & Jordan 2021 (isotonic recalibration).

#include "core/stats/intervals.h"

#include <optional>
#include <vector>

namespace markerlamp::core {

/// Fewer results: no calibration is claimed.
inline constexpr int kFewestForCalibration = 20;

struct ForecastAndResult {
    double forecast = 0;  ///< in [0, 1]
    bool happened = false;
};

/// One group of forecasts, with the share that happened and its 95 % Wilson interval.
struct ForecastGroup {
    double from = 0, to = 1;  ///< forecasts in [from, to), the last group with its upper end
    int results = 0;
    int happened = 0;
    double meanForecast = 0;
    std::optional<Interval> share;
};

/// Murphy's parts for groups, with the two terms that unequal forecasts in a group need:
/// brier = reliability - resolution + uncertainty + withinVariance - withinCovariance.
struct BrierParts {
    double reliability = 0, resolution = 0, uncertainty = 0, withinVariance = 0, withinCovariance = 0;
};

struct ForecastQuality {
    int results = 0;
    int happened = 0;
    std::optional<double> brier;      ///< mean squared miss; absent without results
    std::optional<double> baseBrier;  ///< of always saying the share that happened
    std::optional<double> skill;      ///< 1 - brier / baseBrier; absent where that is 0
    std::optional<double> logLoss;    ///< forecasts clipped at 1e-6
    int clipped = 0;
    BrierParts parts;
    std::vector<ForecastGroup> groups;                     ///< only from kFewestForCalibration results on
    std::optional<double> miscalibration, discrimination;  ///< isotonic, no groups; likewise
};

[[nodiscard]] ForecastQuality forecastQuality(const std::vector<ForecastAndResult>& pairs, int groups = 5);
/// Murphy's parts with this many groups of equal width, whatever the number of results.
[[nodiscard]] BrierParts brierParts(const std::vector<ForecastAndResult>& pairs, int groups);
/// Isotonic (pool adjacent violators) estimate of the chance at each forecast, in the order given.
[[nodiscard]] std::vector<double> recalibrated(const std::vector<ForecastAndResult>& pairs);

}  // namespace markerlamp::core
