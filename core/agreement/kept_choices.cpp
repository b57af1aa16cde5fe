// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/agreement/kept_choices.h"

#include "core/base/json_records.h"

#include <algorithm>
#include <array>
#include <utility>

namespace markerlamp::core {

namespace {

constexpr std::string_view kFormat = "markerlamp.choices/1";
constexpr std::array<std::pair<Choice, const char*>, 4> kWords{
    {{Choice::Open, "open"}, {Choice::First, "first"}, {Choice::Second, "second"}, {Choice::Other, "other"}}};

struct OneChoice {
    std::string id;  ///< of the step
    Settling settling;
};

OneChoice readOne(JsonLine& line) {
    OneChoice one;
    one.id = line.text("step", true);
    const std::string word = line.text("choice", true);
    const auto known = std::ranges::find_if(kWords, [&](const auto& each) { return word == each.second; });
    if (known != kWords.end())
        one.settling.choice = known->first;
    else if (!word.empty())
        line.problem("choice", "\"" + word + "\" is no choice", "write open, first, second or other");
    if (line.has("reason")) one.settling.reason = line.text("reason", false, kMaxTextBytes);
    if (one.settling.choice != Choice::Other) {
        line.onlyKeys({"step", "choice", "reason"}, " in a choice");
        return one;
    }
    line.onlyKeys({"step", "choice", "reason", "observed", "shown", "prompted", "points"}, " in a choice");
    OtherMarks& marks = one.settling.other;
    marks.observed = line.boolean("observed", true).value_or(true);
    marks.shown = line.boolean("shown", true).value_or(false);
    marks.prompted = line.boolean("prompted", true).value_or(false);
    marks.points = line.texts("points");
    return one;
}

}  // namespace

std::string writeChoices(const Choices& choices) {
    std::string text = formatLine(kFormat);
    for (const auto& [step, settling] : choices) {
        JsonObjectText object;
        object.text("step", step);
        for (const auto& [choice, word] : kWords)
            if (choice == settling.choice) object.text("choice", word);
        object.textIf("reason", settling.reason);
        if (settling.choice == Choice::Other)
            object.boolean("observed", settling.other.observed)
                .boolean("shown", settling.other.shown)
                .boolean("prompted", settling.other.prompted)
                .list("points", settling.other.points);
        text += object.done() + "\n";
    }
    return text;
}

Result<Choices> readChoices(std::string_view text, const std::string& name) {
    auto records = readRecords<OneChoice>(text, name, kFormat, "the choices cannot be read", readOne);
    if (!records) return fail(records.error());
    Choices choices;
    for (OneChoice& one : *records) choices.emplace(std::move(one.id), std::move(one.settling));
    return choices;
}

}  // namespace markerlamp::core
