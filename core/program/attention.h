#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Who needs action this week: for each trainee at most one reason, with one action.

#include "core/people/person_file.h"
#include "core/readiness/readiness_word.h"

#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace markerlamp::core {

/// Facts that begin with "program.attention.". All are our choice, no published source.
struct AttentionSettings {
    int stalledDays = 14;     ///< without an attempt, while not ready
    int flatAttempts = 3;     ///< no gain over so many whole attempts, while not ready
    double flatPoints = 1;    ///< a gain is more than this, percent satisfied
    int testWithinDays = 14;  ///< a booked test this near asks for readiness
    int unsignedDays = 7;     ///< since the sheet was made, and it is not signed

    bool operator==(const AttentionSettings&) const = default;
};
[[nodiscard]] Result<AttentionSettings> attentionSettingsFromFacts(
    const std::vector<std::pair<std::string, std::string>>& facts);
[[nodiscard]] std::vector<std::pair<std::string, std::string>> factsFromAttentionSettings(
    const AttentionSettings& settings);

/// One attempt as the list of a program needs it.
struct Sitting {
    std::string attempt;     ///< id
    std::string date;        ///< local, ISO 8601
    std::string instructor;  ///< key
    double percent = 0;      ///< satisfied
    bool whole = false;      ///< all zones
};

/// What is known of one trainee on a day.
struct Standing {
    PersonFile person;
    std::vector<Sitting> sittings;      ///< oldest first; no second scorings
    std::optional<ReadinessWord> word;  ///< the shown one; nothing: not worked out yet
    /// Days until ready, if practice goes on; see ReadyAhead. Nothing: not foreseen.
    std::optional<int> readyLow, readyHigh;
    std::optional<int> readyAfter;         ///< without readyHigh: the latest day comes after so many days
    std::vector<std::string> failedTwice;  ///< titles of must-pass steps missed in both of the last two tries
    /// Attempts whose sheet was made and is not signed, with the day it was made; oldest first.
    std::vector<std::pair<std::string, std::string>> unsignedSheets;
    std::vector<std::string> openSecondScorings;  ///< second scorings that differ and are not settled
};

enum class AttentionKind {
    DateOver,       ///< permit or medical certificate has run out, or a booked test's day is over
    PermitFirst,    ///< the permit ends before the trainee can be expected to be ready
    TestUnready,    ///< a test is near, the trainee is not ready
    ReadyNoTest,    ///< ready, and no test booked
    MustPassTwice,  ///< the same must-pass step missed twice running
    Stalled,        ///< no attempt for long, while not ready
    NoGain,         ///< no gain over the last attempts, while not ready
    DateAhead,      ///< a date runs out soon, or a report is due
    SheetUnsigned,  ///< a sheet was made long ago and is not signed
    SecondOpen      ///< a second scoring waits to be settled
};
enum class AttentionAction {
    EnterDate,
    BookSession,
    BookTest,
    Drill,
    SeeMarks,
    SeeRecord,
    NoteSigning,
    Settle
};

struct Attention {
    std::string trainee;
    AttentionKind kind = AttentionKind::Stalled;
    AttentionAction action = AttentionAction::BookSession;
    std::optional<DateKind> dateKind;  ///< DateOver, DateAhead
    std::string date;                  ///< the date that it is about; empty without one
    int days = 0;                      ///< from today until then (negative: over); since the last attempt
    std::optional<int> readyLow, readyHigh;
    std::vector<std::string> steps;     ///< titles
    std::vector<double> percents;       ///< NoGain: of the attempts, oldest first
    std::vector<std::string> attempts;  ///< ids behind the reason, newest first

    bool operator==(const Attention&) const = default;
};

/// The most urgent reason, in the order of AttentionKind; nothing for who is away or has passed every segment
/// (but a report that is due).
[[nodiscard]] std::optional<Attention> attentionFor(const Standing& standing, const std::string& today,
                                                    const PeopleSettings& people,
                                                    const AttentionSettings& settings);
/// Of all, most urgent first: by kind, then days, then trainee.
[[nodiscard]] std::vector<Attention> attentionList(const std::vector<Standing>& standings,
                                                   const std::string& today, const PeopleSettings& people,
                                                   const AttentionSettings& settings);

/// Whole days from one ISO date to another.
[[nodiscard]] int daysBetween(const std::string& from, const std::string& to);
/// Last day of the permit: as on file, or from its issue as the settings say. Empty: not known.
[[nodiscard]] std::string permitEnd(const Trainee& trainee, const PeopleSettings& settings);
/// Days from the latest day on which the trainee can be expected to be ready to the end of the permit:
/// negative when it comes too late. Where that day is open, at most this. Nothing where one of the two is not
/// known.
[[nodiscard]] std::optional<int> daysToSpare(const Standing& standing, const std::string& today,
                                             const PeopleSettings& settings);

}  // namespace markerlamp::core
