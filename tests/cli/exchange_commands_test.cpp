// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "in_folder.h"
#include "run_program.h"

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <sstream>

#include <sys/stat.h>

namespace markerlamp::cli {
namespace {

class ExchangeCommands : public InFolder {};

TEST_F(ExchangeCommands, TheDemoProgramGoesOutAndInAndOutTheSame) {
    ASSERT_EQ(runProgram({"new", at("demo.markerlamp"), "--demo", "--demo-until", "2026-03-13"}).exitCode, 0);
    const ProgramRun out = runProgram({"export", at("demo.markerlamp"), "--to", at("first")});
    ASSERT_EQ(out.exitCode, 0) << out.standardError;
    ASSERT_EQ(runProgram({"new", at("copy.markerlamp")}).exitCode, 0);
    const ProgramRun in = runProgram({"import", at("copy.markerlamp"), at("first"), "--json"});
    ASSERT_EQ(in.exitCode, 0) << in.standardError;
    const auto report = nlohmann::json::parse(in.standardOutput);
    EXPECT_EQ(report["refused"], 0);
    EXPECT_GE(report["added"].get<int>(), 90);
    ASSERT_EQ(runProgram({"export", at("copy.markerlamp"), "--to=" + at("second")}).exitCode, 0);
    const auto first = filesOf("first");
    EXPECT_GE(first.size(), 100u);
    EXPECT_EQ(first, filesOf("second"));
    // A second time everything is there already.
    const ProgramRun again = runProgram({"import", at("copy.markerlamp"), at("first")});
    EXPECT_EQ(again.exitCode, 0);
    EXPECT_NE(again.standardOutput.find("0 added, 0 changed"), std::string::npos) << again.standardOutput;
}

TEST_F(ExchangeCommands, APackageGoesOutAndInWithItsPassphraseOnly) {
    ASSERT_EQ(runProgram({"new", at("demo.markerlamp"), "--demo", "--demo-until", "2026-03-13"}).exitCode, 0);
    std::ofstream(at("words")) << "four words or more\nthis line is not read\n";
    std::ofstream(at("others")) << "other words entirely\n";
    const ProgramRun out = runProgram(
        {"export", at("demo.markerlamp"), "--package", at("d.mlpack"), "--passphrase-file", at("words")});
    ASSERT_EQ(out.exitCode, 0) << out.standardError;
    ASSERT_EQ(runProgram({"new", at("copy.markerlamp")}).exitCode, 0);
    const ProgramRun wrong =
        runProgram({"import", at("copy.markerlamp"), at("d.mlpack"), "--passphrase-file", at("others")});
    EXPECT_EQ(wrong.exitCode, 1);
    EXPECT_NE(wrong.standardError.find("this passphrase does not open"), std::string::npos)
        << wrong.standardError;
    const ProgramRun in = runProgram(
        {"import", at("copy.markerlamp"), at("d.mlpack"), "--passphrase-file", at("words"), "--json"});
    ASSERT_EQ(in.exitCode, 0) << in.standardError;
    EXPECT_EQ(nlohmann::json::parse(in.standardOutput)["refused"], 0);
    ASSERT_EQ(runProgram({"export", at("demo.markerlamp"), "--to", at("first")}).exitCode, 0);
    ASSERT_EQ(runProgram({"export", at("copy.markerlamp"), "--to", at("second")}).exitCode, 0);
    EXPECT_EQ(filesOf("first"), filesOf("second"));
}

TEST_F(ExchangeCommands, PackagesComeAloneAndPassphrasesNeverOnTheCommandLine) {
    ASSERT_EQ(runProgram({"new", at("p.markerlamp")}).exitCode, 0);
    std::ofstream(at("short")) << "seven77\n";
    EXPECT_EQ(runProgram({"import", at("p.markerlamp"), at("a.mlpack"), at("people.csv")}).exitCode, 2);
    EXPECT_EQ(runProgram({"import", at("p.markerlamp"), at("people.csv"), "--passphrase-file", at("short")})
                  .exitCode,
              2);
    EXPECT_EQ(runProgram({"export", at("p.markerlamp"), "--to", at("d"), "--passphrase-file", at("short")})
                  .exitCode,
              2);
    const ProgramRun run = runProgram(
        {"export", at("p.markerlamp"), "--package", at("a.mlpack"), "--passphrase-file", at("short")});
    EXPECT_EQ(run.exitCode, 1);
    EXPECT_NE(run.standardError.find("at least 8"), std::string::npos) << run.standardError;
    EXPECT_FALSE(std::filesystem::exists(at("a.mlpack")));
}

TEST_F(ExchangeCommands, ImportKeepsACopyOfWhatWasThere) {
    ASSERT_EQ(runProgram({"new", at("p.markerlamp")}).exitCode, 0);
    std::ofstream(at("people.csv")) << "key,name\nt-1,Ada Example\n";
    ASSERT_EQ(runProgram({"import", at("p.markerlamp"), at("people.csv")}).exitCode, 0);
    std::ofstream(at("people.csv")) << "key,name\nt-1,Another Name\n";
    ASSERT_EQ(runProgram({"import", at("p.markerlamp"), at("people.csv")}).exitCode, 0);
    std::vector<std::string> copies;
    for (const auto& entry : std::filesystem::directory_iterator(at("p.markerlamp.copies")))
        if (entry.path().extension() == ".markerlamp") copies.push_back(entry.path().string());
    ASSERT_EQ(copies.size(), 2u);
    // The one was made while nobody was on file, the other with the name that is gone now.
    int before = 0;
    for (std::size_t i = 0; i < copies.size(); ++i) {
        const std::string out = "before-" + std::to_string(i);
        ASSERT_EQ(runProgram({"export", copies[i], "--to", at(out)}).exitCode, 0);
        const std::string people = filesOf(out).at("people.csv");
        before += people.find("Ada Example") != std::string::npos ? 1 : 0;
        EXPECT_EQ(people.find("Another Name"), std::string::npos);
    }
    EXPECT_EQ(before, 1);
}

TEST_F(ExchangeCommands, RefusalsAreListedAndTheRestIsTaken) {
    ASSERT_EQ(runProgram({"new", at("p.markerlamp")}).exitCode, 0);
    std::ofstream(at("people.csv")) << "key,name\nt-1,Ada Example\n";
    std::ofstream(at("bad.attempt.jsonl")) << "{\"format\":\"markerlamp.attempt/1\"}\n";
    const ProgramRun run =
        runProgram({"import", at("p.markerlamp"), at("bad.attempt.jsonl"), at("people.csv")});
    EXPECT_EQ(run.exitCode, 1);
    EXPECT_NE(run.standardError.find("bad.attempt.jsonl:1: trainee:"), std::string::npos)
        << run.standardError;
    EXPECT_NE(run.standardOutput.find("2 documents: 1 added, 0 changed, 0 already there, 1 refused"),
              std::string::npos)
        << run.standardOutput;
}

TEST_F(ExchangeCommands, ImportTellsWhatATableChanged) {
    ASSERT_EQ(runProgram({"new", at("p.markerlamp")}).exitCode, 0);
    std::ofstream(at("people.csv")) << "key,name,permit_expires,note\nt-1,Ada Example,2026-07-05,private\n";
    ASSERT_EQ(runProgram({"import", at("p.markerlamp"), at("people.csv")}).exitCode, 0);
    std::ofstream(at("people.csv")) << "key,name,permit_expires,note\nt-1,Ada Example,2026-09-05,other\n";
    const ProgramRun run = runProgram({"import", at("p.markerlamp"), at("people.csv")});
    EXPECT_EQ(run.exitCode, 0) << run.standardError;
    EXPECT_NE(
        run.standardOutput.find("people.csv: changed: t-1: permit_expires 2026-07-05 -> 2026-09-05, note\n"),
        std::string::npos)
        << run.standardOutput;
    EXPECT_EQ(run.standardOutput.find("private"), std::string::npos);
    EXPECT_EQ(run.standardOutput.find("other"), std::string::npos);
    std::ofstream(at("people.csv")) << "key,name,permit_expires\nt-1,Ada Sample,\n";
    const ProgramRun json = runProgram({"import", at("p.markerlamp"), at("people.csv"), "--json"});
    const auto report = nlohmann::json::parse(json.standardOutput);
    EXPECT_EQ(report["changed"], 1);
    EXPECT_EQ(report["documents"][0]["changes"],
              nlohmann::json::parse(R"([{"key":"t-1","columns":[{"column":"name"},
                                        {"column":"permit_expires","from":"2026-09-05","to":""}]}])"));
    const std::string help = runProgram({"import", "--help"}).standardOutput;
    EXPECT_NE(help.find("A table updates the entries"), std::string::npos) << help;
}

