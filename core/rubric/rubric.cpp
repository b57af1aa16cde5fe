// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/rubric/rubric.h"

#include <algorithm>

namespace markerlamp::core {

namespace {

template <class Items>
auto findById(const Items& items, std::string_view id) -> decltype(items.data()) {
    const auto found = std::ranges::find_if(items, [&](const auto& item) { return item.id == id; });
    return found == items.end() ? nullptr : &*found;
}

}  // namespace

const Limit* Rubric::limit(std::string_view limitId) const {
    return findById(limits, limitId);
}
const Zone* Rubric::zone(std::string_view zoneId) const {
    return findById(zones, zoneId);
}
const Section* Rubric::section(std::string_view sectionId) const {
    return findById(sections, sectionId);
}

const Step* Rubric::step(std::string_view stepId) const {
    for (const Zone& z : zones)
        if (const Step* found = findById(z.steps, stepId)) return found;
    return nullptr;
}

const Zone* Rubric::zoneOfStep(std::string_view stepId) const {
    for (const Zone& z : zones)
        if (findById(z.steps, stepId)) return &z;
    return nullptr;
}

bool appliesTo(const Step& step, const std::vector<std::string>& equipment) {
    return std::ranges::all_of(step.when, [&](std::string_view tag) {
        const bool wanted = !tag.starts_with('!');
        if (!wanted) tag.remove_prefix(1);
        return (std::ranges::find(equipment, tag) != equipment.end()) == wanted;
    });
}

}  // namespace markerlamp::core
