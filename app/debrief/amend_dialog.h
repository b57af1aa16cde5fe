#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Amend a finished attempt: who, why (once), and another outcome for some steps. The first record stays; the
// changes are added to it and marked with a triangle.

#include "app/debrief/debrief_presenter.h"
#include "app/support/text_widgets.h"
#include "core/people/people.h"

#include <QDialog>

#include <map>

class QComboBox;
class QLineEdit;

namespace markerlamp::app {

class RowsModel;
class TableView;

class AmendDialog final : public QDialog {
    Q_OBJECT

public:
    AmendDialog(const Theme& theme, const core::ScoredAttempt& scored,
                const std::vector<core::Instructor>& instructors, const QString& firstStep, QWidget* parent);

    [[nodiscard]] QString reason() const;
    [[nodiscard]] QString by() const;  ///< key of an instructor
    [[nodiscard]] std::vector<OutcomeChange> changes() const;

private:
    void fill();
    void change(OutcomeChange to);
    void takeBack();
    void updateButtons();

    const core::ScoredAttempt& m_scored;
    std::map<QString, OutcomeChange> m_changes;  ///< by step
    QLineEdit* m_reason;
    QComboBox* m_by;
    RowsModel* m_model;
    TableView* m_table;
    QPushButton* m_amend = nullptr;
    Text* m_hint;
};

/// The words on the buttons.
[[nodiscard]] QString outcomeButtonWord(const OutcomeChange& change);

}  // namespace markerlamp::app
