// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/people/training.h"

#include "core/base/fact_settings.h"
#include "core/base/moment.h"

#include <array>
#include <cmath>
#include <cstdio>
#include <map>
#include <tuple>
#include <utility>

namespace markerlamp::core {

namespace {

template <class Word>
using Words = std::array<std::pair<Word, std::string_view>, 3>;

constexpr Words<HoursKind> kHoursWords{
    {{HoursKind::Range, "range"}, {HoursKind::PublicRoad, "public-road"}, {HoursKind::Other, "other"}}};
constexpr Words<BookingState> kBookingWords{
    {{BookingState::Booked, "booked"}, {BookingState::Cancelled, "cancelled"}, {BookingState::Done, "done"}}};
constexpr Words<Covers> kCoversWords{
    {{Covers::Both, "both"}, {Covers::Theory, "theory"}, {Covers::Wheel, "wheel"}}};

template <class Word>
std::string_view wordOf(const Words<Word>& words, Word value) {
    for (const auto& [one, word] : words)
        if (one == value) return word;
    return {};
}
template <class Word>
std::optional<Word> valueOf(const Words<Word>& words, std::string_view text) {
    for (const auto& [one, word] : words)
        if (word == text) return one;
    return std::nullopt;
}

/// Where a record stands in a line of corrections.
struct Place {
    std::string root;  ///< id at which the line begins
    std::size_t step = 0;
};

/// Documents may come from strangers: a ring ends where it began.
template <class Record>
Place placeOf(const Record& record, const std::map<std::string_view, const Record*>& byId) {
    const Record* one = &record;
    std::size_t steps = 0;
    for (; steps <= byId.size() && !one->replaces.empty(); ++steps) {
        const auto before = byId.find(one->replaces);
        // What it replaces may come into the file later.
        if (before == byId.end() || before->second->trainee != record.trainee)
            return {one->replaces, steps + 1};
        one = before->second;
    }
    return {one->id, steps};
}

template <class Record>
std::vector<Record> newestOfEach(const std::vector<Record>& all, bool (*struck)(const Record&)) {
    std::map<std::string_view, const Record*> byId;
    for (const Record& record : all) byId.emplace(record.id, &record);
    // Two steps may bear the same second.
    using Age = std::tuple<std::int64_t, std::size_t, std::string_view>;
    std::map<std::pair<std::string, std::string>, std::pair<Age, const Record*>> newest;  // by trainee, root
    std::vector<std::pair<std::string, std::string>> lines;
    for (const Record& record : all) {
        const Place place = placeOf(record, byId);
        const Age age(millisecondsOf(record.at).value_or(0), place.step, record.id);
        lines.emplace_back(record.trainee, place.root);
        auto& last = newest[lines.back()];
        if (last.second == nullptr || last.first < age) last = {age, &record};
    }
    std::vector<Record> stand;
    for (std::size_t i = 0; i < all.size(); ++i)
        if (newest.at(lines[i]).second == &all[i] && !struck(all[i])) stand.push_back(all[i]);
    return stand;
}

}  // namespace

std::string_view toWord(HoursKind kind) {
    return wordOf(kHoursWords, kind);
}
std::optional<HoursKind> hoursKindFromWord(std::string_view word) {
    return valueOf(kHoursWords, word);
}
std::string_view toWord(BookingState state) {
    return wordOf(kBookingWords, state);
}
std::optional<BookingState> bookingStateFromWord(std::string_view word) {
    return valueOf(kBookingWords, word);
}
std::string_view toWord(Covers covers) {
    return wordOf(kCoversWords, covers);
}
std::optional<Covers> coversFromWord(std::string_view word) {
    return valueOf(kCoversWords, word);
}

bool Course::empty() const {
    Course untouched;
    untouched.trainee = trainee;
    return *this == untouched;
}

std::vector<ClockHours> standing(const std::vector<ClockHours>& all) {
    return newestOfEach<ClockHours>(all, [](const ClockHours& record) { return record.struck; });
}
std::vector<BookedTest> standing(const std::vector<BookedTest>& all) {
    return newestOfEach<BookedTest>(all, [](const BookedTest&) { return false; });
}
std::vector<Absence> standing(const std::vector<Absence>& all) {
    return newestOfEach<Absence>(all, [](const Absence& record) { return record.struck; });
}

HoursSum sumOf(const std::vector<ClockHours>& standing) {
    HoursSum sum;
    for (const ClockHours& hours : standing) {
        int& part = hours.kind == HoursKind::Range        ? sum.range
                    : hours.kind == HoursKind::PublicRoad ? sum.road
                                                          : sum.other;
        part += hours.minutes;
    }
    return sum;
}

bool isAway(const std::vector<Absence>& standing, std::string_view date) {
    // ISO dates sort as they follow.
    for (const Absence& absence : standing)
        if (absence.left <= date && (absence.returned.empty() || date < absence.returned)) return true;
    return false;
}

std::string hoursText(int minutes) {
    std::array<char, 32> text{};
    std::snprintf(text.data(), text.size(), "%d:%02d", minutes / 60, minutes % 60);
    return text.data();
}

std::optional<int> minutesOf(std::string_view text) {
    if (const auto colon = text.find(':'); colon != std::string_view::npos) {
        const auto hours = plainNumber(text.substr(0, colon));
        const auto rest = plainNumber(text.substr(colon + 1));
        if (text.size() != colon + 3 || !hours || !rest || *hours < 0 || *hours > 1e6 || *rest < 0 ||
            *rest > 59 || *hours != std::floor(*hours) || *rest != std::floor(*rest))
            return std::nullopt;
        return static_cast<int>(*hours) * 60 + static_cast<int>(*rest);
    }
    const auto hours = plainNumber(text);
    if (!hours || *hours < 0 || *hours > 1e6) return std::nullopt;
    return static_cast<int>(std::lround(*hours * 60));
}

bool isTimeOfDay(std::string_view text) {
    return millisecondsOf("2026-01-01T" + std::string(text) + ":00Z").has_value();
}

}  // namespace markerlamp::core
