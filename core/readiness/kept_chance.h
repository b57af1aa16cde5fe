#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Habits: whether a trainee keeps the order of a strict must-pass rule, and the time allowance. Not a matter
// of single steps, so they have models of their own. Order: a small logistic model in the manner of the large
// one, as it is learned by practice too. Time: a beta-binomial of the last attempts, shrunk to the program's.

#include "core/readiness/mixed_fit.h"
#include "core/readiness/practice_record.h"

#include <Eigen/Dense>

#include <array>
#include <map>
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

/// How often a trainee kept and broke each rule so far.
class RulePractice {
public:
    void remember(const RuleTry& one);
    [[nodiscard]] std::array<float, kRowFeatures> features(std::int32_t rule) const;

private:
    struct Counts {
        int kept = 0, broken = 0;
        std::int8_t last = 0;  ///< 1 kept, -1 broken, 0 never tried
    };
    std::map<std::int32_t, Counts> m_counts;
};

class Habits {
public:
    /// Of the attempts that began before `before`.
    Habits(const PracticeRecord& record, double before);

    /// What is believed of a trainee's keeping rules, after his attempts (indices, oldest first): equally
    /// likely draws, the same from call to call.
    class Keeping {
    public:
        /// Chance in each draw that a rule is kept; a rule without evidence (-1) is like the others.
        [[nodiscard]] Eigen::ArrayXd chances(std::int32_t rule) const;

    private:
        friend class Habits;
        const Habits* m_habits = nullptr;
        RulePractice m_practice;
        Eigen::MatrixXd m_shared;  ///< draws x effects
        Eigen::VectorXd m_own;     ///< draws
        Eigen::VectorXd m_unknown;
    };
    [[nodiscard]] Keeping keeping(const std::vector<std::size_t>& attempts, int draws) const;

    /// That an attempt of so much of the rubric (share of its minutes) stays within the allowance.
    [[nodiscard]] BetaBelief inTime(std::int32_t rubric, double minutes, double share,
                                    const std::vector<std::size_t>& attempts) const;

private:
    const PracticeRecord& m_record;
    double m_before;
    std::vector<int> m_effect;  ///< shared effect of each rule; -1: no evidence
    MixedFit m_fit;
};

}  // namespace markerlamp::core
