#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// An instructor's own word in place of the computed one, and taking it back. What was said before stays in
// the list; a reason is required.

#include "app/readiness/readiness_desk.h"
#include "app/support/text_widgets.h"

#include <QDialog>

class QButtonGroup;
class QComboBox;
class QLineEdit;

namespace markerlamp::app {

class RowsModel;
class TableView;

class OverrideDialog final : public QDialog {
    Q_OBJECT

public:
    OverrideDialog(const Theme& theme, ReadinessDesk& desk, const QString& trainee, QWidget* parent);

private:
    QWidget* makeWords();
    void fill();
    void updateButtons();
    void keep(bool withdraw);

    const Theme& m_theme;
    ReadinessDesk& m_desk;
    QString m_trainee;
    Text* m_now;
    QButtonGroup* m_words;
    QLineEdit* m_reason;
    QComboBox* m_by;
    RowsModel* m_entries;
    TableView* m_table;
    Text* m_hint;
    QPushButton* m_keep = nullptr;
    QPushButton* m_withdraw = nullptr;
};

}  // namespace markerlamp::app
