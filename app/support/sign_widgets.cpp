// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/support/sign_widgets.h"

#include "app/support/display.h"
#include "app/support/rows_model.h"

#include <QPainter>
#include <QPainterPath>

namespace markerlamp::app {

namespace {

/// Triangle over the upper right corner: the sign of a prompt.
void paintCorner(QPainter& painter, const QRectF& square, double share, const QColor& color) {
    const double cut = square.width() * share;
    QPainterPath corner;
    corner.moveTo(square.topRight() + QPointF(1, -1));
    corner.lineTo(square.topRight() + QPointF(-cut, -1));
    corner.lineTo(square.topRight() + QPointF(1, cut));
    corner.closeSubpath();
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    painter.fillPath(corner, color);
    painter.restore();
}

}  // namespace

void paintOutcome(QPainter& painter, const QRectF& square, core::StepOutcome outcome,
                  const forms::Roles& roles, double scale) {
    switch (outcome) {
        case core::StepOutcome::Satisfied:
            forms::paintGate(painter, square, forms::LampState::Lit, roles, scale);
            return;
        case core::StepOutcome::Partial:
            forms::paintGate(painter, square, forms::LampState::Half, roles, scale);
            return;
        case core::StepOutcome::Prompted: {
            forms::paintGate(painter, square, forms::LampState::Lit, roles, scale);
            paintCorner(painter, square, 0.5, roles.ground);
            return;
        }
        case core::StepOutcome::Wrong: {
            forms::paintGate(painter, square, forms::LampState::Open, roles, scale);
            painter.save();
            painter.setRenderHint(QPainter::Antialiasing);
            painter.setPen(QPen(roles.ink, 1.5 * scale));
            painter.drawLine(square.topLeft(), square.bottomRight());
            painter.drawLine(square.topRight(), square.bottomLeft());
            painter.restore();
            return;
        }
        case core::StepOutcome::Omitted:
            forms::paintGate(painter, square, forms::LampState::Open, roles, scale);
            painter.fillRect(QRectF(square.left() - 3 * scale, square.center().y() - 2 * scale,
                                    square.width() + 6 * scale, 4 * scale),
                             roles.ink);
            return;
        case core::StepOutcome::Unseen:
            forms::paintHatch(painter, square, roles, scale);
            return;
        case core::StepOutcome::Unreached:
            painter.save();
            painter.setPen(QPen(roles.ink, 1.5 * scale, Qt::DotLine));
            painter.drawRect(square);
            painter.restore();
            return;
    }
}

void paintSign(QPainter& painter, const QRectF& square, const forms::SignState& sign,
               const forms::Roles& roles, double scale) {
    const double y = square.center().y();
    if (sign.shown != forms::LampState::None)
        forms::paintLamp(painter, square, sign.shown, roles, scale, sign.pending);
    if (!sign.beads.empty()) {
        // Tables are low: however many points, one row.
        const double height = square.height() + 2 * scale;
        QSizeF size = forms::capsuleSize(static_cast<int>(sign.beads.size()), height, scale);
        if (size.height() > 24 * scale) size *= 24 * scale / size.height();
        forms::paintCapsule(
            painter, QRectF(square.right() + 20 * scale, y - size.height() / 2, size.width(), size.height()),
            sign, roles, scale);
    }
    if (sign.prompts > 0 && sign.shown == forms::LampState::Lit) {
        paintCorner(painter, square, 0.45, roles.ink);
    }
    if (sign.amended) {
        QPainterPath triangle;
        const double side = 8 * scale;
        triangle.moveTo(square.left() - 4 * scale, square.bottom() + 2 * scale);
        triangle.lineTo(square.left() - 4 * scale - side, square.bottom() + 2 * scale);
        triangle.lineTo(square.left() - 4 * scale, square.bottom() + 2 * scale - side);
        triangle.closeSubpath();
        painter.save();
        painter.setRenderHint(QPainter::Antialiasing);
        painter.fillPath(triangle, roles.ink);
        painter.restore();
    }
}

void paintGridLine(QPainter& painter, const QLineF& line, const Theme& theme) {
    QPen pen(theme.roles().hair, 1);
    if (theme.roles().hair == theme.roles().ink) pen.setDashPattern({1, 4});
    painter.setPen(pen);
    painter.drawLine(line);
}

SignWidget::SignWidget(const Theme& theme, forms::SignState sign, const QString& words, QWidget* parent)
    : QWidget(parent), m_theme(theme), m_sign(std::move(sign)) {
    setAccessibleName(words);
    setToolTip(words);
    setSizePolicy(QSizePolicy::Fixed, QSizePolicy::Fixed);
    connect(&theme, &Theme::changed, this, [this] { updateGeometry(); });
}

QSize SignWidget::sizeHint() const {
    return {qCeil(m_theme.s(116)), qCeil(m_theme.s(24))};
}

void SignWidget::paintEvent(QPaintEvent* event) {
    Q_UNUSED(event)
    QPainter painter(this);
    const double z = m_theme.s(14);
    paintSign(painter, QRectF(m_theme.s(12), (height() - z) / 2, z, z), m_sign, m_theme.roles(),
              m_theme.scale());
}

RecentWidget::RecentWidget(const Theme& theme, std::vector<core::StepOutcome> outcomes, QWidget* parent)
    : QWidget(parent), m_theme(theme), m_outcomes(std::move(outcomes)) {
    QStringList words;
    for (const core::StepOutcome outcome : m_outcomes) words << outcomeWord(outcome);
    setAccessibleName(tr("oldest first: %1").arg(words.join(tr(", "))));
    setToolTip(accessibleName());
    setSizePolicy(QSizePolicy::Fixed, QSizePolicy::Fixed);
    connect(&theme, &Theme::changed, this, [this] { updateGeometry(); });
}

QSize RecentWidget::sizeHint() const {
    return {qCeil(m_theme.s(18 * 4 + 3)), qCeil(m_theme.s(20))};
}

void RecentWidget::paintEvent(QPaintEvent* event) {
    Q_UNUSED(event)
    QPainter painter(this);
    const double z = m_theme.s(11);
    double x = width() - m_theme.s(4) - z;
    for (auto outcome = m_outcomes.rbegin(); outcome != m_outcomes.rend(); ++outcome) {
        paintOutcome(painter, QRectF(x, (height() - z) / 2, z, z), *outcome, m_theme.roles(),
                     m_theme.scale());
        x -= m_theme.s(18);
    }
}

GateWidget::GateWidget(const Theme& theme, forms::LampState state, QWidget* parent)
    : QWidget(parent), m_theme(theme), m_state(state) {
    setSizePolicy(QSizePolicy::Fixed, QSizePolicy::Fixed);
}

QSize GateWidget::sizeHint() const {
    return {qCeil(m_theme.s(16)), qCeil(m_theme.s(16))};
}

void GateWidget::paintEvent(QPaintEvent* event) {
    Q_UNUSED(event)
    QPainter painter(this);
    const double z = m_theme.s(14);
    forms::paintGate(painter, QRectF((width() - z) / 2, (height() - z) / 2, z, z), m_state, m_theme.roles(),
                     m_theme.scale());
}

void SignDelegate::paintContent(QPainter& painter, const QRectF& place, const QModelIndex& index) const {
    const QVariant payload = index.data(RowsModel::PayloadRole);
    if (!payload.canConvert<forms::SignState>()) {
        RowDelegate::paintContent(painter, place, index);
        return;
    }
    const double z = theme().s(14);
    paintSign(painter, QRectF(place.left() + theme().s(6), place.center().y() - z / 2, z, z),
              payload.value<forms::SignState>(), theme().roles(), theme().scale());
}

Panel::Panel(const Theme& theme, QWidget* parent) : QWidget(parent), m_theme(theme) {
    connect(&theme, &Theme::changed, this, qOverload<>(&QWidget::update));
}

void Panel::paintEvent(QPaintEvent* event) {
    Q_UNUSED(event)
    QPainter painter(this);
    painter.fillRect(rect(), m_theme.roles().panel);
    if (m_theme.roles().panel == m_theme.roles().ground) {
        // Sun has one ground only: an outline tells the panel apart.
        painter.setPen(QPen(m_theme.roles().line, m_theme.roles().minStroke));
        painter.drawRect(QRectF(rect()).adjusted(1, 1, -1, -1));
    }
}

}  // namespace markerlamp::app
