// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The presses of the scoring model: each goes to the recorder, then to the sink, and says in words what it
// did.

#include "app/scoring/scoring_model.h"

#include "app/scoring/event_sink.h"
#include "app/support/display.h"
#include "forms/sheets/wording.h"

#include <algorithm>
#include <set>

namespace markerlamp::app {

using core::Outcome;

bool ScoringModel::keep(core::Result<std::vector<core::Event>> events, bool undoable) {
    if (!events) {
        emit refused(errorText(events.error(), 1));
        return false;
    }
    if (events->empty()) return true;
    std::set<int> touched;
    const auto& all = m_recorder.attempt().events;
    for (const core::Event& event : *events) {
        const std::string& stepId = event.kind == core::EventKind::Retract
                                        ? all[static_cast<std::size_t>(event.retracts) - 1].step
                                        : event.step;
        if (const int index = indexOf(stepId); index >= 0) touched.insert(index);
    }
    m_lastTicket = m_sink.append(attemptId(), std::move(*events));
    for (const int index : touched) m_ticket[static_cast<std::size_t>(index)] = m_lastTicket;
    if (undoable) m_after.clear();
    return true;
}

void ScoringModel::advanceFrom(int index, bool stayInZone) {
    const int next = nextOpen(index);
    // A tap on one end of a tile is often followed by a tap on the other: the board stays.
    if (stayInZone && (next < 0 || zoneOf(next) != zoneOf(index))) {
        putMarker(index);
        return;
    }
    putMarker(next);
}

void ScoringModel::scoredNow(int index, bool stayInZone) {
    m_justScored = index;
    m_lastPoint = -1;
    m_promptArmed = false;
    if (m_slid > 0 || m_run.empty() || index != m_run.back() + 1) m_run.clear();
    m_slid = 0;
    m_slideDirection = 0;
    m_run.push_back(index);
    advanceFrom(index, stayInZone);
    const bool none = m_marker < 0 || !marks(m_marker).open();
    emit acted(none && nextOpen(-1) < 0
                   ? tr("%1. Every step has an outcome; Finish settles and ends.").arg(describe(index))
                   : describe(index));
    emit changed();
}

void ScoringModel::outcome(Outcome outcome) {
    if (m_marker < 0) {
        emit refused(tr("Every step has an outcome. Finish, or choose a step to change it."));
        return;
    }
    outcomeOn(m_marker, outcome);
}

void ScoringModel::outcomeOn(int index, Outcome outcome) {
    const Place before = place();
    if (!keep(m_recorder.outcome(id(index), outcome, attemptSeconds(), m_promptArmed))) return;
    m_before.push_back(before);
    scoredNow(index);
}

void ScoringModel::showOn(int index) {
    const Place before = place();
    const core::StepMarks& now = marks(index);
    if (!now.hasShow) {
        emit refused(tr("%1 has nothing to show.").arg(title(index)));
        return;
    }
    if (now.shown) {
        emit refused(tr("%1 is already shown; Undo takes it back.").arg(title(index)));
        return;
    }
    if (!keep(m_recorder.show(id(index), attemptSeconds(), m_promptArmed))) return;
    m_before.push_back(before);
    scoredNow(index, true);
}

void ScoringModel::sayOn(int index) {
    const Place before = place();
    const core::StepMarks& now = marks(index);
    if (now.points.empty()) {
        emit refused(tr("%1 has nothing to say.").arg(title(index)));
        return;
    }
    if (std::ranges::all_of(now.points, [](core::PointMark m) { return m == core::PointMark::Said; })) {
        emit refused(tr("Every point of %1 is already said; the digits take one back.").arg(title(index)));
        return;
    }
    const bool both = now.shown && now.hasShow;
    if (!keep(m_recorder.outcome(id(index), both ? Outcome::Both : Outcome::SaidOnly, attemptSeconds(),
                                 m_promptArmed)))
        return;
    m_before.push_back(before);
    scoredNow(index, true);
}

void ScoringModel::flipPoint(int point) {
    if (m_justScored < 0) {
        emit refused(tr("No step is scored yet."));
        return;
    }
    const int count = static_cast<int>(step(m_justScored).say.size());
    if (point >= count) {
        emit refused(tr("%1 has %n point(s).", nullptr, count).arg(title(m_justScored)));
        return;
    }
    const Place before = place();
    if (!keep(m_recorder.flipPoint(id(m_justScored), point, attemptSeconds()))) return;
    m_before.push_back(before);
    m_lastPoint = point;
    emit acted(describe(m_justScored));
    emit changed();
}

void ScoringModel::wrong(const QString& text) {
    if (m_justScored < 0) {
        emit refused(tr("No step is scored yet."));
        return;
    }
    const Place before = place();
    if (!keep(m_recorder.wrong(id(m_justScored), m_lastPoint, ss(text.trimmed()), attemptSeconds()))) return;
    m_before.push_back(before);
    emit acted(describe(m_justScored));
    emit changed();
}

void ScoringModel::armPrompt() {
    m_promptArmed = !m_promptArmed;
    emit acted(m_promptArmed ? tr("The next outcome counts as prompted. The same key again takes that back.")
                             : tr("The next outcome counts as the trainee's own."));
    emit changed();
}

void ScoringModel::promptLast() {
    if (m_justScored < 0) {
        emit refused(tr("No step is scored yet."));
        return;
    }
    const Place before = place();
    if (!keep(m_recorder.prompt(id(m_justScored), attemptSeconds()))) return;
    m_before.push_back(before);
    emit acted(describe(m_justScored));
    emit changed();
}

void ScoringModel::undo() {
    if (!m_recorder.canUndo()) {
        emit refused(tr("Nothing to undo."));
        return;
    }
    const QString words = undoWords();
    const Place now = place();
    if (!keep(m_recorder.undo(attemptSeconds()), false)) return;
    m_after.push_back(now);
    if (!m_before.empty()) {
        restore(m_before.back());
        m_before.pop_back();
    } else if (m_justScored >= 0 && marks(m_justScored).open()) {
        m_justScored = -1;
    }
    breakRun();
    emit acted(tr("Undone: %1").arg(words));
    emit changed();
}

void ScoringModel::redo() {
    if (!m_recorder.canRedo()) {
        emit refused(tr("Nothing to redo."));
        return;
    }
    const Place now = place();
    if (!keep(m_recorder.redo(attemptSeconds()), false)) return;
    m_before.push_back(now);
    if (!m_after.empty()) {
        restore(m_after.back());
        m_after.pop_back();
    }
    breakRun();
    emit acted(m_justScored >= 0 ? tr("Done again: %1").arg(describe(m_justScored)) : tr("Done again"));
    emit changed();
}

void ScoringModel::restore(const Place& place) {
    m_zone = place.zone;
    m_marker = place.marker;
    m_justScored = place.justScored;
    m_lastPoint = place.lastPoint;
    // After a resume the places before it are not known; never point at a step that says otherwise.
    if (m_justScored >= 0 && marks(m_justScored).open()) m_justScored = -1;
}

void ScoringModel::breakRun() {
    m_run.clear();
    m_slid = 0;
    m_slideDirection = 0;
    m_promptArmed = false;
}

bool ScoringModel::slideOne(int from, int to, std::vector<core::Event>& all) {
    auto events = m_recorder.slide(id(from), id(to), attemptSeconds());
    if (!events) {
        emit refused(errorText(events.error(), 1));
        return false;
    }
    all.insert(all.end(), events->begin(), events->end());
    return true;
}

void ScoringModel::slide(int direction) {
    if (m_run.empty()) {
        if (m_justScored < 0 || marks(m_justScored).open()) {
            emit refused(tr("No step is scored yet."));
            return;
        }
        m_run = {m_justScored};
    }
    const Place before = place();
    std::vector<core::Event> all;
    int presses = 0;
    int moved = -1;
    const auto free = [this](int index) { return index >= 0 && index < stepCount() && marks(index).open(); };
    const auto blocked = [this](int index) {
        emit refused(index < 0 || index >= stepCount()
                         ? tr("There is no step further on to slide to.")
                         : tr("%1 already has an outcome; the slide stops there.").arg(title(index)));
    };
    if (m_slid > 0 && direction != m_slideDirection) {
        // The other way round: back comes what was moved last.
        const std::size_t at = m_run.size() - static_cast<std::size_t>(m_slid);
        const int from = m_run[at];
        if (!free(from + direction)) return blocked(from + direction);
        if (!slideOne(from, from + direction, all)) return;
        m_run[at] = from + direction;
        --m_slid;
        moved = m_run[at];
        presses = 1;
    } else if (direction > 0) {
        if (m_slid >= static_cast<int>(m_run.size())) {
            emit refused(tr("The whole run is moved."));
            return;
        }
        const std::size_t at = m_run.size() - 1 - static_cast<std::size_t>(m_slid);
        const int from = m_run[at];
        if (!free(from + 1)) return blocked(from + 1);
        if (!slideOne(from, from + 1, all)) return;
        m_run[at] = from + 1;
        ++m_slid;
        m_slideDirection = 1;
        moved = m_run.back();
        presses = 1;
    } else {
        // Upwards the steps before are in the way: the shortest tail of the run that has room goes together.
        std::size_t head = m_run.size() - 1;
        while (head > 0 && !free(m_run[head] - 1) && m_run[head - 1] == m_run[head] - 1) --head;
        if (!free(m_run[head] - 1)) return blocked(m_run[head] - 1);
        for (std::size_t at = head; at < m_run.size(); ++at) {
            if (!slideOne(m_run[at], m_run[at] - 1, all)) break;
            m_run[at] -= 1;
            ++presses;
        }
        moved = m_run.back();
    }
    if (presses == 0) return;
    keep(std::move(all));
    for (int i = 0; i < presses; ++i) m_before.push_back(before);
    m_justScored = m_run.back();
    m_lastPoint = -1;
    advanceFrom(m_justScored, false);
    emit acted(tr("Slid: %1").arg(describe(moved)));
    emit changed();
}

void ScoringModel::note(const QString& text, int index) {
    if (text.trimmed().isEmpty()) return;
    const Place before = place();
    if (!keep(m_recorder.note(index < 0 ? std::string() : id(index), ss(text.trimmed()), attemptSeconds())))
        return;
    m_before.push_back(before);
    emit acted(index < 0 ? tr("Note kept") : tr("Note kept on %1").arg(title(index)));
    emit changed();
}

void ScoringModel::fault(const QString& text, int index) {
    if (index < 0) {
        emit refused(tr("A defect belongs to a step; choose the step first."));
        return;
    }
    const Place before = place();
    if (!keep(m_recorder.fault(id(index), ss(text.trimmed()), attemptSeconds()))) return;
    m_before.push_back(before);
    m_justScored = index;
    m_lastPoint = -1;
    if (m_marker == index) advanceFrom(index, true);
    emit acted(describe(index));
    emit changed();
}

bool ScoringModel::reading(int index, double value) {
    const auto limit = core::readingLimit(m_recorder.rubric(), header(), step(index));
    if (!limit) {
        emit refused(tr("%1 takes no reading.").arg(title(index)));
        return false;
    }
    const Place before = place();
    if (!keep(m_recorder.reading(id(index), value, limit->unit, attemptSeconds()))) return false;
    m_before.push_back(before);
    emit acted(tr("%1: reading %2").arg(title(index), forms::withUnit(numberText(value), limit->unit)));
    emit changed();
    return true;
}

void ScoringModel::pauseOrGoOn() {
    if (paused()) {
        if (!keep(m_recorder.resumeClock(attemptSeconds()), false)) return;
        emit acted(tr("The clock runs again"));
        emit changed();
    } else {
        pause();
    }
}

void ScoringModel::pause() {
    if (paused() || ended()) return;
    if (!keep(m_recorder.pause(attemptSeconds()), false)) return;
    emit acted(tr("The clock stands still"));
    emit changed();
}

void ScoringModel::settleOutcomeBoth(int index) {
    const Place before = place();
    if (!keep(m_recorder.outcome(id(index), Outcome::Both, attemptSeconds(), false))) return;
    m_before.push_back(before);
    emit acted(describe(index));
    emit changed();
}

bool ScoringModel::finish(const std::vector<core::SettleProposal>& settled, double t) {
    if (!keep(m_recorder.finish(settled, t), false)) return false;
    m_before.clear();
    breakRun();
    m_marker = -1;
    emit acted(tr("The attempt is finished"));
    emit changed();
    return true;
}

}  // namespace markerlamp::app
