#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// A small program with attempts that two instructors scored.

#include "../readiness/yard_program.h"
#include "db/program_file.h"

#include <gtest/gtest.h>

#include <memory>
#include <string>
#include <vector>

namespace markerlamp::testing {

inline core::Attempt scoringOf(const std::string& id, const std::string& of, const std::string& instructor,
                               const std::string& started, const std::vector<std::string>& shown) {
    core::Attempt attempt = yardAttempt(id, "t-1", started, shown);
    attempt.header.of = of;
    attempt.header.instructor = instructor;
    return attempt;
}

/// Takes the end away: the scoring is still open.
inline core::Attempt stillOpen(core::Attempt attempt) {
    attempt.events.pop_back();
    return attempt;
}

inline std::unique_ptr<db::ProgramFile> yardProgram(const std::filesystem::path& path) {
    auto file = db::ProgramFile::create(path).value();
    EXPECT_TRUE(file->addRubric(yardRubric(1)));
    EXPECT_TRUE(file->saveTrainee({"t-1", "Ada Example", "", "", "", "", {}, "", "", "", false}));
    EXPECT_TRUE(file->saveInstructor({"i-1", "Carla Crane", false}));
    EXPECT_TRUE(file->saveInstructor({"i-2", "Bert Brook", false}));
    return file;
}

inline const std::string kOne = "00000000-0000-4000-8000-000000000001";
inline const std::string kTwo = "00000000-0000-4000-8000-000000000002";
inline const std::string kMorning = "2026-02-02T08:00:00-05:00";

/// One pair: the first has all three steps, the second left the hoses out.
inline void addPair(db::ProgramFile& file) {
    EXPECT_TRUE(file.addAttempt(scoringOf(kOne, {}, "i-1", kMorning, kYardSteps)));
    EXPECT_TRUE(file.addAttempt(scoringOf(kTwo, kOne, "i-2", kMorning, {"lamps", "horn"})));
}

}  // namespace markerlamp::testing
