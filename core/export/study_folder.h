#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The tables without names, for a study: a folder of CSV files with README.txt and dictionary.json, which say
// what is in it, what was left out, and that somebody may still be recognised.

#include "core/export/csv_folder.h"
#include "core/export/study_keys.h"

#include <map>
#include <set>
#include <string>
#include <vector>

namespace markerlamp::core {

/// The columns that a study keeps, of all tables.
[[nodiscard]] std::vector<Table> studyTables();

/// What a study says about itself, besides the rows.
struct StudyCounts {
    int trainees = 0, instructors = 0, buses = 0, groups = 0, attempts = 0;
    int loneInstructors = 0, loneBuses = 0, loneGroups = 0;  ///< beside fewer than kFewPeople trainees
    std::vector<std::string> zones;                          ///< ids, as the rubrics write them
};
inline constexpr int kFewPeople = 5;

[[nodiscard]] std::string studyReadme(const CsvFolder& folder, const StudyCounts& counts, bool saltKept);
[[nodiscard]] std::string studyDictionary(const CsvFolder& folder, const StudyCounts& counts, bool saltKept);

class StudyFolder final : public TableSink {
public:
    static Result<StudyFolder> begin(const std::filesystem::path& dir, const StudySalt& salt);

    /// A row of the whole table; what a study leaves out is left out here.
    Result<void> row(TableId table, const Row& row) override;
    Result<void> publish(bool saltKept);
    [[nodiscard]] StudyCounts counts() const;
    [[nodiscard]] std::int64_t rows(TableId table) const { return m_folder.rows(table); }

private:
    StudyFolder(CsvFolder folder, const StudySalt& salt) : m_folder(std::move(folder)), m_keys(salt) {}
    Cell disguised(const Cell& cell, const Column& column, int shiftDays) const;
    void note(const Table& table, const Column& column, const std::string& trainee, const Cell& cell);

    CsvFolder m_folder;
    StudyKeys m_keys;
    /// Disguised keys of everybody and everything seen, with the trainees beside them.
    std::map<KeyKind, std::map<std::string, std::set<std::string>>> m_seen;
    std::set<std::string> m_zones;
    Row m_row;
};

}  // namespace markerlamp::core
