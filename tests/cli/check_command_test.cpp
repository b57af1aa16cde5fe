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

/// A folder that goes away.
class CheckLimits : public ::testing::Test {
protected:
    CheckLimits() : m_dir(std::filesystem::temp_directory_path() / ("limits-" + std::to_string(::getpid()))) {
        std::filesystem::create_directory(m_dir);
    }
    ~CheckLimits() override { std::filesystem::remove_all(m_dir); }
    std::string path(const char* name) const { return (m_dir / name).string(); }
    std::string write(const char* name, const std::string& text) const {
        std::ofstream(path(name)) << text;
        return path(name);
    }
    static std::string textOf(const std::string& file) {
        std::ifstream in(file);
        return {std::istreambuf_iterator<char>(in), {}};
    }
    std::size_t files() const {
        return static_cast<std::size_t>(std::distance(std::filesystem::directory_iterator(m_dir), {}));
    }

private:
    std::filesystem::path m_dir;
};

const std::string kGeorgia = MARKERLAMP_SOURCE_DIR "/sample-data/limits/modernised-test.limits.yaml";

TEST_F(CheckLimits, WritesTheNextEditionAndTellsEveryChange) {
    const std::string out = path("air-2.rubric.yaml");
    const ProgramRun run = runProgram({"check", kAirBrakes, "--limits", kGeorgia, "--out", out, "--json"});
    ASSERT_EQ(run.exitCode, 0) << run.standardError;
    const auto answer = nlohmann::json::parse(run.standardOutput);
    EXPECT_EQ(answer["edition"], 2);
    EXPECT_EQ(answer["limits"], "modernised-test");
    bool cutOut = false;
    for (const auto& change : answer["changes"])
        if (change["limit"] == "cut-out") {
            // Georgia section 11M.1.2: about 120 to 140 psi.
            cutOut = change["after"]["low"] == 120 && change["after"]["high"] == 140;
            EXPECT_NE(change["before"], change["after"]);
        }
    EXPECT_TRUE(cutOut) << run.standardOutput;
    const ProgramRun again = runProgram({"check", out, "--json"});
    EXPECT_EQ(again.exitCode, 0) << again.standardError;
    EXPECT_EQ(nlohmann::json::parse(again.standardOutput)["edition"], 2);
    EXPECT_EQ(files(), 1u) << "nothing else is left in the folder";

    const std::string before = textOf(out);
    const ProgramRun twice = runProgram({"check", kAirBrakes, "--limits", kGeorgia, "--out", out});
    EXPECT_EQ(twice.exitCode, 1);
    EXPECT_NE(twice.standardError.find("there already"), std::string::npos);
    EXPECT_EQ(textOf(out), before);
}

TEST_F(CheckLimits, WithoutOutItOnlyTells) {
    const ProgramRun run = runProgram({"check", kAirBrakes, "--limits", kGeorgia});
    EXPECT_EQ(run.exitCode, 0) << run.standardError;
    EXPECT_NE(run.standardOutput.find("cut-out: "), std::string::npos);
    EXPECT_NE(run.standardOutput.find("from 120 to 140 psi (Georgia section 11M.1.2"), std::string::npos)
        << run.standardOutput;
    EXPECT_EQ(files(), 0u);
}

TEST_F(CheckLimits, NamesWhatTheRubricLacksAndRefusesWhatChangesNothing) {
    const std::string lacking = write("odd.limits.yaml",
                                      "format: markerlamp.limits/1\nid: odd\ntitle: Odd\nlimits:\n"
                                      "  wing-span: {high: 3, unit: m, source: none}\n");
    const std::string out = path("new.rubric.yaml");
    const ProgramRun nothing = runProgram({"check", kAirBrakes, "--limits", lacking, "--out", out});
    EXPECT_EQ(nothing.exitCode, 1);
    EXPECT_NE(nothing.standardError.find("changes nothing"), std::string::npos) << nothing.standardError;
    EXPECT_FALSE(std::filesystem::exists(out));

    const std::string some = write("some.limits.yaml",
                                   "format: markerlamp.limits/1\nid: some\ntitle: Some\nlimits:\n"
                                   "  wing-span: {high: 3, unit: m, source: none}\n"
                                   "  applied-leak: {high: 1, unit: psi, source: invented}\n");
    const ProgramRun one = runProgram({"check", kAirBrakes, "--limits", some, "--out", out, "--json"});
    ASSERT_EQ(one.exitCode, 0) << one.standardError;
    const auto answer = nlohmann::json::parse(one.standardOutput);
    EXPECT_EQ(answer["changes"].size(), 1u);
    EXPECT_EQ(answer["left_out"], nlohmann::json::array({"wing-span"}));
    EXPECT_TRUE(std::filesystem::exists(out));
}

TEST_F(CheckLimits, WrongUsageAndBadInputWriteNothing) {
    EXPECT_EQ(runProgram({"check", kAirBrakes, "--out", path("a.rubric.yaml")}).exitCode, 2);
    EXPECT_EQ(runProgram({"check", kAirBrakes, "--limits", kGeorgia, "--out", path("a.txt")}).exitCode, 2);
    EXPECT_EQ(
        runProgram({"check", kAirBrakes, "--limits", kAirBrakes, "--out", path("a.rubric.yaml")}).exitCode,
        1);
    EXPECT_NE(
        runProgram({"check", kAirBrakes, "--limits", kGeorgia, "--out", path("none/a.rubric.yaml")}).exitCode,
        0);
    EXPECT_EQ(files(), 0u);
}

}  // namespace
}  // namespace markerlamp::cli
