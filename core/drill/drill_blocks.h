#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The steps of a test as blocks that can be drilled, and what it costs to begin in a zone.

#include "core/drill/drill_plan.h"

#include <string>
#include <vector>

namespace markerlamp::core {

/// Minutes to walk to a zone and begin there. Assumed, no published source.
inline constexpr double kWalkMinutes = 1;
/// More for a zone with steps of a strict must-pass rule: chocks placed, engine run until the air is up.
/// Assumed, no published source.
inline constexpr double kChainSetUpMinutes = 3;

/// What beginning in a zone of the draws costs, once.
struct ZoneSetUp {
    std::string zone;
    double minutes = kWalkMinutes;
};
/// Zones of the draws' steps, in walk order.
[[nodiscard]] std::vector<ZoneSetUp> zoneSetUps(const TestDraws& draws);

/// Every step alone, but the steps of a strict rule together (rules that share a step make one block), in
/// walk order of their first steps.
[[nodiscard]] std::vector<DrillBlock> drillBlocks(const TestDraws& draws,
                                                  const std::vector<std::string>& doneToday);

}  // namespace markerlamp::core
