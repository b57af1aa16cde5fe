// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/rubric/order_graph.h"

#include <algorithm>
#include <deque>

namespace markerlamp::core {

OrderGraph::OrderGraph(const Rubric& rubric) : m_rubric(rubric) {
    for (const Zone& zone : rubric.zones) {
        const auto begin = static_cast<int>(m_steps.size());
        for (const Step& step : zone.steps) {
            m_numbers.try_emplace(step.id, static_cast<int>(m_steps.size()));
            m_steps.push_back(step.id);
        }
        m_zones.try_emplace(zone.id, std::pair{begin, static_cast<int>(m_steps.size())});
    }
}

std::pair<int, int> OrderGraph::range(const std::string& entry) const {
    if (entry.starts_with("zone:")) {
        const auto zone = m_zones.find(entry.substr(5));
        return zone == m_zones.end() ? std::pair{0, 0} : zone->second;
    }
    const auto step = m_numbers.find(entry);
    return step == m_numbers.end() ? std::pair{0, 0} : std::pair{step->second, step->second + 1};
}

std::vector<OrderGraph::Itself> OrderGraph::draw() {
    m_rule.assign(m_steps.size() * m_steps.size(), kNone);
    std::vector<Itself> itself;
    const auto allBefore = [&](std::size_t number, std::pair<int, int> a, std::pair<int, int> b) {
        for (int x = a.first; x < a.second; ++x)
            for (int y = b.first; y < b.second; ++y) {
                if (x == y) {
                    itself.push_back({number, x});
                    continue;
                }
                std::int16_t& stated =
                    m_rule[static_cast<std::size_t>(x) * m_steps.size() + static_cast<std::size_t>(y)];
                if (stated == kNone) stated = static_cast<std::int16_t>(number);
            }
    };
    for (std::size_t i = 0; i < m_rubric.order.size(); ++i) {
        const OrderRule& rule = m_rubric.order[i];
        std::pair<int, int> before{0, 0};
        for (const std::string& entry : rule.chain) {
            const auto here = range(entry);
            if (here.first == here.second) continue;
            allBefore(i, before, here);
            before = here;
        }
        for (const std::string& a : rule.first)
            for (const std::string& b : rule.then) allBefore(i, range(a), range(b));
    }
    return itself;
}

/// A step that lies on some circle; -1 when there is none. Depth-first with an explicit stack.
int OrderGraph::onCircle() const {
    enum class State { Unseen, OnPath, Done };
    const auto count = static_cast<int>(m_steps.size());
    std::vector<State> states(m_steps.size(), State::Unseen);
    std::vector<std::pair<int, int>> path;  // step, next neighbour to look at
    for (int start = 0; start < count; ++start) {
        if (states[static_cast<std::size_t>(start)] != State::Unseen) continue;
        path.assign(1, {start, 0});
        states[static_cast<std::size_t>(start)] = State::OnPath;
        while (!path.empty()) {
            auto& [at, next] = path.back();
            while (next < count && rule(at, next) == kNone) ++next;
            if (next == count) {
                states[static_cast<std::size_t>(at)] = State::Done;
                path.pop_back();
                continue;
            }
            const int step = next++;
            if (states[static_cast<std::size_t>(step)] == State::OnPath) return step;
            if (states[static_cast<std::size_t>(step)] == State::Done) continue;
            states[static_cast<std::size_t>(step)] = State::OnPath;
            path.emplace_back(step, 0);
        }
    }
    return -1;
}

OrderCircle OrderGraph::circle() const {
    OrderCircle found;
    const int start = onCircle();
    if (start < 0) return found;
    // Breadth-first back to the start: fewest steps, so that people see at once what is wrong.
    const auto count = static_cast<int>(m_steps.size());
    std::vector<int> from(m_steps.size(), -1);
    std::deque<int> queue{start};
    int last = -1;
    while (last < 0 && !queue.empty()) {
        const int at = queue.front();
        queue.pop_front();
        for (int next = 0; next < count && last < 0; ++next) {
            if (rule(at, next) == kNone) continue;
            if (next == start)
                last = at;
            else if (from[static_cast<std::size_t>(next)] < 0) {
                from[static_cast<std::size_t>(next)] = at;
                queue.push_back(next);
            }
        }
    }
    std::vector<int> way{start};
    for (int at = last; at != start; at = from[static_cast<std::size_t>(at)]) way.push_back(at);
    way.push_back(start);
    std::ranges::reverse(way);
    for (std::size_t i = 0; i < way.size(); ++i) {
        found.steps.push_back(name(way[i]));
        if (i + 1 < way.size())
            found.rules.push_back(m_rubric.order[static_cast<std::size_t>(rule(way[i], way[i + 1]))].id);
    }
    return found;
}

OrderCircle orderCircle(const Rubric& rubric) {
    OrderGraph graph(rubric);
    const std::vector<OrderGraph::Itself> itself = graph.draw();
    if (itself.empty()) return graph.circle();
    const std::string& step = graph.name(itself.front().step);
    return {{step, step}, {rubric.order[itself.front().rule].id}};
}

}  // namespace markerlamp::core
