#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Who may be erased when, and erasing a person.

#include "app/people/person_views.h"
#include "app/support/text_widgets.h"
#include "app/trainees/people_dialogs.h"

#include <QDialog>

namespace markerlamp::app {

class Session;
class TableView;

/// Asks for the key of the person, so that nobody is erased by a slip of the hand.
class EraseDialog final : public FormDialog {
    Q_OBJECT

public:
    /// from: first day on which the records need not be kept any more; invalid: now
    EraseDialog(const Theme& theme, const QString& name, const QString& key, const QDate& from,
                QWidget* parent);

protected:
    core::Result<void> check() override;

private:
    QString m_key;
    QLineEdit* m_typed;
};

class KeepingDialog final : public QDialog {
    Q_OBJECT

public:
    KeepingDialog(const Theme& theme, Session& session, QWidget* parent);
    /// What was done, in words; empty: nothing.
    [[nodiscard]] QString outcome() const { return m_outcome; }

private:
    void fill();
    void eraseCurrent();

    const Theme& m_theme;
    Session& m_session;
    std::vector<core::KeepRow> m_keep;
    QString m_outcome;
    Text* m_words;
    RowsModel* m_model;
    TableView* m_table;
    QPushButton* m_erase;
};

}  // namespace markerlamp::app
