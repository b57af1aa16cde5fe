// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/agreement/agreement_views.h"

#include "app/agreement/agreement_tables.h"
#include "app/support/sign_widgets.h"

#include <QPainter>
#include <QPainterPath>

#include <algorithm>
#include <array>
#include <cmath>

namespace markerlamp::app {

namespace {

constexpr double kAxisHead = 24, kMeasure = 84, kLine = 24;

QString shownTitle() {
    return CoefficientView::tr("shown");
}
QString saidTitle() {
    return CoefficientView::tr("said in full");
}
QString yesOf(const QString& scorer) {
    return CoefficientView::tr("%1 yes", "scorer").arg(scorer);
}
QString noOf(const QString& scorer) {
    return CoefficientView::tr("%1 no", "scorer").arg(scorer);
}
QString noTitle() {
    return CoefficientView::tr("no");
}
QString alikeName() {
    return CoefficientView::tr("marked alike");
}
QString alphaName(bool few) {
    return few ? CoefficientView::tr("alpha, too few") : CoefficientView::tr("alpha");
}

/// 1, 2 or 5 times a power of ten that is at least this.
double roundUp(double value) {
    const double power = std::pow(10, std::floor(std::log10(value)));
    for (const double step : {1.0, 2.0, 5.0, 10.0})
        if (step * power >= value) return step * power;
    return 10 * power;
}

}  // namespace

CoefficientView::CoefficientView(const Theme& theme, const QString& name, QWidget* parent)
    : PaintedChart(theme, name, {600, kAxisHead + 2 * kMeasure + 8}, {600, kAxisHead + 2 * kMeasure + 8},
                   parent) {
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
}

void CoefficientView::setAgreement(const core::Agreement& shown, const core::Agreement& said,
                                   const QString& first, const QString& second) {
    m_shown = shown;
    m_said = said;
    m_first = first;
    m_second = second;
    setWords(agreementWords(shown, said, first, second));
}

CoefficientView::Columns CoefficientView::columns() const {
    const QFontMetricsF plain(m_theme.font(13)), bold(m_theme.font(13, true)), digits(m_theme.mono(15, true));
    const auto widest = [](const QFontMetricsF& metrics, std::initializer_list<QString> words) {
        double most = 0;
        for (const QString& one : words) most = std::max(most, metrics.horizontalAdvance(one));
        return most;
    };
    const double rows =
        std::max(widest(bold, {shownTitle(), saidTitle()}), widest(plain, {yesOf(m_first), noOf(m_first)}));
    const double count = digits.horizontalAdvance(QStringLiteral("0000"));
    Columns columns;
    columns.yes = rows + m_theme.s(14) + std::max(count, widest(plain, {yesOf(m_second)}));
    columns.no = columns.yes + m_theme.s(10) + std::max(count, widest(plain, {noTitle()}));
    columns.names = columns.no + m_theme.s(16);
    columns.axisLeft =
        columns.names + widest(plain, {alikeName(), alphaName(false), alphaName(true)}) + m_theme.s(16);
    columns.axisRight =
        width() - m_theme.s(10) - widest(plain, {figureText(0.88, core::Interval{0.88, 0.88})});
    return columns;
}

QRectF CoefficientView::axis() const {
    const Columns at = columns();
    return QRectF(at.axisLeft, m_theme.s(kAxisHead), std::max(20.0, at.axisRight - at.axisLeft),
                  m_theme.s(2 * kMeasure));
}

void CoefficientView::paintAxis(QPainter& painter) const {
    const QRectF area = axis();
    const QFont font = m_theme.font(13);
    const QFontMetricsF metrics(font);
    for (const double tick : {0.0, 0.25, 0.5, 0.75, 1.0}) {
        const double x = std::round(area.left() + tick * area.width()) + 0.5;
        paintGridLine(painter, QLineF(x, area.top(), x, area.bottom()), m_theme);
        if (tick != 0 && tick != 0.5 && tick != 1) continue;
        const QString number = QString::number(tick);
        forms::drawTextMiddle(painter, x - metrics.horizontalAdvance(number) / 2, area.top() - m_theme.s(12),
                              number, font, m_theme.roles().muted);
    }
}

void CoefficientView::paintCounts(QPainter& painter, double top, const core::Agreement& agreement,
                                  const QString& title, const QColor& color) const {
    const forms::Roles& roles = m_theme.roles();
    const QFont font = m_theme.font(13);
    const auto [yes, no, names, axisLeft, axisRight] = columns();
    const double head = top + m_theme.s(12);
    forms::drawTextMiddle(painter, 0, head, title, m_theme.font(13, true), color);
    forms::drawTextMiddleRight(painter, yes, head, yesOf(m_second), font, roles.muted);
    forms::drawTextMiddleRight(painter, no, head, noTitle(), font, roles.muted);
    painter.fillRect(QRectF(0, top + m_theme.s(24), no, 1), roles.line);
    if (agreement.counts.size() != 2) return;
    for (const int mine : {1, 0}) {
        const double y = top + m_theme.s(mine == 1 ? 38 : 62);
        forms::drawTextMiddle(painter, 0, y, mine == 1 ? yesOf(m_first) : noOf(m_first), font, roles.ink);
        for (const int other : {1, 0})
            forms::drawTextMiddleRight(
                painter, other == 1 ? yes : no, y,
                QString::number(
                    agreement.counts[static_cast<std::size_t>(mine)][static_cast<std::size_t>(other)]),
                m_theme.mono(15, mine == other), roles.ink);
        if (mine == 1) painter.fillRect(QRectF(0, top + m_theme.s(50), no, 1), roles.hair);
    }
}

void CoefficientView::paintLine(QPainter& painter, double y, const Line& line, const QColor& color,
                                bool square) const {
    const forms::Roles& roles = m_theme.roles();
    const QRectF area = axis();
    const QColor ink = line.grey ? roles.muted : color;
    forms::drawTextMiddle(painter, columns().names, y, line.name, m_theme.font(13),
                          line.grey ? roles.muted : roles.ink);
    if (!line.value) {
        // On its own ground: the grid runs through.
        const QString words = tr("all alike: no coefficient");
        const double left = area.left() + m_theme.s(8), high = m_theme.s(18);
        painter.fillRect(
            QRectF(left - m_theme.s(3), y - high / 2,
                   QFontMetricsF(m_theme.font(13)).horizontalAdvance(words) + m_theme.s(6), high),
            roles.ground);
        forms::drawTextMiddle(painter, left, y, words, m_theme.font(13), roles.muted);
        return;
    }
    forms::drawTextMiddleRight(painter, width() - m_theme.s(2), y, figureText(*line.value, line.interval),
                               m_theme.font(13), line.grey ? roles.muted : roles.ink);
    const auto x = [&](double value) { return area.left() + std::clamp(value, 0.0, 1.0) * area.width(); };
    if (line.interval)
        painter.fillRect(
            QRectF(x(line.interval->low), y - 1, x(line.interval->high) - x(line.interval->low), 2), ink);
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing, !square);
    painter.setPen(Qt::NoPen);
    painter.setBrush(ink);
    const double r = m_theme.s(5);
    if (square)
        painter.drawRect(QRectF(std::round(x(*line.value) - r), std::round(y - r), 2 * r, 2 * r));
    else
        painter.drawEllipse(QPointF(x(*line.value), y), r, r);
    painter.restore();
}

