// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/support/text_widgets.h"

#include "forms/signs/signs.h"

#include <QHBoxLayout>
#include <QPainter>
#include <QVBoxLayout>

#include <algorithm>

namespace markerlamp::app {

Text::Text(const Theme& theme, double designPixels, bool bold, Ink ink, const QString& text, QWidget* parent)
    : QLabel(text, parent), m_theme(theme), m_pixels(designPixels), m_bold(bold), m_ink(ink) {
    connect(&theme, &Theme::changed, this, &Text::applyTheme);
    applyTheme();
}

void Text::setInk(Ink ink) {
    m_ink = ink;
    applyTheme();
}

void Text::setElided() {
    m_elided = true;
    setSizePolicy(QSizePolicy::Ignored, QSizePolicy::Preferred);
}

void Text::paintEvent(QPaintEvent* event) {
    if (!m_elided) {
        QLabel::paintEvent(event);
        return;
    }
    const QFontMetrics metrics(font());
    const QRect place = contentsRect();
    const QString shown = metrics.elidedText(text(), Qt::ElideRight, place.width());
    setToolTip(shown == text() ? QString() : text());
    QPainter painter(this);
    painter.setFont(font());
    painter.setPen(palette().color(QPalette::WindowText));
    painter.drawText(place, static_cast<int>((alignment() & Qt::AlignHorizontal_Mask) | Qt::AlignVCenter),
                     shown);
}

void Text::applyTheme() {
    const forms::Roles& roles = m_theme.roles();
    setFont(m_theme.font(m_pixels, m_bold));
    QPalette p = palette();
    p.setColor(QPalette::WindowText, m_ink == Ink::Muted   ? roles.muted
                                     : m_ink == Ink::Shown ? roles.shown
                                     : m_ink == Ink::Said  ? roles.said
                                                           : roles.ink);
    p.setColor(QPalette::Link, roles.ink);
    setPalette(p);
}

QString factLine(QStringList facts) {
    for (QString& fact : facts) fact.replace(QLatin1Char(' '), QChar::Nbsp);
    // A line may end after the gap, never begin with a piece of it.
    return facts.join(QChar::Nbsp + QStringLiteral("  "));
}

BlockHead::BlockHead(const Theme& theme, const QString& title, QWidget* parent)
    : QWidget(parent),
      m_theme(theme),
      m_title(new Text(theme, 15, true, Ink::Full, title)),
      m_remark(new Text(theme, 13, false, Ink::Muted)),
      m_right(new Text(theme, 13, false, Ink::Muted)) {
    auto* row = new QHBoxLayout(this);
    // The room above the line belongs to the texts: a link, which is higher, moves no line.
    row->setContentsMargins(0, 0, 0, 0);
    for (Text* text : {m_title, m_remark, m_right}) text->setContentsMargins(0, 0, 0, qRound(theme.s(4)));
    row->setSpacing(qRound(theme.s(12)));
    row->addWidget(m_title, 0, Qt::AlignBottom);
    m_remark->setElided();
    row->addWidget(m_remark, 1, Qt::AlignBottom);
    row->addWidget(m_right, 0, Qt::AlignBottom);
    setSizePolicy(QSizePolicy::Preferred, QSizePolicy::Fixed);
    connect(&theme, &Theme::changed, this, qOverload<>(&QWidget::update));
}

void BlockHead::setRemark(const QString& remark) {
    m_remark->setText(remark);
}
void BlockHead::setRight(const QString& remark) {
    m_right->setText(remark);
}
void BlockHead::addRight(QWidget* widget) {
    static_cast<QHBoxLayout*>(layout())->addWidget(widget, 0, Qt::AlignBottom);
}

void BlockHead::paintEvent(QPaintEvent* event) {
    Q_UNUSED(event)
    QPainter painter(this);
    const double w = qMax(1.0, m_theme.roles().minStroke);
    painter.fillRect(QRectF(0, height() - w, width(), w), m_theme.roles().line);
}

KeyButton::KeyButton(const Theme& theme, const QString& verb, const QString& key, bool primary,
                     QWidget* parent)
    : QPushButton(verb, parent), m_theme(theme), m_key(key) {
    setProperty("primary", primary);
    setAutoDefault(false);
    setSizePolicy(QSizePolicy::Fixed, QSizePolicy::Fixed);
    connect(&theme, &Theme::changed, this, [this] { updateGeometry(); });
}

void KeyButton::standFor(QAction* action) {
    connect(this, &QPushButton::clicked, action, [action] { action->trigger(); });
    connect(action, &QAction::changed, this, [this, action] { setEnabled(action->isEnabled()); });
    setEnabled(action->isEnabled());
    setToolTip(action->statusTip());
    setStatusTip(action->statusTip());
}

void KeyButton::setLarge(bool bold) {
    m_large = true;
    m_bold = bold;
    updateGeometry();
    update();
}

QFont KeyButton::verbFont() const {
    return m_theme.font(m_large ? 18 : 15, m_bold);
}
QFont KeyButton::keyFont() const {
    return m_large ? m_theme.mono(15) : m_theme.font(13);
}

QSize KeyButton::sizeHint() const {
    const double verb = QFontMetricsF(verbFont()).horizontalAdvance(text());
    const double key = m_key.isEmpty() ? 0 : QFontMetricsF(keyFont()).horizontalAdvance(m_key) + m_theme.s(8);
    return {qCeil(verb + key + m_theme.s(m_large ? 36 : 26)), qCeil(m_theme.s(m_large ? 48 : 30))};
}

void KeyButton::paintEvent(QPaintEvent* event) {
    Q_UNUSED(event)
    // Painted whole: the focus is a ring outside the fill, which a style sheet cannot draw.
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    const forms::Roles& roles = m_theme.roles();
    const bool primary = property("primary").toBool();
    const bool filled =
        primary && roles.filledPrimary && isEnabled() && m_theme.choice() != Theme::Choice::System;
    const QColor ink = !isEnabled() ? roles.line : filled ? roles.ground : roles.ink;
    const QColor keyInk = !isEnabled() ? roles.line : filled ? roles.ground : roles.muted;
    QRectF box = QRectF(rect());
    if (hasFocus()) {
        const double ring = std::max(1.0, roles.minStroke) + 2;  // 2 px more than the line without it
        painter.setPen(QPen(roles.ink, ring));
        painter.setBrush(roles.ground);
        painter.drawRoundedRect(box.adjusted(ring / 2, ring / 2, -ring / 2, -ring / 2), 4, 4);
        box.adjust(ring + 1.5, ring + 1.5, -ring - 1.5, -ring - 1.5);
    }
    // Inside the ring the thick line of a first button is thinner: it must not touch the words.
    const double line =
        primary && !filled && isEnabled() ? (hasFocus() ? 2 : 3) : std::max(1.0, roles.minStroke);
    QPen pen(filled ? roles.ink : roles.line, line);
    if (primary && !filled && isEnabled()) pen.setColor(roles.ink);
    if (!isEnabled()) pen.setDashPattern({4 / line, 4 / line});
    painter.setPen(pen);
    painter.setBrush(filled ? roles.ink : isDown() || underMouse() ? roles.panel : roles.ground);
    // A primary that is no fill keeps its own outline inside the ring, else the ring would look the same.
    if (!hasFocus() || primary)
        painter.drawRoundedRect(box.adjusted(line / 2, line / 2, -line / 2, -line / 2), 4, 4);
    const QFont verbFont = this->verbFont();
    const QFont keyFont = this->keyFont();
    const double verb = QFontMetricsF(verbFont).horizontalAdvance(text());
    const double gap = m_key.isEmpty() ? 0 : m_theme.s(8);
    const double key = m_key.isEmpty() ? 0 : QFontMetricsF(keyFont).horizontalAdvance(m_key);
    double x = (width() - verb - gap - key) / 2;
    if (layoutDirection() == Qt::RightToLeft) {
        forms::drawTextMiddle(painter, x, height() / 2.0, m_key, keyFont, keyInk);
        forms::drawTextMiddle(painter, x + key + gap, height() / 2.0, text(), verbFont, ink);
        return;
    }
    forms::drawTextMiddle(painter, x, height() / 2.0, text(), verbFont, ink);
    forms::drawTextMiddle(painter, x + verb + gap, height() / 2.0, m_key, keyFont, keyInk);
}

EmptyState::EmptyState(const Theme& theme, const QString& title, const QString& sentence, QWidget* parent)
    : QWidget(parent),
      m_theme(theme),
      m_sentence(new Text(theme, 15, false, Ink::Full, sentence)),
      m_foot(new Text(theme, 13, false, Ink::Muted)),
      m_ways(new QHBoxLayout) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(qRound(theme.s(48)), qRound(theme.s(40)), qRound(theme.s(16)), 0);
    column->setSpacing(qRound(theme.s(8)));
    column->addWidget(new Text(theme, 25, true, Ink::Full, title));
    for (Text* text : {m_sentence, m_foot}) {
        text->setWordWrap(true);
        text->setFixedWidth(qRound(theme.s(520)));
        place(text);
    }
    column->addWidget(m_sentence);
    column->addSpacing(qRound(theme.s(8)));
    m_ways->setSpacing(qRound(theme.s(12)));
    m_ways->addStretch(1);
    column->addLayout(m_ways);
    column->addSpacing(qRound(theme.s(16)));
    column->addWidget(m_foot);
    column->addStretch(1);
}