TEST_F(ExchangeCommands, NewNeverOverwritesAndLeavesNothingBehind) {
    std::ofstream(at("there.markerlamp")) << "mine";
    EXPECT_EQ(runProgram({"new", at("there.markerlamp")}).exitCode, 1);
    EXPECT_EQ(filesOf(".").at("there.markerlamp"), "mine");
    const ProgramRun nowhere = runProgram({"new", at("no/folder/p.markerlamp")});
    EXPECT_EQ(nowhere.exitCode, 1);
    EXPECT_NE(nowhere.standardError.find("there is no folder " + at("no/folder")), std::string::npos)
        << nowhere.standardError;
    EXPECT_EQ(filesOf(".").size(), 1u);
    std::filesystem::create_directory_symlink(dir, at("link"));
    EXPECT_EQ(runProgram({"new", at("link")}).exitCode, 1);
    EXPECT_TRUE(std::filesystem::is_symlink(at("link")));
}

TEST_F(ExchangeCommands, WhatIsNamedAndNotThereIsRefused) {
    ASSERT_EQ(runProgram({"new", at("p.markerlamp")}).exitCode, 0);
    const std::vector<std::pair<std::vector<std::string>, std::string>> runs{
        {{"import", at("none"), at("p.markerlamp")}, "there is no file " + at("none")},
        {{"import", at("p.markerlamp"), at("none")}, "there is no file or folder " + at("none")},
        {{"export", at("none"), "--to", at("out")}, "there is no file " + at("none")},
        {{"export", at("p.markerlamp"), "--to", at("none/out")}, "there is no folder " + at("none")}};
    for (const auto& [words, message] : runs) {
        const ProgramRun run = runProgram(words);
        EXPECT_EQ(run.exitCode, 1) << ::testing::PrintToString(words);
        EXPECT_NE(run.standardError.find(message), std::string::npos) << run.standardError;
    }
    EXPECT_EQ(filesOf(".").size(), 1u);
}

