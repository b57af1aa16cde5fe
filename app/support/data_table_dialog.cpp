// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/support/data_table_dialog.h"
#include "app/support/small_screens.h"

#include "app/support/clipboard.h"
#include "app/support/table_view.h"

#include <QDialogButtonBox>
#include <QHeaderView>
#include <QPushButton>
#include <QTabWidget>
#include <QVBoxLayout>

namespace markerlamp::app {

DataTableDialog::DataTableDialog(const Theme& theme, const QString& title, std::vector<DataTable> tables,
                                 QWidget* parent)
    : QDialog(parent), m_tabs(new QTabWidget) {
    setWindowTitle(title);
    resizeToScreen(*this, {qRound(theme.s(980)), qRound(theme.s(480))});
    auto* column = new QVBoxLayout(this);
    m_tabs->setAccessibleName(tr("Charts"));
    m_tabs->tabBar()->setAccessibleName(tr("Charts"));
    for (DataTable& table : tables) {
        auto* model = new RowsModel(std::move(table.columns), this);
        model->setRows(std::move(table.rows));
        m_models.push_back(model);
        auto* view = new TableView(theme, table.title);
        view->setModel(model);
        view->horizontalHeader()->setSectionResizeMode(QHeaderView::ResizeToContents);
        view->horizontalHeader()->setFixedHeight(qRound(theme.s(40)));
        view->selectRowAt(0);
        m_tabs->addTab(view, table.title);
    }
    column->addWidget(m_tabs, 1);
    auto* buttons = new QDialogButtonBox;
    auto* copy = buttons->addButton(tr("&Copy the table"), QDialogButtonBox::ActionRole);
    buttons->addButton(tr("C&lose"), QDialogButtonBox::RejectRole);
    column->addWidget(buttons);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    connect(copy, &QPushButton::clicked, this,
            [this] { copyTable(*m_models[static_cast<std::size_t>(qMax(0, m_tabs->currentIndex()))]); });
    if (m_tabs->currentWidget() != nullptr) m_tabs->currentWidget()->setFocus();
}

}  // namespace markerlamp::app
