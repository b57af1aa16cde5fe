// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/scoring/scoring_model.h"

#include "app/scoring/attempt_clock.h"
#include "app/scoring/event_sink.h"
#include "app/support/display.h"

#include <algorithm>
#include <set>

namespace markerlamp::app {

using core::Outcome;

ScoringModel::ScoringModel(core::Recorder recorder, EventSink& sink, AttemptClock& clock)
    : m_recorder(std::move(recorder)), m_sink(sink), m_clock(clock) {
    connect(&sink, &EventSink::stored, this, [this](quint64 upTo) {
        if (upTo <= m_storedUpTo) return;
        m_storedUpTo = upTo;
        m_lastStored = m_clock.wallTime();
        emit storageChanged();
        emit changed();
    });
    connect(&sink, &EventSink::trouble, this, [this](const QString& message, int waiting) {
        m_trouble = message;
        m_waiting = waiting;
        emit storageChanged();
    });
    setUp();
}

void ScoringModel::setUp() {
    const core::Rubric& rubric = m_recorder.rubric();
    m_steps = core::stepsInScope(rubric, header());
    m_ticket.assign(m_steps.size(), 0);
    const std::vector<forms::PlanCell> cells = forms::planCells(rubric);
    for (int i = 0; i < stepCount(); ++i) {
        const core::Zone* zone = rubric.zoneOfStep(step(i).id);
        if (m_zones.empty() || m_zones.back().id != zone->id) {
            Zone view;
            view.id = zone->id;
            view.title = qs(zone->title);
            view.first = i;
            const auto at = static_cast<std::size_t>(zone - rubric.zones.data());
            view.cell = cells[at];
            if (view.cell.row < forms::kPlanRows)
                view.keyIndex = view.cell.row * forms::kPlanColumns + view.cell.column;
            m_zones.push_back(std::move(view));
        }
        ++m_zones.back().count;
        m_zoneOf.push_back(static_cast<int>(m_zones.size()) - 1);
    }
    putMarker(nextOpen(-1));
}

core::Result<std::unique_ptr<ScoringModel>> ScoringModel::start(std::shared_ptr<const core::Rubric> rubric,
                                                                core::AttemptHeader header, EventSink& sink,
                                                                AttemptClock& clock) {
    auto recorder = core::Recorder::start(std::move(rubric), std::move(header));
    if (!recorder) return core::fail(recorder.error());
    std::unique_ptr<ScoringModel> model(new ScoringModel(std::move(*recorder), sink, clock));
    if (model->m_steps.empty())
        return core::fail(core::ErrorKind::Refused,
                          ss(tr("no step of the chosen zones applies to this bus; choose other zones or "
                                "check the bus's equipment")));
    model->m_zeroSteady = clock.steadySeconds();
    model->m_lastTicket = sink.startAttempt(model->header());
    return model;
}

core::Result<std::unique_ptr<ScoringModel>> ScoringModel::resume(std::shared_ptr<const core::Rubric> rubric,
                                                                 core::Attempt attempt, EventSink& sink,
                                                                 AttemptClock& clock, bool running) {
    auto recorder = core::Recorder::resume(std::move(rubric), std::move(attempt));
    if (!recorder) return core::fail(recorder.error());
    if (recorder->ended())
        return core::fail(core::ErrorKind::Refused,
                          ss(tr("the attempt is over; changes to it are amendments, made in the debrief")));
    std::unique_ptr<ScoringModel> model(new ScoringModel(std::move(*recorder), sink, clock));
    const auto& events = model->m_recorder.attempt().events;
    const double last = events.empty() ? 0 : events.back().t;
    // The wall clock is the only witness of the time between; one that went backwards is not believed.
    double now = last;
    const QDateTime started = startedAt(model->header().started);
    if (started.isValid())
        now = std::max(last, static_cast<double>(started.msecsTo(clock.wallTime())) / 1000.0);
    model->m_zeroSteady = clock.steadySeconds() - now;
    for (auto event = events.rbegin(); event != events.rend() && model->m_justScored < 0; ++event)
        if (const int index = model->indexOf(event->step); index >= 0) model->m_justScored = index;
    if (model->m_justScored >= 0) model->putMarker(model->nextOpen(model->m_justScored));
    if (!model->m_recorder.paused() && !events.empty()) model->keep(model->m_recorder.pause(last), false);
    if (running && model->m_recorder.paused()) model->keep(model->m_recorder.resumeClock(now), false);
    return model;
}

QString ScoringModel::attemptId() const {
    return qs(header().id);
}

const core::StepMarks& ScoringModel::marks(int index) const {
    return m_recorder.marks()[static_cast<std::size_t>(index)];
}

bool ScoringModel::pending(int index) const {
    return m_ticket[static_cast<std::size_t>(index)] > m_storedUpTo;
}

forms::SignState ScoringModel::sign(int index) const {
    return forms::signState(marks(index), step(index).mustPass, pending(index));
}

QString ScoringModel::title(int index) const {
    return qs(step(index).title);
}

int ScoringModel::indexOf(std::string_view stepId) const {
    const auto found = std::ranges::find(m_steps, stepId, &core::Step::id);
    return found == m_steps.end() ? -1 : static_cast<int>(found - m_steps.begin());
}

int ScoringModel::zoneByKey(int keyIndex) const {
    const auto found = std::ranges::find(m_zones, keyIndex, &Zone::keyIndex);
    return found == m_zones.end() ? -1 : static_cast<int>(found - m_zones.begin());
}

int ScoringModel::scoredIn(int zone) const {
    const Zone& z = m_zones[static_cast<std::size_t>(zone)];
    int count = 0;
    for (int i = z.first; i < z.first + z.count; ++i) count += marks(i).open() ? 0 : 1;
    return count;
}

int ScoringModel::mustPassIn(int zone) const {
    const Zone& z = m_zones[static_cast<std::size_t>(zone)];
    int count = 0;
    for (int i = z.first; i < z.first + z.count; ++i) count += step(i).mustPass ? 1 : 0;
    return count;
}

int ScoringModel::darkBehindIn(int zone) const {
    const Zone& z = m_zones[static_cast<std::size_t>(zone)];
    int last = z.first - 1;
    for (int i = z.first; i < z.first + z.count; ++i)
        if (!marks(i).open()) last = i;
    if (zone == m_zone && m_marker >= 0) last = std::min(last, m_marker);
    int count = 0;
    for (int i = z.first; i < last; ++i) count += marks(i).open() ? 1 : 0;
    return count;
}

int ScoringModel::scored() const {
    int count = 0;
    for (int zone = 0; zone < static_cast<int>(m_zones.size()); ++zone) count += scoredIn(zone);
    return count;
}

int ScoringModel::darkBehind() const {
    int count = 0;
    for (int zone = 0; zone < static_cast<int>(m_zones.size()); ++zone) count += darkBehindIn(zone);
    return count;
}

// --- presses ---

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

int ScoringModel::nextOpen(int index) const {
    for (int i = index + 1; i < stepCount(); ++i)
        if (marks(i).open()) return i;
    for (int i = 0; i <= index && i < stepCount(); ++i)
        if (marks(i).open()) return i;
    return -1;
}

void ScoringModel::putMarker(int index) {
    m_marker = index;
    if (index >= 0) m_zone = zoneOf(index);
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
    emit acted(tr("%1: reading %2 %3").arg(title(index), numberText(value), qs(limit->unit)));
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

// --- moves ---

void ScoringModel::goToZone(int zone) {
    if (zone < 0 || zone >= static_cast<int>(m_zones.size())) return;
    const Zone& z = m_zones[static_cast<std::size_t>(zone)];
    const auto openFrom = [&](int from) {
        for (int i = from; i < z.first + z.count; ++i)
            if (marks(i).open()) return i;
        return -1;
    };
    int target = -1;
    if (zone == m_zone && m_marker >= 0) target = openFrom(m_marker + 1);
    if (target < 0) target = openFrom(z.first);
    const bool done = target < 0;
    if (done) target = z.first;
    putMarker(target);
    m_promptArmed = false;
    emit acted(done ? tr("%1: every step has an outcome").arg(z.title)
                    : tr("%1, next %2 %3").arg(z.title).arg(target + 1).arg(title(target)));
    emit changed();
}

void ScoringModel::goTo(int index) {
    if (index < 0 || index >= stepCount()) return;
    putMarker(index);
    emit acted(tr("Next %1 %2").arg(index + 1).arg(title(index)));
    emit changed();
}

void ScoringModel::moveMarker(int by) {
    const int from = m_marker >= 0 ? m_marker : m_justScored;
    goTo(std::clamp(from + by, 0, stepCount() - 1));
}

void ScoringModel::firstDark() {
    const int first = nextOpen(-1);
    if (first < 0) {
        emit refused(tr("No dark step is left."));
        return;
    }
    goTo(first);
}

// --- words and time ---

QString ScoringModel::describe(int index) const {
    const core::StepMarks& m = marks(index);
    QStringList parts;
    if (m.omitted) {
        parts << tr("omitted");
    } else if (m.unseen) {
        parts << tr("not observed");
    } else if (m.unreached) {
        parts << tr("not reached");
    } else if (m.open()) {
        parts << tr("open");
    } else {
        if (m.hasShow) parts << (m.shown ? tr("shown") : tr("not shown"));
        const int points = static_cast<int>(m.points.size());
        const int said = static_cast<int>(std::ranges::count(m.points, core::PointMark::Said));
        const int wrongPoints = static_cast<int>(std::ranges::count(m.points, core::PointMark::Wrong));
        if (m.partly)
            parts << tr("partly explained");
        else if (points > 0)
            parts << tr("%1 of %n point(s)", nullptr, points).arg(said);
        if (m.wrong)
            parts << tr("said wrongly");
        else if (wrongPoints > 0)
            parts << tr("%n said wrongly", nullptr, wrongPoints);
        if (m.fault) parts << tr("a real defect called out");
        if (m.reading) parts << tr("reading %1 %2").arg(numberText(*m.reading), qs(m.readingUnit));
    }
    if (m.prompts > 0) parts << tr("%n prompt(s)", nullptr, m.prompts);
    return tr("%1 %2: %3", "number, title, marks").arg(index + 1).arg(title(index), parts.join(tr(", ")));
}

QString ScoringModel::undoWords() const {
    return qs(m_recorder.undoText());
}

double ScoringModel::attemptSeconds() const {
    // Milliseconds are enough, and read well in the document.
    const double t = m_clock.steadySeconds() - m_zeroSteady;
    return std::max(0.0, static_cast<double>(qRound64(t * 1000)) / 1000.0);
}

double ScoringModel::runningSeconds() const {
    const auto& events = m_recorder.attempt().events;
    const double pausedFor = core::pausedSeconds(m_recorder.attempt());
    if (paused()) {
        // An open pause stands since its pause event, and counts up to the last event.
        for (auto event = events.rbegin(); event != events.rend(); ++event)
            if (event->kind == core::EventKind::Pause)
                return event->t - (pausedFor - (events.back().t - event->t));
    }
    if (ended()) return core::runningSeconds(m_recorder.attempt());
    return attemptSeconds() - pausedFor;
}

QDateTime ScoringModel::wallTimeAt(double t) const {
    const QDateTime started = startedAt(header().started);
    return started.isValid() ? started.addMSecs(qRound64(t * 1000)) : m_clock.wallTime();
}

}  // namespace markerlamp::app
