// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "run_program.h"

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <utility>
#include <vector>

#include <sys/stat.h>

namespace markerlamp::cli {
namespace {

namespace fs = std::filesystem;

const std::string kAirBrakes = MARKERLAMP_SOURCE_DIR "/sample-data/rubrics/air-brake-school-bus.rubric.yaml";

class SheetCommand : public testing::Test {
protected:
    void SetUp() override {
        std::string pattern = (fs::temp_directory_path() / "sheet-XXXXXX").string();
        ASSERT_NE(::mkdtemp(pattern.data()), nullptr);
        m_folder = pattern;
    }
    void TearDown() override { fs::remove_all(m_folder); }

    [[nodiscard]] std::string path(const std::string& name) const { return (m_folder / name).string(); }
    std::string write(const std::string& name, const std::string& text) const {
        std::ofstream(path(name)) << text;
        return path(name);
    }
    [[nodiscard]] std::string bytes(const std::string& name) const {
        std::ifstream file(path(name), std::ios::binary);
        return {std::istreambuf_iterator<char>(file), {}};
    }
    void expectPdf(const std::string& name) const {
        const std::string text = bytes(name);
        EXPECT_EQ(text.substr(0, 5), "%PDF-") << name;
        EXPECT_NE(text.find("%%EOF"), std::string::npos) << name;
    }
    /// The folder holds these files and nothing half written.
    void expectOnly(std::vector<std::string> names) const {
        std::vector<std::string> found;
        for (const auto& entry : fs::directory_iterator(m_folder))
            found.push_back(entry.path().filename().string());
        std::sort(found.begin(), found.end());
        std::sort(names.begin(), names.end());
        EXPECT_EQ(found, names);
    }

    /// Id and trainee of an attempt document.
    static std::pair<std::string, std::string> headerOf(const std::string& attempt) {
        std::ifstream file(attempt);
        std::string line;
        std::getline(file, line);
        const auto header = nlohmann::json::parse(line);
        return {header["id"], header["trainee"]};
    }