void CoefficientView::paintMeasure(QPainter& painter, double top, const core::Agreement& agreement,
                                   const QString& title, const QColor& color, bool square) const {
    paintCounts(painter, top, agreement, title, color);
    if (agreement.steps == 0) {
        forms::drawTextMiddle(painter, columns().names, top + m_theme.s(38), tr("no step that both observed"),
                              m_theme.font(13), m_theme.roles().muted);
        return;
    }
    const bool few = agreement.steps < core::kFewestUnits;
    paintLine(painter, top + m_theme.s(14), {alikeName(), agreement.share, agreement.interval, false}, color,
              square);
    paintLine(painter, top + m_theme.s(14 + kLine),
              {alphaName(few), agreement.alpha, agreement.alphaInterval, few}, color, square);
}

void CoefficientView::draw(QPainter& painter) {
    const forms::Roles& roles = m_theme.roles();
    paintAxis(painter);
    paintMeasure(painter, m_theme.s(kAxisHead - 12), m_shown, shownTitle(), roles.shown, true);
    paintMeasure(painter, m_theme.s(kAxisHead - 12 + kMeasure), m_said, saidTitle(), roles.said, false);
}

StrictnessView::StrictnessView(const Theme& theme, QWidget* parent)
    : PaintedChart(theme, tr("Strictness of instructors"), {600, 230}, {360, 150}, parent) {}

