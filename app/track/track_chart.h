#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Forecast against what came, 0 to 100 both ways: share passed in each group of forecasts with its 95 %
// interval, and each single forecast as a tick above (passed) or below (not passed). Too few results: the
// ticks alone.

#include "app/support/theme.h"
#include "core/readiness/track_record.h"

#include <QWidget>

namespace markerlamp::app {

class TrackChart final : public QWidget {
    Q_OBJECT

public:
    explicit TrackChart(const Theme& theme, QWidget* parent = nullptr);
    void setRecord(const core::TrackRecord& record);
    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override;

protected:
    void paintEvent(QPaintEvent* event) override;
    void focusInEvent(QFocusEvent* event) override;
    void focusOutEvent(QFocusEvent* event) override;

private:
    [[nodiscard]] QRectF plot() const;
    [[nodiscard]] QPointF place(double forecast, double share) const;
    [[nodiscard]] QPointF dotOf(const core::ForecastGroup& group) const;
    [[nodiscard]] QRectF placeOfCount(const core::ForecastGroup& group, double wide) const;
    void drawAxes(QPainter& painter) const;
    void drawTicks(QPainter& painter) const;
    void drawGroups(QPainter& painter) const;
    void drawCounts(QPainter& painter) const;

    const Theme& m_theme;
    core::TrackRecord m_record;
};

}  // namespace markerlamp::app
