#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The choice of what to drill, free of trainees and draws, so that it can be checked against enumeration:
// items that cost minutes, groups whose set-up is paid once, and a value of a set that is not a sum.
// Source of the parts: greedy and dynamic programming as in any text on the knapsack problem (Dantzig 1957);
// no bound holds here, as the value is not submodular, so the parts are run together and checked by figures.

#include <functional>
#include <vector>

namespace markerlamp::core {

struct DrillItem {
    double minutes = 0;
    std::vector<int> groups;  ///< pays groupMinutes of each, once in a set; the first is where it belongs
    double points = 0;        ///< expected points, for the knapsack start
};

/// A set's value, and for every item the value with just that one changed over: put to the set, or left out.
struct ValuesAround {
    double ofSet = 0;
    std::vector<double> toggled;
};

/// What a set of items, by ascending index, is worth. Must not fall when an item is added.
struct SetValue {
    std::function<double(const std::vector<int>&)> of;
    /// Steers the search only, so it may be an approximation. Absent: asked of `of`.
    std::function<ValuesAround(const std::vector<int>&)> around;
};

/// Minutes of a set, the set-up of its groups included.
[[nodiscard]] double minutesOf(const std::vector<int>& set, const std::vector<DrillItem>& items,
                               const std::vector<double>& groupMinutes);

/// Indices of the chosen items, ascending: the best of greedy by value per minute, greedy by value, knapsack
/// on points and on first gains, then exchanges; exact for up to `exactUpTo` items.
[[nodiscard]] std::vector<int> chooseItems(const std::vector<DrillItem>& items,
                                           const std::vector<double>& groupMinutes, double budget,
                                           const SetValue& value, int exactUpTo = 15);

/// The set with the largest sum of points within the budget (dynamic programming on minutes that are rounded
/// up to a few thousandths of the budget). Items with points of 0 or less are left out.
[[nodiscard]] std::vector<int> knapsack(const std::vector<DrillItem>& items,
                                        const std::vector<double>& groupMinutes, double budget,
                                        const std::vector<double>& points);

}  // namespace markerlamp::core
