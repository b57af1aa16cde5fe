#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Blocks that share one place: their names stand in one head, the chosen one is bold with an ink line under
// it. Controls of the block in front stand at the right end of the head.

#include "app/support/text_widgets.h"

#include <QWidget>

#include <functional>
#include <vector>

class QHBoxLayout;
class QStackedWidget;

namespace markerlamp::app {

/// Name of one block in the head; an icon may stand before it.
class BlockTab final : public QPushButton {
    Q_OBJECT

public:
    using IconPainter = std::function<void(QPainter&, const QRectF&)>;

    BlockTab(const Theme& theme, const QString& words, QWidget* parent = nullptr);
    /// Painted in a square of 14 before the words; empty: none.
    void setSign(IconPainter painter);
    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override { return sizeHint(); }

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    [[nodiscard]] double signRoom() const;

    const Theme& m_theme;
    IconPainter m_sign;
};

class BlockTabs final : public QWidget {
    Q_OBJECT

public:
    explicit BlockTabs(const Theme& theme, QWidget* parent = nullptr);

    /// Returns the block's number.
    int add(const QString& words, QWidget* block, const std::vector<QWidget*>& controls = {});
    [[nodiscard]] BlockTab* tab(int block) const { return m_tabs[static_cast<std::size_t>(block)]; }
    void setRemark(int block, const QString& remark);
    void show(int block);
    [[nodiscard]] int current() const;

signals:
    void shown(int block);

private:
    void bringForward(int block);

    const Theme& m_theme;
    QWidget* m_head;
    QHBoxLayout* m_names;
    QHBoxLayout* m_right;
    Text* m_remark;
    QStackedWidget* m_stack;
    std::vector<BlockTab*> m_tabs;
    std::vector<std::vector<QWidget*>> m_controls;
    std::vector<QString> m_remarks;
};

}  // namespace markerlamp::app
