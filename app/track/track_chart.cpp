// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/track/track_chart.h"

#include "app/support/sign_widgets.h"
#include "app/track/track_tables.h"

#include <QPainter>

#include <algorithm>
#include <cmath>

namespace markerlamp::app {

TrackChart::TrackChart(const Theme& theme, QWidget* parent)
    : PaintedChart(theme, tr("Share passed by forecast"), {560, 400}, {360, 240}, parent) {}

void TrackChart::setRecord(const core::TrackRecord& record) {
    m_record = record;
    setWords(chartInWords(record));
}

QRectF TrackChart::plot() const {
    const QFontMetricsF metrics(m_theme.font(13));
    const double left = metrics.horizontalAdvance(QStringLiteral("100")) + m_theme.s(16);
    const double right =
        std::max(metrics.horizontalAdvance(tr("passed")), metrics.horizontalAdvance(tr("not passed"))) +
        m_theme.s(18);
    return QRectF(left, m_theme.s(38), std::max(20.0, width() - left - right),
                  std::max(20.0, height() - m_theme.s(38 + 64)));
}

QPointF TrackChart::place(double forecast, double share) const {
    const QRectF area = plot();
    return {std::round(area.left() + forecast * area.width()),
            std::round(area.bottom() - share * area.height())};
}

QPointF TrackChart::dotOf(const core::ForecastGroup& group) const {
    return place(group.meanForecast, static_cast<double>(group.happened) / group.results);
}

void TrackChart::drawAxes(QPainter& painter) const {
    const forms::Roles& roles = m_theme.roles();
    const QRectF area = plot();
    const QFont font = m_theme.font(13);
    const QFontMetricsF metrics(font);
    const bool shares = !m_record.tooFew();
    const double ticks = area.bottom() + m_theme.s(36);
    for (const int tick : {0, 25, 50, 75, 100}) {
        const QPointF on = place(tick / 100.0, tick / 100.0);
        const QString number = QString::number(tick);
        if (shares) {
            paintGridLine(painter, QLineF(area.left(), on.y() + 0.5, area.right(), on.y() + 0.5), m_theme);
            forms::drawTextMiddleRight(painter, area.left() - m_theme.s(8), on.y(), number, font,
                                       roles.muted);
        }
        forms::drawTextMiddle(painter, on.x() - metrics.horizontalAdvance(number) / 2, ticks, number, font,
                              roles.muted);
    }
    const QString name = tr("forecast chance, in 100");
    forms::drawTextMiddle(painter, area.center().x() - metrics.horizontalAdvance(name) / 2,
                          ticks + m_theme.s(18), name, font, roles.muted);
    if (!shares) return;
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    QPen dashed(roles.muted, std::max(1.0, roles.minStroke));
    dashed.setDashPattern({4, 3});
    painter.setPen(dashed);
    painter.drawLine(place(0, 0), place(1, 1));
    painter.restore();
    // Along the line, where there is seldom a dot.
    const QString hit = tr("forecast = result");
    painter.save();
    painter.translate(place(0.5, 0.5));
    painter.rotate(-std::atan2(area.height(), area.width()) * 180 / M_PI);
    const double along = QLineF(place(0, 0), place(1, 1)).length();
    forms::drawTextMiddle(painter, -along * 0.42, -m_theme.s(10), hit, font, roles.muted);
    painter.restore();
    forms::drawTextMiddle(painter, area.right() + m_theme.s(10), area.top(), tr("% passed"), font,
                          roles.muted);
}

void TrackChart::drawTicks(QPainter& painter) const {
    const forms::Roles& roles = m_theme.roles();
    const QRectF area = plot();
    const QFont font = m_theme.font(13);
    const double high = m_theme.s(14);
    const double above = area.top() - m_theme.s(22), below = area.bottom() + m_theme.s(14);
    for (const core::TrackRow& row : m_record.rows) {
        const double x = place(row.chance, 0).x();
        painter.fillRect(QRectF(x - 1, (row.passed ? above : below) - high / 2, 2, high), roles.ink);
    }
    const double x = area.right() + m_theme.s(10);
    forms::drawTextMiddle(painter, x, above, tr("passed"), font, roles.ink);
    forms::drawTextMiddle(painter, x, below, tr("not passed"), font, roles.ink);
}

void TrackChart::drawGroups(QPainter& painter) const {
    const forms::Roles& roles = m_theme.roles();
    for (const core::ForecastGroup& group : m_record.quality.groups) {
        if (group.results == 0 || !group.share) continue;
        const QPointF dot = dotOf(group);
        const double low = place(0, group.share->low).y(), high = place(0, group.share->high).y();
        painter.fillRect(QRectF(dot.x() - 1, high, 2, low - high), roles.ink);
        for (const double end : {low, high})
            painter.fillRect(QRectF(dot.x() - m_theme.s(5), end - 1, m_theme.s(10), 2), roles.ink);
    }
}

/// Right of the dot, or left of it where the words would leave the chart or cover another dot.
QRectF TrackChart::placeOfCount(const core::ForecastGroup& group, double wide) const {
    const QPointF dot = dotOf(group);
    const double high = m_theme.s(18), gap = m_theme.s(11), reach = m_theme.s(6);
    const QRectF right(dot.x() + gap, dot.y() - high / 2, wide, high);
    const QRectF left = right.translated(-2 * gap - wide, 0);
    const bool covers = std::ranges::any_of(m_record.quality.groups, [&](const core::ForecastGroup& other) {
        return other.results > 0 &&
               right.adjusted(-3, 0, 3, 0)
                   .intersects(QRectF(dotOf(other) - QPointF(reach, reach), QSizeF(2 * reach, 2 * reach)));
    });
    return covers || right.right() > plot().right() + m_theme.s(8) ? left : right;
}

/// After all lines, on their own ground: a neighbour's interval may run through. The dots come last.
void TrackChart::drawCounts(QPainter& painter) const {
    const forms::Roles& roles = m_theme.roles();
    const QFont font = m_theme.font(13, true);
    for (const core::ForecastGroup& group : m_record.quality.groups) {
        if (group.results == 0 || !group.share) continue;
        const QString words = tr("%1 of %2").arg(group.happened).arg(group.results);
        const QRectF where = placeOfCount(group, QFontMetricsF(font).horizontalAdvance(words));
        painter.fillRect(where.adjusted(-3, 0, 3, 0), roles.ground);
        forms::drawTextMiddle(painter, where.left(), where.center().y(), words, font, roles.ink);
    }
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setPen(Qt::NoPen);
    painter.setBrush(roles.ink);
    for (const core::ForecastGroup& group : m_record.quality.groups)
        if (group.results > 0 && group.share) painter.drawEllipse(dotOf(group), m_theme.s(6), m_theme.s(6));
    painter.restore();
}

void TrackChart::draw(QPainter& painter) {
    drawAxes(painter);
    drawTicks(painter);
    if (m_record.tooFew()) return;
    drawGroups(painter);
    drawCounts(painter);
}

}  // namespace markerlamp::app
