// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "demo/generator/performance.h"

#include <algorithm>
#include <array>
#include <map>
#include <set>
#include <string_view>

namespace markerlamp::demo {

namespace {

constexpr int kNotSeen = 9;       // per mille of the steps outside the brake checks
constexpr int kSlipOfFinger = 7;  // per mille of the steps: pressed and taken back
constexpr int kFaultSeen = 930;
constexpr int kOmitAtOnce = 450;

constexpr std::array<std::string_view, 6> kNotes{
    "wind, hard to hear",      "asked to point, not only to name",
    "good pace here",          "spoke before standing at the part",
    "helper called the lamps", "looked for the words, knew the part"};

class Scoring {
public:
    Scoring(const Performance& performance, const Setting& setting, const Habit& habit, Random& random)
        : m_performance(performance), m_set(setting), m_habit(habit), m_random(random) {}

    std::vector<core::Event> run(std::optional<int> unfinishedAt) {
        for (std::size_t i = 0; i < m_performance.acts.size(); ++i) {
            const Act& act = m_performance.acts[i];
            if (unfinishedAt && act.time > *unfinishedAt) return std::move(m_events);
            take(act, lastOf(i));
        }
        if (!unfinishedAt) finish();
        return std::move(m_events);
    }

private:
    /// How this instructor takes the step as a whole, decided when it first comes up.
    struct Manner {
        bool unseen = false;
        bool partly = false;
    };

    Manner& mannerOf(const core::Step& step) {
        const auto [entry, isNew] = m_manner.try_emplace(&step);
        if (isNew) {
            const bool brake = inBrakeZone(step);
            entry->second.unseen = !brake && m_random.chance(kNotSeen);
            entry->second.partly = !brake && step.say.size() > 1 && m_random.chance(m_habit.partly);
        }
        return entry->second;
    }

    bool inBrakeZone(const core::Step& step) const {
        return m_set.rubric->zoneOfStep(step.id)->id.ends_with("-brakes");
    }

    void take(const Act& act, bool last) {
        const int heard = act.time + m_random.between(2, 9);
        if (act.kind == Act::Kind::Break || act.kind == Act::Kind::GoOn) {
            add(act.kind == Act::Kind::Break ? core::EventKind::Pause : core::EventKind::Resume, act.time);
            return;
        }
        const core::Step& step = *act.step;
        const Manner& manner = mannerOf(step);
        if (manner.unseen) {
            if (m_marked.insert(&step).second) add(core::EventKind::Unseen, heard, step.id);
            return;
        }
        switch (act.kind) {
            case Act::Kind::Show:
                add(core::EventKind::Show, heard, step.id);
                break;
            case Act::Kind::Help:
                add(core::EventKind::Prompt, heard, step.id);
                return;  // a prompt alone leaves the step dark
            case Act::Kind::LeaveOut:
                if (!m_random.chance(kOmitAtOnce)) return;
                add(core::EventKind::Omit, heard, step.id);
                break;
            case Act::Kind::Say:
                hear(act, heard, manner);
                break;
            case Act::Kind::SayWrong:
                objectTo(act, heard);
                break;
            case Act::Kind::Measure: {
                core::Event& event = add(core::EventKind::Reading, heard, step.id);
                event.value = act.value;
                event.unit = act.unit;
                break;
            }
            case Act::Kind::CallFault:
                if (!m_random.chance(kFaultSeen)) return;
                add(core::EventKind::Fault, heard, step.id).text = act.text;
                break;
            case Act::Kind::Break:
            case Act::Kind::GoOn:
                return;
        }
        m_marked.insert(&step);
        if (last) closeStep(step, heard);
    }

    void hear(const Act& act, int heard, const Manner& manner) {
        const core::Point& point = act.step->say[static_cast<std::size_t>(act.point)];
        if (manner.partly) {
            m_heard[act.step].insert(act.point);
            return;
        }
        // Everybody listens harder at the brake checks.
        if (m_random.chance(inBrakeZone(*act.step) ? m_habit.deaf / 4 : m_habit.deaf)) return;
        core::Event& event = add(core::EventKind::Say, heard, act.step->id);
        event.point = point.id;
        event.value = act.value, event.low = act.low, event.high = act.high;
        if (act.value || act.low || act.high) event.unit = act.unit;
        m_credited[act.step].insert(act.point);
    }

