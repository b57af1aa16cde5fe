#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The painted columns of the roster: readiness, chance on a line, and the runway of days.

#include "app/support/table_view.h"

#include <QDate>
#include <QHeaderView>
#include <QMetaType>

#include <functional>
#include <vector>

namespace markerlamp::app {

struct Runway;

/// A chance with its interval, shares in [0, 1].
struct OfTenShare {
    double chance = 0, low = 0, high = 1;
};

/// Days from today to a place in a cell: linear, today a little in from the left edge.
struct DayScale {
    QDate today;
    int last = 35;  ///< days; the right edge

    [[nodiscard]] double x(double day, double left, double width) const;
    /// First (on a short scale also fifteenth) days of months, as many as leave room for their names; days
    /// from today.
    [[nodiscard]] std::vector<int> ticks(double width, double least) const;
};

/// A readiness shape before the word. The payload is the word's number.
class ReadinessDelegate final : public RowDelegate {
    Q_OBJECT

public:
    using RowDelegate::RowDelegate;

protected:
    void paintContent(QPainter& painter, const QRectF& place, const QModelIndex& index) const override;
};

class OfTenDelegate final : public RowDelegate {
    Q_OBJECT

public:
    using RowDelegate::RowDelegate;

protected:
    void paintContent(QPainter& painter, const QRectF& place, const QModelIndex& index) const override;
};

class RunwayDelegate final : public RowDelegate {
    Q_OBJECT

public:
    using RowDelegate::RowDelegate;
    void setScale(const DayScale& scale) { m_scale = scale; }

protected:
    void paintContent(QPainter& painter, const QRectF& place, const QModelIndex& index) const override;

private:
    void paintPermitEnd(QPainter& painter, const std::function<double(double)>& x, double y,
                        const Runway& runway) const;

    DayScale m_scale;
};

/// What to do, with the look of a small button; the row's Enter and a click do it.
class ActionDelegate final : public RowDelegate {
    Q_OBJECT

public:
    using RowDelegate::RowDelegate;

protected:
    void paintContent(QPainter& painter, const QRectF& place, const QModelIndex& index) const override;
};

/// Titles of the columns; the last one shows the days instead.
class RosterHeader final : public QHeaderView {
    Q_OBJECT

public:
    RosterHeader(const Theme& theme, QWidget* parent = nullptr);
    void setScale(const DayScale& scale);

protected:
    void paintSection(QPainter* painter, const QRect& rect, int logicalIndex) const override;

private:
    const Theme& m_theme;
    DayScale m_scale;
};

}  // namespace markerlamp::app

Q_DECLARE_METATYPE(markerlamp::app::OfTenShare)
