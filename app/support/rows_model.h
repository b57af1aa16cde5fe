#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// A table of plain cells for every list of the program: text, a value to sort by, and what a delegate paints.

#include <QAbstractTableModel>
#include <QString>
#include <QVariant>

#include <vector>

namespace markerlamp::app {

struct Cell {
    QString text{};
    QVariant sort{};     ///< compared when the column is sorted; text when invalid
    QVariant payload{};  ///< for a delegate: a sign, an interval, ...
    QString tip{};       ///< the whole text where the cell may be too narrow; also read aloud
    bool bold = false;
    bool muted = false;
};

[[nodiscard]] inline Cell mutedCell(const QString& text) {
    return {.text = text, .tip = text, .muted = true};
}
/// May be cut in its column: the whole text is the tool tip.
[[nodiscard]] inline Cell longCell(const QString& text) {
    return {.text = text, .tip = text};
}
[[nodiscard]] inline Cell boldCell(const QString& text, bool bold = true) {
    return {.text = text, .bold = bold};
}
/// Text with the value that sorts it.
[[nodiscard]] inline Cell sortedCell(const QString& text, const QVariant& sort) {
    return {.text = text, .sort = sort};
}
/// A cell that only paints; words say the same.
[[nodiscard]] inline Cell paintedCell(const QVariant& payload, const QString& words) {
    return {.payload = payload, .tip = words};
}

struct Column {
    QString title{};
    bool right = false;  ///< numbers stand right
};

struct Row {
    QString id{};
    std::vector<Cell> cells{};
};

class RowsModel final : public QAbstractTableModel {
    Q_OBJECT

public:
    enum Role { SortRole = Qt::UserRole, PayloadRole, BoldRole, MutedRole, IdRole };

    explicit RowsModel(std::vector<Column> columns, QObject* parent = nullptr);

    void setColumns(std::vector<Column> columns);
    void setRows(std::vector<Row> rows);
    [[nodiscard]] QString idAt(int row) const;
    /// -1 when there is no such row.
    [[nodiscard]] int rowOf(const QString& id) const;

    int rowCount(const QModelIndex& parent = {}) const override;
    int columnCount(const QModelIndex& parent = {}) const override;
    QVariant data(const QModelIndex& index, int role) const override;
    QVariant headerData(int section, Qt::Orientation orientation, int role) const override;

private:
    std::vector<Column> m_columns;
    std::vector<Row> m_rows;
};

}  // namespace markerlamp::app