    void objectTo(const Act& act, int heard) {
        const core::Point& point = act.step->say[static_cast<std::size_t>(act.point)];
        const bool number = act.value || act.low || act.high;
        if (number && m_random.chance(600)) {
            // A number that does not match earns nothing by itself.
            core::Event& event = add(core::EventKind::Say, heard, act.step->id);
            event.point = point.id;
            event.value = act.value, event.low = act.low, event.high = act.high, event.unit = act.unit;
            return;
        }
        core::Event& event = add(core::EventKind::Wrong, heard, act.step->id);
        event.point = point.id;
        event.text = number ? "wrong number" : act.text;
    }

    /// After the last that was heard of a step.
    void closeStep(const core::Step& step, int heard) {
        if (const auto kept = m_heard.find(&step); kept != m_heard.end()) {
            // All of it was said: the big pad gives every point. Some of it: "partly".
            if (kept->second.size() == step.say.size()) {
                for (const core::Point& point : step.say)
                    add(core::EventKind::Say, heard + 2, step.id).point = point.id;
            } else {
                add(core::EventKind::Partly, heard + 2, step.id);
            }
        } else if (m_credited.contains(&step)) {
            for (int p = 0; p < static_cast<int>(step.say.size()); ++p) {
                if (m_credited[&step].contains(p) || !m_random.chance(m_habit.kind)) continue;
                add(core::EventKind::Say, heard + 3, step.id).point =
                    step.say[static_cast<std::size_t>(p)].id;
            }
        }
        if (m_random.chance(kSlipOfFinger)) {
            const int n = add(core::EventKind::Wrong, heard + 5, step.id).n;
            add(core::EventKind::Retract, heard + 14).retracts = n;
        }
        if (m_random.chance(m_habit.notes)) {
            add(core::EventKind::Note, heard + 10, step.id).text =
                kNotes[static_cast<std::size_t>(m_random.below(static_cast<int>(kNotes.size())))];
        }
    }

    /// Settles what is still dark, as the last page of the scoring does, and ends.
    void finish() {
        const int end = m_performance.end;
        const std::set<const core::Step*> late(m_performance.notReached.begin(),
                                               m_performance.notReached.end());
        for (const core::Zone& zone : m_set.rubric->zones) {
            if (std::ranges::find(m_set.header->zones, zone.id) == m_set.header->zones.end()) continue;
            for (const core::Step& step : zone.steps) {
                if (!core::appliesTo(step, m_set.header->equipment) || m_marked.contains(&step)) continue;
                add(late.contains(&step) ? core::EventKind::Unreached : core::EventKind::Omit, end, step.id);
            }
        }
        add(core::EventKind::End, end + 15);
    }

    bool lastOf(std::size_t i) const {
        const core::Step* step = m_performance.acts[i].step;
        return step && std::none_of(m_performance.acts.begin() + static_cast<std::ptrdiff_t>(i) + 1,
                                    m_performance.acts.end(), [&](const Act& a) { return a.step == step; });
    }

    core::Event& add(core::EventKind kind, int time, const std::string& step = {}) {
        m_last = std::max(m_last, time);
        core::Event& event = m_events.emplace_back();
        event.n = static_cast<int>(m_events.size());
        event.t = m_last / 10.0;
        event.kind = kind;
        event.step = step;
        return event;
    }

    const Performance& m_performance;
    const Setting& m_set;
    const Habit& m_habit;
    Random& m_random;
    std::vector<core::Event> m_events;
    std::map<const core::Step*, Manner> m_manner;
    std::map<const core::Step*, std::set<int>> m_heard, m_credited;
    std::set<const core::Step*> m_marked;
    int m_last = 0;
};

}  // namespace

std::vector<core::Event> scoreByHand(const Performance& performance, const Setting& setting,
                                     const Habit& habit, Random& random, std::optional<int> unfinishedAt) {
    return Scoring(performance, setting, habit, random).run(unfinishedAt);
}

}  // namespace markerlamp::demo
