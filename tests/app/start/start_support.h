#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// People, buses and the built-in rubrics for tests of the start form. Everyone is invented.

#include "app/start/start_data.h"

#include "../../support/sample_attempt.h"

namespace markerlamp::testing {

/// Friday; permits count from here.
inline const QDate kToday(2026, 3, 13);

inline app::StartTrainee startTrainee(const std::string& key, const std::string& name,
                                      const std::string& permitEnds = {}, int attempts = 0,
                                      const QDate& last = {}) {
    app::StartTrainee entry;
    entry.trainee.key = key;
    entry.trainee.name = name;
    entry.trainee.permitExpires = permitEnds;
    entry.attempts = attempts;
    entry.last = last;
    return entry;
}

inline app::UnfinishedAttempt unfinished(const QString& id, const QString& name, bool crashed = true) {
    app::UnfinishedAttempt attempt;
    attempt.id = id;
    attempt.traineeName = name;
    attempt.busTitle = QStringLiteral("Bus 14");
    attempt.stopped = QDateTime(kToday, QTime(6, 12));
    attempt.scored = 48;
    attempt.steps = 118;
    attempt.crashed = crashed;
    return attempt;
}

/// Three trainees, two instructors, two buses, both built-in rubrics; the newest attempt on bus 14 by i-1.
/// @param last what the file remembers
inline app::StartData startData(app::LastUsed last = {}) {
    app::StartData data;
    data.last = std::move(last);
    data.trainees = {startTrainee("t-1", "Ada Example", "2026-04-01", 5, QDate(2026, 3, 3)),
                     startTrainee("t-2", "Bo Example", "2026-03-12"), startTrainee("t-3", "Cy Sample")};
    data.instructors = {{"i-1", "Ivy Instructor", false}, {"i-2", "Ian Instructor", false}};
    core::Bus air;
    air.key = "14";
    air.title = "Engine in front";
    air.equipment = {"air-brakes", "front-engine", "a-tag-of-another-rubric"};
    air.limits["low-warning"] = {60.0, std::nullopt};
    air.limits["applied-leak"] = {std::nullopt, 2.0};
    air.limits["a-limit-of-another-rubric"] = {1.0, std::nullopt};
    core::Bus rear;
    rear.key = "7";
    rear.title = "Bus 7";
    rear.equipment = {"air-brakes", "rear-engine"};
    data.buses = {air, rear};
    data.rubrics = {std::make_shared<core::Rubric>(builtInRubric("air-brake-school-bus")),
                    std::make_shared<core::Rubric>(builtInRubric("hydraulic-brake-school-bus"))};
    data.newest = {"t-1", "i-1", "14", "air-brake-school-bus", {}};
    return data;
}

/// A form on startData() with everything chosen.
inline app::StartForm readyForm() {
    app::StartForm form;
    form.setToday(kToday);
    form.setData(startData());
    form.setTrainee("t-2");
    return form;
}

}  // namespace markerlamp::testing
