// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/readiness/readiness_records.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

namespace markerlamp::core {
namespace {

using ::testing::HasSubstr;

const std::string kForecastLine =
    R"({"id":"f-1","about":"full-attempt","trainee":"t-1","at":"2026-03-02T06:10:00-05:00","attempt":"a-1",)"
    R"("rubric":"r","edition":2,"model":1,"attempts":3,"chance":0.7,"low":0.5,"high":0.9,"word":"close",)"
    R"("computed":"not yet"})";
const std::string kForecastHead = "{\"format\":\"markerlamp.forecasts/1\"}\n";
const std::string kOverrideHead = "{\"format\":\"markerlamp.overrides/1\"}\n";
const std::string kTestHead = "{\"format\":\"markerlamp.tests/1\"}\n";
const std::string kOverrideLine =
    R"({"id":"o-1","trainee":"t-1","word":"ready","reason":"seen twice","by":"i-1","at":"2026-03-02T06:10Z"})";
const std::string kTestLine = R"({"id":"x-1","trainee":"t-1","date":"2026-03-09","passed":true})";

FrozenForecast sampleForecast() {
    FrozenForecast forecast;
    forecast.id = "f-1";
    forecast.trainee = "t-1";
    forecast.at = "2026-03-02T06:10:00-05:00";
    forecast.attempt = "a-1";
    forecast.rubric = "r";
    forecast.edition = 2;
    forecast.modelVersion = 1;
    forecast.attempts = 3;
    forecast.chance = 0.7;
    forecast.low = 0.5;
    forecast.high = 0.9;
    forecast.word = ReadinessWord::Close;
    forecast.computed = ReadinessWord::NotYet;
    return forecast;
}

std::string with(std::string line, const std::string& from, const std::string& to) {
    const auto at = line.find(from);
    EXPECT_NE(at, std::string::npos) << from;
    return line.replace(at, from.size(), to);
}

/// The first problem of a text that is refused.
template <class Read>
Problem problemOf(Read read, const std::string& text) {
    const auto records = read(text, "records.jsonl");
    if (records) {
        ADD_FAILURE() << "accepted: " << text;
        return {};
    }
    return records.error().problems.front();
}

TEST(ReadinessRecords, ForecastsAreWrittenAsTheyAreRead) {
    EXPECT_EQ(readForecasts(kForecastHead + kForecastLine + "\n").value(), std::vector{sampleForecast()});
    EXPECT_EQ(writeForecasts({sampleForecast()}), kForecastHead + kForecastLine + "\n");
    FrozenForecast ofTest = sampleForecast();
    ofTest.id = "f-2";
    ofTest.about = FrozenForecast::About::OfficialTest;
    ofTest.attempt.clear();
    const std::vector<FrozenForecast> both{sampleForecast(), ofTest};
    EXPECT_EQ(readForecasts(writeForecasts(both)).value(), both);
    EXPECT_TRUE(readForecasts(kForecastHead).value().empty());
}

TEST(ReadinessRecords, OverridesAreWrittenAsTheyAreRead) {
    Override entry{
        "o-1", "t-1", ReadinessWord::Ready, "seen \"twice\"\nby me", "i-1", "2026-03-02T06:10:00-05:00",
        false};
    Override back = entry;
    back.id = "o-2";
    back.withdrawn = true;
    const std::vector<Override> both{entry, back};
    EXPECT_EQ(readOverrides(writeOverrides(both)).value(), both);
    EXPECT_EQ(readOverrides(kOverrideHead + kOverrideLine).value().front().by, "i-1");
}

TEST(ReadinessRecords, TestResultsAreWrittenAsTheyAreRead) {
    const std::vector<TestResult> results{{"x-1", "t-1", "2026-03-09", "inspection", true, ""},
                                          {"x-2", "t-1", "2026-03-09", "road", false, "rain"}};
    EXPECT_EQ(readTestResults(writeTestResults(results)).value(), results);
    EXPECT_EQ(readTestResults(kTestHead + kTestLine).value().front().segment, "inspection");
}

RC_GTEST_PROP(ReadinessRecords, AnyChanceSurvivesToTheLastBit, ()) {
    FrozenForecast forecast = sampleForecast();
    forecast.chance = *rc::gen::inRange(0, 1'000'000'007) / 1'000'000'007.0;
    RC_ASSERT(readForecasts(writeForecasts({forecast})).value() == std::vector{forecast});
}

TEST(ReadinessRecords, ForecastsAreRefusedWithLineAndKey) {
    const std::vector<std::tuple<std::string, std::string, std::string>> bad{
        {"\"id\":\"f-1\",", "", "id"},
        {"\"id\"", "\"Id\"", "Id"},
        {"full-attempt", "drill", "about"},
        {"full-attempt", "official-test", "attempt"},
        {"\"attempt\":\"a-1\",", "", "attempt"},
        {"2026-03-02T06:10:00-05:00", "2026-03-02", "at"},
        {"\"edition\":2", "\"edition\":0", "edition"},
        {"\"edition\":2", "\"edition\":\"2\"", "edition"},
        {"\"model\":1", "\"model\":-1", "model"},
        {"\"attempts\":3", "\"attempts\":2.5", "attempts"},
        {"\"chance\":0.7", "\"chance\":70", "chance"},
        {"\"chance\":0.7", "\"chance\":null", "chance"},
        {"\"low\":0.5", "\"low\":0.95", "low"},
        {"\"close\"", "\"nearly\"", "word"},
        {"\"computed\":\"not yet\"", "\"computed\":true", "computed"},
        {"\"rubric\":\"r\"", "\"rubric\":\"\"", "rubric"},
        {"\"high\":0.9", "\"high\":0.9,\"high\":0.9", "high"}};
    for (const auto& [from, to, key] : bad) {
        const Problem problem =
            problemOf(readForecasts, kForecastHead + with(kForecastLine, from, to) + "\n");
        EXPECT_EQ(problem.line, 2) << to;
        EXPECT_EQ(problem.path, key) << to;
        EXPECT_EQ(problem.file, "records.jsonl");
        EXPECT_FALSE(problem.remedy.empty());
    }
}

TEST(ReadinessRecords, OverridesAndResultsAreRefusedWithLineAndKey) {
    const std::vector<std::tuple<std::string, std::string, std::string>> overrides{
        {"\"seen twice\"", "\"\"", "reason"},
        {"\"seen twice\"", "\" \\n\"", "reason"},
        {"\"by\":\"i-1\",", "", "by"},
        {"\"ready\"", "\"Ready\"", "word"},
        {"\"id\":\"o-1\"", "\"id\":\"o-1\",\"withdrawn\":1", "withdrawn"}};
    for (const auto& [from, to, key] : overrides) {
        const Problem problem = problemOf(readOverrides, kOverrideHead + with(kOverrideLine, from, to));
        EXPECT_EQ(problem.line, 2) << to;
        EXPECT_EQ(problem.path, key) << to;
    }
    const std::vector<std::tuple<std::string, std::string, std::string>> tests{
        {"2026-03-09", "2026-02-29", "date"},
        {"true", "\"yes\"", "passed"},
        {",\"passed\":true", "", "passed"},
        {"\"date\"", "\"day\"", "day"}};
    for (const auto& [from, to, key] : tests) {
        const Problem problem = problemOf(readTestResults, kTestHead + with(kTestLine, from, to));
        EXPECT_EQ(problem.line, 2) << to;
        EXPECT_EQ(problem.path, key) << to;
    }
}

TEST(ReadinessRecords, ADoubledIdIsRefusedAndNothingIsRead) {
    const Problem problem =
        problemOf(readForecasts, kForecastHead + kForecastLine + "\n" + kForecastLine + "\n");
    EXPECT_EQ(problem.line, 3);
    EXPECT_EQ(problem.path, "id");
    EXPECT_EQ(problemOf(readOverrides, kOverrideHead + kOverrideLine + "\n" + kOverrideLine).line, 3);
    EXPECT_EQ(problemOf(readTestResults, kTestHead + kTestLine + "\n" + kTestLine).line, 3);
}

TEST(ReadinessRecords, AnotherFormatIsRefusedByName) {
    EXPECT_THAT(problemOf(readForecasts, kOverrideHead + kOverrideLine).remedy,
                HasSubstr("markerlamp.forecasts/1"));
    EXPECT_EQ(problemOf(readForecasts, kForecastLine).line, 1);
    EXPECT_EQ(problemOf(readForecasts, "").line, 1);
    EXPECT_EQ(problemOf(readForecasts, "{\"format\":\"markerlamp.forecasts/1\",\"v\":2}\n").path, "v");
}

TEST(ReadinessRecords, HostileLinesAreRefused) {
    const std::string deep = kForecastHead + std::string(1000, '[') + std::string(1000, ']') + "\n";
    EXPECT_THAT(problemOf(readForecasts, deep).message, HasSubstr("nested"));
    EXPECT_THAT(problemOf(readForecasts, kForecastHead + std::string(600'000, ' ')).message,
                HasSubstr("longer than 512 KiB"));
    EXPECT_THAT(problemOf(readForecasts, kForecastHead + "[]\n").message, HasSubstr("not a JSON object"));
    EXPECT_THAT(problemOf(readForecasts, kForecastHead + "\xff\xfe\n").message, HasSubstr("not JSON"));
    EXPECT_THAT(problemOf(readForecasts, std::string((64u << 20) + 1, '\n')).message, HasSubstr("64 MiB"));
    const auto many = readForecasts(kForecastHead + std::string(100'000, '\n'));
    ASSERT_FALSE(many);
    EXPECT_EQ(many.error().problems.size(), 200u) << "problems are bounded too";
}

RC_GTEST_PROP(ReadinessRecords, ADamagedLineNeverComesThroughAsAnotherRecord, ()) {
    std::string text = kForecastHead + kForecastLine + "\n";
    const auto at = *rc::gen::inRange<std::size_t>(0, text.size());
    text[at] = static_cast<char>(*rc::gen::inRange(0, 256));
    const auto read = readForecasts(text);
    if (read)
        RC_ASSERT(readForecasts(writeForecasts(*read)).value() == *read);
    else
        RC_ASSERT(!read.error().problems.empty());
}

}  // namespace
}  // namespace markerlamp::core