void StrictnessView::setFunnel(const core::StrictnessFunnel& funnel, Letters letters, const QString& words) {
    m_funnel = funnel;
    m_letters = std::move(letters);
    setWords(words);
}

QRectF StrictnessView::plot() const {
    return QRectF(m_theme.s(44), m_theme.s(12), std::max(20.0, width() - m_theme.s(44 + 96)),
                  std::max(20.0, height() - m_theme.s(12 + 44)));
}

double StrictnessView::highestSteps() const {
    int most = 10;
    for (const core::Strictness& one : m_funnel.instructors) most = std::max(most, one.steps);
    return roundUp(most * 1.05);
}

double StrictnessView::highestCredit() const {
    double most = 2;
    for (const core::Strictness& one : m_funnel.instructors) {
        most = std::max(most, std::abs(one.credit) * 1.2);
        most = std::max(most, m_funnel.limit(one.steps, core::kOuter) * 1.2);
    }
    return roundUp(most);
}

QPointF StrictnessView::place(double steps, double credit) const {
    const QRectF area = plot();
    return {area.left() + steps / highestSteps() * area.width(),
            area.center().y() - credit / highestCredit() * area.height() / 2};
}

void StrictnessView::paintAxes(QPainter& painter) const {
    const forms::Roles& roles = m_theme.roles();
    const QRectF area = plot();
    const QFont font = m_theme.font(13);
    const QFontMetricsF metrics(font);
    for (const double part : {-1.0, -0.5, 0.0, 0.5, 1.0}) {
        const double value = part * highestCredit();
        const double y = std::round(place(0, value).y()) + 0.5;
        paintGridLine(painter, QLineF(area.left(), y, area.right(), y), m_theme);
        const QString number = value > 0 ? QStringLiteral("+%1").arg(value) : QString::number(value);
        forms::drawTextMiddleRight(painter, area.left() - m_theme.s(6), y, number, font, roles.muted);
    }
    const double zero = std::round(place(0, 0).y());
    painter.fillRect(QRectF(area.left(), zero, area.width(), std::max(1.0, roles.minStroke)), roles.line);
    for (const double part : {0.0, 0.5, 1.0}) {
        const QString number = QString::number(std::lround(part * highestSteps()));
        forms::drawTextMiddle(painter,
                              area.left() + part * area.width() - metrics.horizontalAdvance(number) / 2,
                              area.bottom() + m_theme.s(14), number, font, roles.muted);
    }
    const QString name = tr("steps scored");
    forms::drawTextMiddle(painter, area.center().x() - metrics.horizontalAdvance(name) / 2,
                          area.bottom() + m_theme.s(32), name, font, roles.muted);
    for (const auto& [words, y] : {std::pair(tr("credits more"), area.top() + m_theme.s(10)),
                                   std::pair(tr("credits less"), area.bottom() - m_theme.s(10))})
        forms::drawTextMiddleRight(painter, area.right() - m_theme.s(4), y, words, font, roles.muted);
}

