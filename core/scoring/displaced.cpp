// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// One maximum flow gives the number. Which of the smallest sets is shown, and which steps all of them share,
// is read off its residual network: the minimum cuts are exactly the node sets with the source, without the
// sink, that no residual arc leaves (Picard & Queyranne 1980). So each question costs one search instead of
// another flow.

#include "core/scoring/displaced.h"

#include <lemon/preflow.h>
#include <lemon/smart_graph.h>

#include <algorithm>
#include <bit>
#include <cassert>
#include <numeric>

namespace markerlamp::core {

namespace {

using Bits = std::vector<std::uint64_t>;

bool test(const Bits& bits, int i) {
    return (bits[static_cast<std::size_t>(i) / 64] >> (i % 64)) & 1u;
}
void set(Bits& bits, int i) {
    bits[static_cast<std::size_t>(i) / 64] |= std::uint64_t{1} << (i % 64);
}
bool meet(const Bits& a, const Bits& b) {
    for (std::size_t w = 0; w < a.size(); ++w)
        if (a[w] & b[w]) return true;
    return false;
}

/// Residual network of a maximum flow over the steps in conflict. Nodes: source, sink, then for each step x
/// its left x' and right x''. A step is kept when x' is on the source side and x'' on the sink side; in a
/// minimum cut no step pays twice, so the others are the set to take out.
class Cuts {
public:
    /// @param pairs (x, y): x below y in the conflict order, numbers 0..steps-1
    Cuts(int steps, const std::vector<std::pair<int, int>>& pairs)
        : m_nodes(2 + 2 * steps),
          m_words((static_cast<std::size_t>(m_nodes) + 63) / 64),
          m_forward(static_cast<std::size_t>(m_nodes), Bits(m_words)),
          m_backward(m_forward),
          m_source(m_words),
          m_sink(m_words) {
        solve(steps, pairs);
        spread(m_forward, kSource, m_source);
        spread(m_backward, kSink, m_sink);
        assert(!meet(m_source, m_sink));
    }

    [[nodiscard]] int size() const { return m_size; }
    /// Whether some minimum cut that agrees with all steps kept so far keeps this one too.
    [[nodiscard]] bool canKeep(int step) { return tryKeep(step); }
    /// From now on only the minimum cuts that keep the step count. False, and no change, when there is none.
    bool keep(int step) {
        if (!tryKeep(step)) return false;
        m_source.swap(m_triedSource);
        m_sink.swap(m_triedSink);
        return true;
    }

private:
    static constexpr int kSource = 0;
    static constexpr int kSink = 1;
    static int left(int step) { return 2 + 2 * step; }
    static int right(int step) { return 3 + 2 * step; }

    void solve(int steps, const std::vector<std::pair<int, int>>& pairs) {
        lemon::SmartDigraph graph;
        graph.reserveNode(m_nodes);
        graph.reserveArc(2 * steps + static_cast<int>(pairs.size()));
        for (int i = 0; i < m_nodes; ++i) graph.addNode();
        const auto node = [](int i) { return lemon::SmartDigraph::nodeFromId(i); };
        lemon::SmartDigraph::ArcMap<int> capacity(graph);
        const int unbounded = steps + 1;
        const auto arc = [&](int from, int to, int most) {
            capacity[graph.addArc(node(from), node(to))] = most;
        };
        for (int x = 0; x < steps; ++x) {
            arc(kSource, left(x), 1);
            arc(right(x), kSink, 1);
        }
        for (const auto& [x, y] : pairs) arc(left(x), right(y), unbounded);

        lemon::Preflow<lemon::SmartDigraph, lemon::SmartDigraph::ArcMap<int>> flow(
            graph, capacity, node(kSource), node(kSink));
        flow.run();
        m_size = flow.flowValue();
        for (lemon::SmartDigraph::ArcIt a(graph); a != lemon::INVALID; ++a) {
            const int from = lemon::SmartDigraph::id(graph.source(a));
            const int to = lemon::SmartDigraph::id(graph.target(a));
            if (flow.flow(a) < capacity[a]) residual(from, to);
            if (flow.flow(a) > 0) residual(to, from);
        }
    }

    void residual(int from, int to) {
        set(m_forward[static_cast<std::size_t>(from)], to);
        set(m_backward[static_cast<std::size_t>(to)], from);
    }

    /// Adds to `reached` all that can be reached from the node; nodes already in it are taken as done.
    void spread(const std::vector<Bits>& arcs, int start, Bits& reached) {
        if (test(reached, start)) return;
        set(reached, start);
        m_open.assign(1, start);
        while (!m_open.empty()) {
            const Bits& next = arcs[static_cast<std::size_t>(m_open.back())];
            m_open.pop_back();
            for (std::size_t w = 0; w < m_words; ++w) {
                std::uint64_t fresh = next[w] & ~reached[w];
                reached[w] |= fresh;
                for (; fresh != 0; fresh &= fresh - 1)
                    m_open.push_back(static_cast<int>(w) * 64 + std::countr_zero(fresh));
            }
        }
    }

