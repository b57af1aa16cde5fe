// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/drill/drill_choice.h"

#include <algorithm>
#include <cstddef>
#include <utility>

namespace markerlamp::core {

namespace {

constexpr double kMinutesSlack = 1e-9;
constexpr double kLeastGain = 1e-12;
/// Exchanges look at the whole set again and again; this many looks are enough for a bus of 135 steps.
constexpr int kMostLooks = 60;
constexpr std::size_t kLooksToGrow = 24;

using Set = std::vector<int>;

Set with(Set set, int item) {
    set.insert(std::lower_bound(set.begin(), set.end(), item), item);
    return set;
}
Set without(Set set, int item) {
    std::erase(set, item);
    return set;
}
bool has(const Set& set, int item) {
    return std::binary_search(set.begin(), set.end(), item);
}

class Chooser {
public:
    Chooser(const std::vector<DrillItem>& items, const std::vector<double>& groupMinutes, double budget,
            const SetValue& value)
        : m_items(items), m_groupMinutes(groupMinutes), m_budget(budget), m_value(value) {
        for (std::size_t i = 0; i < items.size(); ++i)
            if (fits({int(i)})) m_candidates.push_back(int(i));
    }

    [[nodiscard]] Set choose(int exactUpTo) {
        if (m_candidates.empty()) return {};
        if (int(m_candidates.size()) <= exactUpTo) {
            enumerate(0, {});
            return m_best;
        }
        keep(grown({}, true));
        keep(grown({}, false));
        std::vector<double> points;
        for (const DrillItem& item : m_items) points.push_back(item.points);
        keepKnapsack(points);
        keepKnapsack(gains({}));
        keepKnapsack(gains(m_best));
        exchange();
        return m_best;
    }

private:
    [[nodiscard]] double minutes(const Set& set) const { return minutesOf(set, m_items, m_groupMinutes); }
    [[nodiscard]] bool fits(const Set& set) const { return minutes(set) <= m_budget + kMinutesSlack; }

    bool keep(const Set& set) {
        const double value = m_value.of(set);
        if (m_any && value <= m_bestValue + kLeastGain) return false;
        m_any = true;
        m_bestValue = value;
        m_best = set;
        return true;
    }

    /// Only sets to which nothing can be added: the value does not fall when an item comes in.
    void enumerate(std::size_t at, const Set& set) {
        if (at < m_candidates.size()) {
            if (const Set more = with(set, m_candidates[at]); fits(more)) enumerate(at + 1, more);
            enumerate(at + 1, set);
            return;
        }
        const bool full = std::ranges::none_of(
            m_candidates, [&](int item) { return !has(set, item) && fits(with(set, item)); });
        if (full) keep(set);
    }

    /// What each item would add to the set, or does add to it where it is part of it.
    [[nodiscard]] std::vector<double> gains(const Set& set) {
        ++m_looks;
        ValuesAround values = m_value.around ? m_value.around(set) : askedAround(set);
        for (std::size_t i = 0; i < values.toggled.size(); ++i) {
            values.toggled[i] -= values.ofSet;
            if (has(set, int(i))) values.toggled[i] *= -1;
        }
        return values.toggled;
    }

    [[nodiscard]] ValuesAround askedAround(const Set& set) const {
        const double now = m_value.of(set);
        ValuesAround values{now, std::vector<double>(m_items.size(), now)};
        for (const int item : m_candidates)
            values.toggled[std::size_t(item)] =
                m_value.of(has(set, item) ? without(set, item) : with(set, item));
        return values;
    }

    /// Adds what gains most, or most per minute, again and again. With many candidates a few at a time: a
    /// handful of some hundred hardly changes what the others gain.
    [[nodiscard]] Set grown(Set set, bool perMinute, int notThis = -1) {
        const std::size_t atOnce = std::max<std::size_t>(1, m_candidates.size() / kLooksToGrow);
        while (anyFits(set, notThis)) {
            const std::vector<double> gain = gains(set);
            std::size_t added = 0;
            for (; added < atOnce; ++added) {
                const int best = bestToAdd(set, gain, perMinute, notThis);
                if (best < 0) break;
                set = with(std::move(set), best);
            }
            if (added < atOnce) return set;
            notThis = -1;  // what was taken out may come back after its place was given to another
        }
        return set;
    }

