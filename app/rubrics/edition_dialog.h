#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Choose a limit set, see limit by limit what it changes, and make the new edition of the rubric.

#include "app/support/text_widgets.h"
#include "core/rubric/new_edition.h"

#include <QDialog>

class QComboBox;

namespace markerlamp::app {

class RowsModel;
class TableView;

class EditionDialog final : public QDialog {
    Q_OBJECT

public:
    /// sets: those of the file. edition: the number the new one gets.
    EditionDialog(const Theme& theme, const core::Rubric& rubric, std::vector<core::LimitSet> sets,
                  int edition, QWidget* parent);

    /// Of the chosen set; refused when nothing changes.
    [[nodiscard]] core::Result<core::Rubric> newRubric() const;
    /// More is to be changed before the edition is made.
    [[nodiscard]] bool writeFirst() const { return m_writeFirst; }

private:
    void show();

    const core::Rubric& m_rubric;
    const std::vector<core::LimitSet> m_sets;
    const int m_edition;
    QComboBox* m_choice;
    RowsModel* m_model;
    TableView* m_table;
    Text* m_remark;
    QPushButton *m_make = nullptr, *m_write = nullptr;
    bool m_writeFirst = false;
};

}  // namespace markerlamp::app
