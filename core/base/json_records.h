#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Lists of records as JSON Lines: {"format": ...} first, then one record a line, each with an id of its own.
// For core's own readers, as json_lines.h.

#include "core/base/json_lines.h"

#include <functional>
#include <set>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace markerlamp::core {

[[nodiscard]] inline std::string formatLine(std::string_view format) {
    return JsonObjectText().text("format", std::string(format)).done() + "\n";
}

template <class Record>
Result<std::vector<Record>> readRecords(std::string_view text, const std::string& name,
                                        std::string_view format, const std::string& refusal,
                                        const std::function<Record(JsonLine&)>& readOne) {
    const JsonLinesForm form{.mostBytes = 64u << 20,
                             .tooLarge = "the document is larger than 64 MiB",
                             .tooLargeRemedy = "split it, each part with its format line",
                             .mostLines = 200'001,
                             .tooManyLines = "the document has more than 200,000 records",
                             .tooManyLinesRemedy = "split it, each part with its format line",
                             .oneALine = "write one record on each line"};
    ProblemList problems(name);
    std::vector<Record> records;
    std::set<std::string> ids;
    readJsonLines(text, form, problems, [&](int number, JsonLine* line) {
        if (line == nullptr) return;
        if (number == 1) {
            line->onlyKeys({"format"}, " in the first line");
            line->format(format);
            return;
        }
        Record record = readOne(*line);
        if (!record.id.empty() && !ids.insert(record.id).second)
            line->problem("id", "the id stands twice", "give each record an id of its own");
        records.push_back(std::move(record));
    });
    if (!problems.problems().empty()) return fail(refusal, std::move(problems.problems()));
    return records;
}

}  // namespace markerlamp::core
