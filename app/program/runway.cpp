// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/program/runway.h"

#include "app/program/program_view.h"
#include "app/support/display.h"
#include "forms/signs/readiness_sign.h"
#include "forms/signs/signs.h"

#include <QPainter>

#include <algorithm>

namespace markerlamp::app {

namespace {

constexpr int kMonthsOnly = 100;  ///< days; a longer scale names months only
constexpr double kTodayIn = 4;    ///< design pixels from the left edge

/// Text over lines keeps a rim of the ground.
void drawOverLines(QPainter& painter, double x, double y, const QString& text, const QFont& font,
                   const forms::Roles& roles, double scale) {
    const QFontMetricsF metrics(font);
    const double width = metrics.horizontalAdvance(text);
    painter.fillRect(QRectF(x - 3 * scale, y - metrics.height() / 2, width + 6 * scale, metrics.height()),
                     roles.ground);
    forms::drawTextMiddle(painter, x, y, text, font, roles.ink);
}

}  // namespace

double DayScale::x(double day, double left, double width) const {
    const double in = std::min(kTodayIn, width / 8);
    return left + in + (width - in) * std::clamp(day / std::max(1, last), 0.0, 1.0);
}

std::vector<int> DayScale::ticks(double width, double least) const {
    std::vector<int> all;
    double free = 1.6 * least;  // behind today's own name
    for (QDate day = today.addDays(1); today.daysTo(day) <= last; day = day.addDays(1)) {
        if (day.day() != 1 && (day.day() != 15 || last > kMonthsOnly)) continue;
        const int days = static_cast<int>(today.daysTo(day));
        const double at = x(days, 0, width);
        if (at < free || at + least / 2 > width) continue;
        all.push_back(days);
        free = at + least;
    }
    return all;
}

void ReadinessDelegate::paintContent(QPainter& painter, const QRectF& place, const QModelIndex& index) const {
    const QVariant payload = index.data(RowsModel::PayloadRole);
    if (!payload.isValid()) return RowDelegate::paintContent(painter, place, index);
    const double z = theme().s(14);
    forms::paintReadiness(painter, QRectF(place.left(), place.center().y() - z / 2, z, z),
                          static_cast<core::ReadinessWord>(payload.toInt()), theme().roles(),
                          theme().scale());
    RowDelegate::paintContent(painter, place.adjusted(theme().s(20), 0, 0, 0), index);
}

void OfTenDelegate::paintContent(QPainter& painter, const QRectF& place, const QModelIndex& index) const {
    const QVariant payload = index.data(RowsModel::PayloadRole);
    if (!payload.canConvert<OfTenShare>()) return RowDelegate::paintContent(painter, place, index);
    const auto share = payload.value<OfTenShare>();
    forms::paintOfTenCell(painter, place, {share.chance, share.low, share.high}, theme().roles(),
                          theme().scale());
}

void RunwayDelegate::paintContent(QPainter& painter, const QRectF& place, const QModelIndex& index) const {
    const QVariant payload = index.data(RowsModel::PayloadRole);
    if (!payload.canConvert<Runway>()) return;
    const auto runway = payload.value<Runway>();
    const forms::Roles& roles = theme().roles();
    const double s = theme().scale(), y = place.center().y();
    const auto x = [&](double day) { return m_scale.x(day, place.left(), place.width()); };
    painter.setRenderHint(QPainter::Antialiasing);
    for (const int tick : m_scale.ticks(place.width(), theme().s(64)))
        painter.fillRect(QRectF(x(tick), place.top(), 1, place.height()), roles.hair);
    painter.fillRect(QRectF(x(0) - 1, place.top(), 2, place.height()), roles.ink);
    const QFont font = theme().font(13), bold = theme().font(13, true);
    const bool runs = runway.permit && *runway.permit >= 0;
    if (runs) painter.fillRect(QRectF(x(0), y - 0.5, x(*runway.permit) - x(0), 1), roles.line);
    if (runway.readyLow && *runway.readyLow <= m_scale.last) {
        const bool open = !runway.readyHigh || *runway.readyHigh > m_scale.last;
        const double from = x(*runway.readyLow), to = open ? place.right() : x(*runway.readyHigh);
        const QRectF bar(from, y - 6 * s, std::max(4 * s, to - from), 12 * s);
        painter.setPen(QPen(roles.ink, 1));
        painter.setBrush(runway.late() ? roles.ink : roles.hair);
        if (open) {
            // Without an end: the outline stays open to the right.
            painter.setPen(Qt::NoPen);
            painter.drawRect(bar);
            painter.setPen(QPen(roles.ink, 1));
            painter.drawLine(bar.topLeft(), bar.topRight());
            painter.drawLine(bar.bottomLeft(), bar.bottomRight());
            painter.drawLine(bar.topLeft(), bar.bottomLeft());
        } else {
            painter.drawRect(bar);
        }
        if (runs) paintPermitEnd(painter, x, y, runway);
        if (runs && runway.late() && !open) {
            const QString words = *runway.readyLow > *runway.permit
                                      ? tr("%1 to %2 days after the permit ends")
                                            .arg(*runway.readyLow - *runway.permit)
                                            .arg(*runway.readyHigh - *runway.permit)
                                      : tr("up to %n day(s) after the permit ends", nullptr,
                                           *runway.readyHigh - *runway.permit);
            const double width = QFontMetricsF(bold).horizontalAdvance(words);
            const double right = bar.right() + 8 * s;
            if (right + width <= place.right()) drawOverLines(painter, right, y, words, bold, roles, s);
        }
    } else if (runs) {
        paintPermitEnd(painter, x, y, runway);
    }
    if (!runway.permit)
        drawOverLines(painter, x(0) + 8 * s, y, tr("no permit end on file"), font, roles, s);
    else if (!runs)
        drawOverLines(painter, x(0) + 8 * s, y,
                      tr("permit ended %1").arg(longDate(m_scale.today.addDays(*runway.permit))), bold, roles,
                      s);
    if (runway.readyNow) {
        painter.setPen(Qt::NoPen);
        painter.setBrush(roles.ink);
        painter.drawEllipse(QPointF(x(0), y), 5 * s, 5 * s);
    }
    for (const int test : runway.tests) {
        const double r = 8 * s, at = x(test);
        painter.setPen(QPen(roles.ink, 2 * s));
        painter.setBrush(roles.ground);
        painter.drawPolygon(QPolygonF{{at - r, y}, {at, y - r}, {at + r, y}, {at, y + r}});
    }
}

void RunwayDelegate::paintPermitEnd(QPainter& painter, const std::function<double(double)>& x, double y,
                                    const Runway& runway) const {
    if (*runway.permit > m_scale.last) return;  // it leaves the chart
    const forms::Roles& roles = theme().roles();
    const double s = theme().scale(), end = x(*runway.permit);
    // A rim of the ground keeps it apart from a bar that runs over it.
    painter.fillRect(QRectF(end - 3.5 * s, y - 10 * s, 7 * s, 20 * s), roles.ground);
    if (runway.assumed) {
        painter.setPen(QPen(roles.ink, 1.5 * s));
        painter.setBrush(Qt::NoBrush);
        painter.drawRect(QRectF(end - 2 * s, y - 8 * s, 4 * s, 16 * s));
    } else {
        painter.fillRect(QRectF(end - 1.5 * s, y - 9 * s, 3 * s, 18 * s), roles.ink);
    }
}

void ActionDelegate::paintContent(QPainter& painter, const QRectF& place, const QModelIndex& index) const {
    const QString text = index.data(Qt::DisplayRole).toString();
    if (text.isEmpty()) return;
    const forms::Roles& roles = theme().roles();
    const QFont font = theme().font(13);
    const double height = theme().s(24);
    const QRectF button(place.left(), place.center().y() - height / 2, place.width(), height);
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setPen(QPen(roles.line, std::max(1.0, roles.minStroke)));
    painter.setBrush(roles.ground);
    painter.drawRoundedRect(button.adjusted(0.5, 0.5, -0.5, -0.5), theme().s(4), theme().s(4));
    const QFontMetricsF metrics(font);
    const QString shown = metrics.elidedText(text, Qt::ElideRight, button.width() - theme().s(12));
    forms::drawTextMiddle(painter, button.center().x() - metrics.horizontalAdvance(shown) / 2,
                          button.center().y(), shown, font, roles.ink);
}

RosterHeader::RosterHeader(const Theme& theme, QWidget* parent)
    : QHeaderView(Qt::Horizontal, parent), m_theme(theme) {
    setHighlightSections(false);
    setSectionsClickable(true);
    setFocusPolicy(Qt::NoFocus);
    setFont(theme.font(13));
    setFixedHeight(qRound(theme.s(24)));
    connect(&theme, &Theme::changed, this, [this] {
        setFont(m_theme.font(13));
        setFixedHeight(qRound(m_theme.s(24)));
    });
}

void RosterHeader::setScale(const DayScale& scale) {
    m_scale = scale;
    viewport()->update();
}

void RosterHeader::paintSection(QPainter* painter, const QRect& rect, int logicalIndex) const {
    if (model() == nullptr || logicalIndex != model()->columnCount() - 1 || !m_scale.today.isValid()) {
        QHeaderView::paintSection(painter, rect, logicalIndex);
        return;
    }
    const forms::Roles& roles = m_theme.roles();
    painter->save();
    painter->fillRect(rect, roles.ground);
    painter->fillRect(QRectF(rect.left(), rect.bottom(), rect.width(), 1), roles.line);
    const double pad = m_theme.s(8), left = rect.left() + pad, width = rect.width() - 2 * pad;
    const QFont font = m_theme.font(13);
    const double y = rect.center().y();
    forms::drawTextMiddle(*painter, left, y, tr("today %1").arg(shortDate(m_scale.today)), font, roles.ink);
    for (const int tick : m_scale.ticks(width, m_theme.s(64))) {
        const QString words = shortDate(m_scale.today.addDays(tick));
        const double at = m_scale.x(tick, left, width);
        forms::drawTextMiddle(*painter, at - QFontMetricsF(font).horizontalAdvance(words) / 2, y, words, font,
                              roles.muted);
    }
    painter->restore();
}

}  // namespace markerlamp::app
