// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Undo and redo: both are presses that add events, so what was recorded is never lost.

#include "core/attempt/recorder.h"

#include "core/attempt/recorder_draft.h"

#include <algorithm>

namespace markerlamp::core {

Recorder::Pressed Recorder::undo(double t) {
    Draft draft(*this, t);
    std::vector<std::pair<int, int>> renewed;  // n of an event that comes back, and its new n
    while (!m_presses.empty() && draft.events().empty()) {
        const std::vector<int> press = std::move(m_presses.back());
        m_presses.pop_back();
        std::vector<Event> original;
        // What the press took away comes back first, then what it added goes.
        for (const int n : press) {
            original.push_back(draft.event(n));
            if (draft.event(n).kind != EventKind::Retract) continue;
            const int target = draft.event(n).retracts;
            draft.repeat(draft.event(target));
            renewed.emplace_back(target, draft.events().back().n);
        }
        for (const int n : press)
            if (draft.event(n).kind != EventKind::Retract && m_standing[static_cast<std::size_t>(n) - 1])
                draft.retract(n);
        if (!draft.events().empty()) m_undone.push_back(std::move(original));
    }
    auto events = commit(draft, false);
    // The press that first recorded them now owns the renewed events.
    for (const auto& [before, now] : renewed)
        for (std::vector<int>& press : m_presses) std::ranges::replace(press, before, now);
    return events;
}

Recorder::Pressed Recorder::redo(double t) {
    if (m_undone.empty()) return std::vector<Event>{};
    const std::vector<Event> press = std::move(m_undone.back());
    m_undone.pop_back();
    Draft draft(*this, t);
    for (const Event& event : press) {
        if (event.kind != EventKind::Retract) {
            draft.repeat(event);
            continue;
        }
        // Undo recorded what was taken away again, under a new number.
        const Event& target = draft.event(event.retracts);
        const std::vector<int> candidates = draft.standing(target.step);
        for (auto n = candidates.rbegin(); n != candidates.rend(); ++n) {
            const Event& same = draft.event(*n);
            if (same.kind != target.kind || same.point != target.point || same.value != target.value)
                continue;
            draft.retract(*n);
            break;
        }
    }
    std::vector<std::vector<Event>> rest = std::move(m_undone);
    auto events = commit(draft);
    m_undone = std::move(rest);
    return events;
}

bool Recorder::canUndo() const {
    return std::ranges::any_of(m_presses, [this](const std::vector<int>& press) {
        return std::ranges::any_of(press, [this](int n) {
            return m_attempt.events[static_cast<std::size_t>(n) - 1].kind == EventKind::Retract ||
                   m_standing[static_cast<std::size_t>(n) - 1];
        });
    });
}

bool Recorder::canRedo() const {
    return !m_undone.empty();
}

std::string Recorder::undoText() const {
    if (m_presses.empty()) return {};
    for (const int n : m_presses.back()) {
        const Event& event = m_attempt.events[static_cast<std::size_t>(n) - 1];
        const Event& named = event.kind == EventKind::Retract
                                 ? m_attempt.events[static_cast<std::size_t>(event.retracts) - 1]
                                 : event;
        if (named.step.empty()) return std::string(toWord(named.kind));
        const StepMarks& marks = *marksOf(named.step);
        const auto said = std::ranges::count(marks.points, PointMark::Said);
        std::string text = m_rubric->step(named.step)->title + ":";
        if (marks.omitted) return text + " omitted";
        if (marks.unseen) return text + " not observed";
        if (marks.unreached) return text + " not reached";
        text += marks.shown ? " shown" : " not shown";
        if (!marks.points.empty())
            text += ", " + std::to_string(said) + " of " + std::to_string(marks.points.size()) + " points";
        return text;
    }
    return {};
}

}  // namespace markerlamp::core
