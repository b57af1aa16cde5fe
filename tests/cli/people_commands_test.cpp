// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// record, erase, and outcomes in and out, as the built program.

#include "in_folder.h"
#include "run_program.h"

#include <gmock/gmock.h>

namespace markerlamp::cli {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

class PeopleCommands : public InFolder {
protected:
    void SetUp() override {
        InFolder::SetUp();
        ASSERT_EQ(runProgram({"new", file()}).exitCode, 0);
        write(
            "people.csv",
            "key,name,theory_percent,theory_date,note\r\nt-1,Ada Quillfeather,92.5,2020-07-01,Bellwether\r\n"
            "t-2,Bo Example,,,\r\n");
        write("licences.csv", "key,number,state\r\nt-1,S 778-99,OH\r\n");
        write("training.csv", "key,range_done,road_done\r\nt-1,2020-11-20,2020-11-25\r\n");
        write(
            "hours.jsonl",
            "{\"format\":\"markerlamp.hours/1\"}\n"
            R"({"id":"h-1","trainee":"t-1","date":"2020-11-20","kind":"range","minutes":750,"instructor":"i-1","at":"2020-11-20T16:00:00-05:00"})"
            "\n");
        write("outcomes.csv",
              "trainee,date,segment,result,note\r\nt-1,2020-11-28,inspection,fail,doorzword\r\n"
              "t-1,2020-12-02,inspection,pass,\r\n");
        const ProgramRun run = runProgram({"import", file(), at("people.csv"), at("licences.csv"),
                                           at("training.csv"), at("hours.jsonl"), at("outcomes.csv")});
        ASSERT_EQ(run.exitCode, 0) << run.standardError;
    }
    [[nodiscard]] std::string file() const { return at("p.markerlamp"); }
    void write(const std::string& name, const std::string& text) const {
        std::ofstream(at(name), std::ios::binary) << text;
    }
    [[nodiscard]] std::string read(const std::string& name) const {
        std::ostringstream text;
        text << std::ifstream(at(name), std::ios::binary).rdbuf();
        return text.str();
    }
};

TEST_F(PeopleCommands, RecordListsWhatIsMissingAndNeverTheLicenceNumber) {
    const ProgramRun run = runProgram({"record", file(), "--trainee", "t-1"});
    EXPECT_EQ(run.exitCode, 0) << run.standardError;
    EXPECT_THAT(run.standardOutput, HasSubstr("12.5 hours behind the wheel"));
    EXPECT_THAT(run.standardOutput, HasSubstr("report goes by the end of 2020-11-30"));
    EXPECT_THAT(run.standardOutput, HasSubstr("missing: provider-name"));
    EXPECT_THAT(run.standardOutput, HasSubstr("missing: road-hours"));
    EXPECT_THAT(run.standardOutput, Not(HasSubstr("missing: licence-number")));
    EXPECT_THAT(run.standardOutput, Not(HasSubstr("S 778-99")));
    EXPECT_THAT(run.standardOutput, HasSubstr("made elsewhere"));
}

TEST_F(PeopleCommands, RecordIsWrittenAsPdfAndAsTable) {
    const ProgramRun run =
        runProgram({"record", file(), "--trainee", "t-1", "--pdf", at("r.pdf"), "--csv", at("r.csv")});
    EXPECT_EQ(run.exitCode, 0) << run.standardError;
    EXPECT_EQ(read("r.pdf").substr(0, 5), "%PDF-");
    EXPECT_THAT(read("r.csv"), HasSubstr("t-1,Ada Quillfeather,S 778-99,OH,B,P S,both,12.5,12.5,0,0,"));
    EXPECT_EQ(runProgram({"record", file(), "--all", "--csv", at("all.csv")}).exitCode, 0);
    EXPECT_THAT(read("all.csv"), HasSubstr("t-2,Bo Example,,,"));
}

TEST_F(PeopleCommands, RecordRefusesWhatMakesNoSense) {
    EXPECT_EQ(runProgram({"record", file()}).exitCode, 2);
    EXPECT_EQ(runProgram({"record", file(), "--all"}).exitCode, 2);
    EXPECT_EQ(runProgram({"record", file(), "--trainee", "t-1", "--csv", file()}).exitCode, 2);
    const ProgramRun run = runProgram({"record", file(), "--trainee", "t-9"});
    EXPECT_EQ(run.exitCode, 1);
    EXPECT_THAT(run.standardError, HasSubstr("t-2"));
}

TEST_F(PeopleCommands, OutcomesComeInOnceAndGoOutAsTheyCame) {
    ProgramRun run = runProgram({"import", file(), at("outcomes.csv")});
    EXPECT_THAT(run.standardOutput, HasSubstr("1 already there"));
    EXPECT_EQ(runProgram({"export", file(), "--outcomes", at("out.csv")}).exitCode, 0);
    EXPECT_EQ(read("out.csv"), read("outcomes.csv"));
    write("wrong-outcomes.csv", "trainee,date,segment,result\r\nt-7,2020-11-28,inspection,pass\r\n");
    run = runProgram({"import", file(), at("wrong-outcomes.csv")});
    EXPECT_EQ(run.exitCode, 1);
    EXPECT_THAT(run.standardError, HasSubstr("wrong-outcomes.csv:2: trainee"));
}

TEST_F(PeopleCommands, EraseListsWhoMayGoAndTakesAPersonOutOfEveryByte) {
    ProgramRun run = runProgram({"erase", file()});
    EXPECT_EQ(run.exitCode, 0) << run.standardError;
    EXPECT_THAT(run.standardOutput,
                HasSubstr("t-1: may be erased since 2023-12-02, newest record 2020-12-02"));
    EXPECT_THAT(run.standardOutput, HasSubstr("t-2: may be erased, nothing is on record"));
    run = runProgram({"erase", file(), "--trainee", "t-1"});
    EXPECT_EQ(run.exitCode, 2) << "never without --yes";
    EXPECT_NE(read("p.markerlamp").find("Quillfeather"), std::string::npos);
    run = runProgram({"erase", file(), "--trainee", "t-1", "--yes"});
    EXPECT_EQ(run.exitCode, 0) << run.standardError;
    for (const char* word : {"Quillfeather", "Bellwether", "S 778-99", "doorzword"})
        for (const auto& entry : std::filesystem::directory_iterator(dir))
            if (entry.path().filename().string().starts_with("p.markerlamp")) {
                EXPECT_EQ(read(entry.path().filename().string()).find(word), std::string::npos)
                    << word << " in " << entry.path();
            }
    EXPECT_EQ(runProgram({"export", file(), "--outcomes", at("after.csv")}).exitCode, 0);
    EXPECT_THAT(read("after.csv"), HasSubstr(",2020-12-02,inspection,pass,")) << "the marks stay";
    EXPECT_THAT(runProgram({"erase", file()}).standardOutput, Not(HasSubstr("t-1")));
}

TEST_F(PeopleCommands, EraseKeepsRecordsThatAreNotOldEnoughUnlessToldOtherwise) {
    write("people.csv", "key,name,started\r\nt-2,Bo Example,2099-01-01\r\n");
    ASSERT_EQ(runProgram({"import", file(), at("people.csv")}).exitCode, 0);
    ProgramRun run = runProgram({"erase", file(), "--trainee", "t-2", "--yes"});
    EXPECT_EQ(run.exitCode, 1);
    EXPECT_THAT(run.standardError, HasSubstr("2102-01-01"));
    run = runProgram({"erase", file(), "--trainee", "t-2", "--yes", "--early"});
    EXPECT_EQ(run.exitCode, 0) << run.standardError;
    EXPECT_EQ(runProgram({"erase", file(), "--trainee", "t-9", "--yes"}).exitCode, 1);
    EXPECT_EQ(runProgram({"erase", file(), "--yes"}).exitCode, 2);
}

}  // namespace
}  // namespace markerlamp::cli
