#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Reads the track record of a program file on another thread, with a connection of its own.

#include "core/base/result.h"
#include "core/readiness/track_record.h"

#include <QFutureWatcher>
#include <QObject>
#include <QString>

#include <optional>

namespace markerlamp::app {

/// What is known so far: the frozen forecasts come first, the past replayed takes longer.
struct TrackReading {
    std::optional<core::Error> error;
    core::TrackRecord frozen;
    std::optional<core::TrackRecord> replayed;
};

class TrackReader final : public QObject {
    Q_OBJECT

public:
    explicit TrackReader(QObject* parent = nullptr);
    ~TrackReader() override;

    /// Begins anew; what runs is stopped first.
    void start(const QString& path);
    void stop();
    [[nodiscard]] bool isRunning() const { return m_watcher.isRunning(); }

signals:
    void progressed(int permille);
    void read(const TrackReading& reading);
    /// After the last read(), or after stop(): then it is not complete.
    void finished(bool complete);

private:
    QFutureWatcher<TrackReading> m_watcher;
};

}  // namespace markerlamp::app
