#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The built-in documents as values, and attempts on them that get everything right, for tests that then spoil
// one thing.

#include "core/attempt/attempt.h"
#include "core/rubric/rubric.h"
#include "core/rubric/rubric_reader.h"
#include "demo/generator/built_in.h"

#include <algorithm>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace markerlamp::testing {

/// Text of a document that travels inside the program, by its file name.
inline const std::string& builtInText(std::string_view fileName) {
    for (const demo::BuiltInDocument& document : demo::builtInDocuments())
        if (document.name == fileName) return document.text;
    throw std::out_of_range("no built-in document " + std::string(fileName));
}

/// "air-brake-school-bus" or "hydraulic-brake-school-bus".
inline core::Rubric builtInRubric(const std::string& id) {
    auto rubric = core::readRubric(builtInText(id + ".rubric.yaml"), id);
    if (!rubric) throw std::runtime_error(rubric.error().message);
    return *rubric;
}

inline core::LimitSet builtInLimits(const std::string& id) {
    auto set = core::readLimitSet(builtInText(id + ".limits.yaml"), id);
    if (!set) throw std::runtime_error(set.error().message);
    return *set;
}

/// Every tag of the rubric but these.
inline std::vector<std::string> equipmentWithout(const core::Rubric& rubric,
                                                 const std::vector<std::string>& left = {}) {
    std::vector<std::string> tags;
    for (const auto& [tag, title] : rubric.equipment)
        if (std::ranges::find(left, tag) == left.end()) tags.push_back(tag);
    return tags;
}

inline std::vector<std::string> zoneIds(const core::Rubric& rubric) {
    std::vector<std::string> ids;
    for (const core::Zone& zone : rubric.zones) ids.push_back(zone.id);
    return ids;
}

/// Where no zones are given: all. Everything is shown and said in rubric order, no reading is taken, and the
/// attempt is ended.
inline core::Attempt wholeAttempt(const core::Rubric& rubric, std::vector<std::string> equipment,
                                  std::vector<std::string> zones = {}) {
    core::Attempt attempt;
    core::AttemptHeader& header = attempt.header;
    header.id = "5b1c6c52-0000-4000-8000-0000000000aa";
    header.rubric = rubric.id;
    header.edition = rubric.edition;
    header.trainee = "t-a";
    header.instructor = "i-a";
    header.bus = "7";
    header.equipment = std::move(equipment);
    header.zones = zones.empty() ? zoneIds(rubric) : std::move(zones);
    header.started = "2026-03-02T06:10:00-05:00";
    double t = 0;
    const auto add = [&](core::EventKind kind, const std::string& step) -> core::Event& {
        core::Event& event = attempt.events.emplace_back();
        event.n = static_cast<int>(attempt.events.size());
        event.t = t;
        event.kind = kind;
        event.step = step;
        t += 2;
        return event;
    };
    for (const core::Zone& zone : rubric.zones) {
        if (std::ranges::find(header.zones, zone.id) == header.zones.end()) continue;
        for (const core::Step& step : zone.steps) {
            if (!core::appliesTo(step, header.equipment)) continue;
            if (!step.show.empty()) add(core::EventKind::Show, step.id);
            for (const core::Point& point : step.say) add(core::EventKind::Say, step.id).point = point.id;
        }
    }
    add(core::EventKind::End, {});
    return attempt;
}

/// Puts an event before the end and numbers the events again; the clock stands where the end stood.
inline core::Event& addBeforeEnd(core::Attempt& attempt, core::EventKind kind, const std::string& step) {
    core::Event event;
    event.kind = kind;
    event.step = step;
    event.t = attempt.events.back().t;
    const auto at = attempt.events.insert(attempt.events.end() - 1, event);
    for (std::size_t i = 0; i < attempt.events.size(); ++i) attempt.events[i].n = static_cast<int>(i) + 1;
    return *at;
}

}  // namespace markerlamp::testing
