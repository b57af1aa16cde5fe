// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/scoring/surface.h"

#include <QEventPoint>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QPaintEvent>
#include <QTouchEvent>

#include <algorithm>

namespace markerlamp::app {

bool ContactGuard::take(const QObject* part) {
    if (m_holder != nullptr && m_holder != part) return false;
    m_holder = part;
    return true;
}

void ContactGuard::release(const QObject* part) {
    if (m_holder == part) m_holder = nullptr;
}

Surface::Surface(const Theme& theme, ContactGuard& guard, const QString& name, QWidget* parent)
    : QWidget(parent), m_theme(theme), m_guard(guard), m_look(theme, theme.scale()) {
    setAccessibleName(name);
    setAttribute(Qt::WA_AcceptTouchEvents);
    setFocusPolicy(Qt::TabFocus);
    installAccessibility();
    connect(&theme, &Theme::changed, this, qOverload<>(&QWidget::update));
}

void Surface::setFactor(double factor) {
    m_look = Look(m_theme, factor);
    mirror();
    update();
}

void Surface::mirror() {
    m_look.setMirror(layoutDirection() == Qt::RightToLeft && !m_keepsSides ? width() : 0);
}

void Surface::resizeEvent(QResizeEvent* event) {
    mirror();
    QWidget::resizeEvent(event);
}

void Surface::changeEvent(QEvent* event) {
    if (event->type() == QEvent::LayoutDirectionChange) mirror();
    QWidget::changeEvent(event);
}

int Surface::partAt(int id, const QPointF& position) const {
    Q_UNUSED(id)
    Q_UNUSED(position)
    return 0;
}

std::optional<Surface::Target> Surface::target(int id) const {
    for (const Target& target : targets())
        if (target.id == id) return target;
    return std::nullopt;
}

void Surface::contentChanged() {
    update();
    if (!QAccessible::isActive()) return;
    QAccessibleEvent event(this, QAccessible::ObjectReorder);
    QAccessible::updateAccessibility(&event);
}

const Surface::Target* Surface::hit(const std::vector<Target>& all, const QPointF& position) const {
    const auto found =
        std::ranges::find_if(all, [&](const Target& t) { return t.enabled && t.rect.contains(position); });
    return found == all.end() ? nullptr : &*found;
}

void Surface::activate(int id, int part) {
    emit pressed(id, part);
}

void Surface::begin(const QPointF& position) {
    const std::vector<Target> all = targets();
    const Target* found = hit(all, position);
    if (found == nullptr || !m_guard.take(this)) return;
    m_pressedId = found->id;
    m_pressedPart = partAt(found->id, position);
    m_inside = true;
    update();
}

void Surface::move(const QPointF& position) {
    if (m_pressedId < 0) return;
    const auto held = target(m_pressedId);
    const bool inside =
        held && held->rect.contains(position) && partAt(m_pressedId, position) == m_pressedPart;
    if (inside == m_inside) return;
    m_inside = inside;
    update();
}

void Surface::end(const QPointF& position, quint64 stamp) {
    move(position);
    const int id = m_pressedId;
    const int part = m_pressedPart;
    const bool inside = m_inside;
    cancel();
    if (id < 0 || !inside) return;
    const auto area = static_cast<quint64>(id) * 8 + static_cast<quint64>(part);
    if (!m_repeats.isRepeat(area, stamp, m_guard.now())) activate(id, part);
}

void Surface::cancel() {
    m_pressedId = -1;
    m_inside = false;
    m_guard.release(this);
    update();
}

bool Surface::event(QEvent* event) {
    switch (event->type()) {
        case QEvent::TouchBegin:
        case QEvent::TouchUpdate:
        case QEvent::TouchEnd: {
            auto* touch = static_cast<QTouchEvent*>(event);
            for (const QEventPoint& point : touch->points()) {
                const bool first = point.state() == QEventPoint::Pressed && m_touchId < 0;
                if (first) {
                    const QPointF onPage = mapTo(window(), point.position().toPoint());
                    if (m_guard.isPalm(onPage)) continue;
                    m_touchId = point.id();
                    // Fields do not take touches themselves.
                    QWidget* field = childAt(point.position().toPoint());
                    if (field != nullptr && field->isEnabled())
                        field->setFocus(Qt::MouseFocusReason);
                    else
                        begin(m_look.seen(point.position()));
                } else if (point.id() != m_touchId) {
                    continue;  // a second contact says nothing
                } else if (point.state() == QEventPoint::Updated) {
                    move(m_look.seen(point.position()));
                } else if (point.state() == QEventPoint::Released) {
                    m_touchId = -1;
                    end(m_look.seen(point.position()), touch->timestamp());
                }
            }
            event->accept();
            return true;
        }
        case QEvent::TouchCancel:
            m_touchId = -1;
            cancel();
            return true;
        case QEvent::ToolTip:
            return QWidget::event(event);
        default:
            return QWidget::event(event);
    }
}

void Surface::mousePressEvent(QMouseEvent* event) {
    if (event->button() != Qt::LeftButton) {
        event->ignore();
        return;
    }
    begin(m_look.seen(event->position()));
}

void Surface::mouseMoveEvent(QMouseEvent* event) {
    move(m_look.seen(event->position()));
}

void Surface::mouseReleaseEvent(QMouseEvent* event) {
    if (event->button() == Qt::LeftButton) end(m_look.seen(event->position()), event->timestamp());
}

void Surface::keyPressEvent(QKeyEvent* event) {
    const bool plain = event->modifiers() == Qt::NoModifier || event->modifiers() == Qt::KeypadModifier;
    const bool walk = event->key() == Qt::Key_Left || event->key() == Qt::Key_Right;
    const bool enter = event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter;
    if (!plain || (!walk && !enter) || event->isAutoRepeat()) {
        event->ignore();
        return;
    }
    std::vector<Target> all = targets();
    std::erase_if(all, [](const Target& t) { return !t.enabled; });
    if (all.empty()) return;
    auto at = std::ranges::find(all, m_focused, &Target::id);
    if (walk) {
        const bool forward = (event->key() == Qt::Key_Right) == (layoutDirection() == Qt::LeftToRight);
        const auto count = static_cast<long>(all.size());
        long index = at == all.end() ? (forward ? -1 : count) : at - all.begin();
        index = (index + (forward ? 1 : -1) + count) % count;
        m_focused = all[static_cast<std::size_t>(index)].id;
        update();
        QAccessibleEvent focus(this, QAccessible::Focus);
        focus.setChild(static_cast<int>(index));
        QAccessible::updateAccessibility(&focus);
        return;
    }
    if (at != all.end()) activate(at->id);
}

void Surface::focusInEvent(QFocusEvent* event) {
    const std::vector<Target> all = targets();
    if (!target(m_focused) && !all.empty()) m_focused = all.front().id;
    QWidget::focusInEvent(event);
    update();
}

void Surface::focusOutEvent(QFocusEvent* event) {
    QWidget::focusOutEvent(event);
    update();
}

void Surface::paintEvent(QPaintEvent* event) {
    Q_UNUSED(event)
    QPainter painter(this);
    paint(painter);
}

void Surface::paint(QPainter& painter) {
    // Where a text begins is decided here; how it runs is its own affair.
    painter.setLayoutDirection(Qt::LayoutDirectionAuto);
    painter.setRenderHint(QPainter::TextAntialiasing);
    paintContent(painter);
    if (m_pressedId >= 0 && m_inside)
        if (const auto held = target(m_pressedId)) m_look.focusRing(painter, held->rect);
    if (hasFocus())
        if (const auto focused = target(m_focused)) m_look.focusRing(painter, focused->rect);
}

}  // namespace markerlamp::app
