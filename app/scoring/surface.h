#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// A painted part of the scoring page with targets to press: mouse and touch act on release inside, slide off
// cancels, a second contact is ignored, the same target twice within 250 ms is one press. Tab reaches the
// part, Left and Right walk its targets, Enter presses. Assistive technology sees every target.

#include "app/scoring/look.h"
#include "app/scoring/repeat_filter.h"

#include <QAccessible>
#include <QWidget>

#include <functional>
#include <optional>
#include <vector>

namespace markerlamp::app {

/// One contact at a time over all parts of a page, and the band at the holding edge that a palm may rest on.
class ContactGuard {
public:
    inline static constexpr double kRepeatSeconds = 0.250;

    explicit ContactGuard(std::function<double()> now) : m_now(std::move(now)) {}

    [[nodiscard]] double now() const { return m_now(); }
    bool take(const QObject* part);
    void release(const QObject* part);
    /// Touches that begin in this rectangle (page coordinates) are a palm.
    void setPalmBand(const QRectF& band) { m_palm = band; }
    [[nodiscard]] bool isPalm(const QPointF& pagePosition) const { return m_palm.contains(pagePosition); }

private:
    std::function<double()> m_now;
    const QObject* m_holder = nullptr;
    QRectF m_palm;
};

class Surface : public QWidget {
    Q_OBJECT

public:
    struct Target {
        int id = 0;
        QRectF rect;
        QString name;         ///< what it is
        QString description;  ///< its state in words
        QAccessible::Role role = QAccessible::PushButton;
        bool enabled = true;
        bool checked = false;  ///< lit, chosen, here
        QString key;           ///< for assistive technology
        QStringList parts;     ///< names of further areas of the target, by number from 1
    };

    Surface(const Theme& theme, ContactGuard& guard, const QString& name, QWidget* parent);

    void setFactor(double factor);
    /// Parts that keep left and right whatever the language: the plan (the nose stays left) and the ribbon.
    void setKeepsSides(bool keeps) { m_keepsSides = keeps; }
    [[nodiscard]] const Look& look() const { return m_look; }
    [[nodiscard]] virtual std::vector<Target> targets() const { return {}; }
    /// Area of a target at this position; 0: the main one.
    [[nodiscard]] virtual int partAt(int id, const QPointF& position) const;
    void activate(int id, int part = 0);
    [[nodiscard]] std::optional<Target> target(int id) const;
    /// Name of the whole part for assistive technology.
    [[nodiscard]] QString partName() const { return accessibleName(); }
    void contentChanged();
    /// What the widget shows, on any painter.
    void paint(QPainter& painter);
    /// Place of a target on this widget, mirrored where the language asks for it.
    [[nodiscard]] QRectF seenRect(const Target& target) const { return m_look.seen(target.rect); }

    /// Gives parts their accessible interfaces; safe to call again.
    static void installAccessibility();

signals:
    void pressed(int id, int part);

protected:
    virtual void paintContent(QPainter& painter) = 0;
    bool event(QEvent* event) override;
    void paintEvent(QPaintEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;
    void changeEvent(QEvent* event) override;
    void mousePressEvent(QMouseEvent* event) override;
    void mouseMoveEvent(QMouseEvent* event) override;
    void mouseReleaseEvent(QMouseEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;
    void focusInEvent(QFocusEvent* event) override;
    void focusOutEvent(QFocusEvent* event) override;
    [[nodiscard]] bool isPressed(int id) const { return m_pressedId == id && m_inside; }
    [[nodiscard]] double s(double design) const { return m_look.s(design); }
    /// A place of the part as its child widgets and assistive technology need it.
    [[nodiscard]] QRect seen(const QRectF& rect) const { return m_look.seen(rect).toAlignedRect(); }

private:
    void mirror();
    void begin(const QPointF& position);
    void move(const QPointF& position);
    void end(const QPointF& position, quint64 stamp);
    void cancel();
    [[nodiscard]] const Target* hit(const std::vector<Target>& all, const QPointF& position) const;

    const Theme& m_theme;
    ContactGuard& m_guard;
    Look m_look;
    int m_pressedId = -1;
    int m_pressedPart = 0;
    bool m_inside = false;
    bool m_keepsSides = false;
    int m_touchId = -1;
    int m_focused = -1;
    RepeatFilter m_repeats{ContactGuard::kRepeatSeconds};
};

}  // namespace markerlamp::app
