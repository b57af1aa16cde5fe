// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/drill/drill_worth.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace markerlamp::core {

namespace {

struct Node {
    double at = 0, weight = 1;
};

/// Gauss-Hermite points for a standard normal variable. Source: Abramowitz & Stegun 1964, table 25.10, scaled
/// by the root of 2; three points are 0 and +-sqrt(3) with weights 2/3 and 1/6.
std::vector<Node> normalNodes(int count) {
    if (count <= 1) return {{0, 1}};
    if (count <= 3) return {{-std::sqrt(3.0), 1.0 / 6}, {0, 2.0 / 3}, {std::sqrt(3.0), 1.0 / 6}};
    const double root = std::sqrt(10.0);
    const double outer = std::sqrt(5 + root), inner = std::sqrt(5 - root);
    const double far = (7 - 2 * root) / 60, near = (7 + 2 * root) / 60;
    return {{-outer, far}, {-inner, near}, {0, 8.0 / 15}, {inner, near}, {outer, far}};
}

double sigmoid(double logit) {
    return 1 / (1 + std::exp(-logit));
}

}  // namespace

DrilledChances::DrilledChances(const TestDraws& draws, int mostDraws, int dayNodes)
    : m_draws(std::max(0, std::min(mostDraws, draws.draws))), m_steps(int(draws.steps.size())) {
    const std::vector<Node> nodes = normalNodes(dayNodes);
    for (const Node& node : nodes) m_nodeWeight.push_back(node.weight);
    for (const ScopeStep& step : draws.steps) {
        m_mustPass.push_back(step.mustPass ? 1 : 0);
        m_weight.push_back(step.weight);
    }
    const std::size_t parts = draws.inPart.size();
    for (std::size_t p = 0; p < parts; ++p) {
        Part part{draws.scope.parts[p].share, draws.inPart[p], std::vector<int>(draws.steps.size(), -1), 0,
                  0};
        for (std::size_t i = 0; i < part.steps.size(); ++i) {
            part.place[std::size_t(part.steps[i])] = int(i);
            part.weight += m_weight[std::size_t(part.steps[i])];
        }
        part.need = neededScore(draws.scope.rubric->pass.percent, part.weight);
        m_parts.push_back(std::move(part));
    }
    for (int d = 0; d < m_draws; ++d) {
        const std::size_t from = std::size_t(d) * std::size_t(draws.draws) / std::size_t(m_draws);
        for (std::size_t p = 0; p < parts; ++p) m_kept.push_back(draws.kept[from * parts + p]);
        for (const Node& node : nodes) {
            const double day = draws.daySpread[from] * node.at;
            for (std::size_t s = 0; s < std::size_t(m_steps); ++s) {
                m_now.push_back(sigmoid(draws.logit[from * std::size_t(m_steps) + s] + day));
                m_drilled.push_back(sigmoid(draws.drilled[from * std::size_t(m_steps) + s] + day));
            }
        }
    }
}

void DrilledChances::fill(Situation& to, const std::vector<char>& drilled) const {
    to.steps.clear();
    for (const int step : to.part->steps) {
        const auto s = std::size_t(step);
        to.steps.push_back({right(to.number, step, drilled[s] != 0), m_weight[s], m_mustPass[s] != 0});
    }
}

double DrilledChances::share(std::size_t part, std::size_t situation) const {
    const std::size_t nodes = m_nodeWeight.size();
    return m_parts[part].share * m_nodeWeight[situation % nodes] *
           m_kept[situation / nodes * m_parts.size() + part];
}

std::vector<double> DrilledChances::perDraw(const std::vector<char>& drilled) const {
    std::vector<double> chances(std::size_t(m_draws), 0.0);
    for (std::size_t p = 0; p < m_parts.size(); ++p) {
        Situation at{&m_parts[p], 0, {}};
        for (; at.number < situations(); ++at.number) {
            fill(at, drilled);
            chances[at.number / m_nodeWeight.size()] +=
                share(p, at.number) * passChance(at.steps, m_parts[p].need);
        }
    }
    return chances;
}

double DrilledChances::changedOver(const Situation& at, double chance, const std::vector<double>& gains,
                                   const std::vector<char>& drilled, const std::vector<int>& block) const {
    double mustRatio = 1;
    for (const int step : block) {
        const int place = at.part->place[std::size_t(step)];
        if (place < 0) continue;
        const bool is = drilled[std::size_t(step)] != 0;
        const double now = right(at.number, step, is), then = right(at.number, step, !is);
        if (!m_mustPass[std::size_t(step)])
            chance += gains[std::size_t(place)] * (then - now);
        else if (now > 0)
            mustRatio *= then / now;
    }
    return std::clamp(chance * mustRatio, 0.0, 1.0);
}

std::vector<double> DrilledChances::toggledPerDraw(const std::vector<char>& drilled,
                                                   const std::vector<std::vector<int>>& blocks) const {
    std::vector<double> chances(blocks.size() * std::size_t(m_draws), 0.0), gains;
    for (std::size_t p = 0; p < m_parts.size(); ++p) {
        Situation at{&m_parts[p], 0, {}};
        for (; at.number < situations(); ++at.number) {
            fill(at, drilled);
            const double chance = passChanceAndGains(at.steps, m_parts[p].need, gains);
            const double often = share(p, at.number);
            const std::size_t draw = at.number / m_nodeWeight.size();
            for (std::size_t b = 0; b < blocks.size(); ++b)
                chances[b * std::size_t(m_draws) + draw] +=
                    often * changedOver(at, chance, gains, drilled, blocks[b]);
        }
    }
    return chances;
}

std::vector<double> DrilledChances::pointsOfSteps() const {
    const std::vector<double> now = meanRight(m_now), then = meanRight(m_drilled);
    std::vector<double> points(now.size(), 0.0);
    for (const Part& part : m_parts)
        for (const int step : part.steps)
            points[std::size_t(step)] +=
                percentOf(part, step) * (then[std::size_t(step)] - now[std::size_t(step)]);
    return points;
}

double DrilledChances::expectedPercent() const {
    const std::vector<double> now = meanRight(m_now);
    double percent = 0;
    for (const Part& part : m_parts)
        for (const int step : part.steps) percent += percentOf(part, step) * now[std::size_t(step)];
    return percent;
}

double DrilledChances::percentOf(const Part& part, int step) const {
    return 100 * part.share * m_weight[std::size_t(step)] / std::max(part.weight, 1);
}

std::vector<double> DrilledChances::meanRight(const std::vector<double>& table) const {
    std::vector<double> means(std::size_t(m_steps), 0.0);
    for (std::size_t i = 0; i < table.size(); ++i) {
        const std::size_t situation = i / means.size();
        means[i % means.size()] += table[i] * m_nodeWeight[situation % m_nodeWeight.size()] / m_draws;
    }
    return means;
}

}  // namespace markerlamp::core
