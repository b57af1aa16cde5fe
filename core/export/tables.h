#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The four tables that leave a program for spreadsheets and studies, defined once: what a column is called,
// what is in it, and what becomes of it in a study without names. Spreadsheet, CSV and study only differ in
// how they write a cell.

#include "core/history/history.h"
#include "core/people/person_file.h"
#include "core/readiness/readiness_word.h"

#include <array>
#include <cstdint>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace markerlamp::core {

/// Percent: 0 to 100. Share: 0 to 1. Date: ISO 8601. Moment: ISO 8601 with offset, or without where only the
/// clock of the place is told.
enum class ColumnKind { Text, Whole, Number, Percent, Share, Date, Moment, YesNo };

/// What the keys of a column name: each kind has keys of its own in a study.
enum class KeyKind { Trainee, Instructor, Bus, Group, Attempt, Rubric };

/// What becomes of a column in a study.
struct StudyRule {
    enum class What { Keep, Key, Shift, LeaveOut } what = What::LeaveOut;
    KeyKind kind = KeyKind::Trainee;  ///< for Key
};

/// Nothing, text (Text, Date, Moment), Whole, Number/Percent/Share, YesNo.
using Cell = std::variant<std::monostate, std::string, std::int64_t, double, bool>;
using Row = std::vector<Cell>;

struct Column {
    std::string_view name;  ///< lower_snake_case
    ColumnKind kind = ColumnKind::Text;
    StudyRule study;
    int width = 10;          ///< in characters, for spreadsheets
    std::string_view about;  ///< what is in it, for people
};

enum class TableId { Roster, Attempts, Steps, WeakZones };

struct Table {
    TableId id = TableId::Roster;
    std::string_view name;  ///< "weak-zones": of the CSV file; sheets have a space
    std::string_view about;
    std::vector<Column> columns;
};

/// Roster, attempts, steps, weak zones, in this order.
[[nodiscard]] const std::array<Table, 4>& exportTables();
[[nodiscard]] const Table& exportTable(TableId id);

// What the rows are made of.

enum class AttemptStanding { Open, SetAside, Ended };

struct ExportedAttempt {
    ScoredAttempt scored;
    AttemptStanding standing = AttemptStanding::Ended;
    /// Ended, and not a second scoring: what history and forecast look at.
    [[nodiscard]] bool counts() const {
        return standing == AttemptStanding::Ended && scored.attempt.header.of.empty();
    }
};

/// A trainee with everything that the tables say about him.
struct ExportedTrainee {
    PersonFile person;
    std::vector<ExportedAttempt> attempts;  ///< oldest first
    std::optional<Readiness> readiness;     ///< absent: not worked out
    std::string today;                      ///< ISO 8601 date of the export
};

/// Keys to names; a key without one stands for itself.
struct ExportNames {
    std::map<std::string, std::string> instructors;
    std::map<std::string, std::string> buses;
};

/// Where rows go. Rows of one table come in order; the tables take turns.
class TableSink {
public:
    virtual ~TableSink() = default;
    virtual Result<void> row(TableId table, const Row& row) = 0;
};

/// All rows of a trainee: one of the roster, one an attempt, one a step of each ended attempt, one a zone.
[[nodiscard]] Result<void> writeRows(const ExportedTrainee& trainee, const ExportNames& names,
                                     TableSink& sink);

}  // namespace markerlamp::core
