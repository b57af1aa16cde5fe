#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Asks the system not to fall asleep while an attempt runs: instructors look at the trainee, not at the
// screen, and a brake minute through which the computer slept is lost. Where nobody answers, nothing happens.

#include <QDBusUnixFileDescriptor>
#include <QObject>

namespace markerlamp::app {

class SleepGuard final : public QObject {
    Q_OBJECT

public:
    using QObject::QObject;

    /// Asks, or takes the request back.
    void keepAwake(bool awake);

private:
    bool m_wanted = false;
    QDBusUnixFileDescriptor m_lock;  ///< holds as long as it is open
};

}  // namespace markerlamp::app
