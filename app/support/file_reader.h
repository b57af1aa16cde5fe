#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Reads something of a program file on another thread, with a connection of its own.

#include "core/base/result.h"
#include "db/program_file.h"

#include <QFile>
#include <QFutureWatcher>
#include <QPromise>
#include <QString>
#include <QtConcurrentRun>

#include <functional>
#include <utility>

namespace markerlamp::app {

/// What was read, or why not, comes on the thread that made the reader; nothing comes of what was stopped.
template <class T>
class FileReader {
public:
    using Reading = core::Result<T>;
    using Promise = QPromise<Reading>;
    /// Runs on the other thread; adds results, and looks at isCanceled() while it takes long.
    using Work = std::function<void(Promise&, db::ProgramFile&)>;

    explicit FileReader(std::function<void(const Reading&)> read) : m_read(std::move(read)) {
        QObject::connect(&m_watcher, &QFutureWatcherBase::resultReadyAt, &m_watcher,
                         [this](int index) { m_read(m_watcher.resultAt(index)); });
    }
    ~FileReader() {
        m_watcher.disconnect();
        stop();
        m_watcher.waitForFinished();
    }
    FileReader(const FileReader&) = delete;
    FileReader& operator=(const FileReader&) = delete;

    /// Begins anew; what runs is stopped first.
    void start(const QString& path, Work work) {
        stop();
        m_watcher.setFuture(QtConcurrent::run([path, work = std::move(work)](Promise& promise) {
            auto file = db::ProgramFile::open(QFile::encodeName(path).toStdString(), db::OpenMode::ReadOnly);
            if (file)
                work(promise, **file);
            else
                promise.addResult(core::fail(file.error()));
        }));
    }
    void stop() { m_watcher.cancel(); }
    [[nodiscard]] bool isRunning() const { return m_watcher.isRunning(); }

private:
    std::function<void(const Reading&)> m_read;
    QFutureWatcher<Reading> m_watcher;
};

}  // namespace markerlamp::app
