// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "run_program.h"

#include <gtest/gtest.h>

#include <filesystem>

namespace markerlamp::cli {
namespace {

TEST(CommandLine, HelpAndVersionNeedNoDisplay) {
    const ProgramRun help = runProgram({"--help"});
    EXPECT_EQ(help.exitCode, 0);
    for (const char* command : {"check", "score", "new", "import", "export", "sheet", "agree", "forecast",
                                "drill", "track", "record", "erase"}) {
        EXPECT_NE(help.standardOutput.find(command), std::string::npos) << command;
        EXPECT_EQ(runProgram({command, "--help"}).exitCode, 0) << command;
    }
    EXPECT_NE(help.standardOutput.find("official test"), std::string::npos) << "says what it is not";
    EXPECT_EQ(runProgram({"--version"}).exitCode, 0);
}

TEST(CommandLine, LostOutputIsTheMachinesFault) {
    std::string pattern = (std::filesystem::temp_directory_path() / "markerlamp-XXXXXX").string();
    const std::filesystem::path folder = ::mkdtemp(pattern.data());
    const std::string golden = MARKERLAMP_TEST_DATA "/golden/";
    const std::string file = folder / "p.markerlamp";
    const std::vector<std::vector<std::string>> runs{
        {"--help"},
        {"--version"},
        {"import", "--help"},
        {"check", golden + "yard.rubric.yaml"},
        {"check", golden + "yard.rubric.yaml", "--json"},
        {"score", "--rubric", golden + "yard.rubric.yaml", golden + "clean.attempt.jsonl"},
        {"new", file},
        {"import", file, golden + "yard.rubric.yaml"},
        {"export", file, "--to", folder / "out"},
        {"sheet", "--blank", golden + "yard.rubric.yaml", "--out", folder / "x.pdf"}};
    for (const auto& words : runs) {
        const ProgramRun run = runProgram(words, Output::Lost);
        EXPECT_EQ(run.exitCode, 3) << ::testing::PrintToString(words);
        EXPECT_NE(run.standardError.find("standard output cannot be written to"), std::string::npos)
            << ::testing::PrintToString(words) << run.standardError;
    }
    EXPECT_TRUE(std::filesystem::exists(folder / "x.pdf")) << "the work itself was done";
    // With the number of standard output free, nothing that is opened may get what is printed.
    EXPECT_EQ(runProgram({"import", file, golden + "yard.rubric.yaml"}, Output::Closed).exitCode, 3);
    EXPECT_EQ(runProgram({"export", file, "--to", folder / "whole"}).exitCode, 0);
    std::filesystem::remove_all(folder);
}

TEST(CommandLine, AMisspeltCommandIsWrongUsage) {
    const ProgramRun run = runProgram({"scroe"});
    EXPECT_EQ(run.exitCode, 2);
    EXPECT_NE(run.standardError.find("scroe"), std::string::npos);
    EXPECT_TRUE(run.standardOutput.empty());
    EXPECT_EQ(runProgram({"--colour"}).exitCode, 2);
}

TEST(CommandLine, WithoutADisplayTheWindowSaysSo) {
    const ProgramRun run = runProgram({});
    EXPECT_EQ(run.exitCode, 3);
    EXPECT_NE(run.standardError.find("no display"), std::string::npos);
}

}  // namespace
}  // namespace markerlamp::cli
