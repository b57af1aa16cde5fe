#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Scores the stored attempts of a program file again with a draft, on another thread and with a connection of
// its own. A trial: nothing is written.

#include "core/base/result.h"
#include "core/scoring/edition_trial.h"

#include <QFutureWatcher>
#include <QObject>
#include <QString>

#include <memory>

namespace markerlamp::app {

class EffectReader final : public QObject {
    Q_OBJECT

public:
    explicit EffectReader(QObject* parent = nullptr);
    ~EffectReader() override;

    /// Begins anew; what runs is stopped first. The draft must be sound.
    void start(const QString& path, std::shared_ptr<const core::Rubric> draft, core::NewThings newThings);
    void stop();
    [[nodiscard]] bool isRunning() const { return m_watcher.isRunning(); }
    /// Of the trial that is running or that ran last.
    [[nodiscard]] std::shared_ptr<const core::Rubric> draft() const { return m_draft; }

signals:
    void progressed(int permille);
    void read(const core::EditionEffect& effect, double seconds);
    void failed(const core::Error& error);
    void stopped();

private:
    struct Reading {
        core::Result<core::EditionEffect> effect;
        double seconds = 0;
    };
    static void run(QPromise<Reading>& promise, const QString& path,
                    std::shared_ptr<const core::Rubric> draft, core::NewThings newThings);

    QFutureWatcher<Reading> m_watcher;
    std::shared_ptr<const core::Rubric> m_draft;
};

}  // namespace markerlamp::app
