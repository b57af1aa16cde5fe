// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/rubric/order_relation.h"

#include <cassert>
#include <string_view>
#include <unordered_map>

namespace markerlamp::core {

namespace {

/// Half-open range of step numbers: one step, or all steps of a zone.
struct Entry {
    int begin = 0;
    int end = 0;
};

constexpr std::string_view kZonePrefix = "zone:";

/// Pairs of a rule that lists the entries in this order: each step of an entry before each step of a later
/// one, nothing within an entry.
void statePairs(const std::vector<Entry>& before, const std::vector<Entry>& after,
                std::vector<std::pair<int, int>>& pairs) {
    for (const Entry& a : before)
        for (const Entry& b : after)
            for (int x = a.begin; x < a.end; ++x)
                for (int y = b.begin; y < b.end; ++y) pairs.emplace_back(x, y);
}

}  // namespace

OrderRelation::OrderRelation(int steps)
    : m_steps(steps),
      m_words((static_cast<std::size_t>(steps) + 63) / 64),
      m_closure(static_cast<std::size_t>(steps) * m_words) {}

OrderRelation::OrderRelation(const Rubric& rubric)
    : OrderRelation([&rubric] {
          int steps = 0;
          for (const Zone& zone : rubric.zones) steps += static_cast<int>(zone.steps.size());
          return steps;
      }()) {
    std::unordered_map<std::string_view, Entry> steps;
    std::unordered_map<std::string_view, Entry> zones;
    int next = 0;
    for (const Zone& zone : rubric.zones) {
        const int begin = next;
        for (const Step& step : zone.steps) {
            steps.emplace(step.id, Entry{next, next + 1});
            ++next;
        }
        zones.emplace(zone.id, Entry{begin, next});
    }
    const auto entries = [&](const std::vector<std::string>& names) {
        std::vector<Entry> found;
        for (std::string_view name : names) {
            const bool isZone = name.starts_with(kZonePrefix);
            const auto& kind = isZone ? zones : steps;
            const auto at = kind.find(isZone ? name.substr(kZonePrefix.size()) : name);
            assert(at != kind.end() && "the reader refuses rules over unknown steps");
            if (at != kind.end()) found.push_back(at->second);
        }
        return found;
    };

    m_stated.reserve(rubric.order.size());
    for (const OrderRule& rule : rubric.order) {
        std::vector<std::pair<int, int>>& pairs = m_stated.emplace_back();
        const std::vector<Entry> chain = entries(rule.chain);
        for (std::size_t i = 0; i < chain.size(); ++i)
            statePairs({chain[i]}, {chain.begin() + static_cast<std::ptrdiff_t>(i) + 1, chain.end()}, pairs);
        statePairs(entries(rule.first), entries(rule.then), pairs);
        for (const auto& [a, b] : pairs) add(a, b);
    }
    close();
}

OrderRelation::OrderRelation(int steps, const std::vector<std::pair<int, int>>& pairs)
    : OrderRelation(steps) {
    for (const auto& [a, b] : pairs) add(a, b);
    close();
}

void OrderRelation::add(int a, int b) {
    m_closure[static_cast<std::size_t>(a) * m_words + static_cast<std::size_t>(b) / 64] |= std::uint64_t{1}
                                                                                           << (b % 64);
}

// Warshall 1962 with a row of bits at a time.
void OrderRelation::close() {
    for (int k = 0; k < m_steps; ++k) {
        const std::uint64_t* through = m_closure.data() + static_cast<std::size_t>(k) * m_words;
        for (int a = 0; a < m_steps; ++a) {
            if (a == k || !before(a, k)) continue;
            std::uint64_t* into = m_closure.data() + static_cast<std::size_t>(a) * m_words;
            for (std::size_t w = 0; w < m_words; ++w) into[w] |= through[w];
        }
    }
}

}  // namespace markerlamp::core
