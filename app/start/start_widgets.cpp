// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/start/start_widgets.h"

#include "forms/signs/signs.h"

#include <QFontMetricsF>
#include <QKeyEvent>
#include <QPainter>
#include <QStylePainter>

#include <algorithm>

namespace markerlamp::app {

namespace {

/// Left edge of something `width` wide that the reader meets at `x` when reading begins.
double mirrored(const QWidget& widget, double x, double width) {
    return widget.layoutDirection() == Qt::RightToLeft ? widget.width() - x - width : x;
}

void drawFrom(QPainter& painter, const QWidget& widget, double x, double yc, const QString& text,
              const QFont& font, const QColor& color) {
    if (widget.layoutDirection() == Qt::RightToLeft)
        forms::drawTextMiddleRight(painter, widget.width() - x, yc, text, font, color);
    else
        forms::drawTextMiddle(painter, x, yc, text, font, color);
}

}  // namespace

void paintOutline(QPainter& painter, const QRectF& rect, const QColor& color, double width, double radius,
                  bool dashed) {
    painter.setRenderHint(QPainter::Antialiasing);
    QPen pen(color, width);
    if (dashed) pen.setDashPattern({4 / width, 4 / width});
    painter.setPen(pen);
    painter.setBrush(Qt::NoBrush);
    painter.drawRoundedRect(rect.adjusted(width / 2, width / 2, -width / 2, -width / 2), radius, radius);
}

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
    const auto s = [this](double v) { return m_theme.s(v); };
    const QRectF row = QRectF(option.rect).adjusted(s(4), s(2), -s(4), -s(2));
    const bool selected = (option.state & QStyle::State_Selected) != 0;
    const bool focused = (option.state & QStyle::State_HasFocus) != 0;
    const bool mirrored = option.direction == Qt::RightToLeft;
    painter->save();
    painter->setClipRect(option.rect);
    if (selected) {
        painter->fillRect(row, roles.panel);
        painter->fillRect(QRectF(mirrored ? row.right() - s(6) : row.left(), row.top(), s(6), row.height()),
                          roles.ink);
        paintOutline(*painter, row, roles.ink, s(2), s(4));
    } else {
        const double hair = qMax(1.0, roles.minStroke);
        painter->fillRect(
            QRectF(row.left() + s(8), option.rect.bottom() + 1 - hair, row.width() - s(16), hair),
            roles.hair);
        if (focused) paintOutline(*painter, row, roles.ink, s(2), s(4), true);
    }
    const QString right = index.data(Right).toString();
    const QFont rightFont = m_theme.font(15, index.data(RightBold).toBool());
    const QFont nameFont = m_theme.font(18, selected);
    const QFont belowFont = m_theme.font(15);
    const double room = row.width() - s(12) - s(36) - QFontMetricsF(rightFont).horizontalAdvance(right);
    const QString name =
        QFontMetricsF(nameFont).elidedText(index.data(Qt::DisplayRole).toString(), Qt::ElideRight, room);
    const QString below =
        QFontMetricsF(belowFont).elidedText(index.data(Below).toString(), Qt::ElideRight, room);
    const double yName = row.top() + s(16), yBelow = row.top() + s(36), yRight = row.center().y();
    const double start = row.left() + s(16), end = row.right() - s(12);
    if (mirrored) {
        forms::drawTextMiddleRight(*painter, row.right() - s(16), yName, name, nameFont, roles.ink);
        forms::drawTextMiddleRight(*painter, row.right() - s(16), yBelow, below, belowFont, roles.muted);
        forms::drawTextMiddle(*painter, row.left() + s(12), yRight, right, rightFont, roles.ink);
    } else {
        forms::drawTextMiddle(*painter, start, yName, name, nameFont, roles.ink);
        forms::drawTextMiddle(*painter, start, yBelow, below, belowFont, roles.muted);
        forms::drawTextMiddleRight(*painter, end, yRight, right, rightFont, roles.ink);
    }
    painter->restore();
}

TraineeList::TraineeList(const Theme& theme, QWidget* parent) : QListView(parent), m_theme(theme) {
    setItemDelegate(new TraineeDelegate(theme, this));
    setEditTriggers(QAbstractItemView::NoEditTriggers);
    setVerticalScrollMode(QAbstractItemView::ScrollPerPixel);
    setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
}

void TraineeList::setEmptyWords(const QString& words) {
    m_emptyWords = words;
    viewport()->update();
}

void TraineeList::keyPressEvent(QKeyEvent* event) {
    // The list would take Enter as well as let the page have it: two starts by one key.
    if (event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter)
        event->ignore();
    else
        QListView::keyPressEvent(event);
}

