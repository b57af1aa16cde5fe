// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/export/csv_folder.h"

#include "core/base/csv.h"
#include "core/base/files.h"
#include "core/base/text.h"

#include <cmath>
#include <utility>

namespace markerlamp::core {

namespace {

constexpr std::string_view kLineEnd = "\r\n";

/// More digits than the figures carry would only look exact.
double rounded(double value, ColumnKind kind) {
    const double steps = kind == ColumnKind::Share ? 1e6 : kind == ColumnKind::Percent ? 1e4 : 0;
    return steps > 0 ? std::round(value * steps) / steps : value;
}

std::string defused(const std::string& text) {
    return !text.empty() && std::string_view("=+-@\t\r\n").find(text.front()) != std::string_view::npos
               ? "'" + text
               : text;
}

}  // namespace

std::string csvText(const Cell& cell, ColumnKind kind) {
    if (const auto* text = std::get_if<std::string>(&cell)) return defused(*text);
    if (const auto* whole = std::get_if<std::int64_t>(&cell)) return std::to_string(*whole);
    if (const auto* number = std::get_if<double>(&cell)) return shortestText(rounded(*number, kind));
    if (const auto* yes = std::get_if<bool>(&cell)) return *yes ? "yes" : "no";
    return {};
}

CsvFolder::CsvFolder(NewFolder folder, std::vector<Table> tables)
    : m_folder(std::move(folder)), m_tables(std::move(tables)), m_rows(m_tables.size(), 0) {}

Result<CsvFolder> CsvFolder::begin(const std::filesystem::path& dir, std::vector<Table> tables) {
    auto folder = NewFolder::begin(dir);
    if (!folder) return fail(folder.error());
    CsvFolder made(std::move(*folder), std::move(tables));
    for (const Table& table : made.m_tables) {
        auto file = FileWriter::create(made.m_folder.path() / (std::string(table.name) + ".csv"));
        if (!file) return fail(file.error());
        std::string header;
        for (const Column& column : table.columns) {
            if (!header.empty()) header += ',';
            header += column.name;
        }
        header += kLineEnd;
        if (auto written = file->write(header); !written) return fail(written.error());
        made.m_files.push_back(std::move(*file));
    }
    return made;
}

Result<void> CsvFolder::row(TableId table, const Row& row) {
    const auto index = static_cast<std::size_t>(table);
    const std::vector<Column>& columns = m_tables[index].columns;
    m_line.clear();
    for (std::size_t i = 0; i < row.size(); ++i) {
        if (i > 0) m_line += ',';
        appendCsvField(m_line, csvText(row[i], columns[i].kind), ";\t");
    }
    m_line += kLineEnd;
    ++m_rows[index];
    return m_files[index].write(m_line);
}

Result<void> CsvFolder::add(const std::string& name, std::string_view text) {
    return writeWhole(m_folder.path() / name, text);
}

Result<void> CsvFolder::publish() {
    for (FileWriter& file : m_files)
        if (auto done = file.finish(); !done) return done;
    return m_folder.publish();
}

std::int64_t CsvFolder::rows(TableId table) const {
    return m_rows[static_cast<std::size_t>(table)];
}

}  // namespace markerlamp::core
