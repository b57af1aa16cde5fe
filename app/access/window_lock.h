#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Takes the other windows of the program off the screen while it is locked, and brings them back as they
// were: dialogs go on waiting for their answer, and what was typed into them stays.

#include <QObject>
#include <QPointer>
#include <QRect>
#include <QWidget>

#include <vector>

namespace markerlamp::app {

class WindowLock final : public QObject {
    Q_OBJECT

public:
    explicit WindowLock(QWidget& main);
    ~WindowLock() override;

    void lock();
    void unlock();
    [[nodiscard]] bool isLocked() const { return m_locked; }
    /// Dialogs that wait beneath the cover.
    [[nodiscard]] bool hasDialogs() const;
    /// Closes them without an answer, when who opened them is not coming back.
    void rejectDialogs();

protected:
    bool eventFilter(QObject* watched, QEvent* event) override;

private:
    struct Hidden {
        QPointer<QWidget> window;
        QRect geometry;
        QPointer<QWidget> focus;
        double opacity = 1;
    };
    void putAway(QWidget* window);

    QWidget& m_main;
    bool m_locked = false;
    std::vector<Hidden> m_hidden;  ///< in the order in which they are shown again
};

}  // namespace markerlamp::app
