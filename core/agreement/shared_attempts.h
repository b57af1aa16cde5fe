#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Attempts that more than one instructor scored: what they marked alike and where they differ.

#include "core/agreement/coefficients.h"
#include "core/history/history.h"

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace markerlamp::core {

/// One performance and its scorings: the first, then the second scorings in the order of their ids.
struct SharedAttempt {
    std::vector<ScoredAttempt> scorings;
};

/// Puts ended second scorings to their ended first ones, by id or by attempt code (see FirstScorings). A
/// second scoring whose first is missing, still open, or of another rubric edition is left out: there is
/// nothing to compare it with yet. Settled records are no scorings; leave them out before.
[[nodiscard]] std::vector<SharedAttempt> sharedAttempts(std::vector<ScoredAttempt> attempts);
/// Each second scoring with its first alone: two scorings in every one, so that there are 2x2 counts.
[[nodiscard]] std::vector<SharedAttempt> pairsOf(const std::vector<SharedAttempt>& attempts);
/// In how many of the attempts each instructor has a scoring.
[[nodiscard]] std::map<std::string, int> sharedByInstructor(const std::vector<SharedAttempt>& attempts);

/// What is compared, step by step. Steps that a scorer could not observe are gaps.
enum class Compared {
    Shown,       ///< the step was shown by own credit: no, yes
    Said,        ///< the explanation by own credit: nothing, some, as much as is needed
    SaidInFull,  ///< the same as no, yes: as much as is needed
    Credited     ///< the step counts as satisfied: no, yes
};
[[nodiscard]] std::string_view toWord(Compared compared);

/// One unit a step of an attempt, one rater a scoring.
struct ComparedSteps {
    RatingTable table;
    std::vector<int> attempt;        ///< per unit, index of its SharedAttempt
    std::vector<std::string> steps;  ///< per unit
};
[[nodiscard]] ComparedSteps comparedSteps(const std::vector<SharedAttempt>& attempts, Compared compared);

/// Counts first, then the share with its interval, then the coefficients.
struct Agreement {
    Compared compared = Compared::Shown;
    int attempts = 0;
    int steps = 0;                         ///< units that two or more scored
    std::vector<std::vector<int>> counts;  ///< [first's class][second's class]; of exactly two scorings only
    std::optional<double> share;
    std::optional<Interval> interval;           ///< 95 %, resampled
    bool byAttempt = true;                      ///< attempts were resampled; under eight of them steps were
    std::optional<double> agreedYes, agreedNo;  ///< two classes and two scorings only
    std::optional<Kappa> kappa;
    std::optional<double> alpha;  ///< ordinal for Said, else nominal
    std::optional<Interval> alphaInterval;
    std::optional<double> ac1;
};

/// Fewer shared attempts: too few to compare.
inline constexpr int kFewestShared = 3;
/// Fewer units: a coefficient says little.
inline constexpr int kFewestUnits = 10;

[[nodiscard]] Agreement agreementOf(const std::vector<SharedAttempt>& attempts, Compared compared);

/// A step that instructors read differently: wording to mend.
struct DisputedStep {
    std::string rubric;
    std::string step;
    std::string title;
    std::string zone;
    int compared = 0;   ///< shared attempts in which two or more observed it
    int differing = 0;  ///< in which they did not credit it alike
};
/// Most often disputed first; steps that never were are left out.
[[nodiscard]] std::vector<DisputedStep> disputedSteps(const std::vector<SharedAttempt>& attempts);

/// How two instructors compare over the attempts that both scored: steps that one credited and the other did
/// not. No ranking: `a` comes before `b` by key.
struct PairOfInstructors {
    std::string a, b;
    int attempts = 0, steps = 0, differing = 0;
    int onlyA = 0;                  ///< credited by a alone
    std::optional<Interval> share;  ///< 95 % Wilson interval of the share of steps marked alike
};
[[nodiscard]] std::vector<PairOfInstructors> pairsOfInstructors(const std::vector<SharedAttempt>& attempts);

}  // namespace markerlamp::core
