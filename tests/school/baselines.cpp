// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "baselines.h"

#include <algorithm>
#include <cmath>

namespace markerlamp::school {

namespace {

constexpr int kMostSweeps = 200;
constexpr double kStill = 1e-6;

double logistic(double x) {
    return 1 / (1 + std::exp(-x));
}

struct Cell {
    int other = 0;  ///< the item of a person, the person of an item
    int right = 0, tries = 0;
};
using Cells = std::vector<std::vector<Cell>>;

Cells cellsOf(const std::vector<Answer>& answers, int rows, bool byPerson) {
    Cells cells(static_cast<std::size_t>(rows));
    for (const Answer& answer : answers) {
        auto& row = cells[static_cast<std::size_t>(byPerson ? answer.person : answer.item)];
        const int other = byPerson ? answer.item : answer.person;
        auto cell = std::ranges::find(row, other, &Cell::other);
        if (cell == row.end()) cell = row.insert(row.end(), Cell{other, 0, 0});
        ++cell->tries;
        if (answer.right) ++cell->right;
    }
    return cells;
}

/// One Newton step of every own value; returns the largest.
double sweep(const Cells& cells, double mean, double ridge, std::vector<double>& own,
             const std::vector<double>& others) {
    double largest = 0;
    for (std::size_t row = 0; row < cells.size(); ++row) {
        double slope = -ridge * own[row], curve = ridge;
        for (const Cell& cell : cells[row]) {
            const double p = logistic(mean + own[row] + others[static_cast<std::size_t>(cell.other)]);
            slope += cell.right - cell.tries * p;
            curve += cell.tries * p * (1 - p);
        }
        const double move = std::clamp(slope / curve, -2.0, 2.0);
        own[row] += move;
        largest = std::max(largest, std::abs(move));
    }
    return largest;
}

}  // namespace

PersonPlusItem::PersonPlusItem(const std::vector<Answer>& answers, int persons, int items, double ridge)
    : m_persons(static_cast<std::size_t>(persons)), m_items(static_cast<std::size_t>(items)) {
    const auto right = static_cast<double>(std::ranges::count_if(answers, &Answer::right));
    const double share = shrunk(right, static_cast<double>(answers.size()), 0.5, 2);
    m_mean = std::log(share / (1 - share));
    const Cells byPerson = cellsOf(answers, persons, true), byItem = cellsOf(answers, items, false);
    for (int round = 0; round < kMostSweeps; ++round) {
        const double moved = std::max(sweep(byPerson, m_mean, ridge, m_persons, m_items),
                                      sweep(byItem, m_mean, ridge, m_items, m_persons));
        if (moved < kStill) break;
    }
}

double PersonPlusItem::chance(int person, int item) const {
    return logistic(m_mean + m_persons[static_cast<std::size_t>(person)] +
                    m_items[static_cast<std::size_t>(item)]);
}

double chanceOfPassing(const std::vector<Chanced>& items, int need) {
    double all = 1;
    std::vector<double> score = {1};
    for (const Chanced& item : items) {
        const double right = item.right, wrong = item.mustPass ? 0 : 1 - item.right;
        if (item.mustPass) all *= right;
        std::vector<double> next(score.size() + static_cast<std::size_t>(item.weight));
        for (std::size_t s = 0; s < score.size(); ++s) {
            next[s] += score[s] * wrong;
            next[s + static_cast<std::size_t>(item.weight)] += score[s] * (item.mustPass ? 1 : right);
        }
        score = std::move(next);
    }
    double enough = 0;
    for (std::size_t s = static_cast<std::size_t>(std::max(0, need)); s < score.size(); ++s)
        enough += score[s];
    return all * enough;
}

double shrunk(double successes, double tries, double mean, double strength) {
    return (successes + strength * mean) / (tries + strength);
}

}  // namespace markerlamp::school
