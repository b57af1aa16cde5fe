// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/stats/intervals.h"

#include <boost/math/distributions/beta.hpp>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/policies/policy.hpp>

#include <algorithm>
#include <cmath>

namespace markerlamp::core {

namespace {

// Boost reports errors by exception unless told otherwise; we answer with nothing.
using Quiet = boost::math::policies::policy<
    boost::math::policies::domain_error<boost::math::policies::ignore_error>,
    boost::math::policies::pole_error<boost::math::policies::ignore_error>,
    boost::math::policies::overflow_error<boost::math::policies::ignore_error>,
    boost::math::policies::evaluation_error<boost::math::policies::ignore_error>>;

bool sound(double x, double n, double level) {
    return std::isfinite(x) && std::isfinite(n) && n > 0 && x >= 0 && x <= n && level > 0 && level < 1;
}

std::optional<Interval> clamped(double low, double high) {
    if (!std::isfinite(low) || !std::isfinite(high)) return std::nullopt;
    return Interval{std::clamp(low, 0.0, 1.0), std::clamp(high, 0.0, 1.0)};
}

}  // namespace

std::optional<Interval> wilson(double x, double n, double level) {
    if (!sound(x, n, level)) return std::nullopt;
    const boost::math::normal_distribution<double, Quiet> normal;
    const double z = boost::math::quantile(normal, 1 - (1 - level) / 2);
    const double p = x / n;
    const double middle = (p + z * z / (2 * n)) / (1 + z * z / n);
    const double half = z * std::sqrt(p * (1 - p) / n + z * z / (4 * n * n)) / (1 + z * z / n);
    // At the ends the bound is exact; without this it misses 0 or 1 by the last digit.
    return clamped(x == 0 ? 0 : middle - half, x == n ? 1 : middle + half);
}

std::optional<Interval> jeffreys(double x, double n, double level) {
    if (!sound(x, n, level)) return std::nullopt;
    const boost::math::beta_distribution<double, Quiet> beta(x + 0.5, n - x + 0.5);
    const double tail = (1 - level) / 2;
    return clamped(x == 0 ? 0 : boost::math::quantile(beta, tail),
                   x == n ? 1 : boost::math::quantile(boost::math::complement(beta, tail)));
}

}  // namespace markerlamp::core
