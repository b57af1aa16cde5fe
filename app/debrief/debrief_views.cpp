// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/debrief/debrief_views.h"

#include "app/support/display.h"
#include "app/support/sign_widgets.h"

#include <QGridLayout>
#include <QHBoxLayout>
#include <QPainter>
#include <QVBoxLayout>

#include <utility>

namespace markerlamp::app {

ResultStrip::ResultStrip(const Theme& theme, QWidget* parent)
    : QWidget(parent), m_theme(theme), m_row(new QHBoxLayout(this)) {
    m_row->setContentsMargins(qRound(theme.s(16)), qRound(theme.s(10)), qRound(theme.s(16)),
                              qRound(theme.s(8)));
    m_row->setSpacing(qRound(theme.s(16)));
    connect(&theme, &Theme::changed, this, qOverload<>(&QWidget::update));
}

void ResultStrip::setDebrief(const Debrief& debrief) {
    clearLayout(m_row);
    auto* words = new QVBoxLayout;
    words->setSpacing(qRound(m_theme.s(2)));
    words->addWidget(new Text(m_theme, 25, true, Ink::Full, debrief.result));
    words->addWidget(new Text(m_theme, 15, false, Ink::Full, debrief.resultLine));
    if (!debrief.reasons.isEmpty()) {
        auto* reasons = new Text(m_theme, 13, false, Ink::Muted, debrief.reasons);
        reasons->setWordWrap(true);
        reasons->setToolTip(debrief.reasons);
        reasons->setMaximumHeight(2 * QFontMetrics(reasons->font()).lineSpacing());
        words->addWidget(reasons);
    }
    m_row->addLayout(words, 4);
    auto* counts = new QHBoxLayout;
    counts->setSpacing(qRound(m_theme.s(18)));
    for (const CountFact& fact : debrief.counts) {
        auto* cell = new QVBoxLayout;
        cell->setSpacing(0);
        auto* number = new Text(m_theme, 25, true, Ink::Full, QString::number(fact.count));
        number->setFont(m_theme.mono(25, true));
        number->setAccessibleName(QStringLiteral("%1 %2").arg(fact.count).arg(fact.words));
        cell->addStretch(1);
        cell->addWidget(number);
        cell->addWidget(new Text(m_theme, 13, false, Ink::Muted, fact.words));
        cell->addStretch(1);
        counts->addLayout(cell);
    }
    m_row->addLayout(counts);
    if (debrief.mustPass.empty()) return;
    auto* facts = new QGridLayout;
    facts->setHorizontalSpacing(qRound(m_theme.s(8)));
    facts->setVerticalSpacing(qRound(m_theme.s(3)));
    facts->setContentsMargins(qRound(m_theme.s(16)), 0, 0, 0);
    int line = 0;
    for (const MustPassFact& fact : debrief.mustPass) {
        facts->addWidget(new GateWidget(m_theme, fact.state), line, 0);
        facts->addWidget(new Text(m_theme, 13, false, Ink::Full, fact.text), line++, 1);
    }
    m_row->addLayout(facts);
}

void ResultStrip::paintEvent(QPaintEvent* event) {
    Q_UNUSED(event)
    QPainter painter(this);
    painter.fillRect(rect(), m_theme.roles().panel);
    if (m_theme.roles().panel == m_theme.roles().ground) {
        painter.setPen(QPen(m_theme.roles().line, m_theme.roles().minStroke));
        painter.drawRect(QRectF(rect()).adjusted(1, 1, -1, -1));
    }
}

SayNextList::SayNextList(const Theme& theme, QWidget* parent)
    : QWidget(parent), m_theme(theme), m_rows(new QVBoxLayout(this)) {
    m_rows->setContentsMargins(0, 0, 0, 0);
    m_rows->setSpacing(0);
}

void SayNextList::setDebrief(const Debrief& debrief) {
    clearLayout(m_rows);
    int rows = 0;
    for (const MissedLine& line : debrief.missed) {
        if (rows == kSayNextLines) break;
        m_rows->addWidget(makeRow(line));
        auto* rule = new QFrame;
        rule->setFrameShape(QFrame::HLine);
        rule->setFixedHeight(1);
        rule->setStyleSheet(QStringLiteral("background:%1;border:0").arg(m_theme.roles().hair.name()));
        m_rows->addWidget(rule);
        ++rows;
    }
    if (rows == 0) {
        auto* none = new Text(m_theme, 15, false, Ink::Full,
                              tr("Every step that was observed was satisfied. Nothing to correct."));
        none->setContentsMargins(0, qRound(m_theme.s(12)), 0, 0);
        m_rows->addWidget(none);
    }
}

void SayNextList::mark(const QString& step) {
    m_marked = step;
    update();
}

void SayNextList::paintEvent(QPaintEvent*) {
    if (m_marked.isEmpty()) return;
    const auto rows = findChildren<QWidget*>(m_marked, Qt::FindDirectChildrenOnly);
    QPainter painter(this);
    for (const QWidget* row : rows)
        if (row->isVisible()) {
            painter.fillRect(row->geometry(), m_theme.roles().panel);
            painter.fillRect(
                QRectF(row->x() + row->width() - m_theme.s(6), row->y(), m_theme.s(6), row->height()),
                m_theme.roles().ink);
        }
}

QWidget* SayNextList::makeRow(const MissedLine& line) {
    auto* row = new QWidget;
    row->setObjectName(qs(line.say.step));
    auto* grid = new QGridLayout(row);
    grid->setContentsMargins(0, qRound(m_theme.s(5)), 0, qRound(m_theme.s(5)));
    grid->setHorizontalSpacing(qRound(m_theme.s(8)));
    grid->setVerticalSpacing(qRound(m_theme.s(1)));
    auto* rank = new Text(m_theme, 25, true, Ink::Full, QString::number(line.rank));
    rank->setFixedWidth(qRound(m_theme.s(26)));
    grid->addWidget(rank, 0, 0, 2, 1, Qt::AlignTop);
    auto* title =
        new Text(m_theme, 15, true, Ink::Full,
                 QStringLiteral("<b>%1</b> <span style='font-weight:normal;font-size:%2px'>&nbsp;%3</span>")
                     .arg(qs(line.say.title).toHtmlEscaped())
                     .arg(qRound(m_theme.s(13)))
                     .arg((line.say.mustPass ? tr("%1, must pass", "zone").arg(qs(line.say.zoneTitle))
                                             : qs(line.say.zoneTitle))
                              .toHtmlEscaped()));
    title->setTextFormat(Qt::RichText);
    grid->addWidget(title, 0, 1);
    grid->addWidget(new SignWidget(m_theme, line.sign, line.lampWords), 0, 2);
    grid->addWidget(new RecentWidget(m_theme, line.say.recent), 0, 3, Qt::AlignRight);
    auto* sentence = new Text(m_theme, 15, false, Ink::Full, line.sentence);
    sentence->setTextFormat(Qt::RichText);
    sentence->setWordWrap(true);
    grid->addWidget(sentence, 1, 1, 1, 2);
    auto* missed = new Text(m_theme, 13, false, Ink::Muted,
                            tr("missed %1 of %2").arg(line.say.missedRecent).arg(line.say.seenRecent));
    grid->addWidget(missed, 1, 3, Qt::AlignRight | Qt::AlignTop);
    grid->setColumnStretch(1, 1);
    return row;
}

PlanView::PlanView(const Theme& theme, QWidget* parent) : QWidget(parent), m_theme(theme) {
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
    connect(&theme, &Theme::changed, this, qOverload<>(&QWidget::update));
}

void PlanView::setDebrief(const Debrief& debrief) {
    m_plan = debrief.plan;
    m_rows = debrief.planRows;
    QStringList words;
    for (const PlanFact& fact : m_plan)
        if (fact.inScope) words << tr("%1 %2 of %3").arg(fact.title).arg(fact.satisfied).arg(fact.observed);
    setAccessibleName(tr("Plan of the bus"));
    setAccessibleDescription(
        tr("Satisfied of observed steps by zone: %1").arg(words.join(tr(", ", "between zones"))));
    updateGeometry();
    update();
}

QSize PlanView::sizeHint() const {
    return {qRound(m_theme.s(402)), qRound(m_theme.s(20 + 60 * m_rows + 2))};
}

void PlanView::paintEvent(QPaintEvent* event) {
    Q_UNUSED(event)
    QPainter painter(this);
    const forms::Roles& roles = m_theme.roles();
    const QFont small = m_theme.font(13);
    const double top = m_theme.s(20);
    forms::drawTextMiddle(painter, 0, m_theme.s(9), tr("nose"), small, roles.muted);
    forms::drawTextMiddleRight(painter, width(), m_theme.s(9), tr("tail"), small, roles.muted);
    const double w = (width() - 1.0) / 4;
    const double h = (height() - top - 1) / m_rows;
    for (const PlanFact& fact : m_plan) {
        const QRectF cell(std::floor(fact.column * w), std::floor(top + fact.row * h), std::floor(w),
                          std::floor(h));
        paintCell(painter, cell, fact);
    }
    painter.setPen(QPen(roles.line, std::max(1.0, roles.minStroke)));
    painter.setBrush(Qt::NoBrush);
    for (int column = 0; column < 4; ++column)
        for (int row = 0; row < m_rows; ++row)
            painter.drawRect(QRectF(std::floor(column * w) + 0.5, std::floor(top + row * h) + 0.5,
                                    std::floor(w), std::floor(h)));
}

void PlanView::paintCell(QPainter& painter, const QRectF& cell, const PlanFact& fact) const {
    const forms::Roles& roles = m_theme.roles();
    const double x = cell.left() + m_theme.s(14);
    const double room = cell.right() - x - m_theme.s(3);
    const QFont count = m_theme.font(15, fact.weak);
    QFont name = m_theme.font(13, fact.weak);
    if (!fact.inScope) {
        forms::drawTextMiddle(painter, x, cell.top() + m_theme.s(20), tr("not asked"), m_theme.font(13),
                              roles.muted);
        forms::drawTextMiddle(painter, x, cell.top() + m_theme.s(42), fact.title, m_theme.font(13),
                              roles.muted, room);
        return;
    }
    // The share as a column at the left edge; text never stands on it.
    const double column = m_theme.s(8);
    painter.fillRect(QRectF(cell.left() + column, cell.top(), 1, cell.height()), roles.hair);
    if (fact.observed > 0) {
        const double share = static_cast<double>(fact.satisfied) / fact.observed;
        painter.fillRect(
            QRectF(cell.left() + 1, cell.bottom() - cell.height() * share, column, cell.height() * share),
            roles.muted);
    }
    const QString figure =
        fact.observed == 0 ? tr("not seen") : QStringLiteral("%1/%2").arg(fact.satisfied).arg(fact.observed);
    forms::drawTextMiddle(painter, x, cell.top() + m_theme.s(20), figure, count, roles.ink);
    const QFontMetricsF metrics(name);
    if (metrics.horizontalAdvance(fact.title) > room) {
        // Two lines rather than a cut word.
        const qsizetype gap = fact.title.lastIndexOf(
            QLatin1Char(' '),
            -1 - std::max<qsizetype>(
                     0, fact.title.size() - 1 - static_cast<qsizetype>(room / metrics.averageCharWidth())));
        if (gap > 0) {
            forms::drawTextMiddle(painter, x, cell.top() + m_theme.s(36), fact.title.left(gap), name,
                                  roles.ink, room);
            forms::drawTextMiddle(painter, x, cell.top() + m_theme.s(50), fact.title.mid(gap + 1), name,
                                  roles.ink, room);
            return;
        }
    }
    forms::drawTextMiddle(painter, x, cell.top() + m_theme.s(42), fact.title, name, roles.ink, room);
}

OrderView::OrderView(const Theme& theme, QWidget* parent) : QWidget(parent), m_theme(theme) {
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
    connect(&theme, &Theme::changed, this, qOverload<>(&QWidget::update));
}

void OrderView::setDebrief(const Debrief& debrief) {
    m_picture = debrief.order;
    setAccessibleName(tr("Order"));
    QStringList sentences;
    for (const OrderGroup& group : m_picture.groups) sentences << group.sentence;
    setAccessibleDescription(m_picture.displaced == 0
                                 ? tr("All steps were done in an order that the rules allow.")
                                 : sentences.join(QLatin1Char('\n')));
    setToolTip(accessibleDescription());
    updateGeometry();
    update();
}

QSize OrderView::sizeHint() const {
    return {qRound(m_theme.s(296)), qRound(m_theme.s(200))};
}

void OrderView::paintEvent(QPaintEvent* event) {
    Q_UNUSED(event)
    QPainter painter(this);
    const forms::Roles& roles = m_theme.roles();
    const QFont small = m_theme.font(13);
    const auto n = static_cast<double>(m_picture.ticks.size());
    forms::drawTextMiddle(painter, m_theme.s(6), m_theme.s(12), tr("as done"), small, roles.muted);
    const double upper = m_theme.s(38), lower = m_theme.s(148);
    const double left = m_theme.s(6), span = width() - 2 * left;
    const auto x = [&](int place) { return std::floor(left + span * (place + 0.5) / std::max(1.0, n)); };
    const double thin = std::max(1.0, roles.minStroke / 2);
    for (const OrderTick& tick : m_picture.ticks) {
        const double w = tick.displaced ? 2 : thin;
        const double h = m_theme.s(tick.displaced ? 24 : 16);
        const QColor color = tick.displaced ? roles.ink : roles.line;
        painter.fillRect(QRectF(x(tick.done), upper - h / 2, w, h), color);
        painter.fillRect(QRectF(x(tick.belongs), lower - h / 2, w, h), color);
    }
    const double base = lower + m_theme.s(15);
    painter.fillRect(QRectF(left, base, span, 1), roles.line);
    for (const int bound : m_picture.zoneBounds)
        painter.fillRect(QRectF(std::floor(left + span * bound / std::max(1.0, n)), base, 1, m_theme.s(5)),
                         roles.line);
    forms::drawTextMiddle(painter, left, base + m_theme.s(18), tr("in order"), small, roles.muted);
    forms::drawTextMiddleRight(painter, left + span, base + m_theme.s(18), tr("ticks: zones"), small,
                               roles.muted);
    painter.setRenderHint(QPainter::Antialiasing);
    const double bandTop = upper + m_theme.s(12), bandBottom = lower - m_theme.s(12);
    double textY = bandTop + m_theme.s(16);
    int labels = 0;
    for (const OrderGroup& group : m_picture.groups) {
        const OrderTick& first = m_picture.ticks[static_cast<std::size_t>(group.ticks.front())];
        const OrderTick& last = m_picture.ticks[static_cast<std::size_t>(group.ticks.back())];
        const QPolygonF band{{QPointF(x(first.done), bandTop), QPointF(x(last.done) + 2, bandTop),
                              QPointF(x(last.belongs) + 2, bandBottom),
                              QPointF(x(first.belongs), bandBottom)}};
        painter.setPen(QPen(roles.ink, 1));
        painter.setBrush(roles.ink);
        painter.drawPolygon(band);
        if (labels++ == 4) continue;
        // Beside the link, on the side where there is room; a ground-coloured outline keeps it readable.
        const double along = (textY - bandTop) / (bandBottom - bandTop);
        const double linkX = x(first.done) + (x(first.belongs) - x(first.done)) * along;
        const double linkRight = x(last.done) + 2 + (x(last.belongs) - x(last.done)) * along;
        const QFontMetricsF metrics(small);
        const double roomRight = width() - linkRight - m_theme.s(10);
        const double roomLeft = linkX - m_theme.s(10);
        const bool right = roomRight >= roomLeft;
        const QString text = metrics.elidedText(group.label, Qt::ElideRight, right ? roomRight : roomLeft);
        const double textX =
            right ? linkRight + m_theme.s(8) : linkX - m_theme.s(8) - metrics.horizontalAdvance(text);
        painter.fillRect(
            QRectF(textX - 3, textY - m_theme.s(9), metrics.horizontalAdvance(text) + 6, m_theme.s(18)),
            roles.ground);
        forms::drawTextMiddle(painter, textX, textY, text, small, roles.ink);
        textY += m_theme.s(20);
    }
    if (m_picture.groups.empty() && n > 0)
        forms::drawTextMiddle(painter, left, (bandTop + bandBottom) / 2, tr("nothing out of place"), small,
                              roles.ink);
}

TraineeView::TraineeView(const Theme& theme, QWidget* parent)
    : QWidget(parent), m_theme(theme), m_column(new QVBoxLayout(this)) {
    const int side = qRound(theme.s(8));
    m_column->setContentsMargins(side, side, side, side);
    m_column->setSpacing(qRound(theme.s(10)));
}

void TraineeView::setDebrief(const Debrief& debrief) {
    clearLayout(m_column);
    constexpr double kEighteenPoints = 24;
    const auto add = [this](const QString& html, bool bold) {
        auto* text = new Text(m_theme, kEighteenPoints, bold, Ink::Full, html);
        text->setTextFormat(Qt::RichText);
        text->setWordWrap(true);
        m_column->addWidget(text);
    };
    int satisfied = 0, seen = 0;
    for (const PlanFact& fact : debrief.plan) {
        satisfied += fact.satisfied;
        seen += fact.observed;
    }
    add(tr("%1 of %2 steps complete.").arg(satisfied).arg(seen), false);
    const int count = std::min<int>(kSayNextLines, static_cast<int>(debrief.missed.size()));
    add(count > 0 ? tr("Next time") : tr("Nothing to correct: every step that was seen was complete."), true);
    for (int i = 0; i < count; ++i) {
        const MissedLine& line = debrief.missed[static_cast<std::size_t>(i)];
        add(QStringLiteral("<p style='margin:0 0 0 %1px;text-indent:-%1px'>%2&nbsp;&nbsp;<b>%3</b>: %4</p>")
                .arg(qRound(m_theme.s(32)))
                .arg(line.rank)
                .arg(qs(line.say.title).toHtmlEscaped(), line.sentence),
            false);
    }
    if (!debrief.order.groups.empty()) {
        add(tr("Order"), true);
        int shown = 0;
        for (const OrderGroup& group : debrief.order.groups) {
            if (shown++ == 3 || group.sentence.isEmpty()) break;
            add(group.sentence.toHtmlEscaped() + QLatin1Char('.'), false);
        }
    }
    bool first = true;
    for (int i = 0; i < count; ++i) {
        const MissedLine& line = debrief.missed[static_cast<std::size_t>(i)];
        if (line.caution.isEmpty()) continue;
        if (std::exchange(first, false)) add(tr("Take care"), true);
        add(QStringLiteral("<b>%1</b>: %2")
                .arg(qs(line.say.title).toHtmlEscaped(), line.caution.toHtmlEscaped()),
            false);
    }
    m_column->addStretch(1);
}

}  // namespace markerlamp::app
