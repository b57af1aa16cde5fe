#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What a limit set would make of a rubric, limit by limit, and the new edition that comes of it. A rubric
// never changes once it is stored: new limits are a new edition.

#include "core/rubric/rubric_reader.h"

#include <string>
#include <vector>

namespace markerlamp::core {

/// One limit that is in both and not the same.
struct LimitChange {
    Limit before;
    Limit after;
    bool operator==(const LimitChange&) const = default;
};

struct LimitComparison {
    std::vector<LimitChange> changes;    ///< in the rubric's order
    std::vector<std::string> same;       ///< ids, in the rubric's order
    std::vector<std::string> unknown;    ///< ids of the set that the rubric does not have, in the set's order
    std::vector<LimitChange> otherUnit;  ///< in the rubric's order; these cannot be taken
};

[[nodiscard]] LimitComparison compareLimits(const Rubric& rubric, const LimitSet& set);

/// The rubric with those limits of the set that it has, under another edition number. Limits that the rubric
/// does not have are left out; compareLimits() names them. Refuses when nothing would change, when a limit
/// is in another unit, and when the edition is not newer.
[[nodiscard]] Result<Rubric> newEdition(const Rubric& rubric, const LimitSet& set, int edition);

}  // namespace markerlamp::core
