#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// One panel of the learning chart: percent of steps shown, or of points said, at each attempt with its
// interval, days to scale. No line joins the dots: nothing was seen between them.

#include "app/support/rows_model.h"
#include "app/support/theme.h"
#include "core/history/history.h"

#include <QChartView>

namespace markerlamp::app {

class LearningPanel final : public QChartView {
    Q_OBJECT

public:
    enum class What { Shown, Said };

    LearningPanel(const Theme& theme, What what, QWidget* parent = nullptr);
    [[nodiscard]] QSize sizeHint() const override;
    void setPoints(const std::vector<core::LearningPoint>& points);

protected:
    void drawBackground(QPainter* painter, const QRectF& rect) override;
    void drawForeground(QPainter* painter, const QRectF& rect) override;
    void resizeEvent(QResizeEvent* event) override;

private:
    struct Dot {
        double days = 0;
        double percent = 0;
        double low = 0;
        double high = 0;
        int count = 0;
        int of = 0;
        int number = 0;
        bool hollow = false;
    };
    void rebuild();
    [[nodiscard]] QPointF place(double days, double percent) const;

    const Theme& m_theme;
    What m_what;
    std::vector<Dot> m_dots;
};

/// The data-table twin of both panels.
[[nodiscard]] std::vector<Column> learningColumns();
[[nodiscard]] std::vector<Row> learningRows(const std::vector<core::ScoredAttempt>& history);
/// "Shown: 90 % (104 of 115) at attempt 6, 57 % at the first; ...".
[[nodiscard]] QString learningSummary(const std::vector<core::LearningPoint>& points,
                                      LearningPanel::What what);

}  // namespace markerlamp::app
