#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Documents in and out of a program file: rubrics, limit sets, people.csv, buses.csv, instructors.csv,
// attempts, and the records of readiness, of training and of what was settled between scorings.

#include "core/attempt/attempt_document.h"
#include "core/base/result.h"
#include "core/people/people.h"
#include "db/program_file.h"

#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace markerlamp::db {

struct ImportReport {
    /// Changed: at least one entry that was there is now another. Added: new ones came, and none changed.
    enum class Outcome { Added, AlreadyThere, Changed, Refused };
    struct EntryChange {
        std::string key;
        std::vector<core::ColumnChange> columns;
    };
    struct Item {
        std::string file;  ///< as the caller gave it, or found below a folder
        std::string kind;  ///< rubric, limit set, people, instructors, buses, attempt, forecasts, ...
        std::string id;    ///< document id; number of rows for tables and of records
        Outcome outcome = Outcome::Added;
        core::Error error;  ///< for Refused
        /// What a table changed in entries that were there, in the order of its rows.
        std::vector<EntryChange> changes;
    };
    std::vector<Item> items;              ///< in the order in which they were taken
    std::vector<std::string> toComplete;  ///< "trainee t-017", "bus 14", ... made by this import

    [[nodiscard]] int count(Outcome outcome) const;
    [[nodiscard]] bool allAccepted() const { return count(Outcome::Refused) == 0; }
};

/// "t-017: permit_expires 2026-03-01 -> 2026-04-01, note": personal values are left out.
[[nodiscard]] std::string toText(const ImportReport::EntryChange& change);

/// Takes documents and folders in any order (rubrics first, then tables, then attempts). Each document goes
/// in wholly or not at all. Documents never change; a table updates the entries it names, in the columns that
/// it has. An error is returned only when the file itself cannot be used; refusals stand in the report.
core::Result<ImportReport> importPaths(ProgramFile& file, const std::vector<std::filesystem::path>& paths,
                                       const std::function<bool(double)>& progress = {});

/// A document with the name that says what it is; folders in it are passed over.
struct NamedDocument {
    std::string name;  ///< below a folder, with '/'
    std::string text;
};
/// No document of a program is longer, bytes.
inline constexpr std::size_t kLargestDocument = core::kMaxAttemptBytes * 2;
/// As importPaths(), for `count` documents that `next` gives one after the other, each kind after those it
/// builds on: rubrics, limit sets, tables, attempts, records. Nothing from next() ends it, an error too.
core::Result<ImportReport> importEach(ProgramFile& file, std::size_t count,
                                      const std::function<core::Result<std::optional<NamedDocument>>()>& next,
                                      const std::function<bool(double)>& progress = {});

/// The documents of exportTo() by name and text, in the order that importEach() wants; ends with the error of
/// `sink`.
core::Result<void> exportEach(
    ProgramFile& file, const std::function<core::Result<void>(const std::string&, const std::string&)>& sink,
    const std::function<bool(double)>& progress = {});

/// Writes rubrics/ID-EDITION.rubric.yaml, limits/ID.limits.yaml, attempts/ID.attempt.jsonl, people.csv,
/// instructors.csv, buses.csv, program.csv, and where there are any forecasts.jsonl, overrides.jsonl,
/// tests.jsonl, strikes.jsonl, hours.jsonl, bookings.jsonl, absences.jsonl, settlements.jsonl, sheets.jsonl,
/// licences.csv, training.csv. Deterministic; the folder is written beside and renamed and must not exist or
/// be empty. A stop asked for by progress leaves nothing and is an error of kind Usage with an empty message.
core::Result<int> exportTo(ProgramFile& file, const std::filesystem::path& dir,
                           const std::function<bool(double)>& progress = {});

}  // namespace markerlamp::db
