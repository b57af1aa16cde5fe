#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Reads what a program file says about second scorings on another thread, with a connection of its own.

#include "app/agreement/program_agreement.h"

#include <QFutureWatcher>
#include <QObject>
#include <QString>

#include <memory>
#include <optional>

namespace markerlamp::app {

/// What is known so far: the pairs come first, the strictness of instructors takes a fit.
struct AgreementReading {
    std::optional<core::Error> error;
    std::shared_ptr<const ProgramAgreement> agreement;
    std::optional<core::StrictnessFunnel> funnel;
};

class AgreementReader final : public QObject {
    Q_OBJECT

public:
    explicit AgreementReader(QObject* parent = nullptr);
    ~AgreementReader() override;

    /// Begins anew; what runs is stopped first.
    void start(const QString& path);
    void stop();
    [[nodiscard]] bool isRunning() const { return m_watcher.isRunning(); }

signals:
    void read(const markerlamp::app::AgreementReading& reading);
    void finished();

private:
    QFutureWatcher<AgreementReading> m_watcher;
};

}  // namespace markerlamp::app
