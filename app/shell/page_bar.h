#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The row of pages under the menu: the one in front stands on the page's ground, bold, with a 4 px line.

#include "app/support/theme.h"

#include <QAbstractButton>
#include <QAction>
#include <QWidget>

#include <vector>

class QHBoxLayout;

namespace markerlamp::app {

class Text;

class PageBar final : public QWidget {
    Q_OBJECT

public:
    explicit PageBar(const Theme& theme, QWidget* parent = nullptr);
    /// The action is checkable; its text without mnemonic is the page's name.
    void addPage(QAction* action);
    /// Muted words at the right end: which program is open.
    void setRight(const QString& words);
    [[nodiscard]] QSize sizeHint() const override;

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    const Theme& m_theme;
    QHBoxLayout* m_row;
    Text* m_right;
};

}  // namespace markerlamp::app
