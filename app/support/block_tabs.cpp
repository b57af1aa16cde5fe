// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/support/block_tabs.h"

#include "forms/signs/signs.h"

#include <QHBoxLayout>
#include <QPainter>
#include <QStackedWidget>
#include <QVBoxLayout>

#include <algorithm>
#include <cmath>

namespace markerlamp::app {

namespace {

/// The line of the head, over its whole width.
class Head final : public QWidget {
public:
    explicit Head(const Theme& theme) : m_theme(theme) {}

protected:
    void paintEvent(QPaintEvent*) override {
        QPainter painter(this);
        const double w = qMax(1.0, m_theme.roles().minStroke);
        painter.fillRect(QRectF(0, height() - w, width(), w), m_theme.roles().line);
    }

private:
    const Theme& m_theme;
};

}  // namespace

BlockTab::BlockTab(const Theme& theme, const QString& words, QWidget* parent)
    : QPushButton(words, parent), m_theme(theme) {
    setCheckable(true);
    setAutoDefault(false);
    setSizePolicy(QSizePolicy::Fixed, QSizePolicy::Fixed);
    setCursor(Qt::PointingHandCursor);
    connect(&theme, &Theme::changed, this, [this] { updateGeometry(); });
}

void BlockTab::setSign(IconPainter painter) {
    m_sign = std::move(painter);
    updateGeometry();
    update();
}

double BlockTab::signRoom() const {
    return m_sign ? m_theme.s(20) : 0;
}

QSize BlockTab::sizeHint() const {
    // Bold, so that nothing moves when another block comes to the front.
    const double words = QFontMetricsF(m_theme.font(15, true)).horizontalAdvance(text());
    return {qCeil(words + signRoom() + m_theme.s(8)), qCeil(m_theme.s(26))};
}

void BlockTab::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    const forms::Roles& roles = m_theme.roles();
    const double x = m_theme.s(4), middle = height() / 2.0 - m_theme.s(1);
    const bool mirrored = layoutDirection() == Qt::RightToLeft;
    if (m_sign) {
        const double z = m_theme.s(14);
        m_sign(painter, QRectF(mirrored ? width() - x - z : x, middle - z / 2, z, z));
    }
    const QFont font = m_theme.font(15, isChecked());
    if (mirrored)
        forms::drawTextMiddleRight(painter, width() - x - signRoom(), middle, text(), font,
                                   isChecked() ? roles.ink : roles.muted);
    else
        forms::drawTextMiddle(painter, x + signRoom(), middle, text(), font,
                              isChecked() ? roles.ink : roles.muted);
    if (isChecked()) {
        const double line = m_theme.s(3);
        painter.fillRect(QRectF(0, height() - line, width(), line), roles.ink);
    }
    if (hasFocus()) {
        painter.setPen(QPen(roles.ink, 2));
        painter.setBrush(Qt::NoBrush);
        painter.drawRect(QRectF(rect()).adjusted(1, 1, -1, -1));
    }
}

BlockTabs::BlockTabs(const Theme& theme, QWidget* parent)
    : QWidget(parent),
      m_theme(theme),
      m_head(new Head(theme)),
      m_names(new QHBoxLayout),
      m_right(new QHBoxLayout),
      m_remark(new Text(theme, 13, false, Ink::Muted)),
      m_stack(new QStackedWidget) {
    auto* column = new QVBoxLayout(this);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(0);
    auto* row = new QHBoxLayout(m_head);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(qRound(theme.s(12)));
    m_names->setSpacing(qRound(theme.s(12)));
    m_right->setSpacing(qRound(theme.s(12)));
    row->addLayout(m_names);
    m_remark->setElided();
    row->addWidget(m_remark, 1);
    row->addLayout(m_right);
    m_head->setSizePolicy(QSizePolicy::Preferred, QSizePolicy::Fixed);
    column->addWidget(m_head);
    column->addWidget(m_stack, 1);
    connect(&theme, &Theme::changed, m_head, qOverload<>(&QWidget::update));
}

int BlockTabs::add(const QString& words, QWidget* block, const std::vector<QWidget*>& controls) {
    auto* tab = new BlockTab(m_theme, words);
    m_tabs.push_back(tab);
    m_controls.push_back(controls);
    m_remarks.emplace_back();
    m_names->addWidget(tab);
    const int number = m_stack->addWidget(block);
    // Not in a button group: there Tab would reach the chosen one alone.
    connect(tab, &QPushButton::clicked, this, [this, number] { show(number); });
    for (QWidget* control : controls) m_right->addWidget(control);
    bringForward(m_stack->currentIndex());
    return number;
}

void BlockTabs::setRemark(int block, const QString& remark) {
    m_remarks[static_cast<std::size_t>(block)] = remark;
    if (block == current()) m_remark->setText(remark);
}

int BlockTabs::current() const {
    return m_stack->currentIndex();
}

void BlockTabs::show(int block) {
    bringForward(block);
    emit shown(block);
}

void BlockTabs::bringForward(int block) {
    m_stack->setCurrentIndex(block);
    m_remark->setText(m_remarks[static_cast<std::size_t>(block)]);
    for (int i = 0; i < static_cast<int>(m_tabs.size()); ++i) {
        const auto at = static_cast<std::size_t>(i);
        m_tabs[at]->setChecked(i == block);
        for (QWidget* control : m_controls[at]) control->setVisible(i == block);
        // Blocks that are behind do not make the page higher or wider than the one in front.
        const auto policy = i == block ? QSizePolicy::Preferred : QSizePolicy::Ignored;
        m_stack->widget(i)->setSizePolicy(policy, policy);
    }
    m_stack->updateGeometry();
}

}  // namespace markerlamp::app
