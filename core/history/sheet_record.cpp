// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/history/sheet_record.h"

#include "core/base/json_records.h"
#include "core/base/moment.h"

#include <algorithm>
#include <array>
#include <tuple>
#include <utility>

namespace markerlamp::core {

namespace {

constexpr std::string_view kFormat = "markerlamp.sheets/1";
constexpr std::array kNames{std::pair{SheetEvent::Made, std::string_view("made")},
                            std::pair{SheetEvent::Signed, std::string_view("signed")},
                            std::pair{SheetEvent::TakenBack, std::string_view("taken-back")}};

SheetRecord readOne(JsonLine& line) {
    line.onlyKeys({"id", "attempt", "what", "at"}, " in a record of a sheet");
    SheetRecord one;
    one.id = line.text("id", true);
    one.attempt = line.text("attempt", true);
    const std::string what = line.text("what", true);
    one.what = sheetEventOf(what);
    if (line.good() && nameOf(one.what) != what)
        line.problem("what", "\"" + what + "\" is nothing that happens to a sheet",
                     "write made, signed or taken-back");
    one.at = line.moment("at");
    return one;
}

}  // namespace

std::string_view nameOf(SheetEvent what) {
    return std::ranges::find(kNames, what, [](const auto& one) { return one.first; })->second;
}

SheetEvent sheetEventOf(std::string_view name) {
    const auto found = std::ranges::find(kNames, name, [](const auto& one) { return one.second; });
    return found == kNames.end() ? SheetEvent::Made : found->first;
}

std::map<std::string, SheetStanding> sheetStandings(std::vector<SheetRecord> records) {
    std::ranges::sort(records, {}, [](const SheetRecord& one) {
        return std::tuple(millisecondsOf(one.at).value_or(0), one.what, one.id);
    });
    std::map<std::string, SheetStanding> standings;
    for (const SheetRecord& one : records) {
        SheetStanding& standing = standings[one.attempt];
        if (one.what == SheetEvent::Made) {
            if (standing.made.empty()) standing.made = one.at;
        } else {
            standing.signedAt = one.what == SheetEvent::Signed ? one.at : std::string();
        }
    }
    return standings;
}

std::string writeSheetRecords(const std::vector<SheetRecord>& records) {
    std::string text = formatLine(kFormat);
    for (const SheetRecord& one : records)
        text += JsonObjectText()
                    .text("id", one.id)
                    .text("attempt", one.attempt)
                    .text("what", std::string(nameOf(one.what)))
                    .text("at", one.at)
                    .done() +
                "\n";
    return text;
}

Result<std::vector<SheetRecord>> readSheetRecords(std::string_view text, const std::string& name) {
    return readRecords<SheetRecord>(text, name, kFormat, "the records of sheets cannot be read", readOne);
}

}  // namespace markerlamp::core
