// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/rubric/new_edition.h"

#include <algorithm>

namespace markerlamp::core {

LimitComparison compareLimits(const Rubric& rubric, const LimitSet& set) {
    LimitComparison comparison;
    for (const Limit& limit : rubric.limits) {
        const auto found = std::ranges::find(set.limits, limit.id, &Limit::id);
        if (found == set.limits.end()) continue;
        if (found->unit != limit.unit)
            comparison.otherUnit.push_back({limit, *found});
        else if (*found == limit)
            comparison.same.push_back(limit.id);
        else
            comparison.changes.push_back({limit, *found});
    }
    for (const Limit& limit : set.limits)
        if (rubric.limit(limit.id) == nullptr) comparison.unknown.push_back(limit.id);
    return comparison;
}

Result<Rubric> newEdition(const Rubric& rubric, const LimitSet& set, int edition) {
    const LimitComparison comparison = compareLimits(rubric, set);
    if (comparison.changes.empty() && comparison.otherUnit.empty())
        return fail(ErrorKind::Refused, "limit set " + set.id + " changes nothing in rubric " + rubric.id +
                                            ", edition " + std::to_string(rubric.edition) +
                                            "; a new edition needs at least one other limit");
    LimitSet fitting = set;
    std::erase_if(fitting.limits,
                  [&rubric](const Limit& limit) { return rubric.limit(limit.id) == nullptr; });
    return withLimits(rubric, fitting, edition);
}

}  // namespace markerlamp::core
