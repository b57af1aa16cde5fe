// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/copies/copies.h"

#include "core/base/moment.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cstdio>
#include <set>
#include <utility>

namespace markerlamp::core {

namespace {

constexpr std::int64_t kSecond = 1000;
constexpr std::int64_t kDay = 86400 * kSecond;
constexpr std::string_view kTail = ".markerlamp";
constexpr std::string_view kSealedTail = ".sealed";
constexpr std::size_t kInstant = 18;  // 2026-03-02T111000Z

constexpr std::array<std::pair<CopyReason, std::string_view>, 8> kWords{
    {{CopyReason::Start, "start"},
     {CopyReason::Day, "day"},
     {CopyReason::Import, "before-import"},
     {CopyReason::Migration, "before-migration"},
     {CopyReason::ByHand, "by-hand"},
     {CopyReason::Restore, "before-restore"},
     {CopyReason::Erasing, "after-erasing"},
     {CopyReason::Damaged, "damaged"}}};

std::int64_t floorDiv(std::int64_t a, std::int64_t b) {
    return a / b - (a % b < 0 ? 1 : 0);
}

/// Days count from Thursday 1970-01-01; weeks begin on Monday.
std::int64_t weekOf(std::int64_t day) {
    return floorDiv(day + 3, 7);
}

std::int64_t monthOf(std::int64_t day) {
    const std::string date = dateOfDayCount(day);
    return std::int64_t{12} * std::stoi(date.substr(0, 4)) + std::stoi(date.substr(5, 2));
}

}  // namespace

std::string_view wordOf(CopyReason reason) {
    return std::ranges::find(kWords, reason, &std::pair<CopyReason, std::string_view>::first)->second;
}

std::string copyFileName(const CopyName& name) {
    const std::int64_t day = floorDiv(name.ms, kDay);
    const auto second = static_cast<int>((name.ms - day * kDay) / kSecond);
    char time[16];
    std::snprintf(time, sizeof time, "T%02d%02d%02dZ-", second / 3600 % 24, second / 60 % 60, second % 60);
    const std::string again = name.count > 1 ? "-" + std::to_string(name.count) : "";
    return dateOfDayCount(day) + time + std::string(wordOf(name.reason)) + again + std::string(kTail) +
           std::string(name.sealed ? kSealedTail : "");
}

std::optional<CopyName> readCopyFileName(std::string_view text) {
    const bool sealed = text.ends_with(kSealedTail);
    if (sealed) text.remove_suffix(kSealedTail.size());
    if (!text.ends_with(kTail) || text.size() < kInstant + 2 + kTail.size() || text[kInstant] != '-')
        return std::nullopt;
    std::string instant(text.substr(0, kInstant));
    instant.insert(15, ":").insert(13, ":");
    const auto ms = millisecondsOf(instant);
    if (!ms || !instant.ends_with('Z')) return std::nullopt;
    std::string_view word = text.substr(kInstant + 1, text.size() - kInstant - 1 - kTail.size());
    for (const auto& [reason, known] : kWords) {
        if (!word.starts_with(known)) continue;
        CopyName name{*ms, reason, 1, sealed};
        std::string_view rest = word.substr(known.size());
        if (rest.empty()) return name;
        if (rest.front() != '-') continue;
        rest.remove_prefix(1);
        const auto [end, error] = std::from_chars(rest.data(), rest.data() + rest.size(), name.count);
        if (error == std::errc{} && end == rest.data() + rest.size() && name.count > 1) return name;
    }
    return std::nullopt;
}

std::vector<std::size_t> copiesThatGo(const std::vector<CopyToKeep>& copies, std::int64_t nowMs,
                                      const KeepRule& rule) {
    std::vector<std::size_t> newestFirst;
    for (std::size_t i = 0; i < copies.size(); ++i)
        if (copies[i].good) newestFirst.push_back(i);
    std::ranges::stable_sort(newestFirst,
                             [&](std::size_t a, std::size_t b) { return copies[a].ms > copies[b].ms; });
    if (newestFirst.empty()) return {};
    const auto dayOf = [&](std::int64_t ms) {
        return floorDiv(ms + std::int64_t{60} * kSecond * rule.minutesEast, kDay);
    };
    const std::int64_t today = dayOf(std::min(copies[newestFirst.front()].ms, nowMs));
    std::set<std::int64_t> days, weeks, months;
    std::vector<std::size_t> go;
    for (std::size_t place = 0; place < newestFirst.size(); ++place) {
        const std::int64_t day = dayOf(copies[newestFirst[place]].ms);
        // Each is asked, so that a copy which stays for one reason also stands for its day, week and month.
        const bool firstOfDay = days.insert(day).second;
        const bool firstOfWeek = weeks.insert(weekOf(day)).second;
        const bool firstOfMonth = months.insert(monthOf(day)).second;
        const bool stays = place == 0 || place < static_cast<std::size_t>(std::max(rule.last, 0)) ||
                           (firstOfDay && today - day < rule.days) ||
                           (firstOfWeek && weekOf(today) - weekOf(day) < rule.weeks) || firstOfMonth;
        if (!stays) go.push_back(newestFirst[place]);
    }
    std::ranges::sort(go);
    return go;
}

}  // namespace markerlamp::core
