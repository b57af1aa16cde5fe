// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Commands on a program file that people sign in to, as the built program.

#include "in_folder.h"
#include "run_program.h"

#include "db/program_file.h"

#include <gmock/gmock.h>

namespace markerlamp::cli {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

class SignInCommands : public InFolder {
protected:
    void SetUp() override {
        InFolder::SetUp();
        ASSERT_EQ(runProgram({"new", file(), "--demo"}).exitCode, 0);
        auto program = db::ProgramFile::open(file()).value();
        program->setPassphraseCost(db::PassphraseCost::Least);
        ASSERT_TRUE(program->startSignIn({"Cora", core::Role::Coordinator, {}}, "four words are best"));
        const auto attempts = program->attempts().value();
        for (const db::AttemptInfo& info : attempts) {
            if (!info.of.empty() || info.state != db::AttemptState::Ended) continue;
            if (own.empty()) {
                own = info.instructor;
                ownAttempt = info;
            } else if (info.instructor != own && othersAttempt.id.empty()) {
                othersAttempt = info;
            }
        }
        ASSERT_FALSE(othersAttempt.id.empty());
        ASSERT_TRUE(program->saveAccount({"Ann", core::Role::Instructor, own}, "another long phrase"));
        write("cora", "four words are best\n");
        write("ann", "another long phrase\nsecond line\n");
        write("wrong", "not this one at all\n");
    }
    [[nodiscard]] std::string file() const { return at("p.markerlamp"); }
    void write(const std::string& name, const std::string& text) const { std::ofstream(at(name)) << text; }
    [[nodiscard]] ProgramRun as(const std::string& name, std::vector<std::string> words,
                                const std::string& secret = {}) const {
        const std::string phrase = at(!secret.empty() ? secret : name == "Cora" ? "cora" : "ann");
        words.insert(words.end(), {"--as", name, "--as-passphrase-file", phrase});
        return runProgram(words);
    }

    std::string own;
    db::AttemptInfo ownAttempt, othersAttempt;
};

TEST_F(SignInCommands, NothingIsShownWithoutAName) {
    const std::vector<std::vector<std::string>> all{
        {"export", file(), "--to", at("out")},
        {"import", file(), at("cora")},
        {"sheet", file(), "--trainee", ownAttempt.trainee, "--out", at("s.pdf")},
        {"sheet", file(), "--all", "--out", at("s.pdf")},
        {"erase", file()},
        {"agree", file()},
        {"record", file(), "--trainee", ownAttempt.trainee},
        {"forecast", file()},
        {"drill", file(), "--trainee", ownAttempt.trainee, "--minutes", "20"},
        {"track", file()},
        {"restore", file(), "--to", file()}};
    for (const auto& words : all) {
        SCOPED_TRACE(words[0]);
        const ProgramRun run = runProgram(words);
        EXPECT_EQ(run.exitCode, 1);
        EXPECT_EQ(run.standardOutput, "");
        EXPECT_THAT(run.standardError, HasSubstr("--as NAME"));
        EXPECT_THAT(run.standardError, Not(HasSubstr("Cora"))) << "no account is named";
        const ProgramRun help = runProgram({words[0], "--help"});
        EXPECT_THAT(help.standardOutput, HasSubstr("--as-passphrase-file F"));
    }
    EXPECT_FALSE(std::filesystem::exists(at("out")));
    EXPECT_FALSE(std::filesystem::exists(at("s.pdf")));
    EXPECT_EQ(runProgram({"verify", file()}).exitCode, 0) << "it shows nobody's records";
    EXPECT_EQ(runProgram({"backup", file()}).exitCode, 0);
}

TEST_F(SignInCommands, WrongNameAndWrongPassphraseAreToldTheSameAndMakeTheNextOneWait) {
    const ProgramRun name = as("Nobody", {"track", file()}, "cora");
    const ProgramRun phrase = as("Cora", {"track", file()}, "wrong");
    EXPECT_EQ(name.exitCode, 1);
    EXPECT_EQ(name.standardError, phrase.standardError);
    EXPECT_EQ(as("Cora", {"agree", file()}, "wrong").exitCode, 1);
    const ProgramRun wait = as("Cora", {"agree", file()});
    EXPECT_EQ(wait.exitCode, 1);
    EXPECT_THAT(wait.standardError, HasSubstr("wait 1 s"));
}

TEST_F(SignInCommands, TheCoordinatorDoesEverything) {
    EXPECT_EQ(as("Cora", {"export", file(), "--to", at("out")}).exitCode, 0);
    EXPECT_EQ(as("Cora", {"agree", file()}).exitCode, 0);
    EXPECT_EQ(as("Cora", {"erase", file()}).exitCode, 0);
    const ProgramRun sheet = as("Cora", {"sheet", file(), "--trainee", othersAttempt.trainee, "--attempt",
                                         othersAttempt.id, "--out", at("s.pdf")});
    EXPECT_EQ(sheet.exitCode, 0) << sheet.standardError;
}

TEST_F(SignInCommands, AnInstructorGetsOwnAttemptsAndNothingOfTheWholeProgram) {
    const std::vector<std::vector<std::string>> refused{
        {"export", file(), "--to", at("out")},
        {"import", file(), at("cora")},
        {"erase", file(), "--trainee", ownAttempt.trainee, "--yes", "--early"},
        {"agree", file()},
        {"track", file()},
        {"record", file(), "--all", "--csv", at("r.csv")},
        {"restore", file(), "--to", file()}};
    for (const auto& words : refused) {
        SCOPED_TRACE(words[0]);
        const ProgramRun run = as("Ann", words);
        EXPECT_EQ(run.exitCode, 1);
        EXPECT_THAT(run.standardError, HasSubstr("only a coordinator may"));
        EXPECT_EQ(run.standardOutput, "");
    }
    EXPECT_FALSE(std::filesystem::exists(at("out")));
    EXPECT_FALSE(std::filesystem::exists(at("r.csv")));
    const auto sheetOf = [&](const db::AttemptInfo& info) {
        return as("Ann",
                  {"sheet", file(), "--trainee", info.trainee, "--attempt", info.id, "--out", at("s.pdf")});
    };
    const ProgramRun another = sheetOf(othersAttempt);
    EXPECT_EQ(another.exitCode, 1);
    EXPECT_FALSE(std::filesystem::exists(at("s.pdf")));
    const ProgramRun mine = sheetOf(ownAttempt);
    EXPECT_EQ(mine.exitCode, 0) << mine.standardError;
    EXPECT_EQ(as("Ann", {"drill", file(), "--trainee", ownAttempt.trainee, "--minutes", "20"}).exitCode, 0)
        << "what is worked out over all is for everybody";
}

TEST_F(SignInCommands, AFileWithoutAccountsAsksNobody) {
    ASSERT_EQ(runProgram({"new", at("q.markerlamp")}).exitCode, 0);
    EXPECT_EQ(runProgram({"agree", at("q.markerlamp")}).exitCode, 0);
    const ProgramRun named = as("Cora", {"agree", at("q.markerlamp")});
    EXPECT_EQ(named.exitCode, 1);
    EXPECT_THAT(named.standardError, HasSubstr("leave --as out"));
    EXPECT_EQ(runProgram({"agree", at("q.markerlamp"), "--as-passphrase-file", at("cora")}).exitCode, 2);
}

}  // namespace
}  // namespace markerlamp::cli
