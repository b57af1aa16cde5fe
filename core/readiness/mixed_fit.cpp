// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/readiness/mixed_fit.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace markerlamp::core {

namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr int kLocalSteps = 30;
constexpr double kLocalTolerance = 3e-4;  ///< logits: Newton's next error would be its square
constexpr double kWorse = 1e-3;           ///< log-likelihood: less is the own modes' inexactness
constexpr double kLeastChance = 1e-12;
constexpr int kHalvings = 12;
constexpr int kTracePersons = 40;  ///< enough for the small share of a trace that the shared effects add

/// Sum of logarithms of chances, with few logarithms.
class LogSum {
public:
    void add(double chance) {
        m_product *= std::max(chance, kLeastChance);
        if (m_product < 1e-200) flush();
    }
    double sum() {
        flush();
        return m_sum;
    }

private:
    void flush() {
        m_sum += std::log(m_product);
        m_product = 1;
    }
    double m_product = 1;
    double m_sum = 0;
};

double chanceOf(double logit) {
    return 1 / (1 + std::exp(-logit));
}

double sharedPart(const MixedRow& row, const VectorXd& global) {
    double sum = row.global >= 0 ? global[row.global] : 0;
    for (int k = 0; k < kRowFeatures; ++k)
        sum += static_cast<double>(row.x[static_cast<std::size_t>(k)]) * global[k];
    return sum;
}

template <class Effects>
double sumOf(const std::vector<std::pair<int, double>>& terms, const Effects& effects) {
    double sum = 0;
    for (const auto& [index, value] : terms) sum += value * effects[index];
    return sum;
}

/// Log-likelihood of the rows, with gradient and negative Hessian of the person's own effects.
double ownDerivatives(const PersonRows& rows, const std::vector<double>& offset, const VectorXd& own,
                      VectorXd& gradient, MatrixXd& hessian) {
    gradient.setZero(own.size());
    hessian.setZero(own.size(), own.size());
    LogSum likelihood;
    for (const MixedSitting& sitting : rows.sittings) {
        const double shared = sumOf(sitting.local, own);
        double residuals = 0, weights = 0;
        for (std::size_t i = sitting.begin; i < sitting.end; ++i) {
            const MixedRow& row = rows.rows[i];
            const double p = chanceOf(offset[i] + shared + (row.local >= 0 ? own[row.local] : 0));
            const double residual = (row.right ? 1 : 0) - p, weight = p * (1 - p);
            likelihood.add(row.right ? p : 1 - p);
            residuals += residual;
            weights += weight;
            if (row.local < 0) continue;
            gradient[row.local] += residual;
            hessian(row.local, row.local) += weight;
            for (const auto& [index, value] : sitting.local)
                hessian(std::max<Index>(index, row.local), std::min<Index>(index, row.local)) +=
                    weight * value;
        }
        for (const auto& [index, value] : sitting.local) {
            gradient[index] += value * residuals;
            for (const auto& [other, factor] : sitting.local)
                if (other <= index) hessian(index, other) += value * factor * weights;
        }
    }
    return likelihood.sum();
}

std::vector<double> offsets(const PersonRows& rows, const VectorXd& global) {
    std::vector<double> offset(rows.rows.size());
    for (const MixedSitting& sitting : rows.sittings) {
        const double shared = sumOf(sitting.global, global);
        for (std::size_t i = sitting.begin; i < sitting.end; ++i)
            offset[i] = shared + sharedPart(rows.rows[i], global);
    }
    return offset;
}

/// Sums over the rows of persons: gradient and negative Hessian (upper triangle) of the shared effects at the
/// own effects' mode, the cross part, and what the logarithm of the own precision's determinant adds to both
/// gradients (`skew` for the own effects).
struct Totals {
    VectorXd gradient;
    MatrixXd hessian;
    MatrixXd cross;
    VectorXd skew;

    void begin(Index own, Index shared) {
        cross.setZero(own, shared);
        skew.setZero(own);
    }
    void add(const PersonRows& rows, const MixedSitting& sitting, const std::vector<double>& offset,
             const VectorXd& own, const MatrixXd& covariance);

private:
    void addPair(Index a, Index b, double value) { hessian(std::min(a, b), std::max(a, b)) += value; }
    void addFeatures(const MixedRow& row, double residual, double weight);
    void addShared(const MixedRow& row, const MixedSitting& sitting, double residual, double weight);

    Eigen::Matrix<double, kRowFeatures, 1> m_weighted;  ///< of a sitting
};

