#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The numbers under the learning model: a logistic model with effects that all persons share and effects of
// each person's own. A person's own effects are integrated out by Laplace's approximation (Tierney & Kadane
// 1986; as lme4's glmer does); they meet only the shared ones, so each person is one small Schur complement
// in Newton's method. Spreads by MacKay's fixed point (1992) with the same likelihood. Knows nothing of
// trainees, steps or days.

#include <Eigen/Dense>

#include <array>
#include <cstdint>
#include <functional>
#include <optional>
#include <utility>
#include <vector>

namespace markerlamp::core {

/// Effects that change from row to row and are shared: their columns are the first ones.
inline constexpr int kRowFeatures = 4;

struct MixedRow {
    std::array<float, kRowFeatures> x{};  ///< of the shared effects 0 .. kRowFeatures - 1
    std::int32_t global = -1;             ///< one more shared effect with value 1; -1: none
    std::int32_t local = -1;              ///< one more effect of the person's own with value 1; -1: none
    bool right = false;
};

/// Rows that share all their other effects.
struct MixedSitting {
    std::size_t begin = 0, end = 0;
    std::vector<std::pair<int, double>> global;  ///< index, value
    std::vector<std::pair<int, double>> local;
};

struct PersonRows {
    std::vector<MixedRow> rows;
    std::vector<MixedSitting> sittings;
    std::vector<int> group;  ///< of each effect of the person's own
    void clear();
};

/// Normal priors of the shared effects.
struct GlobalPrior {
    Eigen::VectorXd mean;
    Eigen::VectorXd sd;      ///< of those without a group
    std::vector<int> group;  ///< -1: none, the sd is given
};

/// Standard deviation of each group, with what is assumed before any data: as if `weight` further members had
/// shown `usual`. It keeps a spread off 0 where a program is small (boundary avoiding, cf. Chung et al.
/// 2013).
struct GroupSpread {
    double usual = 1;
    double weight = 2;
};

struct MixedProblem {
    int persons = 0;
    int globals = 0;
    std::function<void(int person, PersonRows& rows)> rows;  ///< the same answer whenever it is asked
    GlobalPrior prior;
    std::vector<GroupSpread> groups;
};

struct MixedOptions {
    std::vector<double> spread;  ///< start, or what they are; empty: as is usual
    bool estimateSpreads = true;
    int mostPasses = 30;
    double spreadTolerance = 0.01;         ///< relative change of a pass
    double tolerance = 1e-3;               ///< logits: largest change of a shared effect
    std::optional<Eigen::VectorXd> start;  ///< of the shared effects
    /// After each pass; false stops.
    std::function<bool()> progress;
};

struct MixedFit {
    bool stopped = false;
    Eigen::VectorXd global;             ///< mode of the shared effects
    Eigen::LLT<Eigen::MatrixXd> inner;  ///< factor of their precision, the persons integrated out
    std::vector<double> spread;
    double logMarginal = 0;  ///< Laplace, up to a constant that only the spreads change
    int passes = 0;
};

[[nodiscard]] MixedFit fitMixed(const MixedProblem& problem, const MixedOptions& options = {});

/// The effects of one person's own, given the shared ones.
struct LocalFit {
    Eigen::VectorXd mode;
    Eigen::LLT<Eigen::MatrixXd> precision;  ///< of the own effects given the shared ones
    double logPosterior = 0;
};

/// @param precision of the prior of the own effects, mean 0
/// @param start     of the own effects; may be empty
[[nodiscard]] LocalFit fitLocal(const PersonRows& rows, const Eigen::VectorXd& global,
                                const Eigen::MatrixXd& precision, const Eigen::VectorXd& start);

/// How the own effects hang together with the shared ones, at a mode.
struct LocalTies {
    Eigen::MatrixXd cross;  ///< own x shared part of the negative Hessian
    Eigen::VectorXd
        shift;  ///< what the posterior mean is off the mode, to first order: logistic rows are skew
};
[[nodiscard]] LocalTies tiesOf(const PersonRows& rows, const Eigen::VectorXd& global, const LocalFit& fit);

/// Diagonal prior precision of a person's own effects.
[[nodiscard]] Eigen::MatrixXd ownPrecision(const PersonRows& rows, const std::vector<double>& spread);

}  // namespace markerlamp::core