void TraineeList::resizeEvent(QResizeEvent* event) {
    QListView::resizeEvent(event);
    if (currentIndex().isValid()) scrollTo(currentIndex());
}

void TraineeList::paintEvent(QPaintEvent* event) {
    QListView::paintEvent(event);
    if (model() == nullptr || model()->rowCount() > 0) return;
    QPainter painter(viewport());
    const QFont font = m_theme.font(15);
    double y = m_theme.s(28);
    for (const QString& line : wrapped(m_emptyWords, font, viewport()->width() - m_theme.s(32), 4)) {
        drawFrom(painter, *viewport(), m_theme.s(16), y, line, font, m_theme.roles().muted);
        y += m_theme.s(22);
    }
}

TickBox::TickBox(const Theme& theme, const QString& words, QWidget* parent)
    : QCheckBox(words, parent), m_theme(theme) {
    setAccessibleName(words);
    setToolTip(words);
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
}

QSize TickBox::sizeHint() const {
    return {qRound(m_theme.s(160)), qRound(m_theme.s(36))};
}

QSize TickBox::minimumSizeHint() const {
    // Wide enough for the longest word: two lines hold the rest.
    double widest = 0;
    const QFontMetricsF metrics(m_theme.font(15));
    for (const QString& word : text().split(QLatin1Char(' ')))
        widest = std::max(widest, metrics.horizontalAdvance(word));
    return {qCeil(widest + m_theme.s(44)), qRound(m_theme.s(36))};
}

void TickBox::paintTick(QPainter& painter, const QRectF& box) const {
    const forms::Roles& roles = m_theme.roles();
    const auto s = [this](double v) { return m_theme.s(v); };
    const QColor color = !isEnabled() ? roles.line : isChecked() ? roles.ink : roles.muted;
    painter.fillRect(box, roles.ground);
    paintOutline(painter, box, color, s(2), s(3));
    if (!isChecked()) return;
    painter.setPen(QPen(color, s(3), Qt::SolidLine, Qt::FlatCap, Qt::MiterJoin));
    painter.drawPolyline(QPolygonF{{box.left() + box.width() * 0.2, box.center().y()},
                                   {box.left() + box.width() * 0.42, box.bottom() - box.height() * 0.25},
                                   {box.right() - box.width() * 0.18, box.top() + box.height() * 0.26}});
}

void TickBox::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    const forms::Roles& roles = m_theme.roles();
    const auto s = [this](double v) { return m_theme.s(v); };
    paintTick(painter, QRectF(mirrored(*this, s(4), s(24)), height() / 2.0 - s(12), s(24), s(24)));
    const QColor color = isChecked() ? roles.ink : roles.muted;
    const QFont font = m_theme.font(15);
    const double room = width() - s(42);
    const QStringList lines = wrapped(text(), font, room, 2);
    double y = height() / 2.0 - (static_cast<double>(lines.size()) - 1) * s(8.5);
    for (const QString& line : lines) {
        drawFrom(painter, *this, s(38), y, line, font, color);
        y += s(17);
    }
    if (hasFocus()) paintOutline(painter, rect(), roles.ink, s(3), s(4));
}

ZoneBox::ZoneBox(const Theme& theme, const QString& keyCaption, const QString& title, QWidget* parent)
    : TickBox(theme, title, parent), m_key(keyCaption) {}

QSize ZoneBox::sizeHint() const {
    return {qRound(theme().s(96)), qRound(theme().s(76))};
}

void ZoneBox::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    const forms::Roles& roles = theme().roles();
    const auto s = [this](double v) { return theme().s(v); };
    const QRectF all = rect();
    const bool taken = isChecked() && isEnabled();
    painter.fillRect(all, taken ? roles.panel : roles.ground);
    if (taken)
        paintOutline(painter, all, roles.ink, s(4), s(4));
    else
        paintOutline(painter, all, roles.line, s(qMax(1.0, roles.minStroke)), s(4), !isEnabled());
    const QColor words = !isEnabled() ? roles.line : isChecked() ? roles.ink : roles.muted;
    drawFrom(painter, *this, s(12), s(20), m_key, theme().font(18, true),
             isEnabled() ? roles.ink : roles.line);
    if (isEnabled()) paintTick(painter, QRectF(mirrored(*this, width() - s(33), s(22)), s(9), s(22), s(22)));
    const QFont font = theme().font(15);
    double y = s(43);
    for (const QString& line : wrapped(text(), font, all.width() - s(20), 2)) {
        drawFrom(painter, *this, s(12), y, line, font, words);
        y += s(19);
    }
    if (hasFocus()) paintOutline(painter, all.adjusted(s(6), s(6), -s(6), -s(6)), roles.ink, s(3), s(2));
}

