// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/readiness/kept_chance.h"

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

std::optional<bool> keptIn(const PracticeAttempt& attempt, std::int32_t rule) {
    for (const RuleTry& one : attempt.rules)
        if (one.rule == rule) return one.kept;
    return std::nullopt;
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

Habits::Habits(const PracticeRecord& record, double before) : m_record(record), m_before(before) {
    // Per rule and trainee: the last attempts, faded as a forecast will fade them.
    std::vector<std::map<std::int32_t, std::vector<std::size_t>>> byRule(record.rules().size());
    for (std::size_t i = 0; i < record.attempts().size() && record.attempts()[i].day < before; ++i)
        for (const RuleTry& one : record.attempts()[i].rules)
            byRule[static_cast<std::size_t>(one.rule)][record.attempts()[i].trainee].push_back(i);
    std::vector<BetaCounts> all;
    for (std::size_t r = 0; r < byRule.size(); ++r) {
        std::vector<BetaCounts> persons;
        for (const auto& [trainee, attempts] : byRule[r])
            persons.push_back(faded(record, attempts, [&](const PracticeAttempt& attempt) {
                return keptIn(attempt, static_cast<std::int32_t>(r));
            }));
        m_rules.push_back(betaBinomial(persons));
        all.insert(all.end(), persons.begin(), persons.end());
    }
    m_unknown = betaBinomial(all);
}

BetaBelief Habits::rule(std::int32_t rule, const std::vector<std::size_t>& attempts) const {
    if (rule < 0 || static_cast<std::size_t>(rule) >= m_rules.size()) return m_unknown;
    const BetaBelief& program = m_rules[static_cast<std::size_t>(rule)];
    return after(program,
                 faded(m_record, attempts, [&](const PracticeAttempt& a) { return keptIn(a, rule); }));
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
