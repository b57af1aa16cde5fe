// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/scoring/brake_minute.h"

#include "app/scoring/attempt_clock.h"
#include "app/scoring/scoring_model.h"
#include "app/support/display.h"

#include <cmath>

namespace markerlamp::app {

namespace {

QString unitOf(const ScoringModel& model, int step) {
    const auto limit = core::readingLimit(model.recorder().rubric(), model.header(), model.step(step));
    return limit ? qs(limit->unit) : QString();
}

}  // namespace

std::optional<double> BrakeMinute::Run::drop() const {
    if (!before || !after) return std::nullopt;
    // Gauges are read in halves at best; this keeps 118 - 115.2 from becoming 2.7999999999999972.
    return std::round((*before - *after) * 1e6) / 1e6;
}

BrakeMinute::BrakeMinute(ScoringModel& model, AttemptClock& clock) : m_model(model), m_clock(clock) {}

bool BrakeMinute::isMinute(const core::Step& step) {
    return step.reading && step.reading->quantity == "loss";
}

int BrakeMinute::firstMinuteStep() const {
    for (int i = 0; i < m_model.stepCount(); ++i)
        if (isMinute(m_model.step(i))) return i;
    return -1;
}

void BrakeMinute::startOrStop(int step) {
    if (m_running) {
        stop();
        return;
    }
    if (step < 0 || !isMinute(m_model.step(step))) return;
    // What was read after one minute is what the next one starts from.
    if (const auto& all = runs(step);
        !all.empty() && all.back().full() && all.back().after && before(step) == all.back().before)
        m_before[step] = all.back().after;
    m_running = true;
    m_step = step;
    m_steady = m_clock.steadySeconds();
    m_boot = m_clock.bootSeconds();
    m_seconds = 0;
    // One minute is run with the pedal held and the other with the foot off it: only the rubric knows.
    const std::string& show = m_model.step(step).show;
    emit said(show.empty() ? tr("Minute running: %1").arg(m_model.title(step))
                           : tr("Minute running: %1. %2").arg(m_model.title(step), qs(show)));
    emit changed();
}

void BrakeMinute::tick() {
    if (!m_running) return;
    const double steady = m_clock.steadySeconds() - m_steady;
    const double boot = m_clock.bootSeconds() - m_boot;
    if (std::abs(boot - steady) > kSleepSeconds) {
        close(steady, true);
        return;
    }
    m_seconds = std::min(steady, kMinute);
    if (steady >= kMinute)
        close(kMinute, false);
    else
        emit changed();
}

void BrakeMinute::stop() {
    if (!m_running) return;
    tick();
    if (m_running) close(m_seconds, false);
}

void BrakeMinute::close(double seconds, bool slept) {
    m_running = false;
    m_seconds = seconds;
    Run run;
    run.seconds = seconds;
    run.before = before(m_step);
    run.slept = slept;
    m_runs[m_step].push_back(run);
    const int step = m_step;
    if (slept) {
        emit said(tr("The computer slept - repeat the minute"));
    } else if (run.full()) {
        emit said(tr("The minute is over: read the gauge, type the figure, Enter."));
    } else {
        // It judges nothing, but that it was tried belongs to the record.
        m_model.note(run.before ? tr("short: %1 s, before %2 %3")
                                      .arg(std::floor(seconds))
                                      .arg(numberText(*run.before), unitOf(m_model, step))
                                : tr("short: %1 s").arg(std::floor(seconds)),
                     step);
        emit said(
            tr("Stopped after %1 s: kept as short, no reading. Repeat the minute.").arg(std::floor(seconds)));
    }
    emit changed();
    if (run.full()) emit minuteOver(step);
}

std::optional<double> BrakeMinute::before(int step) const {
    const auto found = m_before.find(step);
    return found == m_before.end() ? std::nullopt : found->second;
}

const std::vector<BrakeMinute::Run>& BrakeMinute::runs(int step) const {
    static const std::vector<Run> none;
    const auto found = m_runs.find(step);
    return found == m_runs.end() ? none : found->second;
}

bool BrakeMinute::waitsForAfter(int step) const {
    const std::vector<Run>& all = runs(step);
    return !(m_running && m_step == step) && !all.empty() && all.back().full() && !all.back().after;
}

void BrakeMinute::setBefore(int step, std::optional<double> value) {
    if (before(step) == value) return;
    m_before[step] = value;
    // Typed late: the figure belongs to the run that waits for its end.
    if (waitsForAfter(step)) m_runs[step].back().before = value;
    emit changed();
}

void BrakeMinute::setAfter(int step, std::optional<double> value) {
    auto found = m_runs.find(step);
    if (!value || found == m_runs.end() || found->second.empty()) return;
    Run& run = found->second.back();
    if (!run.full()) {
        emit said(tr("The last run was no full minute; repeat it."));
        return;
    }
    if (run.after == value) return;
    if (!run.before) run.before = before(step);
    if (!run.before) {
        emit said(tr("The figure before the minute is missing; type it first."));
        return;
    }
    if (*value > *run.before) {
        emit said(tr("%1 after is more than %2 before: check both figures. Nothing was stored.")
                      .arg(numberText(*value), numberText(*run.before)));
        return;
    }
    run.after = value;
    m_model.reading(step, *run.drop());
    emit changed();
}

QString BrakeMinute::clockText() const {
    const int whole = static_cast<int>(m_seconds);
    return QStringLiteral("%1:%2").arg(whole / 60).arg(whole % 60, 2, 10, QLatin1Char('0'));
}

QString BrakeMinute::runText(int step, int run) const {
    const Run& r = runs(step)[static_cast<std::size_t>(run)];
    if (r.slept) return tr("the computer slept - repeat");
    if (!r.full()) return tr("short: %1 s").arg(std::floor(r.seconds));
    if (const auto drop = r.drop())
        return tr("run %1, drop %2 %3").arg(run + 1).arg(numberText(*drop), unitOf(m_model, step));
    return tr("run %1: waiting").arg(run + 1);
}

std::optional<Verdict> BrakeMinute::runVerdict(int step, int run) const {
    const Run& r = runs(step)[static_cast<std::size_t>(run)];
    const auto drop = r.drop();
    const auto limit = core::readingLimit(m_model.recorder().rubric(), m_model.header(), m_model.step(step));
    if (!r.full() || !drop || !limit) return std::nullopt;
    return verdictOf(*drop, *limit, m_model.step(step).reading->tolerance);
}

}  // namespace markerlamp::app