ChoiceBox::ChoiceBox(const Theme& theme, const QString& name, double designPixels, QWidget* parent)
    : QComboBox(parent), m_theme(theme), m_pixels(designPixels) {
    setAccessibleName(name);
    setMinimumContentsLength(6);
    setSizeAdjustPolicy(QComboBox::AdjustToMinimumContentsLengthWithIcon);
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
    const auto apply = [this] { setFont(m_theme.font(m_pixels)); };
    connect(&theme, &Theme::changed, this, apply);
    apply();
}

void ChoiceBox::paintEvent(QPaintEvent*) {
    QStylePainter painter(this);
    QStyleOptionComboBox option;
    initStyleOption(&option);
    painter.drawComplexControl(QStyle::CC_ComboBox, option);
    const QRectF field =
        style()->subControlRect(QStyle::CC_ComboBox, &option, QStyle::SC_ComboBoxEditField, this);
    // Drawn here and not by the style, which cuts a long text off without a sign.
    QFont text = font();
    const double room = field.width() - m_theme.s(4);
    if (QFontMetricsF(text).horizontalAdvance(currentText()) > room) text = m_theme.font(15);
    if (QFontMetricsF(text).horizontalAdvance(currentText()) > room) text = m_theme.font(13);
    const QString shown = QFontMetricsF(text).elidedText(currentText(), Qt::ElideRight, room);
    setToolTip(shown == currentText() ? QString() : currentText());
    const QColor color = palette().color(isEnabled() ? QPalette::Active : QPalette::Disabled, QPalette::Text);
    if (layoutDirection() == Qt::RightToLeft)
        forms::drawTextMiddleRight(painter, field.right(), height() / 2.0, shown, text, color);
    else
        forms::drawTextMiddle(painter, field.left(), height() / 2.0, shown, text, color);
}

FitText::FitText(const Theme& theme, std::vector<double> designPixels, QWidget* parent)
    : QLabel(parent), m_theme(theme), m_sizes(std::move(designPixels)) {
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
    connect(&theme, &Theme::changed, this, [this] {
        updateGeometry();
        update();
    });
}

QSize FitText::sizeHint() const {
    return {qRound(m_theme.s(200)), qCeil(QFontMetricsF(m_theme.font(m_sizes.front(), true)).height())};
}

QSize FitText::minimumSizeHint() const {
    return {qRound(m_theme.s(80)), sizeHint().height()};
}

void FitText::paintEvent(QPaintEvent*) {
    QFont font;
    QStringList lines;
    bool whole = false;
    for (int most = 1; most <= 2 && !whole; ++most)
        for (const double size : m_sizes) {
            const QFont next = m_theme.font(size, true);
            if (most > 1 && QFontMetricsF(next).capHeight() * 2 + m_theme.s(12) > height()) continue;
            font = next;
            lines = wrapped(text(), font, width(), most);
            whole = lines.join(QLatin1Char(' ')) == text().simplified();
            if (whole) break;
        }
    setToolTip(whole ? QString() : text());
    QPainter painter(this);
    const double pitch = QFontMetricsF(font).capHeight() + m_theme.s(10);
    double y = height() / 2.0 - (static_cast<double>(lines.size()) - 1) * pitch / 2;
    for (const QString& line : lines) {
        drawFrom(painter, *this, 0, y, line, font, m_theme.roles().ink);
        y += pitch;
    }
}

NumberedHead::NumberedHead(const Theme& theme, int number, const QString& title, QWidget* parent)
    : QWidget(parent), m_theme(theme), m_number(number), m_title(title) {
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
}

QSize NumberedHead::sizeHint() const {
    return {qRound(m_theme.s(200)), qRound(m_theme.s(32))};
}

void NumberedHead::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    const forms::Roles& roles = m_theme.roles();
    const auto s = [this](double v) { return m_theme.s(v); };
    const QRectF block(mirrored(*this, 0, s(32)), height() / 2.0 - s(16), s(32), s(32));
    paintOutline(painter, block, roles.ink, s(2), s(4));
    const QFont font = m_theme.font(18, true);
    const QString number = QString::number(m_number);
    forms::drawTextMiddle(painter, block.center().x() - QFontMetricsF(font).horizontalAdvance(number) / 2,
                          block.center().y(), number, font, roles.ink);
    drawFrom(painter, *this, s(44), block.center().y(), m_title, font, roles.ink);
}

HairLine::HairLine(const Theme& theme, QWidget* parent) : QWidget(parent), m_theme(theme) {
    setFixedHeight(2);
}

void HairLine::paintEvent(QPaintEvent*) {
    const double width = qMax(1.0, m_theme.roles().minStroke);
    QPainter(this).fillRect(QRectF(0, 0, this->width(), width), m_theme.roles().hair);
}

}  // namespace markerlamp::app
