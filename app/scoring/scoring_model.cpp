// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/scoring/scoring_model.h"

#include "app/scoring/attempt_clock.h"
#include "app/scoring/event_sink.h"
#include "app/support/display.h"

#include <algorithm>

namespace markerlamp::app {

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

// --- moves ---

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
