#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Where the presses of an attempt go to become durable. The session is one; tests have their own.

#include "core/attempt/attempt.h"

#include <QObject>
#include <QString>

#include <vector>

namespace markerlamp::app {

class EventSink : public QObject {
    Q_OBJECT

public:
    using QObject::QObject;

    /// Both return the ticket of the press, counting up; they never wait.
    virtual quint64 startAttempt(const core::AttemptHeader& header) = 0;
    virtual quint64 append(const QString& attemptId, std::vector<core::Event> events) = 0;

signals:
    /// Every press up to this ticket is durable.
    void stored(quint64 upToTicket);
    /// Writing failed and is tried again; message empty: it works again.
    void trouble(QString message, int waiting);
};

}  // namespace markerlamp::app
