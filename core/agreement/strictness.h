#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// How strictly instructors score, as a funnel (Spiegelhalter 2005, Statistics in Medicine 24: 1185-1202):
// what each credits above or below the average, against what luck alone gives for that many steps. Never a
// ranking.

#include "core/readiness/learning_model.h"

#include <map>
#include <string>
#include <vector>

namespace markerlamp::core {

/// Levels of the two limits, as standard normal quantiles.
inline constexpr double kInner = 1.2816;  ///< 80 %
inline constexpr double kOuter = 1.9600;  ///< 95 %

struct Strictness {
    std::string instructor;
    int steps = 0;   ///< scored, of first scorings
    int shared = 0;  ///< attempts that somebody else scored too
    double credit =
        0;  ///< steps in 100 credited more (+) or less (-) than the average for the same performance
    double low = 0, high = 0;  ///< 95 % interval of it
    bool tooFew = false;       ///< fewer than kFewestShared shared attempts: nothing is said
    bool outsideInner = false, outsideOuter = false;  ///< never while there are too few
};

struct StrictnessFunnel {
    std::vector<Strictness> instructors;  ///< by key
    double share = 0;                     ///< of steps credited on average, at which logits become steps
    double perStep = 0;                   ///< limit = z * perStep / sqrt(steps)
    [[nodiscard]] double limit(int steps, double z) const;
    /// Instructors of whom something is said.
    [[nodiscard]] int judged() const;
    /// Chance that luck alone puts at least one of them outside limits of this coverage (0.8, 0.95).
    [[nodiscard]] double chanceByLuck(double coverage) const;
};

/// The model's severities are shrunken towards 0; here the shrinking is taken back (with prior spread s and
/// error e, information = 1/e^2 - 1/s^2), since limits of luck are limits of raw figures.
/// @param spread the model's standard deviation of instructors
/// @param share of steps credited on average
/// @param shared attempts that somebody else scored too, by instructor
[[nodiscard]] StrictnessFunnel strictnessFunnel(const std::vector<LearningModel::Severity>& severities,
                                                double spread, double share,
                                                const std::map<std::string, int>& shared);
/// Of a fitted model.
[[nodiscard]] StrictnessFunnel strictnessFunnel(const LearningModel& model,
                                                const std::map<std::string, int>& shared);

}  // namespace markerlamp::core
