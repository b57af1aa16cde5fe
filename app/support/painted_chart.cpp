// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/support/painted_chart.h"

#include <QPainter>

namespace markerlamp::app {

PaintedChart::PaintedChart(const Theme& theme, const QString& name, QSizeF usual, QSizeF least,
                           QWidget* parent)
    : QWidget(parent), m_theme(theme), m_usual(usual), m_least(least) {
    setFocusPolicy(Qt::StrongFocus);
    setAccessibleName(name);
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Expanding);
    connect(&theme, &Theme::changed, this, [this] {
        updateGeometry();
        update();
    });
}

QSize PaintedChart::scaled(QSizeF size) const {
    return {qRound(m_theme.s(size.width())), qRound(m_theme.s(size.height()))};
}
QSize PaintedChart::sizeHint() const {
    return scaled(m_usual);
}
QSize PaintedChart::minimumSizeHint() const {
    return scaled(m_least);
}

void PaintedChart::setWords(const QString& words) {
    setAccessibleDescription(words);
    setToolTip(words);
    update();
}

void PaintedChart::paintEvent(QPaintEvent* event) {
    Q_UNUSED(event)
    QPainter painter(this);
    painter.fillRect(rect(), m_theme.roles().ground);
    draw(painter);
    if (!hasFocus()) return;
    painter.setRenderHint(QPainter::Antialiasing, false);
    painter.setBrush(Qt::NoBrush);
    painter.setPen(QPen(m_theme.roles().ink, 3, Qt::SolidLine, Qt::SquareCap, Qt::MiterJoin));
    painter.drawRect(QRectF(rect()).adjusted(1.5, 1.5, -1.5, -1.5));
}

void PaintedChart::focusInEvent(QFocusEvent* event) {
    QWidget::focusInEvent(event);
    update();
}
void PaintedChart::focusOutEvent(QFocusEvent* event) {
    QWidget::focusOutEvent(event);
    update();
}

}  // namespace markerlamp::app
