// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "run_program.h"

#include <gtest/gtest.h>

namespace markerlamp::cli {
namespace {

TEST(CommandLine, HelpAndVersionNeedNoDisplay) {
    const ProgramRun help = runProgram({"--help"});
    EXPECT_EQ(help.exitCode, 0);
    for (const char* command : {"check", "score", "new", "import", "export", "sheet"}) {
        EXPECT_NE(help.standardOutput.find(command), std::string::npos) << command;
        EXPECT_EQ(runProgram({command, "--help"}).exitCode, 0) << command;
    }
    EXPECT_NE(help.standardOutput.find("official test"), std::string::npos) << "says what it is not";
    EXPECT_EQ(runProgram({"--version"}).exitCode, 0);
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
