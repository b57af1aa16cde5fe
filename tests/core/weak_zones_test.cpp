// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/stats/weak_zones.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <random>

namespace markerlamp::core {
namespace {

double shareOf(const ZoneCounts& zone) {
    return zone.seen == 0 ? 1 : static_cast<double>(zone.right) / zone.seen;
}

TEST(WeakZones, AgreesWithAnIndependentMaximisation) {
    // The same penalised likelihood maximised with scipy 1.10.1 (Nelder-Mead to 1e-10), posterior from
    // scipy.stats.beta: mean, 10 % and 90 % quantile, cdf at 0.8.
    const std::vector<ZoneCounts> zones{
        {"a", 18, 20}, {"b", 15, 20}, {"c", 3, 10}, {"d", 0, 1}, {"e", 12, 14}};
    const std::vector<std::array<double, 4>> outside{{0.84492678, 0.75088104, 0.92713513, 0.23869364},
                                                     {0.73054546, 0.61694484, 0.83620916, 0.78203847},
                                                     {0.44125978, 0.28673417, 0.59916460, 0.99919016},
                                                     {0.57564411, 0.34111622, 0.79938966, 0.90076537},
                                                     {0.79892932, 0.68079962, 0.90353866, 0.46029413}};
    const auto chances = weakZones(zones, 0.8);
    ASSERT_EQ(chances.size(), zones.size());
    for (std::size_t i = 0; i < zones.size(); ++i) {
        EXPECT_EQ(chances[i].zone, zones[i].zone);
        EXPECT_NEAR(chances[i].rate, outside[i][0], 1e-4) << zones[i].zone;
        EXPECT_NEAR(chances[i].low, outside[i][1], 1e-4) << zones[i].zone;
        EXPECT_NEAR(chances[i].high, outside[i][2], 1e-4) << zones[i].zone;
        EXPECT_NEAR(chances[i].below, outside[i][3], 1e-4) << zones[i].zone;
    }
    // A zone that was never seen is what the others say of the trainee.
    const auto unseen =
        weakZones({{"a", 11, 18}, {"b", 20, 22}, {"c", 4, 12}, {"d", 9, 9}, {"e", 0, 0}, {"f", 7, 16}}, 0.8);
    EXPECT_NEAR(unseen[4].rate, 0.65817136, 1e-4);
    EXPECT_NEAR(unseen[4].below, 0.71481107, 1e-4);
    EXPECT_FALSE(unseen[4].weak);
}

TEST(WeakZones, OneMissOfOneIsNotWeakerThanThreeOfTen) {
    const std::vector<ZoneCounts> zones{{"once", 0, 1}, {"often", 3, 10}, {"good", 18, 20}, {"fair", 15, 20}};
    const auto chances = weakZones(zones, 0.8);
    EXPECT_LT(shareOf(zones[0]), shareOf(zones[1])) << "the raw share ranks the single miss as weakest";
    EXPECT_GT(chances[0].rate, chances[1].rate);
    EXPECT_LT(chances[0].below, chances[1].below);
    EXPECT_FALSE(chances[0].weak);
    EXPECT_TRUE(chances[1].weak);
}

TEST(WeakZones, FlagsFromFiveObservationsOn) {
    const std::vector<ZoneCounts> others{{"a", 18, 20}, {"b", 19, 20}, {"c", 17, 20}};
    for (const int seen : {4, 5}) {
        auto zones = others;
        zones.push_back({"x", 0, seen});
        const auto chances = weakZones(zones, 0.8);
        EXPECT_GT(chances.back().below, 0.8);
        EXPECT_EQ(chances.back().weak, seen == 5);
    }
}

TEST(WeakZones, HoldsAtTheEnds) {
    EXPECT_TRUE(weakZones({}, 0.8).empty());
    for (const auto& zones :
         {std::vector<ZoneCounts>{{"a", 0, 0}}, std::vector<ZoneCounts>{{"a", 0, 40}, {"b", 0, 60}},
          std::vector<ZoneCounts>{{"a", 40, 40}, {"b", 60, 60}}})
        for (const ZoneChance& chance : weakZones(zones, 0.8)) {
            EXPECT_TRUE(std::isfinite(chance.below) && chance.below >= 0 && chance.below <= 1);
            EXPECT_LT(chance.low, chance.rate);
            EXPECT_LT(chance.rate, chance.high);
        }
    EXPECT_FALSE(weakZones({{"a", 40, 40}, {"b", 60, 60}}, 0.8)[0].weak);
    EXPECT_TRUE(weakZones({{"a", 0, 40}, {"b", 0, 60}}, 0.8)[0].weak);
}

/// A chance from the raw numbers of the generator: the same on every machine.
double uniform(std::mt19937& random) {
    return random() / 4294967296.0;
}

TEST(WeakZones, FindTheWeakestZoneMoreOftenThanRawShares) {
    // Simulated trainees with known rates: eight zones, 1 to 20 observations each.
    std::mt19937 random(20'260'302);
    double lostByShare = 0;
    double lostByChance = 0;
    int flagged = 0;
    int rightlyFlagged = 0;
    for (int trainee = 0; trainee < 400; ++trainee) {
        std::vector<double> rates;
        std::vector<ZoneCounts> zones;
        for (int z = 0; z < 8; ++z) {
            rates.push_back(0.45 + 0.25 * (uniform(random) + uniform(random)));
            ZoneCounts& zone = zones.emplace_back();
            zone.seen = 1 + static_cast<int>(20 * uniform(random));
            for (int i = 0; i < zone.seen; ++i)
                if (uniform(random) < rates.back()) ++zone.right;
        }
        const auto chances = weakZones(zones, 0.8);
        const auto raw = std::ranges::min_element(zones, {}, shareOf) - zones.begin();
        const auto ours = std::ranges::max_element(chances, {}, &ZoneChance::below) - chances.begin();
        const double weakest = *std::ranges::min_element(rates);
        lostByShare += rates[static_cast<std::size_t>(raw)] - weakest;
        lostByChance += rates[static_cast<std::size_t>(ours)] - weakest;
        for (std::size_t z = 0; z < zones.size(); ++z)
            if (chances[z].weak) {
                ++flagged;
                if (rates[z] < 0.8) ++rightlyFlagged;
            }
    }
    EXPECT_LT(lostByChance, 0.95 * lostByShare) << lostByChance << " against " << lostByShare;
    ASSERT_GT(flagged, 100);
    EXPECT_GT(rightlyFlagged, 0.85 * flagged) << "flagged at more than 0.8";
}

RC_GTEST_PROP(WeakZones, MoreRightNeverLooksWeaker, ()) {
    std::vector<ZoneCounts> zones;
    for (int z = 0; z < 5; ++z) {
        const int seen = *rc::gen::inRange(1, 25);
        zones.push_back({std::string(1, static_cast<char>('a' + z)), *rc::gen::inRange(0, seen + 1), seen});
    }
    const auto chances = weakZones(zones, 0.8);
    for (std::size_t i = 0; i < zones.size(); ++i)
        for (std::size_t j = 0; j < zones.size(); ++j)
            if (zones[i].seen == zones[j].seen && zones[i].right < zones[j].right)
                RC_ASSERT(chances[i].below >= chances[j].below);
}

}  // namespace
}  // namespace markerlamp::core
