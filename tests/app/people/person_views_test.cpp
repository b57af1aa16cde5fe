// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/people/person_views.h"
#include "app/trainees/trainees_page.h"
#include "db/program_file.h"

#include <gtest/gtest.h>

namespace {

using namespace markerlamp;
using namespace markerlamp::app;

core::PersonFile person() {
    core::PersonFile file;
    file.trainee.key = file.course.trainee = "t-1";
    file.trainee.name = "Ada Example";
    file.trainee.permitExpires = "2026-12-10";
    file.bookings = {{"b-1",
                      "t-1",
                      "2026-12-05",
                      "08:30",
                      {"inspection", "road"},
                      "gate 2",
                      core::BookingState::Booked,
                      "",
                      "",
                      ""}};
    file.results = {{"r-1", "t-1", "2026-11-01", "inspection", false, "doors"},
                    {"r-2", "t-1", "2026-11-09", "inspection", true, ""}};
    file.hours = {
        {"h-1", "t-1", "2026-11-02", core::HoursKind::Range, 90, "i-1", "", "", "", false},
        {"h-2", "t-1", "2026-11-03", core::HoursKind::PublicRoad, 75, "i-2", "rain", "", "", false}};
    return file;
}

const QDate kToday(2026, 11, 28);

TEST(PersonViews, SayWhatRunsOutInTheOrderOfItsDates) {
    core::PersonFile file = person();
    EXPECT_EQ(aheadTexts(file, kToday, {}),
              (QStringList{QStringLiteral("test on 5 Dec 2026 (in 7 days): vehicle inspection, road test"),
                           QStringLiteral("permit ends 10 Dec 2026 (12 days)")}));
    file.bookings[0].date = "2026-11-20";
    EXPECT_TRUE(aheadTexts(file, kToday, {})
                    .front()
                    .startsWith(QStringLiteral("test of 20 Nov 2026: put the result")));
    file.course.rangeDone = file.course.roadDone = "2026-11-25";
    EXPECT_TRUE(aheadTexts(file, kToday, {})
                    .contains(QStringLiteral("report of behind the wheel due 30 Nov 2026 (in 2 days)")));
    core::PeopleSettings settings;
    settings.permitAheadDays = 5;
    EXPECT_FALSE(
        aheadTexts(file, kToday, settings).join(QLatin1Char(' ')).contains(QStringLiteral("permit")));
}

TEST(PersonViews, RowsAreNewestFirstWithNamesAndTries) {
    const Names names{{"i-1", QStringLiteral("Kim Teacher")}};
    const auto hours = hoursRows(person(), names);
    ASSERT_EQ(hours.size(), 2u);
    EXPECT_EQ(hours[0].id, QStringLiteral("h-2"));
    EXPECT_EQ(hours[0].cells[2].text, QStringLiteral("1:15"));
    EXPECT_EQ(hours[0].cells[3].text, QStringLiteral("i-2")) << "the key where there is no name";
    EXPECT_EQ(hours[1].cells[3].text, QStringLiteral("Kim Teacher"));
    const auto results = officialRows(person());
    EXPECT_EQ(results[0].cells[2].text, QStringLiteral("2")) << "the retest";
    EXPECT_EQ(results[0].cells[3].text, QStringLiteral("passed"));
    EXPECT_EQ(results[1].cells[3].text, QStringLiteral("not passed"));
    EXPECT_EQ(hoursSummary(core::sumOf(person().hours)),
              QStringLiteral("2:45 behind the wheel (range 1:30, public road 1:15)"));
    EXPECT_EQ(
        segmentsSummary(person().results),
        QStringLiteral("vehicle inspection passed 9 Nov 2026 at try 2; basic control skills not yet taken; "
                       "road test not yet taken"));
}

TEST(PersonViews, TheCheckListPutsWhatIsMissingFirst) {
    const auto rows = checkRows(core::trainingRecord(person(), {}));
    EXPECT_EQ(rows.front().cells[1].text, QStringLiteral("missing"));
    EXPECT_EQ(rows.back().cells[1].text, QStringLiteral("on file"));
}

TEST(TraineeRows, SayWhatIsDueAndLeaveOutWhoWasErased) {
    core::PersonFile erased;
    erased.trainee.key = erased.trainee.name = "erased-12ab";
    core::PersonFile away = person();
    away.trainee.key = "t-2";
    away.absences = {{"a", "t-2", "2026-11-01", "", "", "", "", false}};
    const auto rows = traineeRows({person(), erased, away}, {}, kToday, {});
    ASSERT_EQ(rows.size(), 2u);
    EXPECT_TRUE(rows[0].cells.back().text.contains(QStringLiteral("test on 5 Dec 2026")));
    EXPECT_TRUE(rows[0].cells[5].bold) << "the permit ends within 30 days";
    EXPECT_EQ(rows[1].cells.back().text, QStringLiteral("away"));
}

}  // namespace
