#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// An attempt is its header and its events. Events are never changed; a later one may take an earlier one
// back.

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace markerlamp::core {

enum class EventKind {
    Show,
    Say,
    Partly,
    Wrong,
    Prompt,
    Reading,
    Fault,
    Omit,
    Unseen,
    Unreached,
    Note,
    Pause,
    Resume,
    Retract,
    End
};

/// The word of the document format ("show", "say", ...).
[[nodiscard]] std::string_view toWord(EventKind kind);
[[nodiscard]] std::optional<EventKind> eventKindFromWord(std::string_view word);

/// One thing the instructor recorded at one moment. Unused fields stay empty.
struct Event {
    int n = 0;     ///< counts up from 1 without gaps
    double t = 0;  ///< seconds since the start, never decreasing
    EventKind kind = EventKind::Note;
    std::string step;
    std::string point;
    std::optional<double> value;
    std::optional<double> low;
    std::optional<double> high;
    std::string unit;
    std::string text;
    int retracts = 0;  ///< n of the event that a Retract takes back
    std::string by;    ///< amendments: who
    std::string at;    ///< amendments: when, ISO 8601 with offset

    bool operator==(const Event&) const = default;
};

/// Bounds of this bus (its maker's figures) in place of the rubric's limit of that id.
struct LimitBounds {
    std::optional<double> low;
    std::optional<double> high;

    bool operator==(const LimitBounds&) const = default;
};

struct AttemptHeader {
    std::string id;
    std::string rubric;
    int edition = 1;
    std::string trainee;
    std::string instructor;
    std::string bus;
    std::vector<std::string> equipment;
    std::vector<std::string> zones;
    std::map<std::string, LimitBounds> limits;
    std::string started;  ///< ISO 8601 with offset, as written
    std::string of;       ///< the first scoring's id when this is a second scoring

    bool operator==(const AttemptHeader&) const = default;
};

struct Attempt {
    AttemptHeader header;
    std::vector<Event> events;

    bool operator==(const Attempt&) const = default;
};

/// True when an end event stands (ends cannot be retracted).
[[nodiscard]] bool isEnded(const Attempt& attempt);

}  // namespace markerlamp::core