    fs::path m_folder;
};

TEST_F(SheetCommand, WritesTheProgressSheetOfTheNewestFinishedAttempt) {
    ASSERT_EQ(runProgram({"new", path("p.markerlamp"), "--demo", "--demo-until", "2026-03-13"}).exitCode, 0);
    for (const char* trainee : {"t-01", "t-02", "t-03"}) {
        const std::string name = std::string(trainee) + ".pdf";
        const ProgramRun run =
            runProgram({"sheet", path("p.markerlamp"), "--trainee", trainee, "--out", path(name)});
        EXPECT_EQ(run.exitCode, 0) << run.standardError;
        EXPECT_EQ(run.standardError, "");
        expectPdf(name);
    }
}

TEST_F(SheetCommand, WritesTheProgressSheetOfAnAttemptThatIsNamed) {
    ASSERT_EQ(runProgram({"new", path("p.markerlamp")}).exitCode, 0);
    const std::string attempts = MARKERLAMP_TEST_DATA "/golden/";
    ASSERT_EQ(runProgram({"import", path("p.markerlamp"), attempts + "yard.rubric.yaml",
                          attempts + "clean.attempt.jsonl", attempts + "amended.attempt.jsonl"})
                  .exitCode,
              0);
    const auto [id, trainee] = headerOf(attempts + "amended.attempt.jsonl");
    const ProgramRun run = runProgram(
        {"sheet", path("p.markerlamp"), "--trainee", trainee, "--attempt", id, "--out", path("x.pdf")});
    EXPECT_EQ(run.exitCode, 0) << run.standardError;
    expectPdf("x.pdf");
    const ProgramRun unknown = runProgram({"sheet", path("p.markerlamp"), "--trainee", trainee, "--attempt",
                                           "nowhere", "--out", path("y.pdf")});
    EXPECT_EQ(unknown.exitCode, 1);
    EXPECT_NE(unknown.standardError.find("there is no attempt \"nowhere\""), std::string::npos)
        << unknown.standardError;
    EXPECT_NE(unknown.standardError.find(id), std::string::npos) << unknown.standardError;
    EXPECT_FALSE(fs::exists(path("y.pdf")));
}

TEST_F(SheetCommand, WritesReadinessAndTheNextDrillWhereTheyAreAskedFor) {
    ASSERT_EQ(runProgram({"new", path("p.markerlamp")}).exitCode, 0);
    const std::string attempts = MARKERLAMP_TEST_DATA "/golden/";
    ASSERT_EQ(runProgram({"import", path("p.markerlamp"), attempts + "yard.rubric.yaml",
                          attempts + "clean.attempt.jsonl", attempts + "amended.attempt.jsonl"})
                  .exitCode,
              0);
    const auto [id, trainee] = headerOf(attempts + "amended.attempt.jsonl");
    ASSERT_EQ(runProgram({"sheet", path("p.markerlamp"), "--trainee", trainee, "--out", path("plain.pdf")})
                  .exitCode,
              0);
    const ProgramRun run = runProgram({"sheet", path("p.markerlamp"), "--trainee", trainee, "--readiness",
                                       "--drill", "24", "--out", path("both.pdf")});
    EXPECT_EQ(run.exitCode, 0) << run.standardError;
    expectPdf("both.pdf");
    EXPECT_GT(bytes("both.pdf").size(), bytes("plain.pdf").size() + 200) << "there is more on it";
}

TEST_F(SheetCommand, NamesTheTraineesWhenTheOneGivenIsUnknown) {
    ASSERT_EQ(runProgram({"new", path("p.markerlamp"), "--demo", "--demo-until", "2026-03-13"}).exitCode, 0);
    const ProgramRun run =
        runProgram({"sheet", path("p.markerlamp"), "--trainee", "t-99", "--out", path("x.pdf")});
    EXPECT_EQ(run.exitCode, 1);
    EXPECT_NE(run.standardError.find("there is no trainee \"t-99\""), std::string::npos) << run.standardError;
    EXPECT_NE(run.standardError.find("t-01, t-02"), std::string::npos);
    EXPECT_FALSE(fs::exists(path("x.pdf")));
}

TEST_F(SheetCommand, SaysSoWhenATraineeHasNoFinishedAttempt) {
    ASSERT_EQ(runProgram({"new", path("p.markerlamp")}).exitCode, 0);
    const std::string people = write("people.csv", "key,name\nt-new,Trainee New\n");
    ASSERT_EQ(runProgram({"import", path("p.markerlamp"), people}).exitCode, 0);
    const ProgramRun run =
        runProgram({"sheet", path("p.markerlamp"), "--trainee", "t-new", "--out", path("x.pdf")});
    EXPECT_EQ(run.exitCode, 1);
    EXPECT_NE(run.standardError.find("no finished attempt yet"), std::string::npos) << run.standardError;
    EXPECT_FALSE(fs::exists(path("x.pdf")));
}

TEST_F(SheetCommand, RefusesWhatIsNoProgramFile) {
    const std::string file = write("p.markerlamp", "this is a shopping list");
    const ProgramRun run = runProgram({"sheet", file, "--trainee", "t-01", "--out", path("x.pdf")});
    EXPECT_EQ(run.exitCode, 1) << run.standardError;
    EXPECT_NE(run.standardError.find("p.markerlamp"), std::string::npos) << run.standardError;
    EXPECT_EQ(bytes("p.markerlamp"), "this is a shopping list");
    EXPECT_FALSE(fs::exists(path("x.pdf")));
}

TEST_F(SheetCommand, WritesABlankSheetWithoutADisplay) {
    for (const char* paper : {"letter", "a4"}) {
        const std::string name = std::string(paper) + ".pdf";
        const ProgramRun run =
            runProgram({"sheet", "--blank", kAirBrakes, "--paper", paper, "--out", path(name)});
        EXPECT_EQ(run.exitCode, 0) << run.standardError;
        EXPECT_NE(run.standardOutput.find("pages: "), std::string::npos);
        EXPECT_EQ(run.standardError, "");
        expectPdf(name);
    }
    expectOnly({"letter.pdf", "a4.pdf"});
    EXPECT_NE(bytes("letter.pdf").find("/MediaBox [0 0 612"), std::string::npos);
    EXPECT_NE(bytes("a4.pdf").find("/MediaBox [0 0 595"), std::string::npos);
}

TEST_F(SheetCommand, WritesTheBlankSheetOfOneBus) {
    const ProgramRun run = runProgram(
        {"sheet", "--blank", kAirBrakes, "--equipment", "air-brakes power-steering", "--out", path("x.pdf")});
    EXPECT_EQ(run.exitCode, 0) << run.standardError;
    expectPdf("x.pdf");
    const ProgramRun refused =
        runProgram({"sheet", "--blank", kAirBrakes, "--equipment", "wings", "--out", path("y.pdf")});
    EXPECT_EQ(refused.exitCode, 1);
    EXPECT_NE(refused.standardError.find("\"wings\""), std::string::npos);
    EXPECT_NE(refused.standardError.find("air-brakes"), std::string::npos);
    expectOnly({"x.pdf"});
}

TEST_F(SheetCommand, WritesTheStudySheetOfAZoneAndOfAll) {
    EXPECT_EQ(runProgram({"sheet", "--study", kAirBrakes, "--zone", "air-brakes", "--out", path("zone.pdf")})
                  .exitCode,
              0);
    EXPECT_EQ(runProgram({"sheet", "--study=" + kAirBrakes, "--out=" + path("all.pdf")}).exitCode, 0);
    expectPdf("zone.pdf");
    expectPdf("all.pdf");
    EXPECT_GT(bytes("all.pdf").size(), bytes("zone.pdf").size());
}

TEST_F(SheetCommand, NamesTheZonesWhenTheOneGivenIsUnknown) {
    const ProgramRun run =
        runProgram({"sheet", "--study", kAirBrakes, "--zone", "engin", "--out", path("x.pdf")});
    EXPECT_EQ(run.exitCode, 1);
    EXPECT_NE(run.standardError.find("\"engin\""), std::string::npos) << run.standardError;
    EXPECT_NE(run.standardError.find("air-brakes"), std::string::npos);
    expectOnly({});
}

TEST_F(SheetCommand, RefusesAnUnsoundRubricAndLeavesTheOldPdfAlone) {
    const std::string rubric = write("bad.rubric.yaml", "format: markerlamp.rubric/1\nid: x\nedition: 0\n");
    write("x.pdf", "what was here before");
    const ProgramRun run = runProgram({"sheet", "--blank", rubric, "--out", path("x.pdf")});
    EXPECT_EQ(run.exitCode, 1);
    EXPECT_NE(run.standardError.find("bad.rubric.yaml:3: edition"), std::string::npos) << run.standardError;
    EXPECT_EQ(bytes("x.pdf"), "what was here before");
}

TEST_F(SheetCommand, TellsWrongUsage) {
    const std::vector<std::vector<std::string>> wrong{
        {"sheet"},
        {"sheet", "--blank", kAirBrakes},
        {"sheet", "--out", path("x.pdf")},
        {"sheet", "--blank", kAirBrakes, "--study", kAirBrakes, "--out", path("x.pdf")},
        {"sheet", "--blank", kAirBrakes, "--zone", "engine", "--out", path("x.pdf")},
        {"sheet", "--blank", kAirBrakes, "--paper", "a5", "--out", path("x.pdf")},
        {"sheet", "--blank", kAirBrakes, "--out", path("x.pdf"), "--out", path("y.pdf")},
        {"sheet", "--blank", kAirBrakes, "--colour", "--out", path("x.pdf")},
        {"sheet", "--trainee", "t-001", "--out", path("x.pdf")},
        {"sheet", "file.markerlamp", "--blank", kAirBrakes, "--out", path("x.pdf")},
        {"sheet", "--blank", kAirBrakes, "--out"},
        {"sheet", "--blank", kAirBrakes, "--readiness", "--out", path("x.pdf")},
        {"sheet", "--study", kAirBrakes, "--drill", "20", "--out", path("x.pdf")},
        {"sheet", "p.markerlamp", "--trainee", "t-1", "--drill", "soon", "--out", path("x.pdf")},
        {"sheet", "p.markerlamp", "--trainee", "t-1", "--drill", "0", "--out", path("x.pdf")},
        {"sheet", "p.markerlamp", "--trainee", "t-1", "--drill", "nan", "--out", path("x.pdf")},
        {"sheet", "p.markerlamp", "--trainee", "t-1", "--drill", "900", "--out", path("x.pdf")},
        {"sheet", "p.markerlamp", "--all", "--group", "March", "--out", path("x.pdf")},
        {"sheet", "p.markerlamp", "--all", "--trainee", "t-1", "--out", path("x.pdf")},
        {"sheet", "p.markerlamp", "--all", "--out", path("x.pdf"), "--to", path("x")},
        {"sheet", "p.markerlamp", "--all"},
        {"sheet", "p.markerlamp", "--all", "--two-sided", "--to", path("x")},
        {"sheet", "p.markerlamp", "--trainee", "t-1", "--two-sided", "--out", path("x.pdf")},
        {"sheet", "p.markerlamp", "--trainee", "t-1", "--to", path("x")},
        {"sheet", "p.markerlamp", "--all", "--attempt", "a", "--out", path("x.pdf")},
        {"sheet", "--all", "--out", path("x.pdf")},
    };
    for (const auto& arguments : wrong) {
        const ProgramRun run = runProgram(arguments);
        EXPECT_EQ(run.exitCode, 2) << arguments.size() << ": " << run.standardError;
        EXPECT_NE(run.standardError.find("Usage: markerlamp sheet"), std::string::npos);
    }
    expectOnly({});
    const ProgramRun help = runProgram({"sheet", "--help"});
    EXPECT_EQ(help.exitCode, 0);
    EXPECT_NE(help.standardOutput.find("Usage: markerlamp sheet"), std::string::npos);
}

TEST_F(SheetCommand, WritesTheSheetsOfAGroupAsOnePdfOrMany) {
    const std::string file = path("p.markerlamp");
    ASSERT_EQ(runProgram({"new", file, "--demo", "--demo-until", "2026-03-13"}).exitCode, 0);
    const ProgramRun one = runProgram({"sheet", file, "--group", "January", "--out", path("january.pdf")});
    ASSERT_EQ(one.exitCode, 0) << one.standardError;
    expectPdf("january.pdf");
    const ProgramRun many = runProgram({"sheet", file, "--all", "--readiness", "--to", path("all")});
    ASSERT_EQ(many.exitCode, 0) << many.standardError;
    int sheets = 0;
    for (const auto& entry : fs::directory_iterator(path("all"))) {
        const std::string name = entry.path().filename().string();
        EXPECT_TRUE(name.starts_with("progress-sheet-t-") && name.ends_with(".pdf")) << name;
        expectPdf("all/" + name);
        ++sheets;
    }
    EXPECT_NE(many.standardOutput.find("sheets: " + std::to_string(sheets) + ", pages: "), std::string::npos)
        << many.standardOutput;
    EXPECT_GT(sheets, 10);
    // A drill on each sheet: planning takes its time, so of the smaller group.
    const ProgramRun drill =
        runProgram({"sheet", file, "--group", "March", "--drill", "20", "--out", path("march.pdf")});
    EXPECT_EQ(drill.exitCode, 0) << drill.standardError;
    expectPdf("march.pdf");
    expectOnly({"p.markerlamp", "january.pdf", "march.pdf", "all"});
    const ProgramRun none = runProgram({"sheet", file, "--group", "June", "--out", path("june.pdf")});
    EXPECT_EQ(none.exitCode, 1);
    EXPECT_NE(none.standardError.find("nobody is in a group \"June\"; the groups on file are"),
              std::string::npos)
        << none.standardError;
    EXPECT_EQ(runProgram({"sheet", file, "--all", "--to", path("all")}).exitCode, 1) << "it is not empty";
    expectOnly({"p.markerlamp", "january.pdf", "march.pdf", "all"});
}

TEST_F(SheetCommand, NeverWritesOverItsOwnInput) {
    const std::string rubric = write("a.rubric.yaml", "anything");
    const ProgramRun run = runProgram({"sheet", "--blank", rubric, "--out", rubric});
    EXPECT_EQ(run.exitCode, 2);
    EXPECT_EQ(bytes("a.rubric.yaml"), "anything");
}

TEST_F(SheetCommand, WhatIsNamedAndNotThereIsRefused) {
    const std::vector<std::vector<std::string>> inputs{
        {"--blank", path("none")}, {"--study", path("none")}, {path("none"), "--trainee", "t-01"}};
    for (const auto& input : inputs) {
        std::vector<std::string> words{"sheet", "--out", path("x.pdf")};
        words.insert(words.end(), input.begin(), input.end());
        const ProgramRun unread = runProgram(words);
        EXPECT_EQ(unread.exitCode, 1);
        EXPECT_NE(unread.standardError.find("there is no file " + path("none")), std::string::npos)
            << unread.standardError;
    }
    const ProgramRun unwritten =
        runProgram({"sheet", "--blank", kAirBrakes, "--out", path("no/such/folder/x.pdf")});
    EXPECT_EQ(unwritten.exitCode, 1);
    EXPECT_NE(unwritten.standardError.find("there is no folder " + path("no/such/folder")), std::string::npos)
        << unwritten.standardError;
    expectOnly({});
}

TEST_F(SheetCommand, NothingButARegularFileIsReplaced) {
    ASSERT_EQ(::mkfifo(path("pipe").c_str(), 0600), 0);
    fs::create_directory(path("folder"));
    fs::create_directory_symlink(path("folder"), path("link"));
    for (const char* name : {"pipe", "folder", "link"}) {
        const ProgramRun run = runProgram({"sheet", "--blank", kAirBrakes, "--out", path(name)});
        EXPECT_EQ(run.exitCode, 1) << name;
        EXPECT_NE(run.standardError.find("name a regular file"), std::string::npos) << run.standardError;
    }
    EXPECT_TRUE(fs::is_fifo(path("pipe")));
    EXPECT_TRUE(fs::is_symlink(path("link")));
    expectOnly({"pipe", "folder", "link"});
    EXPECT_EQ(runProgram({"sheet", "--blank", path("pipe"), "--out", path("x.pdf")}).exitCode, 1);
}

TEST_F(SheetCommand, FileNamesNeedNotBeUtf8) {
    const std::string rubric = path("caf\xE9.rubric.yaml");
    fs::copy_file(kAirBrakes, rubric);
    const ProgramRun run = runProgram({"sheet", "--blank", rubric, "--out", path("caf\xE9.pdf")});
    EXPECT_EQ(run.exitCode, 0) << run.standardError;
    expectPdf("caf\xE9.pdf");
}

TEST_F(SheetCommand, ReadingAProgramFileLeavesNothingBesideIt) {
    ASSERT_EQ(runProgram({"new", path("p.markerlamp"), "--demo", "--demo-until", "2026-03-13"}).exitCode, 0);
    ASSERT_EQ(
        runProgram({"sheet", path("p.markerlamp"), "--trainee", "t-01", "--out", path("x.pdf")}).exitCode, 0);
    expectOnly({"p.markerlamp", "x.pdf"});
}

}  // namespace
}  // namespace markerlamp::cli
