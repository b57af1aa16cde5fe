#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// One ring for each stored attempt: percent in its own edition across, change with the draft up. Solid where
// the result changes. Between the dashed lines the percent alone changes it: left or right of the old pass
// mark, above or below the new one.

#include "app/support/painted_chart.h"
#include "core/scoring/edition_trial.h"

#include <QPixmap>

namespace markerlamp::app {

class EffectChart final : public PaintedChart {
    Q_OBJECT

public:
    explicit EffectChart(const Theme& theme, QWidget* parent = nullptr);
    /// words: the same as the chart, for assistive technology.
    void setEffect(const core::EditionEffect& effect, double oldMark, double newMark, const QString& words);

protected:
    void draw(QPainter& painter) override;
    void resizeEvent(QResizeEvent* event) override;

private:
    [[nodiscard]] QRectF plot() const;
    [[nodiscard]] QPointF place(double percent, double change) const;
    void drawAll(QPainter& painter) const;
    void drawAxes(QPainter& painter) const;
    void drawMarks(QPainter& painter) const;
    void drawRings(QPainter& painter) const;

    core::EditionEffect m_effect;
    double m_oldMark = 80, m_newMark = 80;
    double m_from = 0;   ///< percent at the left end
    double m_reach = 4;  ///< change at the upper end
    QPixmap m_drawn;     ///< a state has 60,000 rings
};

}  // namespace markerlamp::app
