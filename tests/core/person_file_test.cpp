// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/people/person_file.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace markerlamp::core {
namespace {

using ::testing::ElementsAre;

PersonFile person() {
    PersonFile file;
    file.trainee.key = file.licence.trainee = file.course.trainee = "t-1";
    file.trainee.name = "Ada Example";
    return file;
}

/// "permit 2026-05-01 in 3", one for each date.
std::vector<std::string> told(const PersonFile& file, const std::string& today,
                              const PeopleSettings& settings = {}) {
    std::vector<std::string> list;
    for (const DateAhead& one : datesAhead(file, today, settings))
        list.push_back(std::string(toWord(one.kind)) + " " + one.date + " in " + std::to_string(one.days));
    return list;
}

TestResult result(const std::string& segment, const std::string& date, bool passed,
                  const std::string& id = "r") {
    return {id, "t-1", date, segment, passed, ""};
}

TEST(DatesAhead, ShowWhatRunsOutFromTheThresholdOn) {
    PersonFile file = person();
    file.trainee.permitExpires = "2026-05-31";
    file.trainee.medicalExpires = "2026-06-01";
    EXPECT_TRUE(told(file, "2026-04-30").empty()) << "31 days before";
    EXPECT_THAT(told(file, "2026-05-01"), ElementsAre("permit 2026-05-31 in 30"));
    EXPECT_THAT(told(file, "2026-05-31"), ElementsAre("permit 2026-05-31 in 0", "medical 2026-06-01 in 1"));
    EXPECT_THAT(told(file, "2026-06-02"), ElementsAre("permit 2026-05-31 in -2", "medical 2026-06-01 in -1"));
    PeopleSettings settings;
    settings.permitAheadDays = 0;
    settings.medicalAheadDays = 365;
    EXPECT_THAT(told(file, "2026-05-01", settings), ElementsAre("medical 2026-06-01 in 31"));
}

TEST(DatesAhead, APermitWithoutALastDayRunsAYearFromItsIssue) {
    // 49 CFR 383.25(c): no more than one year from initial issue without taking the knowledge tests again.
    PersonFile file = person();
    file.trainee.permitIssued = "2024-02-29";
    EXPECT_THAT(told(file, "2025-02-01"), ElementsAre("permit 2025-02-28 in 27"));
    EXPECT_TRUE(datesAhead(file, "2025-02-01", {}).front().assumed);
    PeopleSettings settings;
    settings.permitMonths = 6;
    EXPECT_THAT(told(file, "2024-08-29", settings), ElementsAre("permit 2024-08-29 in 0"));
}

TEST(DatesAhead, TheoryAgesOnlyWhereTheProgramSaysSo) {
    PersonFile file = person();
    file.trainee.theoryPercent = 90;
    file.trainee.theoryDate = "2025-06-10";
    EXPECT_THAT(told(file, "2026-06-01"), ElementsAre("theory 2026-06-10 in 9"));
    PeopleSettings settings;
    settings.theoryMonths = 0;
    EXPECT_TRUE(told(file, "2036-06-01", settings).empty());
}

TEST(DatesAhead, ABookedTestStaysUntilItIsDoneOrCancelled) {
    PersonFile file = person();
    file.bookings = {{"b", "t-1", "2026-05-20", "", {"inspection"}, "", BookingState::Booked, "", "", ""}};
    EXPECT_TRUE(told(file, "2026-05-05").empty()) << "15 days before";
    EXPECT_THAT(told(file, "2026-05-06"), ElementsAre("test 2026-05-20 in 14"));
    EXPECT_THAT(told(file, "2026-05-25"), ElementsAre("test 2026-05-20 in -5"));
    file.bookings[0].state = BookingState::Done;
    EXPECT_TRUE(told(file, "2026-05-25").empty());
}

TEST(DatesAhead, NothingIsAskedOfWhoIsAwayAndNoPapersOfWhoHasPassedEverything) {
    PersonFile file = person();
    file.trainee.permitExpires = "2026-05-31";
    file.absences = {{"a", "t-1", "2026-05-01", "2026-05-29", "", "", "", false}};
    EXPECT_TRUE(told(file, "2026-05-28").empty());
    EXPECT_EQ(told(file, "2026-05-29").size(), 1u);
    file.results = {result("inspection", "2026-04-01", true), result("basic-control", "2026-04-01", true),
                    result("road", "2026-04-01", true)};
    EXPECT_TRUE(told(file, "2026-05-29").empty());
}

TEST(ReportsDue, FallOnTheSecondBusinessDayAfterCompletion) {
    PersonFile file = person();
    file.trainee.theoryPercent = 80;
    file.trainee.theoryDate = "2026-07-01";
    file.course.rangeDone = "2026-11-25";
    file.course.roadDone = "2026-11-20";
    // 49 CFR 380.717 with 5 U.S.C. 6103: 4 July 2026 is observed on Friday 3; Thanksgiving is 26 November
    // 2026.
    EXPECT_THAT(reportsDue(file, {}),
                ElementsAre(ReportDue{ReportDue::Part::Theory, "2026-07-01", "2026-07-06", ""},
                            ReportDue{ReportDue::Part::Wheel, "2026-11-25", "2026-11-30", ""}));
    EXPECT_THAT(told(file, "2026-11-26"),
                ElementsAre("theory-report 2026-07-06 in -143", "wheel-report 2026-11-30 in 4"));
    file.course.theoryReported = "2026-07-02";
    file.course.wheelReported = "2026-11-27";
    EXPECT_TRUE(told(file, "2026-11-29").empty());
}

TEST(ReportsDue, NeedEveryPartAndOnlyWhatTheProgramTeaches) {
    PersonFile file = person();
    file.trainee.theoryPercent = 79.5;
    file.trainee.theoryDate = "2026-07-01";
    file.course.rangeDone = "2026-07-02";
    for (const ReportDue& report : reportsDue(file, {})) {
        EXPECT_EQ(report.completed, "") << "under 80 % (49 CFR 380.715(a)); no public road";
        EXPECT_EQ(report.due, "");
    }
    PeopleSettings lenient;
    lenient.theoryPercent = 75;
    EXPECT_EQ(reportsDue(file, lenient).front().completed, "2026-07-01");
    file.course.covers = Covers::Wheel;
    ASSERT_EQ(reportsDue(file, {}).size(), 1u);
    EXPECT_EQ(reportsDue(file, {}).front().part, ReportDue::Part::Wheel);
    file.course = {};
    file.trainee.theoryPercent = 100;
    EXPECT_TRUE(told(file, "2026-08-01").empty()) << "asked for once something of the course is on file";
}

TEST(Segments, TheLastResultCountsAndTriesAreCounted) {
    const auto states = segmentStates(
        {result("inspection", "2026-04-09", true, "b"), result("inspection", "2026-04-01", false, "a"),
         result("road", "2026-04-10", true), result("yard", "2026-04-11", false)});
    EXPECT_THAT(states, ElementsAre(SegmentState{"inspection", 2, true, "2026-04-09"},
                                    SegmentState{"basic-control", 0, false, ""},
                                    SegmentState{"road", 1, true, "2026-04-10"},
                                    SegmentState{"yard", 1, false, "2026-04-11"}));
    // Taken again after the permit was renewed (49 CFR 383.133(c)(6)): a pass of before no longer counts.
    EXPECT_FALSE(
        segmentStates({result("road", "2026-04-01", true), result("road", "2026-06-01", false)})[2].passed);
    EXPECT_TRUE(
        segmentStates({result("road", "2026-04-01", true, "a"), result("road", "2026-04-01", false, "b")})[2]
            .passed)
        << "on one day the retest is the later";
    EXPECT_FALSE(passedAll({}));
}

TEST(PersonFiles, CarryWhatStandsByTrainee) {
    PeopleOnFile all;
    all.trainees = {person().trainee, {}};
    all.trainees[1].key = "t-2";
    all.hours = {
        {"b", "t-1", "2026-03-02", HoursKind::Range, 60, "i-1", "", "2026-03-02T16:00:00Z", "", false},
        {"a", "t-1", "2026-03-02", HoursKind::Range, 50, "i-1", "", "2026-03-03T16:00:00Z", "b", false},
        {"c", "t-1", "2026-03-01", HoursKind::Other, 10, "i-1", "", "2026-03-03T16:00:00Z", "", false}};
    all.licences = {{"t-2", "X 1", "OH"}};
    const auto files = personFiles(all);
    ASSERT_EQ(files.size(), 2u);
    ASSERT_EQ(files[0].hours.size(), 2u);
    EXPECT_EQ(files[0].hours[0].id, "c");
    EXPECT_EQ(files[0].hours[1].id, "a");
    EXPECT_TRUE(files[0].licence.empty());
    EXPECT_EQ(files[1].licence.number, "X 1");
    EXPECT_EQ(files[1].course.trainee, "t-2");
}

TEST(Months, EndAtTheLastDayOfAShorterMonth) {
    EXPECT_EQ(monthsAfter("2026-01-31", 1), "2026-02-28");
    EXPECT_EQ(monthsAfter("2024-02-29", 12), "2025-02-28");
    EXPECT_EQ(monthsAfter("2026-11-30", 3), "2027-02-28");
    EXPECT_EQ(monthsAfter("2026-03-05", 12), "2027-03-05");
    EXPECT_EQ(monthsAfter("", 12), "");
}

}  // namespace
}  // namespace markerlamp::core
