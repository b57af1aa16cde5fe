// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Model: right ~ Binomial(seen, r), r ~ Beta(m k, (1 - m) k) over the zones of one trainee. Beta-binomial
// likelihood: Skellam 1948; estimated from the data: empirical Bayes as in Casella 1985 (both from memory).

#include "core/stats/weak_zones.h"

#include <boost/math/distributions/beta.hpp>
#include <boost/math/tools/minima.hpp>

#include <cassert>
#include <cmath>

namespace markerlamp::core {

namespace {

constexpr double kSure = 0.8;
constexpr int kFewestSeen = 5;
constexpr double kLevel = 0.8;

// The penalty: with a handful of zones the likelihood alone runs off to "all the same" (k without bound) or
// to a mean of 0 or 1. log k is pulled to log 8 with standard deviation 1 (zones of one trainee differ by
// some 15 points, our judgement), m away from the ends as if one right and one wrong mark more were known.
constexpr double kUsualStrength = 8;
constexpr double kStrengthSpread = 1;

double logBeta(double a, double b) {
    return std::lgamma(a) + std::lgamma(b) - std::lgamma(a + b);
}

struct Prior {
    double a = 1;  ///< m k
    double b = 1;  ///< (1 - m) k
};

Prior priorAt(double logitMean, double logStrength) {
    const double strength = std::exp(logStrength);
    return {strength / (1 + std::exp(-logitMean)), strength / (1 + std::exp(logitMean))};
}

/// Minus the penalised log likelihood; binomial coefficients left out.
double cost(const std::vector<ZoneCounts>& zones, double logitMean, double logStrength) {
    const Prior prior = priorAt(logitMean, logStrength);
    const double strength = prior.a + prior.b;
    const double off = (logStrength - std::log(kUsualStrength)) / kStrengthSpread;
    double value = off * off / 2 - std::log(prior.a / strength) - std::log(prior.b / strength);
    const double unseen = logBeta(prior.a, prior.b);
    for (const ZoneCounts& zone : zones)
        if (zone.seen > 0) value -= logBeta(prior.a + zone.right, prior.b + zone.seen - zone.right) - unseen;
    return value;
}

Prior fitted(const std::vector<ZoneCounts>& zones) {
    using boost::math::tools::brent_find_minima;
    constexpr int kBits = 20;  // about six digits, far below what so few counts can say
    const auto bestMean = [&](double logStrength) {
        return brent_find_minima([&](double logit) { return cost(zones, logit, logStrength); }, -8.0, 8.0,
                                 kBits);
    };
    const double logStrength = brent_find_minima([&](double candidate) { return bestMean(candidate).second; },
                                                 std::log(0.2), std::log(500.0), kBits)
                                   .first;
    return priorAt(bestMean(logStrength).first, logStrength);
}

}  // namespace

std::vector<ZoneChance> weakZones(const std::vector<ZoneCounts>& zones, double target) {
    assert(target > 0 && target < 1);
    std::vector<ZoneChance> chances;
    if (zones.empty()) return chances;
    const Prior prior = fitted(zones);
    for (const ZoneCounts& zone : zones) {
        assert(zone.right >= 0 && zone.right <= zone.seen);
        const boost::math::beta_distribution<double> rate(prior.a + zone.right,
                                                          prior.b + zone.seen - zone.right);
        ZoneChance& chance = chances.emplace_back();
        chance.zone = zone.zone;
        chance.right = zone.right;
        chance.seen = zone.seen;
        chance.rate = boost::math::mean(rate);
        chance.low = boost::math::quantile(rate, (1 - kLevel) / 2);
        chance.high = boost::math::quantile(boost::math::complement(rate, (1 - kLevel) / 2));
        chance.below = boost::math::cdf(rate, target);
        chance.weak = chance.below > kSure && chance.seen >= kFewestSeen;
    }
    return chances;
}

}  // namespace markerlamp::core
