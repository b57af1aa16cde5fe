// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/shell/page_bar.h"

#include "app/support/text_widgets.h"
#include "forms/signs/signs.h"

#include <QHBoxLayout>
#include <QPainter>

namespace markerlamp::app {

namespace {

class PageTab final : public QAbstractButton {
public:
    PageTab(const Theme& theme, QAction* action) : m_theme(theme) {
        setText(action->text().remove(QLatin1Char('&')));
        setCheckable(true);
        setToolTip(action->statusTip());
        setFocusPolicy(Qt::StrongFocus);
        setSizePolicy(QSizePolicy::Fixed, QSizePolicy::Expanding);
        setChecked(action->isChecked());
        setEnabled(action->isEnabled());
        connect(this, &QAbstractButton::clicked, action, [this, action] {
            setChecked(action->isChecked());
            action->trigger();
        });
        connect(action, &QAction::changed, this, [this, action] {
            setChecked(action->isChecked());
            setEnabled(action->isEnabled());
        });
    }
    [[nodiscard]] QSize sizeHint() const override {
        return {qCeil(QFontMetricsF(m_theme.font(15, true)).horizontalAdvance(text()) + m_theme.s(24)),
                qCeil(m_theme.s(40))};
    }

protected:
    void paintEvent(QPaintEvent*) override {
        QPainter painter(this);
        const forms::Roles& roles = m_theme.roles();
        const bool here = isChecked();
        painter.fillRect(rect(), here ? roles.ground : roles.panel);
        const QFont font = m_theme.font(15, here);
        const double w = QFontMetricsF(font).horizontalAdvance(text());
        forms::drawTextMiddle(painter, (width() - w) / 2, height() / 2.0, text(), font,
                              isEnabled() ? roles.ink : roles.line);
        if (here) painter.fillRect(QRectF(0, height() - m_theme.s(4), width(), m_theme.s(4)), roles.ink);
        if (hasFocus()) {
            painter.setPen(QPen(roles.ink, 3, Qt::SolidLine, Qt::SquareCap, Qt::MiterJoin));
            painter.drawRect(QRectF(rect()).adjusted(3, 3, -3, -6));
        }
    }

private:
    const Theme& m_theme;
};

}  // namespace

PageBar::PageBar(const Theme& theme, QWidget* parent)
    : QWidget(parent),
      m_theme(theme),
      m_row(new QHBoxLayout(this)),
      m_right(new Text(theme, 13, false, Ink::Muted)) {
    m_row->setContentsMargins(qRound(theme.s(4)), 0, qRound(theme.s(16)), 1);
    m_row->setSpacing(0);
    m_right->setElided();
    m_right->setAlignment(Qt::AlignRight | Qt::AlignVCenter);
    m_row->addWidget(m_right, 1);
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
    connect(&theme, &Theme::changed, this, [this] {
        updateGeometry();
        update();
    });
}

void PageBar::addPage(QAction* action) {
    m_row->insertWidget(m_row->count() - 1, new PageTab(m_theme, action));
}

void PageBar::setRight(const QString& words) {
    m_right->setText(words);
}

QSize PageBar::sizeHint() const {
    return {qRound(m_theme.s(600)), qRound(m_theme.s(40))};
}

void PageBar::paintEvent(QPaintEvent* event) {
    Q_UNUSED(event)
    QPainter painter(this);
    painter.fillRect(rect(), m_theme.roles().panel);
    painter.fillRect(QRectF(0, height() - 1, width(), 1), m_theme.roles().line);
}

}  // namespace markerlamp::app
