#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The invented demo program: a district, its staff, trainees, buses and ten weeks of practice, made by a
// seeded generator. Everyone in it is made up.

#include "core/attempt/attempt.h"
#include "core/people/people.h"
#include "core/rubric/rubric.h"

#include <cstdint>
#include <string>
#include <vector>

namespace markerlamp::demo {

struct DemoProgram {
    std::string title;
    std::string note;  ///< says that all of it is invented
    std::vector<core::Trainee> trainees;
    std::vector<core::Instructor> instructors;
    std::vector<core::Bus> buses;
    std::vector<core::Attempt> attempts;  ///< by start; one of them unfinished
};

struct DemoOptions {
    std::uint64_t seed = 20260302;
    int trainees = 16;
    int weeks = 10;
    std::string lastDay = "2026-03-13";  ///< day of the newest attempt
};

/// The same options and rubrics give the same program, byte for byte, on every machine.
[[nodiscard]] DemoProgram makeDemoProgram(const core::Rubric& airBrakes, const core::Rubric& hydraulicBrakes,
                                          const DemoOptions& options = {});

}  // namespace markerlamp::demo