void Totals::addFeatures(const MixedRow& row, double residual, double weight) {
    for (Index k = 0; k < kRowFeatures; ++k) {
        const double x = static_cast<double>(row.x[static_cast<std::size_t>(k)]);
        if (x == 0) continue;
        const double wx = weight * x;
        gradient[k] += residual * x;
        m_weighted[k] += wx;
        for (Index m = 0; m <= k; ++m)
            hessian(m, k) += wx * static_cast<double>(row.x[static_cast<std::size_t>(m)]);
        if (row.global >= 0) hessian(k, row.global) += wx;
        if (row.local >= 0) cross(row.local, k) += wx;
    }
}

void Totals::addShared(const MixedRow& row, const MixedSitting& sitting, double residual, double weight) {
    if (row.global < 0) return;
    gradient[row.global] += residual;
    hessian(row.global, row.global) += weight;
    for (const auto& [index, value] : sitting.global) addPair(index, row.global, weight * value);
    for (const auto& [index, value] : sitting.local) cross(index, row.global) += weight * value;
    if (row.local >= 0) cross(row.local, row.global) += weight;
}

void Totals::add(const PersonRows& rows, const MixedSitting& sitting, const std::vector<double>& offset,
                 const VectorXd& own, const MatrixXd& covariance) {
    double residuals = 0, weights = 0, skews = 0, sharedVariance = 0;
    m_weighted.setZero();
    const double shared = sumOf(sitting.local, own);
    for (const auto& [index, value] : sitting.local)
        for (const auto& [other, factor] : sitting.local)
            sharedVariance += value * factor * covariance(index, other);
    for (std::size_t i = sitting.begin; i < sitting.end; ++i) {
        const MixedRow& row = rows.rows[i];
        const double p = chanceOf(offset[i] + shared + (row.local >= 0 ? own[row.local] : 0));
        const double weight = p * (1 - p);
        double variance = sharedVariance;  // of the row's log odds, the shared effects given
        if (row.local >= 0) {
            variance += covariance(row.local, row.local);
            for (const auto& [index, value] : sitting.local)
                variance += 2 * value * covariance(index, row.local);
        }
        const double skewed = -0.5 * weight * (1 - 2 * p) * variance;
        const double residual = (row.right ? 1 : 0) - p + skewed;
        residuals += residual;
        weights += weight;
        skews += skewed;
        addFeatures(row, residual, weight);
        addShared(row, sitting, residual, weight);
        if (row.local < 0) continue;
        skew[row.local] += skewed;
        for (const auto& [index, value] : sitting.global) cross(row.local, index) += weight * value;
    }
    for (const auto& [index, value] : sitting.global) {
        gradient[index] += value * residuals;
        for (Index k = 0; k < kRowFeatures; ++k) hessian(k, index) += value * m_weighted[k];
        for (const auto& [other, factor] : sitting.global)
            if (other <= index) hessian(other, index) += value * factor * weights;
        for (const auto& [other, factor] : sitting.local) cross(other, index) += value * factor * weights;
    }
    for (const auto& [index, value] : sitting.local) {
        skew[index] += value * skews;
        for (Index k = 0; k < kRowFeatures; ++k) cross(index, k) += value * m_weighted[k];
    }
}

MatrixXd covarianceOf(const LocalFit& fit) {
    const Index n = fit.mode.size();
    return fit.precision.solve(MatrixXd::Identity(n, n));
}

VectorXd globalPrecision(const GlobalPrior& prior, const std::vector<double>& spread) {
    VectorXd precision(prior.mean.size());
    for (Index i = 0; i < precision.size(); ++i) {
        const int group = prior.group[static_cast<std::size_t>(i)];
        const double sd = group >= 0 ? spread[static_cast<std::size_t>(group)] : prior.sd[i];
        precision[i] = 1 / (sd * sd);
    }
    return precision;
}

double logPrior(const VectorXd& values, const VectorXd& mean, const VectorXd& precision) {
    return -0.5 * (values - mean).cwiseAbs2().dot(precision) + 0.5 * precision.array().log().sum();
}

/// One pass over all persons: their own effects at the given shared ones, and what is left for the shared
/// ones with the persons integrated out.
class Pass {
public:
    Pass(const MixedProblem& problem, const std::vector<double>& spread, std::vector<VectorXd>& own)
        : m_problem(problem), m_spread(spread), m_own(own) {
        squares.assign(spread.size(), 0);
        traces.assign(spread.size(), 0);
        members.assign(spread.size(), 0);
    }
    /// @param inner factor of the last pass, for the traces; may be null
    void run(const VectorXd& global, const Eigen::LLT<MatrixXd>* inner);

    double objective = 0;  ///< log-likelihood of the shared effects, penalised, the own ones integrated out
    Totals totals;
    std::vector<double> squares, traces;
    std::vector<int> members;

private:
    void addPerson(int person, const VectorXd& global, const Eigen::LLT<MatrixXd>* inner);
    void addLateTraces(const LocalFit& fit, const Eigen::LLT<MatrixXd>& inner);

