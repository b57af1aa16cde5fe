#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Forecasts of an invented school held against its true chances: the model's beside what is to be beaten.

#include "latent_school.h"

#include <array>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace markerlamp::school {

enum class Method {
    Model,
    Constant,    ///< share of all attempts so far that passed
    OwnShare,    ///< share of the trainee's own attempts that passed
    OwnShrunk,   ///< the same, drawn towards the constant by two attempts' worth
    LastResult,  ///< pass or not, said with 95 %
    Rasch,       ///< person plus step over all attempts, convolved
    RaschLast,   ///< the same over the trainees' last three attempts
};
inline constexpr std::size_t kMethods = 7;
[[nodiscard]] std::string_view nameOf(Method method);

/// One trainee at one moment.
struct Foretold {
    int trainee = 0;
    double day = 0;
    int attempts = 0;
    double truth = 0;
    double truthError = 0;  ///< standard error of it, never 0
    bool passed = false;    ///< one imagined test
    std::array<double, kMethods> forecast{};
    double low = 0, high = 1;  ///< the model's 90 % interval
};

struct Plan {
    std::vector<double> moments = {60, 100, 140};  ///< days after the school's first
    int draws = 400;
    int runs = 1000;     ///< imagined tests behind a true chance
    bool drawn = false;  ///< a drawn section instead of the whole rubric
};

/// At every moment, everybody active is forecast from what was known before it.
[[nodiscard]] std::vector<Foretold> hold(const School& school, const Plan& plan, std::uint64_t seed);

struct Verdict {
    double distance = 0;  ///< mean squared distance to the true chance
    double bias = 0;      ///< mean forecast minus truth
    double brier = 0;
    double logLoss = 0;
};
[[nodiscard]] Verdict verdict(const std::vector<Foretold>& rows, Method method);
/// Share of true chances within the model's 90 % interval. A true chance is itself a share of imagined tests,
/// so it counts as within when it is by its own two standard errors.
[[nodiscard]] double coverage(const std::vector<Foretold>& rows);
[[nodiscard]] double meanWidth(const std::vector<Foretold>& rows);

}  // namespace markerlamp::school
