#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Looks into copies one after the other on a thread of its own, newest first.

#include "app/copies/copies_view.h"

#include <QFutureWatcher>
#include <QObject>
#include <QStringList>

namespace markerlamp::app {

class CopyReader final : public QObject {
    Q_OBJECT

public:
    explicit CopyReader(QObject* parent = nullptr);
    ~CopyReader() override;

    /// Begins anew; what runs is stopped first.
    void start(const QString& program, const QStringList& copies);
    /// Returns once nothing has a copy open any more.
    void stop();
    [[nodiscard]] bool isRunning() const { return m_watcher.isRunning(); }

signals:
    void looked(const CopyLook& look);

private:
    QFutureWatcher<CopyLook> m_watcher;
};

}  // namespace markerlamp::app