    const MixedProblem& m_problem;
    const std::vector<double>& m_spread;
    std::vector<VectorXd>& m_own;
    PersonRows m_rows;
    MatrixXd m_solved;
    int m_every = 1;
};

void Pass::run(const VectorXd& global, const Eigen::LLT<MatrixXd>* inner) {
    const Index n = m_problem.globals;
    totals.gradient.setZero(n);
    totals.hessian.setZero(n, n);
    m_every = std::max(1, m_problem.persons / kTracePersons);
    for (int person = 0; person < m_problem.persons; ++person) addPerson(person, global, inner);
    const VectorXd precision = globalPrecision(m_problem.prior, m_spread);
    objective += logPrior(global, m_problem.prior.mean, precision);
    totals.gradient -= precision.cwiseProduct(global - m_problem.prior.mean);
    totals.hessian.diagonal() += precision;
}

void Pass::addPerson(int person, const VectorXd& global, const Eigen::LLT<MatrixXd>* inner) {
    m_rows.clear();
    m_problem.rows(person, m_rows);
    VectorXd& own = m_own[static_cast<std::size_t>(person)];
    const LocalFit fit = fitLocal(m_rows, global, ownPrecision(m_rows, m_spread), own);
    own = fit.mode;
    objective += fit.logPosterior - fit.precision.matrixLLT().diagonal().array().log().sum();

    const MatrixXd covariance = covarianceOf(fit);
    totals.begin(own.size(), m_problem.globals);
    const std::vector<double> offset = offsets(m_rows, global);
    for (const MixedSitting& sitting : m_rows.sittings) totals.add(m_rows, sitting, offset, own, covariance);
    const VectorXd shift = covariance * totals.skew;
    totals.gradient.noalias() -= totals.cross.transpose() * shift;
    m_solved = fit.precision.matrixL().solve(totals.cross);
    totals.hessian.selfadjointView<Eigen::Upper>().rankUpdate(m_solved.transpose(), -1);

    for (std::size_t i = 0; i < m_rows.group.size(); ++i) {
        const auto group = static_cast<std::size_t>(m_rows.group[i]);
        const auto at = static_cast<Index>(i);
        squares[group] += own[at] * (own[at] + 2 * shift[at]);
        traces[group] += covariance(at, at);
        ++members[group];
    }
    if (inner && person % m_every == 0) addLateTraces(fit, *inner);
}

/// What the shared effects' uncertainty adds to the own effects' variances; from some persons, for all.
void Pass::addLateTraces(const LocalFit& fit, const Eigen::LLT<MatrixXd>& inner) {
    const MatrixXd follows = fit.precision.matrixU().solve(m_solved);  // own precision^-1 * cross
    const MatrixXd seen = inner.matrixL().solve(follows.transpose());
    for (Index i = 0; i < fit.mode.size(); ++i)
        traces[static_cast<std::size_t>(m_rows.group[static_cast<std::size_t>(i)])] +=
            m_every * seen.col(i).squaredNorm();
}

/// Adds the shared effects' groups to the sums of a pass.
void addGlobalGroups(const GlobalPrior& prior, const VectorXd& global, const Eigen::LLT<MatrixXd>& inner,
                     Pass& pass) {
    const Index n = global.size();
    const MatrixXd root = inner.matrixL().solve(MatrixXd::Identity(n, n));
    for (Index i = 0; i < n; ++i) {
        const int group = prior.group[static_cast<std::size_t>(i)];
        if (group < 0) continue;
        const auto g = static_cast<std::size_t>(group);
        const double from = global[i] - prior.mean[i];
        pass.squares[g] += from * from;
        pass.traces[g] += root.col(i).squaredNorm();
        ++pass.members[g];
    }
}

/// New spreads; the largest relative change.
double moveSpreads(const MixedProblem& problem, const Pass& pass, std::vector<double>& spread) {
    double change = 0;
    for (std::size_t g = 0; g < spread.size(); ++g) {
        const GroupSpread& assumed = problem.groups[g];
        const double variance = spread[g] * spread[g];
        // MacKay: how many members the data have determined; at the fixed point squares + traces = n s^2.
        const double determined = std::clamp(pass.members[g] - pass.traces[g] / variance, 0.0,
                                             static_cast<double>(pass.members[g]));
        const double moved = std::sqrt((pass.squares[g] + assumed.weight * assumed.usual * assumed.usual) /
                                       (determined + assumed.weight));
        const double bounded = std::clamp(moved, spread[g] / 2, spread[g] * 2);
        change = std::max(change, std::abs(bounded / spread[g] - 1));
        spread[g] = bounded;
    }
    return change;
}

}  // namespace

