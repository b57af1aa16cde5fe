// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Knapsack with set-up costs: group after group, once without it and once with its set-up paid.

#include "core/drill/drill_choice.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace markerlamp::core {

namespace {

constexpr int kUnits = 2400;  ///< parts of the budget: a minute of a half-hour drill is 80 of them

/// What was decided at every budget, to be walked back.
struct GroupTable {
    std::vector<int> items;
    std::vector<char> open;                ///< [units]: the group is part of the best set
    std::vector<std::vector<char>> taken;  ///< [item][units], within the open group
    int setUp = 0;
};

class Knapsack {
public:
    Knapsack(const std::vector<DrillItem>& items, const std::vector<double>& groupMinutes, double budget,
             const std::vector<double>& points)
        : m_items(items), m_groupMinutes(groupMinutes), m_points(points), m_unit(budget / kUnits) {
        const std::size_t groups = std::max<std::size_t>(groupMinutes.size(), 1);
        m_tables.resize(groups);
        for (std::size_t g = 0; g < groupMinutes.size(); ++g) m_tables[g].setUp = units(groupMinutes[g]);
        for (std::size_t i = 0; i < items.size(); ++i)
            if (points[i] > 0)
                m_tables[items[i].groups.empty() ? 0 : std::size_t(items[i].groups.front())].items.push_back(
                    int(i));
    }

    std::vector<int> best() {
        std::vector<double> sum(kUnits + 1, 0.0);
        for (GroupTable& table : m_tables) addGroup(table, sum);
        return walkBack();
    }

private:
    [[nodiscard]] int units(double minutes) const {
        return int(std::min(std::ceil(minutes / m_unit - 1e-9), double(kUnits) + 1));
    }
    /// An item that reaches into other groups pays their set-up alone: dearer than it may be, never cheaper.
    [[nodiscard]] int cost(int item) const {
        double minutes = m_items[std::size_t(item)].minutes;
        const auto& groups = m_items[std::size_t(item)].groups;
        for (std::size_t g = 1; g < groups.size(); ++g) minutes += m_groupMinutes[std::size_t(groups[g])];
        return units(minutes);
    }

    void addGroup(GroupTable& table, std::vector<double>& sum) const {
        table.open.assign(kUnits + 1, 0);
        if (table.items.empty() || table.setUp > kUnits) return;
        std::vector<double> inside(kUnits + 1, -1);
        std::copy(sum.begin(), sum.end() - table.setUp, inside.begin() + table.setUp);
        for (const int item : table.items) {
            auto& taken = table.taken.emplace_back(kUnits + 1, 0);
            const int minutes = cost(item);
            for (int at = kUnits; at >= minutes; --at) {
                const double before = inside[std::size_t(at - minutes)];
                if (before < 0 || before + m_points[std::size_t(item)] <= inside[std::size_t(at)]) continue;
                inside[std::size_t(at)] = before + m_points[std::size_t(item)];
                taken[std::size_t(at)] = 1;
            }
        }
        for (std::size_t at = 0; at <= kUnits; ++at)
            if (inside[at] > sum[at]) {
                sum[at] = inside[at];
                table.open[at] = 1;
            }
    }

    [[nodiscard]] std::vector<int> walkBack() const {
        std::vector<int> chosen;
        std::size_t at = kUnits;
        for (auto table = m_tables.rbegin(); table != m_tables.rend(); ++table) {
            if (!table->open[at]) continue;
            for (std::size_t i = table->items.size(); i-- > 0;) {
                if (!table->taken[i][at]) continue;
                chosen.push_back(table->items[i]);
                at -= std::size_t(cost(table->items[i]));
            }
            at -= std::size_t(table->setUp);
        }
        std::sort(chosen.begin(), chosen.end());
        return chosen;
    }

    const std::vector<DrillItem>& m_items;
    const std::vector<double>& m_groupMinutes;
    const std::vector<double>& m_points;
    double m_unit;
    std::vector<GroupTable> m_tables;
};

}  // namespace

std::vector<int> knapsack(const std::vector<DrillItem>& items, const std::vector<double>& groupMinutes,
                          double budget, const std::vector<double>& points) {
    if (!(budget > 0)) return {};
    return Knapsack(items, groupMinutes, budget, points).best();
}

}  // namespace markerlamp::core
