#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What a set of drilled steps does to the pass chance, over the same draws every time (common random numbers,
// so that plans can be compared). The steps are independent within one draw and one day effect, and there the
// chance is exact.

#include "core/readiness/forecast.h"
#include "core/readiness/pass_chance.h"

#include <cstddef>
#include <vector>

namespace markerlamp::core {

/// The draws of one trainee's test, each with some day effects, ready to be asked for many sets of steps.
class DrilledChances {
public:
    /// @param mostDraws only so many of the draws, evenly spread; the draws are equally likely
    /// @param dayNodes  1, 3 or 5 points for the day effect (Gauss-Hermite)
    DrilledChances(const TestDraws& draws, int mostDraws, int dayNodes);

    [[nodiscard]] int draws() const { return m_draws; }
    [[nodiscard]] int steps() const { return m_steps; }

    /// Pass chance in each draw when the steps with drilled[i] != 0 have had one more try.
    [[nodiscard]] std::vector<double> perDraw(const std::vector<char>& drilled) const;

    /// The same with each block of steps changed over as a whole, [block * draws() + draw]: exact for a block
    /// of one step; a longer one counts its must-pass steps exactly and the others to first order.
    [[nodiscard]] std::vector<double> toggledPerDraw(const std::vector<char>& drilled,
                                                     const std::vector<std::vector<int>>& blocks) const;

    /// What drilling each step adds to the expected percent of the weight, over the parts by their shares.
    [[nodiscard]] std::vector<double> pointsOfSteps() const;
    /// Expected percent of the weight without any drill.
    [[nodiscard]] double expectedPercent() const;

private:
    struct Part {
        double share = 1;
        std::vector<int> steps;
        std::vector<int> place;  ///< of each step of the scope in `steps`; -1: not in this part
        int weight = 0;          ///< of all its steps
        int need = 0;            ///< score that passes
    };
    /// One part of the test in one draw on one kind of day.
    struct Situation {
        const Part* part = nullptr;
        std::size_t number = 0;  ///< draw * nodes + node
        std::vector<ScoredChance> steps;
    };

    [[nodiscard]] double right(std::size_t situation, int step, bool drilled) const {
        const auto& table = drilled ? m_drilled : m_now;
        return table[situation * std::size_t(m_steps) + std::size_t(step)];
    }
    void fill(Situation& to, const std::vector<char>& drilled) const;
    /// How often the part and the day occur, times the chance that no strict rule is broken.
    [[nodiscard]] double share(std::size_t part, std::size_t situation) const;
    [[nodiscard]] double changedOver(const Situation& at, double chance, const std::vector<double>& gains,
                                     const std::vector<char>& drilled, const std::vector<int>& block) const;

    [[nodiscard]] std::size_t situations() const { return std::size_t(m_draws) * m_nodeWeight.size(); }
    /// What a step counts in the expected percent.
    [[nodiscard]] double percentOf(const Part& part, int step) const;
    [[nodiscard]] std::vector<double> meanRight(const std::vector<double>& table) const;

    int m_draws = 0;
    int m_steps = 0;
    std::vector<Part> m_parts;
    std::vector<char> m_mustPass;
    std::vector<int> m_weight;
    std::vector<double> m_nodeWeight;
    std::vector<double> m_kept;            ///< [draw * parts + part]
    std::vector<double> m_now, m_drilled;  ///< [(draw * nodes + node) * steps + step]
};

}  // namespace markerlamp::core
