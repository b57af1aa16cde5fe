// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/rubrics/effect_reader.h"

#include "app/support/folders.h"
#include "db/program_file.h"

#include <QElapsedTimer>
#include <QPromise>
#include <QtConcurrentRun>

#include <cmath>

namespace markerlamp::app {

namespace {

constexpr int kWhole = 1000;  ///< permille

}  // namespace

void EffectReader::run(QPromise<Reading>& promise, const QString& path,
                       std::shared_ptr<const core::Rubric> draft, core::NewThings newThings) {
    promise.setProgressRange(0, kWhole);
    QElapsedTimer timer;
    timer.start();
    auto file = db::ProgramFile::open(fsPath(path), db::OpenMode::ReadOnly);
    if (!file) {
        promise.addResult(Reading{core::fail(file.error()), 0});
        return;
    }
    core::EditionTrial trial(draft, newThings);
    core::EditionEffect effect;
    // The record itself is not needed; its reader is the one that knows which attempts count.
    const auto record = (*file)->practiceRecord(
        [&promise](double share) {
            promise.setProgressValue(static_cast<int>(std::lround(share * kWhole)));
            return !promise.isCanceled();
        },
        [&](const std::shared_ptr<const core::Rubric>& own, const core::Attempt& attempt,
            const core::Scorecard& card) {
            if (own->id == draft->id) effect.results.push_back(trial.judge(*own, attempt, card));
        });
    if (promise.isCanceled()) return;
    const double seconds = static_cast<double>(timer.elapsed()) / 1000;
    if (!record)
        promise.addResult(Reading{core::fail(record.error()), seconds});
    else
        promise.addResult(Reading{std::move(effect), seconds});
}

EffectReader::EffectReader(QObject* parent) : QObject(parent) {
    connect(&m_watcher, &QFutureWatcherBase::progressValueChanged, this, &EffectReader::progressed);
    connect(&m_watcher, &QFutureWatcherBase::finished, this, [this] {
        if (m_watcher.isCanceled() || m_watcher.future().resultCount() == 0) {
            emit stopped();
            return;
        }
        const Reading reading = m_watcher.result();
        if (reading.effect)
            emit read(*reading.effect, reading.seconds);
        else
            emit failed(reading.effect.error());
    });
}

EffectReader::~EffectReader() {
    m_watcher.disconnect(this);
    stop();
    m_watcher.waitForFinished();
}

void EffectReader::start(const QString& path, std::shared_ptr<const core::Rubric> draft,
                         core::NewThings newThings) {
    stop();
    m_draft = draft;
    m_watcher.setFuture(QtConcurrent::run(&EffectReader::run, path, std::move(draft), newThings));
}

void EffectReader::stop() {
    m_watcher.cancel();
}

}  // namespace markerlamp::app
