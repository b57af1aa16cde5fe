#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Programs of the sizes that the figures are about, made of many demo programs with seeds of their own. "A
// district" is 3,000 attempts, "a state" 60,000.

#include "core/rubric/rubric_reader.h"
#include "db/program_file.h"
#include "demo/generator/built_in.h"
#include "demo/generator/demo_program.h"

#include <cstdlib>
#include <string>
#include <string_view>
#include <vector>

namespace markerlamp::bench {

inline core::Rubric builtIn(std::string_view name) {
    for (const auto& document : demo::builtInDocuments())
        if (document.name == name) return core::readRubric(document.text).value();
    std::abort();
}

/// Attempts of the `part`-th demo program, with ids and trainees of their own.
inline demo::DemoProgram part(const core::Rubric& air, const core::Rubric& hydraulic, int number) {
    demo::DemoOptions options;
    options.seed += static_cast<std::uint64_t>(number);
    demo::DemoProgram program = demo::makeDemoProgram(air, hydraulic, options);
    const std::string suffix = "-" + std::to_string(number);
    for (core::Trainee& t : program.trainees) t.key += suffix;
    for (core::Attempt& a : program.attempts) {
        a.header.id += suffix;
        if (!a.header.of.empty()) a.header.of += suffix;
        a.header.trainee += suffix;
    }
    return program;
}

inline std::vector<core::Attempt> attempts(std::size_t count) {
    const core::Rubric air = builtIn("air-brake-school-bus.rubric.yaml");
    const core::Rubric hydraulic = builtIn("hydraulic-brake-school-bus.rubric.yaml");
    std::vector<core::Attempt> all;
    for (int number = 0; all.size() < count; ++number)
        for (core::Attempt& a : part(air, hydraulic, number).attempts)
            if (all.size() < count) all.push_back(std::move(a));
    return all;
}

/// A program file of that many attempts, with its people and buses; every unfinished attempt is set aside.
inline void fill(db::ProgramFile& file, std::size_t count) {
    const core::Rubric air = builtIn("air-brake-school-bus.rubric.yaml");
    const core::Rubric hydraulic = builtIn("hydraulic-brake-school-bus.rubric.yaml");
    for (const auto& document : demo::builtInDocuments())
        if (document.name.ends_with(".rubric.yaml") && !file.addRubric(document.text)) std::abort();
    std::size_t stored = 0;
    for (int number = 0; stored < count; ++number) {
        const demo::DemoProgram program = part(air, hydraulic, number);
        const auto done = file.transaction([&]() -> core::Result<void> {
            for (const auto& t : program.trainees)
                if (auto saved = file.saveTrainee(t); !saved) return saved;
            for (const auto& i : program.instructors)
                if (auto saved = file.saveInstructor(i); !saved) return saved;
            for (const auto& b : program.buses)
                if (auto saved = file.saveBus(b); !saved) return saved;
            for (const auto& a : program.attempts) {
                if (stored == count) break;
                ++stored;
                if (auto added = file.addAttempt(a); !added) return core::fail(added.error());
                if (a.events.back().kind != core::EventKind::End && a.events.back().by.empty())
                    if (auto aside = file.setAside(a.header.id); !aside) return aside;
            }
            return {};
        });
        if (!done) std::abort();
    }
}

}  // namespace markerlamp::bench
