// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/scoring/sleep_guard.h"

#include <QDBusConnection>
#include <QDBusMessage>
#include <QDBusPendingCallWatcher>
#include <QDBusPendingReply>

namespace markerlamp::app {

void SleepGuard::keepAwake(bool awake) {
    if (awake == m_wanted) return;
    m_wanted = awake;
    if (!awake) {
        m_lock = QDBusUnixFileDescriptor();
        return;
    }
    const QDBusConnection bus = QDBusConnection::systemBus();
    if (!bus.isConnected()) return;
    // org.freedesktop.login1.Manager.Inhibit(what, who, why, mode): the lock is the descriptor that comes
    // back.
    QDBusMessage request = QDBusMessage::createMethodCall(
        QStringLiteral("org.freedesktop.login1"), QStringLiteral("/org/freedesktop/login1"),
        QStringLiteral("org.freedesktop.login1.Manager"), QStringLiteral("Inhibit"));
    request << QStringLiteral("sleep:idle") << QStringLiteral("Markerlamp")
            << tr("an attempt is being scored") << QStringLiteral("block");
    auto* watcher = new QDBusPendingCallWatcher(bus.asyncCall(request), this);
    connect(watcher, &QDBusPendingCallWatcher::finished, this, [this](QDBusPendingCallWatcher* done) {
        const QDBusPendingReply<QDBusUnixFileDescriptor> reply = *done;
        if (m_wanted && !reply.isError()) m_lock = reply.value();
        done->deleteLater();
    });
}

}  // namespace markerlamp::app
