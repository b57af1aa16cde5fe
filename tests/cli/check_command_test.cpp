// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "run_program.h"

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include <filesystem>
#include <fstream>

namespace markerlamp::cli {
namespace {

const std::string kAirBrakes = MARKERLAMP_SOURCE_DIR "/sample-data/rubrics/air-brake-school-bus.rubric.yaml";

TEST(CheckCommand, AcceptsTheBuiltInRubric) {
    const ProgramRun run = runProgram({"check", kAirBrakes, "--json"});
    EXPECT_EQ(run.exitCode, 0);
    const auto answer = nlohmann::json::parse(run.standardOutput);
    EXPECT_EQ(answer["ok"], true);
    EXPECT_EQ(answer["rubric"], "air-brake-school-bus");
    EXPECT_TRUE(answer["problems"].empty());
}

TEST(CheckCommand, ListsEveryProblemWithLinePathAndRemedy) {
    const auto path =
        std::filesystem::temp_directory_path() / ("check-" + std::to_string(::getpid()) + ".rubric.yaml");
    std::ofstream(path)
        << "format: markerlamp.rubric/1\nid: x\nedition: 0\ntitle: X\npass: {percent: 180}\nzones: []\n";
    const ProgramRun run = runProgram({"check", path.string(), "--json"});
    std::filesystem::remove(path);
    EXPECT_EQ(run.exitCode, 1);
    const auto problems = nlohmann::json::parse(run.standardOutput)["problems"];
    ASSERT_EQ(problems.size(), 3u);
    EXPECT_EQ(problems[0]["line"], 3);
    EXPECT_EQ(problems[0]["path"], "edition");
    EXPECT_EQ(problems[1]["path"], "pass.percent");
    EXPECT_EQ(problems[2]["path"], "zones");
    for (const auto& problem : problems) EXPECT_FALSE(problem["remedy"].get<std::string>().empty());
    EXPECT_NE(run.standardError.find(":3: edition:"), std::string::npos) << run.standardError;
}

TEST(CheckCommand, TellsWrongUsageAndFilesThatAreNotThereApart) {
    EXPECT_EQ(runProgram({"check"}).exitCode, 2);
    EXPECT_EQ(runProgram({"check", kAirBrakes, "--colour"}).exitCode, 2);
    EXPECT_EQ(runProgram({"check", kAirBrakes, kAirBrakes}).exitCode, 2);
    const ProgramRun missing = runProgram({"check", "/nowhere/at-all.rubric.yaml"});
    EXPECT_EQ(missing.exitCode, 1);
    EXPECT_NE(missing.standardError.find("there is no file /nowhere/at-all.rubric.yaml"), std::string::npos)
        << missing.standardError;
    EXPECT_EQ(runProgram({"check", MARKERLAMP_SOURCE_DIR}).exitCode, 1) << "a folder";
    const ProgramRun help = runProgram({"check", "--help"});
    EXPECT_EQ(help.exitCode, 0);
    EXPECT_NE(help.standardOutput.find("Usage: markerlamp check"), std::string::npos);
}

}  // namespace
}  // namespace markerlamp::cli