    bool tryKeep(int step) {
        if (test(m_sink, left(step)) || test(m_source, right(step))) return false;
        m_triedSource = m_source;
        spread(m_forward, left(step), m_triedSource);
        if (meet(m_triedSource, m_sink)) return false;
        m_triedSink = m_sink;
        spread(m_backward, right(step), m_triedSink);
        return !meet(m_triedSource, m_triedSink);
    }

    int m_nodes;
    std::size_t m_words;
    int m_size = 0;
    std::vector<Bits> m_forward;
    std::vector<Bits> m_backward;
    Bits m_source;  ///< on the source side of every minimum cut that still counts
    Bits m_sink;
    Bits m_triedSource;
    Bits m_triedSink;
    std::vector<int> m_open;
};

/// All conflicts as positions (early, late) in the observed order, sorted.
std::vector<std::pair<int, int>> conflicts(const OrderRelation& relation, const std::vector<int>& observed) {
    std::vector<std::pair<int, int>> found;
    Bits seen((static_cast<std::size_t>(relation.steps()) + 63) / 64);
    std::vector<int> position;
    for (std::size_t late = 0; late < observed.size(); ++late) {
        const auto row = relation.row(observed[late]);
        for (std::size_t w = 0; w < seen.size(); ++w) {
            for (std::uint64_t both = row[w] & seen[w]; both != 0; both &= both - 1) {
                if (position.empty()) {
                    position.resize(static_cast<std::size_t>(relation.steps()));
                    for (std::size_t i = 0; i < observed.size(); ++i)
                        position[static_cast<std::size_t>(observed[i])] = static_cast<int>(i);
                }
                const std::size_t step = w * 64 + static_cast<std::size_t>(std::countr_zero(both));
                found.emplace_back(position[step], static_cast<int>(late));
            }
        }
        set(seen, observed[late]);
    }
    std::ranges::sort(found);
    return found;
}

}  // namespace

Displaced displacedSteps(const OrderRelation& relation, const std::vector<int>& observed,
                         const std::vector<int>& prefer, bool withAlways) {
    assert(prefer.size() == observed.size());
    Displaced answer;
    const std::vector<std::pair<int, int>> clashes = conflicts(relation, observed);
    if (clashes.empty()) return answer;

    // Only the steps in conflict enter the network; all others are kept anyway.
    std::vector<int> number(observed.size(), -1);
    for (const auto& [early, late] : clashes)
        number[static_cast<std::size_t>(early)] = number[static_cast<std::size_t>(late)] = 0;
    std::vector<int> involved;  // positions in observed order
    for (std::size_t i = 0; i < observed.size(); ++i) {
        if (number[i] < 0) continue;
        number[i] = static_cast<int>(involved.size());
        involved.push_back(static_cast<int>(i));
    }
    std::vector<std::pair<int, int>> below;
    below.reserve(clashes.size());
    answer.faults.reserve(clashes.size());
    for (const auto& [early, late] : clashes) {
        below.emplace_back(number[static_cast<std::size_t>(late)], number[static_cast<std::size_t>(early)]);
        answer.faults.emplace_back(observed[static_cast<std::size_t>(late)],
                                   observed[static_cast<std::size_t>(early)]);
    }

    const int count = static_cast<int>(involved.size());
    const auto stepOf = [&](int i) {
        return observed[static_cast<std::size_t>(involved[static_cast<std::size_t>(i)])];
    };
    Cuts cuts(count, below);
    if (withAlways)
        for (int i = 0; i < count; ++i)
            if (!cuts.canKeep(i)) answer.always.push_back(stepOf(i));

    std::vector<int> byRank(static_cast<std::size_t>(count));
    std::iota(byRank.begin(), byRank.end(), 0);
    std::ranges::stable_sort(byRank, {}, [&](int i) {
        return prefer[static_cast<std::size_t>(involved[static_cast<std::size_t>(i)])];
    });
    std::vector<bool> kept(static_cast<std::size_t>(count));
    int left = count - cuts.size();  // how many of the steps in conflict stay
    for (int i : byRank) {
        if (left == 0) break;
        if (!cuts.keep(i)) continue;
        kept[static_cast<std::size_t>(i)] = true;
        --left;
    }
    for (int i = 0; i < count; ++i)
        if (!kept[static_cast<std::size_t>(i)]) answer.set.push_back(stepOf(i));
    assert(static_cast<int>(answer.set.size()) == cuts.size());
    return answer;
}

}  // namespace markerlamp::core
