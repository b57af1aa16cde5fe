#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Federal holidays and business days. A business day is one that is neither Saturday nor Sunday nor a day
// off; 49 CFR 380.717 counts in them and does not say what they are, so leaving holidays out is our reading.

#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace markerlamp::core {

enum class HolidayName {
    NewYear,
    MartinLutherKing,
    Washington,
    Memorial,
    Juneteenth,
    Independence,
    Labor,
    Columbus,
    Veterans,
    Thanksgiving,
    Christmas,
};

struct Holiday {
    HolidayName name = HolidayName::NewYear;
    std::string date;      ///< ISO 8601, as the law names the day
    std::string observed;  ///< the day that is off in its place: Friday for a Saturday, Monday for a Sunday

    bool operator==(const Holiday&) const = default;
};

/// The holidays of 5 U.S.C. 6103(a) of a year by date, with the days off in lieu (6103(b) for Saturdays,
/// Executive Order 11582 for Sundays). New Year's Day may be observed in the year before. As the law stands
/// now: 19 June is left out before 2021, and years before 1986 are not what was then observed. Inauguration
/// Day is a holiday of the Washington area only and not here.
[[nodiscard]] std::vector<Holiday> federalHolidays(int year);

class BusinessCalendar {
public:
    /// @param daysOff further days off of the program, ISO 8601
    explicit BusinessCalendar(bool federal = true, std::vector<std::string> daysOff = {});

    [[nodiscard]] bool isBusinessDay(std::string_view date) const;
    /// The last day of "within `days` business days after" a day: the day after is the first that can count.
    /// Empty for what is no date, or when no day is found within a thousand.
    [[nodiscard]] std::string businessDaysAfter(std::string_view date, int days) const;

private:
    bool m_federal;
    std::set<std::string, std::less<>> m_daysOff;
};

}  // namespace markerlamp::core