void PersonRows::clear() {
    rows.clear();
    sittings.clear();
    group.clear();
}

MatrixXd ownPrecision(const PersonRows& rows, const std::vector<double>& spread) {
    VectorXd diagonal(static_cast<Index>(rows.group.size()));
    for (std::size_t i = 0; i < rows.group.size(); ++i) {
        const double sd = spread[static_cast<std::size_t>(rows.group[i])];
        diagonal[static_cast<Index>(i)] = 1 / (sd * sd);
    }
    return diagonal.asDiagonal();
}

LocalFit fitLocal(const PersonRows& rows, const VectorXd& global, const MatrixXd& precision,
                  const VectorXd& start) {
    const Index n = precision.rows();
    LocalFit fit;
    fit.mode = start.size() == n ? start : VectorXd::Zero(n);
    const std::vector<double> offset = offsets(rows, global);
    VectorXd gradient;
    MatrixXd hessian;
    const auto at = [&](const VectorXd& own) {
        return ownDerivatives(rows, offset, own, gradient, hessian) - 0.5 * own.dot(precision * own);
    };
    double value = at(fit.mode);
    for (int step = 0;; ++step) {
        gradient -= precision * fit.mode;
        hessian += precision;
        fit.precision.compute(hessian);
        if (n == 0 || step == kLocalSteps) break;
        VectorXd move = fit.precision.solve(gradient);
        if (move.cwiseAbs().maxCoeff() < kLocalTolerance) {
            fit.mode += move;
            break;
        }
        VectorXd next = fit.mode + move;
        double reached = at(next);
        for (int half = 0; half < kHalvings && reached < value - 1e-9; ++half) {
            move *= 0.5;
            next = fit.mode + move;
            reached = at(next);
        }
        value = reached;
        fit.mode = std::move(next);
    }
    fit.logPosterior = value;
    if (n > 0) {
        const Eigen::LLT<MatrixXd> prior(precision);
        fit.logPosterior += prior.matrixLLT().diagonal().array().log().sum();
    }
    return fit;
}

LocalTies tiesOf(const PersonRows& rows, const VectorXd& global, const LocalFit& fit) {
    const MatrixXd covariance = covarianceOf(fit);
    Totals totals;
    totals.gradient.setZero(global.size());
    totals.hessian.setZero(global.size(), global.size());
    totals.begin(fit.mode.size(), global.size());
    const std::vector<double> offset = offsets(rows, global);
    for (const MixedSitting& sitting : rows.sittings) totals.add(rows, sitting, offset, fit.mode, covariance);
    return {std::move(totals.cross), covariance * totals.skew};
}

MixedFit fitMixed(const MixedProblem& problem, const MixedOptions& options) {
    MixedFit fit;
    fit.spread = options.spread;
    if (fit.spread.empty())
        for (const GroupSpread& group : problem.groups) fit.spread.push_back(group.usual);
    fit.global = options.start ? *options.start : problem.prior.mean;
    std::vector<VectorXd> own(static_cast<std::size_t>(problem.persons));
    VectorXd last = fit.global;
    double best = -std::numeric_limits<double>::infinity();
    bool steady = !options.estimateSpreads;
    for (int halved = 0; fit.passes < options.mostPasses;) {
        Pass pass(problem, fit.spread, own);
        pass.run(fit.global, fit.passes > 0 && !steady ? &fit.inner : nullptr);
        ++fit.passes;
        if (options.progress && !options.progress()) {
            fit.stopped = true;
            return fit;
        }
        if (pass.objective < best - kWorse && halved < kHalvings) {  // too far: half the way back
            fit.global = 0.5 * (fit.global + last);
            ++halved;
            continue;
        }
        halved = 0;
        best = pass.objective;
        fit.inner.compute(pass.totals.hessian.selfadjointView<Eigen::Upper>().toDenseMatrix());
        fit.logMarginal = pass.objective - fit.inner.matrixLLT().diagonal().array().log().sum();
        last = fit.global;
        const VectorXd move = fit.inner.solve(pass.totals.gradient);
        const double moved = move.size() > 0 ? move.cwiseAbs().maxCoeff() : 0;
        if (steady && moved < options.tolerance) break;
        if (!steady) {
            addGlobalGroups(problem.prior, fit.global, fit.inner, pass);
            steady = moveSpreads(problem, pass, fit.spread) < options.spreadTolerance && fit.passes > 2;
            best = -std::numeric_limits<double>::infinity();  // another objective from here on
        }
        fit.global += move;
    }
    return fit;
}

}  // namespace markerlamp::core
