// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/scoring/session_sink.h"

#include "app/scoring/sleep_guard.h"
#include "app/shell/session.h"
#include "app/support/display.h"

#include <QCoreApplication>

namespace markerlamp::app {

SessionSink::SessionSink(Session& session, QObject* parent) : EventSink(parent), m_session(session) {
    connect(&session, &Session::stored, this, &EventSink::stored);
    connect(&session, &Session::trouble, this, &EventSink::trouble);
}

quint64 SessionSink::startAttempt(const core::AttemptHeader& header) {
    return m_session.startAttempt(header);
}

quint64 SessionSink::append(const QString& attemptId, std::vector<core::Event> events) {
    return m_session.append(attemptId, std::move(events));
}

ScoringServices sessionServices(Session& session, QObject* parent) {
    ScoringServices services;
    services.sink = new SessionSink(session, parent);
    services.attempt = [&session](const QString& id) {
        // What was pressed before a crash of this window, or a moment ago, belongs to it.
        session.flush();
        return session.file().attempt(ss(id));
    };
    services.rubric = [&session](const std::string& id, int edition) {
        return session.file().rubric(id, edition);
    };
    services.traineeName = [&session](const std::string& key) {
        const auto trainee = session.file().trainee(key);
        return trainee && *trainee && !(*trainee)->name.empty() ? qs((*trainee)->name) : qs(key);
    };
    // The number on its side is how people call a bus; its title says what it is made of.
    services.busTitle = [](const std::string& key) {
        return QCoreApplication::translate("ScoringPage", "Bus %1").arg(qs(key));
    };
    auto* guard = new SleepGuard(parent);
    services.keepAwake = [guard](bool awake) { guard->keepAwake(awake); };
    return services;
}

}  // namespace markerlamp::app
