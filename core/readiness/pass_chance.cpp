// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/readiness/pass_chance.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace markerlamp::core {

namespace {

constexpr double kPercentSlack = 1e-9;  ///< as the scoring rules have it

int sumOfWeights(const std::vector<ScoredChance>& steps) {
    int sum = 0;
    for (const ScoredChance& step : steps) sum += step.weight;
    return sum;
}

/// Adds one step to the distribution of the points lost; what is lost beyond the end is dropped.
void addLoss(std::vector<double>& lost, const ScoredChance& step) {
    const auto weight = static_cast<std::size_t>(step.weight);
    const double wrong = 1 - step.right;
    for (std::size_t k = lost.size(); k-- > 0;)
        lost[k] = lost[k] * step.right + (k >= weight ? lost[k - weight] * wrong : 0.0);
}

/// P(a + b <= slack), where `upTo` holds the sums of b's distribution.
double within(const std::vector<double>& a, const std::vector<double>& upTo, int slack) {
    double sum = 0;
    for (int k = 0; k <= slack; ++k)
        sum += a[static_cast<std::size_t>(k)] * upTo[static_cast<std::size_t>(slack - k)];
    return sum;
}

std::vector<double> runningSums(std::vector<double> values) {
    for (std::size_t k = 1; k < values.size(); ++k) values[k] += values[k - 1];
    return values;
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
    std::vector<double> lost(static_cast<std::size_t>(slack) + 1, 0.0);
    lost[0] = 1;
    double must = 1;
    for (const ScoredChance& step : steps) {
        if (step.mustPass)
            must *= step.right;
        else
            addLoss(lost, step);
    }
    double sum = 0;
    for (const double chance : lost) sum += chance;
    return must * sum;
}

std::vector<double> passGains(const std::vector<ScoredChance>& steps, int need) {
    const std::size_t n = steps.size();
    std::vector<double> gains(n, 0.0);
    const int slack = sumOfWeights(steps) - need;
    if (slack < 0) return gains;
    // Points lost before step j, and from step j on: each step is left out without dividing anything out
    // again. Of the must-pass steps the same with their product.
    const auto size = static_cast<std::size_t>(slack) + 1;
    std::vector<std::vector<double>> after(n + 1);
    std::vector<double> lost(size, 0.0), mustAfter(n + 1, 1.0);
    lost[0] = 1;
    after[n] = lost;
    for (std::size_t j = n; j-- > 0;) {
        after[j] = after[j + 1];
        mustAfter[j] = mustAfter[j + 1];
        if (steps[j].mustPass)
            mustAfter[j] *= steps[j].right;
        else
            addLoss(after[j], steps[j]);
    }
    double mustBefore = 1;
    for (std::size_t j = 0; j < n; ++j) {
        const double otherMusts = mustBefore * mustAfter[j + 1];
        const std::vector<double> upTo = runningSums(after[j + 1]);
        const double right = within(lost, upTo, slack);
        if (steps[j].mustPass) {
            gains[j] = otherMusts * right;
            mustBefore *= steps[j].right;
            continue;
        }
        const int left = slack - steps[j].weight;
        gains[j] = otherMusts * (right - (left >= 0 ? within(lost, upTo, left) : 0.0));
        addLoss(lost, steps[j]);
    }
    return gains;
}

}  // namespace markerlamp::core
