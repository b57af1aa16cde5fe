#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Copies that the program makes by itself while a file is open: at the start, at the end of a training day,
// before an import. None is made while nothing was changed.

#include "app/copies/copies_view.h"

#include <QFutureWatcher>
#include <QObject>

namespace markerlamp::app {

class CopyKeeper final : public QObject {
    Q_OBJECT

public:
    /// @param program the open file
    explicit CopyKeeper(QString program, QObject* parent = nullptr);
    /// Waits for a copy that is being made.
    ~CopyKeeper() override;

    /// In the background, for a file that was opened: what was done on an earlier day, or since the copy
    /// before.
    void begin();
    [[nodiscard]] bool isRunning() const { return m_watcher.isRunning(); }
    /// The file was closed: a training day may be over. Only after begin(); a file that was looked into for
    /// a moment is copied when it is opened next.
    void end();
    /// At once; waits for the one in the background.
    core::Result<db::CopyKept> keep(core::CopyReason reason, bool onlyIfChanged);

signals:
    /// What there is to say about a copy in the background.
    void said(const QString& words);

private:
    QString m_program;
    bool m_begun = false;
    QFutureWatcher<core::Result<db::CopyKept>> m_watcher;
};

/// Day where the newest copy is from an earlier day than `now`, by the clock of this place; else Start.
[[nodiscard]] core::CopyReason reasonAtOpening(const QString& program, const QDateTime& now);

}  // namespace markerlamp::app
