#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Tables as a folder of CSV files: UTF-8, RFC 4180, header line first. The folder appears whole or not at
// all; rows go to disk as they come.
//
// A text that begins with = + - @, a tab or a line end is a formula to some spreadsheet programs. Such a text
// gets an apostrophe before it, as the OWASP page "CSV Injection" advises; numbers and dates are written by
// this program and stay as they are. A text with a semicolon is quoted as well: where the comma is the
// decimal sign, some programs split there.

#include "core/base/file_writer.h"
#include "core/base/new_folder.h"
#include "core/export/tables.h"

#include <cstdint>
#include <filesystem>
#include <string>
#include <vector>

namespace markerlamp::core {

/// A cell as CSV writes it, without quotes: yes/no, 87.5, 2026-03-12; texts defused.
[[nodiscard]] std::string csvText(const Cell& cell, ColumnKind kind);

class CsvFolder final : public TableSink {
public:
    /// Writes the headers. `tables` in the order of TableId.
    static Result<CsvFolder> begin(const std::filesystem::path& dir, std::vector<Table> tables);

    Result<void> row(TableId table, const Row& row) override;
    /// A further file of the folder.
    Result<void> add(const std::string& name, std::string_view text);
    Result<void> publish();
    [[nodiscard]] std::int64_t rows(TableId table) const;
    [[nodiscard]] const std::vector<Table>& tables() const { return m_tables; }

private:
    CsvFolder(NewFolder folder, std::vector<Table> tables);

    NewFolder m_folder;
    std::vector<Table> m_tables;
    std::vector<FileWriter> m_files;
    std::vector<std::int64_t> m_rows;
    std::string m_line;
};

}  // namespace markerlamp::core
