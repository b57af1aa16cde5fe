#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Which zones are weak: beta-binomial shrinkage of few counts, never a raw share alone.

#include <string>
#include <vector>

namespace markerlamp::core {

struct ZoneCounts {
    std::string zone;
    int right = 0;
    int seen = 0;
};

struct ZoneChance {
    std::string zone;
    int right = 0, seen = 0;
    double rate = 0;           ///< shrunken mean
    double low = 0, high = 1;  ///< 80 % interval of the shrunken rate
    double below = 0;          ///< chance that the rate lies below the target
    bool weak = false;         ///< below > 0.8 and seen >= 5
};

/// Rates r_z ~ Beta(m k, (1 - m) k), m and k by marginal likelihood with a weak penalty on log k; zones in
/// the order given. `target` in (0, 1), e.g. the pass mark.
[[nodiscard]] std::vector<ZoneChance> weakZones(const std::vector<ZoneCounts>& zones, double target);

}  // namespace markerlamp::core
