#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The open program file as the scoring page's event sink.

#include "app/scoring/event_sink.h"
#include "app/scoring/scoring_page.h"

namespace markerlamp::app {

class Session;

class SessionSink final : public EventSink {
    Q_OBJECT

public:
    SessionSink(Session& session, QObject* parent);

    quint64 startAttempt(const core::AttemptHeader& header) override;
    quint64 append(const QString& attemptId, std::vector<core::Event> events) override;

private:
    Session& m_session;
};

}  // namespace markerlamp::app
