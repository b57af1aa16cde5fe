// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/copies/copy_reader.h"

#include <QPromise>
#include <QtConcurrentRun>

namespace markerlamp::app {

CopyReader::CopyReader(QObject* parent) : QObject(parent) {
    connect(&m_watcher, &QFutureWatcherBase::resultReadyAt, this,
            [this](int index) { emit looked(m_watcher.resultAt(index)); });
}

CopyReader::~CopyReader() {
    m_watcher.disconnect(this);
    stop();
}

void CopyReader::start(const QString& program, const QStringList& copies) {
    stop();
    m_watcher.setFuture(QtConcurrent::run([program, copies](QPromise<CopyLook>& promise) {
        for (const QString& copy : copies) {
            CopyLook look = lookInto(program, copy, [&promise] { return !promise.isCanceled(); });
            if (promise.isCanceled()) return;
            promise.addResult(std::move(look));
        }
    }));
}

void CopyReader::stop() {
    m_watcher.cancel();
    m_watcher.waitForFinished();
}

}  // namespace markerlamp::app
