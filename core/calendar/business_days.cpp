// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/calendar/business_days.h"

#include "core/base/moment.h"

#include <algorithm>
#include <chrono>

namespace markerlamp::core {

namespace {

using namespace std::chrono;

constexpr int kMostDays = 1000;  // of looking for a business day

sys_days dayOf(std::int64_t count) {
    return sys_days(days(count));
}

std::string textOf(sys_days day) {
    return dateOfDayCount(day.time_since_epoch().count());
}

sys_days inLieu(sys_days day) {
    const weekday name(day);
    return name == Saturday ? day - days(1) : name == Sunday ? day + days(1) : day;
}

bool isFederalHoliday(sys_days day) {
    const int year = static_cast<int>(year_month_day(day).year());
    // New Year's Day of the next year may be observed on 31 December.
    for (const int of : {year, year + 1}) {
        const std::vector<Holiday> holidays = federalHolidays(of);
        if (std::ranges::find(holidays, textOf(day), &Holiday::observed) != holidays.end()) return true;
    }
    return false;
}

}  // namespace

std::vector<Holiday> federalHolidays(int number) {
    const year y{number};
    std::vector<Holiday> list;
    const auto add = [&list](HolidayName name, sys_days day) {
        list.push_back({name, textOf(day), textOf(inLieu(day))});
    };
    add(HolidayName::NewYear, y / January / 1);
    add(HolidayName::MartinLutherKing, y / January / Monday[3]);
    add(HolidayName::Washington, y / February / Monday[3]);
    add(HolidayName::Memorial, y / May / Monday[last]);
    if (number >= 2021) add(HolidayName::Juneteenth, y / June / 19);  // Public Law 117-17, from memory
    add(HolidayName::Independence, y / July / 4);
    add(HolidayName::Labor, y / September / Monday[1]);
    add(HolidayName::Columbus, y / October / Monday[2]);
    add(HolidayName::Veterans, y / November / 11);
    add(HolidayName::Thanksgiving, y / November / Thursday[4]);
    add(HolidayName::Christmas, y / December / 25);
    return list;
}

BusinessCalendar::BusinessCalendar(bool federal, std::vector<std::string> daysOff)
    : m_federal(federal), m_daysOff(daysOff.begin(), daysOff.end()) {}

bool BusinessCalendar::isBusinessDay(std::string_view date) const {
    const auto count = dayCountOf(date);
    if (!count) return false;
    const weekday name(dayOf(*count));
    if (name == Saturday || name == Sunday || m_daysOff.contains(date)) return false;
    return !m_federal || !isFederalHoliday(dayOf(*count));
}

std::string BusinessCalendar::businessDaysAfter(std::string_view date, int days) const {
    const auto count = dayCountOf(date);
    if (!count) return {};
    int found = 0;
    for (int ahead = 1; ahead <= kMostDays; ++ahead) {
        std::string day = dateOfDayCount(*count + ahead);
        if (isBusinessDay(day) && ++found >= days) return day;
    }
    return {};
}

}  // namespace markerlamp::core
