// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/readiness/readiness_records.h"

#include "core/base/json_records.h"
#include "core/base/text.h"

namespace markerlamp::core {

namespace {

constexpr std::string_view kForecasts = "markerlamp.forecasts/1";
constexpr std::string_view kOverrides = "markerlamp.overrides/1";
constexpr std::string_view kTests = "markerlamp.tests/1";

constexpr std::string_view kFullAttempt = "full-attempt";
constexpr std::string_view kOfficialTest = "official-test";
constexpr std::string_view kWordsToUse = "use \"ready\", \"close\", \"not yet\" or \"too little data\"";

ReadinessWord readWord(JsonLine& line, const std::string& key) {
    const std::string text = line.text(key, true);
    const auto word = readinessFromWord(text);
    if (!word && !text.empty())
        line.problem(key, "\"" + key + "\" is not a readiness word", std::string(kWordsToUse));
    return word.value_or(ReadinessWord::TooLittle);
}

double readChance(JsonLine& line, const std::string& key) {
    const auto chance = line.number(key, true);
    if (chance && (*chance < 0 || *chance > 1))
        line.problem(key, "\"" + key + "\" is not a chance", "give a number from 0 to 1");
    return chance.value_or(0);
}

FrozenForecast readForecast(JsonLine& line) {
    line.onlyKeys({"id", "about", "trainee", "at", "attempt", "rubric", "edition", "model", "attempts",
                   "chance", "low", "high", "word", "computed"},
                  " in a forecast");
    FrozenForecast forecast;
    forecast.id = line.text("id", true);
    const std::string about = line.text("about", true);
    if (!about.empty() && about != kFullAttempt && about != kOfficialTest)
        line.problem("about", "\"about\" is neither a full attempt nor an official test",
                     "use \"full-attempt\" or \"official-test\"");
    const bool ofTest = about == kOfficialTest;
    forecast.about = ofTest ? FrozenForecast::About::OfficialTest : FrozenForecast::About::FullAttempt;
    forecast.trainee = line.text("trainee", true);
    forecast.at = line.moment("at");
    if (about == kFullAttempt) forecast.attempt = line.text("attempt", true);
    if (ofTest && line.has("attempt"))
        line.problem("attempt", "a forecast about an official test names an attempt", "leave the key out");
    forecast.rubric = line.text("rubric", true);
    forecast.edition = line.integer("edition").value_or(1);
    forecast.modelVersion = line.integer("model", 0).value_or(0);
    forecast.attempts = line.integer("attempts", 0).value_or(0);
    forecast.chance = readChance(line, "chance");
    forecast.low = readChance(line, "low");
    forecast.high = readChance(line, "high");
    if (line.good() && forecast.low > forecast.high)
        line.problem("low", "low is above high", "give the smaller number as low");
    forecast.word = readWord(line, "word");
    forecast.computed = readWord(line, "computed");
    return forecast;
}

Override readOverride(JsonLine& line) {
    line.onlyKeys({"id", "trainee", "word", "reason", "by", "at", "withdrawn"}, " in an override");
    Override entry;
    entry.id = line.text("id", true);
    entry.trainee = line.text("trainee", true);
    entry.word = readWord(line, "word");
    entry.reason = line.text("reason", true, kMaxTextBytes);
    if (!entry.reason.empty() && entry.reason.find_first_not_of(" \t\r\n") == std::string::npos)
        line.problem("reason", "\"reason\" says nothing", "say why the program's word does not hold");
    entry.by = line.text("by", true);
    entry.at = line.moment("at");
    entry.withdrawn = line.boolean("withdrawn", false).value_or(false);
    return entry;
}

TestResult readTestResult(JsonLine& line) {
    line.onlyKeys({"id", "trainee", "date", "segment", "passed", "note"}, " in a test result");
    TestResult result;
    result.id = line.text("id", true);
    result.trainee = line.text("trainee", true);
    result.date = line.text("date", true);
    if (!result.date.empty() && !isIsoDate(result.date))
        line.problem("date", "\"date\" is not a day that exists", "write it like 2026-03-02");
    result.segment = line.has("segment") ? line.text("segment", true) : std::string(kInspectionSegment);
    result.passed = line.boolean("passed", true).value_or(false);
    result.note = line.text("note", false, kMaxTextBytes);
    return result;
}

}  // namespace

std::string writeForecasts(const std::vector<FrozenForecast>& forecasts) {
    std::string text = formatLine(kForecasts);
    for (const FrozenForecast& forecast : forecasts) {
        const bool ofTest = forecast.about == FrozenForecast::About::OfficialTest;
        text += JsonObjectText()
                    .text("id", forecast.id)
                    .text("about", std::string(ofTest ? kOfficialTest : kFullAttempt))
                    .text("trainee", forecast.trainee)
                    .text("at", forecast.at)
                    .textIf("attempt", forecast.attempt)
                    .text("rubric", forecast.rubric)
                    .number("edition", forecast.edition)
                    .number("model", forecast.modelVersion)
                    .number("attempts", forecast.attempts)
                    .number("chance", forecast.chance)
                    .number("low", forecast.low)
                    .number("high", forecast.high)
                    .text("word", std::string(toWord(forecast.word)))
                    .text("computed", std::string(toWord(forecast.computed)))
                    .done() +
                "\n";
    }
    return text;
}

Result<std::vector<FrozenForecast>> readForecasts(std::string_view text, const std::string& name) {
    return readRecords<FrozenForecast>(text, name, kForecasts, "the forecasts cannot be read", readForecast);
}

std::string writeOverrides(const std::vector<Override>& overrides) {
    std::string text = formatLine(kOverrides);
    for (const Override& entry : overrides) {
        JsonObjectText object;
        object.text("id", entry.id)
            .text("trainee", entry.trainee)
            .text("word", std::string(toWord(entry.word)))
            .text("reason", entry.reason)
            .text("by", entry.by)
            .text("at", entry.at);
        if (entry.withdrawn) object.boolean("withdrawn", true);
        text += object.done() + "\n";
    }
    return text;
}

Result<std::vector<Override>> readOverrides(std::string_view text, const std::string& name) {
    return readRecords<Override>(text, name, kOverrides, "the overrides cannot be read", readOverride);
}

std::string writeTestResults(const std::vector<TestResult>& results) {
    std::string text = formatLine(kTests);
    for (const TestResult& result : results)
        text += JsonObjectText()
                    .text("id", result.id)
                    .text("trainee", result.trainee)
                    .text("date", result.date)
                    .text("segment", result.segment)
                    .boolean("passed", result.passed)
                    .textIf("note", result.note)
                    .done() +
                "\n";
    return text;
}

Result<std::vector<TestResult>> readTestResults(std::string_view text, const std::string& name) {
    return readRecords<TestResult>(text, name, kTests, "the test results cannot be read", readTestResult);
}

}  // namespace markerlamp::core
