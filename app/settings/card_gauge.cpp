// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/settings/card_gauge.h"

#include "forms/signs/signs.h"

#include <QPainter>

namespace markerlamp::app {

CardGauge::CardGauge(const Theme& theme, double pxPerMm, QWidget* parent)
    : QWidget(parent), m_theme(theme), m_pxPerMm(pxPerMm) {
    setAccessibleName(tr("Outline of a bank card"));
    setSizePolicy(QSizePolicy::Fixed, QSizePolicy::Fixed);
}

void CardGauge::setPxPerMm(double pxPerMm) {
    m_pxPerMm = qBound(2.0, pxPerMm, 20.0);
    updateGeometry();
    update();
    emit changed(m_pxPerMm);
}

QSize CardGauge::sizeHint() const {
    return {qCeil(kCardWidthMm * m_pxPerMm) + 8, qCeil(kCardHeightMm * m_pxPerMm) + 8};
}

void CardGauge::paintEvent(QPaintEvent* event) {
    Q_UNUSED(event)
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    const forms::Roles& roles = m_theme.roles();
    // Corner radius of a card: 2.88 to 3.48 mm, ISO/IEC 7810 (from memory).
    const double radius = 3.18 * m_pxPerMm;
    const QRectF card(4, 4, kCardWidthMm * m_pxPerMm, kCardHeightMm * m_pxPerMm);
    painter.setPen(QPen(roles.ink, 2));
    painter.setBrush(roles.panel);
    painter.drawRoundedRect(card, radius, radius);
    const QFont font = m_theme.font(13);
    const QString words = tr("85.60 x 53.98 mm");
    forms::drawTextMiddle(painter, card.center().x() - QFontMetricsF(font).horizontalAdvance(words) / 2,
                          card.center().y(), words, font, roles.ink);
}

}  // namespace markerlamp::app
