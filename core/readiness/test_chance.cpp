// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/readiness/test_chance.h"

#include "core/readiness/pass_chance.h"

#include <Eigen/Eigenvalues>

#include <algorithm>
#include <cassert>
#include <cmath>

namespace markerlamp::core {

namespace {

constexpr int kNodes = 15;
constexpr double kLeastWeight = 1e-5;  ///< days that do not matter

double chanceOf(double logit) {
    return 1 / (1 + std::exp(-logit));
}

/// Golub & Welsch 1969: nodes are the eigenvalues of the recurrence's matrix, weights the squares of the
/// eigenvectors' first entries.
TestDays makeDays() {
    Eigen::MatrixXd recurrence = Eigen::MatrixXd::Zero(kNodes, kNodes);
    for (int i = 1; i < kNodes; ++i) recurrence(i, i - 1) = recurrence(i - 1, i) = std::sqrt(double(i));
    const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> solved(recurrence);
    TestDays days;
    double sum = 0;
    for (int i = 0; i < kNodes; ++i) {
        const double first = solved.eigenvectors()(0, i);
        if (first * first < kLeastWeight) continue;
        days.place.push_back(solved.eigenvalues()[i]);
        days.weight.push_back(first * first);
        sum += first * first;
    }
    for (double& weight : days.weight) weight /= sum;
    return days;
}

/// The days as one vector of fixed length: what is done to them all compiles to few instructions.
using DayLanes = Eigen::Array<double, 12, 1>;

struct Lanes {
    DayLanes place = DayLanes::Zero(), weight = DayLanes::Zero();
    Lanes() {
        const TestDays& days = testDays();
        assert(days.place.size() <= static_cast<std::size_t>(DayLanes::SizeAtCompileTime));
        for (std::size_t i = 0; i < days.place.size(); ++i) {
            const auto lane = static_cast<Eigen::Index>(i);
            place[lane] = days.place[i];
            weight[lane] = days.weight[i];
        }
    }
};

const Lanes& lanes() {
    static const Lanes all;
    return all;
}

}  // namespace

const TestDays& testDays() {
    static const TestDays days = makeDays();
    return days;
}

PartChance::PartChance(const TestDraws& draws, std::size_t part) : m_steps(draws.inPart[part]) {
    for (const int step : m_steps) {
        const ScopeStep& one = draws.steps[static_cast<std::size_t>(step)];
        m_weights.push_back(one.weight);
        m_must.push_back(one.mustPass ? 1 : 0);
        m_possible += one.weight;
    }
    m_need = neededScore(draws.scope.rubric->pass.percent, m_possible);
}

double PartChance::at(const double* logit, double daySpread) const {
    // All days side by side: the distribution of the points lost, as far as they may be lost.
    const int slack = m_possible - m_need;
    if (slack < 0) return 0;
    const DayLanes factors = (-daySpread * lanes().place).exp();
    thread_local std::vector<DayLanes> lost;
    lost.assign(static_cast<std::size_t>(slack) + 1, DayLanes::Zero());
    lost[0] = DayLanes::Ones();
    DayLanes must = DayLanes::Ones();
    int reach = 0;  // no more can be lost so far
    for (std::size_t j = 0; j < m_steps.size(); ++j) {
        const DayLanes right = (1 + factors * std::exp(-logit[m_steps[j]])).inverse();
        if (m_must[j]) {
            must *= right;
            continue;
        }
        const DayLanes wrong = 1 - right;
        const int weight = m_weights[j];
        reach = std::min(slack, reach + weight);
        DayLanes* const points = lost.data();
        for (int k = reach; k >= weight; --k) points[k] = points[k] * right + points[k - weight] * wrong;
        for (int k = std::min(weight - 1, reach); k >= 0; --k) points[k] *= right;
    }
    DayLanes sum = DayLanes::Zero();
    for (const DayLanes& points : lost) sum += points;
    return (lanes().weight * must * sum).sum();
}

void PartChance::addGains(const double* logit, double daySpread, double aim, double weight,
                          std::vector<double>& gains) const {
    const TestDays& days = testDays();
    std::vector<ScoredChance> steps(m_steps.size());
    for (std::size_t day = 0; day < days.place.size(); ++day) {
        const double effect = daySpread * days.place[day];
        for (std::size_t j = 0; j < m_steps.size(); ++j)
            steps[j] = {chanceOf(logit[m_steps[j]] + effect), m_weights[j], m_must[j] != 0};
        const double aimed = chanceOf(aim + effect);
        const std::vector<double> gain = passGains(steps, m_need);
        for (std::size_t j = 0; j < m_steps.size(); ++j)
            gains[static_cast<std::size_t>(m_steps[j])] +=
                weight * days.weight[day] * gain[j] * std::max(0.0, aimed - steps[j].right);
    }
}

}  // namespace markerlamp::core
