#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Habits: whether a trainee keeps the order of a strict must-pass rule, and the time allowance. Not a matter
// of single steps, so a beta-binomial of their own: the trainee's last attempts, shrunk to the program's.

#include "core/readiness/practice_record.h"

#include <unordered_map>
#include <vector>

namespace markerlamp::core {

/// What is believed of a chance: Beta(a, b).
struct BetaBelief {
    double a = 1, b = 1;
    [[nodiscard]] double mean() const { return a / (a + b); }
    [[nodiscard]] double quantile(double level) const;
};

/// Beta(m k, (1 - m) k) of the persons' chances, by marginal likelihood with weak priors on m and log k.
struct BetaCounts {
    double kept = 0, seen = 0;  ///< may be fractional
};
[[nodiscard]] BetaBelief betaBinomial(const std::vector<BetaCounts>& persons);

class Habits {
public:
    /// Of the attempts that began before `before`.
    Habits(const PracticeRecord& record, double before);
    /// Of a trainee, from his attempts (indices, oldest first).
    [[nodiscard]] BetaBelief rule(std::int32_t rule, const std::vector<std::size_t>& attempts) const;
    /// That an attempt of so much of the rubric (share of its minutes) stays within the allowance.
    [[nodiscard]] BetaBelief inTime(std::int32_t rubric, double minutes, double share,
                                    const std::vector<std::size_t>& attempts) const;

private:
    const PracticeRecord& m_record;
    double m_before;
    std::vector<BetaBelief> m_rules;  ///< by rule number
    BetaBelief m_unknown;             ///< a rule without evidence: as the others of the program
};

}  // namespace markerlamp::core
