#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// "Must come before" over the steps of a rubric: all order rules together, closed transitively, also through
// steps that an attempt left out.

#include "core/rubric/rubric.h"

#include <cstdint>
#include <span>
#include <utility>
#include <vector>

namespace markerlamp::core {

/// Steps are numbered 0.. in rubric order (zones, then steps).
class OrderRelation {
public:
    /// The rubric must be sound (acyclic rules over known steps), as readRubric() guarantees.
    explicit OrderRelation(const Rubric& rubric);
    /// From plain pairs (a before b), for checks against outside examples. Must be acyclic.
    OrderRelation(int steps, const std::vector<std::pair<int, int>>& pairs);

    [[nodiscard]] int steps() const { return m_steps; }
    [[nodiscard]] bool before(int a, int b) const {
        return (m_closure[static_cast<std::size_t>(a) * m_words + static_cast<std::size_t>(b) / 64] >>
                (b % 64)) &
               1u;
    }
    /// Row `a` of the closure as a bit set: bit b of word b / 64 is before(a, b).
    [[nodiscard]] std::span<const std::uint64_t> row(int a) const {
        return {m_closure.data() + static_cast<std::size_t>(a) * m_words, m_words};
    }
    [[nodiscard]] int rules() const { return static_cast<int>(m_stated.size()); }
    /// Pairs that rule `i` of the rubric states itself (a chain: all its ordered pairs).
    [[nodiscard]] const std::vector<std::pair<int, int>>& statedPairs(int rule) const {
        return m_stated[static_cast<std::size_t>(rule)];
    }

private:
    explicit OrderRelation(int steps);
    void add(int a, int b);
    void close();

    int m_steps = 0;
    std::size_t m_words = 0;
    std::vector<std::uint64_t> m_closure;
    std::vector<std::vector<std::pair<int, int>>> m_stated;
};

}  // namespace markerlamp::core
