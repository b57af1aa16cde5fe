#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The chance of passing one part of a test at one draw: the score convolved exactly, inside the day effect.

#include "core/readiness/forecast.h"

#include <vector>

namespace markerlamp::core {

/// Days of a test, standardised: normal quadrature (Gauss & Hermite), weights sum to 1.
struct TestDays {
    std::vector<double> place;
    std::vector<double> weight;
};
[[nodiscard]] const TestDays& testDays();

/// One part's steps with what passing asks of them.
class PartChance {
public:
    PartChance(const TestDraws& draws, std::size_t part);
    /// Without `kept`. `logit` holds the log odds of all steps of the scope.
    [[nodiscard]] double at(const double* logit, double daySpread) const;
    /// Adds to `gains` (all steps of the scope), each times `weight`: d chance / d p_j (p of the same day)
    /// times (what p_j would be at `aim` minus p_j), where that is more.
    void addGains(const double* logit, double daySpread, double aim, double weight,
                  std::vector<double>& gains) const;

private:
    std::vector<int> m_steps;
    std::vector<int> m_weights;
    std::vector<char> m_must;
    int m_need = 0;
    int m_possible = 0;
};

}  // namespace markerlamp::core
