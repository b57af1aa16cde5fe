#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What the lamps show: a pure fold over the events, one entry per step in scope. The scorecard judges; this
// only tells what was recorded.

#include "core/attempt/attempt.h"
#include "core/rubric/rubric.h"

#include <optional>
#include <string>
#include <vector>

namespace markerlamp::core {

enum class PointMark { Open, Said, Wrong };

struct StepMarks {
    std::string step;
    std::string zone;
    bool hasShow = true;            ///< the step has something to show
    bool shown = false;             ///< a show event stands
    std::vector<PointMark> points;  ///< in the order of Step::say
    bool partly = false;            ///< some of the explanation, points not noted
    bool wrong = false;             ///< a wrong event stands that names no point
    bool fault = false;             ///< a real defect was called out
    bool omitted = false;           ///< not engaged, last of omit/unseen/unreached is omit
    bool unseen = false;            ///< the same with unseen
    bool unreached = false;         ///< the same with unreached
    int prompts = 0;
    bool amended = false;           ///< an event after the end touches the step
    std::optional<double> reading;  ///< last reading
    std::string readingUnit;
    int position = 0;         ///< n that orders the step; 0 when it is not engaged
    double firstSeconds = 0;  ///< t of that event
    std::vector<std::string> notes;

    [[nodiscard]] bool engaged() const { return position > 0; }
    /// Still dark: nothing at all was recorded for it (a prompt alone leaves it dark).
    [[nodiscard]] bool open() const { return !engaged() && !omitted && !unseen && !unreached; }
    bool operator==(const StepMarks&) const = default;
};

/// Marks of all steps in scope, in rubric order. The attempt must be sound for the rubric.
[[nodiscard]] std::vector<StepMarks> foldMarks(const Rubric& rubric, const Attempt& attempt);

/// Which of the attempt's events stand, i.e. are named by no retract; same length as attempt.events.
[[nodiscard]] std::vector<bool> standingEvents(const Attempt& attempt);

/// Steps in scope (zone among the attempt's, `when` holds), in rubric order.
[[nodiscard]] std::vector<const Step*> stepsInScope(const Rubric& rubric, const AttemptHeader& header);

/// The limit that judges a step's reading for this attempt: the bus's bounds, else the rubric's, else the
/// rule's own. nullopt when the step has no reading.
[[nodiscard]] std::optional<Limit> readingLimit(const Rubric& rubric, const AttemptHeader& header,
                                                const Step& step);

/// The bounds a spoken number is compared with, likewise.
[[nodiscard]] std::optional<Limit> pointLimit(const Rubric& rubric, const AttemptHeader& header,
                                              const PointNumber& number);

/// Seconds between each pause and its resume; an open pause lasts to the last event.
[[nodiscard]] double pausedSeconds(const Attempt& attempt);

/// Clock of the attempt at time t of the last event: seconds without pauses.
[[nodiscard]] double runningSeconds(const Attempt& attempt);

}  // namespace markerlamp::core
