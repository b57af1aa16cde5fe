// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/drill/drill_blocks.h"
#include "core/drill/drill_choice.h"
#include "core/drill/drill_plan.h"
#include "core/drill/drill_worth.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstddef>
#include <functional>
#include <iterator>
#include <numeric>
#include <utility>

namespace markerlamp::core {

namespace {

constexpr double kBlindBelow = 0.05;  ///< far under the pass mark all gains vanish
constexpr double kSafeAbove = 0.98;
/// Where no block moves the chance to speak of, more points break the tie: a whole percent of the score
/// counts as a millionth of the chance.
constexpr double kChanceOfPercent = 1e-6;
constexpr int kSearchDraws = 32;  ///< in the search; the figures of the plan come from all draws
constexpr int kDayNodes = 3;

double mean(const std::vector<double>& values) {
    return values.empty() ? 0 : std::accumulate(values.begin(), values.end(), 0.0) / double(values.size());
}

/// Mean of the lowest tenth: like a quantile, without its jumps from draw to draw.
double badCase(std::vector<double> values) {
    const std::size_t few =
        std::max<std::size_t>(values.size() / 10, std::min<std::size_t>(values.size(), 1));
    std::ranges::nth_element(values, values.begin() + std::ptrdiff_t(few));
    values.resize(few);
    return mean(values);
}

using Summary = std::function<double(std::vector<double>)>;

}  // namespace

struct DrillPlanner::State {
    State(TestDraws all, const std::vector<std::string>& doneToday)
        : draws(std::move(all)),
          blocks(drillBlocks(draws, doneToday)),
          setUps(zoneSetUps(draws)),
          search(draws, kSearchDraws, kDayNodes),
          fine(draws, draws.draws, kDayNodes),
          pointsOfStep(fine.pointsOfSteps()),
          scoreBefore(fine.expectedPercent()),
          before(mean(passChances(draws))) {
        for (const ZoneSetUp& setUp : setUps) groupMinutes.push_back(setUp.minutes);
        for (const DrillBlock& block : blocks) items.push_back(itemOf(block));
    }

    [[nodiscard]] DrillItem itemOf(const DrillBlock& block) const {
        DrillItem item{block.minutes, {}, 0};
        for (const int step : block.steps) {
            item.points += pointsOfStep[std::size_t(step)];
            const int group = groupOf(draws.steps[std::size_t(step)].zone);
            if (std::ranges::find(item.groups, group) == item.groups.end()) item.groups.push_back(group);
        }
        return item;
    }
    [[nodiscard]] int groupOf(const std::string& zone) const {
        const auto found = std::ranges::find(setUps, zone, &ZoneSetUp::zone);
        assert(found != setUps.end());
        return int(found - setUps.begin());
    }
    [[nodiscard]] std::vector<char> drilledBy(const std::vector<int>& chosen) const {
        std::vector<char> drilled(draws.steps.size(), 0);
        for (const int block : chosen)
            for (const int step : blocks[std::size_t(block)].steps) drilled[std::size_t(step)] = 1;
        return drilled;
    }

    /// Blocks worth offering: not done today, and of some use.
    [[nodiscard]] std::vector<int> offered() const {
        std::vector<int> offered;
        for (std::size_t b = 0; b < blocks.size(); ++b)
            if (!blocks[b].doneToday && items[b].points > 0) offered.push_back(int(b));
        return offered;
    }

    [[nodiscard]] std::vector<int> chosenBy(const SetValue& value, double minutes) const;
    [[nodiscard]] std::vector<int> chosenByChance(double minutes, const Summary& summary) const;
    [[nodiscard]] std::vector<int> chosenByPoints(double minutes) const;
    [[nodiscard]] std::vector<DrillPart> parts(const std::vector<int>& chosen) const;

