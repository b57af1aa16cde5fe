// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/readiness/track_record.h"

#include "core/base/moment.h"

#include <algorithm>
#include <cstdint>
#include <tuple>

namespace markerlamp::core {

namespace {

constexpr std::int64_t kMillisecondsOfDay = 86'400'000;

/// A result's place in time: a moment, or the beginning of a day.
std::int64_t placeOf(const TrackRow& row) {
    if (const auto moment = millisecondsOf(row.resultAt)) return *moment;
    return dayCountOf(row.resultAt).value_or(0) * kMillisecondsOfDay;
}

/// The later of two forecasts; of the same moment the greater id, so that their order does not matter.
bool newer(const FrozenForecast& a, const FrozenForecast& b) {
    return std::tuple(millisecondsOf(a.at), std::string_view(a.id)) >
           std::tuple(millisecondsOf(b.at), std::string_view(b.id));
}

TrackRow rowOf(const FrozenForecast& forecast, FrozenForecast::About about) {
    TrackRow row;
    row.about = about;
    row.trainee = forecast.trainee;
    row.at = forecast.at;
    row.chance = forecast.chance;
    row.low = forecast.low;
    row.high = forecast.high;
    row.tooLittle = forecast.computed == ReadinessWord::TooLittle;
    row.modelVersion = forecast.modelVersion;
    return row;
}

void addFullAttempts(std::vector<TrackRow>& rows, const std::vector<FrozenForecast>& forecasts,
                     const std::map<std::string, AttemptOutcome>& attempts) {
    std::map<std::string, const FrozenForecast*> best;
    for (const FrozenForecast& forecast : forecasts) {
        if (forecast.about != FrozenForecast::About::FullAttempt) continue;
        const auto outcome = attempts.find(forecast.attempt);
        if (outcome == attempts.end() || outcome->second.result == AttemptResult::Incomplete) continue;
        const auto frozen = millisecondsOf(forecast.at);
        const auto came = millisecondsOf(outcome->second.at);
        if (!frozen || !came || *frozen > *came) continue;
        const FrozenForecast*& kept = best[forecast.attempt];
        if (kept == nullptr || newer(forecast, *kept)) kept = &forecast;
    }
    for (const auto& [attempt, forecast] : best) {
        const AttemptOutcome& outcome = attempts.at(attempt);
        TrackRow& row = rows.emplace_back(rowOf(*forecast, FrozenForecast::About::FullAttempt));
        row.of = attempt;
        row.resultAt = outcome.at;
        row.passed = outcome.result == AttemptResult::Pass;
    }
}

/// The newest forecast of the trainee from the day `from` on and before the day `to`.
const FrozenForecast* forecastBetween(const std::vector<FrozenForecast>& forecasts,
                                      const std::string& trainee, std::int64_t from, std::int64_t to) {
    const FrozenForecast* found = nullptr;
    for (const FrozenForecast& forecast : forecasts) {
        if (forecast.trainee != trainee) continue;
        const auto day = dayCountOf(localDateOf(forecast.at));
        if (!day || *day < from || *day >= to) continue;
        if (found == nullptr || newer(forecast, *found)) found = &forecast;
    }
    return found;
}

/// A test has a day and no hour, so a forecast of that day may be younger than the result and does not count.
/// A forecast is about the next test only: after a failed test a retest needs a fresh one.
void addTests(std::vector<TrackRow>& rows, const std::vector<FrozenForecast>& forecasts,
              std::vector<TestResult> tests) {
    std::erase_if(tests, [](const TestResult& test) {
        return test.segment != kInspectionSegment || !dayCountOf(test.date);
    });
    std::ranges::sort(tests, {}, [](const TestResult& test) {
        return std::tuple<const std::string&, const std::string&>(test.date, test.id);
    });
    std::map<std::string, std::int64_t> lastTest;
    for (const TestResult& test : tests) {
        const std::int64_t day = *dayCountOf(test.date);
        const auto last = lastTest.find(test.trainee);
        const FrozenForecast* forecast =
            forecastBetween(forecasts, test.trainee, last == lastTest.end() ? 0 : last->second, day);
        lastTest[test.trainee] = day;
        if (forecast == nullptr) continue;
        TrackRow& row = rows.emplace_back(rowOf(*forecast, FrozenForecast::About::OfficialTest));
        row.of = test.id;
        row.resultAt = test.date;
        row.passed = test.passed;
    }
}

}  // namespace

TrackRecord trackRecordOf(std::vector<TrackRow> rows) {
    TrackRecord record;
    std::ranges::stable_sort(rows, {}, [](const TrackRow& row) {
        return std::tuple<std::int64_t, const std::string&>(placeOf(row), row.of);
    });
    record.rows = std::move(rows);
    std::vector<ForecastAndResult> pairs;
    pairs.reserve(record.rows.size());
    for (const TrackRow& row : record.rows) pairs.push_back({row.chance, row.passed});
    record.quality = forecastQuality(pairs);
    return record;
}

TrackRecord frozenRecord(const std::vector<FrozenForecast>& forecasts,
                         const std::map<std::string, AttemptOutcome>& attempts,
                         const std::vector<TestResult>& tests) {
    std::vector<TrackRow> rows;
    addFullAttempts(rows, forecasts, attempts);
    addTests(rows, forecasts, tests);
    return trackRecordOf(std::move(rows));
}

}  // namespace markerlamp::core
