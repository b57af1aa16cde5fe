// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/track/track_reader.h"

#include "app/readiness/program_readiness.h"
#include "db/program_file.h"

#include <QFile>
#include <QPromise>
#include <QtConcurrentRun>

#include <cmath>

namespace markerlamp::app {

namespace {

constexpr int kWhole = 1000;   ///< permille
constexpr int kReading = 200;  ///< of it for reading and scoring the attempts

void readTrack(QPromise<TrackReading>& promise, const QString& path) {
    promise.setProgressRange(0, kWhole);
    const auto part = [&promise](int from, int to) {
        return [&promise, from, to](double share) {
            promise.setProgressValue(from + static_cast<int>(std::lround(share * (to - from))));
            return !promise.isCanceled();
        };
    };
    const auto giveUp = [&promise](const core::Error& error) {
        TrackReading reading;
        reading.error = error;
        if (!promise.isCanceled()) promise.addResult(std::move(reading));
    };
    auto file = db::ProgramFile::open(QFile::encodeName(path).toStdString(), db::OpenMode::ReadOnly);
    if (!file) return giveUp(file.error());
    auto readiness = ProgramReadiness::read(**file, part(0, kReading));
    if (!readiness) return giveUp(readiness.error());
    file->reset();
    TrackReading reading;
    reading.frozen = (*readiness)->frozen();
    promise.addResult(reading);
    core::TrackRecord replayed = (*readiness)->replayed(part(kReading, kWhole));
    if (promise.isCanceled()) return;
    reading.replayed = std::move(replayed);
    promise.addResult(std::move(reading));
}

}  // namespace

TrackReader::TrackReader(QObject* parent) : QObject(parent) {
    connect(&m_watcher, &QFutureWatcherBase::progressValueChanged, this, &TrackReader::progressed);
    connect(&m_watcher, &QFutureWatcherBase::resultReadyAt, this,
            [this](int index) { emit read(m_watcher.resultAt(index)); });
    connect(&m_watcher, &QFutureWatcherBase::finished, this,
            [this] { emit finished(!m_watcher.isCanceled()); });
}

TrackReader::~TrackReader() {
    m_watcher.disconnect(this);
    stop();
    m_watcher.waitForFinished();
}

void TrackReader::start(const QString& path) {
    stop();
    m_watcher.setFuture(QtConcurrent::run(readTrack, path));
}

void TrackReader::stop() {
    m_watcher.cancel();
}

}  // namespace markerlamp::app
