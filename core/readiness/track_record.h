#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Forecasts against what came of them.

#include "core/readiness/forecast.h"
#include "core/readiness/readiness_records.h"
#include "core/stats/forecast_quality.h"

#include <functional>
#include <map>
#include <memory>
#include <string>
#include <vector>

namespace markerlamp::core {

struct TrackRow {
    enum class Source { Frozen, Replayed } source = Source::Frozen;
    FrozenForecast::About about = FrozenForecast::About::FullAttempt;
    std::string trainee;
    std::string at;        ///< when the forecast was made
    std::string of;        ///< attempt id, or id of the test result
    std::string resultAt;  ///< when the result came
    double chance = 0, low = 0, high = 1;
    bool tooLittle = false;
    bool passed = false;
    int modelVersion = 0;
};

struct TrackRecord {
    std::vector<TrackRow> rows;  ///< oldest result first
    ForecastQuality quality;     ///< over all rows
    [[nodiscard]] bool tooFew() const { return quality.results < kFewestForCalibration; }
};

/// Frozen forecasts with their results: the one before a full attempt with that attempt's result (incomplete
/// is no result), the newest before an official test with the test's.
/// @param results attempt id -> result, for ended full attempts
struct AttemptOutcome {
    AttemptResult result = AttemptResult::Fail;
    std::string at;
};
[[nodiscard]] TrackRecord frozenRecord(const std::vector<FrozenForecast>& forecasts,
                                       const std::map<std::string, AttemptOutcome>& attempts,
                                       const std::vector<TestResult>& tests);

/// The past again: each full attempt forecast from what was known before it began. The same table for a
/// program that has just been imported. Empty when progress said stop.
/// @param rubrics finds the edition an attempt was scored with
struct ReplayAttempt {
    std::string id;
    std::string trainee;
    std::string started;
    std::shared_ptr<const Rubric> rubric;
    std::vector<std::string> equipment;
    AttemptResult result = AttemptResult::Fail;
};
[[nodiscard]] TrackRecord replay(ModelSeries& models, const std::vector<ReplayAttempt>& fullAttempts,
                                 const std::function<bool(double)>& progress = {});

}  // namespace markerlamp::core
