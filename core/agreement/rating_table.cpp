// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/agreement/rating_table.h"

#include "core/base/csv.h"

#include <charconv>
#include <optional>

namespace markerlamp::core {

namespace {

constexpr std::size_t kMostProblems = 50;

std::optional<int> codeOf(const std::string& cell, int classes) {
    int code = 0;
    const auto [end, error] = std::from_chars(cell.data(), cell.data() + cell.size(), code);
    if (error != std::errc{} || end != cell.data() + cell.size() || code < 0 || code >= classes)
        return std::nullopt;
    return code;
}

}  // namespace

Result<RatingTable> readRatingTable(std::string_view csv, int classes, const std::string& name) {
    if (classes < 2 || classes > kMostClasses)
        return fail(ErrorKind::Usage, "the number of classes must lie between 2 and " +
                                          std::to_string(kMostClasses) + ", not " + std::to_string(classes));
    const auto read = readCsv(csv, name);
    if (!read) return fail(read.error());
    const std::size_t first = !read->header.empty() && read->header.front() == "unit" ? 1 : 0;
    const std::size_t raters = read->header.size() - first;
    if (raters < 2 || raters > static_cast<std::size_t>(kMostRaters))
        return fail(name + " is no table of ratings",
                    {{name, 1, "header", std::to_string(raters), "this many raters cannot be compared",
                      "two to " + std::to_string(kMostRaters) + " columns, one a rater"}});

    RatingTable table{classes, static_cast<int>(raters), {}};
    std::vector<Problem> problems;
    for (std::size_t row = 0; row < read->rows.size(); ++row) {
        std::vector<int>& unit = table.units.emplace_back();
        for (std::size_t column = first; column < read->header.size(); ++column) {
            const std::string& cell = read->rows[row][column];
            const std::optional<int> code = cell.empty() ? std::optional(kNotRated) : codeOf(cell, classes);
            if (!code && problems.size() < kMostProblems)
                problems.push_back({name, read->lines[row], read->header[column], cell, "this is no class",
                                    "a whole number from 0 to " + std::to_string(classes - 1) +
                                        ", or nothing for a unit that was not rated"});
            unit.push_back(code.value_or(kNotRated));
        }
    }
    if (!problems.empty()) return fail(name + " is no table of ratings", std::move(problems));
    return table;
}

}  // namespace markerlamp::core
