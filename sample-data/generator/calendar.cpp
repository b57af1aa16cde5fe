// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "demo/generator/calendar.h"

#include "core/base/moment.h"
#include "demo/generator/demo_program.h"

#include <algorithm>
#include <array>

namespace markerlamp::demo {

namespace {

using std::chrono::days;
using std::chrono::sys_days;

constexpr int kDaysInWeek = 7;
constexpr int kWorkDays = 5;
constexpr sys_days kSomeMonday{std::chrono::year(1900) / std::chrono::January / 1};
constexpr sys_days kWrittenLastDay{std::chrono::year(2026) / std::chrono::March / 13};

}  // namespace

int workdayNumber(sys_days day) {
    const int since = static_cast<int>((day - kSomeMonday).count());
    const int week = (since >= 0 ? since : since - kDaysInWeek + 1) / kDaysInWeek;
    return week * kWorkDays + std::min(since - week * kDaysInWeek, kWorkDays - 1);
}

sys_days dayOfWorkday(int number) {
    const int week = (number >= 0 ? number : number - kWorkDays + 1) / kWorkDays;
    return kSomeMonday + days(week * kDaysInWeek + number - week * kWorkDays);
}

sys_days dayFrom(std::string_view iso) {
    const auto count = core::dayCountOf(iso);
    return count ? sys_days(days(*count)) : kWrittenLastDay;
}

std::string isoDay(sys_days day) {
    return core::dateOfDayCount(day.time_since_epoch().count());
}

Calendar::Calendar(std::string_view lastDay) : m_lastDay(dayOfWorkday(workdayNumber(dayFrom(lastDay)))) {}

sys_days Calendar::workday(int before) const {
    return dayOfWorkday(workdayNumber(m_lastDay) - before);
}

sys_days Calendar::moved(std::string_view written) const {
    return dayFrom(written) + (m_lastDay - kWrittenLastDay);
}

std::string Calendar::happened(std::string_view written) const {
    if (written.empty()) return {};
    return isoDay(workday(workdayNumber(kWrittenLastDay) - workdayNumber(dayFrom(written))));
}

std::string Calendar::runsOut(std::string_view written) const {
    return written.empty() ? std::string() : isoDay(moved(written));
}

std::string Calendar::givenOut(std::string_view written) const {
    if (written.empty()) return {};
    const sys_days day = moved(written);
    const sys_days workday = dayOfWorkday(workdayNumber(day));
    return isoDay(workday == day ? day : dayOfWorkday(workdayNumber(day) + 1));
}

std::string Calendar::month(std::string_view written) const {
    constexpr std::array<const char*, 12> names{"January",   "February", "March",    "April",
                                                "May",       "June",     "July",     "August",
                                                "September", "October",  "November", "December"};
    const std::chrono::year_month_day day(moved(written));
    return names[static_cast<unsigned>(day.month()) - 1];
}

std::string lastWorkingDayUpTo(std::string_view isoDate) {
    return isoDay(dayOfWorkday(workdayNumber(dayFrom(isoDate))));
}

}  // namespace markerlamp::demo
