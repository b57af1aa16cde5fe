// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Which changes the trail tells of, and what verifying finds that was changed behind the program's back.

#include "../support/other_reader.h"
#include "core/base/moment.h"
#include "db/copies/copies.h"
#include "db/copies/restore.h"
#include "db/copies/verify.h"
#include "db/salvage/salvage.h"
#include "db_support.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

namespace markerlamp::db {
namespace {

using namespace testing;
using ::testing::ElementsAre;
using ::testing::HasSubstr;

/// Runs SQL with all triggers out of the way and puts them back, as one would do who wants it not to be seen.
void behindItsBack(const std::filesystem::path& path, const std::string& sql) {
    sqlite3* handle = nullptr;
    ASSERT_EQ(sqlite3_open(path.c_str(), &handle), SQLITE_OK);
    std::pair<std::string, std::string> triggers;
    const auto collect = [](void* into, int, char** row, char**) {
        auto& [drop, make] = *static_cast<std::pair<std::string, std::string>*>(into);
        drop += std::string("DROP TRIGGER ") + row[0] + ";";
        make += std::string(row[1]) + ";";
        return 0;
    };
    sqlite3_exec(handle, "SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'", collect, &triggers,
                 nullptr);
    EXPECT_EQ(sqlite3_exec(handle, (triggers.first + sql + ";" + triggers.second).c_str(), nullptr, nullptr,
                           nullptr),
              SQLITE_OK)
        << sqlite3_errmsg(handle);
    sqlite3_close(handle);
}

class Trail : public ::testing::Test {
protected:
    void SetUp() override { m_file = programWithRubric(m_path); }

    [[nodiscard]] std::vector<std::string> words() const {
        std::vector<std::string> list;
        const auto entries = m_file->trail().value();
        for (const core::TrailEntry& entry : entries) list.push_back(entry.what + " " + entry.subject);
        return list;
    }
    [[nodiscard]] core::TrailEntry last() const { return m_file->trail().value().back(); }
    void fill() {
        m_file->actAs({"coordinator", core::Role::Coordinator, ""});
        ASSERT_TRUE(m_file->saveTrainee({"t-1", "Ada Example", "", "", "", "", {}, "", "", "", false}));
        ASSERT_TRUE(
            m_file->saveTrainee({"t-1", "Ada Example", "", "", "2026-09-01", "", {}, "", "", "", false}));
        ASSERT_TRUE(m_file->addAttempt(sampleAttempt("a-1")));
        ASSERT_TRUE(m_file->addAttempt(sampleAttempt("a-2")));
        ASSERT_TRUE(m_file->addTestResult({"r-1", "t-1", "2026-03-19", "road", true, "late start"}));
    }
    [[nodiscard]] FileReport verified() const { return verifyProgram(m_path).value(); }

