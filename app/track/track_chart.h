#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Forecast against what came, 0 to 100 both ways: share passed in each group of forecasts with its 95 %
// interval, and each single forecast as a tick above (passed) or below (not passed). Too few results: the
// ticks alone.

#include "app/support/painted_chart.h"
#include "core/readiness/track_record.h"

namespace markerlamp::app {

class TrackChart final : public PaintedChart {
    Q_OBJECT

public:
    explicit TrackChart(const Theme& theme, QWidget* parent = nullptr);
    void setRecord(const core::TrackRecord& record);

protected:
    void draw(QPainter& painter) override;

private:
    [[nodiscard]] QRectF plot() const;
    [[nodiscard]] QPointF place(double forecast, double share) const;
    [[nodiscard]] QPointF dotOf(const core::ForecastGroup& group) const;
    [[nodiscard]] QRectF placeOfCount(const core::ForecastGroup& group, double wide) const;
    void drawAxes(QPainter& painter) const;
    void drawTicks(QPainter& painter) const;
    void drawGroups(QPainter& painter) const;
    void drawCounts(QPainter& painter) const;

    core::TrackRecord m_record;
};

}  // namespace markerlamp::app
