// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/drill/drill_blocks.h"

#include "core/readiness/practice_record.h"

#include <algorithm>
#include <cstddef>
#include <numeric>
#include <set>
#include <unordered_map>

namespace markerlamp::core {

namespace {

using StepIndex = std::unordered_map<std::string, int>;

StepIndex indexOf(const TestDraws& draws) {
    StepIndex index;
    for (std::size_t i = 0; i < draws.steps.size(); ++i) index.emplace(draws.steps[i].step, int(i));
    return index;
}

/// Steps of a rule that the test has, in rubric order.
std::vector<int> stepsOf(const OrderRule& rule, const Rubric& rubric, const StepIndex& index) {
    std::set<int> steps;
    for (const auto* entries : {&rule.chain, &rule.first, &rule.then})
        for (const std::string& entry : *entries)
            for (const std::string& step : stepsNamed(rubric, entry))
                if (const auto found = index.find(step); found != index.end()) steps.insert(found->second);
    return {steps.begin(), steps.end()};
}

/// Sets of steps that grow together.
class Together {
public:
    explicit Together(std::size_t steps) : m_first(steps) { std::iota(m_first.begin(), m_first.end(), 0); }

    [[nodiscard]] int firstOf(int step) const {
        while (m_first[std::size_t(step)] != step) step = m_first[std::size_t(step)];
        return step;
    }
    void join(int a, int b) {
        const int one = firstOf(a), other = firstOf(b);
        m_first[std::size_t(std::max(one, other))] = std::min(one, other);
    }

private:
    std::vector<int> m_first;
};

void addStep(DrillBlock& block, int index, const ScopeStep& step, const Step* document) {
    block.steps.push_back(index);
    block.minutes += step.minutes;
    if (!document || document->caution.empty() || block.caution.find(document->caution) != std::string::npos)
        return;
    block.caution += (block.caution.empty() ? "" : " ") + document->caution;
}

void finish(DrillBlock& block, const TestDraws& draws, const std::vector<ZoneSetUp>& setUps,
            const std::set<std::string>& done) {
    const auto stepAt = [&](int index) -> const ScopeStep& { return draws.steps[std::size_t(index)]; };
    const auto titleOf = [&](int index) {
        const Step* step = draws.scope.rubric->step(stepAt(index).step);
        return step ? step->title : stepAt(index).step;
    };
    block.title = titleOf(block.steps.front());
    if (block.steps.size() > 1) block.title += " to " + titleOf(block.steps.back());
    block.zone = stepAt(block.steps.front()).zone;
    for (const ZoneSetUp& setUp : setUps)
        if (std::ranges::any_of(block.steps, [&](int i) { return stepAt(i).zone == setUp.zone; }))
            block.setUpMinutes += setUp.minutes;
    block.doneToday = std::ranges::all_of(block.steps, [&](int i) { return done.contains(stepAt(i).step); });
}

}  // namespace

std::vector<ZoneSetUp> zoneSetUps(const TestDraws& draws) {
    const Rubric& rubric = *draws.scope.rubric;
    const StepIndex index = indexOf(draws);
    std::set<std::string> withChain;
    for (const OrderRule& rule : rubric.order) {
        if (!rule.strict || !rule.mustPass) continue;
        const std::vector<int> steps = stepsOf(rule, rubric, index);
        if (steps.size() < 2) continue;
        for (const int step : steps) withChain.insert(draws.steps[std::size_t(step)].zone);
    }
    std::set<std::string> there;
    for (const ScopeStep& step : draws.steps) there.insert(step.zone);
    std::vector<ZoneSetUp> setUps;
    for (const Zone& zone : rubric.zones)
        if (there.contains(zone.id))
            setUps.push_back(
                {zone.id, kWalkMinutes + (withChain.contains(zone.id) ? kChainSetUpMinutes : 0)});
    return setUps;
}

std::vector<DrillBlock> drillBlocks(const TestDraws& draws, const std::vector<std::string>& doneToday) {
    const Rubric& rubric = *draws.scope.rubric;
    const StepIndex index = indexOf(draws);
    Together together(draws.steps.size());
    std::vector<std::vector<int>> ofRule;
    for (const OrderRule& rule : rubric.order) {
        ofRule.push_back(rule.strict ? stepsOf(rule, rubric, index) : std::vector<int>());
        for (const int step : ofRule.back()) together.join(ofRule.back().front(), step);
    }

    std::vector<DrillBlock> blocks;
    std::unordered_map<int, std::size_t> blockOf;  // first step -> block
    for (std::size_t i = 0; i < draws.steps.size(); ++i) {
        const ScopeStep& step = draws.steps[i];
        const auto [at, isNew] = blockOf.emplace(together.firstOf(int(i)), blocks.size());
        if (isNew) blocks.emplace_back().id = step.step;
        addStep(blocks[at->second], int(i), step, rubric.step(step.step));
    }
    for (std::size_t r = ofRule.size(); r-- > 0;)  // the first rule of a block names it
        if (ofRule[r].size() > 1)
            blocks[blockOf.at(together.firstOf(ofRule[r].front()))].id = rubric.order[r].id;

    const std::vector<ZoneSetUp> setUps = zoneSetUps(draws);
    const std::set<std::string> done(doneToday.begin(), doneToday.end());
    for (DrillBlock& block : blocks) finish(block, draws, setUps, done);
    return blocks;
}

}  // namespace markerlamp::core