    Folder m_folder;
    std::filesystem::path m_path = m_folder / "p.markerlamp";
    std::unique_ptr<ProgramFile> m_file;
};

TEST_F(Trail, TellsWhoChangedWhatWithWhatWasAndWhatIs) {
    fill();
    EXPECT_THAT(words(),
                ElementsAre("rubric.added small, edition 1", "trainee.added t-1", "trainee.changed t-1",
                            "attempt.added a-1", "attempt.added a-2", "result.added r-1"));
    const auto entries = m_file->trail().value();
    EXPECT_EQ(entries[0].by, "(nobody signed in)");
    EXPECT_EQ(entries[2].by, "coordinator");
    EXPECT_EQ(entries[2].trainee, "t-1");
    EXPECT_EQ(core::fieldsOf(entries[2]),
              (std::vector<core::TrailField>{{"permit_expires", "", "2026-09-01"}}));
    EXPECT_EQ(core::millisecondsOf(entries[2].at), entries[2].atMs);
    EXPECT_FALSE(core::firstFlaw(entries));
}

TEST_F(Trail, TellsOfEveryKindOfChange) {
    auto grew = [this, count = m_file->trail()->size()](const char* what) mutable {
        const auto entries = m_file->trail().value();
        ASSERT_EQ(entries.size(), ++count) << what;
        EXPECT_EQ(entries.back().what, what);
    };
    const std::string at = "2026-03-05T06:10:00-05:00";
    ASSERT_TRUE(m_file->setFact("program.title", "Invented district"));
    grew("setting.changed");
    ASSERT_TRUE(m_file->saveInstructor({"i-1", "Kim Example", false}));
    grew("instructor.added");
    ASSERT_TRUE(m_file->saveInstructor({"i-1", "Kim Sample", false}));
    grew("instructor.changed");
    ASSERT_TRUE(m_file->saveBus({"14", "Bus 14", {"air-brakes"}, {}, "", false}));
    grew("bus.added");
    ASSERT_TRUE(m_file->saveBus({"14", "Bus 14", {}, {}, "", false}));
    grew("bus.changed");
    ASSERT_TRUE(m_file->saveTrainee({"t-1", "Ada Example", "", "", "", "", {}, "", "", "", false}));
    grew("trainee.added");
    ASSERT_TRUE(m_file->addClockHours(
        {"h-1", "t-1", "2026-03-02", core::HoursKind::Range, 90, "i-1", "", at, "", false}));
    grew("hours.added");
    ASSERT_TRUE(m_file->addAbsence({"w-1", "t-1", "2026-03-01", "", "moved", at, "", false}));
    grew("absence.added");
    ASSERT_TRUE(m_file->saveLicence({"t-1", "X1", "OH"}));
    grew("licence.changed");
    ASSERT_TRUE(m_file->saveLicence({"t-1", "", ""}));
    grew("licence.changed");
    core::Course course;
    course.trainee = "t-1";
    course.endorsements = "P S";
    ASSERT_TRUE(m_file->saveCourse(course));
    grew("course.changed");
    ASSERT_TRUE(m_file->addTestResult({"r-1", "t-1", "2026-03-19", "road", true, ""}));
    grew("result.added");
    ASSERT_TRUE(m_file->addStruckResult({"x-1", "t-1", "r-1", "another person's", at}));
    grew("result.struck");
    ASSERT_TRUE(m_file->addOverride({"o-1", "t-1", core::ReadinessWord::Ready, "steady", "i-1", at, false}));
    grew("override.added");
    ASSERT_TRUE(m_file->addAttempt(sampleAttempt("a-1")));
    grew("attempt.added");
    ASSERT_TRUE(m_file->addSheetRecord({"p-1", "a-1", core::SheetEvent::Signed, at}));
    grew("sheet.recorded");
    EXPECT_EQ(last().trainee, "t-1");
    ASSERT_TRUE(m_file->addSettlement({"s-1", "a-1", "b-1", "c-1", "i-1", at, {"open"}, {}, {}, {}}));
    grew("settlement.added");
    EXPECT_EQ(last().trainee, "t-1");
    ASSERT_TRUE(m_file->setAside("a-1"));
    grew("attempt.set-aside");
    ASSERT_TRUE(m_file->setAside("a-1", false));
    grew("attempt.taken-up");
    EXPECT_TRUE(verified().sealed());
}

TEST_F(Trail, SaysNothingWhereNothingChanges) {
    fill();
    const auto before = words();
    ASSERT_TRUE(m_file->saveTrainee({"t-1", "Ada Example", "", "", "2026-09-01", "", {}, "", "", "", false}));
    ASSERT_EQ(m_file->addAttempt(sampleAttempt("a-1")).value(), Added::AlreadyThere);
    ASSERT_EQ(m_file->addTestResult({"r-1", "t-1", "2026-03-19", "road", true, "late start"}).value(),
              Added::AlreadyThere);
    ASSERT_TRUE(m_file->setAside("a-1", false));
    ASSERT_TRUE(m_file->setFact("ui.zoom", "2"));
    ASSERT_TRUE(m_file->setFact("draft.edition.x", "y"));
    EXPECT_FALSE(m_file->setAside("a-9"));
    EXPECT_EQ(words(), before);
}

TEST_F(Trail, AnAttemptIsSealedAtItsEndAndAtEachAmendment) {
    const core::Attempt whole = sampleAttempt("a-1");
    ASSERT_TRUE(m_file->startAttempt(whole.header));
    const std::size_t before = words().size();
    for (std::size_t i = 0; i < 5; ++i)
        ASSERT_TRUE(m_file->appendEvents("a-1", std::span(whole.events).subspan(i, 1)));
    EXPECT_EQ(words().size(), before) << "a press while the attempt runs is no change after the fact";
    ASSERT_TRUE(m_file->appendEvents("a-1", std::span(whole.events).subspan(5, 1)));
    EXPECT_EQ(last().what, "attempt.ended");
    EXPECT_EQ(last().by, "i-1");
    EXPECT_TRUE(core::fieldsOf(last()).empty());
    ASSERT_TRUE(m_file->appendEvents("a-1", std::span(whole.events).subspan(6, 1)));
    EXPECT_EQ(last().what, "attempt.amended");
    EXPECT_EQ(last().by, "i-1");
    ASSERT_EQ(core::fieldsOf(last()).size(), 1u);
    EXPECT_EQ(core::fieldsOf(last())[0].is, "7: say, leak-test, engine");
    EXPECT_EQ(core::documentDigest(last()), core::blake2b(core::writeAttempt(whole)));
    EXPECT_TRUE(verified().sealed());
}

TEST_F(Trail, AChangeThatFailsLeavesNoEntry) {
    fill();
    const auto before = words();
    const auto undone = m_file->transaction([&]() -> core::Result<void> {
        if (auto saved = m_file->saveTrainee({"t-2", "Bo", "", "", "", "", {}, "", "", "", false}); !saved)
            return saved;
        return core::fail(core::ErrorKind::Refused, "after all not");
    });
    EXPECT_FALSE(undone);
    EXPECT_EQ(words(), before);
    EXPECT_FALSE(m_file->addTestResult({"r-1", "t-1", "2026-03-20", "road", true, "another"}));
    EXPECT_EQ(words(), before);
}

TEST_F(Trail, StaysAsItIs) {
    fill();
    for (const char* change :
         {"UPDATE trail_entry SET by_whom = 'x'", "UPDATE trail_entry SET words = '{}'",
          "UPDATE trail_entry SET salt = NULL, trainee = NULL, subject = NULL, words = NULL",
          "DELETE FROM trail_entry", "UPDATE trail_entry SET seal = digest WHERE number = 1"})
        EXPECT_NE(rawSql(m_path, change), "") << change;
    EXPECT_TRUE(verified().sealed());
}

struct Behind {
    const char* sql;
    const char* path;
    const char* id;
};

class ChangedBehind : public Trail, public ::testing::WithParamInterface<Behind> {};

TEST_P(ChangedBehind, IsNamed) {
    fill();
    ASSERT_TRUE(verified().sealed());
    m_file.reset();
    behindItsBack(m_path, GetParam().sql);
    const FileReport report = verified();
    EXPECT_EQ(report.integrity, "ok");
    ASSERT_FALSE(report.seals.empty());
    EXPECT_EQ(report.seals[0].path, GetParam().path);
    EXPECT_EQ(report.seals[0].id, GetParam().id);
    EXPECT_FALSE(report.seals[0].remedy.empty());
}

INSTANTIATE_TEST_SUITE_P(
    OnFile, ChangedBehind,
    ::testing::Values(
        Behind{"UPDATE trail_entry SET by_whom = 'somebody else' WHERE number = 3", "trail", "3"},
        Behind{"UPDATE trail_entry SET words = replace(words, '2026-09-01', '2027-09-01') WHERE number = 3",
               "trail", "3"},
        Behind{"DELETE FROM trail_entry WHERE number = 2", "trail", "2"},
        Behind{"UPDATE trail_entry SET salt = NULL, trainee = NULL, subject = NULL, words = NULL WHERE "
               "number = 6",
               "trail", "6"},
        Behind{"UPDATE event SET value = 2.5 WHERE n = 3 AND attempt = 1", "attempt", "a-1"},
        Behind{"DELETE FROM event WHERE n = 7 AND attempt = 2", "attempt", "a-2"},
        Behind{"UPDATE attempt SET instructor = 'i-2' WHERE id = 'a-1'", "attempt", "a-1"},
        Behind{"DELETE FROM attempt_projection; DELETE FROM event WHERE attempt = 2; DELETE FROM attempt "
               "WHERE number "
               "= 2",
               "attempt", "a-2"}));

TEST_F(Trail, ThatWasCutOffIsToldByACopy) {
    fill();
    ASSERT_TRUE(keepCopy(m_path, {core::CopyReason::ByHand, 0, false}));
    m_file.reset();
    behindItsBack(m_path, "DELETE FROM trail_entry WHERE number > 5; DELETE FROM test_result");
    const FileReport report = verified();
    ASSERT_EQ(report.seals.size(), 1u);
    EXPECT_EQ(report.seals[0].path, "trail");
    EXPECT_EQ(report.seals[0].id, "6");
    EXPECT_THAT(report.seals[0].message, HasSubstr("result.added"));
}

TEST_F(Trail, GoesOnAfterRestoringAnOlderCopy) {
    fill();
    const auto kept = keepCopy(m_path, {core::CopyReason::ByHand, 0, false}).value().made;
    ASSERT_TRUE(m_file->setFact("program.title", "later"));
    ASSERT_TRUE(m_file->setFact("program.title", "later still"));
    m_file.reset();
    ASSERT_TRUE(restoreProgram(kept, m_path, 0));
    // The newest copy is now the file that was put aside; its two later entries are known to have gone.
    m_file = ProgramFile::open(m_path).value();
    EXPECT_EQ(last().what, "file.restored");
    EXPECT_EQ(last().subject, kept.filename().string());
    const FileReport report = verified();
    EXPECT_TRUE(report.sealed()) << report.seals[0].message;
}

TEST_F(Trail, GoesOnAfterSalvaging) {
    fill();
    m_file.reset();
    const auto target = m_folder / "saved.markerlamp";
    ASSERT_TRUE(salvage(m_path, target, {}));
    auto saved = ProgramFile::open(target).value();
    const auto entries = saved->trail().value();
    ASSERT_EQ(entries.size(), 9u);
    EXPECT_EQ(entries[6].what, "file.salvaged");
    EXPECT_EQ(entries[7].what, "attempt.salvaged");
    const FileReport report = verifyProgram(target).value();
    EXPECT_TRUE(report.good() && report.sealed());
    EXPECT_EQ(report.unsealed, 0);
}

TEST_F(Trail, OfAnErasedPersonSaysNothingAndStillHolds) {
    fill();
    const auto erased = m_file->eraseTrainee("t-1").value();
    const auto entries = m_file->trail().value();
    EXPECT_FALSE(core::firstFlaw(entries));
    for (std::size_t i = 1; i < 6; ++i) EXPECT_TRUE(entries[i].erased()) << i;
    EXPECT_EQ(entries[6].what, "person.erased");
    EXPECT_EQ(entries[6].subject, erased.anonymous);
    EXPECT_EQ(entries[7].what, "attempt.without-name");
    const FileReport report = verified();
    EXPECT_TRUE(report.good() && report.sealed());
}

TEST_F(Trail, AttemptsFromBeforeItAreCounted) {
    m_file.reset();
    std::filesystem::remove(m_path);
    std::ostringstream sql;
    sql << std::ifstream(MARKERLAMP_SOURCE_DIR "/tests/old-databases/0005.sql").rdbuf();
    ASSERT_EQ(rawSql(m_path, sql.str()), "");
    EXPECT_GT(verified().unsealed, 0);
    EXPECT_TRUE(ProgramFile::open(m_path));
    const FileReport report = verified();
    EXPECT_EQ(report.trail, 0);
    EXPECT_GT(report.unsealed, 0);
    EXPECT_TRUE(report.sealed());
}

/// Another program works the seals out from the rows alone.
TEST_F(Trail, IsTheSameForAnotherReader) {
    fill();
    ASSERT_TRUE(m_file->setFact("program.title", "Fahrschule \u00fcber \"Land\"\n\u2026"));
    m_file.reset();
    const auto read = markerlamp::testing::readByOther("check_trail.py", m_path.string());
    if (!read) GTEST_SKIP() << "no python3";
    EXPECT_EQ(read->at("fit"), 7);
}

}  // namespace
}  // namespace markerlamp::db
