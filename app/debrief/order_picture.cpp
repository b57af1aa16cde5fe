// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/debrief/order_picture.h"

#include "app/support/display.h"
#include "core/rubric/order_relation.h"

#include <QCoreApplication>

#include <algorithm>
#include <map>
#include <set>

namespace markerlamp::app {

namespace {

class OrderText {
    Q_DECLARE_TR_FUNCTIONS(OrderText)
};

std::map<std::string, int> stepNumbers(const core::Rubric& rubric) {
    std::map<std::string, int> numbers;
    for (const core::Zone& zone : rubric.zones)
        for (const core::Step& step : zone.steps) numbers.emplace(step.id, static_cast<int>(numbers.size()));
    return numbers;
}

/// The sequence with each displaced step put where the rules allow it, as near to where it was done as that
/// goes. The rules are transitive, so such a place always exists.
std::vector<int> putRight(const core::OrderRelation& relation, const std::vector<int>& observed,
                          const std::set<int>& displaced) {
    std::vector<int> right;
    std::map<int, int> keptBefore;
    for (const int step : observed) {
        keptBefore[step] = static_cast<int>(right.size());
        if (displaced.count(step) == 0) right.push_back(step);
    }
    for (const int step : displaced) {
        int low = 0;
        int high = static_cast<int>(right.size());
        for (int i = 0; i < static_cast<int>(right.size()); ++i) {
            if (relation.before(right[static_cast<std::size_t>(i)], step)) low = std::max(low, i + 1);
            if (relation.before(step, right[static_cast<std::size_t>(i)])) high = std::min(high, i);
        }
        const int place = std::max(low, std::min(keptBefore[step], high));
        right.insert(right.begin() + place, step);
        for (auto& [other, count] : keptBefore)
            if (other != step && count >= place) ++count;
    }
    return right;
}

/// The step that `id` has to stand before (late) or after, with the rule that says so.
const core::OrderFault* tellingFault(const core::Scorecard& card, const std::string& id, bool late,
                                     const std::map<std::string, int>& place) {
    const core::OrderFault* best = nullptr;
    for (const core::OrderFault& fault : card.orderFaults) {
        if ((late ? fault.first : fault.then) != id) continue;
        const std::string& other = late ? fault.then : fault.first;
        if (best == nullptr) {
            best = &fault;
            continue;
        }
        const std::string& bestOther = late ? best->then : best->first;
        if (late ? place.at(other) < place.at(bestOther) : place.at(other) > place.at(bestOther))
            best = &fault;
    }
    return best;
}

QString ruleReason(const core::Rubric& rubric, const std::string& id) {
    for (const core::OrderRule& rule : rubric.order)
        if (rule.id == id) return qs(rule.why);
    return {};
}

}  // namespace

OrderPicture orderPicture(const core::ScoredAttempt& scored) {
    OrderPicture picture;
    const core::Rubric& rubric = *scored.rubric;
    const auto numbers = stepNumbers(rubric);
    std::vector<const core::StepScore*> engaged;
    for (const core::StepScore& step : scored.card.steps)
        if (step.position > 0) engaged.push_back(&step);
    std::sort(engaged.begin(), engaged.end(),
              [](const auto* a, const auto* b) { return a->position < b->position; });

    std::vector<int> observed;
    std::map<std::string, int> place;
    for (const core::StepScore* step : engaged) {
        place[step->step] = static_cast<int>(observed.size());
        observed.push_back(numbers.at(step->step));
    }
    std::set<int> displaced;
    for (const std::string& id : scored.card.displaced) displaced.insert(numbers.at(id));
    const std::vector<int> right = putRight(core::OrderRelation(rubric), observed, displaced);
    std::map<int, int> belongs;
    for (std::size_t i = 0; i < right.size(); ++i) belongs[right[i]] = static_cast<int>(i);

    std::map<int, std::string> zoneOf;
    for (std::size_t i = 0; i < engaged.size(); ++i) {
        const int number = observed[i];
        const core::Step* step = rubric.step(engaged[i]->step);
        picture.ticks.push_back({qs(engaged[i]->step), qs(step->title), qs(engaged[i]->zone),
                                 static_cast<int>(i), belongs[number], displaced.count(number) > 0});
        zoneOf[number] = engaged[i]->zone;
    }
    for (std::size_t i = 1; i < right.size(); ++i)
        if (zoneOf[right[i]] != zoneOf[right[i - 1]]) picture.zoneBounds.push_back(static_cast<int>(i));
    picture.displaced = static_cast<int>(displaced.size());

    // Groups: displaced steps that stand side by side above and below.
    for (int i = 0; i < static_cast<int>(picture.ticks.size()); ++i) {
        const OrderTick& tick = picture.ticks[static_cast<std::size_t>(i)];
        if (!tick.displaced) continue;
        if (!picture.groups.empty()) {
            std::vector<int>& last = picture.groups.back().ticks;
            const OrderTick& before = picture.ticks[static_cast<std::size_t>(last.back())];
            if (before.done + 1 == tick.done && before.belongs + 1 == tick.belongs) {
                last.push_back(i);
                continue;
            }
        }
        picture.groups.push_back({{i}, {}, {}, tick.done > tick.belongs});
    }
    for (OrderGroup& group : picture.groups) {
        const OrderTick& first = picture.ticks[static_cast<std::size_t>(group.ticks.front())];
        // A step that did not move between the two rows still clashes with one that did not move either.
        const core::OrderFault* fault = tellingFault(scored.card, ss(first.step), true, place);
        group.late = fault != nullptr;
        if (fault == nullptr) fault = tellingFault(scored.card, ss(first.step), false, place);
        const int count = static_cast<int>(group.ticks.size());
        const core::Zone* zone = rubric.zone(ss(first.zone));
        const QString who =
            count == 1 ? first.title
                       : OrderText::tr("%1 and %n more", "first of some steps that moved together", count - 1)
                             .arg(first.title);
        group.label =
            group.late ? OrderText::tr("%1: too late")
                             .arg(count < 3 || zone == nullptr
                                      ? who
                                      : OrderText::tr("%n steps of %1", nullptr, count).arg(qs(zone->title)))
                       : OrderText::tr("%1: too early").arg(who);
        if (fault == nullptr) continue;
        const core::Step* other = rubric.step(group.late ? fault->then : fault->first);
        const QString otherTitle = other != nullptr ? qs(other->title) : QString();
        group.sentence = group.late ? OrderText::tr("%1 belongs before %2", "steps").arg(who, otherTitle)
                                    : OrderText::tr("%1 belongs after %2", "steps").arg(who, otherTitle);
        const QString why = ruleReason(rubric, fault->rule);
        if (!why.isEmpty()) group.sentence += OrderText::tr(": %1", "the reason of an order rule").arg(why);
        const auto& always = scored.card.alwaysDisplaced;
        if (!always.empty() || !scored.card.displaced.empty()) {
            const bool certain = std::find(always.begin(), always.end(), ss(first.step)) != always.end();
            if (!certain) group.sentence += OrderText::tr(" (either of the two could move)");
        }
    }
    return picture;
}

}  // namespace markerlamp::app
