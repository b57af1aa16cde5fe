#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// "Must come before" of a rubric that may still be wrong: names that are not known are passed over, a step
// may come before itself, and rules that go in a circle are found, with the rules that make it.

#include "core/rubric/rubric.h"

#include <cstdint>
#include <string>
#include <unordered_map>
#include <utility>
#include <vector>

namespace markerlamp::core {

/// A way round: a, b, a. rules[i] is the id of the rule that puts steps[i] before steps[i + 1].
struct OrderCircle {
    std::vector<std::string> steps;
    std::vector<std::string> rules;

    bool operator==(const OrderCircle&) const = default;
};

class OrderGraph {
public:
    /// A step that a rule puts before itself.
    struct Itself {
        std::size_t rule = 0;
        int step = 0;
    };

    explicit OrderGraph(const Rubric& rubric);

    /// Half-open range of step numbers; empty for a name that is not known.
    [[nodiscard]] std::pair<int, int> range(const std::string& entry) const;
    [[nodiscard]] const std::string& name(int step) const { return m_steps[static_cast<std::size_t>(step)]; }
    /// Draws all rules in: of a chain its neighbours, which is enough to find a circle. To be called once;
    /// takes as many steps as the rules state pairs.
    std::vector<Itself> draw();
    /// A shortest circle through one of its steps, where draw() has made one; empty otherwise. A step before
    /// itself is no circle here.
    [[nodiscard]] OrderCircle circle() const;

private:
    static constexpr std::int16_t kNone = -1;  ///< a rubric has at most 500 rules
    [[nodiscard]] std::int16_t rule(int a, int b) const {
        return m_rule[static_cast<std::size_t>(a) * m_steps.size() + static_cast<std::size_t>(b)];
    }
    [[nodiscard]] int onCircle() const;

    const Rubric& m_rubric;
    std::vector<std::string> m_steps;
    std::unordered_map<std::string, int> m_numbers;
    std::unordered_map<std::string, std::pair<int, int>> m_zones;
    std::vector<std::int16_t> m_rule;  ///< by pair of steps: the first rule that states it
};

/// For a rubric that is being written: a step before itself counts as the smallest circle (a, a).
[[nodiscard]] OrderCircle orderCircle(const Rubric& rubric);

}  // namespace markerlamp::core
