// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/trainees/zones_table.h"

#include "app/support/display.h"
#include "app/support/sign_widgets.h"
#include "forms/signs/signs.h"

#include <QCoreApplication>
#include <QPainter>
#include <QTableView>

#include <algorithm>
#include <cmath>
#include <map>

namespace markerlamp::app {

namespace {

class ZonesText {
    Q_DECLARE_TR_FUNCTIONS(ZonesText)
};

QColor mixed(const QColor& a, const QColor& b, double share) {
    return QColor::fromRgbF(static_cast<float>(a.redF() + (b.redF() - a.redF()) * share),
                            static_cast<float>(a.greenF() + (b.greenF() - a.greenF()) * share),
                            static_cast<float>(a.blueF() + (b.blueF() - a.blueF()) * share));
}

QString heatText(const core::HeatCell& cell) {
    if (!cell.inScope || cell.observed == 0) return {};
    return QStringLiteral("%1/%2").arg(cell.satisfied).arg(cell.observed);
}

QString heatWords(const core::HeatCell& cell) {
    if (!cell.inScope) return ZonesText::tr("not asked");
    if (cell.observed == 0 && cell.unseen > 0) return ZonesText::tr("not observed");
    if (cell.observed == 0) return ZonesText::tr("not reached");
    return ZonesText::tr("%1 of %2 satisfied").arg(cell.satisfied).arg(cell.observed);
}

}  // namespace

double intervalX(const Theme& theme, const QRectF& cell, double share) {
    const double left = cell.left() + theme.s(14);
    const double right = cell.right() - theme.s(14);
    return left + (right - left) * share;
}

std::vector<QColor> heatRamp(const Theme& theme) {
    const forms::Roles& roles = theme.roles();
    if (theme.choice() == Theme::Choice::System) return std::vector<QColor>(5, roles.ground);
    if (theme.choice() == Theme::Choice::PreDawn) {
        std::vector<QColor> ramp;
        // Not even steps: at a half neither ink nor ground would be readable on it.
        for (const double share : {0.0, 0.2, 0.4, 0.75, 1.0})
            ramp.push_back(mixed(roles.panel, roles.shown, share));
        return ramp;
    }
    return {QColor(0xF3, 0xF6, 0xF9), QColor(0xC9, 0xDA, 0xEA), QColor(0x8F, 0xB4, 0xD6),
            QColor(0x4C, 0x86, 0xBB), QColor(0x0B, 0x4F, 0x8A)};
}

int heatLevel(int satisfied, int observed) {
    const double share = observed > 0 ? 100.0 * satisfied / observed : 0;
    return share >= 95 ? 0 : share >= 85 ? 1 : share >= 70 ? 2 : share >= 50 ? 3 : 4;
}

QColor heatInk(const Theme& theme, int level) {
    const forms::Roles& roles = theme.roles();
    if (theme.choice() == Theme::Choice::System) return roles.ink;
    if (theme.choice() == Theme::Choice::PreDawn) return level >= 3 ? roles.ground : roles.ink;
    return level == 4 ? QColor(Qt::white) : roles.ink;
}

ZonesContent zonesContent(const std::vector<core::ScoredAttempt>& history, int first, int most,
                          bool weakestFirst) {
    ZonesContent content;
    content.columns = {
        {ZonesText::tr("zone")}, {ZonesText::tr("now, 80 % interval")}, {ZonesText::tr("count"), true}};
    if (history.empty()) return content;
    const core::HeatMap heat = core::zonesByAttempts(history);
    const double passMark = history.back().rubric->pass.percent / 100.0;
    const int count = static_cast<int>(history.size());
    const int end = std::min(count, first + most);
    for (int i = first; i < end; ++i) {
        const auto index = static_cast<std::size_t>(i);
        QString title = QString::number(i + 1);
        if (heat.otherEdition[index]) title += QLatin1String(" *");
        content.columns.push_back(
            {title + QLatin1Char('\n') + shortDate(startedAt(history[index].attempt.header.started).date()),
             true});
    }
    std::map<std::string, std::size_t> heatRow;
    for (std::size_t i = 0; i < heat.zones.size(); ++i) heatRow[heat.zones[i]] = i;
    std::vector<core::ZoneNow> zones = core::zonesNow(history);
    if (weakestFirst)
        std::stable_sort(zones.begin(), zones.end(), [](const auto& a, const auto& b) {
            const auto weakness = [](const core::ZoneNow& zone) {
                return zone.observed > 0 ? zone.below : -1.0;
            };
            return weakness(a) > weakness(b);
        });
    QStringList weak;
    for (const core::ZoneNow& zone : zones) {
        Row row{qs(zone.zone), {}};
        const QString title = qs(zone.title);
        if (zone.weak) weak << title;
        row.cells.push_back({.text = title, .tip = title, .bold = zone.weak});
        ZoneDot dot;
        dot.passMark = passMark;
        dot.weak = zone.weak;
        QString words = ZonesText::tr("counts only");
        if (zone.interval && zone.observed > 0) {
            dot.known = true;
            dot.value = static_cast<double>(zone.satisfied) / zone.observed;
            dot.low = zone.interval->low;
            dot.high = zone.interval->high;
            words = ZonesText::tr("%1, likely %2 to %3")
                        .arg(percentText(100 * dot.value), percentText(100 * dot.low),
                             percentText(100 * dot.high));
        }
        row.cells.push_back(paintedCell(QVariant::fromValue(dot), words));
        row.cells.push_back(
            boldCell(QStringLiteral("%1/%2").arg(zone.satisfied).arg(zone.observed), zone.weak));
        const auto found = heatRow.find(zone.zone);
        for (int i = first; i < end; ++i) {
            HeatPayload payload;
            if (found != heatRow.end()) payload.cell = heat.cells[found->second][static_cast<std::size_t>(i)];
            payload.newest = i == count - 1;
            row.cells.push_back({.text = heatText(payload.cell),
                                 .payload = QVariant::fromValue(payload),
                                 .tip = heatWords(payload.cell)});
        }
        content.rows.push_back(std::move(row));
    }
    content.summary =
        weak.isEmpty()
            ? ZonesText::tr("No zone is likely under the pass mark of %1.").arg(percentText(100 * passMark))
            : ZonesText::tr("Likely under the pass mark of %1: %2.")
                  .arg(percentText(100 * passMark), weak.join(ZonesText::tr(", ", "between zones")));
    return content;
}

void IntervalDelegate::paintContent(QPainter& painter, const QRectF& place, const QModelIndex& index) const {
    const QVariant payload = index.data(RowsModel::PayloadRole);
    if (!payload.canConvert<ZoneDot>()) {
        RowDelegate::paintContent(painter, place, index);
        return;
    }
    const auto dot = payload.value<ZoneDot>();
    const forms::Roles& roles = theme().roles();
    const auto x = [&](double share) { return std::floor(intervalX(theme(), place, share)); };
    const double top = place.top(), height = place.height() + 1;
    for (const double tick : {0.0, 0.25, 0.5, 0.75, 1.0})
        paintGridLine(painter, QLineF(x(tick) + 0.5, top, x(tick) + 0.5, top + height), theme());
    QPen dashed(roles.ink, 1);
    dashed.setDashPattern({4, 3});
    dashed.setDashOffset(std::fmod(top, 7.0));  // pieces of neighbouring rows join
    painter.setPen(dashed);
    painter.drawLine(QPointF(x(dot.passMark) + 0.5, top), QPointF(x(dot.passMark) + 0.5, top + height));
    const double y = std::floor(place.center().y());
    if (!dot.known) {
        const QFont font = theme().font(13);
        const QString words = ZonesText::tr("counts only");
        const double w = QFontMetricsF(font).horizontalAdvance(words);
        const double textX = place.center().x() - w / 2;
        painter.fillRect(QRectF(textX - 4, y - theme().s(9), w + 8, theme().s(18)), roles.ground);
        forms::drawTextMiddle(painter, textX, y, words, font, roles.muted);
        return;
    }
    painter.fillRect(QRectF(x(dot.low), y - 1, x(dot.high) - x(dot.low), 2), roles.ink);
    for (const double end : {dot.low, dot.high})
        painter.fillRect(QRectF(x(end) - 1, y - theme().s(4), 2, theme().s(8)), roles.ink);
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setPen(QPen(roles.ink, 2));
    painter.setBrush(dot.weak ? roles.ink : roles.ground);
    painter.drawEllipse(QPointF(x(dot.value), y), theme().s(5), theme().s(5));
}

void HeatDelegate::paint(QPainter* painter, const QStyleOptionViewItem& option,
                         const QModelIndex& index) const {
    const QVariant payload = index.data(RowsModel::PayloadRole);
    if (!payload.canConvert<HeatPayload>()) {
        RowDelegate::paint(painter, option, index);
        return;
    }
    const auto heat = payload.value<HeatPayload>();
    const forms::Roles& roles = theme().roles();
    const QRectF cell(option.rect);
    painter->save();
    painter->setClipRect(option.rect);
    painter->fillRect(cell, roles.ground);
    const QRectF inner = cell.adjusted(1, 1, -1, -1);
    QColor ink = roles.ink;
    if (heat.cell.inScope && heat.cell.observed == 0 && heat.cell.unseen > 0) {
        forms::paintHatch(*painter, inner, roles, theme().scale());
    } else if (heat.cell.inScope && heat.cell.observed > 0) {
        const int level = heatLevel(heat.cell.satisfied, heat.cell.observed);
        painter->fillRect(inner, heatRamp(theme())[static_cast<std::size_t>(level)]);
        ink = heatInk(theme(), level);
    }
    const QString text = index.data(Qt::DisplayRole).toString();
    const QFont font = theme().font(13);
    const double w = QFontMetricsF(font).horizontalAdvance(text);
    forms::drawTextMiddle(*painter, cell.center().x() - w / 2, cell.center().y(), text, font, ink);
    const auto* view = qobject_cast<const QTableView*>(option.widget);
    if (view != nullptr && view->currentIndex() == index) {
        // The cell whose marks Enter opens: a frame inside it, thicker with the focus.
        const double pen = view->hasFocus() ? 3 : 1;
        painter->setPen(QPen(roles.ink, pen, Qt::SolidLine, Qt::SquareCap, Qt::MiterJoin));
        painter->setBrush(Qt::NoBrush);
        painter->drawRect(inner.adjusted(pen / 2, pen / 2, -pen / 2, -pen / 2));
    }
    painter->restore();
}

ZonesHeader::ZonesHeader(const Theme& theme, QWidget* parent)
    : QHeaderView(Qt::Horizontal, parent), m_theme(theme) {
    setSectionsClickable(false);
    setHighlightSections(false);
    setFocusPolicy(Qt::NoFocus);
    setFixedHeight(qRound(theme.s(46)));
}

void ZonesHeader::paintSection(QPainter* painter, const QRect& rect, int section) const {
    const forms::Roles& roles = m_theme.roles();
    const QFont font = m_theme.font(13);
    painter->save();
    painter->fillRect(rect, roles.ground);
    const QRectF cell(rect);
    const double low = cell.bottom() - m_theme.s(11), high = cell.bottom() - m_theme.s(30);
    const QString title = model()->headerData(section, Qt::Horizontal).toString();
    if (section == 1) {
        const QRectF place = cell.adjusted(m_theme.s(8), 0, -m_theme.s(8), 0);
        for (const int tick : {0, 25, 50, 75, 100}) {
            const QString text = QString::number(tick);
            const double w = QFontMetricsF(font).horizontalAdvance(text);
            forms::drawTextMiddle(*painter, intervalX(m_theme, place, tick / 100.0) - w / 2, low, text, font,
                                  roles.muted);
        }
        const QString mark = ZonesText::tr("pass mark %1").arg(percentText(100 * m_passMark));
        const double w = QFontMetricsF(font).horizontalAdvance(mark);
        const double x = std::min(intervalX(m_theme, place, m_passMark) - w / 2, cell.right() - w);
        forms::drawTextMiddle(*painter, std::max(cell.left(), x), high, mark, font, roles.ink);
    } else if (section >= 3) {
        const QStringList lines = title.split(QLatin1Char('\n'));
        const bool newest = section == model()->columnCount() - 1;
        const QFont number = m_theme.font(13, newest);
        const double w = QFontMetricsF(number).horizontalAdvance(lines.value(0));
        forms::drawTextMiddle(*painter, cell.center().x() - w / 2, high, lines.value(0), number, roles.ink);
        const double v = QFontMetricsF(font).horizontalAdvance(lines.value(1));
        forms::drawTextMiddle(*painter, cell.center().x() - v / 2, low, lines.value(1), font, roles.muted);
    } else if (section == 2) {
        forms::drawTextMiddleRight(*painter, cell.right() - m_theme.s(8), low, title, font, roles.muted);
    }
    painter->restore();
}

HeatLegend::HeatLegend(const Theme& theme, QWidget* parent) : QWidget(parent), m_theme(theme) {
    setSizePolicy(QSizePolicy::Preferred, QSizePolicy::Fixed);
    connect(&theme, &Theme::changed, this, qOverload<>(&QWidget::update));
}

QSize HeatLegend::sizeHint() const {
    return {qRound(m_theme.s(760)), qRound(m_theme.s(22))};
}

void HeatLegend::paintEvent(QPaintEvent* event) {
    Q_UNUSED(event)
    QPainter painter(this);
    const forms::Roles& roles = m_theme.roles();
    const QFont font = m_theme.font(13);
    const QFontMetricsF metrics(font);
    const double y = height() / 2.0;
    double x = 0;
    const auto words = [&](const QString& text) {
        forms::drawTextMiddle(painter, x, y, text, font, roles.muted);
        x += metrics.horizontalAdvance(text) + m_theme.s(14);
    };
    const auto box = [&]() {
        const QRectF rect(std::floor(x), std::floor(y - m_theme.s(8)), m_theme.s(26), m_theme.s(16));
        x += m_theme.s(31);
        return rect;
    };
    words(ZonesText::tr("cells: satisfied of observed;"));
    const auto ramp = heatRamp(m_theme);
    const QStringList names{ZonesText::tr("95+"), ZonesText::tr("85"), ZonesText::tr("70"),
                            ZonesText::tr("50"), ZonesText::tr("under 50 %")};
    for (int level = 0; level < 5; ++level) {
        const QRectF rect = box();
        painter.fillRect(rect, ramp[static_cast<std::size_t>(level)]);
        painter.setPen(QPen(roles.hair, 1));
        painter.drawRect(rect.adjusted(0.5, 0.5, -0.5, -0.5));
        words(names[level]);
    }
    forms::paintHatch(painter, box(), roles, m_theme.scale());
    words(ZonesText::tr("not observed"));
    words(ZonesText::tr("blank: not scored"));
}

}  // namespace markerlamp::app