TEST_F(ExchangeCommands, WhatTheSystemWillNotLookAtIsTheMachinesFault) {
    ASSERT_EQ(runProgram({"new", at("p.markerlamp")}).exitCode, 0);
    std::filesystem::create_symlink("circle", at("circle"));
    EXPECT_EQ(runProgram({"import", at("p.markerlamp"), at("circle")}).exitCode, 3);
    EXPECT_EQ(runProgram({"import", at("circle"), at("p.markerlamp")}).exitCode, 3);
    EXPECT_EQ(runProgram({"export", at("circle"), "--to", at("out")}).exitCode, 3);
}

TEST_F(ExchangeCommands, ReadingLeavesNothingBesideTheFile) {
    ASSERT_EQ(runProgram({"new", at("p.markerlamp")}).exitCode, 0);
    ASSERT_EQ(runProgram({"export", at("p.markerlamp"), "--to", at("out")}).exitCode, 0);
    std::filesystem::remove_all(at("out"));
    EXPECT_EQ(filesOf(".").size(), 1u);
}

TEST_F(ExchangeCommands, APipeIsNoDocument) {
    ASSERT_EQ(runProgram({"new", at("p.markerlamp")}).exitCode, 0);
    ASSERT_EQ(::mkfifo(at("people.csv").c_str(), 0600), 0);
    const ProgramRun run = runProgram({"import", at("p.markerlamp"), at("people.csv")});
    EXPECT_EQ(run.exitCode, 1);
    EXPECT_NE(run.standardError.find("is a pipe"), std::string::npos) << run.standardError;
    EXPECT_EQ(runProgram({"import", at("people.csv"), at("p.markerlamp")}).exitCode, 1);
    EXPECT_EQ(runProgram({"export", at("p.markerlamp"), "--to", at("people.csv")}).exitCode, 1);
    EXPECT_TRUE(std::filesystem::is_fifo(at("people.csv")));
}

TEST_F(ExchangeCommands, FileNamesNeedNotBeUtf8) {
    const std::string file = at("caf\xE9.markerlamp");
    ASSERT_EQ(runProgram({"new", file}).exitCode, 0);
    std::ofstream(at("caf\xE9 people.csv")) << "key,name\nt-1,Ada Example\n";
    const ProgramRun run = runProgram({"import", file, at("caf\xE9 people.csv")});
    EXPECT_EQ(run.exitCode, 0) << run.standardError;
    EXPECT_EQ(runProgram({"export", file, "--to", at("caf\xE9")}).exitCode, 0);
    EXPECT_TRUE(std::filesystem::exists(at("caf\xE9/people.csv")));
}

TEST_F(ExchangeCommands, TellWrongUsageApart) {
    EXPECT_EQ(runProgram({"new"}).exitCode, 2);
    EXPECT_EQ(runProgram({"new", "a", "b"}).exitCode, 2);
    EXPECT_EQ(runProgram({"import", "a"}).exitCode, 2);
    EXPECT_EQ(runProgram({"export", "a"}).exitCode, 2);
    EXPECT_EQ(runProgram({"export", "a", "--to"}).exitCode, 2);
    EXPECT_EQ(runProgram({"export", "a", "--colour", "b"}).exitCode, 2);
    for (const char* command : {"new", "import", "export"})
        EXPECT_EQ(runProgram({command, "--help"}).exitCode, 0);
    EXPECT_NE(runProgram({"import", at("none.markerlamp"), at("x")}).exitCode, 0);
}

}  // namespace
}  // namespace markerlamp::cli