    [[nodiscard]] bool anyFits(const Set& set, int notThis) const {
        return std::ranges::any_of(m_candidates, [&](int item) {
            return item != notThis && !has(set, item) && fits(with(set, item));
        });
    }

    [[nodiscard]] int bestToAdd(const Set& set, const std::vector<double>& gain, bool perMinute,
                                int notThis) const {
        const double used = minutes(set);
        int best = -1;
        double bestRate = 0;
        for (const int item : m_candidates) {
            const double gained = gain[std::size_t(item)];
            if (item == notThis || gained <= kLeastGain || has(set, item)) continue;
            const double then = minutes(with(set, item));
            if (then > m_budget + kMinutesSlack) continue;
            const double rate = perMinute ? gained / std::max(then - used, kMinutesSlack) : gained;
            if (rate <= bestRate) continue;
            best = item;
            bestRate = rate;
        }
        return best;
    }

    void keepKnapsack(const std::vector<double>& points) {
        Set set = knapsack(m_items, m_groupMinutes, m_budget, points);
        std::erase_if(set, [&](int item) { return !has(m_candidates, item); });
        keep(grown(std::move(set), true));
    }

    /// One out and others in, one in and others out, a whole group out: until nothing gains.
    void exchange() {
        const int last = m_looks + kMostLooks;
        bool better = true;
        while (better && m_looks < last) {
            better = false;
            const std::vector<int> order = leastMissed();
            for (const int item : order) {
                if (m_looks >= last) return;
                if (!has(m_best, item)) continue;
                better |= keep(grown(without(m_best, item), true, item));
                if (has(m_best, item)) better |= keep(grown(without(m_best, item), false, item));
            }
            for (const int item : m_candidates) {
                if (m_looks >= last) return;
                if (!has(m_best, item)) better |= keep(grown(madeRoomFor(item), true));
            }
            for (int group = 0; group < int(m_groupMinutes.size()) && m_looks < last; ++group)
                better |= keep(grown(withoutGroup(group), true));
        }
    }

    /// The best set's items, those that bring least for the minutes they free first.
    [[nodiscard]] const std::vector<int>& leastMissed() {
        if (m_missedOf == m_best) return m_missed;
        const std::vector<double> gain = gains(m_best);
        const double used = minutes(m_best);
        std::vector<std::pair<double, int>> order;
        for (const int item : m_best) {
            const double freed = std::max(used - minutes(without(m_best, item)), kMinutesSlack);
            order.emplace_back(gain[std::size_t(item)] / freed, item);
        }
        std::ranges::sort(order);
        m_missed.clear();
        for (const auto& entry : order) m_missed.push_back(entry.second);
        m_missedOf = m_best;
        return m_missed;
    }

    [[nodiscard]] Set madeRoomFor(int item) {
        Set set = with(m_best, item);
        for (const int other : leastMissed()) {
            if (fits(set)) break;
            set = without(std::move(set), other);
        }
        return set;
    }

    [[nodiscard]] Set withoutGroup(int group) const {
        Set set = m_best;
        std::erase_if(set, [&](int item) {
            return std::ranges::find(m_items[std::size_t(item)].groups, group) !=
                   m_items[std::size_t(item)].groups.end();
        });
        return set;
    }

    const std::vector<DrillItem>& m_items;
    const std::vector<double>& m_groupMinutes;
    double m_budget;
    const SetValue& m_value;
    Set m_candidates;
    Set m_best;
    Set m_missedOf, m_missed;
    double m_bestValue = 0;
    bool m_any = false;
    int m_looks = 0;
};

}  // namespace

double minutesOf(const std::vector<int>& set, const std::vector<DrillItem>& items,
                 const std::vector<double>& groupMinutes) {
    std::vector<char> paid(groupMinutes.size(), 0);
    double minutes = 0;
    for (const int item : set) {
        minutes += items[std::size_t(item)].minutes;
        for (const int group : items[std::size_t(item)].groups)
            if (!std::exchange(paid[std::size_t(group)], 1)) minutes += groupMinutes[std::size_t(group)];
    }
    return minutes;
}

std::vector<int> chooseItems(const std::vector<DrillItem>& items, const std::vector<double>& groupMinutes,
                             double budget, const SetValue& value, int exactUpTo) {
    return Chooser(items, groupMinutes, budget, value).choose(exactUpTo);
}

}  // namespace markerlamp::core
