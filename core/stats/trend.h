#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Trends of few values. Sources: Theil 1950 and Sen 1968 (slope and interval), Kendall 1938 and Mann 1945
// (exact test), Cochran 1954 and Armitage 1955 (passes by session).

#include "core/stats/intervals.h"

#include <optional>
#include <vector>

namespace markerlamp::core {

/// Fewer values: no trend is claimed.
inline constexpr int kFewestForTrend = 4;

struct Trend {
    double slope = 0;          ///< y per unit of x, median of the pairwise slopes
    double intercept = 0;      ///< median of y - slope x
    double low = 0, high = 0;  ///< interval of the slope at the level asked for; of four values at most 92 %
    double tau = 0;            ///< Kendall's tau-b
    double p = 1;              ///< two-sided: exact without ties up to 50 values, normal approximation else
    int values = 0;
};

/// nullopt under kFewestForTrend values, for different sizes, or when all x are the same.
[[nodiscard]] std::optional<Trend> theilSen(const std::vector<double>& x, const std::vector<double>& y,
                                            double level = 0.95);

struct PassTrend {
    double z = 0;
    double p = 1;  ///< two-sided
};
/// Cochran-Armitage with the binomial variance. Sizes equal, n >= 1, 0 <= passed <= n; nullopt where it is
/// undefined.
[[nodiscard]] std::optional<PassTrend> cochranArmitage(const std::vector<double>& scores,
                                                       const std::vector<int>& passed,
                                                       const std::vector<int>& of);

}  // namespace markerlamp::core
