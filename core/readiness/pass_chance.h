#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The chance of passing, given the chance of each step: exact convolution of the score.

#include <vector>

namespace markerlamp::core {

struct ScoredChance {
    double right = 0;  ///< chance in [0, 1]
    int weight = 1;    ///< >= 1
    bool mustPass = false;
};

/// Chances of each score 0 .. sum of weights; steps independent. Exact (Poisson-binomial with weights).
[[nodiscard]] std::vector<double> scoreDistribution(const std::vector<ScoredChance>& steps);

/// Least whole score that passes: ceil(percent / 100 * possible), with the scoring rules' tolerance of 1e-9
/// percent.
[[nodiscard]] int neededScore(double percent, int possible);

/// P(all must-pass steps right and score >= need).
[[nodiscard]] double passChance(const std::vector<ScoredChance>& steps, int need);

/// d passChance / d p_j for every step (P / p_j for must-pass steps with p_j > 0).
[[nodiscard]] std::vector<double> passGains(const std::vector<ScoredChance>& steps, int need);

/// Both at once: the chance is returned.
double passChanceAndGains(const std::vector<ScoredChance>& steps, int need, std::vector<double>& gains);

}  // namespace markerlamp::core
