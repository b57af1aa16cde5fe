#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// How the tables say what is in a column: its description and the function that makes its cell, side by side.

#include "core/attempt/marks.h"
#include "core/export/tables.h"

#include <string>
#include <vector>

namespace markerlamp::core::columns {

inline constexpr StudyRule kKept{StudyRule::What::Keep, {}};
inline constexpr StudyRule kShifted{StudyRule::What::Shift, {}};
inline constexpr StudyRule kLeftOut{StudyRule::What::LeaveOut, {}};
constexpr StudyRule keyOf(KeyKind kind) {
    return {StudyRule::What::Key, kind};
}

/// A column of a table whose rows are made of an `Of`.
template <class Of>
struct Entry {
    Column column;
    Cell (*cell)(const Of&);
};

template <class Of>
std::vector<Column> columnsOf(const std::vector<Entry<Of>>& entries) {
    std::vector<Column> columns;
    for (const Entry<Of>& entry : entries) columns.push_back(entry.column);
    return columns;
}

template <class Of>
Row rowOf(const std::vector<Entry<Of>>& entries, const Of& of) {
    Row row;
    row.reserve(entries.size());
    for (const Entry<Of>& entry : entries) row.push_back(entry.cell(of));
    return row;
}

/// Empty text is an empty cell.
inline Cell text(std::string_view words) {
    return words.empty() ? Cell() : Cell(std::string(words));
}
inline Cell whole(std::int64_t count) {
    return count;
}

// One a table, each in a file of its own.
struct RosterLine {
    const ExportedTrainee& of;
};
struct AttemptLine {
    const ExportedTrainee& of;
    const ExportedAttempt& attempt;
    const ExportNames& names;
    int number = 0;  ///< among those that count; 0: does not
};
struct StepLine {
    const ExportedTrainee& of;
    const ExportedAttempt& attempt;
    const Zone& zone;
    const Step& step;
    const StepScore& score;
    const StepMarks& marks;
    std::string_view remarks;  ///< notes and what was wrong or broken, in the instructor's words
    bool displaced = false;
};
struct ZoneLine {
    const ExportedTrainee& of;
    const ScoredAttempt& newest;
    const ZoneNow& now;
    const ZoneChance& chance;
};
[[nodiscard]] const std::vector<Entry<RosterLine>>& rosterEntries();
[[nodiscard]] const std::vector<Entry<AttemptLine>>& attemptEntries();
[[nodiscard]] const std::vector<Entry<StepLine>>& stepEntries();
[[nodiscard]] const std::vector<Entry<ZoneLine>>& zoneEntries();

Result<void> writeSteps(const ExportedTrainee& trainee, const ExportedAttempt& attempt, TableSink& sink);

}  // namespace markerlamp::core::columns
