#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Two scorings of one performance side by side: where they differ, on one clock, and the attempt that comes
// out once the differences are settled.

#include "core/attempt/marks.h"
#include "core/base/result.h"
#include "core/history/history.h"

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace markerlamp::core {

/// How one scoring has a step.
struct StepReading {
    StepMarks marks;
    StepOutcome outcome = StepOutcome::Omitted;

    [[nodiscard]] bool observed() const {
        return outcome != StepOutcome::Unseen && outcome != StepOutcome::Unreached;
    }
};

struct StepDifference {
    std::string step, title, zone;  ///< zone: its title
    StepReading first, second;
    double seconds =
        0;  ///< since the start, on the first's clock; of the earlier of the two where both have it

    [[nodiscard]] bool observedByBoth() const { return first.observed() && second.observed(); }
};

struct ScoringPair {
    int observedByBoth = 0;  ///< steps
    int observedByOne = 0;
    int differing = 0;    ///< of those that both observed
    int commonSteps = 0;  ///< engaged in both: what the clocks were aligned by
    double behind = 0;    ///< seconds by which the second's clock is later: median over the common steps
    std::vector<StepDifference> differences;  ///< in rubric order
};

/// Steps in scope of both. A step differs when its outcome, what was shown or which points were said by own
/// credit differs; two that did not observe it do not differ.
[[nodiscard]] ScoringPair compareScorings(const ScoredAttempt& first, const ScoredAttempt& second);

enum class Choice { Open, First, Second, Other };

/// What the two say that it was, where neither had it right.
struct OtherMarks {
    bool observed = true;
    bool shown = false;
    bool prompted = false;            ///< all of it with help
    std::vector<std::string> points;  ///< said, by id

    bool operator==(const OtherMarks&) const = default;
};
/// The marks of a step as such.
[[nodiscard]] OtherMarks otherMarksOf(const Step& step, const StepMarks& marks);

struct Settling {
    Choice choice = Choice::Open;
    OtherMarks other;    ///< for Choice::Other
    std::string reason;  ///< may be empty

    bool operator==(const Settling&) const = default;
};

/// The attempt that holds what was settled: the first scoring's events, in the place of each difference those
/// that were chosen, on the first's clock; what is open is not observed there, so that it is neither credit
/// nor fault. Reasons become notes of their steps. A difference that `settled` does not name is open.
/// @param id of the new attempt; @param by instructor who settles
[[nodiscard]] Result<Attempt> settledAttempt(const ScoredAttempt& first, const ScoredAttempt& second,
                                             const std::map<std::string, Settling>& settled,
                                             const std::string& id, const std::string& by);

}  // namespace markerlamp::core
