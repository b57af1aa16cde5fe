// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/calendar/business_days.h"

#include "core/base/csv.h"
#include "core/base/moment.h"
#include "scoring_support.h"

#include <gtest/gtest.h>

#include <map>
#include <regex>

namespace markerlamp::core {
namespace {

// Days off of federal employees as the Office of Personnel Management lists them (opm.gov, federal holidays),
// year by year; written down from memory. Without Inauguration Day, which is a day off in one area only.
const std::map<int, std::vector<std::string>> kListedDaysOff{
    {2021,
     {"2021-01-01", "2021-01-18", "2021-02-15", "2021-05-31", "2021-06-18", "2021-07-05", "2021-09-06",
      "2021-10-11", "2021-11-11", "2021-11-25", "2021-12-24"}},
    {2022,
     {"2021-12-31", "2022-01-17", "2022-02-21", "2022-05-30", "2022-06-20", "2022-07-04", "2022-09-05",
      "2022-10-10", "2022-11-11", "2022-11-24", "2022-12-26"}},
    {2023,
     {"2023-01-02", "2023-01-16", "2023-02-20", "2023-05-29", "2023-06-19", "2023-07-04", "2023-09-04",
      "2023-10-09", "2023-11-10", "2023-11-23", "2023-12-25"}},
    {2024,
     {"2024-01-01", "2024-01-15", "2024-02-19", "2024-05-27", "2024-06-19", "2024-07-04", "2024-09-02",
      "2024-10-14", "2024-11-11", "2024-11-28", "2024-12-25"}},
    {2025,
     {"2025-01-01", "2025-01-20", "2025-02-17", "2025-05-26", "2025-06-19", "2025-07-04", "2025-09-01",
      "2025-10-13", "2025-11-11", "2025-11-27", "2025-12-25"}},
    {2026,
     {"2026-01-01", "2026-01-19", "2026-02-16", "2026-05-25", "2026-06-19", "2026-07-03", "2026-09-07",
      "2026-10-12", "2026-11-11", "2026-11-26", "2026-12-25"}},
    {2027,
     {"2027-01-01", "2027-01-18", "2027-02-15", "2027-05-31", "2027-06-18", "2027-07-05", "2027-09-06",
      "2027-10-11", "2027-11-11", "2027-11-25", "2027-12-24"}},
    {2028,
     {"2027-12-31", "2028-01-17", "2028-02-21", "2028-05-29", "2028-06-19", "2028-07-04", "2028-09-04",
      "2028-10-09", "2028-11-10", "2028-11-23", "2028-12-25"}},
    {2029,
     {"2029-01-01", "2029-01-15", "2029-02-19", "2029-05-28", "2029-06-19", "2029-07-04", "2029-09-03",
      "2029-10-08", "2029-11-12", "2029-11-22", "2029-12-25"}},
    {2030,
     {"2030-01-01", "2030-01-21", "2030-02-18", "2030-05-27", "2030-06-19", "2030-07-04", "2030-09-02",
      "2030-10-14", "2030-11-11", "2030-11-28", "2030-12-25"}},
};

/// Monday 0 to Sunday 6; 1970-01-01 was a Thursday.
int weekdayOf(const std::string& date) {
    return static_cast<int>(((dayCountOf(date).value() + 3) % 7 + 7) % 7);
}

TEST(FederalHolidays, AreThoseThatWereListedYearByYear) {
    for (const auto& [year, listed] : kListedDaysOff) {
        std::vector<std::string> observed;
        for (const Holiday& holiday : federalHolidays(year)) observed.push_back(holiday.observed);
        EXPECT_EQ(observed, listed) << year;
    }
}

TEST(FederalHolidays, AreElevenOfWhichNoneIsObservedOnAWeekend) {
    for (int year = 2021; year <= 2120; ++year) {
        const std::vector<Holiday> holidays = federalHolidays(year);
        ASSERT_EQ(holidays.size(), 11u) << "5 U.S.C. 6103(a), HOL-01";
        for (std::size_t i = 0; i < holidays.size(); ++i) {
            const Holiday& one = holidays[i];
            EXPECT_LT(weekdayOf(one.observed), 5) << one.observed;
            const auto moved = dayCountOf(one.observed).value() - dayCountOf(one.date).value();
            const int name = weekdayOf(one.date);
            EXPECT_EQ(moved, name == 5 ? -1 : name == 6 ? 1 : 0) << "6103(b) and Executive Order 11582";
            if (i > 0) {
                EXPECT_LT(holidays[i - 1].date, one.date);
            }
        }
    }
    EXPECT_EQ(federalHolidays(2020).size(), 10u) << "19 June came in 2021";
}

TEST(FederalHolidays, NextNewYearsDayCanBeOffInTheOldYear) {
    const BusinessCalendar calendar;
    EXPECT_FALSE(calendar.isBusinessDay("2027-12-31"));
    EXPECT_TRUE(calendar.isBusinessDay("2026-12-31"));
    EXPECT_FALSE(calendar.isBusinessDay("2023-01-02")) << "1 January 2023 was a Sunday";
}

TEST(BusinessDays, FollowTheWorkedDates) {
    // Rows HOL-02 and HOL-10 of check-values.csv: 5 U.S.C. 6103; 49 CFR 380.717 with weekends and observed
    // holidays left out (our reading).
    const auto table = readCsv(testing::readTestData("check-values.csv")).value();
    int seen = 0;
    const BusinessCalendar calendar;
    const std::regex completed("last day to send, completed (\\S+)"), of("observed date of ((\\d+)-\\S+)");
    for (const auto& row : table.rows) {
        std::smatch match;
        if (std::regex_match(row[2], match, completed)) {
            ++seen;
            EXPECT_EQ(calendar.businessDaysAfter(match[1].str(), 2), row[4]) << row[0];
        } else if (std::regex_match(row[2], match, of)) {
            ++seen;
            for (const Holiday& holiday : federalHolidays(std::stoi(match[2])))
                if (holiday.date == match[1]) {
                    EXPECT_EQ(holiday.observed, row[4]) << row[0];
                }
        }
    }
    EXPECT_EQ(seen, 15);
}

TEST(BusinessDays, OfAProgramMayLeaveHolidaysInAndFurtherDaysOut) {
    EXPECT_EQ(BusinessCalendar(false).businessDaysAfter("2026-07-01", 2), "2026-07-03");
    EXPECT_EQ(BusinessCalendar(true, {"2026-07-02"}).businessDaysAfter("2026-07-01", 2), "2026-07-07");
    EXPECT_EQ(BusinessCalendar().businessDaysAfter("2026-08-10", 1), "2026-08-11");
    EXPECT_EQ(BusinessCalendar().businessDaysAfter("", 2), "");
    EXPECT_EQ(BusinessCalendar().businessDaysAfter("2026-02-30", 2), "");
    EXPECT_EQ(BusinessCalendar().businessDaysAfter("2026-08-10", 5000), "") << "the search has an end";
}

}  // namespace
}  // namespace markerlamp::core
