// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/base/text.h"
#include "core/export/study_folder.h"

#include <nlohmann/json.hpp>

#include <algorithm>

namespace markerlamp::core {

namespace {

using Json = nlohmann::ordered_json;
using What = StudyRule::What;

std::string_view wordOf(ColumnKind kind) {
    switch (kind) {
        case ColumnKind::Text:
            return "text";
        case ColumnKind::Whole:
            return "whole number";
        case ColumnKind::Number:
            return "number";
        case ColumnKind::Percent:
            return "percent, 0 to 100";
        case ColumnKind::Share:
            return "share, 0 to 1";
        case ColumnKind::Date:
            return "date";
        case ColumnKind::Moment:
            return "date and time of day";
        default:
            return "yes or no";
    }
}

std::string_view wordOf(What what) {
    switch (what) {
        case What::Keep:
            return "kept";
        case What::Key:
            return "keyed";
        case What::Shift:
            return "moved";
        default:
            return "left out";
    }
}

std::vector<std::string> leftOut(TableId id) {
    std::vector<std::string> names;
    for (const Column& column : exportTable(id).columns)
        if (column.study.what == What::LeaveOut) names.emplace_back(column.name);
    return names;
}

std::string saltSentence(bool saltKept) {
    return saltKept
               ? "The salt was kept in a file of its own: exports made with that file have the same keys "
                 "and dates and can be joined. Whoever has the file can find people by trying their names. "
                 "Keep it apart from this folder."
               : "The salt was thrown away: nobody can make these keys again, and another export has "
                 "others.";
}

/// Lines of at most so many characters where there are spaces to break at, the later ones indented.
std::string wrapped(std::string_view text, std::size_t indent = 0) {
    constexpr std::size_t kLine = 100;
    std::string all;
    std::size_t used = 0;
    while (!text.empty()) {
        const std::string_view word = text.substr(0, text.find(' '));
        text.remove_prefix(std::min(text.size(), word.size() + 1));
        if (used > 0 && used + 1 + word.size() > kLine) {
            all += "\n" + std::string(indent, ' ');
            used = indent;
        } else if (used > 0) {
            all += ' ';
            ++used;
        }
        all += word;
        used += word.size();
    }
    return all + "\n";
}

std::string beside(int count, std::string_view one) {
    return counted(count, one, std::string(one) + "s");
}

std::string countsText(const StudyCounts& c) {
    const std::string few = " beside fewer than " + std::to_string(kFewPeople) + " trainees";
    std::string text = "Trainees:    " + std::to_string(c.trainees) + "\n";
    text += "Attempts:    " + std::to_string(c.attempts) + "\n";
    text += "Instructors: " + std::to_string(c.instructors) + ", of these " +
            std::to_string(c.loneInstructors) + few + "\n";
    text +=
        "Buses:       " + std::to_string(c.buses) + ", of these " + std::to_string(c.loneBuses) + few + "\n";
    text += "Groups:      " + std::to_string(c.groups) + ", of these " + std::to_string(c.loneGroups) + few +
            "\n";
    return text;
}

std::string tablesText(const CsvFolder& folder) {
    std::string text;
    for (const Table& table : folder.tables()) {
        text += "\n" + wrapped(std::string(table.name) + ".csv: " + std::string(table.about) + "; " +
                                   beside(static_cast<int>(folder.rows(table.id)), "row"),
                               2);
        for (const Column& column : table.columns)
            text +=
                "  " + wrapped(std::string(column.name) + " (" + std::string(wordOf(column.kind)) + ", " +
                                   std::string(wordOf(column.study.what)) + "): " + std::string(column.about),
                               4);
        text += "  " + wrapped("Left out: " + listed(leftOut(table.id)) + ".", 4);
    }
    return text;
}

}  // namespace

std::string studyReadme(const CsvFolder& folder, const StudyCounts& counts, bool saltKept) {
    std::string text = "Study export (markerlamp.study/1): marks of practice inspections without names\n\n";
    text += wrapped(
        "PEOPLE CAN STILL BE RECOGNIZED. Nobody is named here, but who knows the program can know somebody "
        "by "
        "what is unusual: the only one who took ten attempts, the only one who failed twice, the days on "
        "which "
        "a class began. The smaller the program, the easier. Pass this folder on only to people who have "
        "promised in writing not to try, and ask your own rules on data about trainees first.");
    text += "\nHow much there is\n\n" + countsText(counts) + "\nWhat was done\n\n";
    text += wrapped(
        "keyed: keys of trainees, instructors, buses, groups, attempts and rubrics are keyed hashes "
        "(BLAKE2b, RFC 7693, with a random salt of 256 bits). " +
            saltSentence(saltKept),
        2);
    text += wrapped(
        "moved: the dates of each trainee are moved by one number of whole weeks, each trainee's own, to "
        "after "
        "the year 2100. Weekdays and the days between dates of one trainee are kept; dates of two trainees "
        "cannot be compared. Times of day are kept to the quarter of an hour, without the offset.",
        2);
    text += wrapped(
        "left out: names, notes and all other free text, titles, equipment, medical dates. What was left out "
        "stands with each table.",
        2);
    text += wrapped(
        "kept: marks, counts, forecasts, and the ids of zones, steps, points and order rules as the rubric "
        "writes "
        "them. Trainees are in the order of their keys here, not in that of the program.",
        2);
    text +=
        "\n" + wrapped(
                   "LOOK AT THE IDS before you pass this on: a rubric of your own can have put a name into "
                   "one. Zones: " +
                   (counts.zones.empty() ? std::string("none") : listed(counts.zones)) + ".");
    text += "\nTables (CSV, UTF-8, RFC 4180; an empty cell means not known)\n" + tablesText(folder);
    text += "\n" +
            wrapped(
                "A text that begins with = + - @ has an apostrophe before it, so that no spreadsheet takes "
                "it for a formula.");
    return text;
}

std::string studyDictionary(const CsvFolder& folder, const StudyCounts& c, bool saltKept) {
    Json tables = Json::array();
    for (const Table& table : folder.tables()) {
        Json columns = Json::array();
        for (const Column& column : table.columns)
            columns.push_back({{"name", column.name},
                               {"type", wordOf(column.kind)},
                               {"study", wordOf(column.study.what)},
                               {"about", column.about}});
        tables.push_back({{"file", std::string(table.name) + ".csv"},
                          {"about", table.about},
                          {"rows", folder.rows(table.id)},
                          {"columns", std::move(columns)},
                          {"left_out", leftOut(table.id)}});
    }
    const Json document{{"format", "markerlamp.study/1"},
                        {"keys", "BLAKE2b keyed with a random salt of 256 bits"},
                        {"salt_kept", saltKept},
                        {"dates", "moved by whole weeks, one number for each trainee"},
                        {"people_can_still_be_recognised", true},
                        {"trainees", c.trainees},
                        {"attempts", c.attempts},
                        {"instructors", c.instructors},
                        {"buses", c.buses},
                        {"groups", c.groups},
                        {"few", kFewPeople},
                        {"instructors_beside_few_trainees", c.loneInstructors},
                        {"buses_beside_few_trainees", c.loneBuses},
                        {"groups_of_few_trainees", c.loneGroups},
                        {"zones", c.zones},
                        {"tables", std::move(tables)}};
    return document.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace markerlamp::core
