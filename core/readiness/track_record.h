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

/// Puts the rows in order and judges them.
[[nodiscard]] TrackRecord trackRecordOf(std::vector<TrackRow> rows);

/// What came of an ended full attempt.
struct AttemptOutcome {
    AttemptResult result = AttemptResult::Fail;
    std::string at;  ///< when the attempt began: a younger forecast may have seen it and does not count
};
/// Frozen forecasts with their results: the newest before a full attempt with that attempt's result
/// (incomplete is no result), and the newest of the trainee before an official test of the inspection with
/// the test's. A test has no hour: only forecasts of earlier days count, each for the next test alone.
/// @param attempts attempt id -> outcome, for ended full attempts
[[nodiscard]] TrackRecord frozenRecord(const std::vector<FrozenForecast>& forecasts,
                                       const std::map<std::string, AttemptOutcome>& attempts,
                                       const std::vector<TestResult>& tests);

/// A full attempt to forecast once more.
struct ReplayAttempt {
    std::string id;
    std::string trainee;
    std::string started;
    std::shared_ptr<const Rubric> rubric;  ///< the edition it was scored with
    std::vector<std::string> equipment;
    AttemptResult result = AttemptResult::Fail;
};
/// The past again: each full attempt forecast from what was known before it began; incomplete ones have no
/// result. The same table for a program that has just been imported. Empty when progress said stop.
[[nodiscard]] TrackRecord replay(ModelSeries& models, const std::vector<ReplayAttempt>& fullAttempts,
                                 const std::function<bool(double)>& progress = {});

}  // namespace markerlamp::core
