// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/attempt/recorder.h"
#include "db/schema/migrator.h"
#include "db_support.h"

#include <gtest/gtest.h>

#include <fstream>
#include <set>

#include <sys/stat.h>

namespace markerlamp::db {
namespace {

using namespace testing;
using core::ErrorKind;

TEST(ProgramFile, IsMadeForItsOwnerAloneAndNeverOverwritten) {
    Folder folder;
    const auto path = folder / "p.markerlamp";
    ASSERT_TRUE(ProgramFile::create(path));
    struct stat info {};
    ASSERT_EQ(::stat(path.c_str(), &info), 0);
    EXPECT_EQ(info.st_mode & 0777, 0600u);
    EXPECT_FALSE(ProgramFile::create(path));
    ASSERT_TRUE(ProgramFile::open(path));
    EXPECT_FALSE(ProgramFile::create(folder / "nowhere/p.markerlamp"));
    EXPECT_EQ(ProgramFile::open(folder / "none.markerlamp").error().kind, ErrorKind::NotFound);
}

TEST(ProgramFile, RefusesWhatIsNotItsOwnAndChangesNothing) {
    Folder folder;
    std::ofstream(folder / "text.markerlamp") << std::string(5000, 'x');
    EXPECT_EQ(ProgramFile::open(folder / "text.markerlamp").error().kind, ErrorKind::Refused);
    rawSql(folder / "other.markerlamp", "CREATE TABLE a (b)");
    EXPECT_EQ(ProgramFile::open(folder / "other.markerlamp").error().kind, ErrorKind::Refused);
    const auto path = folder / "newer.markerlamp";
    ASSERT_TRUE(ProgramFile::create(path));
    rawSql(path, "PRAGMA user_version = 1000");
    const auto newer = ProgramFile::open(path);
    ASSERT_FALSE(newer);
    EXPECT_EQ(newer.error().kind, ErrorKind::NewerFile);
    EXPECT_NE(newer.error().message.find("newer version"), std::string::npos);
}

TEST(ProgramFile, KeepsPeopleAndBuses) {
    Folder folder;
    const auto path = folder / "p.markerlamp";
    core::Trainee t{"t-1", "Ada Example", "2026-01-02", "2026-01-05", "2027-01-05", "",
                    92.5,  "2026-01-04",  "spring",     "note",       false};
    core::Bus bus{"14", "Bus 14", {"air-brakes"}, {{"leak", {std::nullopt, 2.0}}}, "", false};
    {
        auto file = ProgramFile::create(path).value();
        ASSERT_TRUE(file->saveTrainee(t));
        t.note = "changed";
        ASSERT_TRUE(file->saveTrainee(t));
        ASSERT_TRUE(file->saveInstructor({"i-1", "Ben Example", false}));
        ASSERT_TRUE(file->saveBus(bus));
        EXPECT_FALSE(file->saveTrainee({}));
        core::Trainee wrong = t;
        wrong.started = "yesterday";
        EXPECT_FALSE(file->saveTrainee(wrong)) << "a CHECK guards the dates";
    }
    auto file = ProgramFile::open(path).value();
    EXPECT_EQ(file->trainees().value(), std::vector{t});
    EXPECT_EQ(file->buses().value(), std::vector{bus});
    EXPECT_EQ(file->instructors().value().front().name, "Ben Example");
}

TEST(ProgramFile, KeepsRubricsWholeAndUnchanged) {
    Folder folder;
    const auto path = folder / "p.markerlamp";
    auto file = programWithRubric(path);
    EXPECT_EQ(file->addRubric(kRubric).value(), Added::AlreadyThere);
    std::string other = kRubric;
    other.replace(other.find("Small rubric"), 12, "Other rubric");
    const auto conflict = file->addRubric(other);
    ASSERT_FALSE(conflict);
    EXPECT_EQ(conflict.error().kind, ErrorKind::Conflict);
    EXPECT_EQ(file->rubricText("small", 1).value(), kRubric);
    EXPECT_FALSE(file->addRubric("format: nonsense"));
    EXPECT_FALSE(file->rubrics().value().front().used);
    ASSERT_TRUE(file->addAttempt(sampleAttempt()));
    EXPECT_TRUE(file->rubrics().value().front().used);
    file.reset();
    EXPECT_NE(rawSql(path, "UPDATE rubric SET text = 'x'").find("never changes"), std::string::npos);
    EXPECT_NE(rawSql(path, "DELETE FROM rubric"), "");
}

TEST(ProgramFile, KeepsAttemptsToTheLetter) {
    Folder folder;
    const auto path = folder / "p.markerlamp";
    auto file = programWithRubric(path);
    const core::Attempt attempt = sampleAttempt();
    EXPECT_EQ(file->addAttempt(attempt).value(), Added::New);
    EXPECT_EQ(file->attempt("a-1").value(), attempt);
    EXPECT_EQ(file->addAttempt(attempt).value(), Added::AlreadyThere);
    core::Attempt other = attempt;
    other.events.pop_back();
    EXPECT_EQ(file->addAttempt(other).error().kind, ErrorKind::Conflict);
    EXPECT_EQ(file->attempt("a-1").value(), attempt);
    // Whom the attempt names and the file did not know is there to be completed.
    EXPECT_TRUE(file->trainee("t-1").value()->toComplete);
    EXPECT_TRUE(file->buses().value().front().toComplete);
    other = sampleAttempt("a-2");
    other.header.edition = 7;
    EXPECT_EQ(file->addAttempt(other).error().kind, ErrorKind::NotFound);
    other = sampleAttempt("a-3");
    other.events[0].step = "unknown";
    EXPECT_EQ(file->addAttempt(other).error().problems.size(), 1u);
    EXPECT_EQ(file->attempts().value().size(), 1u);
}

TEST(ProgramFile, EventsNeverChangeAndNeverSkip) {
    Folder folder;
    const auto path = folder / "p.markerlamp";
    auto file = programWithRubric(path);
    ASSERT_TRUE(file->addAttempt(sampleAttempt()));
    core::Attempt open = sampleAttempt("a-2");
    ASSERT_TRUE(file->startAttempt(open.header));
    const std::span<const core::Event> events(open.events);
    EXPECT_FALSE(file->appendEvents("a-2", events.subspan(1, 1))) << "n 2 before n 1";
    ASSERT_TRUE(file->appendEvents("a-2", events.subspan(0, 2)));
    EXPECT_FALSE(file->appendEvents("a-2", events.subspan(1, 1))) << "the same again";
    EXPECT_FALSE(file->appendEvents("a-2", events.subspan(3, 1))) << "a gap";
    EXPECT_EQ(file->attempt("a-2").value().events.size(), 2u);
    file.reset();
    EXPECT_NE(rawSql(path, "UPDATE event SET t = 0").find("never change"), std::string::npos);
    EXPECT_NE(rawSql(path, "DELETE FROM event").find("never deleted"), std::string::npos);
    EXPECT_NE(rawSql(path, "DELETE FROM attempt"), "");
    EXPECT_NE(rawSql(path, "UPDATE attempt SET trainee = 'x'"), "");
}

TEST(ProgramFile, FiguresOfListsEqualTheScorecard) {
    Folder folder;
    const auto path = folder / "p.markerlamp";
    auto file = programWithRubric(path);
    const core::Attempt attempt = sampleAttempt();
    ASSERT_TRUE(file->startAttempt(attempt.header));
    for (const core::Event& event : attempt.events) {
        ASSERT_TRUE(file->appendEvents("a-1", std::span(&event, 1)));
        const AttemptInfo info = file->attemptInfo("a-1").value().value();
        const core::Scorecard card =
            core::score(*file->rubric("small", 1).value(), file->attempt("a-1").value());
        EXPECT_EQ(info.result, card.result);
        EXPECT_EQ(info.percent, card.percent);
        EXPECT_EQ(info.orderPercent, card.orderPercent);
        EXPECT_EQ(info.seconds, card.seconds);
        EXPECT_EQ(info.stepsInScope, 2);
        EXPECT_EQ(info.state == AttemptState::Ended, event.n >= 6);
        EXPECT_EQ(info.amended, event.n >= 7);
    }
    const auto before = file->attempts().value().front();
    file.reset();
    ASSERT_EQ(rawSql(path, "UPDATE attempt_projection SET percent = 12"), "");
    file = ProgramFile::open(path).value();
    EXPECT_EQ(file->attempts().value().front().percent, 12);
    ASSERT_TRUE(file->refillProjections());
    EXPECT_EQ(file->attempts().value().front().percent, before.percent);
    file.reset();
    ASSERT_EQ(rawSql(path, "DROP TABLE attempt_projection"), "");
    file = ProgramFile::open(path).value();
    EXPECT_EQ(file->attempts().value().front().percent, before.percent)
        << "a dropped projection fills by itself";
}

TEST(ProgramFile, CanBeReadWithoutWriting) {
    Folder folder;
    const auto path = folder / "p.markerlamp";
    {
        auto file = programWithRubric(path);
        ASSERT_TRUE(file->addAttempt(sampleAttempt()));
    }
    rawSql(path, "DELETE FROM attempt_projection");
    auto file = ProgramFile::open(path, OpenMode::ReadOnly);
    ASSERT_TRUE(file);
    EXPECT_EQ((*file)->attempts().value().front().stepsInScope, 2);
    EXPECT_FALSE((*file)->setFact("program.title", "x"));
    EXPECT_FALSE((*file)->addAttempt(sampleAttempt("a-2")));
    file->reset();
    rawSql(path, "DROP TABLE attempt_projection");
    file = ProgramFile::open(path, OpenMode::ReadOnly);
    ASSERT_TRUE(file);
    EXPECT_EQ((*file)->attempts().value().front().stepsInScope, 2) << "without the cache";
    EXPECT_FALSE((*file)->setFact("program.title", "x"));
}

TEST(ProgramFile, ReadingLeavesNothingBesideTheFile) {
    Folder folder;
    const auto path = folder / "p.markerlamp";
    const auto names = [&] {
        std::set<std::string> found;
        for (const auto& entry : std::filesystem::directory_iterator(path.parent_path()))
            found.insert(entry.path().filename().string());
        return found;
    };
    { ASSERT_TRUE(programWithRubric(path)->addAttempt(sampleAttempt())); }
    const std::set<std::string> only{"p.markerlamp"};
    ASSERT_EQ(names(), only);
    { EXPECT_EQ(ProgramFile::open(path, OpenMode::ReadOnly).value()->attempts()->size(), 1u); }
    EXPECT_EQ(names(), only);
    // What another connection needs is left to it, and nothing of it is lost.
    auto writer = ProgramFile::open(path).value();
    ASSERT_TRUE(writer->addAttempt(sampleAttempt("a-2")));
    { EXPECT_EQ(ProgramFile::open(path, OpenMode::ReadOnly).value()->attempts()->size(), 2u); }
    EXPECT_TRUE(names().contains("p.markerlamp-wal"));
    ASSERT_TRUE(writer->addAttempt(sampleAttempt("a-3")));
    writer.reset();
    EXPECT_EQ(names(), only);
    EXPECT_EQ(ProgramFile::open(path, OpenMode::ReadOnly).value()->attempts()->size(), 3u);
}

TEST(ProgramFile, AFolderThatIsNotThereIsNamed) {
    Folder folder;
    const auto made = ProgramFile::create(folder / "none/p.markerlamp");
    ASSERT_FALSE(made);
    EXPECT_EQ(made.error().kind, ErrorKind::NotFound);
    EXPECT_NE(made.error().message.find("there is no folder " + (folder / "none").string()),
              std::string::npos)
        << made.error().message;
}

TEST(ProgramFile, AFailedTransactionLeavesNothingBehind) {
    Folder folder;
    auto file = programWithRubric(folder / "p.markerlamp");
    const auto done = file->transaction([&]() -> core::Result<void> {
        EXPECT_TRUE(file->addAttempt(sampleAttempt()));
        EXPECT_TRUE(file->saveInstructor({"i-9", "Nine", false}));
        return core::fail(ErrorKind::Refused, "no");
    });
    EXPECT_FALSE(done);
    EXPECT_TRUE(file->attempts().value().empty());
    EXPECT_TRUE(file->instructors().value().empty());
    // Words were taken back too; the cache must not remember them.
    EXPECT_EQ(file->addAttempt(sampleAttempt()).value(), Added::New);
    EXPECT_EQ(file->attempt("a-1").value(), sampleAttempt());
}

TEST(ProgramFile, SetsAttemptsAside) {
    Folder folder;
    auto file = programWithRubric(folder / "p.markerlamp");
    ASSERT_TRUE(file->startAttempt(sampleAttempt().header));
    EXPECT_EQ(file->attempts().value().front().state, AttemptState::Open);
    ASSERT_TRUE(file->setAside("a-1"));
    EXPECT_EQ(file->attempts().value().front().state, AttemptState::SetAside);
    ASSERT_TRUE(file->setAside("a-1", false));
    EXPECT_EQ(file->attempts().value().front().state, AttemptState::Open);
    EXPECT_FALSE(file->setAside("a-9"));
}

// Migrations, with steps of the test's own after today's.
TEST(Migrator, MakesAVerifiedCopyBeforeItChangesAnything) {
    Folder folder;
    const auto path = folder / "p.markerlamp";
    ASSERT_TRUE(ProgramFile::create(path));
    std::vector<SchemaStep> steps = schemaSteps();
    const int next = steps.back().number + 1;
    steps.push_back({next, "more", "CREATE TABLE more (a) STRICT"});
    steps.back().sql = "CREATE TABLE more (a INTEGER) STRICT";
    auto connection = Connection::open(path, Access::ReadWrite).value();
    const auto done = migrate(*connection, path, steps);
    ASSERT_TRUE(done) << done.error().message;
    EXPECT_EQ(done->to, next);
    EXPECT_TRUE(std::filesystem::exists(done->copy));
    EXPECT_EQ(connection->pragma("user_version"), next);
    EXPECT_TRUE(ProgramFile::open(done->copy)) << "the copy is a whole program file of the older form";
}

TEST(Migrator, AStepThatFailsLeavesTheFileAsItWas) {
    Folder folder;
    const auto path = folder / "p.markerlamp";
    ASSERT_TRUE(ProgramFile::create(path));
    std::vector<SchemaStep> steps = schemaSteps();
    const int next = steps.back().number + 1;
    steps.push_back(
        {next, "broken", "CREATE TABLE half (a INTEGER) STRICT; CREATE TABLE half (a INTEGER) STRICT"});
    {
        auto connection = Connection::open(path, Access::ReadWrite).value();
        const auto done = migrate(*connection, path, steps);
        ASSERT_FALSE(done);
        EXPECT_NE(done.error().message.find(".bak"), std::string::npos) << done.error().message;
        EXPECT_EQ(connection->pragma("user_version"), next - 1);
    }
    EXPECT_NE(rawSql(path, "SELECT * FROM half"), "") << "nothing of the step is left";
    EXPECT_TRUE(ProgramFile::open(path));
}

}  // namespace
}  // namespace markerlamp::db
