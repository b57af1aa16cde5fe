// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/program/class_reader.h"

#include "db/program_file.h"

#include <QFile>
#include <QPromise>
#include <QtConcurrentRun>

namespace markerlamp::app {

namespace {

void readClass(QPromise<ClassReading>& promise, const QString& path, double since) {
    promise.setProgressRange(0, 100);
    auto file = db::ProgramFile::open(QFile::encodeName(path).toStdString(), db::OpenMode::ReadOnly);
    if (!file) {
        promise.addResult(core::fail(file.error()));
        return;
    }
    const auto record = (*file)->practiceRecord([&promise](double share) {
        promise.setProgressValue(static_cast<int>(100 * share));
        return !promise.isCanceled();
    });
    if (promise.isCanceled()) return;
    if (!record)
        promise.addResult(core::fail(record.error()));
    else if (*record)
        promise.addResult(core::classSteps(**record, since));
}

}  // namespace

ClassReader::ClassReader(QObject* parent) : QObject(parent) {
    connect(&m_watcher, &QFutureWatcherBase::progressValueChanged, this, &ClassReader::progressed);
    connect(&m_watcher, &QFutureWatcherBase::resultReadyAt, this,
            [this](int index) { emit read(m_watcher.resultAt(index)); });
}

ClassReader::~ClassReader() {
    m_watcher.disconnect(this);
    stop();
    m_watcher.waitForFinished();
}

void ClassReader::start(const QString& path, double since) {
    stop();
    m_watcher.setFuture(QtConcurrent::run(readClass, path, since));
}

void ClassReader::stop() {
    m_watcher.cancel();
}

}  // namespace markerlamp::app
