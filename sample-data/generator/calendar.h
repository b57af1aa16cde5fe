#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The days of the demo program. They are written down as if its last day were 13 March 2026 and follow the
// last day that is asked for.

#include <chrono>
#include <string>
#include <string_view>

namespace markerlamp::demo {

/// Monday to Friday, counted on; a Saturday and a Sunday count as the Friday before. The invented district
/// has no holidays.
[[nodiscard]] int workdayNumber(std::chrono::sys_days day);
[[nodiscard]] std::chrono::sys_days dayOfWorkday(int number);

/// YYYY-MM-DD to a day; what is no day becomes the last day that the program is written for.
[[nodiscard]] std::chrono::sys_days dayFrom(std::string_view iso);
[[nodiscard]] std::string isoDay(std::chrono::sys_days day);

class Calendar {
public:
    /// @param lastDay YYYY-MM-DD; on a weekend the Friday before is taken
    explicit Calendar(std::string_view lastDay);

    [[nodiscard]] std::chrono::sys_days lastDay() const { return m_lastDay; }
    /// So many working days before the last day.
    [[nodiscard]] std::chrono::sys_days workday(int before) const;

    // Each takes a day as it is written down and gives the one that it becomes; empty stays empty.
    /// What people did on a working day keeps its number of working days to the last day.
    [[nodiscard]] std::string happened(std::string_view written) const;
    /// What runs out keeps its number of days to the last day, whatever the weekday.
    [[nodiscard]] std::string runsOut(std::string_view written) const;
    /// What an office gave out for a time that runs out: the same number of days, but never on a weekend.
    [[nodiscard]] std::string givenOut(std::string_view written) const;
    /// "January": the month that the day falls in.
    [[nodiscard]] std::string month(std::string_view written) const;

private:
    [[nodiscard]] std::chrono::sys_days moved(std::string_view written) const;

    std::chrono::sys_days m_lastDay;
};

}  // namespace markerlamp::demo
