// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/people/training.h"

#include "core/base/csv.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace markerlamp::core {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;

ClockHours hours(const std::string& id, int minutes, const std::string& at = "2026-03-02T16:00:00-05:00",
                 const std::string& replaces = {}) {
    return {id, "t-1", "2026-03-02", HoursKind::Range, minutes, "i-1", {}, at, replaces, false};
}

std::vector<std::string> idsOf(const std::vector<ClockHours>& list) {
    std::vector<std::string> ids;
    for (const ClockHours& one : list) ids.push_back(one.id);
    return ids;
}

template <class Record>
Problem onlyProblem(const Result<std::vector<Record>>& read) {
    if (read) {
        ADD_FAILURE() << "accepted";
        return {};
    }
    EXPECT_EQ(read.error().problems.size(), 1u);
    return read.error().problems.front();
}

TEST(StandingRecords, ACorrectionTakesThePlaceOfWhatItNames) {
    const auto first = hours("a", 60), other = hours("x", 30);
    const auto second = hours("b", 90, "2026-03-03T08:00:00-05:00", "a");
    const auto third = hours("c", 75, "2026-03-04T08:00:00-05:00", "b");
    EXPECT_THAT(idsOf(standing(std::vector{third, first, other, second})), ElementsAre("c", "x"));
    EXPECT_THAT(idsOf(standing(std::vector{second, third})), ElementsAre("c"))
        << "the first may come into the file later";
}

TEST(StandingRecords, OfTwoCorrectionsOfOneTheLaterStandsWithAllThatFollowsTheOther) {
    const auto first = hours("a", 60);
    const auto here = hours("b", 90, "2026-03-03T08:00:00-05:00", "a");
    const auto there = hours("c", 75, "2026-03-03T08:00:00-06:00", "a");  // an hour later
    const auto again = hours("d", 80, "2026-03-03T08:30:00-05:00", "b");
    EXPECT_THAT(idsOf(standing(std::vector{first, here, there, again})), ElementsAre("c"));
}

TEST(StandingRecords, ACorrectionOfTheSameSecondStands) {
    const std::string at = "2026-03-02T16:00:00-05:00";
    EXPECT_THAT(
        idsOf(standing(std::vector{hours("z", 60, at), hours("a", 90, at, "z"), hours("b", 91, at, "a")})),
        ElementsAre("b"));
}

TEST(StandingRecords, AStruckOneIsOutAndARingOfStrangersHasAnEnd) {
    auto struck = hours("b", 60, "2026-03-03T08:00:00-05:00", "a");
    struck.struck = true;
    EXPECT_TRUE(standing(std::vector{hours("a", 60), struck}).empty());
    const auto one = hours("a", 60, "2026-03-02T16:00:00-05:00", "b");
    const auto two = hours("b", 60, "2026-03-02T16:00:00-05:00", "a");
    EXPECT_LE(standing(std::vector{one, two}).size(), 2u);
    auto foreign = hours("z", 10, "2026-03-09T16:00:00-05:00", "a");
    foreign.trainee = "t-2";
    EXPECT_THAT(idsOf(standing(std::vector{hours("a", 60), foreign})), ElementsAre("a", "z"))
        << "a record cannot take the place of another trainee's";
}

TEST(ClockHoursSum, KeepsKindsApartAndCountsRangeAndRoadAsBehindTheWheel) {
    auto road = hours("b", 45), other = hours("c", 20);
    road.kind = HoursKind::PublicRoad;
    other.kind = HoursKind::Other;
    const HoursSum sum = sumOf({hours("a", 90), road, other, hours("d", 10)});
    EXPECT_EQ(sum, (HoursSum{100, 45, 20}));
    EXPECT_EQ(sum.behindTheWheel(), 145);
}

