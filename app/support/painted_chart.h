#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// A chart that is painted: it follows the theme, can have the focus, and tells in words what it shows.

#include "app/support/theme.h"

#include <QSizeF>
#include <QWidget>

namespace markerlamp::app {

class PaintedChart : public QWidget {
    Q_OBJECT

public:
    /// Sizes in design pixels.
    PaintedChart(const Theme& theme, const QString& name, QSizeF usual, QSizeF least,
                 QWidget* parent = nullptr);
    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override;

protected:
    /// The same as the chart, for assistive technology and as a tool tip; paints anew.
    void setWords(const QString& words);
    /// Onto the ground of the palette.
    virtual void draw(QPainter& painter) = 0;
    void paintEvent(QPaintEvent* event) override;
    void focusInEvent(QFocusEvent* event) override;
    void focusOutEvent(QFocusEvent* event) override;

    const Theme& m_theme;

private:
    [[nodiscard]] QSize scaled(QSizeF size) const;

    QSizeF m_usual, m_least;
};

}  // namespace markerlamp::app
