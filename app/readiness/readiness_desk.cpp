// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/readiness/readiness_desk.h"

#include "app/shell/session.h"
#include "app/support/display.h"

#include <algorithm>

namespace markerlamp::app {

namespace {

using State = ReadinessStanding::State;

/// Practice fades: what was worked out longer ago is worked out again before it is looked at or frozen.
constexpr qint64 kFreshSeconds = 6 * 3600;
/// A planner holds all its draws (near a megabyte): those of the pages looked at last are enough.
constexpr std::size_t kPlannersKept = 4;

double dayNumber(const QDateTime& moment) {
    return static_cast<double>(moment.toMSecsSinceEpoch()) / 86'400'000.0;
}

std::filesystem::path pathOf(Session& session) {
    return session.file().path();
}

}  // namespace

ReadinessDesk::ReadinessDesk(Session& session, ReadinessOpener opener, Clock clock, QObject* parent)
    : QObject(parent),
      m_session(session),
      m_opener(opener ? std::move(opener) : readinessOf(pathOf(session))),
      m_clock(clock ? std::move(clock) : [] { return QDateTime::currentDateTime(); }) {
    m_worker.setMaxThreadCount(1);
    m_worker.setThreadPriority(QThread::LowPriority);  // pages and presses go first
    m_writer.setMaxThreadCount(1);
    connect(&session, &Session::attemptChanged, this, &ReadinessDesk::attemptChanged);
    connect(&session, &Session::peopleChanged, this, &ReadinessDesk::everythingChanged);
    connect(&session, &Session::rubricsChanged, this, &ReadinessDesk::everythingChanged);
}

ReadinessDesk::~ReadinessDesk() {
    m_queue.clear();
    if (m_job) m_job->stop->store(true);
    m_worker.waitForDone();
    m_writer.waitForDone();
}

const ReadinessStanding& ReadinessDesk::of(const QString& trainee) const {
    static const ReadinessStanding none;
    const auto found = m_standings.find(trainee);
    return found == m_standings.end() ? none : found->second;
}

core::ReadinessSettings ReadinessDesk::settings() const {
    if (const auto facts = m_session.file().facts())
        if (auto settings = core::settingsFromFacts(*facts)) return *settings;
    return {};  // reading the program says what is wrong with them
}

bool ReadinessDesk::upToDate(const ReadinessStanding& standing) const {
    return standing.known && !standing.old && standing.at.secsTo(m_clock()) < kFreshSeconds;
}

void ReadinessDesk::ask(const QString& trainee) {
    if (trainee.isEmpty()) return;
    m_front = trainee;
    std::erase(m_lately, trainee);
    m_lately.push_front(trainee);
    ReadinessStanding& standing = m_standings[trainee];
    if (upToDate(standing) && !standing.plannerLeftOut) return;
    if (m_job && m_job->trainee == trainee && !m_job->stop->load() && m_job->withPlanner) return;
    std::erase(m_queue, trainee);
    m_queue.push_front(trainee);
    standing.state = m_held ? State::Held : State::Waiting;
    emit changed(trainee);
    next();
}

void ReadinessDesk::askAll(const QStringList& trainees) {
    for (const QString& trainee : trainees) {
        ReadinessStanding& standing = m_standings[trainee];
        if (upToDate(standing) || (m_job && m_job->trainee == trainee) ||
            std::find(m_queue.begin(), m_queue.end(), trainee) != m_queue.end())
            continue;
        m_queue.push_back(trainee);
        standing.state = m_held ? State::Held : State::Waiting;
    }
    next();
}

void ReadinessDesk::stop() {
    const auto waiting = std::exchange(m_queue, {});
    for (const QString& trainee : waiting) {
        m_standings[trainee].state = State::Stopped;
        emit changed(trainee);
    }
    if (!m_job) return;
    m_job->again = false;
    m_job->stop->store(true);
}

void ReadinessDesk::hold(bool on) {
    if (on == m_held) return;
    m_held = on;
    for (const QString& trainee : m_queue) {
        m_standings[trainee].state = on ? State::Held : State::Waiting;
        emit changed(trainee);
    }
    if (on && m_job && !m_job->stop->load()) {
        m_job->again = true;
        m_job->stop->store(true);
    }
    next();
}

void ReadinessDesk::next() {
    if (m_held || m_job || m_queue.empty()) return;
    const QString trainee = m_queue.front();
    m_queue.pop_front();
    begin(trainee);
}

void ReadinessDesk::begin(const QString& trainee) {
    const bool lately = std::find(m_lately.begin(), m_lately.end(), trainee) != m_lately.end();
    m_job = Job{trainee, std::make_shared<std::atomic<bool>>(false), m_version, lately};
    ReadinessStanding& standing = m_standings[trainee];
    standing.state = State::Computing;
    standing.progress = 0;
    m_worker.start([this, trainee, stop = m_job->stop, source = m_source, opener = m_opener,
                    day = dayNumber(m_clock()), withPlanner = lately]() mutable {
        int told = 0;
        const auto upTo = [&](double from, double to) {
            return [&, from, to](double share) {
                const double all = from + (to - from) * std::clamp(share, 0.0, 1.0);
                if (const int percent = static_cast<int>(all * 100); percent > told) {
                    told = percent;
                    QMetaObject::invokeMethod(
                        this, [this, trainee, all] { progress(trainee, all); }, Qt::QueuedConnection);
                }
                return !stop->load();
            };
        };
        // Reading the file and fitting the model are most of the work; both are done once for all trainees.
        const double readTo = source ? 0 : 0.4;
        core::Result<ReadinessAnswer> answer = core::fail(core::ErrorKind::Usage, {});
        if (!source && !stop->load()) {
            auto opened = opener(upTo(0, readTo));
            if (opened)
                source = std::move(*opened);
            else
                answer = core::fail(opened.error());
        }
        if (source && !stop->load()) answer = source->answer(ss(trainee), day, withPlanner, upTo(readTo, 1));
        QMetaObject::invokeMethod(
            this,
            [this, answer = std::move(answer), source = std::move(source)]() mutable {
                finish(std::move(answer), std::move(source));
            },
            Qt::QueuedConnection);
    });
    emit changed(trainee);
}

void ReadinessDesk::progress(const QString& trainee, double share) {
    if (!m_job || m_job->trainee != trainee) return;
    m_standings[trainee].progress = share;
    emit progressed(trainee, share);
}

void ReadinessDesk::finish(core::Result<ReadinessAnswer> answer, std::shared_ptr<ReadinessSource> source) {
    const Job job = std::move(*m_job);
    m_job.reset();
    ReadinessStanding& standing = m_standings[job.trainee];
    const bool opened = source != nullptr;
    if (job.version == m_version) m_source = std::move(source);  // else the file has changed since
    bool again = job.again;
    if (answer) {
        standing.answer = std::move(*answer);
        standing.known = true;
        standing.old = again = job.outdated;
        standing.plannerLeftOut = !job.withPlanner;
        standing.at = m_clock();
        standing.state = State::Known;
        judgeAnew(standing, job.trainee);
        keepFewPlanners();
    } else if (!wasStopped(answer.error())) {
        again = false;
        standing.state = State::Failed;
        standing.error = answer.error();
        if (!opened) failAll(answer.error());
    } else {
        standing.state = State::Stopped;
    }
    if (again && std::find(m_queue.begin(), m_queue.end(), job.trainee) == m_queue.end()) {
        m_queue.push_front(job.trainee);
        standing.state = m_held ? State::Held : State::Waiting;
    }
    emit changed(job.trainee);
    next();
}

void ReadinessDesk::failAll(const core::Error& error) {
    // The file cannot be read: nobody who waits would fare better.
    const auto waiting = std::exchange(m_queue, {});
    for (const QString& trainee : waiting) {
        m_standings[trainee].state = State::Failed;
        m_standings[trainee].error = error;
        emit changed(trainee);
    }
}

void ReadinessDesk::keepFewPlanners() {
    while (m_lately.size() > kPlannersKept) m_lately.pop_back();
    for (auto& [trainee, standing] : m_standings)
        if (std::find(m_lately.begin(), m_lately.end(), trainee) == m_lately.end())
            if (standing.answer.planner) {
                standing.answer.planner.reset();
                standing.plannerLeftOut = true;
            }
}

void ReadinessDesk::noteOld(const QString& trainee) {
    const auto found = m_standings.find(trainee);
    if (found == m_standings.end()) return;
    ReadinessStanding& standing = found->second;
    const bool wanted = standing.known || trainee == m_front;
    standing.old = true;
    if (m_job && m_job->trainee == trainee) {
        m_job->again = m_job->outdated = true;
        m_job->stop->store(true);
        return;
    }
    if (wanted && std::find(m_queue.begin(), m_queue.end(), trainee) == m_queue.end()) {
        trainee == m_front ? m_queue.push_front(trainee) : m_queue.push_back(trainee);
        standing.state = m_held ? State::Held : State::Waiting;
    }
    emit changed(trainee);
}

void ReadinessDesk::attemptChanged(const QString& id) {
    if (id.isEmpty()) {  // many, as an import brings them
        everythingChanged();
        return;
    }
    // Somebody else's practice moves the steps' figures by a hair: only that trainee is worked out again.
    forgetSource();
    if (const auto info = m_session.file().attemptInfo(ss(id)); info && *info) noteOld(qs((*info)->trainee));
    next();
}

void ReadinessDesk::forgetSource() {
    m_source.reset();
    ++m_version;
}

void ReadinessDesk::everythingChanged() {
    forgetSource();
    std::vector<QString> all;
    for (const auto& [trainee, standing] : m_standings) all.push_back(trainee);
    for (const QString& trainee : all) noteOld(trainee);
    next();
}

void ReadinessDesk::noteSettingsChanged() {
    everythingChanged();
}

}  // namespace markerlamp::app
