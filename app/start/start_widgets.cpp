// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/start/start_widgets.h"

#include "forms/signs/signs.h"

#include <QFontMetricsF>
#include <QPainter>

namespace markerlamp::app {

namespace {

void outline(QPainter& painter, const QRectF& rect, const QColor& color, double width, double radius) {
    painter.setRenderHint(QPainter::Antialiasing);
    painter.setPen(QPen(color, width));
    painter.setBrush(Qt::NoBrush);
    painter.drawRoundedRect(rect.adjusted(width / 2, width / 2, -width / 2, -width / 2), radius, radius);
}

}  // namespace

QStringList wrapped(const QString& text, const QFont& font, double width, int most) {
    const QFontMetricsF metrics(font);
    QStringList lines;
    for (const QString& word : text.split(QLatin1Char(' '), Qt::SkipEmptyParts)) {
        if (!lines.isEmpty() && metrics.horizontalAdvance(lines.last() + QLatin1Char(' ') + word) <= width)
            lines.last() += QLatin1Char(' ') + word;
        else if (lines.size() < most)
            lines << word;
        else
            lines.last() += QLatin1Char(' ') + word;
    }
    for (QString& line : lines) line = metrics.elidedText(line, Qt::ElideRight, width);
    return lines;
}

TraineeDelegate::TraineeDelegate(const Theme& theme, QObject* parent)
    : QStyledItemDelegate(parent), m_theme(theme) {}

QSize TraineeDelegate::sizeHint(const QStyleOptionViewItem&, const QModelIndex&) const {
    return {0, qRound(m_theme.s(52))};
}

void TraineeDelegate::paint(QPainter* painter, const QStyleOptionViewItem& option,
                            const QModelIndex& index) const {
    const forms::Roles& roles = m_theme.roles();
    const QRectF row = option.rect;
    const bool selected = (option.state & QStyle::State_Selected) != 0;
    const auto s = [this](double v) { return m_theme.s(v); };
    painter->save();
    if (selected) {
        painter->fillRect(row, roles.panel);
        painter->fillRect(QRectF(row.left(), row.top(), s(6), row.height()), roles.ink);
        outline(*painter, row, roles.ink, s(2), s(4));
    } else {
        painter->fillRect(QRectF(row.left() + s(8), row.bottom(), row.width() - s(16), 1), roles.hair);
    }
    const QString right = index.data(Right).toString();
    const QFont rightFont = m_theme.font(15, index.data(RightBold).toBool());
    const double rightWidth = QFontMetricsF(rightFont).horizontalAdvance(right);
    const double x = row.left() + s(16);
    const double room = row.width() - s(44) - rightWidth;
    forms::drawTextMiddle(*painter, x, row.top() + s(18), index.data(Qt::DisplayRole).toString(),
                          m_theme.font(18, selected), roles.ink, room);
    forms::drawTextMiddle(*painter, x, row.top() + s(38), index.data(Below).toString(), m_theme.font(15),
                          roles.muted, room);
    forms::drawTextMiddleRight(*painter, row.right() - s(12), row.center().y(), right, rightFont, roles.ink);
    painter->restore();
}

ZoneBox::ZoneBox(const Theme& theme, const QString& keyCaption, const QString& title, QWidget* parent)
    : QAbstractButton(parent), m_theme(theme), m_key(keyCaption) {
    setCheckable(true);
    setText(title);
    setAccessibleName(title);
    setToolTip(title);
    setFocusPolicy(Qt::StrongFocus);
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Preferred);
}

QSize ZoneBox::sizeHint() const {
    return {qRound(m_theme.s(96)), qRound(m_theme.s(76))};
}

void ZoneBox::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    const forms::Roles& roles = m_theme.roles();
    const auto s = [this](double v) { return m_theme.s(v); };
    const QRectF all = rect();
    painter.fillRect(all, isChecked() ? roles.panel : roles.ground);
    outline(painter, all, isChecked() ? roles.ink : roles.line,
            isChecked() ? s(4) : s(qMax(1.0, roles.minStroke)), s(4));
    if (hasFocus()) outline(painter, all.adjusted(s(6), s(6), -s(6), -s(6)), roles.ink, s(2), s(2));
    forms::drawTextMiddle(painter, s(11), s(20), m_key, m_theme.font(18, true), roles.ink);
    const QRectF box(all.right() - s(32), s(9), s(21), s(21));
    outline(painter, box, roles.ink, s(2), s(2));
    if (isChecked()) {
        painter.setPen(QPen(roles.ink, s(3), Qt::SolidLine, Qt::FlatCap, Qt::MiterJoin));
        painter.drawPolyline(QPolygonF{{box.left() + s(4), box.center().y()},
                                       {box.left() + s(9), box.bottom() - s(5)},
                                       {box.right() - s(4), box.top() + s(5)}});
    }
    double y = s(42);
    const QFont font = m_theme.font(15);
    for (const QString& line : wrapped(text(), font, all.width() - s(18), 2)) {
        forms::drawTextMiddle(painter, s(11), y, line, font, isChecked() ? roles.ink : roles.muted);
        y += s(18);
    }
}

NumberedHead::NumberedHead(const Theme& theme, int number, const QString& title, QWidget* parent)
    : QWidget(parent), m_theme(theme), m_number(number), m_title(title) {}

QSize NumberedHead::sizeHint() const {
    return {qRound(m_theme.s(200)), qRound(m_theme.s(36))};
}

void NumberedHead::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    const forms::Roles& roles = m_theme.roles();
    const auto s = [this](double v) { return m_theme.s(v); };
    const QRectF block(0, height() / 2.0 - s(15), s(30), s(30));
    outline(painter, block, roles.ink, s(2), s(4));
    const QFont font = m_theme.font(18, true);
    const QString number = QString::number(m_number);
    forms::drawTextMiddle(painter, block.center().x() - QFontMetricsF(font).horizontalAdvance(number) / 2,
                          block.center().y(), number, font, roles.ink);
    forms::drawTextMiddle(painter, s(44), block.center().y(), m_title, font, roles.ink);
}

ResumeCard::ResumeCard(const Theme& theme, QWidget* parent) : QWidget(parent), m_theme(theme) {}

void ResumeCard::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    const forms::Roles& roles = m_theme.roles();
    painter.fillRect(rect(), roles.panel);
    painter.fillRect(QRectF(0, 0, m_theme.s(6), height()), roles.ink);
    outline(painter, rect(), roles.ink, m_theme.s(2), m_theme.s(4));
}

}  // namespace markerlamp::app
