// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// An erased person is looked for in the raw bytes of everything beside the file.

#include "db/event_writer.h"
#include "db/exchange/exchange.h"
#include "db_support.h"

#include <gtest/gtest.h>

#include <fstream>
#include <set>
#include <sstream>

namespace markerlamp::db {
namespace {

using namespace testing;
using core::ErrorKind;

// Words that stand nowhere else in the file. "Calm" is the note of the sample attempt.
const std::vector<std::string> kWords{"Quillfeather", "zq-key-77",    "Bellwether note", "S 778-99",
                                      "calmword",     "steadyreason", "wetexaminer",     "yardplace",
                                      "movedaway",    "hourword",     "wrongperson",     "Zebracollege",
                                      "reasonword"};

std::string bytesOf(const std::filesystem::path& path) {
    std::ostringstream text;
    text << std::ifstream(path, std::ios::binary).rdbuf();
    return text.str();
}

/// "FILE: word" for each word that is found in a file of the folder, or in a name.
std::set<std::string> found(const std::filesystem::path& folder) {
    std::set<std::string> places;
    for (const auto& entry : std::filesystem::recursive_directory_iterator(folder)) {
        const std::string bytes = entry.path().filename().string() + bytesOf(entry.path());
        for (const std::string& word : kWords)
            if (bytes.find(word) != std::string::npos)
                places.insert(entry.path().filename().string() + ": " + word);
    }
    return places;
}

core::Attempt attemptOf(const std::string& id, const std::string& trainee) {
    core::Attempt attempt = sampleAttempt(id);
    attempt.header.trainee = trainee;
    for (core::Event& event : attempt.events)
        if (event.text == "calm") event.text = "calmword";
    return attempt;
}

void fill(ProgramFile& file) {
    const std::string key = "zq-key-77", at = "2026-03-05T06:10:00-05:00";
    ASSERT_TRUE(file.saveTrainee({key, "Ada Quillfeather", "2026-02-01", "2026-02-02", "2026-08-02",
                                  "2027-01-01", 92.5, "2026-02-20", "first", "Bellwether note", false}));
    ASSERT_TRUE(file.saveTrainee({"t-2", "Bo Example", "", "", "", "", {}, "", "", "stays", false}));
    ASSERT_TRUE(file.addAttempt(attemptOf("a-1", key)));
    ASSERT_TRUE(file.addAttempt(sampleAttempt("a-2")));
    core::FrozenForecast frozen;
    frozen.id = "f-1";
    frozen.trainee = key;
    frozen.about = core::FrozenForecast::About::OfficialTest;
    frozen.at = at;
    frozen.rubric = "small";
    frozen.chance = 0.5;
    ASSERT_TRUE(file.addForecast(frozen));
    ASSERT_TRUE(file.addOverride({"o-1", key, core::ReadinessWord::Ready, "steadyreason", "i-1", at, false}));
    ASSERT_TRUE(file.addTestResult({"r-of-zq-key-77", key, "2026-03-09", "inspection", true, "wetexaminer"}));
    ASSERT_TRUE(file.addTestResult({"r-2", key, "2026-03-09", "road", true, ""}));
    ASSERT_TRUE(file.addTestResult({"r-3", "t-2", "2026-03-09", "road", false, "kept"}));
    ASSERT_TRUE(file.addStruckResult({"s-1", key, "r-2", "wrongperson", at}));
    ASSERT_TRUE(file.addClockHours(
        {"h-1", key, "2026-03-02", core::HoursKind::Range, 90, "i-1", "hourword", at, "", false}));
    ASSERT_TRUE(file.addClockHours(
        {"h-2", "t-2", "2026-03-02", core::HoursKind::Range, 45, "i-1", "", at, "", false}));
    ASSERT_TRUE(file.setFact("draft.settling.a-1.a-8", "reasonword"));
    ASSERT_TRUE(file.setFact("draft.settling.a-2.a-9", "stays"));
    ASSERT_TRUE(file.setFact("ui.start.trainee", "zq-key-77"));
    ASSERT_TRUE(file.addBookedTest(
        {"b-1", key, "2026-03-09", "", {"inspection"}, "yardplace", core::BookingState::Done, "", at, ""}));
    ASSERT_TRUE(file.addAbsence({"w-1", key, "2026-03-20", "", "movedaway", at, "", false}));
    ASSERT_TRUE(file.saveLicence({key, "S 778-99", "OH"}));
    core::Course course;
    course.trainee = key;
    course.theoryProvider = "Zebracollege";
    ASSERT_TRUE(file.saveCourse(course));
}

class Erasing : public ::testing::Test {
protected:
    void SetUp() override {
        m_file = programWithRubric(m_path);
        fill(*m_file);
        // A copy as a change of form leaves it, and one that a run broke off.
        std::ofstream(m_path.string() + ".before-2.bak") << "Ada Quillfeather";
        std::ofstream(m_folder / ".p.markerlamp.before-3.bak.part-77-0") << "Ada Quillfeather";
        std::ofstream(m_folder / "other.markerlamp") << "somebody else's";
        ASSERT_FALSE(found(m_folder / "").empty());
    }
    Folder m_folder;
    std::filesystem::path m_path = m_folder / "p.markerlamp";
    std::unique_ptr<ProgramFile> m_file;
};

TEST_F(Erasing, LeavesNoWordOfThePersonInAnyByteBesideTheFile) {
    const auto erased = m_file->eraseTrainee("zq-key-77");
    ASSERT_TRUE(erased) << erased.error().message;
    // With the file still open, so with its log and index.
    EXPECT_TRUE(found(m_folder / "").empty()) << *found(m_folder / "").begin();
    EXPECT_EQ(erased->copies.size(), 2u);
    EXPECT_FALSE(std::filesystem::exists(m_path.string() + ".before-2.bak"));
    EXPECT_TRUE(std::filesystem::exists(m_folder / "other.markerlamp"));
    m_file.reset();
    EXPECT_TRUE(found(m_folder / "").empty());
    auto again = ProgramFile::open(m_path).value();
    ASSERT_TRUE(exportTo(*again, m_folder / "out"));
    again.reset();
    for (const char* part : {"out", "out/attempts"}) EXPECT_TRUE(found(m_folder / part).empty()) << part;
}

TEST_F(Erasing, KeepsTheMarksUnderAKeyThatSaysNothing) {
    const core::Attempt before = m_file->attempt("a-1").value();
    const auto rubric = m_file->rubric("small", 1).value();
    const core::Scorecard card = core::score(*rubric, before);
    const auto erased = m_file->eraseTrainee("zq-key-77").value();
    EXPECT_EQ(erased.attempts, 1);
    EXPECT_EQ(erased.texts, 1);
    const core::Attempt after = m_file->attempt("a-1").value();
    EXPECT_EQ(after.header.trainee, erased.anonymous);
    EXPECT_EQ(core::score(*rubric, after), card) << "marks and score are the same";
    EXPECT_EQ(after.events.size(), before.events.size());
    EXPECT_EQ(m_file->attempts(erased.anonymous)->at(0).percent, card.percent);
    EXPECT_EQ(m_file->forecasts()->at(0).trainee, erased.anonymous);
    EXPECT_EQ(m_file->overrides()->at(0).reason, "(erased)");
    const auto tests = m_file->testResults(erased.anonymous).value();
    ASSERT_EQ(tests.size(), 1u);
    EXPECT_TRUE(tests[0].passed);
    EXPECT_EQ(m_file->allTestResults()->size(), 2u) << "a struck one is no mark";
    const auto person = m_file->personFile(erased.anonymous).value();
    EXPECT_EQ(person->trainee.name, erased.anonymous);
    EXPECT_TRUE(person->hours.empty() && person->bookings.empty() && person->absences.empty());
    EXPECT_TRUE(person->licence.empty() && person->course.empty());
    EXPECT_FALSE(m_file->trainee("zq-key-77").value());
    EXPECT_TRUE(core::isErased(person->trainee));
}

TEST_F(Erasing, TouchesNobodyElse) {
    ASSERT_TRUE(m_file->eraseTrainee("zq-key-77"));
    EXPECT_EQ(m_file->trainee("t-2").value()->note, "stays");
    EXPECT_EQ(m_file->testResults("t-2")->at(0).note, "kept");
    EXPECT_EQ(m_file->clockHours("t-2")->size(), 1u);
    EXPECT_EQ(m_file->attempt("a-2").value(), sampleAttempt("a-2"));
    EXPECT_EQ(m_file->fact("draft.settling.a-2.a-9").value(), "stays");
}

TEST_F(Erasing, LeavesEveryDoorShutBehindIt) {
    ASSERT_TRUE(m_file->eraseTrainee("zq-key-77"));
    m_file.reset();
    for (const char* change :
         {"UPDATE attempt SET trainee = 't-2'", "UPDATE event SET text = NULL WHERE kind = 11",
          "DELETE FROM event", "DELETE FROM attempt", "UPDATE forecast SET trainee = 't-2'",
          "DELETE FROM forecast", "UPDATE readiness_override SET reason = '(erased)'",
          "DELETE FROM readiness_override", "UPDATE test_result SET id = 'x'", "DELETE FROM test_result",
          "DELETE FROM clock_hours"})
        EXPECT_NE(rawSql(m_path, change), "") << change;
}

TEST_F(Erasing, OpensTheDoorsForNothingButErasing) {
    m_file.reset();
    // Behind the program's back: with the row that erasing sets, everything that erasing does not do stays
    // shut.
    const std::string open =
        "BEGIN; INSERT INTO trainee SELECT 'erased-1', 'erased-1', '', '', '', '', NULL, '', '', "
        "'', 0; INSERT INTO erasing VALUES ('zq-key-77', 'erased-1'); ";
    EXPECT_EQ(rawSql(m_path,
                     open + "UPDATE attempt SET trainee = 'erased-1' WHERE trainee = 'zq-key-77'; ROLLBACK"),
              "");
    for (const char* change :
         {"UPDATE attempt SET trainee = 't-2' WHERE trainee = 'zq-key-77'",
          "UPDATE attempt SET trainee = 'erased-1' WHERE trainee <> 'zq-key-77'",
          "UPDATE attempt SET trainee = 'erased-1', bus = '15' WHERE trainee = 'zq-key-77'",
          "UPDATE event SET text = 'better'", "UPDATE event SET t = 0", "UPDATE event SET kind = 1",
          "UPDATE event SET text = '(erased)' WHERE attempt IN (SELECT number FROM attempt WHERE id = 'a-2') "
          "AND kind = 11",
          "DELETE FROM event", "DELETE FROM attempt", "DELETE FROM forecast",
          "UPDATE forecast SET chance = 1, trainee = 'erased-1' WHERE trainee = 'zq-key-77'",
          "UPDATE readiness_override SET word = 'close'",
          "UPDATE readiness_override SET reason = 'better' WHERE trainee = 'zq-key-77'",
          "UPDATE test_result SET passed = 0",
          "UPDATE test_result SET note = 'better' WHERE trainee = 'zq-key-77'",
          "DELETE FROM test_result WHERE id = 'r-of-zq-key-77'",
          "DELETE FROM clock_hours WHERE trainee = 't-2'",
          "UPDATE clock_hours SET minutes = 1 WHERE trainee = 'zq-key-77'"})
        EXPECT_NE(rawSql(m_path, open + change), "") << change;
}

TEST_F(Erasing, WorksWhileAnotherConnectionIsOpenAndIdle) {
    auto other = ProgramFile::open(m_path).value();
    EXPECT_EQ(other->trainees()->size(), 3u);
    ASSERT_TRUE(m_file->eraseTrainee("zq-key-77"));
    EXPECT_TRUE(found(m_folder / "").empty());
    EXPECT_EQ(other->trainees()->size(), 3u);
    EXPECT_FALSE(other->trainee("zq-key-77").value());
}

TEST_F(Erasing, IsRefusedAndChangesNothingWhereItCouldNotBeWhole) {
    EXPECT_EQ(m_file->eraseTrainee("t-99").error().kind, ErrorKind::NotFound);
    const auto waiting = EventWriter::spillPath(m_path);
    std::ofstream(waiting) << "{}";
    auto refused = m_file->eraseTrainee("zq-key-77");
    ASSERT_FALSE(refused);
    EXPECT_NE(refused.error().message.find(waiting.string()), std::string::npos);
    std::filesystem::remove(waiting);
    core::Attempt open = attemptOf("a-9", "zq-key-77");
    ASSERT_TRUE(m_file->startAttempt(open.header));
    refused = m_file->eraseTrainee("zq-key-77");
    ASSERT_FALSE(refused);
    EXPECT_NE(refused.error().message.find("not ended"), std::string::npos);
    EXPECT_EQ(m_file->trainee("zq-key-77").value()->name, "Ada Quillfeather");
    ASSERT_TRUE(m_file->setAside("a-9"));
    const auto erased = m_file->eraseTrainee("zq-key-77");
    ASSERT_TRUE(erased);
    EXPECT_EQ(m_file->eraseTrainee(erased->anonymous).error().kind, ErrorKind::Refused) << "erased already";
}

TEST_F(Erasing, ALastRecordIsTheNewestDayThatAnyRecordBears) {
    const auto last = m_file->lastRecords().value();
    ASSERT_EQ(last.size(), 3u);
    EXPECT_EQ(last[0], (core::LastRecord{"t-1", "2026-03-02"})) << "start of the attempt and its amendment";
    EXPECT_EQ(last[1], (core::LastRecord{"t-2", "2026-03-09"})) << "the test result";
    EXPECT_EQ(last[2], (core::LastRecord{"zq-key-77", "2026-03-20"})) << "left; not the end of a certificate";
    ASSERT_TRUE(m_file->addClockHours({"h-3", "t-2", "2026-03-02", core::HoursKind::Other, 45, "i-1", "",
                                       "2026-07-01T08:00:00Z", "", false}));
    EXPECT_EQ(m_file->lastRecords()->at(1).date, "2026-07-01") << "written down later";
}

}  // namespace
}  // namespace markerlamp::db
