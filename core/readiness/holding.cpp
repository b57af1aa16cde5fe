// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/readiness/holding.h"

#include "core/readiness/test_chance.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <string_view>
#include <unordered_set>

namespace markerlamp::core {

namespace {

constexpr int kMostDraws = 32;  ///< enough for a ranking
constexpr std::size_t kMost = 6, kRecent = 4;
constexpr double kLeastCost = 0.005;  ///< not worth a line
/// Below it no single reason changes the chance: what costs most points is said instead.
constexpr double kOutOfReach = 0.02;

/// Counts what the last attempts say; `seen` gives right or not where an attempt says anything.
template <class Each>
void addMarks(Holding& holding, const PracticeRecord& record, const std::vector<std::size_t>& attempts,
              const Each& each) {
    std::size_t looked = 0;
    for (auto at = attempts.rbegin(); at != attempts.rend() && looked < kRecent; ++at, ++looked) {
        const PracticeAttempt& attempt = record.attempts()[*at];
        const auto [right, seen] = each(attempt);
        if (seen == 0) continue;
        holding.right += right;
        holding.seen += seen;
        holding.attempts.push_back(attempt.id);
    }
}

/// A step or a zone ("zone:ID") of an order rule.
std::string titleOf(const Rubric& rubric, const std::string& side) {
    constexpr std::string_view kZone = "zone:";
    if (side.starts_with(kZone)) {
        const Zone* zone = rubric.zone(side.substr(kZone.size()));
        return zone ? zone->title : side;
    }
    const Step* step = rubric.step(side);
    return step ? step->title : side;
}

/// Rules have no title: what must come first and last says which one is meant.
std::string titleOf(const Rubric& rubric, const OrderRule& rule) {
    if (rule.chain.size() > 1)
        return "Order: " + titleOf(rubric, rule.chain.front()) + " to " + titleOf(rubric, rule.chain.back());
    if (rule.first.empty() || rule.then.empty()) return "Order: " + rule.id;
    return "Order: " + titleOf(rubric, rule.first.front()) + " before " + titleOf(rubric, rule.then.front());
}

/// Nothing that was right each time lately is a reason, even where a slip would still cost something.
bool rightEachTime(const Holding& holding) {
    return holding.seen > 0 && holding.right == holding.seen;
}

/// Looks at every n-th draw.
class Search {
public:
    Search(const LearningModel::Data& data, const TestDraws& draws, const std::vector<std::size_t>& attempts)
        : m_data(data), m_draws(draws), m_attempts(attempts) {
        for (std::size_t p = 0; p < draws.scope.parts.size(); ++p) m_parts.emplace_back(draws, p);
        const int every = std::max(1, draws.draws / kMostDraws);
        for (int d = 0; d < draws.draws; d += every) m_some.push_back(static_cast<std::size_t>(d));
        for (const std::size_t d : m_some) m_chance += chanceAt(d, row(d)) / double(m_some.size());
        m_byPoints = m_chance < kOutOfReach;
        if (!m_byPoints) return;
        m_chance = 0;
        for (const std::size_t d : m_some) m_chance += pointsAt(row(d)) / double(m_some.size());
    }

    std::vector<Holding> zones();
    std::vector<Holding> steps();
    std::vector<Holding> rules();

private:
    [[nodiscard]] const double* row(std::size_t d) const {
        return m_draws.logit.data() + d * m_draws.steps.size();
    }
    [[nodiscard]] double kept(std::size_t d, std::size_t part) const {
        return m_draws.kept[d * m_draws.scope.parts.size() + part];
    }
    [[nodiscard]] double chanceAt(std::size_t d, const double* logit) const {
        double sum = 0;
        for (std::size_t p = 0; p < m_parts.size(); ++p)
            sum += m_draws.scope.parts[p].share * kept(d, p) * m_parts[p].at(logit, m_draws.daySpread[d]);
        return sum;
    }
    /// Expected share of the weight, 0..1.
    [[nodiscard]] double pointsAt(const double* logit) const;
    [[nodiscard]] double valueAt(std::size_t d, const double* logit) const {
        return m_byPoints ? pointsAt(logit) : chanceAt(d, logit);
    }
    /// What each step costs, by step of the draws.
    [[nodiscard]] std::vector<double> costsOfSteps() const;
    [[nodiscard]] std::vector<double> pointsOfSteps() const;
    /// Mean log odds of the steps that are (not) of a zone.
    [[nodiscard]] double meanLogit(std::size_t d, const std::string& zone, bool ofZone) const;
    /// Behind the other zones, where there are any.
    [[nodiscard]] bool isWeak(const std::string& zone) const;
    [[nodiscard]] double costOfZone(const std::string& zone) const;
    [[nodiscard]] Holding step(std::size_t index, double cost) const;

