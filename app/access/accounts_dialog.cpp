// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/access/accounts_dialog.h"

#include "app/access/gate.h"
#include "app/access/recovery_dialog.h"
#include "app/shell/session.h"
#include "app/support/display.h"
#include "app/support/small_screens.h"
#include "app/support/table_view.h"

#include <QComboBox>
#include <QDialogButtonBox>
#include <QFormLayout>
#include <QHBoxLayout>
#include <QItemSelectionModel>
#include <QLabel>
#include <QLineEdit>
#include <QMessageBox>
#include <QPushButton>
#include <QSpinBox>
#include <QVBoxLayout>

#include <algorithm>

namespace markerlamp::app {

namespace {

QString nameOf(const std::vector<core::Instructor>& all, const std::string& key) {
    for (const core::Instructor& one : all)
        if (one.key == key && !one.name.empty()) return qs(one.name);
    return qs(key);
}

}  // namespace

AccountDialog::AccountDialog(const Theme& theme, const core::Account& account, const QStringList& otherNames,
                             const std::vector<core::Instructor>& instructors, bool first, QWidget* parent)
    : FormDialog(theme,
                 first                  ? tr("Switch sign-in on")
                 : account.name.empty() ? tr("Add an account")
                                        : tr("Change the account"),
                 first                  ? tr("&Switch on")
                 : account.name.empty() ? tr("&Add the account")
                                        : tr("&Keep the changes"),
                 parent),
      m_account(account),
      m_taken(otherNames),
      m_isNew(account.name.empty()),
      m_role(new QComboBox),
      m_instructor(new QComboBox) {
    if (first) {
        auto* words =
            new Text(theme, 15, false, Ink::Full,
                     tr("You become the first coordinator. From now on this file asks for a name and "
                        "a passphrase before it opens. A recovery code is shown afterwards: "
                        "have a printer at hand."));
        words->setWordWrap(true);
        form()->addRow(words);
    }
    m_name = addField(tr("&Name"), qs(account.name), tr("as it is typed at sign-in"));
    m_name->setMaxLength(100);
    m_name->setReadOnly(!m_isNew);
    if (!first) m_role->addItem(roleWord(core::Role::Instructor));
    m_role->addItem(roleWord(core::Role::Coordinator));
    m_role->setCurrentIndex(!first && account.role == core::Role::Coordinator ? 1 : 0);
    form()->addRow(tr("&Role"), m_role);
    m_instructor->addItem(tr("(nobody)"), QString());
    for (const core::Instructor& one : instructors)
        m_instructor->addItem(nameOf(instructors, one.key), qs(one.key));
    m_instructor->setCurrentIndex(std::max(0, m_instructor->findData(qs(account.instructor))));
    form()->addRow(tr("Scores &as"), m_instructor);
    m_passphrase = addField(tr("&Passphrase"), {},
                            m_isNew ? tr("12 characters or more") : tr("empty: the one they have stays"));
    m_again = addField(tr("The same a&gain"), {});
    for (QLineEdit* field : {m_passphrase, m_again}) field->setEchoMode(QLineEdit::Password);
    m_name->setFocus();
}

core::Result<void> AccountDialog::check() {
    core::Account account{ss(m_name->text().trimmed()),
                          m_role->currentText() == roleWord(core::Role::Coordinator) ? core::Role::Coordinator
                                                                                     : core::Role::Instructor,
                          ss(m_instructor->currentData().toString())};
    if (auto good = core::checkAccount(account); !good) return good;
    if (m_isNew && m_taken.contains(qs(account.name)))
        return core::fail(core::ErrorKind::Refused, ss(tr("there is an account of this name already")));
    m_secret.reset();
    if (m_isNew || !m_passphrase->text().isEmpty() || !m_again->text().isEmpty()) {
        auto secret = Gate::twice(m_passphrase->text(), m_again->text());
        if (!secret) return core::fail(secret.error());
        m_secret = std::move(*secret);
    }
    m_account = std::move(account);
    return {};
}

SignInOffDialog::SignInOffDialog(const Theme& theme, QWidget* parent)
    : FormDialog(theme, tr("Switch sign-in off"), tr("&Switch off"), parent) {
    auto* text =
        new Text(theme, 15, false, Ink::Full,
                 tr("All accounts and the recovery code go. Whoever opens the file may then see and do "
                    "everything, as before sign-in was switched on. Attempts and records stay as they "
                    "are."));
    text->setWordWrap(true);
    form()->addRow(text);
}

AccountsDialog::AccountsDialog(const Theme& theme, Session& session, forms::Paper paper, QWidget* parent)
    : QDialog(parent),
      m_theme(theme),
      m_session(session),
      m_paper(paper),
      m_words(new Text(theme, 15)),
      m_model(new RowsModel({{tr("Name")}, {tr("Role")}, {tr("Scores as")}}, this)),
      m_table(new TableView(theme, tr("Accounts"))),
      m_idleRow(new QWidget),
      m_minutes(new QSpinBox) {
    setWindowTitle(tr("Sign-in"));
    resizeToScreen(*this, {qRound(theme.s(780)), qRound(theme.s(470))});
    auto* column = new QVBoxLayout(this);
    column->setSpacing(qRound(theme.s(10)));
    m_words->setWordWrap(true);
    column->addWidget(m_words);
    m_table->setModel(m_model);
    m_table->setWidths({0, 150, 240});
    column->addWidget(m_table, 1);
    auto* idle = new QHBoxLayout(m_idleRow);
    idle->setContentsMargins(0, 0, 0, 0);
    idle->setSpacing(qRound(theme.s(8)));
    auto* before = new QLabel(tr("&Lock after"));
    m_minutes->setRange(0, core::kMostIdleMinutes);
    m_minutes->setSpecialValueText(tr("never"));
    m_minutes->setAccessibleName(tr("Minutes without a touch until the window locks"));
    before->setBuddy(m_minutes);
    idle->addWidget(before);
    idle->addWidget(m_minutes);
    idle->addWidget(new QLabel(tr("minutes without a key, mouse or touch")));
    idle->addStretch(1);
    column->addWidget(m_idleRow);
    auto* buttons = new QDialogButtonBox;
    const auto button = [&](const QString& words) {
        auto* made = buttons->addButton(words, QDialogButtonBox::ActionRole);
        made->setAutoDefault(false);
        return made;
    };
    m_on = button(tr("&Switch sign-in on..."));
    m_add = button(tr("&Add..."));
    m_change = button(tr("C&hange..."));
    m_remove = button(tr("&Remove"));
    m_renew = button(tr("&New recovery code..."));
    m_off = button(tr("Switch &off..."));
    buttons->addButton(tr("&Close"), QDialogButtonBox::RejectRole)->setAutoDefault(false);
    column->addWidget(buttons);
    connect(m_on, &QPushButton::clicked, this, &AccountsDialog::begin);
    connect(m_add, &QPushButton::clicked, this, [this] { edit({}); });
    const auto change = [this] {
        if (!m_table->currentId().isEmpty()) edit(m_table->currentId());
    };
    connect(m_change, &QPushButton::clicked, this, change);
    connect(m_table, &TableView::opened, this, change);
    connect(m_remove, &QPushButton::clicked, this, &AccountsDialog::remove);
    connect(m_renew, &QPushButton::clicked, this, &AccountsDialog::renewCode);
    connect(m_off, &QPushButton::clicked, this, &AccountsDialog::switchOff);
    connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
    const auto fact = session.file().fact(core::kIdleMinutesFact);
    m_minutes->setValue(core::idleMinutesOf(fact ? *fact : std::nullopt));
    connect(m_minutes, &QSpinBox::valueChanged, this, &AccountsDialog::keepMinutes);
    fill();
}

void AccountsDialog::fill(const QString& select) {
    std::vector<core::Instructor> instructors;
    if (auto all = m_session.file().instructors()) instructors = std::move(*all);
    m_accounts.clear();
    if (auto all = m_session.file().accounts()) m_accounts = std::move(*all);
    std::vector<Row> rows;
    for (const core::Account& one : m_accounts)
        rows.push_back({qs(one.name),
                        {longCell(qs(one.name)), Cell{roleWord(one.role)},
                         longCell(nameOf(instructors, one.instructor))}});
    m_model->setRows(std::move(rows));
    const bool on = !m_accounts.empty();
    m_table->setEnabled(on);
    m_table->selectRowAt(std::max(0, m_model->rowOf(select)));
    m_on->setVisible(!on);
    for (QWidget* one : std::initializer_list<QWidget*>{m_add, m_change, m_remove, m_renew, m_off, m_idleRow})
        one->setVisible(on);
    m_words->setText(
        on ? tr("An instructor sees and amends attempts of their own and scores as nobody else. Rubrics, "
                "people, "
                "settings, results, exports and the pages about the whole program are the coordinator's. The "
                "file is not encrypted by this: see the help.")
           : tr("Sign-in is off: whoever opens this file may see and do everything. With sign-in each person "
                "has "
                "a name and a passphrase, instructors see their own attempts only, and the window locks when "
                "nobody touches it."));
    (on ? static_cast<QWidget*>(m_table) : m_on)->setFocus();
}

bool AccountsDialog::stored(const core::Result<void>& result) {
    if (!result) QMessageBox::warning(this, tr("Not stored"), errorText(result.error()));
    return result.has_value();
}

void AccountsDialog::showCode(const std::string& code) {
    RecoveryDialog dialog(m_theme, m_session, m_paper, qs(code), this);
    dialog.exec();
}

void AccountsDialog::begin() {
    const auto instructors = m_session.file().instructors();
    if (!instructors) {
        QMessageBox::warning(this, tr("Not stored"), errorText(instructors.error()));
        return;
    }
    AccountDialog dialog(m_theme, {}, {}, *instructors, true, this);
    if (dialog.exec() != QDialog::Accepted || !dialog.passphrase()) return;
    const auto code = m_session.file().startSignIn(dialog.account(), *dialog.passphrase());
    if (!code) {
        QMessageBox::warning(this, tr("Not switched on"), errorText(code.error()));
        return;
    }
    const core::Account& account = dialog.account();
    m_session.file().actAs({account.name, account.role, account.instructor});
    m_outcome = tr("Sign-in is on; you are signed in as %1").arg(qs(account.name));
    showCode(*code);
    fill(qs(account.name));
}

void AccountsDialog::edit(const QString& name) {
    const auto instructors = m_session.file().instructors();
    if (!instructors) {
        QMessageBox::warning(this, tr("Not stored"), errorText(instructors.error()));
        return;
    }
    core::Account account;
    QStringList others;
    for (const core::Account& one : m_accounts) {
        if (qs(one.name) == name)
            account = one;
        else
            others << qs(one.name);
    }
    AccountDialog dialog(m_theme, account, others, *instructors, false, this);
    if (dialog.exec() != QDialog::Accepted) return;
    if (!stored(m_session.file().saveAccount(dialog.account(), dialog.passphrase()))) return;
    m_outcome = name.isEmpty() ? tr("Account added") : tr("Account changed");
    fill(qs(dialog.account().name));
}

void AccountsDialog::remove() {
    const QString name = m_table->currentId();
    if (name.isEmpty() || !stored(m_session.file().removeAccount(ss(name)))) return;
    m_outcome = tr("Account removed; what they scored stays");
    fill();
}

void AccountsDialog::renewCode() {
    const auto code = m_session.file().newRecoveryCode();
    if (!code) {
        QMessageBox::warning(this, tr("Not stored"), errorText(code.error()));
        return;
    }
    m_outcome = tr("A new recovery code is in force");
    showCode(*code);
}

void AccountsDialog::switchOff() {
    SignInOffDialog sure(m_theme, this);
    if (sure.exec() != QDialog::Accepted || !stored(m_session.file().endSignIn())) return;
    m_session.file().actAs({});
    m_outcome = tr("Sign-in is off");
    fill();
}

void AccountsDialog::keepMinutes() {
    if (stored(m_session.file().setFact(core::kIdleMinutesFact, std::to_string(m_minutes->value()))))
        m_outcome = tr("The time until the window locks is kept");
}

}  // namespace markerlamp::app
