#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// SIGTERM, SIGINT and SIGHUP arrive as a signal of Qt on the window's thread, so that the program can finish
// what it is writing, pause the attempt and leave in order.

#include <QObject>

class QSocketNotifier;

namespace markerlamp::app {

/// One at a time: while it lives, the three signals are its own.
class UnixSignals final : public QObject {
    Q_OBJECT

public:
    explicit UnixSignals(QObject* parent = nullptr);
    ~UnixSignals() override;

signals:
    void leaveRequested();

private:
    QSocketNotifier* m_notifier = nullptr;
};

}  // namespace markerlamp::app
