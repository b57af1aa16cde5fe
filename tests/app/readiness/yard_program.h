#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// A rubric of three steps and attempts on it, small enough to work out a whole program in a moment.

#include "core/attempt/attempt.h"

#include <string>
#include <vector>

namespace markerlamp::testing {

/// Three steps in two zones; the second edition has one step more.
inline std::string yardRubric(int edition) {
    std::string text = R"(format: markerlamp.rubric/1
id: yard
edition: )" + std::to_string(edition) +
                       R"(
title: Yard rubric
equipment: {air-brakes: Air brakes}
pass: {percent: 60}
limits: {}
zones:
  - id: front
    title: Front
    steps:
      - {id: lamps, title: Lamps, show: Point at the lamps}
      - {id: hoses, title: Hoses, show: Point at the hoses, when: [air-brakes]}
)";
    if (edition > 1) text += "      - {id: mirror, title: Mirror, show: Point at the mirror}\n";
    return text + R"(  - id: cab
    title: Cab
    steps:
      - {id: horn, title: Horn, show: Sound the horn, must_pass: true}
sections:
  - {id: outside, title: Outside, zones: [front]}
)";
}

/// Shows the steps named, leaves the others out, and ends.
inline core::Attempt yardAttempt(const std::string& id, const std::string& trainee,
                                 const std::string& started, const std::vector<std::string>& shown) {
    core::Attempt made;
    made.header = {};
    made.header.id = id;
    made.header.rubric = "yard";
    made.header.edition = 1;
    made.header.trainee = trainee;
    made.header.instructor = "i-1";
    made.header.bus = "14";
    made.header.equipment = {"air-brakes"};
    made.header.zones = {"front", "cab"};
    made.header.started = started;
    for (const std::string& step : shown) {
        core::Event& event = made.events.emplace_back();
        event.kind = core::EventKind::Show;
        event.step = step;
    }
    made.events.emplace_back().kind = core::EventKind::End;
    for (std::size_t i = 0; i < made.events.size(); ++i) {
        made.events[i].n = static_cast<int>(i) + 1;
        made.events[i].t = static_cast<double>(i);
    }
    return made;
}

inline const std::vector<std::string> kYardSteps{"lamps", "hoses", "horn"};

}  // namespace markerlamp::testing
