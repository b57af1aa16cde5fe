#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Reads a table of people with known columns: what people.cpp and training_tables.cpp share.

#include "core/base/csv.h"
#include "core/base/result.h"
#include "core/base/text.h"
#include "core/people/people.h"

#include <algorithm>
#include <map>
#include <set>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace markerlamp::core {

/// Collects problems by row and column. begin() ends the look at the columns; without it no row is read.
class PeopleTable {
public:
    PeopleTable(std::string_view csv, const std::string& name, const std::vector<std::string>& columns,
                const std::vector<std::string>& required)
        : m_name(name) {
        auto table = readCsv(csv, name);
        if (!table) {
            m_problems = table.error().problems;
            return;
        }
        m_table = std::move(*table);
        for (const std::string& column : m_table.header) {
            if (std::ranges::find(columns, column) != columns.end()) continue;
            const std::string near = nearest(column, columns);
            std::string list;
            for (const std::string& c : columns) list += (list.empty() ? "" : ", ") + c;
            m_problems.push_back({name, 1, column, column, "unknown column \"" + column + "\"",
                                  near.empty() ? "use only " + list : "did you mean \"" + near + "\"?"});
        }
        for (const std::string& column : required)
            if (std::ranges::find(m_table.header, column) == m_table.header.end())
                m_problems.push_back(
                    {name, 1, column, column, "column \"" + column + "\" is missing", "add it"});
    }

    [[nodiscard]] std::size_t rows() const {
        return m_problems.empty() || m_reading ? m_table.rows.size() : 0;
    }
    void begin() { m_reading = m_problems.empty(); }
    [[nodiscard]] bool good() const { return m_problems.empty(); }
    [[nodiscard]] tl::unexpected<Error> refusal() {
        return fail("the table is refused", std::move(m_problems));
    }

    void problem(std::size_t row, const std::string& column, const std::string& value, std::string message,
                 std::string remedy) {
        if (m_problems.size() < 200)
            m_problems.push_back(
                {m_name, m_table.lines[row], column, value, std::move(message), std::move(remedy)});
    }

    [[nodiscard]] bool has(const std::string& column) const {
        return std::ranges::find(m_table.header, column) != m_table.header.end();
    }

    std::string text(std::size_t row, const std::string& column, std::size_t most, bool required = false) {
        const auto found = std::ranges::find(m_table.header, column);
        if (found == m_table.header.end()) return {};
        const std::string& value =
            m_table.rows[row][static_cast<std::size_t>(found - m_table.header.begin())];
        if (required && value.empty()) problem(row, column, {}, "\"" + column + "\" is empty", "give it");
        if (value.size() > most)
            problem(row, column, {}, "\"" + column + "\" is longer than " + std::to_string(most) + " bytes",
                    "shorten it");
        return value;
    }

    std::string key(std::size_t row) {
        std::string value = text(row, "key", 200, true);
        if (std::ranges::any_of(value, [](unsigned char c) { return c < 0x20 || c == 0x7f; }))
            problem(row, "key", {}, "the key holds a control character", "use printable characters only");
        if (!value.empty() && !m_keys.insert(value).second)
            problem(row, "key", value, "key \"" + value + "\" stands twice", "give every row its own key");
        return value;
    }

    // Into an entry: without the column it keeps what it has.
    void take(std::string& into, std::size_t row, const std::string& column, std::size_t most,
              bool required = false) {
        if (has(column)) into = text(row, column, most, required);
    }
    void takeDate(std::string& into, std::size_t row, const std::string& column) {
        if (has(column)) into = date(row, column);
    }

private:
    std::string date(std::size_t row, const std::string& column) {
        std::string value = text(row, column, 100);
        if (!value.empty() && !isIsoDate(value))
            problem(row, column, value, "\"" + value + "\" is not a date", "write it like 2026-03-31");
        return value;
    }

    std::string m_name;
    CsvTable m_table;
    std::vector<Problem> m_problems;
    std::set<std::string> m_keys;
    bool m_reading = false;
};

/// Columns in which two rows of a table differ; what changed is told for the columns of `told` only.
[[nodiscard]] inline std::vector<ColumnChange> changesOfRows(const std::vector<std::string>& columns,
                                                             const std::vector<std::string>& told,
                                                             const std::vector<std::string>& before,
                                                             const std::vector<std::string>& after) {
    std::vector<ColumnChange> changes;
    for (std::size_t i = 0; i < columns.size(); ++i) {
        if (before[i] == after[i]) continue;
        if (std::ranges::find(told, columns[i]) != told.end())
            changes.push_back({columns[i], true, before[i], after[i]});
        else
            changes.push_back({columns[i], false, {}, {}});
    }
    return changes;
}

/// The entries so far, by key.
template <class Entry>
class KnownEntries {
public:
    KnownEntries(const std::vector<Entry>& entries, std::string Entry::*key) : m_key(key) {
        for (const Entry& entry : entries) m_byKey.emplace(entry.*key, &entry);
    }
    /// The entry of this key as it is known, else a new one.
    [[nodiscard]] Entry of(std::string key) const {
        if (const auto found = m_byKey.find(key); found != m_byKey.end()) return *found->second;
        Entry entry;
        entry.*m_key = std::move(key);
        return entry;
    }

private:
    std::string Entry::*m_key;
    std::map<std::string_view, const Entry*> m_byKey;
};

}  // namespace markerlamp::core
