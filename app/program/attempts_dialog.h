#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The attempts behind a number of the program page; one of them can be opened.

#include "app/support/theme.h"

#include <QDialog>
#include <QString>

#include <string>
#include <vector>

namespace markerlamp::app {

class RowsModel;
class Session;
class TableView;

class AttemptsDialog final : public QDialog {
    Q_OBJECT

public:
    /// @param attempts ids in the order in which they stand
    AttemptsDialog(const Theme& theme, Session& session, const QString& title,
                   const std::vector<std::string>& attempts, QWidget* parent);
    /// The chosen attempt; empty when the dialog was left.
    [[nodiscard]] QString chosen() const { return m_chosen; }

private:
    void choose();

    RowsModel* m_rows;
    TableView* m_table;
    QString m_chosen;
};

}  // namespace markerlamp::app
