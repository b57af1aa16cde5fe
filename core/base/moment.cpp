// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/base/moment.h"

#include "core/base/text.h"

#include <array>
#include <chrono>
#include <cstdio>

namespace markerlamp::core {

namespace {

/// Takes exactly `digits` digits off the front.
std::optional<int> take(std::string_view& text, std::size_t digits) {
    if (text.size() < digits) return std::nullopt;
    int value = 0;
    for (std::size_t i = 0; i < digits; ++i) {
        if (text[i] < '0' || text[i] > '9') return std::nullopt;
        value = value * 10 + (text[i] - '0');
    }
    text.remove_prefix(digits);
    return value;
}

bool takeSign(std::string_view& text, char sign) {
    if (text.empty() || text.front() != sign) return false;
    text.remove_prefix(1);
    return true;
}

}  // namespace

std::optional<std::int64_t> millisecondsOf(std::string_view s) {
    using namespace std::chrono;
    const auto y = take(s, 4);
    if (!y || !takeSign(s, '-')) return std::nullopt;
    const auto mo = take(s, 2);
    if (!mo || !takeSign(s, '-')) return std::nullopt;
    const auto d = take(s, 2);
    if (!d || !takeSign(s, 'T')) return std::nullopt;
    const auto h = take(s, 2);
    if (!h || !takeSign(s, ':')) return std::nullopt;
    const auto mi = take(s, 2);
    if (!mi) return std::nullopt;
    const year_month_day date{year(*y), month(static_cast<unsigned>(*mo)), day(static_cast<unsigned>(*d))};
    if (!date.ok() || *h > 23 || *mi > 59) return std::nullopt;
    std::int64_t ms =
        duration_cast<milliseconds>(sys_days(date).time_since_epoch() + hours(*h) + minutes(*mi)).count();
    if (takeSign(s, ':')) {
        const auto second = take(s, 2);
        if (!second || *second > 60) return std::nullopt;
        ms += *second * 1000;
        if (takeSign(s, '.')) {
            if (s.empty() || s.front() < '0' || s.front() > '9') return std::nullopt;
            for (int unit = 100; !s.empty() && s.front() >= '0' && s.front() <= '9';
                 unit /= 10, s.remove_prefix(1))
                ms += (s.front() - '0') * unit;
        }
    }
    if (s == "Z") return ms;
    const int sign = takeSign(s, '+') ? 1 : takeSign(s, '-') ? -1 : 0;
    const auto oh = take(s, 2);
    if (sign == 0 || !oh || !takeSign(s, ':')) return std::nullopt;
    const auto om = take(s, 2);
    if (!om || !s.empty() || *oh > 23 || *om > 59) return std::nullopt;
    return ms - sign * (*oh * 60 + *om) * 60'000;
}

std::string momentOf(std::int64_t ms, int minutesEast) {
    using namespace std::chrono;
    const auto local = floor<seconds>(milliseconds(ms)) + minutes(minutesEast);
    const auto day = floor<days>(local);
    const hh_mm_ss clock(local - day);
    const int east = minutesEast < 0 ? -minutesEast : minutesEast;
    std::array<char, 48> text{};
    std::snprintf(text.data(), text.size(), "%sT%02d:%02d:%02d%c%02d:%02d",
                  dateOfDayCount(day.count()).c_str(), static_cast<int>(clock.hours().count()),
                  static_cast<int>(clock.minutes().count()), static_cast<int>(clock.seconds().count()),
                  minutesEast < 0 ? '-' : '+', east / 60, east % 60);
    return text.data();
}

std::optional<std::int64_t> dayCountOf(std::string_view date) {
    if (!isIsoDate(date)) return std::nullopt;
    const auto milliseconds = millisecondsOf(std::string(date) + "T00:00Z");
    return milliseconds ? std::optional(*milliseconds / 86'400'000) : std::nullopt;
}

std::string dateOfDayCount(std::int64_t days) {
    using namespace std::chrono;
    const year_month_day date{sys_days(std::chrono::days(days))};
    std::array<char, 40> text{};
    std::snprintf(text.data(), text.size(), "%04d-%02u-%02u", static_cast<int>(date.year()),
                  static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()));
    return text.data();
}

std::string_view localDateOf(std::string_view moment) {
    return moment.substr(0, 10);
}

}  // namespace markerlamp::core
