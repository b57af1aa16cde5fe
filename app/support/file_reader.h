#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Reads something of a program file on another thread, with a connection of its own.

#include "core/base/result.h"
#include "db/program_file.h"

#include <QFile>
#include <QFutureWatcher>
#include <QObject>
#include <QPromise>
#include <QString>
#include <QtConcurrentRun>

#include <cmath>
#include <functional>
#include <utility>

namespace markerlamp::app {

/// How a reading goes on, whatever is read.
class FileReading : public QObject {
    Q_OBJECT

public:
    static constexpr int kWhole = 1000;  ///< permille

    using QObject::QObject;
    virtual void stop() = 0;
    [[nodiscard]] virtual bool isRunning() const = 0;

signals:
    void progressed(int permille);
    /// After the last result, or after stop(): then it is not complete.
    void finished(bool complete);
};

/// What was read, or why not, comes on the thread that made the reader; nothing comes of what was stopped.
template <class T>
class FileReader final : public FileReading {
public:
    using Reading = core::Result<T>;
    using Promise = QPromise<Reading>;
    /// Runs on the other thread; adds results, and looks at isCanceled() while it takes long.
    using Work = std::function<void(Promise&, db::ProgramFile&)>;

    explicit FileReader(std::function<void(const Reading&)> read, QObject* parent = nullptr)
        : FileReading(parent), m_read(std::move(read)) {
        connect(&m_watcher, &QFutureWatcherBase::progressValueChanged, this, &FileReading::progressed);
        connect(&m_watcher, &QFutureWatcherBase::resultReadyAt, this,
                [this](int index) { m_read(m_watcher.resultAt(index)); });
        connect(&m_watcher, &QFutureWatcherBase::finished, this,
                [this] { emit finished(!m_watcher.isCanceled()); });
    }
    ~FileReader() override {
        m_watcher.disconnect(this);
        m_watcher.cancel();
        m_watcher.waitForFinished();
    }
    FileReader(const FileReader&) = delete;
    FileReader& operator=(const FileReader&) = delete;

    /// Begins anew; what runs is stopped first.
    void start(const QString& path, Work work) {
        stop();
        m_watcher.setFuture(QtConcurrent::run([path, work = std::move(work)](Promise& promise) {
            promise.setProgressRange(0, kWhole);
            auto file = db::ProgramFile::open(QFile::encodeName(path).toStdString(), db::OpenMode::ReadOnly);
            if (file)
                work(promise, **file);
            else
                promise.addResult(core::fail(file.error()));
        }));
    }
    void stop() override { m_watcher.cancel(); }
    [[nodiscard]] bool isRunning() const override { return m_watcher.isRunning(); }

    /// For work that tells how far it is and asks whether to go on: its part of the way, 0 to 1.
    [[nodiscard]] static std::function<bool(double)> part(Promise& promise, double from, double to) {
        return [&promise, from, to](double share) {
            promise.setProgressValue(static_cast<int>(std::lround(kWhole * (from + share * (to - from)))));
            return !promise.isCanceled();
        };
    }

private:
    std::function<void(const Reading&)> m_read;
    QFutureWatcher<Reading> m_watcher;
};

}  // namespace markerlamp::app