void StrictnessView::paintLimits(QPainter& painter) const {
    const forms::Roles& roles = m_theme.roles();
    const QRectF area = plot();
    if (m_funnel.perStep <= 0) return;
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setClipRect(area);
    for (const double z : {core::kInner, core::kOuter}) {
        QPen pen(roles.muted, std::max(1.0, roles.minStroke));
        if (z == core::kInner) pen.setDashPattern({4, 3});
        painter.setPen(pen);
        for (const int side : {1, -1}) {
            QPainterPath path;
            for (int i = 1; i <= 100; ++i) {
                const int steps = std::max(1, static_cast<int>(highestSteps() * i / 100));
                const QPointF at = place(steps, side * m_funnel.limit(steps, z));
                i == 1 ? path.moveTo(at) : path.lineTo(at);
            }
            painter.drawPath(path);
        }
    }
    painter.restore();
    const int end = static_cast<int>(highestSteps());
    const QFont font = m_theme.font(13);
    const double outer = place(end, m_funnel.limit(end, core::kOuter)).y();
    forms::drawTextMiddle(painter, area.right() + m_theme.s(6), outer - m_theme.s(4), tr("95 %"), font,
                          roles.muted);
    forms::drawTextMiddle(painter, area.right() + m_theme.s(6), outer + m_theme.s(13), tr("80 % dashed"),
                          font, roles.muted, m_theme.s(90));
}

QString StrictnessView::wordsOf(const core::Strictness& one) const {
    QString letters = m_letters ? m_letters(one.instructor) : QString();
    if (one.tooFew) return tr("%1 (too few)").arg(letters);
    if (!one.outsideOuter) return letters;
    return one.credit < 0 ? tr("%1 outside: credits less").arg(letters)
                          : tr("%1 outside: credits more").arg(letters);
}

/// Right of the dot, or else left, above or below it: where the words cover no other dot.
QRectF StrictnessView::placeOfWords(const core::Strictness& one, double wide) const {
    const QPointF at = place(one.steps, one.credit);
    const double gap = m_theme.s(10), high = m_theme.s(18), reach = m_theme.s(7);
    const QRectF right(at.x() + gap, at.y() - high / 2, wide, high);
    const std::array places{right, right.translated(-2 * gap - wide, 0),
                            right.translated(-gap - wide / 2, -high),
                            right.translated(-gap - wide / 2, high)};
    for (const QRectF& where : places) {
        const bool covers = std::ranges::any_of(m_funnel.instructors, [&](const core::Strictness& other) {
            const QPointF dot = place(other.steps, other.credit);
            return &other != &one &&
                   where.intersects(QRectF(dot - QPointF(reach, reach), QSizeF(2 * reach, 2 * reach)));
        });
        if (!covers && where.left() >= plot().left() && where.right() <= plot().right()) return where;
    }
    return right;
}

void StrictnessView::paintDots(QPainter& painter) const {
    const forms::Roles& roles = m_theme.roles();
    for (const core::Strictness& one : m_funnel.instructors) {
        if (one.tooFew) continue;
        const double x = place(one.steps, one.credit).x();
        const double high = std::clamp(place(0, one.high).y(), plot().top(), plot().bottom());
        const double low = std::clamp(place(0, one.low).y(), plot().top(), plot().bottom());
        painter.fillRect(QRectF(x - 1, high, 2, low - high), roles.ink);
    }
    // On their own ground, since lines may run through; the dots come last.
    for (const core::Strictness& one : m_funnel.instructors) {
        const QString words = wordsOf(one);
        const QFont font = m_theme.font(13, one.outsideOuter);
        const QRectF where = placeOfWords(one, QFontMetricsF(font).horizontalAdvance(words));
        painter.fillRect(where.adjusted(-2, 0, 2, 0), roles.ground);
        forms::drawTextMiddle(painter, where.left(), where.center().y(), words, font,
                              one.tooFew ? roles.muted : roles.ink);
    }
    painter.save();
    painter.setRenderHint(QPainter::Antialiasing);
    const double r = m_theme.s(5);
    for (const core::Strictness& one : m_funnel.instructors) {
        QPen pen(roles.ink, 2, Qt::SolidLine, Qt::FlatCap);
        if (one.tooFew) pen.setDashPattern({1, 1.2});
        painter.setPen(pen);
        painter.setBrush(one.tooFew ? roles.ground : roles.ink);
        painter.drawEllipse(place(one.steps, one.credit), r, r);
    }
    painter.restore();
}

void StrictnessView::draw(QPainter& painter) {
    paintAxes(painter);
    paintLimits(painter);
    paintDots(painter);
}

}  // namespace markerlamp::app
