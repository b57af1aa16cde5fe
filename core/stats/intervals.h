#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Intervals for small counts. Sources: Wilson 1927; Brown, Cai & DasGupta 2001 (Jeffreys).

#include <optional>

namespace markerlamp::core {

struct Interval {
    double low = 0;
    double high = 1;

    bool operator==(const Interval&) const = default;
};

/// Wilson score interval of x successes in n trials at the given level (0 < level < 1), clamped to [0, 1].
/// nullopt for n <= 0 or x outside [0, n]. x and n may be fractional (effective counts).
[[nodiscard]] std::optional<Interval> wilson(double x, double n, double level);

/// Jeffreys interval: Beta(x + 1/2, n - x + 1/2) quantiles, lower 0 at x = 0, upper 1 at x = n.
[[nodiscard]] std::optional<Interval> jeffreys(double x, double n, double level);

}  // namespace markerlamp::core
