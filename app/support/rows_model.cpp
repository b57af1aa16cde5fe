// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/support/rows_model.h"

namespace markerlamp::app {

RowsModel::RowsModel(std::vector<Column> columns, QObject* parent)
    : QAbstractTableModel(parent), m_columns(std::move(columns)) {}

void RowsModel::setColumns(std::vector<Column> columns) {
    beginResetModel();
    m_columns = std::move(columns);
    m_rows.clear();
    endResetModel();
}

void RowsModel::setRows(std::vector<Row> rows) {
    beginResetModel();
    m_rows = std::move(rows);
    for (Row& row : m_rows) row.cells.resize(m_columns.size());
    endResetModel();
}

QString RowsModel::idAt(int row) const {
    if (row < 0 || row >= static_cast<int>(m_rows.size())) return {};
    return m_rows[static_cast<std::size_t>(row)].id;
}

int RowsModel::rowOf(const QString& id) const {
    for (std::size_t i = 0; i < m_rows.size(); ++i)
        if (m_rows[i].id == id) return static_cast<int>(i);
    return -1;
}

int RowsModel::rowCount(const QModelIndex& parent) const {
    return parent.isValid() ? 0 : static_cast<int>(m_rows.size());
}

int RowsModel::columnCount(const QModelIndex& parent) const {
    return parent.isValid() ? 0 : static_cast<int>(m_columns.size());
}

QVariant RowsModel::data(const QModelIndex& index, int role) const {
    if (!checkIndex(index, CheckIndexOption::IndexIsValid)) return {};
    const Row& row = m_rows[static_cast<std::size_t>(index.row())];
    const auto column = static_cast<std::size_t>(index.column());
    const Cell& cell = row.cells[column];
    switch (role) {
        case Qt::DisplayRole:
            return cell.text;
        case Qt::ToolTipRole:
            return cell.tip.isEmpty() ? QVariant() : QVariant(cell.tip);
        case Qt::AccessibleTextRole:
            return cell.tip.isEmpty() ? cell.text : cell.tip;
        case Qt::TextAlignmentRole:
            return QVariant::fromValue(
                Qt::Alignment(Qt::AlignVCenter | (m_columns[column].right ? Qt::AlignRight : Qt::AlignLeft)));
        case SortRole:
            return cell.sort.isValid() ? cell.sort : QVariant(cell.text);
        case PayloadRole:
            return cell.payload;
        case BoldRole:
            return cell.bold;
        case MutedRole:
            return cell.muted;
        case IdRole:
            return row.id;
        default:
            return {};
    }
}

QVariant RowsModel::headerData(int section, Qt::Orientation orientation, int role) const {
    if (orientation != Qt::Horizontal || section < 0 || section >= static_cast<int>(m_columns.size()))
        return {};
    const Column& column = m_columns[static_cast<std::size_t>(section)];
    if (role == Qt::DisplayRole || role == Qt::AccessibleTextRole) return column.title;
    if (role == Qt::TextAlignmentRole)
        return QVariant::fromValue(
            Qt::Alignment(Qt::AlignVCenter | (column.right ? Qt::AlignRight : Qt::AlignLeft)));
    return {};
}

}  // namespace markerlamp::app
