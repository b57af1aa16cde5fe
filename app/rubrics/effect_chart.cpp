// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/rubrics/effect_chart.h"

#include "app/rubrics/edition_words.h"
#include "app/support/sign_widgets.h"

#include <QPainter>

#include <algorithm>
#include <cmath>

namespace markerlamp::app {

EffectChart::EffectChart(const Theme& theme, QWidget* parent)
    : PaintedChart(theme, tr("Change of percent by percent in the attempt's own edition"), {480, 140},
                   {260, 96}, parent) {
    connect(&theme, &Theme::changed, this, [this] { m_drawn = {}; });
}

void EffectChart::setEffect(const core::EditionEffect& effect, double oldMark, double newMark,
                            const QString& words) {
    m_effect = effect;
    m_oldMark = oldMark;
    m_newMark = newMark;
    double least = oldMark, reach = 0;
    for (const core::TrialResult& one : effect.results) {
        least = std::min(least, one.percentBefore);
        reach = std::max(reach, std::abs(one.percentAfter - one.percentBefore));
    }
    m_from = std::clamp(std::floor(least / 20) * 20, 0.0, 80.0);
    m_reach = std::max(4.0, std::ceil(reach / 2) * 2);
    m_drawn = {};
    setWords(words);
}

QRectF EffectChart::plot() const {
    const QFontMetricsF metrics(m_theme.font(13));
    const double left = metrics.horizontalAdvance(QStringLiteral("\u2212100")) + m_theme.s(10);
    return QRectF(left, m_theme.s(8), std::max(20.0, width() - left - m_theme.s(14)),
                  std::max(20.0, height() - m_theme.s(8 + 24)));
}

QPointF EffectChart::place(double percent, double change) const {
    const QRectF area = plot();
    return {area.left() + (percent - m_from) / (100 - m_from) * area.width(),
            area.center().y() - change / m_reach * area.height() / 2};
}

void EffectChart::drawAxes(QPainter& painter) const {
    const forms::Roles& roles = m_theme.roles();
    const QRectF area = plot();
    const QFont font = m_theme.font(13);
    const QFontMetricsF metrics(font);
    for (const double change : {m_reach, 0.0, -m_reach}) {
        const double y = std::round(place(m_from, change).y()) + 0.5;
        paintGridLine(painter, QLineF(area.left(), y, area.right(), y), m_theme);
        const QString text = change == 0  ? QStringLiteral("0")
                             : change > 0 ? QStringLiteral("+%1").arg(change)
                                          : QStringLiteral("\u2212%1").arg(-change);
        forms::drawTextMiddleRight(painter, area.left() - m_theme.s(6), y, text, font, roles.muted);
    }
    // The line of no change is read first.
    const double zero = std::round(place(m_from, 0).y());
    painter.fillRect(QRectF(area.left(), zero, area.width(), 1), roles.line);
    const double y = area.bottom() + m_theme.s(14);
    const auto label = [&](double percent, const QFont& type, const QColor& ink) {
        const QString text = QString::number(percent);
        const double wide = QFontMetricsF(type).horizontalAdvance(text);
        forms::drawTextMiddle(painter, std::min(place(percent, 0).x() - wide / 2, width() - wide), y, text,
                              type, ink);
    };
    // The marks say their number; a grid number gives way to them.
    const double near = metrics.horizontalAdvance(QStringLiteral("000"));
    for (int percent = qRound(m_from); percent <= 100; percent += 20) {
        const double x = std::round(place(percent, 0).x()) + 0.5;
        paintGridLine(painter, QLineF(x, area.top(), x, area.bottom()), m_theme);
        const auto hides = [&](double mark) { return std::abs(place(mark, 0).x() - x) < near; };
        if (!hides(m_oldMark) && !hides(m_newMark)) label(percent, font, roles.muted);
    }
    const bool apart = std::abs(place(m_oldMark, 0).x() - place(m_newMark, 0).x()) >=
                       metrics.horizontalAdvance(QStringLiteral("00")) + m_theme.s(3);
    label(m_newMark, m_theme.font(13, true), roles.ink);
    if (apart) label(m_oldMark, font, roles.ink);
}

void EffectChart::drawMarks(QPainter& painter) const {
    const forms::Roles& roles = m_theme.roles();
    const QRectF area = plot();
    painter.save();
    painter.setClipRect(area);
    painter.setRenderHint(QPainter::Antialiasing);
    QPen dashed(roles.ink, std::max(1.0, roles.minStroke));
    dashed.setDashPattern({4, 3});
    painter.setPen(dashed);
    painter.drawLine(place(m_oldMark, m_reach), place(m_oldMark, -m_reach));
    // Where percent and change together make the new mark.
    painter.drawLine(place(m_newMark - m_reach, m_reach), place(m_newMark + m_reach, -m_reach));
    painter.restore();
}

void EffectChart::drawRings(QPainter& painter) const {
    const forms::Roles& roles = m_theme.roles();
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    const double small = m_theme.s(2), large = m_theme.s(4);
    painter.setPen(QPen(roles.muted, std::max(1.0, roles.minStroke)));
    painter.setBrush(Qt::NoBrush);
    for (const core::TrialResult& one : m_effect.results)
        if (!one.resultChanges())
            painter.drawEllipse(place(one.percentBefore, one.percentAfter - one.percentBefore), small, small);
    painter.setPen(Qt::NoPen);
    painter.setBrush(roles.ink);
    for (const core::TrialResult& one : m_effect.results)
        if (one.resultChanges())
            painter.drawEllipse(place(one.percentBefore, one.percentAfter - one.percentBefore), large, large);
    painter.restore();
}

void EffectChart::drawAll(QPainter& painter) const {
    drawAxes(painter);
    drawMarks(painter);
    drawRings(painter);
    // Names of the axes in the lower corners: that low hardly any attempt comes.
    const QFont font = m_theme.font(13);
    const QRectF area = plot();
    const double y = area.bottom() - m_theme.s(10);
    const auto name = [&](const QString& words, bool right) {
        const double wide = QFontMetricsF(font).horizontalAdvance(words) + m_theme.s(6);
        const double left = right ? area.right() - wide - m_theme.s(2) : area.left() + m_theme.s(2);
        painter.fillRect(QRectF(left, y - m_theme.s(8), wide, m_theme.s(16)), m_theme.roles().ground);
        forms::drawTextMiddle(painter, left + m_theme.s(3), y, words, font, m_theme.roles().muted);
    };
    name(tr("change, points"), false);
    name(tr("% in its own edition"), true);
}

void EffectChart::draw(QPainter& painter) {
    if (m_drawn.isNull()) {
        m_drawn = QPixmap(size() * devicePixelRatioF());
        m_drawn.setDevicePixelRatio(devicePixelRatioF());
        m_drawn.fill(m_theme.roles().ground);
        QPainter once(&m_drawn);
        drawAll(once);
    }
    painter.drawPixmap(0, 0, m_drawn);
}

void EffectChart::resizeEvent(QResizeEvent* event) {
    QWidget::resizeEvent(event);
    m_drawn = {};
}

}  // namespace markerlamp::app
