// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/agreement/settlement.h"

#include "core/base/json_records.h"
#include "core/base/moment.h"

#include <tuple>

namespace markerlamp::core {

namespace {

constexpr std::string_view kFormat = "markerlamp.settlements/1";
constexpr std::pair<const char*, std::vector<std::string> Settlement::*> kLists[] = {
    {"first_right", &Settlement::firstRight},
    {"second_right", &Settlement::secondRight},
    {"other", &Settlement::other},
    {"open", &Settlement::open}};

Settlement readOne(JsonLine& line) {
    line.onlyKeys(
        {"id", "first", "second", "settled", "by", "at", "first_right", "second_right", "other", "open"},
        " in a settlement");
    Settlement one;
    one.id = line.text("id", true);
    one.first = line.text("first", true);
    one.second = line.text("second", true);
    one.settled = line.text("settled", true);
    one.by = line.text("by", true);
    one.at = line.moment("at");
    if (line.good() && (one.first == one.second || one.first == one.settled || one.second == one.settled))
        line.problem("settled", "two of the three attempts are one",
                     "name three attempts: the first scoring, the second and the settled one");
    std::set<std::string> steps;
    for (const auto& [key, list] : kLists)
        for (std::string& step : one.*list = line.texts(key))
            if (!steps.insert(step).second)
                line.problem(key, "step \"" + step + "\" stands in two lists", "settle each step once");
    return one;
}

}  // namespace

std::set<std::string> settledAttempts(const std::vector<Settlement>& settlements) {
    std::set<std::string> ids;
    for (const Settlement& one : settlements) ids.insert(one.settled);
    return ids;
}

const Settlement* standing(const std::vector<Settlement>& settlements, std::string_view first,
                           std::string_view second) {
    const auto place = [](const Settlement& one) {
        return std::tuple(millisecondsOf(one.at).value_or(0), std::string_view(one.id));
    };
    const Settlement* newest = nullptr;
    for (const Settlement& one : settlements)
        if (one.first == first && one.second == second && (newest == nullptr || place(*newest) < place(one)))
            newest = &one;
    return newest;
}

std::string writeSettlements(const std::vector<Settlement>& settlements) {
    std::string text = formatLine(kFormat);
    for (const Settlement& one : settlements) {
        JsonObjectText object;
        object.text("id", one.id)
            .text("first", one.first)
            .text("second", one.second)
            .text("settled", one.settled)
            .text("by", one.by)
            .text("at", one.at);
        for (const auto& [key, list] : kLists) object.list(key, one.*list);
        text += object.done() + "\n";
    }
    return text;
}

Result<std::vector<Settlement>> readSettlements(std::string_view text, const std::string& name) {
    return readRecords<Settlement>(text, name, kFormat, "the settlements cannot be read", readOne);
}

}  // namespace markerlamp::core
