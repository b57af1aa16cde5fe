// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/agreement/agreement_reader.h"

#include <QFile>
#include <QPromise>
#include <QtConcurrentRun>

namespace markerlamp::app {

namespace {

void readFile(QPromise<AgreementReading>& promise, const QString& path) {
    const auto giveUp = [&promise](const core::Error& error) {
        AgreementReading reading;
        reading.error = error;
        if (!promise.isCanceled()) promise.addResult(std::move(reading));
    };
    auto file = db::ProgramFile::open(QFile::encodeName(path).toStdString(), db::OpenMode::ReadOnly);
    if (!file) return giveUp(file.error());
    auto agreement = readAgreement(**file);
    if (!agreement) return giveUp(agreement.error());
    AgreementReading reading;
    reading.agreement = std::make_shared<const ProgramAgreement>(std::move(*agreement));
    promise.addResult(reading);
    // Without a shared attempt nothing is said of anybody, and with one instructor there is nobody to
    // compare.
    if (reading.agreement->pairs.empty() || reading.agreement->instructors < 2) return;
    auto funnel = funnelOf(**file, *reading.agreement, [&promise](double) { return !promise.isCanceled(); });
    if (!funnel) return giveUp(funnel.error());
    if (promise.isCanceled() || !*funnel) return;
    reading.funnel = std::move(*funnel);
    promise.addResult(std::move(reading));
}

}  // namespace

AgreementReader::AgreementReader(QObject* parent) : QObject(parent) {
    connect(&m_watcher, &QFutureWatcherBase::resultReadyAt, this,
            [this](int index) { emit read(m_watcher.resultAt(index)); });
    connect(&m_watcher, &QFutureWatcherBase::finished, this, [this] {
        if (!m_watcher.isCanceled()) emit finished();
    });
}

AgreementReader::~AgreementReader() {
    m_watcher.disconnect(this);
    stop();
    m_watcher.waitForFinished();
}

void AgreementReader::start(const QString& path) {
    stop();
    m_watcher.setFuture(QtConcurrent::run(readFile, path));
}

void AgreementReader::stop() {
    m_watcher.cancel();
}

}  // namespace markerlamp::app
