#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The data-table twin of charts: each chart's figures as a table that can be copied.

#include "app/support/rows_model.h"
#include "app/support/theme.h"

#include <QDialog>

#include <vector>

class QTabWidget;

namespace markerlamp::app {

struct DataTable {
    QString title;
    std::vector<Column> columns;
    std::vector<Row> rows;
};

class DataTableDialog final : public QDialog {
    Q_OBJECT

public:
    DataTableDialog(const Theme& theme, const QString& title, std::vector<DataTable> tables, QWidget* parent);

private:
    QTabWidget* m_tabs;
    std::vector<RowsModel*> m_models;
};

}  // namespace markerlamp::app
