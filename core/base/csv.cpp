// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/base/csv.h"

#include "core/base/text.h"

#include <algorithm>

namespace markerlamp::core {

namespace {

constexpr std::size_t kMaxBytes = 64u << 20;

}  // namespace

void appendCsvField(std::string& text, std::string_view field, std::string_view quoteAlso) {
    if (field.find_first_of("\",\r\n") == std::string_view::npos &&
        field.find_first_of(quoteAlso) == std::string_view::npos) {
        text += field;
        return;
    }
    text += '"';
    for (const char c : field) {
        if (c == '"') text += '"';
        text += c;
    }
    text += '"';
}

Result<CsvTable> readCsv(std::string_view text, const std::string& name) {
    std::vector<Problem> problems;
    const auto refuse = [&](int line, std::string message, std::string remedy) {
        problems.push_back({name, line, {}, {}, std::move(message), std::move(remedy)});
        return fail("the table cannot be read", std::move(problems));
    };
    if (text.size() > kMaxBytes) return refuse(0, "the table is larger than 64 MiB", "split it");
    if (!isUtf8(text)) return refuse(0, "the table is not UTF-8", "save it as UTF-8");
    if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);

    CsvTable table;
    std::vector<std::string> row;
    std::string field;
    int line = 1;
    int rowLine = 1;
    bool quoted = false, wasQuoted = false, any = false;
    const auto endRow = [&]() -> bool {
        row.push_back(std::move(field));
        field.clear();
        wasQuoted = false;
        any = false;
        const bool blank = row.size() == 1 && row.front().empty();
        if (table.header.empty())
            table.header = std::move(row);
        else if (blank)
            problems.push_back({name, rowLine, {}, {}, "the line is empty", "take it out"});
        else if (row.size() != table.header.size())
            problems.push_back({name,
                                rowLine,
                                {},
                                {},
                                "the row has " + std::to_string(row.size()) + " fields",
                                "give " + std::to_string(table.header.size()) + ", as the header has"});
        else {
            table.rows.push_back(std::move(row));
            table.lines.push_back(rowLine);
        }
        row.clear();
        return problems.size() < 200;
    };
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        if (quoted) {
            if (c == '\n') ++line;
            if (c != '"') {
                field += c;
            } else if (i + 1 < text.size() && text[i + 1] == '"') {
                field += '"';
                ++i;
            } else {
                quoted = false;
                wasQuoted = true;
            }
            continue;
        }
        any = true;
        if (c == '"') {
            if (!field.empty() || wasQuoted)
                return refuse(line, "a quote stands inside a field",
                              "put the whole field in quotes and double the quote");
            quoted = true;
        } else if (c == ',') {
            row.push_back(std::move(field));
            field.clear();
            wasQuoted = false;
        } else if (c == '\n' || c == '\r') {
            if (c == '\r' && i + 1 < text.size() && text[i + 1] == '\n') ++i;
            if (!endRow()) break;
            rowLine = ++line;
        } else {
            if (wasQuoted)
                return refuse(line, "text follows a closing quote", "end the field after its quote");
            field += c;
        }
    }
    if (quoted) return refuse(rowLine, "a quote is not closed", "close it");
    if (any || !field.empty() || !row.empty()) endRow();
    if (table.header.empty() || (table.header.size() == 1 && table.header.front().empty()))
        return refuse(1, "there is no header line", "name the columns in the first line");
    for (std::size_t i = 0; i < table.header.size(); ++i)
        if (std::find(table.header.begin(), table.header.begin() + static_cast<std::ptrdiff_t>(i),
                      table.header[i]) != table.header.begin() + static_cast<std::ptrdiff_t>(i))
            problems.push_back({name, 1, table.header[i], table.header[i],
                                "column \"" + table.header[i] + "\" stands twice", "name each column once"});
    if (!problems.empty()) return fail("the table cannot be read", std::move(problems));
    return table;
}

std::string writeCsv(const std::vector<std::string>& header,
                     const std::vector<std::vector<std::string>>& rows) {
    std::string text;
    const auto append = [&text](const std::vector<std::string>& row) {
        for (std::size_t i = 0; i < row.size(); ++i) {
            if (i > 0) text += ',';
            appendCsvField(text, row[i]);
        }
        text += "\r\n";
    };
    append(header);
    for (const auto& row : rows) append(row);
    return text;
}

}  // namespace markerlamp::core
