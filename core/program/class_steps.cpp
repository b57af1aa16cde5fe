// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/program/class_steps.h"

#include "core/stats/intervals.h"

#include <algorithm>
#include <map>
#include <tuple>
#include <unordered_set>

namespace markerlamp::core {

namespace {

constexpr double kLevel = 0.8;

std::uint64_t pairOf(std::int32_t trainee, std::int32_t step) {
    return static_cast<std::uint64_t>(static_cast<std::uint32_t>(trainee)) << 32U |
           static_cast<std::uint32_t>(step);
}

}  // namespace

std::vector<ClassStep> classSteps(const PracticeRecord& record, double since, int fewest) {
    std::map<std::int32_t, ClassStep> steps;
    std::unordered_set<std::uint64_t> counted;
    // Newest first: the first try that is met of a trainee and a step is the last one.
    for (auto at = record.attempts().rbegin(); at != record.attempts().rend(); ++at) {
        const PracticeAttempt& attempt = *at;
        if (attempt.day < since) break;
        for (const StepTry& one : attempt.tries) {
            if (!counted.insert(pairOf(attempt.trainee, one.step)).second) continue;
            ClassStep& step = steps[one.step];
            ++step.trainees;
            if (one.right) continue;
            ++step.missed;
            step.attempts.push_back(attempt.id);
        }
    }
    std::vector<ClassStep> all;
    for (auto& [number, step] : steps) {
        if (step.trainees < fewest) continue;
        const PracticeStep& known = record.steps()[static_cast<std::size_t>(number)];
        step.rubric = known.rubric;
        step.step = known.step;
        step.zone = known.zone;
        if (const auto interval = jeffreys(step.missed, step.trainees, kLevel)) {
            step.low = interval->low;
            step.high = interval->high;
        }
        all.push_back(std::move(step));
    }
    std::ranges::stable_sort(all, [](const ClassStep& a, const ClassStep& b) {
        return std::tuple(-a.low, -double(a.missed) / a.trainees, a.rubric, a.step) <
               std::tuple(-b.low, -double(b.missed) / b.trainees, b.rubric, b.step);
    });
    return all;
}

}  // namespace markerlamp::core
