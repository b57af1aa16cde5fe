// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/access/window_lock.h"

#include <QApplication>
#include <QDialog>
#include <QEvent>
#include <QFileDialog>
#include <QToolTip>

#include <algorithm>

namespace markerlamp::app {

namespace {

int depthOf(const QWidget* window) {
    int depth = 0;
    for (const QWidget* up = window->parentWidget(); up != nullptr; up = up->parentWidget()) ++depth;
    return depth;
}

/// Menus, tool tips and the like come and go by themselves.
bool isOwnWindow(const QWidget& window) {
    return window.isWindow() && (window.windowType() == Qt::Window || window.windowType() == Qt::Dialog ||
                                 window.windowType() == Qt::Tool || window.windowType() == Qt::Sheet);
}

}  // namespace

WindowLock::WindowLock(QWidget& main) : m_main(main) {}

WindowLock::~WindowLock() {
    if (m_locked) QCoreApplication::instance()->removeEventFilter(this);
}

void WindowLock::lock() {
    if (m_locked) return;
    m_locked = true;
    while (QWidget* popup = QApplication::activePopupWidget()) {
        popup->close();
        if (QApplication::activePopupWidget() == popup) break;
    }
    QToolTip::hideText();
    QWidgetList open;
    for (QWidget* window : QApplication::topLevelWidgets())
        if (window != &m_main && window->isVisible() && isOwnWindow(*window)) open << window;
    // The deepest first, so that none is shown again before the one it belongs to.
    std::stable_sort(open.begin(), open.end(),
                     [](const QWidget* a, const QWidget* b) { return depthOf(a) > depthOf(b); });
    for (QWidget* window : open) putAway(window);
    std::reverse(m_hidden.begin(), m_hidden.end());
    QCoreApplication::instance()->installEventFilter(this);
}

void WindowLock::putAway(QWidget* window) {
    // The desktop may draw it, and then it cannot be hidden; no work is in the choice of a file.
    if (auto* files = qobject_cast<QFileDialog*>(window)) {
        files->reject();
        return;
    }
    m_hidden.push_back({window, window->geometry(), window->focusWidget(), window->windowOpacity()});
    // Not QDialog's own way of hiding, which would answer for the person.
    window->QWidget::setVisible(false);
}

void WindowLock::unlock() {
    if (!m_locked) return;
    m_locked = false;
    QCoreApplication::instance()->removeEventFilter(this);
    const std::vector<Hidden> hidden = std::exchange(m_hidden, {});
    for (const Hidden& one : hidden) {
        if (one.window == nullptr) continue;
        one.window->setWindowOpacity(one.opacity);
        one.window->setGeometry(one.geometry);
        one.window->QWidget::setVisible(true);
        one.window->raise();
        one.window->activateWindow();
        if (one.focus != nullptr) one.focus->setFocus(Qt::OtherFocusReason);
    }
}

bool WindowLock::hasDialogs() const {
    return std::ranges::any_of(
        m_hidden, [](const Hidden& one) { return qobject_cast<QDialog*>(one.window.data()) != nullptr; });
}

void WindowLock::rejectDialogs() {
    const std::vector<Hidden> hidden = std::exchange(m_hidden, {});
    for (auto one = hidden.rbegin(); one != hidden.rend(); ++one) {
        auto* dialog = qobject_cast<QDialog*>(one->window.data());
        if (dialog == nullptr) continue;
        // A dialog that is hidden already would not notice; nobody sees this one either.
        dialog->setWindowOpacity(0);
        dialog->QWidget::setVisible(true);
        dialog->reject();
    }
}

bool WindowLock::eventFilter(QObject* watched, QEvent* event) {
    auto* window = event->type() == QEvent::Show ? qobject_cast<QWidget*>(watched) : nullptr;
    if (window == nullptr || window == &m_main || !isOwnWindow(*window))
        return QObject::eventFilter(watched, event);
    // One that comes while it is locked, such as a report of work that has ended. It is being shown just now.
    const double opacity = window->windowOpacity();
    window->setWindowOpacity(0);
    QMetaObject::invokeMethod(
        this,
        [this, opacity, shown = QPointer<QWidget>(window)] {
            if (shown == nullptr) return;
            if (!m_locked || !shown->isVisible()) {
                shown->setWindowOpacity(opacity);
                return;
            }
            putAway(shown);
            if (!m_hidden.empty() && m_hidden.back().window == shown) m_hidden.back().opacity = opacity;
        },
        Qt::QueuedConnection);
    return false;
}

}  // namespace markerlamp::app