    const LearningModel::Data& m_data;
    const TestDraws& m_draws;
    const std::vector<std::size_t>& m_attempts;
    std::vector<PartChance> m_parts;
    std::vector<std::size_t> m_some;
    double m_chance = 0;      ///< or the expected share of the weight
    bool m_byPoints = false;  ///< passing is out of reach for now
};

double Search::pointsAt(const double* logit) const {
    double sum = 0, weight = 0;
    for (std::size_t s = 0; s < m_draws.steps.size(); ++s) {
        sum += m_draws.steps[s].weight / (1 + std::exp(-logit[s]));
        weight += m_draws.steps[s].weight;
    }
    return weight > 0 ? sum / weight : 0;
}

std::vector<double> Search::pointsOfSteps() const {
    std::vector<double> costs(m_draws.steps.size(), 0.0);
    double weight = 0;
    for (const ScopeStep& one : m_draws.steps) weight += one.weight;
    for (const std::size_t d : m_some) {
        const double aim = meanLogit(d, {}, false);
        for (std::size_t s = 0; s < costs.size(); ++s)
            costs[s] += std::max(0.0, 1 / (1 + std::exp(-aim)) - 1 / (1 + std::exp(-row(d)[s]))) *
                        m_draws.steps[s].weight / weight / double(m_some.size());
    }
    return costs;
}

double Search::meanLogit(std::size_t d, const std::string& zone, bool ofZone) const {
    double sum = 0;
    int count = 0;
    for (std::size_t s = 0; s < m_draws.steps.size(); ++s) {
        if ((m_draws.steps[s].zone == zone) != ofZone) continue;
        sum += row(d)[s];
        ++count;
    }
    return count > 0 ? sum / count : 0;
}

bool Search::isWeak(const std::string& zone) const {
    double behind = 0;
    for (const std::size_t d : m_some) behind += meanLogit(d, zone, false) - meanLogit(d, zone, true);
    const bool alone = std::ranges::all_of(m_draws.steps, [&](const ScopeStep& s) { return s.zone == zone; });
    return behind > 0 && !alone;
}

double Search::costOfZone(const std::string& zone) const {
    double with = 0;
    std::vector<double> raised(m_draws.steps.size());
    for (const std::size_t d : m_some) {
        const double more = std::max(0.0, meanLogit(d, zone, false) - meanLogit(d, zone, true));
        for (std::size_t s = 0; s < raised.size(); ++s)
            raised[s] = row(d)[s] + (m_draws.steps[s].zone == zone ? more : 0);
        with += valueAt(d, raised.data()) / double(m_some.size());
    }
    return with - m_chance;
}

std::vector<Holding> Search::zones() {
    std::vector<Holding> all;
    std::unordered_set<std::string> done;
    for (const ScopeStep& one : m_draws.steps) {
        if (!done.insert(one.zone).second) continue;
        Holding holding{Holding::Kind::Zone, one.zone, one.zone, 0, 0, 0, {}};
        if (const Zone* zone = m_draws.scope.rubric->zone(one.zone)) holding.title = zone->title;
        holding.cost = isWeak(one.zone) ? costOfZone(one.zone) : 0;
        if (holding.cost < kLeastCost) continue;
        addMarks(holding, *m_data.record, m_attempts, [&](const PracticeAttempt& attempt) {
            int right = 0, seen = 0;
            for (const StepTry& tried : attempt.tries) {
                const PracticeStep& step = m_data.record->steps()[static_cast<std::size_t>(tried.step)];
                if (step.zone != one.zone || step.rubric != m_draws.scope.rubric->id) continue;
                ++seen;
                right += tried.right ? 1 : 0;
            }
            return std::pair(right, seen);
        });
        all.push_back(std::move(holding));
    }
    return all;
}

Holding Search::step(std::size_t index, double cost) const {
    const std::string& id = m_draws.steps[index].step;
    Holding holding{Holding::Kind::Step, id, id, cost, 0, 0, {}};
    if (const Step* one = m_draws.scope.rubric->step(id)) holding.title = one->title;
    const auto number = m_data.record->stepNumber(m_draws.scope.rubric->id, id);
    addMarks(holding, *m_data.record, m_attempts, [&](const PracticeAttempt& attempt) {
        for (const StepTry& tried : attempt.tries)
            if (number && tried.step == *number) return std::pair(tried.right ? 1 : 0, 1);
        return std::pair(0, 0);
    });
    return holding;
}

std::vector<double> Search::costsOfSteps() const {
    // A chance is linear in the chance of one step, so one gradient prices them all exactly.
    constexpr std::size_t kEvery = 4;
    std::vector<double> gains(m_draws.steps.size(), 0.0);
    const std::size_t looks = (m_some.size() + kEvery - 1) / kEvery;
    for (std::size_t i = 0; i < m_some.size(); i += kEvery) {
        const std::size_t d = m_some[i];
        const double aim = meanLogit(d, {}, false);
        for (std::size_t p = 0; p < m_parts.size(); ++p)
            m_parts[p].addGains(row(d), m_draws.daySpread[d], aim,
                                m_draws.scope.parts[p].share * kept(d, p) / double(looks), gains);
    }
    return gains;
}

std::vector<Holding> Search::steps() {
    const std::vector<double> costs = m_byPoints ? pointsOfSteps() : costsOfSteps();
    std::vector<Holding> all;
    for (std::size_t s = 0; s < costs.size(); ++s)
        if (costs[s] >= kLeastCost) all.push_back(step(s, costs[s]));
    return all;
}

std::vector<Holding> Search::rules() {
    std::vector<Holding> all;
    if (m_byPoints) return all;  // an order earns no points
    const Rubric& rubric = *m_draws.scope.rubric;
    std::vector<std::unordered_set<std::string>> stepsOf(m_parts.size());
    for (std::size_t p = 0; p < m_parts.size(); ++p)
        for (const int s : m_draws.inPart[p])
            stepsOf[p].insert(m_draws.steps[static_cast<std::size_t>(s)].step);
    const Habits::Keeping keeping = m_data.habits.keeping(m_attempts, m_draws.draws);
    for (const OrderRule& rule : rubric.order) {
        if (!rule.strict || !rule.mustPass) continue;
        const std::int32_t number = m_data.record->ruleNumber(rubric.id, rule.id).value_or(-1);
        const Eigen::ArrayXd keeps = keeping.chances(number);
        double cost = 0;
        for (std::size_t p = 0; p < m_parts.size(); ++p) {
            if (!canBreak(rubric, rule, stepsOf[p])) continue;
            for (const std::size_t d : m_some)
                cost += m_draws.scope.parts[p].share * kept(d, p) *
                        m_parts[p].at(row(d), m_draws.daySpread[d]) *
                        (1 / std::max(keeps[static_cast<Eigen::Index>(d)], 0.01) - 1) / double(m_some.size());
        }
        if (cost < kLeastCost) continue;
        Holding holding{Holding::Kind::OrderRule, rule.id, titleOf(rubric, rule), cost, 0, 0, {}};
        addMarks(holding, *m_data.record, m_attempts, [&](const PracticeAttempt& attempt) {
            for (const RuleTry& tried : attempt.rules)
                if (tried.rule == number) return std::pair(tried.kept ? 1 : 0, 1);
            return std::pair(0, 0);
        });
        all.push_back(std::move(holding));
    }
    return all;
}

}  // namespace

std::vector<Holding> whatHolds(const LearningModel::Data& data, const TestDraws& draws,
                               const std::vector<std::size_t>& attempts) {
    if (draws.steps.empty()) return {};
    Search search(data, draws, attempts);
    std::vector<Holding> all = search.zones();
    for (std::vector<Holding>& more : std::vector{search.steps(), search.rules()})
        std::ranges::move(more, std::back_inserter(all));
    std::erase_if(all, rightEachTime);
    std::ranges::stable_sort(all, std::greater{}, &Holding::cost);
    if (all.size() > kMost) all.resize(kMost);
    return all;
}

}  // namespace markerlamp::core
