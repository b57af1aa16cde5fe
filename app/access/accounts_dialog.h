#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Who may sign in to the open program file: switching it on and off, accounts, the recovery code, when the
// window locks.

#include "app/support/rows_model.h"
#include "app/trainees/people_dialogs.h"
#include "core/access/accounts.h"
#include "forms/sheets/sheets.h"

#include <QDialog>

class QComboBox;
class QLineEdit;
class QPushButton;
class QSpinBox;

namespace markerlamp::app {

class Session;
class TableView;

/// One account with its passphrase typed twice. An account that is there may keep its passphrase.
class AccountDialog final : public FormDialog {
    Q_OBJECT

public:
    /// account: empty name means a new one. first: a coordinator, with whom sign-in begins.
    AccountDialog(const Theme& theme, const core::Account& account, const QStringList& otherNames,
                  const std::vector<core::Instructor>& instructors, bool first, QWidget* parent);
    [[nodiscard]] const core::Account& account() const { return m_account; }
    /// Nothing: the stored one stays.
    [[nodiscard]] const std::optional<std::string>& passphrase() const { return m_secret; }

protected:
    core::Result<void> check() override;

private:
    core::Account m_account;
    std::optional<std::string> m_secret;
    QStringList m_taken;
    bool m_isNew;
    QLineEdit *m_name, *m_passphrase, *m_again;
    QComboBox *m_role, *m_instructor;
};

/// Says what switching sign-in off means, and asks once more.
class SignInOffDialog final : public FormDialog {
    Q_OBJECT

public:
    SignInOffDialog(const Theme& theme, QWidget* parent);

protected:
    core::Result<void> check() override { return {}; }
};

class AccountsDialog final : public QDialog {
    Q_OBJECT

public:
    AccountsDialog(const Theme& theme, Session& session, forms::Paper paper, QWidget* parent);

    /// What was done last, in words; empty: nothing.
    [[nodiscard]] QString outcome() const { return m_outcome; }

private:
    void fill(const QString& select = {});
    void begin();
    void edit(const QString& name);
    void remove();
    void renewCode();
    void switchOff();
    void keepMinutes();
    void showCode(const std::string& code);
    bool stored(const core::Result<void>& result);

    const Theme& m_theme;
    Session& m_session;
    forms::Paper m_paper;
    std::vector<core::Account> m_accounts;
    QString m_outcome;
    Text* m_words;
    RowsModel* m_model;
    TableView* m_table;
    QWidget* m_idleRow;
    QSpinBox* m_minutes;
    QPushButton *m_on, *m_add, *m_change, *m_remove, *m_renew, *m_off;
};

}  // namespace markerlamp::app
