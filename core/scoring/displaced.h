#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Fewest steps to take out so that the rest breaks no order rule: minimum cut on the conflict order.
// Method: Dilworth 1950 / Fulkerson 1956 in flow form, minW = max flow of s->x' (w), x'->y'' (inf), y''->t
// (w).

#include "core/rubric/order_relation.h"

#include <vector>

namespace markerlamp::core {

struct Displaced {
    std::vector<int> set;     ///< steps of one smallest set, in observed order
    std::vector<int> always;  ///< steps that every smallest set contains (only when asked for)
    std::vector<std::pair<int, int>> faults;  ///< (a, b): the rules say a before b, and b came first
};

/// @param observed distinct step numbers in the order in which they were done
/// @param prefer   for each observed step a rank: among smallest sets the one that keeps low ranks is chosen
///                 (lexicographic: the step of rank 0 is kept where some smallest set keeps it, then rank 1,
///                 ...)
[[nodiscard]] Displaced displacedSteps(const OrderRelation& relation, const std::vector<int>& observed,
                                       const std::vector<int>& prefer, bool withAlways);

}  // namespace markerlamp::core
