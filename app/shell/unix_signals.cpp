// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/shell/unix_signals.h"

#include <QSocketNotifier>

#include <sys/socket.h>
#include <unistd.h>
#include <array>
#include <csignal>

namespace markerlamp::app {

namespace {

// A signal handler can reach nothing but file-scope state, and may do little more than write a byte.
volatile sig_atomic_t writeEnd = -1;

void onSignal(int) {
    const char byte = 1;
    if (writeEnd >= 0) [[maybe_unused]]
        const auto written = ::write(writeEnd, &byte, 1);
}

constexpr std::array kSignals{SIGTERM, SIGINT, SIGHUP};

}  // namespace

UnixSignals::UnixSignals(QObject* parent) : QObject(parent) {
    int ends[2];
    if (::socketpair(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0, ends) != 0) return;
    writeEnd = ends[0];
    m_notifier = new QSocketNotifier(ends[1], QSocketNotifier::Read, this);
    connect(m_notifier, &QSocketNotifier::activated, this, [this](QSocketDescriptor socket) {
        char byte = 0;
        if (::read(static_cast<int>(socket), &byte, 1) == 1) emit leaveRequested();
    });
    struct sigaction action {};
    action.sa_handler = onSignal;
    action.sa_flags = SA_RESTART;
    for (const int signal : kSignals) ::sigaction(signal, &action, nullptr);
}

UnixSignals::~UnixSignals() {
    if (m_notifier == nullptr) return;
    for (const int signal : kSignals) std::signal(signal, SIG_DFL);
    ::close(writeEnd);
    ::close(static_cast<int>(m_notifier->socket()));
    writeEnd = -1;
}

}  // namespace markerlamp::app
