#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// When a trainee can be expected to be ready, if practice goes on as it did lately.

#include "core/readiness/forecast.h"

#include <optional>
#include <vector>

namespace markerlamp::core {

/// Further attempts over the whole test until the chance of passing reaches what Ready asks for, by the
/// model's own learning: 80 % interval over its draws. What a draw does not reach in kFarthestAhead attempts
/// is open.
struct ReadyAhead {
    bool now = false;         ///< the chance is there already
    std::optional<int> low;   ///< attempts, 10 % quantile; nothing: not foreseen
    std::optional<int> high;  ///< attempts, 90 % quantile; nothing: open
    double paceDays = 0;      ///< between two attempts, lately

    [[nodiscard]] std::optional<int> lowDays() const { return days(low); }
    [[nodiscard]] std::optional<int> highDays() const { return days(high); }
    /// How far the look goes, days: an open end lies beyond.
    [[nodiscard]] int horizonDays() const;

private:
    [[nodiscard]] std::optional<int> days(const std::optional<int>& attempts) const;
};

inline constexpr int kFarthestAhead = 32;

/// Median of the days between the last attempts (at most six), at least one; with fewer than two attempts
/// `usual`.
/// @param days of the attempts, oldest first
[[nodiscard]] double paceOf(const std::vector<double>& days, double usual);

/// @param readyAt chance that is asked for, 0..1
[[nodiscard]] ReadyAhead readyAhead(const LearningModel& model, ForecastRequest request, double readyAt,
                                    double paceDays);

}  // namespace markerlamp::core
