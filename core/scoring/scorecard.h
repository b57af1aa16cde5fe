#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The scorecard: what the rules make of an attempt. Always recomputed from the events, never the source of
// truth.

#include "core/attempt/attempt.h"
#include "core/base/result.h"
#include "core/rubric/order_relation.h"
#include "core/rubric/rubric.h"

#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace markerlamp::core {

enum class StepOutcome { Satisfied, Partial, Wrong, Prompted, Omitted, Unseen, Unreached };
enum class AttemptResult { Pass, Incomplete, Fail };

[[nodiscard]] std::string_view toWord(StepOutcome outcome);
[[nodiscard]] std::string_view toWord(AttemptResult result);

struct Reason {
    enum class Code {
        BelowPercent,
        MustPass,
        StrictOrder,
        OverTime,
        Unseen,
        Unfinished
    } code = Code::BelowPercent;
    std::string step;  ///< MustPass, Unseen
    std::string rule;  ///< StrictOrder

    bool operator==(const Reason&) const = default;
};

[[nodiscard]] std::string_view toWord(Reason::Code code);

struct OrderFault {
    std::string first;  ///< step that the rules want first, and that came later
    std::string then;
    std::string
        rule;  ///< a rule that states or implies the pair (the one that states it, where there is one)

    bool operator==(const OrderFault&) const = default;
};

struct ZoneScore {
    std::string zone;
    double percent = 0;
    int earned = 0;
    int possible = 0;

    bool operator==(const ZoneScore&) const = default;
};

struct StepScore {
    std::string step;
    std::string zone;
    StepOutcome outcome = StepOutcome::Omitted;
    bool shown = false;  ///< by own credit
    int said = 0;        ///< distinct points said by own credit
    int needed = 0;
    std::vector<std::string> missedPoints;  ///< points not said by own credit
    bool prompted = false;
    int position = 0;  ///< n; 0 when not engaged (null in JSON)

    bool operator==(const StepScore&) const = default;
};

struct Scorecard {
    std::string attempt;
    std::string rubric;
    int edition = 1;
    AttemptResult result = AttemptResult::Fail;
    std::vector<Reason> reasons;
    double percent = 0;
    int earned = 0;
    int possible = 0;
    double shownPercent = 100;
    double saidPercent = 100;
    double orderPercent = 100;
    std::vector<std::string> displaced;  ///< a smallest set, in observed order
    std::vector<std::string>
        alwaysDisplaced;  ///< the steps that every smallest set contains; not in the JSON
    std::vector<OrderFault> orderFaults;
    std::vector<std::string> brokenRules;
    double seconds = 0;
    std::vector<ZoneScore> zones;
    std::vector<StepScore> steps;

    bool operator==(const Scorecard&) const = default;
};

/// A rubric made ready to score many attempts. Immutable; one may be shared between threads.
class Scorer {
public:
    explicit Scorer(std::shared_ptr<const Rubric> rubric);
    ~Scorer();
    Scorer(Scorer&&) noexcept;
    Scorer& operator=(Scorer&&) noexcept;

    /// The attempt must be sound for the rubric (checkAgainstRubric() empty).
    /// @param withAlways also fill alwaysDisplaced (costs one more cut per conflicting step)
    [[nodiscard]] Scorecard score(const Attempt& attempt, bool withAlways = false) const;
    [[nodiscard]] const Rubric& rubric() const;

private:
    struct Prepared;
    class Judging;
    std::unique_ptr<const Prepared> m_prepared;
};

[[nodiscard]] Scorecard score(const Rubric& rubric, const Attempt& attempt, bool withAlways = false);

/// markerlamp.scorecard/1 on one line, without line end.
[[nodiscard]] std::string toJson(const Scorecard& card);

}  // namespace markerlamp::core