TEST(HoursText, GoesThereAndBack) {
    EXPECT_EQ(hoursText(750), "12:30");
    EXPECT_EQ(hoursText(5), "0:05");
    EXPECT_EQ(minutesOf("12:30"), 750);
    EXPECT_EQ(minutesOf("1.5"), 90);
    EXPECT_EQ(minutesOf("2"), 120);
    for (const char* wrong : {"", "1:60", "1:5", "-1", "1:-5", "x", "1,5", "1:30:00", " 2", "1.5:30"})
        EXPECT_EQ(minutesOf(wrong), std::nullopt) << wrong;
    for (int minutes = 1; minutes <= 1440; ++minutes) EXPECT_EQ(minutesOf(hoursText(minutes)), minutes);
}

TEST(Absences, CoverTheDaysFromLeavingUntilReturn) {
    const std::vector<Absence> away{{"a", "t-1", "2026-03-02", "2026-03-09", "", "", "", false},
                                    {"b", "t-1", "2026-05-01", "", "", "", "", false}};
    EXPECT_FALSE(isAway(away, "2026-03-01"));
    EXPECT_TRUE(isAway(away, "2026-03-02"));
    EXPECT_TRUE(isAway(away, "2026-03-08"));
    EXPECT_FALSE(isAway(away, "2026-03-09")) << "back on that day";
    EXPECT_TRUE(isAway(away, "2027-01-01"));
}

TEST(TrainingDocuments, ReadBackAsTheyWereWritten) {
    auto struck = hours("b", 1440, "2026-03-03T08:00:00-05:00", "a");
    struck.kind = HoursKind::Other;
    struck.note = "line one\nline \"two\"";
    struck.struck = true;
    const std::vector<ClockHours> log{hours("a", 1), struck};
    EXPECT_EQ(readClockHours(writeClockHours(log)).value(), log);
    const std::vector<BookedTest> tests{{"a",
                                         "t-1",
                                         "2026-04-01",
                                         "08:30",
                                         {"inspection", "road"},
                                         "yard, gate 2",
                                         BookingState::Done,
                                         "n",
                                         "2026-03-03T08:00:00Z",
                                         "z"},
                                        {"b",
                                         "t-1",
                                         "2026-04-02",
                                         "",
                                         {"inspection"},
                                         "",
                                         BookingState::Cancelled,
                                         "",
                                         "2026-03-03T08:00:00Z",
                                         ""}};
    EXPECT_EQ(readBookedTests(writeBookedTests(tests)).value(), tests);
    const std::vector<Absence> away{
        {"a", "t-1", "2026-03-02", "2026-03-02", "other work", "2026-03-03T08:00:00Z", "", false},
        {"b", "t-1", "2026-03-05", "", "", "2026-03-05T08:00:00Z", "a", true}};
    EXPECT_EQ(readAbsences(writeAbsences(away)).value(), away);
}

