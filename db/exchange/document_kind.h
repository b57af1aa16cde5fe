#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What a document is, told from its name.

#include <filesystem>

namespace markerlamp::db {

/// In the order in which an import takes them: what others name comes first.
enum class DocumentKind {
    Rubric,
    LimitSet,
    Program,
    People,
    Instructors,
    Buses,
    Licences,
    Training,
    Attempt,
    Forecasts,
    Overrides,
    Tests,
    Strikes,
    Outcomes,
    Hours,
    Bookings,
    Absences,
    Settlements,
    Sheets,
    Unknown
};

/// As a report calls it.
[[nodiscard]] const char* wordOf(DocumentKind kind);
[[nodiscard]] DocumentKind kindOf(const std::filesystem::path& path);

/// What would be right for a name that is not known.
inline constexpr const char* kNamesOfDocuments =
    "name it *.rubric.yaml, *.limits.yaml, *.attempt.jsonl, people.csv, instructors.csv, buses.csv, "
    "licences.csv, training.csv, outcomes.csv, forecasts.jsonl, overrides.jsonl, tests.jsonl, strikes.jsonl, "
    "hours.jsonl, bookings.jsonl, absences.jsonl, settlements.jsonl or sheets.jsonl";

}  // namespace markerlamp::db
