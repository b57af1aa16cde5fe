#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Zones now and zones by attempts, one table with one row axis: the zone's name is read once. The cells are
// painted by delegates; the model carries the words for assistive technology and the clipboard.

#include "app/support/rows_model.h"
#include "app/support/table_view.h"
#include "core/history/history.h"

#include <QHeaderView>
#include <QMetaType>

namespace markerlamp::app {

/// Where a zone stands: shares in 0..1.
struct ZoneDot {
    double value = 0;
    double low = 0;
    double high = 0;
    bool known = false;  ///< false: too few steps for an interval, counts only
    bool weak = false;
    double passMark = 0.8;
};

struct HeatPayload {
    core::HeatCell cell;
    bool newest = false;
};

/// Columns: zone, interval, count, then one for each attempt from `first` on, at most `most`.
struct ZonesContent {
    std::vector<Column> columns;
    std::vector<Row> rows;
    QString summary;  ///< one sentence for the accessible description
};

[[nodiscard]] ZonesContent zonesContent(const std::vector<core::ScoredAttempt>& history, int first, int most,
                                        bool weakestFirst);

/// Five steps of one hue; darker means work left.
[[nodiscard]] std::vector<QColor> heatRamp(const Theme& theme);
/// 0 (95 % and more) to 4 (under 50 %).
[[nodiscard]] int heatLevel(int satisfied, int observed);
/// Colour of text on that step of the ramp.
[[nodiscard]] QColor heatInk(const Theme& theme, int level);

class IntervalDelegate final : public RowDelegate {
    Q_OBJECT

public:
    using RowDelegate::RowDelegate;

protected:
    void paintContent(QPainter& painter, const QRectF& place, const QModelIndex& index) const override;
};

class HeatDelegate final : public RowDelegate {
    Q_OBJECT

public:
    using RowDelegate::RowDelegate;
    void paint(QPainter* painter, const QStyleOptionViewItem& option,
               const QModelIndex& index) const override;
};

/// Axis 0 to 100 over the interval column, number and date over each attempt.
class ZonesHeader final : public QHeaderView {
    Q_OBJECT

public:
    ZonesHeader(const Theme& theme, QWidget* parent);
    void setPassMark(double share) { m_passMark = share; }

protected:
    void paintSection(QPainter* painter, const QRect& rect, int section) const override;

private:
    const Theme& m_theme;
    double m_passMark = 0.8;
};

/// What the cells' shades and signs mean.
class HeatLegend final : public QWidget {
    Q_OBJECT

public:
    explicit HeatLegend(const Theme& theme, QWidget* parent = nullptr);
    [[nodiscard]] QSize sizeHint() const override;

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    const Theme& m_theme;
};

/// x of a share inside an interval cell; the same for header and cells.
[[nodiscard]] double intervalX(const Theme& theme, const QRectF& cell, double share);

}  // namespace markerlamp::app

Q_DECLARE_METATYPE(markerlamp::app::ZoneDot)
Q_DECLARE_METATYPE(markerlamp::app::HeatPayload)
