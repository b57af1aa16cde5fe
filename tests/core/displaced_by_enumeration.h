#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The displaced set as its definition says it, by looking at every subset; for at most some 15 steps.

#include <rapidcheck.h>

#include <algorithm>
#include <numeric>
#include <set>
#include <utility>
#include <vector>

namespace markerlamp::core::testing {

using Pairs = std::vector<std::pair<int, int>>;

/// A number from [low, high) whatever the size of the case: small cases alone would show little.
template <class T>
T pick(T low, T high) {
    return *rc::gen::resize(100, rc::gen::inRange<T>(low, high));
}

/// What the minimum cut must find, by looking at every subset.
struct ByEnumeration {
    std::vector<int> set;
    std::vector<int> always;
    std::set<std::pair<int, int>> faults;
};

inline ByEnumeration displacedByEnumeration(const Pairs& rules, int steps, const std::vector<int>& observed,
                                            const std::vector<int>& prefer) {
    std::vector<std::vector<bool>> before(static_cast<std::size_t>(steps),
                                          std::vector<bool>(static_cast<std::size_t>(steps)));
    for (const auto& [a, b] : rules) before[static_cast<std::size_t>(a)][static_cast<std::size_t>(b)] = true;
    for (std::size_t k = 0; k < before.size(); ++k)
        for (std::size_t a = 0; a < before.size(); ++a)
            for (std::size_t b = 0; b < before.size(); ++b)
                if (before[a][k] && before[k][b]) before[a][b] = true;
    ByEnumeration answer;
    const unsigned n = static_cast<unsigned>(observed.size());
    std::vector<std::pair<unsigned, unsigned>> clashes;
    for (unsigned i = 0; i < n; ++i)
        for (unsigned j = i + 1; j < n; ++j)
            if (before[static_cast<std::size_t>(observed[j])][static_cast<std::size_t>(observed[i])]) {
                clashes.emplace_back(i, j);
                answer.faults.emplace(observed[j], observed[i]);
            }
    std::vector<unsigned> best;
    int fewest = static_cast<int>(n) + 1;
    for (unsigned out = 0; out < (1u << n); ++out) {
        const bool clean = std::ranges::all_of(clashes, [&](const auto& clash) {
            return (out >> clash.first & 1) || (out >> clash.second & 1);
        });
        const int size = __builtin_popcount(out);
        if (!clean || size > fewest) continue;
        if (size < fewest) best.clear();
        fewest = size;
        best.push_back(out);
    }
    std::vector<unsigned> byRank(n);
    std::iota(byRank.begin(), byRank.end(), 0u);
    std::ranges::sort(byRank, {}, [&](unsigned i) { return prefer[i]; });
    const auto keptByRank = [&](unsigned out) {
        std::vector<int> kept;
        for (unsigned i : byRank) kept.push_back(out >> i & 1 ? 0 : 1);
        return kept;
    };
    const unsigned chosen = *std::ranges::max_element(best, {}, keptByRank);
    unsigned inAll = ~0u;
    for (unsigned out : best) inAll &= out;
    for (unsigned i = 0; i < n; ++i) {
        if (chosen >> i & 1) answer.set.push_back(observed[i]);
        if (inAll >> i & 1) answer.always.push_back(observed[i]);
    }
    return answer;
}

}  // namespace markerlamp::core::testing
