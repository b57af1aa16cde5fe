// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "run_program.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include <sys/stat.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <sstream>

namespace markerlamp::cli {
namespace {

using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;

std::string golden(const std::string& name) {
    return std::string(MARKERLAMP_TEST_DATA) + "/golden/" + name;
}
const std::string kRubric = golden("yard.rubric.yaml");

nlohmann::json parsed(const std::string& path) {
    std::ifstream file(path);
    return nlohmann::json::parse(file);
}

TEST(ScoreCommand, PrintsOneCardALineInTheOrderGiven) {
    const ProgramRun run = runProgram({"score", "--rubric", kRubric, golden("cut-short.attempt.jsonl"),
                                       golden("clean.attempt.jsonl"), "--json"});
    EXPECT_EQ(run.exitCode, 0) << run.standardError;
    std::istringstream lines(run.standardOutput);
    std::string line;
    for (const std::string name : {"cut-short", "clean"}) {
        ASSERT_TRUE(std::getline(lines, line));
        const auto got = nlohmann::json::parse(line);
        const auto want = parsed(golden(name + ".scorecard.json"));
        EXPECT_EQ(got["attempt"], want["attempt"]);
        EXPECT_EQ(got["result"], want["result"]);
        EXPECT_EQ(got["steps"], want["steps"]);
    }
    EXPECT_FALSE(std::getline(lines, line));
}

TEST(ScoreCommand, WithoutJsonTellsResultPercentAndWhatWasMissed) {
    const ProgramRun run = runProgram({"score", "--rubric=" + kRubric, golden("out-of-order.attempt.jsonl")});
    EXPECT_EQ(run.exitCode, 0) << run.standardError;
    EXPECT_THAT(run.standardOutput, HasSubstr("out-of-order.attempt.jsonl: fail"));
    EXPECT_THAT(run.standardOutput, HasSubstr("42.9 (3 of 7; 80 to pass)"));
    EXPECT_THAT(run.standardOutput, HasSubstr("safe-start, knob"));
    EXPECT_THAT(run.standardOutput, HasSubstr("strict-order brake-sequence"));
    EXPECT_THAT(run.standardOutput, HasSubstr("5:31"));
}

class ScoreCommandWithFiles : public ::testing::Test {
protected:
    void SetUp() override {
        m_folder =
            std::filesystem::temp_directory_path() / ("markerlamp-score-" + std::to_string(::getpid()));
        std::filesystem::create_directories(m_folder);
    }
    void TearDown() override { std::filesystem::remove_all(m_folder); }
    std::string write(const std::string& name, const std::string& text) {
        const auto path = (m_folder / name).string();
        std::ofstream(path) << text;
        return path;
    }
    std::filesystem::path m_folder;
};

TEST_F(ScoreCommandWithFiles, ListsTheProblemsOfAllAndPrintsNothing) {
    const std::string header =
        R"({"format":"markerlamp.attempt/1","id":"5d3a1f00-0000-4000-8000-000000000009","rubric":"yard",)"
        R"("edition":2,"trainee":"a","instructor":"b","bus":"12","equipment":["air-brakes"],)"
        R"("zones":["outside","brakes"],"started":"2026-03-02T06:10:00-05:00"})"
        "\n";
    const std::string stray =
        write("stray.attempt.jsonl", header + "{\"n\":1,\"t\":0,\"do\":\"show\",\"step\":\"lamps\"}\n" +
                                         "{\"n\":2,\"t\":1,\"do\":\"show\",\"step\":\"pedal\"}\n");
    const std::string gap =
        write("gap.attempt.jsonl", header + "{\"n\":2,\"t\":0,\"do\":\"show\",\"step\":\"lamps\"}\n");
    const ProgramRun run =
        runProgram({"score", "--json", "--rubric", kRubric, stray, golden("clean.attempt.jsonl"), gap});
    EXPECT_EQ(run.exitCode, 1);
    EXPECT_THAT(run.standardOutput, IsEmpty());
    EXPECT_THAT(run.standardError, HasSubstr(stray + ":3:"));
    EXPECT_THAT(run.standardError, HasSubstr("pedal"));
    EXPECT_THAT(run.standardError, HasSubstr(gap + ":2:"));
    EXPECT_THAT(run.standardError, Not(HasSubstr("clean.attempt.jsonl")));
}

TEST_F(ScoreCommandWithFiles, RefusesABadRubricAndStillLooksAtTheAttempts) {
    const std::string rubric =
        write("bad.rubric.yaml", "format: markerlamp.rubric/1\nid: yard\nedition: 0\n");
    const std::string attempt = write("bad.attempt.jsonl", "{}\n");
    const ProgramRun run = runProgram({"score", "--rubric", rubric, attempt});
    EXPECT_EQ(run.exitCode, 1);
    EXPECT_THAT(run.standardOutput, IsEmpty());
    EXPECT_THAT(run.standardError, HasSubstr(rubric + ":3:"));
    EXPECT_THAT(run.standardError, HasSubstr(attempt + ":1:"));
}

TEST_F(ScoreCommandWithFiles, WhatIsNotThereOrNoDocumentIsRefused) {
    const std::string missing = (m_folder / "missing.attempt.jsonl").string();
    const ProgramRun run = runProgram({"score", "--rubric", kRubric, golden("clean.attempt.jsonl"), missing});
    EXPECT_EQ(run.exitCode, 1);
    EXPECT_THAT(run.standardOutput, IsEmpty());
    EXPECT_THAT(run.standardError, HasSubstr("there is no file " + missing));
    EXPECT_EQ(runProgram({"score", "--rubric", missing, golden("clean.attempt.jsonl")}).exitCode, 1);
    EXPECT_EQ(runProgram({"score", "--rubric", kRubric, m_folder.string()}).exitCode, 1) << "a folder";
    const std::string pipe = (m_folder / "pipe.attempt.jsonl").string();
    ASSERT_EQ(::mkfifo(pipe.c_str(), 0600), 0);
    const ProgramRun waiting = runProgram({"score", "--rubric", kRubric, pipe});
    EXPECT_EQ(waiting.exitCode, 1);
    EXPECT_THAT(waiting.standardError, HasSubstr(pipe + " is a pipe"));
    EXPECT_EQ(runProgram({"score", "--rubric", pipe, golden("clean.attempt.jsonl")}).exitCode, 1);
}

TEST_F(ScoreCommandWithFiles, AFileNameNeedNotBeUtf8) {
    const std::string odd = (m_folder / "caf\xE9.attempt.jsonl").string();
    std::filesystem::copy_file(golden("clean.attempt.jsonl"), odd);
    const ProgramRun run = runProgram({"score", "--rubric", kRubric, odd});
    EXPECT_EQ(run.exitCode, 0) << run.standardError;
    EXPECT_THAT(run.standardOutput, HasSubstr(odd + ": pass"));
}

TEST(ScoreCommand, TellsWrongUsage) {
    const std::string clean = golden("clean.attempt.jsonl");
    const std::vector<std::vector<std::string>> wrong{
        {"score"},
        {"score", clean},
        {"score", "--rubric"},
        {"score", "--rubric", kRubric},
        {"score", "--rubric", kRubric, "--jsno", clean},
        {"score", "--rubric", kRubric, "--rubric", kRubric, clean}};
    for (const auto& arguments : wrong) {
        const ProgramRun run = runProgram(arguments);
        EXPECT_EQ(run.exitCode, 2) << ::testing::PrintToString(arguments);
        EXPECT_THAT(run.standardOutput, IsEmpty());
        EXPECT_THAT(run.standardError, HasSubstr("Usage: markerlamp score"));
    }
}

TEST(ScoreCommand, ExplainsItself) {
    const ProgramRun run = runProgram({"score", "--help"});
    EXPECT_EQ(run.exitCode, 0);
    EXPECT_THAT(run.standardOutput, HasSubstr("--rubric RUBRIC"));
    EXPECT_THAT(run.standardError, IsEmpty());
}

}  // namespace
}  // namespace markerlamp::cli
