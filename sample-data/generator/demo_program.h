#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The invented demo program: a district, its staff, trainees, buses and ten weeks of practice, made by a
// seeded generator. Everyone in it is made up.

#include "core/attempt/attempt.h"
#include "core/people/people.h"
#include "core/people/training.h"
#include "core/rubric/rubric.h"

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace markerlamp::demo {

struct DemoProgram {
    std::string title;
    std::string note;     ///< says that all of it is invented
    std::string lastDay;  ///< day of the newest attempt, a working day
    std::vector<core::Trainee> trainees;
    std::vector<core::Instructor> instructors;
    std::vector<core::Bus> buses;
    std::vector<core::Attempt> attempts;  ///< by start; one of them unfinished
    std::vector<core::ClockHours> hours;
    std::vector<core::BookedTest> bookings;
    std::vector<core::Absence> absences;
    std::vector<core::Course> courses;
};

struct DemoOptions {
    std::uint64_t seed = 20260302;
    int trainees = 16;
    int weeks = 10;
    /// Every date follows it: what happened on working days keeps its number of working days before it, what
    /// runs out (permit, medical card) its number of days. On a weekend: the Friday before.
    std::string lastDay = "2026-03-13";
};

/// An id of the form of a UUID, always the same for a seed.
[[nodiscard]] std::string uuidFrom(std::uint64_t seed);

/// The day itself from Monday to Friday, else the Friday before.
[[nodiscard]] std::string lastWorkingDayUpTo(std::string_view isoDate);

/// The same options and rubrics give the same program, byte for byte, on every machine. Another last day
/// changes dates and nothing else.
[[nodiscard]] DemoProgram makeDemoProgram(const core::Rubric& airBrakes, const core::Rubric& hydraulicBrakes,
                                          const DemoOptions& options = {});

}  // namespace markerlamp::demo
