#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// One panel of the learning chart: percent of steps shown, or of points said, at each attempt with its
// interval. Attempts stand side by side with their dates: to scale, one session months later would press the
// others together. A long time without a session is marked. No line joins the dots: nothing was seen between
// them.

#include "app/support/rows_model.h"
#include "app/support/theme.h"
#include "core/history/history.h"

#include <QChartView>
#include <QDate>

namespace markerlamp::app {

/// A gap of more days than this is marked between two attempts; after as many a trainee counts as stalled.
inline constexpr double kLongGapDays = 14;
[[nodiscard]] inline bool isLongGap(const core::LearningPoint& before, const core::LearningPoint& after) {
    return after.days - before.days > kLongGapDays;
}

class LearningPanel final : public QChartView {
    Q_OBJECT

public:
    enum class What { Shown, Said };

    LearningPanel(const Theme& theme, What what, QWidget* parent = nullptr);
    [[nodiscard]] QSize sizeHint() const override;
    /// dates: of the attempts, one for each point.
    void setPoints(const std::vector<core::LearningPoint>& points, const std::vector<QDate>& dates);

protected:
    void drawBackground(QPainter* painter, const QRectF& rect) override;
    void drawForeground(QPainter* painter, const QRectF& rect) override;
    void resizeEvent(QResizeEvent* event) override;

private:
    struct Dot {
        QDate date;
        int gapDays = 0;  ///< since the attempt before, where that is a long time; else 0
        double percent = 0;
        double low = 0;
        double high = 0;
        int count = 0;
        int of = 0;
        int number = 0;
        bool hollow = false;
    };
    void rebuild();
    [[nodiscard]] QString whatWord() const;
    void drawGaps(QPainter& painter) const;
    void drawDates(QPainter& painter) const;
    [[nodiscard]] QPointF place(double number, double percent) const;

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

/// How the percent of whole attempts moves: "Trend over 6 whole attempts: 2.1 points more a week (95 %: 0.5
/// to 3.9)."; no trend is claimed under four of them.
[[nodiscard]] QString trendWords(const core::PercentTrend& trend);

}  // namespace markerlamp::app
