// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// backup, restore and verify, as the built program.

#include "in_folder.h"
#include "run_program.h"

#include "db/program_file.h"

#include <gmock/gmock.h>
#include <nlohmann/json.hpp>

#include <sys/stat.h>

namespace markerlamp::cli {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

class CopiesCommands : public InFolder {
protected:
    void SetUp() override {
        InFolder::SetUp();
        const ProgramRun run = runProgram({"new", file(), "--demo", "--demo-until", "2026-03-13"});
        ASSERT_EQ(run.exitCode, 0) << run.standardError;
    }
    [[nodiscard]] std::string file() const { return at("p.markerlamp"); }
    [[nodiscard]] nlohmann::json verified(const std::string& name, int code = 0) const {
        const ProgramRun run = runProgram({"verify", at(name), "--json"});
        EXPECT_EQ(run.exitCode, code) << run.standardError;
        return nlohmann::json::parse(run.standardOutput, nullptr, false);
    }
    void overwrite(const std::string& name, std::size_t page) const {
        std::fstream out(at(name), std::ios::in | std::ios::out | std::ios::binary);
        out.seekp(static_cast<std::streamoff>((page - 1) * 4096));
        out << std::string(4096, '\x5a');
    }
    [[nodiscard]] std::size_t pages(const std::string& name) const {
        return std::filesystem::file_size(at(name)) / 4096;
    }
};

TEST_F(CopiesCommands, BackupWritesACopyThatVerifies) {
    ProgramRun run = runProgram({"backup", file(), "--to", at("copy.markerlamp")});
    EXPECT_EQ(run.exitCode, 0) << run.standardError;
    EXPECT_THAT(run.standardOutput, HasSubstr("found sound"));
    struct stat status = {};
    ASSERT_EQ(::stat(at("copy.markerlamp").c_str(), &status), 0);
    EXPECT_EQ(status.st_mode & 07777, 0600U);
    const auto copy = verified("copy.markerlamp");
    EXPECT_EQ(copy.at("integrity"), "ok");
    EXPECT_TRUE(copy.at("problems").empty());
    EXPECT_GT(copy.at("attempts").get<int>(), 100);
    EXPECT_GT(copy.at("events").get<int>(), copy.at("attempts").get<int>());
    EXPECT_GE(copy.at("schema").get<int>(), 4);
    run = runProgram({"backup", file(), "--to", at("copy.markerlamp")});
    EXPECT_EQ(run.exitCode, 1) << "never over another file";
    EXPECT_EQ(runProgram({"backup", at("none"), "--to", at("x")}).exitCode, 1);
    EXPECT_EQ(runProgram({"backup", file(), "--to", at("none/x")}).exitCode, 1);
    EXPECT_EQ(runProgram({"backup"}).exitCode, 2);
    EXPECT_EQ(runProgram({"backup", file(), "--to", at("y"), "--if-changed"}).exitCode, 2);
}

TEST_F(CopiesCommands, ASealedCopyIsVerifiedAndRestoredWithItsPassphraseOnly) {
    std::ofstream(at("words")) << "four words of it\n";
    std::ofstream(at("other")) << "other words of it\n";
    const std::string sealed = at("far.sealed");
    ProgramRun run =
        runProgram({"backup", file(), "--to", sealed, "--sealed", "--passphrase-file", at("words")});
    ASSERT_EQ(run.exitCode, 0) << run.standardError;
    run = runProgram({"verify", sealed, "--passphrase-file", at("words"), "--json"});
    EXPECT_EQ(run.exitCode, 0) << run.standardError;
    EXPECT_GT(nlohmann::json::parse(run.standardOutput).at("attempts").get<int>(), 100);
    run = runProgram({"verify", sealed, "--passphrase-file", at("other")});
    EXPECT_EQ(run.exitCode, 1);
    EXPECT_THAT(run.standardError, HasSubstr("passphrase does not open"));
    EXPECT_NE(runProgram({"verify", sealed}).exitCode, 0) << "there is no terminal to ask at";
    run = runProgram({"restore", sealed, "--to", at("back.markerlamp"), "--passphrase-file", at("other")});
    EXPECT_EQ(run.exitCode, 1);
    EXPECT_FALSE(std::filesystem::exists(at("back.markerlamp")));
    run = runProgram({"restore", sealed, "--to", at("back.markerlamp"), "--passphrase-file", at("words")});
    EXPECT_EQ(run.exitCode, 0) << run.standardError;
    EXPECT_EQ(verified("back.markerlamp").at("attempts"), verified("p.markerlamp").at("attempts"));
    EXPECT_EQ(runProgram({"backup", file(), "--sealed"}).exitCode, 2);
    EXPECT_EQ(runProgram({"backup", file(), "--to", at("y"), "--passphrase-file", at("words")}).exitCode, 2);
}

TEST_F(CopiesCommands, BackupBesideTheFileOnlyIfChanged) {
    ProgramRun run = runProgram({"backup", file()});
    EXPECT_EQ(run.exitCode, 0) << run.standardError;
    EXPECT_EQ(filesOf("p.markerlamp.copies").size(), 1u);
    run = runProgram({"backup", file(), "--if-changed"});
    EXPECT_THAT(run.standardOutput, HasSubstr("nothing changed"));
    EXPECT_EQ(filesOf("p.markerlamp.copies").size(), 1u);
}

TEST_F(CopiesCommands, RestorePutsThePresentFileAside) {
    ASSERT_EQ(runProgram({"backup", file(), "--to", at("copy.markerlamp")}).exitCode, 0);
    std::ofstream(at("people.csv")) << "key,name\nnew-1,Wanda Invented\n";
    ASSERT_EQ(runProgram({"import", file(), at("people.csv")}).exitCode, 0);
    const int trainees = verified("p.markerlamp").at("trainees").get<int>();
    const ProgramRun run = runProgram({"restore", at("copy.markerlamp"), "--to", file()});
    EXPECT_EQ(run.exitCode, 0) << run.standardError;
    EXPECT_THAT(run.standardOutput, HasSubstr("put aside: "));
    EXPECT_EQ(verified("p.markerlamp").at("trainees"), trainees - 1);
    std::string aside;
    for (const auto& [name, bytes] : filesOf("p.markerlamp.copies"))
        if (name.find("before-restore") != std::string::npos) aside = name;
    EXPECT_EQ(verified("p.markerlamp.copies/" + aside).at("trainees"), trainees);
}

TEST_F(CopiesCommands, ADamagedCopyReplacesNothing) {
    ASSERT_EQ(runProgram({"backup", file(), "--to", at("copy.markerlamp")}).exitCode, 0);
    overwrite("copy.markerlamp", pages("copy.markerlamp") / 2);
    const auto wrong = verified("copy.markerlamp", 1);
    EXPECT_NE(wrong.at("integrity"), "ok");
    EXPECT_FALSE(wrong.at("problems").empty());
    const ProgramRun run = runProgram({"restore", at("copy.markerlamp"), "--to", file()});
    EXPECT_EQ(run.exitCode, 1);
    EXPECT_THAT(run.standardError, HasSubstr("--salvage"));
    EXPECT_EQ(verified("p.markerlamp").at("integrity"), "ok");
    EXPECT_EQ(runProgram({"backup", at("copy.markerlamp"), "--to", at("again.markerlamp")}).exitCode, 3);
    EXPECT_FALSE(std::filesystem::exists(at("again.markerlamp")));
}

TEST_F(CopiesCommands, AFileThatAStrangerMadeIsNamedAndLeftAlone) {
    // A name of the same length, so that the page is in order.
    std::string bytes = filesOf(".").at("p.markerlamp");
    const std::string was = "event_in_words";
    for (const std::string& before :
         {"view" + was, "view" + was.substr(0, 13) + "z" + was, "CREATE VIEW " + was}) {
        const std::size_t place = bytes.find(before);
        ASSERT_NE(place, std::string::npos) << before;
        bytes[place + before.size() - 1] = 'z';
    }
    std::ofstream(at("s.markerlamp"), std::ios::binary) << bytes;
    std::ofstream(at("people.csv")) << "key,name\nnew-1,Wanda Invented\n";
    const std::vector<std::vector<std::string>> commands{
        {"verify", at("s.markerlamp")},
        {"verify", at("s.markerlamp"), "--json"},
        {"import", at("s.markerlamp"), at("people.csv")},
        {"export", at("s.markerlamp"), "--to", at("documents")},
        {"backup", at("s.markerlamp"), "--to", at("copy.markerlamp")},
        {"backup", at("s.markerlamp")},
        {"restore", at("s.markerlamp"), "--to", file()},
    };
    for (const auto& command : commands) {
        SCOPED_TRACE(command[0]);
        const ProgramRun run = runProgram(command);
        EXPECT_EQ(run.exitCode, 1) << run.standardOutput;
        EXPECT_THAT(run.standardError, HasSubstr("s.markerlamp"));
        EXPECT_THAT(run.standardError,
                    HasSubstr("has a view \"event_in_wordz\" that this program did not make"));
        EXPECT_THAT(run.standardError, HasSubstr("--salvage"));
    }
    EXPECT_TRUE(filesOf(".").at("s.markerlamp") == bytes);
    EXPECT_FALSE(std::filesystem::exists(at("copy.markerlamp")));
    EXPECT_EQ(runProgram({"restore", at("s.markerlamp"), "--salvage", "--to", at("out.markerlamp")}).exitCode,
              0);
    EXPECT_EQ(verified("out.markerlamp").at("attempts"), verified("p.markerlamp").at("attempts"));
}

TEST_F(CopiesCommands, SalvageReadsWhatIsLeftAndSaysWhatIsNot) {
    const int attempts = verified("p.markerlamp").at("attempts").get<int>();
    std::filesystem::copy_file(file(), at("d.markerlamp"));
    overwrite("d.markerlamp", pages("d.markerlamp") - 3);
    ProgramRun run = runProgram({"restore", at("d.markerlamp"), "--salvage", "--to", at("out.markerlamp")});
    EXPECT_EQ(run.exitCode, 1);
    EXPECT_THAT(run.standardOutput, HasSubstr("attempts with all their events: "));
    EXPECT_THAT(run.standardError, HasSubstr("not everything could be read"));
    const auto out = verified("out.markerlamp");
    EXPECT_GT(out.at("attempts").get<int>(), attempts / 2);
    EXPECT_LE(out.at("attempts").get<int>(), attempts);
    run = runProgram({"restore", file(), "--salvage", "--to", at("whole.markerlamp")});
    EXPECT_EQ(run.exitCode, 0) << run.standardError;
    EXPECT_EQ(verified("whole.markerlamp").at("attempts"), attempts);
    EXPECT_EQ(runProgram({"restore", at("d.markerlamp"), "--salvage", "--to", file()}).exitCode, 1);
    std::ofstream(at("letter")) << std::string(9000, 'x');
    run = runProgram({"restore", at("letter"), "--salvage", "--to", at("no.markerlamp")});
    EXPECT_EQ(run.exitCode, 1);
    EXPECT_FALSE(std::filesystem::exists(at("no.markerlamp")));
}

TEST_F(CopiesCommands, WrongUsage) {
    EXPECT_EQ(runProgram({"verify"}).exitCode, 2);
    EXPECT_EQ(runProgram({"verify", at("none")}).exitCode, 1);
    EXPECT_EQ(runProgram({"restore", file()}).exitCode, 2);
    EXPECT_EQ(runProgram({"restore", file(), "--to", file()}).exitCode, 1);
    EXPECT_EQ(runProgram({"restore", file(), "--to", at("x"), "--rubric", at("r")}).exitCode, 2);
    for (const char* command : {"backup", "restore", "verify"})
        EXPECT_EQ(runProgram({command, "--help"}).exitCode, 0) << command;
}

// SQLite would take it for the file's own.
TEST_F(CopiesCommands, TheLogOfAnotherFileIsRefusedByEveryCommandThatOpensTheFile) {
    const std::string other = at("other.markerlamp"), log = file() + "-wal", kept = at("kept.markerlamp");
    ASSERT_EQ(runProgram({"backup", file(), "--to", kept}).exitCode, 0);
    ASSERT_EQ(runProgram({"new", other}).exitCode, 0);
    {
        auto open = db::ProgramFile::open(other).value();
        ASSERT_TRUE(open->setFact("program.title", "Other"));
        std::filesystem::copy_file(other + "-wal", log);
    }
    const auto before = filesOf("");
    for (const std::vector<std::string>& words : {std::vector<std::string>{"verify", file()},
                                                  {"backup", file()},
                                                  {"backup", file(), "--to", at("x")},
                                                  {"restore", kept, "--to", file()},
                                                  {"export", file(), "--to", at("x")},
                                                  {"trail", file()}}) {
        SCOPED_TRACE(words.front());
        const ProgramRun run = runProgram(words);
        EXPECT_EQ(run.exitCode, 1);
        EXPECT_THAT(run.standardError, HasSubstr("p.markerlamp-wal is the log of another file"));
        EXPECT_TRUE(filesOf("") == before);
    }
    std::filesystem::remove(log);
    EXPECT_EQ(runProgram({"verify", file()}).exitCode, 0);
}

// What a crash left beside its own file is taken in.
TEST_F(CopiesCommands, TheLogThatACrashLeftIsReadWithItsFile) {
    const std::string left = at("left.markerlamp");
    {
        auto open = db::ProgramFile::open(file()).value();
        ASSERT_TRUE(open->setFact("program.title", "Only in the log"));
        for (const char* tail : {"", "-wal"}) std::filesystem::copy_file(file() + tail, left + tail);
    }
    EXPECT_EQ(runProgram({"verify", left}).exitCode, 0);
    EXPECT_THAT(runProgram({"trail", left}).standardOutput, HasSubstr("Only in the log"));
}

}  // namespace
}  // namespace markerlamp::cli
