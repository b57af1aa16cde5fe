// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/readiness/pass_chance.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numeric>
#include <utility>

namespace markerlamp::core {

namespace {

constexpr double kPercentSlack = 1e-9;  ///< as the scoring rules have it

int sumOfWeights(const std::vector<ScoredChance>& steps) {
    int sum = 0;
    for (const ScoredChance& step : steps) sum += step.weight;
    return sum;
}

/// The points lost after one step more: `to` from `from`, both of `size`; what is lost beyond the end is
/// dropped. Two rows instead of one, so that the compiler can take several entries at once.
void addLoss(const double* from, double* to, std::size_t size, const ScoredChance& step) {
    const std::size_t weight = std::min(static_cast<std::size_t>(step.weight), size);
    const double right = step.right, wrong = 1 - right;
    for (std::size_t k = 0; k < weight; ++k) to[k] = from[k] * right;
    for (std::size_t k = weight; k < size; ++k) to[k] = from[k] * right + from[k - weight] * wrong;
}

/// Sum over k of a[k] * b[size - 1 - k]: several sums at once, so that none waits for the other.
double meeting(const double* a, const double* b, std::size_t size) {
    double sums[4] = {0, 0, 0, 0};
    std::size_t k = 0;
    for (; k + 4 <= size; k += 4)
        for (std::size_t i = 0; i < 4; ++i) sums[i] += a[k + i] * b[size - 1 - k - i];
    for (; k < size; ++k) sums[0] += a[k] * b[size - 1 - k];
    return sums[0] + sums[1] + sums[2] + sums[3];
}

}  // namespace

std::vector<double> scoreDistribution(const std::vector<ScoredChance>& steps) {
    std::vector<double> score{1.0};
    for (const ScoredChance& step : steps) {
        const auto weight = static_cast<std::size_t>(step.weight);
        std::vector<double> next(score.size() + weight, 0.0);
        for (std::size_t k = 0; k < score.size(); ++k) {
            next[k] += score[k] * (1 - step.right);
            next[k + weight] += score[k] * step.right;
        }
        score = std::move(next);
    }
    return score;
}

int neededScore(double percent, int possible) {
    if (possible <= 0) return percent > kPercentSlack ? 1 : 0;  // nothing in scope is 0 percent
    const double least = (percent - kPercentSlack) * possible / 100;
    return std::max(0, static_cast<int>(std::ceil(least)));
}

double passChance(const std::vector<ScoredChance>& steps, int need) {
    const int slack = sumOfWeights(steps) - need;
    if (slack < 0) return 0;
    const std::size_t size = static_cast<std::size_t>(slack) + 1;
    std::vector<double> rows(2 * size, 0.0);
    double *lost = rows.data(), *next = lost + size;
    lost[0] = 1;
    double must = 1;
    for (const ScoredChance& step : steps) {
        if (step.mustPass) {
            must *= step.right;
        } else {
            addLoss(lost, next, size, step);
            std::swap(lost, next);
        }
    }
    return must * std::accumulate(lost, lost + size, 0.0);
}

double passChanceAndGains(const std::vector<ScoredChance>& steps, int need, std::vector<double>& gains) {
    const std::size_t n = steps.size();
    gains.assign(n, 0.0);
    const int slack = sumOfWeights(steps) - need;
    if (slack < 0) return 0;
    // Points lost before step j, and the chance that no more than k are lost from step j on: each step is
    // left out without dividing anything out again. Of the must-pass steps the same with their product.
    const std::size_t size = static_cast<std::size_t>(slack) + 1;
    std::vector<double> before((n + 1) * size, 0.0), mustBefore(n + 1, 1.0);
    before[0] = 1;
    for (std::size_t j = 0; j < n; ++j) {
        const double* from = before.data() + j * size;
        double* to = before.data() + (j + 1) * size;
        mustBefore[j + 1] = mustBefore[j] * (steps[j].mustPass ? steps[j].right : 1);
        if (steps[j].mustPass)
            std::copy(from, from + size, to);
        else
            addLoss(from, to, size, steps[j]);
    }
    const double* last = before.data() + n * size;
    const double within = std::accumulate(last, last + size, 0.0);
    std::vector<double> rows(2 * size, 1.0);
    double *after = rows.data(), *next = after + size;
    double mustAfter = 1;
    for (std::size_t j = n; j-- > 0;) {
        const double otherMusts = mustBefore[j] * mustAfter;
        if (steps[j].mustPass) {
            gains[j] = otherMusts * within;
            mustAfter *= steps[j].right;
            continue;
        }
        const double* lost = before.data() + j * size;
        const std::size_t weight = std::min(static_cast<std::size_t>(steps[j].weight), size);
        gains[j] = otherMusts * (meeting(lost, after, size) - meeting(lost, after, size - weight));
        addLoss(after, next, size, steps[j]);
        std::swap(after, next);
    }
    return mustBefore[n] * within;
}

std::vector<double> passGains(const std::vector<ScoredChance>& steps, int need) {
    std::vector<double> gains;
    passChanceAndGains(steps, need, gains);
    return gains;
}

}  // namespace markerlamp::core
