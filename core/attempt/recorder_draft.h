#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The press that the recorder is making, for its own source files: recorder.cpp holds the presses,
// recorder_undo.cpp takes them back.

#include "core/attempt/recorder.h"

#include <algorithm>
#include <string_view>
#include <vector>

namespace markerlamp::core {

/// Whether a later press can take back an event of this kind.
inline bool retractable(EventKind kind) {
    return kind != EventKind::Pause && kind != EventKind::Resume && kind != EventKind::End &&
           kind != EventKind::Retract;
}

/// Collects the events of one press; numbers them from the end of the attempt. Reads only the attempt as it
/// was.
class Recorder::Draft {
public:
    Draft(const Recorder& recorder, double t) : m_recorder(recorder) {
        const auto& events = recorder.m_attempt.events;
        m_t = events.empty() ? std::max(0.0, t) : std::max(t, events.back().t);
        if (recorder.ended() && !events.empty()) m_t = events.back().t;
        m_next = static_cast<int>(events.size()) + 1;
    }

    Event& add(EventKind kind, std::string_view step = {}) {
        Event event;
        event.n = m_next++;
        event.t = m_t;
        event.kind = kind;
        event.step = step;
        if (m_recorder.ended()) {
            event.by = m_recorder.m_by;
            event.at = m_recorder.m_at;
        }
        return m_events.emplace_back(std::move(event));
    }

    void say(std::string_view step, std::string_view point) { add(EventKind::Say, step).point = point; }

    void retract(int n) { add(EventKind::Retract).retracts = n; }

    /// Takes back the step's standing events for which `which` holds.
    template <class Which>
    int retractWhere(std::string_view step, Which which) {
        int count = 0;
        for (const int n : standing(step)) {
            if (!which(event(n))) continue;
            retract(n);
            ++count;
        }
        return count;
    }

    /// n of the step's standing events.
    [[nodiscard]] std::vector<int> standing(std::string_view step) const {
        std::vector<int> found;
        for (const Event& e : m_recorder.m_attempt.events)
            if (e.step == step && retractable(e.kind) &&
                m_recorder.m_standing[static_cast<std::size_t>(e.n) - 1])
                found.push_back(e.n);
        return found;
    }

    [[nodiscard]] const Event& event(int n) const {
        return m_recorder.m_attempt.events[static_cast<std::size_t>(n) - 1];
    }

    /// Records `original` again under a new number and the time of this press.
    void repeat(const Event& original) {
        Event& event = add(original.kind, original.step);
        event.point = original.point;
        event.value = original.value;
        event.low = original.low;
        event.high = original.high;
        event.unit = original.unit;
        event.text = original.text;
    }

    [[nodiscard]] std::vector<Event>& events() { return m_events; }

private:
    const Recorder& m_recorder;
    double m_t = 0;
    int m_next = 1;
    std::vector<Event> m_events;
};

}  // namespace markerlamp::core