KeyButton* EmptyState::setButton(const QString& verb, const QString& key) {
    auto* button = new KeyButton(m_theme, verb, key, true);
    m_ways->insertWidget(0, button);
    return button;
}

QPushButton* EmptyState::addLink(const QString& words) {
    if (m_ways->count() > 1)
        m_ways->insertWidget(m_ways->count() - 1, new Text(m_theme, 15, false, Ink::Full, tr("or")));
    QPushButton* link = makeLink(m_theme, words);
    m_ways->insertWidget(m_ways->count() - 1, link);
    return link;
}

void EmptyState::setSentence(const QString& sentence) {
    m_sentence->setText(sentence);
    place(m_sentence);
}
void EmptyState::setFoot(const QString& text) {
    m_foot->setText(text);
    place(m_foot);
}

void EmptyState::place(Text* text) {
    // A wrapped label of a fixed width knows its height; layouts ask only for its first guess.
    text->setFixedHeight(text->text().isEmpty() ? 0 : text->heightForWidth(text->maximumWidth()) + 2);
}

void clearLayout(QLayout* layout) {
    while (QLayoutItem* item = layout->takeAt(0)) {
        if (item->widget() != nullptr) item->widget()->deleteLater();
        if (item->widget() != nullptr) item->widget()->hide();
        if (item->layout() != nullptr) clearLayout(item->layout());
        delete item;
    }
}

namespace {

QPushButton* linkOfSize(const Theme& theme, const QString& words, double pixels, QWidget* parent) {
    auto* link = new QPushButton(words, parent);
    link->setProperty("link", true);
    link->setAutoDefault(false);
    link->setCursor(Qt::PointingHandCursor);
    const auto apply = [link, &theme, pixels] {
        QFont font = theme.font(pixels);
        font.setUnderline(true);
        link->setFont(font);
    };
    QObject::connect(&theme, &Theme::changed, link, apply);
    apply();
    return link;
}

}  // namespace

QPushButton* makeLink(const Theme& theme, const QString& words, QWidget* parent) {
    return linkOfSize(theme, words, 15, parent);
}

QPushButton* makeSmallLink(const Theme& theme, const QString& words, const QString& name) {
    QPushButton* link = linkOfSize(theme, words, 13, nullptr);
    if (name.isEmpty()) return link;
    link->setAccessibleName(name);
    link->setToolTip(name);
    return link;
}

}  // namespace markerlamp::app
