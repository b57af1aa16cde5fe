// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/readiness/kept_chance.h"

#include "core/readiness/draws.h"

#include <boost/math/distributions/beta.hpp>
#include <boost/math/policies/policy.hpp>

#include <algorithm>
#include <cmath>
#include <map>

namespace markerlamp::core {

namespace {

using Quiet = boost::math::policies::policy<
    boost::math::policies::domain_error<boost::math::policies::ignore_error>,
    boost::math::policies::pole_error<boost::math::policies::ignore_error>,
    boost::math::policies::overflow_error<boost::math::policies::ignore_error>,
    boost::math::policies::evaluation_error<boost::math::policies::ignore_error>>;

/// Habits change with practice: each further attempt back counts this much less. Assumed.
constexpr double kOlder = 0.8;
constexpr BetaBelief kBeforeData{3, 1};  ///< most keep it; assumed, worth four attempts

double logBeta(double a, double b) {
    return std::lgamma(a) + std::lgamma(b) - std::lgamma(a + b);
}

/// Log marginal likelihood with weak priors: m ~ Beta(2, 1.5), log k ~ N(log 6, 1).
double worth(const std::vector<BetaCounts>& persons, double m, double k) {
    const double a = m * k, b = (1 - m) * k;
    const double off = std::log(k / 6);
    double sum = std::log(m) + 0.5 * std::log1p(-m) - 0.5 * off * off;
    for (const BetaCounts& one : persons)
        sum += logBeta(a + one.kept, b + one.seen - one.kept) - logBeta(a, b);
    return sum;
}

/// Newest first, each older one counting less.
template <class Each>
BetaCounts faded(const PracticeRecord& record, const std::vector<std::size_t>& attempts, const Each& each) {
    BetaCounts counts;
    double weight = 1;
    for (auto at = attempts.rbegin(); at != attempts.rend(); ++at) {
        const std::optional<bool> kept = each(record.attempts()[*at]);
        if (!kept) continue;
        counts.seen += weight;
        if (*kept) counts.kept += weight;
        weight *= kOlder;
    }
    return counts;
}

BetaBelief after(const BetaBelief& before, const BetaCounts& counts) {
    return {before.a + counts.kept, before.b + counts.seen - counts.kept};
}

}  // namespace

double BetaBelief::quantile(double level) const {
    const boost::math::beta_distribution<double, Quiet> beta(a, b);
    const double value = boost::math::quantile(beta, level);
    return std::isfinite(value) ? std::clamp(value, 0.0, 1.0) : mean();
}

BetaBelief betaBinomial(const std::vector<BetaCounts>& persons) {
    double seen = 0;
    for (const BetaCounts& one : persons) seen += one.seen;
    if (seen <= 0) return kBeforeData;
    // Two dimensions, smooth, cheap: a grid, then a finer one around its best.
    double bestM = 0.75, bestK = 4, best = worth(persons, bestM, bestK);
    double logit = 0, logK = std::log(4.0), stepLogit = 1, stepLogK = 1;
    constexpr int kReach = 4, kRounds = 4;
    for (int round = 0; round < kRounds; ++round) {
        const double aroundLogit = round == 0 ? logit : std::log(bestM / (1 - bestM));
        const double aroundK = round == 0 ? logK : std::log(bestK);
        for (int i = -kReach; i <= kReach; ++i) {
            for (int j = -kReach; j <= kReach; ++j) {
                const double m = 1 / (1 + std::exp(-(aroundLogit + i * stepLogit)));
                const double k = std::exp(aroundK + j * stepLogK);
                const double value = worth(persons, m, k);
                if (value > best) best = value, bestM = m, bestK = k;
            }
        }
        stepLogit /= kReach;
        stepLogK /= kReach;
    }
    return {bestM * bestK, (1 - bestM) * bestK};
}

namespace {

using Eigen::Index;
using Eigen::VectorXd;

constexpr int kFirstRule = kRowFeatures;
constexpr int kHabitGroup = 0, kRuleGroup = 1;
constexpr std::size_t kMostRules = 200;  ///< that no real rubric has
constexpr std::uint64_t kHabitSeed = 0x6b656570696e67;

/// Rows of one trainee; his attempts in their order.
void addRows(const PracticeRecord& record, const std::vector<std::size_t>& attempts,
             const std::vector<int>& effects, RulePractice& practice, PersonRows& rows) {
    MixedSitting all;
    for (const std::size_t index : attempts) {
        for (const RuleTry& one : record.attempts()[index].rules) {
            MixedRow& row = rows.rows.emplace_back();
            row.x = practice.features(one.rule);
            row.global = effects[static_cast<std::size_t>(one.rule)];
            row.right = one.kept;
        }
        for (const RuleTry& one : record.attempts()[index].rules) practice.remember(one);
    }
    all.end = rows.rows.size();
    all.global = {{kFirstRule, 1.0}};
    all.local = {{0, 1.0}};
    rows.sittings.push_back(std::move(all));
    rows.group = {kHabitGroup};
}

/// Assumed, in logits: most keep the order, practice and being told help, people differ.
void setPriors(MixedProblem& problem) {
    GlobalPrior& prior = problem.prior;
    prior.mean = VectorXd::Zero(problem.globals);
    prior.sd = VectorXd::Ones(problem.globals);
    prior.group.assign(static_cast<std::size_t>(problem.globals), -1);
    const double means[] = {0.5, 0.4, 0.1, 0, 0.8}, sds[] = {0.4, 0.4, 0.3, 0.3, 1.2};
    for (int i = 0; i <= kFirstRule; ++i) {
        prior.mean[i] = means[i];
        prior.sd[i] = sds[i];
    }
    for (int i = kFirstRule + 1; i < problem.globals; ++i)
        prior.group[static_cast<std::size_t>(i)] = kRuleGroup;
    problem.groups = {{0.9, 4}, {0.6, 4}};
}

}  // namespace

void RulePractice::remember(const RuleTry& one) {
    Counts& counts = m_counts[one.rule];
    ++(one.kept ? counts.kept : counts.broken);
    counts.last = one.kept ? 1 : -1;
}

std::array<float, kRowFeatures> RulePractice::features(std::int32_t rule) const {
    const auto at = m_counts.find(rule);
    if (at == m_counts.end()) return {};
    const Counts& counts = at->second;
    return {std::log1p(static_cast<float>(counts.kept)), std::log1p(static_cast<float>(counts.broken)),
            counts.last > 0 ? 1.0F : 0.0F, counts.last < 0 ? 1.0F : 0.0F};
}

Habits::Habits(const PracticeRecord& record, double before)
    : m_record(record), m_before(before), m_effect(record.rules().size(), -1) {
    MixedProblem problem;
    problem.globals = kFirstRule + 1;
    std::map<std::int32_t, std::vector<std::size_t>> byTrainee;
    for (std::size_t i = 0; i < record.attempts().size() && record.attempts()[i].day < before; ++i) {
        const PracticeAttempt& attempt = record.attempts()[i];
        if (!attempt.rules.empty()) byTrainee[attempt.trainee].push_back(i);
        for (const RuleTry& one : attempt.rules) m_effect[static_cast<std::size_t>(one.rule)] = 0;
    }
    std::size_t known = 0;
    for (int& effect : m_effect)
        if (effect == 0) effect = ++known > kMostRules ? -1 : problem.globals++;
    std::vector<const std::vector<std::size_t>*> persons;
    for (const auto& [trainee, attempts] : byTrainee) persons.push_back(&attempts);
    problem.persons = static_cast<int>(persons.size());
    problem.rows = [&](int person, PersonRows& rows) {
        RulePractice practice;
        addRows(record, *persons[static_cast<std::size_t>(person)], m_effect, practice, rows);
    };
    setPriors(problem);
    m_fit = fitMixed(problem);
}

Habits::Keeping Habits::keeping(const std::vector<std::size_t>& attempts, int draws) const {
    Keeping keeping;
    keeping.m_habits = this;
    PersonRows rows;
    addRows(m_record, attempts, m_effect, keeping.m_practice, rows);
    const LocalFit fit = fitLocal(rows, m_fit.global, ownPrecision(rows, m_fit.spread), {});
    const LocalTies ties = tiesOf(rows, m_fit.global, fit);
    Draws random(kHabitSeed);
    const Index effects = m_fit.global.size();
    keeping.m_shared = m_fit.inner.matrixU().solve(random.normals(effects, draws)).transpose();
    const VectorXd alone = random.normals(1, draws).row(0);
    keeping.m_own = fit.mode[0] + ties.shift[0] +
                    (fit.precision.matrixU().solve(alone.transpose()).transpose() -
                     keeping.m_shared * fit.precision.solve(ties.cross).transpose())
                        .array();
    keeping.m_shared.rowwise() += m_fit.global.transpose();
    keeping.m_unknown = m_fit.spread[kRuleGroup] * random.normals(1, draws).row(0);
    return keeping;
}

Eigen::ArrayXd Habits::Keeping::chances(std::int32_t rule) const {
    VectorXd logit = m_own + m_shared.col(kFirstRule);
    const int effect = rule < 0 ? -1 : m_habits->m_effect[static_cast<std::size_t>(rule)];
    logit += effect >= 0 ? VectorXd(m_shared.col(effect)) : m_unknown;
    const std::array<float, kRowFeatures> x = m_practice.features(rule);
    for (int k = 0; k < kRowFeatures; ++k)
        logit += m_shared.col(k) * static_cast<double>(x[static_cast<std::size_t>(k)]);
    return 1 / (1 + (-logit.array()).exp());
}

BetaBelief Habits::inTime(std::int32_t rubric, double minutes, double share,
                          const std::vector<std::size_t>& attempts) const {
    const auto inTime = [&](const PracticeAttempt& attempt) -> std::optional<bool> {
        if (!attempt.whole || attempt.rubric != rubric) return std::nullopt;
        return attempt.minutes * share <= minutes;
    };
    std::map<std::int32_t, std::vector<std::size_t>> byTrainee;
    for (std::size_t i = 0; i < m_record.attempts().size() && m_record.attempts()[i].day < m_before; ++i)
        if (inTime(m_record.attempts()[i])) byTrainee[m_record.attempts()[i].trainee].push_back(i);
    std::vector<BetaCounts> persons;
    for (const auto& [trainee, own] : byTrainee) persons.push_back(faded(m_record, own, inTime));
    return after(betaBinomial(persons), faded(m_record, attempts, inTime));
}

}  // namespace markerlamp::core