    TestDraws draws;
    std::vector<DrillBlock> blocks;
    std::vector<ZoneSetUp> setUps;
    DrilledChances search, fine;
    std::vector<double> pointsOfStep;
    double scoreBefore = 0, before = 0;
    std::vector<double> groupMinutes;
    std::vector<DrillItem> items;  ///< one a block
};

/// @param value of sets of blocks' indices
std::vector<int> DrillPlanner::State::chosenBy(const SetValue& value, double minutes) const {
    const std::vector<int> from = offered();
    std::vector<DrillItem> some;
    for (const int block : from) some.push_back(items[std::size_t(block)]);
    const auto blocksOf = [&from](const std::vector<int>& set) {
        std::vector<int> chosen;
        for (const int item : set) chosen.push_back(from[std::size_t(item)]);
        return chosen;
    };
    const SetValue ofItems{[&](const std::vector<int>& set) { return value.of(blocksOf(set)); },
                           [&](const std::vector<int>& set) {
                               const ValuesAround all = value.around(blocksOf(set));
                               ValuesAround values{all.ofSet, {}};
                               for (const int block : from)
                                   values.toggled.push_back(all.toggled[std::size_t(block)]);
                               return values;
                           }};
    return blocksOf(chooseItems(some, groupMinutes, minutes, ofItems));
}

std::vector<int> DrillPlanner::State::chosenByChance(double minutes, const Summary& summary) const {
    std::vector<std::vector<int>> steps;
    for (const DrillBlock& block : blocks) steps.push_back(block.steps);
    steps.emplace_back();  // nothing changed over: the set itself
    const auto points = [&](const std::vector<int>& set) {
        double sum = 0;
        for (const int block : set) sum += items[std::size_t(block)].points;
        return kChanceOfPercent * sum;
    };
    const auto of = [&](const std::vector<int>& set) {
        return summary(search.perDraw(drilledBy(set))) + points(set);
    };
    const auto around = [&](const std::vector<int>& set) {
        const std::vector<double> all = search.toggledPerDraw(drilledBy(set), steps);
        ValuesAround values;
        for (auto at = all.begin(); at != all.end(); at += search.draws())
            values.toggled.push_back(summary({at, at + search.draws()}));
        values.ofSet = values.toggled.back() + points(set);
        values.toggled.pop_back();
        for (std::size_t b = 0; b < items.size(); ++b)
            values.toggled[b] += points(set) + (std::ranges::binary_search(set, int(b)) ? -1 : 1) *
                                                   kChanceOfPercent * items[b].points;
        return values;
    };
    return chosenBy({of, around}, minutes);
}

std::vector<int> DrillPlanner::State::chosenByPoints(double minutes) const {
    const auto of = [&](const std::vector<int>& set) {
        double sum = 0;
        for (const int block : set) sum += items[std::size_t(block)].points;
        return sum;
    };
    const auto around = [&](const std::vector<int>& set) {
        ValuesAround values{of(set), {}};
        for (std::size_t b = 0; b < items.size(); ++b)
            values.toggled.push_back(values.ofSet +
                                     (std::ranges::binary_search(set, int(b)) ? -1 : 1) * items[b].points);
        return values;
    };
    return chosenBy({of, around}, minutes);
}

std::vector<DrillPart> DrillPlanner::State::parts(const std::vector<int>& chosen) const {
    const std::vector<char> drilled = drilledBy(chosen);
    std::vector<std::vector<int>> steps;
    for (const int block : chosen) steps.push_back(blocks[std::size_t(block)].steps);
    const double with = mean(fine.perDraw(drilled));
    const std::vector<double> toggled = fine.toggledPerDraw(drilled, steps);
    std::vector<DrillPart> parts;
    for (std::size_t i = 0; i < chosen.size(); ++i) {
        double without = 0;
        if (steps[i].size() == 1) {
            const auto at = toggled.begin() + std::ptrdiff_t(i) * fine.draws();
            without = mean({at, at + fine.draws()});
        } else {
            std::vector<char> rest = drilled;
            for (const int step : steps[i]) rest[std::size_t(step)] = 0;
            without = mean(fine.perDraw(rest));
        }
        parts.push_back({chosen[i], with - without, items[std::size_t(chosen[i])].points});
    }
    return parts;
}

DrillPlanner::DrillPlanner(TestDraws draws, const std::vector<std::string>& doneToday)
    : m_state(std::make_shared<const State>(std::move(draws), doneToday)) {}

const std::vector<DrillBlock>& DrillPlanner::blocks() const {
    return m_state->blocks;
}

const TestDraws& DrillPlanner::draws() const {
    return m_state->draws;
}

DrillPlan DrillPlanner::plan(double minutes) const {
    if (!(minutes > 0) || m_state->draws.draws == 0) return worth({});
    const bool safe = m_state->before > kSafeAbove;
    DrillPlan plan = worth(m_state->chosenByChance(minutes, safe ? Summary(badCase) : Summary(mean)));
    plan.aim = safe ? DrillAim::LowerQuantile : DrillAim::PassChance;
    // A single must-pass step can hold the chance near 0 while all else is good; then its drill lifts the
    // chance at once, and points would be the wrong aim.
    if (m_state->before >= kBlindBelow || plan.after >= kBlindBelow) return plan;
    plan = worth(m_state->chosenByPoints(minutes));
    plan.aim = DrillAim::ExpectedScore;
    return plan;
}

DrillPlan DrillPlanner::worth(const std::vector<int>& blocks) const {
    std::vector<int> chosen = blocks;
    std::ranges::sort(chosen);
    chosen.erase(std::unique(chosen.begin(), chosen.end()), chosen.end());
    assert(chosen.empty() || (chosen.front() >= 0 && chosen.back() < int(m_state->blocks.size())));

    DrillPlan plan;
    plan.before = plan.after = m_state->before;
    plan.scoreBefore = plan.scoreAfter = m_state->scoreBefore;
    if (chosen.empty() || m_state->draws.draws == 0) return plan;
    plan.parts = m_state->parts(chosen);
    plan.minutes = minutesOf(chosen);
    for (const DrillPart& part : plan.parts) plan.scoreAfter += part.points;
    TestDraws then = m_state->draws;
    const std::vector<char> drilled = m_state->drilledBy(chosen);
    for (std::size_t i = 0; i < then.logit.size(); ++i)
        if (drilled[i % drilled.size()]) then.logit[i] = then.drilled[i];
    plan.after = mean(passChances(then));
    return plan;
}

double DrillPlanner::minutesOf(const std::vector<int>& blocks) const {
    return core::minutesOf(blocks, m_state->items, m_state->groupMinutes);
}

std::vector<std::string> DrillPlanner::zonesOf(const DrillPlan& plan) const {
    std::vector<char> touched(m_state->setUps.size(), 0);
    for (const DrillPart& part : plan.parts)
        for (const int group : m_state->items[std::size_t(part.block)].groups)
            touched[std::size_t(group)] = 1;
    std::vector<std::string> zones;
    for (std::size_t g = 0; g < touched.size(); ++g)
        if (touched[g]) zones.push_back(m_state->setUps[g].zone);
    return zones;
}

std::vector<std::string> DrillPlanner::besides(const DrillPlan& plan) const {
    std::vector<int> chosen;
    for (const DrillPart& part : plan.parts) chosen.push_back(part.block);
    const std::vector<char> drilled = m_state->drilledBy(chosen);
    const std::vector<std::string> zones = zonesOf(plan);
    std::vector<std::string> steps;
    for (std::size_t s = 0; s < drilled.size(); ++s) {
        const ScopeStep& step = m_state->draws.steps[s];
        if (!drilled[s] && std::ranges::find(zones, step.zone) != zones.end()) steps.push_back(step.step);
    }
    return steps;
}

}  // namespace markerlamp::core
