// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/agreement/strictness.h"

#include "core/agreement/shared_attempts.h"

#include <algorithm>
#include <cmath>

namespace markerlamp::core {

namespace {

/// Less information than a few steps give cannot be told from rounding in the two variances.
constexpr double kLeastInformation = 0.5;

double informationOf(const LearningModel::Severity& severity, double spread) {
    if (severity.error <= 0 || spread <= 0) return 0;
    return 1 / (severity.error * severity.error) - 1 / (spread * spread);
}

}  // namespace

double StrictnessFunnel::limit(int steps, double z) const {
    return steps > 0 ? z * perStep / std::sqrt(steps) : 0;
}

int StrictnessFunnel::judged() const {
    return static_cast<int>(std::ranges::count(instructors, false, &Strictness::tooFew));
}

double StrictnessFunnel::chanceByLuck(double coverage) const {
    return 1 - std::pow(coverage, judged());
}

StrictnessFunnel strictnessFunnel(const std::vector<LearningModel::Severity>& severities, double spread,
                                  double share, const std::map<std::string, int>& shared) {
    StrictnessFunnel funnel;
    funnel.share = share;
    const double perLogit = 100 * share * (1 - share);  // steps in 100, near the average
    double steps = 0, information = 0;
    for (const LearningModel::Severity& one : severities) {
        const double known = informationOf(one, spread);
        if (known < kLeastInformation || one.steps <= 0) continue;
        steps += one.steps;
        information += known;
        Strictness row;
        row.instructor = one.instructor;
        row.steps = one.steps;
        const auto found = shared.find(one.instructor);
        row.shared = found == shared.end() ? 0 : found->second;
        row.tooFew = row.shared < kFewestShared;
        // Severity is how much harder; credit is the other way.
        row.credit = -perLogit * one.mean / (one.error * one.error * known);
        const double reach = kOuter * perLogit / std::sqrt(known);
        row.low = row.credit - reach;
        row.high = row.credit + reach;
        funnel.instructors.push_back(std::move(row));
    }
    if (information > 0) funnel.perStep = perLogit * std::sqrt(steps / information);
    for (Strictness& row : funnel.instructors) {
        if (row.tooFew) continue;
        row.outsideInner = std::abs(row.credit) > funnel.limit(row.steps, kInner);
        row.outsideOuter = std::abs(row.credit) > funnel.limit(row.steps, kOuter);
    }
    std::ranges::sort(funnel.instructors, {}, &Strictness::instructor);
    return funnel;
}

StrictnessFunnel strictnessFunnel(const LearningModel& model, const std::map<std::string, int>& shared) {
    double right = 0, all = 0;
    for (const PracticeAttempt& attempt : model.record().attempts())
        for (const StepTry& one : attempt.tries) {
            right += one.right ? 1 : 0;
            ++all;
        }
    return strictnessFunnel(model.severities(), model.spreads().instructor, all > 0 ? right / all : 0.5,
                            shared);
}

}  // namespace markerlamp::core
