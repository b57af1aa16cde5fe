#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Reads which steps the group misses, on another thread with a connection of its own.

#include "core/base/result.h"
#include "core/program/class_steps.h"

#include <QFutureWatcher>
#include <QObject>
#include <QString>

#include <vector>

namespace markerlamp::app {

using ClassReading = core::Result<std::vector<core::ClassStep>>;

class ClassReader final : public QObject {
    Q_OBJECT

public:
    explicit ClassReader(QObject* parent = nullptr);
    ~ClassReader() override;

    /// Begins anew; what runs is stopped first. @param since day, see core::dayOf()
    void start(const QString& path, double since);
    void stop();
    [[nodiscard]] bool isRunning() const { return m_watcher.isRunning(); }

signals:
    void progressed(int percent);
    void read(const ClassReading& reading);

private:
    QFutureWatcher<ClassReading> m_watcher;
};

}  // namespace markerlamp::app
