// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

// Forecasts of what has already happened; the other half of track_record.h.

#include "core/readiness/practice_record.h"
#include "core/readiness/track_record.h"

#include <algorithm>
#include <tuple>

namespace markerlamp::core {

namespace {

TrackRow replayedRow(const ReplayAttempt& attempt, const Forecast& forecast) {
    TrackRow row;
    row.source = TrackRow::Source::Replayed;
    row.trainee = attempt.trainee;
    row.at = attempt.started;
    row.of = attempt.id;
    row.resultAt = attempt.started;
    row.chance = forecast.chance;
    row.low = forecast.low;
    row.high = forecast.high;
    row.tooLittle = forecast.tooLittle;
    row.passed = attempt.result == AttemptResult::Pass;
    row.modelVersion = forecast.modelVersion;
    return row;
}

/// The attempts with a result, oldest first.
std::vector<const ReplayAttempt*> toReplay(const std::vector<ReplayAttempt>& attempts) {
    std::vector<const ReplayAttempt*> list;
    for (const ReplayAttempt& attempt : attempts)
        if (attempt.result != AttemptResult::Incomplete && attempt.rubric && dayOf(attempt.started))
            list.push_back(&attempt);
    std::ranges::sort(list, {}, [](const ReplayAttempt* attempt) {
        return std::tuple<double, const std::string&>(*dayOf(attempt->started), attempt->id);
    });
    return list;
}

}  // namespace

TrackRecord replay(ModelSeries& models, const std::vector<ReplayAttempt>& fullAttempts,
                   const std::function<bool(double)>& progress) {
    const std::vector<const ReplayAttempt*> attempts = toReplay(fullAttempts);
    std::vector<TrackRow> rows;
    rows.reserve(attempts.size());
    for (const ReplayAttempt* attempt : attempts) {
        const double day = *dayOf(attempt->started);
        const auto done = static_cast<double>(rows.size());
        const auto all = static_cast<double>(attempts.size());
        const auto goOn = [&](double part) { return !progress || progress((done + part) / all); };
        if (!goOn(0)) return {};
        const auto model = models.at(day, goOn);
        if (!model) return {};
        ForecastRequest request;
        request.trainee = attempt->trainee;
        request.at = day;
        request.scope = wholeScope(attempt->rubric, attempt->equipment);
        rows.push_back(replayedRow(*attempt, forecast(*model, request)));
    }
    return trackRecordOf(std::move(rows));
}

}  // namespace markerlamp::core
