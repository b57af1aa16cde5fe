#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The table of every page: no frame, hairlines between rows, a 6 px ink bar at the selected row, Enter opens.

#include "app/support/theme.h"

#include <QStyledItemDelegate>
#include <QTableView>

namespace markerlamp::app {

/// Paints ground, hairline, selection bar, focus frame and text of one cell. Subclasses paint the middle.
class RowDelegate : public QStyledItemDelegate {
    Q_OBJECT

public:
    explicit RowDelegate(const Theme& theme, QObject* parent = nullptr);

    /// Hairlines between rows; on unless switched off.
    void setHairlines(bool on) { m_hairlines = on; }
    void paint(QPainter* painter, const QStyleOptionViewItem& option,
               const QModelIndex& index) const override;
    QSize sizeHint(const QStyleOptionViewItem& option, const QModelIndex& index) const override;

protected:
    /// `place` is the cell without its padding.
    virtual void paintContent(QPainter& painter, const QRectF& place, const QModelIndex& index) const;
    [[nodiscard]] const Theme& theme() const { return m_theme; }

private:
    const Theme& m_theme;
    bool m_hairlines = true;
};

class TableView final : public QTableView {
    Q_OBJECT

public:
    /// name: what assistive technology calls the table.
    TableView(const Theme& theme, const QString& name, QWidget* parent = nullptr);

    void setModel(QAbstractItemModel* model) override;
    /// Widths in design pixels; 0 takes what is left.
    void setWidths(const std::vector<int>& widths);
    void setRowHeight(double designPixels);
    /// Selects the row and makes it current; row 0 after a reset keeps a current index for assistive
    /// technology.
    void selectRowAt(int row);
    /// The id (RowsModel::IdRole) of the current row; empty without one.
    [[nodiscard]] QString currentId() const;
    /// Small: a table takes the room that is left, and a page must not grow for it.
    [[nodiscard]] QSize sizeHint() const override;

signals:
    /// Enter or a double click.
    void opened(QModelIndex index);

protected:
    void keyPressEvent(QKeyEvent* event) override;

private:
    void applyTheme();

    const Theme& m_theme;
    std::vector<int> m_widths;
    double m_rowHeight = 26;
};

}  // namespace markerlamp::app
