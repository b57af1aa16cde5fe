#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Tells when nobody has touched the program for a while: no key, mouse, touch or pen in any of its windows.
// Time in which the computer slept counts.

#include <QObject>
#include <QTimer>

#include <functional>

namespace markerlamp::app {

class IdleWatch final : public QObject {
    Q_OBJECT

public:
    using Clock = std::function<qint64()>;  ///< milliseconds that only go forward

    explicit IdleWatch(QObject* parent = nullptr);
    ~IdleWatch() override;

    /// 0: never. Counts from now on.
    void setMinutes(int minutes);
    [[nodiscard]] int minutes() const { return m_minutes; }
    /// Of this computer unless a test says otherwise.
    void setClock(Clock clock) { m_clock = std::move(clock); }
    /// Looks at the clock; what the timer does.
    void look();

signals:
    void idle();

protected:
    /// A touch that comes too late is the first thing that the lock sees, and does nothing else.
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    [[nodiscard]] bool isOver() const;

    Clock m_clock;
    QTimer m_timer;
    int m_minutes = 0;
    qint64 m_last = 0;
};

}  // namespace markerlamp::app
