// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/trainees/learning_panel.h"

#include "app/support/display.h"
#include "app/support/sign_widgets.h"
#include "forms/signs/signs.h"

#include <QChart>
#include <QGraphicsLayout>
#include <QScatterSeries>
#include <QValueAxis>

#include <cmath>

namespace markerlamp::app {

namespace {

/// Beyond 0 and 100 percent, so that a mark on either is seen whole.
constexpr double kRoomForMarks = 4;

}  // namespace

LearningPanel::LearningPanel(const Theme& theme, What what, QWidget* parent)
    : QChartView(parent), m_theme(theme), m_what(what) {
    setFrameShape(QFrame::NoFrame);
    setMinimumHeight(qRound(theme.s(146)));
    setRenderHint(QPainter::Antialiasing);
    viewport()->setFocusPolicy(Qt::NoFocus);  // else it counts as a control without a name
    setFocusPolicy(Qt::StrongFocus);
    chart()->legend()->hide();
    chart()->setBackgroundVisible(false);
    chart()->setPlotAreaBackgroundVisible(false);
    chart()->setDropShadowEnabled(false);
    chart()->setAnimationOptions(QChart::NoAnimation);
    chart()->setMargins(QMargins());
    chart()->layout()->setContentsMargins(0, 0, 0, 0);
    setAccessibleName(what == What::Shown ? tr("Learning, steps shown") : tr("Learning, points said"));
    connect(&theme, &Theme::changed, this, &LearningPanel::rebuild);
}

QSize LearningPanel::sizeHint() const {
    return {qRound(m_theme.s(300)), minimumHeight()};
}

void LearningPanel::setPoints(const std::vector<core::LearningPoint>& points,
                              const std::vector<QDate>& dates) {
    m_dots.clear();
    for (std::size_t i = 0; i < points.size(); ++i) {
        const core::LearningPoint& point = points[i];
        const bool shown = m_what == What::Shown;
        const int count = shown ? point.shownCount : point.saidCount;
        const int of = shown ? point.shownOf : point.saidOf;
        if (of == 0) continue;
        const auto& interval = shown ? point.shown : point.said;
        Dot dot;
        dot.date = i < dates.size() ? dates[i] : QDate();
        if (i > 0 && isLongGap(points[i - 1], point)) dot.gapDays = qRound(point.days - points[i - 1].days);
        dot.percent = dot.low = dot.high = 100.0 * count / of;
        dot.count = count;
        dot.of = of;
        dot.number = static_cast<int>(i) + 1;
        dot.hollow = point.otherEdition;
        if (interval) {
            dot.low = 100 * interval->low;
            dot.high = 100 * interval->high;
        }
        m_dots.push_back(dot);
    }
    setAccessibleDescription(learningSummary(points, m_what));
    setToolTip(accessibleDescription());
    rebuild();
}

void LearningPanel::rebuild() {
    chart()->removeAllSeries();
    for (QAbstractAxis* axis : chart()->axes()) {
        chart()->removeAxis(axis);
        delete axis;
    }
    const forms::Roles& roles = m_theme.roles();
    setBackgroundBrush(roles.ground);
    auto* x = new QValueAxis;
    auto* y = new QValueAxis;
    x->setRange(0.5, (m_dots.empty() ? 1 : m_dots.back().number) + 0.5);
    y->setRange(-kRoomForMarks, 100 + kRoomForMarks);
    for (QValueAxis* axis : {x, y}) {
        axis->setVisible(false);
        axis->setGridLineVisible(false);
    }
    chart()->addAxis(x, Qt::AlignBottom);
    chart()->addAxis(y, Qt::AlignLeft);
    const QColor hue = m_what == What::Shown ? roles.shown : roles.said;
    for (const bool hollow : {true, false}) {
        auto* series = new QScatterSeries;
        series->setMarkerShape(m_what == What::Shown ? QScatterSeries::MarkerShapeRectangle
                                                     : QScatterSeries::MarkerShapeCircle);
        series->setMarkerSize(m_theme.s(m_what == What::Shown ? 10 : 11));
        series->setBrush(hollow ? roles.ground : hue);
        series->setPen(QPen(hue, 2));
        for (const Dot& dot : m_dots)
            if (dot.hollow == hollow) series->append(dot.number, dot.percent);
        chart()->addSeries(series);
        series->attachAxis(x);
        series->attachAxis(y);
    }
    resizeEvent(nullptr);
    update();
}

void LearningPanel::resizeEvent(QResizeEvent* event) {
    if (event != nullptr) QChartView::resizeEvent(event);
    const double left = m_theme.s(44), right = m_theme.s(68), top = m_theme.s(10), bottom = m_theme.s(42);
    chart()->setPlotArea(
        QRectF(left, top, std::max(20.0, width() - left - right), std::max(20.0, height() - top - bottom)));
}

QString LearningPanel::whatWord() const {
    return m_what == What::Shown ? tr("shown") : tr("said");
}

QPointF LearningPanel::place(double number, double percent) const {
    if (chart()->series().isEmpty()) return {};
    return chart()->mapToPosition(QPointF(number, percent), chart()->series().constFirst());
}

void LearningPanel::drawBackground(QPainter* painter, const QRectF& rect) {
    QChartView::drawBackground(painter, rect);
    const forms::Roles& roles = m_theme.roles();
    const QRectF plot = chart()->plotArea();
    const QFont font = m_theme.font(13);
    painter->save();
    painter->setRenderHint(QPainter::Antialiasing, false);
    for (const int tick : {0, 25, 50, 75, 100}) {
        const double y = std::floor(place(1, tick).y());
        paintGridLine(*painter, QLineF(plot.left(), y + 0.5, plot.right(), y + 0.5), m_theme);
        forms::drawTextMiddleRight(*painter, plot.left() - m_theme.s(8), y, QString::number(tick), font,
                                   roles.muted);
    }
    drawGaps(*painter);
    const QColor hue = m_what == What::Shown ? roles.shown : roles.said;
    for (const Dot& dot : m_dots) {
        const QPointF low = place(dot.number, dot.low), high = place(dot.number, dot.high);
        painter->fillRect(QRectF(std::round(low.x()) - 1, high.y(), 2, low.y() - high.y()), hue);
    }
    painter->restore();
}

void LearningPanel::drawGaps(QPainter& painter) const {
    const forms::Roles& roles = m_theme.roles();
    const QRectF plot = chart()->plotArea();
    const QFont font = m_theme.font(13);
    double free =
        plot.left() + m_theme.s(16) + QFontMetricsF(m_theme.font(15, true)).horizontalAdvance(whatWord());
    for (const Dot& dot : m_dots) {
        if (dot.gapDays == 0) continue;
        const double x = std::floor(place(dot.number - 0.5, 0).x());
        painter.setPen(QPen(roles.muted, std::max(1.0, roles.minStroke), Qt::DotLine));
        painter.drawLine(QLineF(x, plot.top(), x, plot.bottom()));
        // At the foot, where there is seldom a dot; left out where it would touch.
        const QString text = tr("%n day(s)", "between two attempts", dot.gapDays);
        const double w = QFontMetricsF(font).horizontalAdvance(text);
        const double left = std::clamp(x - w / 2, plot.left(), plot.right() - w);
        if (left < free) continue;
        const double y = plot.bottom() - m_theme.s(12);
        painter.fillRect(QRectF(left - 3, y - m_theme.s(9), w + 6, m_theme.s(18)), roles.ground);
        forms::drawTextMiddle(painter, left, y, text, font, roles.muted);
        free = left + w + m_theme.s(8);
    }
}

void LearningPanel::drawDates(QPainter& painter) const {
    // Number and date of each attempt under the axis, the last first; left out where they would touch.
    const forms::Roles& roles = m_theme.roles();
    const QRectF plot = chart()->plotArea();
    const QFont font = m_theme.font(13);
    const QFontMetricsF metrics(font);
    const double numbers = plot.bottom() + m_theme.s(13), dates = plot.bottom() + m_theme.s(30);
    double free = width();
    for (auto dot = m_dots.rbegin(); dot != m_dots.rend(); ++dot) {
        const QString number = QString::number(dot->number), date = shortDate(dot->date);
        const double half = std::max(metrics.horizontalAdvance(number), metrics.horizontalAdvance(date)) / 2;
        const double x = place(dot->number, 0).x();
        if (x + half + m_theme.s(6) > free) continue;
        forms::drawTextMiddle(painter, x - metrics.horizontalAdvance(number) / 2, numbers, number, font,
                              roles.muted);
        forms::drawTextMiddle(painter, x - metrics.horizontalAdvance(date) / 2, dates, date, font,
                              roles.muted);
        free = x - half;
    }
    forms::drawTextMiddle(painter, plot.right() + m_theme.s(8), numbers, tr("attempt"), font, roles.muted);
}

void LearningPanel::drawForeground(QPainter* painter, const QRectF& rect) {
    QChartView::drawForeground(painter, rect);
    const forms::Roles& roles = m_theme.roles();
    const QRectF plot = chart()->plotArea();
    const QFont font = m_theme.font(13);
    const QColor hue = m_what == What::Shown ? roles.shown : roles.said;
    painter->save();
    forms::drawTextMiddle(*painter, plot.left() + m_theme.s(8), plot.bottom() - m_theme.s(14), whatWord(),
                          m_theme.font(15, true), hue);
    drawDates(*painter);
    if (!m_dots.empty()) {
        const Dot& last = m_dots.back();
        const double at = std::clamp(place(last.number, last.percent).y(), plot.top() + m_theme.s(8),
                                     plot.bottom() - m_theme.s(26));
        forms::drawTextMiddle(*painter, plot.right() + m_theme.s(8), at, percentText(last.percent),
                              m_theme.font(18, true), hue);
        forms::drawTextMiddle(*painter, plot.right() + m_theme.s(8), at + m_theme.s(20),
                              QStringLiteral("%1/%2").arg(last.count).arg(last.of), font, roles.muted);
    }
    if (hasFocus()) {
        painter->setPen(QPen(roles.ink, 3));
        painter->setBrush(Qt::NoBrush);
        painter->drawRect(QRectF(viewport()->rect()).adjusted(1.5, 1.5, -1.5, -1.5));
    }
    painter->restore();
}

std::vector<Column> learningColumns() {
    return {{LearningPanel::tr("attempt"), true},     {LearningPanel::tr("date")},
            {LearningPanel::tr("day"), true},         {LearningPanel::tr("steps shown"), true},
            {LearningPanel::tr("shown"), true},       {LearningPanel::tr("shown, interval")},
            {LearningPanel::tr("points said"), true}, {LearningPanel::tr("said"), true},
            {LearningPanel::tr("said, interval")},    {LearningPanel::tr("edition"), true}};
}

std::vector<Row> learningRows(const std::vector<core::ScoredAttempt>& history) {
    std::vector<Row> rows;
    const auto points = core::learningPoints(history);
    const auto range = [](const std::optional<core::Interval>& interval) {
        return interval ? LearningPanel::tr("%1 to %2")
                              .arg(percentText(100 * interval->low), percentText(100 * interval->high))
                        : QString();
    };
    const auto share = [](int count, int of) { return of > 0 ? percentText(100.0 * count / of) : QString(); };
    for (std::size_t i = 0; i < points.size(); ++i) {
        const core::LearningPoint& point = points[i];
        const core::AttemptHeader& header = history[i].attempt.header;
        rows.push_back({qs(point.attempt),
                        {Cell{QString::number(i + 1)}, Cell{longDate(startedAt(header.started).date())},
                         sortedCell(QString::number(qRound(point.days)), point.days),
                         Cell{LearningPanel::tr("%1 of %2").arg(point.shownCount).arg(point.shownOf)},
                         Cell{share(point.shownCount, point.shownOf)}, Cell{range(point.shown)},
                         Cell{LearningPanel::tr("%1 of %2").arg(point.saidCount).arg(point.saidOf)},
                         Cell{share(point.saidCount, point.saidOf)}, Cell{range(point.said)},
                         Cell{QString::number(header.edition)}}});
    }
    return rows;
}

QString trendWords(const core::PercentTrend& trend) {
    if (!trend.trend)
        return trend.attempts < core::kFewestForTrend
                   ? LearningPanel::tr("%n whole attempt(s): no trend claimed under four.", nullptr,
                                       trend.attempts)
                   : LearningPanel::tr("All whole attempts on one day: no trend claimed.");
    const auto aWeek = [](double perDay) { return numberText(std::round(70 * perDay) / 10); };
    const core::Trend& slope = *trend.trend;
    const QString range = LearningPanel::tr("95 %: %1 to %2").arg(aWeek(slope.low), aWeek(slope.high));
    if (slope.low <= 0 && slope.high >= 0)
        return LearningPanel::tr("Over %n whole attempt(s) no clear trend (points a week, %1).", nullptr,
                                 trend.attempts)
            .arg(range);
    return (slope.slope > 0
                ? LearningPanel::tr("Trend over %n whole attempt(s): %1 points more a week (%2).", nullptr,
                                    trend.attempts)
                      .arg(aWeek(slope.slope), range)
                : LearningPanel::tr("Trend over %n whole attempt(s): %1 points fewer a week (%2).", nullptr,
                                    trend.attempts)
                      .arg(aWeek(-slope.slope), range));
}

QString learningSummary(const std::vector<core::LearningPoint>& points, LearningPanel::What what) {
    if (points.empty()) return LearningPanel::tr("No attempt yet.");
    const bool shown = what == LearningPanel::What::Shown;
    const auto count = [shown](const core::LearningPoint& p) { return shown ? p.shownCount : p.saidCount; };
    const auto of = [shown](const core::LearningPoint& p) { return shown ? p.shownOf : p.saidOf; };
    const auto share = [&](const core::LearningPoint& p) {
        return percentText(of(p) > 0 ? 100.0 * count(p) / of(p) : 0);
    };
    const QString word = shown ? LearningPanel::tr("Steps shown") : LearningPanel::tr("Points said");
    const core::LearningPoint& last = points.back();
    if (points.size() == 1)
        return LearningPanel::tr("%1: %2 (%3 of %4) in the only attempt; no trend yet.")
            .arg(word, share(last))
            .arg(count(last))
            .arg(of(last));
    return LearningPanel::tr("%1: %2 (%3 of %4) at attempt %5, %6 at the first.")
        .arg(word, share(last))
        .arg(count(last))
        .arg(of(last))
        .arg(points.size())
        .arg(share(points.front()));
}

}  // namespace markerlamp::app