TEST(TrainingDocuments, RefuseNonsenseByLineAndKey) {
    const auto line = [](const std::string& format, const std::string& object) {
        return "{\"format\":\"markerlamp." + format + "/1\"}\n" + object + "\n";
    };
    const std::string good =
        R"("id":"a","trainee":"t-1","at":"2026-03-03T08:00:00Z","instructor":"i-1","date":"2026-03-02")";
    Problem problem =
        onlyProblem(readClockHours(line("hours", "{" + good + R"(,"kind":"yard","minutes":5})"), "h.jsonl"));
    EXPECT_EQ(problem.line, 2);
    EXPECT_EQ(problem.path, "kind");
    EXPECT_THAT(problem.remedy, HasSubstr("public-road"));
    problem = onlyProblem(readClockHours(line("hours", "{" + good + R"(,"kind":"range","minutes":1441})")));
    EXPECT_EQ(problem.path, "minutes");
    problem = onlyProblem(readClockHours(line("hours", "{" + good + R"(,"kind":"range","minutes":0})")));
    EXPECT_EQ(problem.path, "minutes");
    problem = onlyProblem(
        readClockHours(line("hours", "{" + good + R"(,"kind":"range","minutes":9,"replaces":"a"})")));
    EXPECT_EQ(problem.path, "replaces");
    const std::string test = R"("id":"a","trainee":"t-1","at":"2026-03-03T08:00:00Z","date":"2026-03-02")";
    problem =
        onlyProblem(readBookedTests(line("bookings", "{" + test + R"(,"segments":[],"state":"booked"})")));
    EXPECT_EQ(problem.path, "segments");
    problem = onlyProblem(readBookedTests(
        line("bookings", "{" + test + R"(,"segments":["road"],"state":"booked","time":"8.30"})")));
    EXPECT_EQ(problem.path, "time");
    problem = onlyProblem(
        readBookedTests(line("bookings", "{" + test + R"(,"segments":["road"],"state":"maybe"})")));
    EXPECT_EQ(problem.path, "state");
    problem = onlyProblem(readAbsences(line(
        "absences",
        R"({"id":"a","trainee":"t-1","at":"2026-03-03T08:00:00Z","left":"2026-03-02","returned":"2026-03-01"})")));
    EXPECT_EQ(problem.path, "returned");
    problem = onlyProblem(readAbsences(
        line("absences",
             R"({"id":"a","trainee":"t-1","at":"2026-03-03T08:00:00Z","left":"2026-03-02","why":"x"})")));
    EXPECT_EQ(problem.path, "why");
}

TEST(TrainingTables, ReadBackAndKeepWhatAColumnDoesNotSay) {
    const std::vector<Licence> licences{{"t-1", "S 123-456", "OH"}, {"t-2", "", "KY"}};
    EXPECT_EQ(readLicencesCsv(writeLicencesCsv(licences)).value(), licences);
    Course course;
    course.trainee = "t-1";
    course.covers = Covers::Wheel;
    course.licenceClass = "C";
    course.endorsements = "P S";
    course.theoryProvider = "Invented college, evening school";
    course.theoryProviderNumber = "00-11";
    course.rangeDone = "2026-03-01";
    course.roadDone = "2026-03-02";
    course.proficientOn = "2026-03-03";
    course.proficientBy = "i-1";
    course.permitSeen = "2026-02-01";
    course.selfCertified = "2026-02-02";
    course.theoryReported = "2026-02-03";
    course.wheelReported = "2026-03-04";
    EXPECT_EQ(readTrainingCsv(writeTrainingCsv({course})).value(), std::vector{course});
    Course changed = course;
    changed.roadDone = "2026-03-09";
    EXPECT_EQ(readTrainingCsv("key,road_done\r\nt-1,2026-03-09\r\n", {}, {course}).value(),
              std::vector{changed});
    EXPECT_THAT(changesBetween(course, changed),
                ElementsAre(ColumnChange{"road_done", true, "2026-03-02", "2026-03-09"}));
    EXPECT_THAT(changesBetween(licences[0], Licence{"t-1", "T 1", "OH"}),
                ElementsAre(ColumnChange{"number", false, "", ""}))
        << "a license number is never told";
}

TEST(TrainingTables, AreRefusedByRowAndColumn) {
    Problem problem = onlyProblem(readTrainingCsv("key,road_done\r\nt-1,soon\r\n", "training.csv"));
    EXPECT_EQ(problem.line, 2);
    EXPECT_EQ(problem.path, "road_done");
    problem = onlyProblem(readTrainingCsv("key,covers\r\nt-1,all\r\n"));
    EXPECT_EQ(problem.path, "covers");
    problem = onlyProblem(readTrainingCsv("key,raod_done\r\nt-1,\r\n"));
    EXPECT_THAT(problem.remedy, HasSubstr("road_done"));
    problem = onlyProblem(readLicencesCsv("key,photo\r\nt-1,x\r\n"));
    EXPECT_EQ(problem.id, "photo");
}

}  // namespace
}  // namespace markerlamp::core
