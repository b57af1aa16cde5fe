// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/exchange/exchange.h"
#include "db_support.h"

#include <gtest/gtest.h>

#include <fstream>
#include <map>
#include <sstream>

namespace markerlamp::db {
namespace {

using namespace testing;
using core::Absence;
using core::BookedTest;
using core::ClockHours;
using core::ErrorKind;
using Outcome = ImportReport::Outcome;

ClockHours driven(const std::string& id, const std::string& date, const std::string& replaces = {}) {
    return {id,       "t-1", date, core::HoursKind::PublicRoad, 95, "i-1", "rain", date + "T16:00:00-05:00",
            replaces, false};
}
BookedTest booked(const std::string& id, const std::string& date) {
    return {id,
            "t-1",
            date,
            "08:30",
            {"inspection", "road"},
            "gate 2",
            core::BookingState::Booked,
            "",
            "2026-03-02T16:00:00Z",
            ""};
}
Absence away(const std::string& id, const std::string& left) {
    return {id, "t-1", left, "", "other work", "2026-03-02T16:00:00Z", "", false};
}
core::Course course() {
    core::Course course;
    course.trainee = "t-1";
    course.rangeDone = "2026-03-20";
    course.proficientBy = "i-7";
    return course;
}

TEST(TrainingStore, KeepsRecordsToTheLetterAndInOrder) {
    Folder folder;
    const auto path = folder / "p.markerlamp";
    {
        auto file = ProgramFile::create(path).value();
        EXPECT_EQ(file->addClockHours(driven("h-2", "2026-03-09")).value(), Added::New);
        EXPECT_EQ(file->addClockHours(driven("h-1", "2026-03-02")).value(), Added::New);
        EXPECT_EQ(file->addClockHours(driven("h-3", "2026-03-02", "h-1")).value(), Added::New);
        EXPECT_EQ(file->addClockHours(driven("h-1", "2026-03-02")).value(), Added::AlreadyThere);
        EXPECT_EQ(file->addBookedTest(booked("b-1", "2026-04-01")).value(), Added::New);
        EXPECT_EQ(file->addAbsence(away("a-1", "2026-03-05")).value(), Added::New);
        auto other = driven("h-1", "2026-03-03");
        const auto refused = file->addClockHours(other);
        ASSERT_FALSE(refused);
        EXPECT_EQ(refused.error().kind, ErrorKind::Conflict);
    }
    auto file = ProgramFile::open(path).value();
    EXPECT_EQ(file->clockHours().value(),
              (std::vector{driven("h-1", "2026-03-02"), driven("h-3", "2026-03-02", "h-1"),
                           driven("h-2", "2026-03-09")}));
    EXPECT_EQ(file->bookedTests().value(), std::vector{booked("b-1", "2026-04-01")});
    EXPECT_EQ(file->absences().value(), std::vector{away("a-1", "2026-03-05")});
    EXPECT_TRUE(file->clockHours("t-2")->empty());
    EXPECT_EQ(file->clockHours("t-1")->size(), 3u);
    EXPECT_TRUE(file->trainee("t-1").value()->toComplete) << "made, as a record named the key";
    EXPECT_TRUE(file->instructors()->at(0).toComplete);
    const auto person = file->personFile("t-1").value();
    ASSERT_TRUE(person);
    EXPECT_EQ(person->hours.size(), 2u) << "the corrected one is not told";
    EXPECT_FALSE(file->personFile("t-9").value());
}

TEST(TrainingStore, RefusesWhatCouldNotComeBack) {
    Folder folder;
    auto file = ProgramFile::create(folder / "p.markerlamp").value();
    auto hours = driven("h-1", "2026-02-28");
    hours.date = "2026-02-30";
    const auto refused = file->addClockHours(hours);
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().problems.at(0).path, "date");
    auto test = booked("b-1", "2026-04-01");
    test.segments.clear();
    EXPECT_FALSE(file->addBookedTest(test));
    EXPECT_FALSE(file->saveLicence({"", "X", "OH"}));
    core::Course wrong = course();
    wrong.roadDone = "soon";
    EXPECT_EQ(file->saveCourse(wrong).error().problems.at(0).path, "road_done");
    EXPECT_TRUE(file->trainees()->empty()) << "nothing was made for what was refused";
}

TEST(TrainingStore, RecordsNeverChangeBehindTheProgramsBack) {
    Folder folder;
    const auto path = folder / "p.markerlamp";
    {
        auto file = ProgramFile::create(path).value();
        ASSERT_TRUE(file->addClockHours(driven("h-1", "2026-03-02")));
        ASSERT_TRUE(file->addBookedTest(booked("b-1", "2026-04-01")));
        ASSERT_TRUE(file->addAbsence(away("a-1", "2026-03-05")));
    }
    for (const char* change : {"UPDATE clock_hours SET minutes = 1", "DELETE FROM clock_hours",
                               "UPDATE booked_test SET place = ''", "DELETE FROM booked_test",
                               "UPDATE absence SET reason = ''", "DELETE FROM absence"})
        EXPECT_NE(rawSql(path, change), "") << change;
}

TEST(TrainingStore, EntriesMayChangeAndGoWhenTheySayNothing) {
    Folder folder;
    auto file = ProgramFile::create(folder / "p.markerlamp").value();
    ASSERT_TRUE(file->saveLicence({"t-1", "S 123", "OH"}));
    ASSERT_TRUE(file->saveLicence({"t-1", "S 124", "OH"}));
    ASSERT_TRUE(file->saveCourse(course()));
    EXPECT_EQ(file->licences().value(), (std::vector{core::Licence{"t-1", "S 124", "OH"}}));
    EXPECT_EQ(file->courses().value(), std::vector{course()});
    ASSERT_TRUE(file->saveLicence({"t-1", "", ""}));
    core::Course nothing;
    nothing.trainee = "t-1";
    ASSERT_TRUE(file->saveCourse(nothing));
    EXPECT_TRUE(file->licences()->empty());
    EXPECT_TRUE(file->courses()->empty());
}

TEST(TrainingStore, AStruckResultStaysInTheFileAndCountsNoMore) {
    Folder folder;
    const auto path = folder / "p.markerlamp";
    auto file = ProgramFile::create(path).value();
    const core::TestResult wrong{"r-1", "t-1", "2026-04-01", "inspection", true, ""};
    const core::TestResult right{"r-2", "t-1", "2026-04-01", "inspection", false, ""};
    ASSERT_TRUE(file->addTestResult(wrong));
    ASSERT_TRUE(file->addTestResult(right));
    const core::StruckResult strike{"s-1", "t-1", "r-1", "wrong person", "2026-04-02T08:00:00Z"};
    EXPECT_EQ(file->addStruckResult(strike).value(), Added::New);
    EXPECT_EQ(file->addStruckResult(strike).value(), Added::AlreadyThere);
    EXPECT_EQ(file->testResults().value(), std::vector{right});
    EXPECT_EQ(file->allTestResults().value(), (std::vector{wrong, right}));
    EXPECT_EQ(file->personFile("t-1").value()->results, std::vector{right});
    EXPECT_EQ(file->struckResults().value(), std::vector{strike});
    EXPECT_FALSE(file->addStruckResult({"s-2", "t-1", "r-2", " ", "2026-04-02T08:00:00Z"})) << "no reason";
    file.reset();
    for (const char* change :
         {"UPDATE struck_result SET reason = 'x'", "DELETE FROM struck_result", "DELETE FROM test_result"})
        EXPECT_NE(rawSql(path, change), "") << change;
}

TEST(Outcomes, ComeInOnceAndNeverAgainOnceStruck) {
    Folder folder;
    auto file = ProgramFile::create(folder / "p.markerlamp").value();
    std::ofstream(folder / "people.csv") << "key,name\r\nt-1,Ada Example\r\n";
    std::ofstream(folder / "outcomes.csv")
        << "trainee,date,segment,result\r\nt-1,2026-04-01,inspection,pass\r\n";
    auto report = importPaths(*file, {folder / "outcomes.csv", folder / "people.csv"}).value();
    EXPECT_EQ(report.count(Outcome::Added), 2) << "people first, whatever the order";
    ASSERT_EQ(file->testResults()->size(), 1u);
    report = importPaths(*file, {folder / "outcomes.csv"}).value();
    EXPECT_EQ(report.items.at(0).outcome, Outcome::AlreadyThere);
    EXPECT_EQ(report.items.at(0).kind, "outcomes");
    ASSERT_TRUE(file->addStruckResult(
        {"s-1", "t-1", file->testResults()->at(0).id, "wrong person", "2026-04-02T08:00:00Z"}));
    report = importPaths(*file, {folder / "outcomes.csv"}).value();
    EXPECT_EQ(report.items.at(0).outcome, Outcome::AlreadyThere);
    EXPECT_TRUE(file->testResults()->empty());
}

TEST(Outcomes, AreRefusedWhollyWithTheirRow) {
    Folder folder;
    auto file = ProgramFile::create(folder / "p.markerlamp").value();
    ASSERT_TRUE(file->saveTrainee({"t-1", "Ada Example", "", "", "", "", {}, "", "", "", false}));
    std::ofstream(folder / "april-outcomes.csv") << "trainee,date,segment,result\r\nt-1,2026-04-01,"
                                                    "inspection,pass\r\nt-8,2026-04-01,inspection,pass\r\n";
    const auto report = importPaths(*file, {folder / "april-outcomes.csv"}).value();
    ASSERT_EQ(report.items.at(0).outcome, Outcome::Refused);
    EXPECT_EQ(report.items[0].error.problems.at(0).line, 3);
    EXPECT_TRUE(file->testResults()->empty());
    EXPECT_FALSE(file->trainee("t-8").value()) << "nobody is made from an outcome";
}

TEST(TrainingExchange, ExportAndImportGiveTheSameAgainToTheByte) {
    Folder folder;
    {
        auto file = programWithRubric(folder / "p.markerlamp");
        ASSERT_TRUE(file->addClockHours(driven("h-1", "2026-03-02")));
        auto struck = driven("h-2", "2026-03-02", "h-1");
        struck.struck = true;
        ASSERT_TRUE(file->addClockHours(struck));
        ASSERT_TRUE(file->addBookedTest(booked("b-1", "2026-04-01")));
        ASSERT_TRUE(file->addAbsence(away("a-1", "2026-03-05")));
        ASSERT_TRUE(file->addTestResult({"r-1", "t-1", "2026-04-01", "road", true, ""}));
        ASSERT_TRUE(file->addStruckResult({"s-1", "t-1", "r-1", "wrong person", "2026-04-02T08:00:00Z"}));
        ASSERT_TRUE(file->saveLicence({"t-1", "S \"1\", 2", "OH"}));
        ASSERT_TRUE(file->saveCourse(course()));
        ASSERT_TRUE(exportTo(*file, folder / "out"));
    }
    auto again = ProgramFile::create(folder / "q.markerlamp").value();
    const auto report = importPaths(*again, {folder / "out"});
    ASSERT_TRUE(report);
    EXPECT_TRUE(report->allAccepted());
    ASSERT_TRUE(exportTo(*again, folder / "out2"));
    const auto first = everything(folder / "out");
    EXPECT_EQ(first, everything(folder / "out2"));
    EXPECT_TRUE(again->testResults()->empty()) << "struck there, too";
    for (const char* name : {"tests.jsonl", "strikes.jsonl", "hours.jsonl", "bookings.jsonl",
                             "absences.jsonl", "licences.csv", "training.csv"})
        EXPECT_TRUE(first.contains(name)) << name;
    const auto offered = importPaths(*again, {folder / "out"});
    ASSERT_TRUE(offered);
    for (const auto& item : offered->items)
        EXPECT_EQ(item.outcome, Outcome::AlreadyThere) << item.file;
}

TEST(TrainingExchange, TablesTellWhatTheyChangedAndNeverALicenceNumber) {
    Folder folder;
    auto file = ProgramFile::create(folder / "p.markerlamp").value();
    ASSERT_TRUE(file->saveLicence({"t-1", "S 123", "OH"}));
    ASSERT_TRUE(file->saveCourse(course()));
    std::ofstream(folder / "licences.csv") << "key,number\r\nt-1,S 999\r\nt-2,S 777\r\n";
    std::ofstream(folder / "training.csv") << "key,road_done\r\nt-1,2026-03-25\r\n";
    const auto report = importPaths(*file, {folder / "licences.csv", folder / "training.csv"}).value();
    ASSERT_EQ(report.items.size(), 2u);
    EXPECT_EQ(report.items[0].outcome, Outcome::Changed);
    EXPECT_EQ(toText(report.items[0].changes.at(0)), "t-1: number");
    EXPECT_EQ(toText(report.items[1].changes.at(0)), "t-1: road_done (empty) -> 2026-03-25");
    EXPECT_EQ(file->licences("t-1")->at(0).state, "OH");
    EXPECT_EQ(file->courses("t-1")->at(0).rangeDone, "2026-03-20");
}

}  // namespace
}  // namespace markerlamp::db
