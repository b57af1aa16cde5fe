// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/access/cover.h"

#include "app/support/busy.h"
#include "app/support/display.h"
#include "app/support/small_screens.h"

#include <QFormLayout>
#include <QHBoxLayout>
#include <QLineEdit>
#include <QStackedWidget>
#include <QVBoxLayout>

namespace markerlamp::app {

namespace {

constexpr int kTick = 250;  ///< milliseconds between two looks at the wait

QLineEdit* secretField() {
    auto* field = new QLineEdit;
    field->setEchoMode(QLineEdit::Password);
    field->setMaxLength(1000);
    return field;
}

Text* problemText(const Theme& theme) {
    auto* text = new Text(theme, 15, true);
    text->setWordWrap(true);
    text->setAccessibleName(Cover::tr("What is wrong"));
    text->hide();
    return text;
}

void tell(Text& where, const QString& words) {
    where.setText(words);
    where.setVisible(!words.isEmpty());
}

}  // namespace

Cover::Cover(const Theme& theme, QWidget* parent)
    : QWidget(parent),
      m_theme(theme),
      m_forms(new QStackedWidget),
      m_title(new Text(theme, 25, true)),
      m_remark(new Text(theme, 15, false, Ink::Muted)) {
    setObjectName(QStringLiteral("cover"));
    setAutoFillBackground(true);
    setAccessibleName(tr("Sign in"));
    m_remark->setWordWrap(true);
    auto* column = new QVBoxLayout;
    column->setSpacing(qRound(theme.s(12)));
    column->addWidget(m_title);
    column->addWidget(m_remark);
    column->addWidget(m_forms);
    m_forms->addWidget(makeSignIn());
    m_forms->addWidget(makeRecovery());
    auto* middle = new QWidget;
    middle->setLayout(column);
    middle->setFixedWidth(qRound(theme.s(520)));
    auto* content = new QWidget;
    auto* frame = new QVBoxLayout(content);
    frame->addStretch(2);
    auto* row = new QHBoxLayout;  // an alignment would not ask how high the wrapped texts are
    row->addStretch(1);
    row->addWidget(middle);
    row->addStretch(1);
    frame->addLayout(row);
    frame->addStretch(3);
    auto* whole = new QVBoxLayout(this);
    whole->setContentsMargins(0, 0, 0, 0);
    whole->addWidget(scrollingPage(content));
    m_tick.setInterval(kTick);
    connect(&m_tick, &QTimer::timeout, this, &Cover::showWait);
    hide();
}

QFormLayout* Cover::fields(std::initializer_list<std::pair<QString, QLineEdit*>> all) const {
    auto* form = new QFormLayout;
    form->setVerticalSpacing(qRound(m_theme.s(8)));
    form->setHorizontalSpacing(qRound(m_theme.s(16)));
    for (const auto& [label, field] : all) {
        auto* words = new Text(m_theme, 15, false, Ink::Full, label);
        words->setBuddy(field);
        form->addRow(words, field);
    }
    return form;
}

QWidget* Cover::makeSignIn() {
    m_name = new QLineEdit;
    m_name->setMaxLength(100);
    m_passphrase = secretField();
    m_problem = problemText(m_theme);
    m_enter = new KeyButton(m_theme, tr("Sign in"), tr("Enter"), true);
    m_recover = makeLink(m_theme, tr("use the recovery code"));
    m_close = makeLink(m_theme, tr("close the program file"));
    auto* page = new QWidget;
    auto* column = new QVBoxLayout(page);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(qRound(m_theme.s(12)));
    column->addLayout(fields({{tr("&Name"), m_name}, {tr("&Passphrase"), m_passphrase}}));
    column->addWidget(m_problem);
    auto* row = new QHBoxLayout;
    row->setSpacing(qRound(m_theme.s(16)));
    row->addWidget(m_enter);
    row->addStretch(1);
    column->addLayout(row);
    auto* links = new QHBoxLayout;
    links->setSpacing(qRound(m_theme.s(24)));
    links->addWidget(m_recover);
    links->addWidget(m_close);
    links->addStretch(1);
    column->addLayout(links);
    column->addStretch(1);
    connect(m_enter, &QPushButton::clicked, this, &Cover::trySignIn);
    connect(m_name, &QLineEdit::returnPressed, this, [this] { m_passphrase->setFocus(); });
    connect(m_passphrase, &QLineEdit::returnPressed, this, &Cover::trySignIn);
    connect(m_close, &QPushButton::clicked, this, &Cover::closeRequested);
    connect(m_recover, &QPushButton::clicked, this, [this] {
        m_forms->setCurrentIndex(1);
        m_who->setText(m_name->text());
        m_code->setFocus();
    });
    return page;
}

QWidget* Cover::makeRecovery() {
    m_code = new QLineEdit;
    m_code->setMaxLength(60);
    m_code->setPlaceholderText(tr("25 letters and digits"));
    m_who = new QLineEdit;
    m_who->setMaxLength(100);
    m_new = secretField();
    m_again = secretField();
    m_recoveryProblem = problemText(m_theme);
    m_renew = new KeyButton(m_theme, tr("Keep the new passphrase"), tr("Enter"), true);
    auto* back = makeLink(m_theme, tr("back"));
    auto* page = new QWidget;
    auto* column = new QVBoxLayout(page);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(qRound(m_theme.s(12)));
    auto* words =
        new Text(m_theme, 15, false, Ink::Full,
                 tr("The code on the printed page gives a coordinator a new passphrase, once: a new "
                    "code is shown afterwards. Where there is no coordinator of this name, one is "
                    "made."));
    words->setWordWrap(true);
    column->addWidget(words);
    column->addLayout(fields({{tr("&Recovery code"), m_code},
                              {tr("Coordinator's &name"), m_who},
                              {tr("New &passphrase"), m_new},
                              {tr("The same &again"), m_again}}));
    column->addWidget(m_recoveryProblem);
    auto* row = new QHBoxLayout;
    row->setSpacing(qRound(m_theme.s(16)));
    row->addWidget(m_renew);
    row->addWidget(back);
    row->addStretch(1);
    column->addLayout(row);
    column->addStretch(1);
    connect(m_renew, &QPushButton::clicked, this, &Cover::tryRecovery);
    connect(m_again, &QLineEdit::returnPressed, this, &Cover::tryRecovery);
    connect(back, &QPushButton::clicked, this, [this] { showSignIn(true); });
    return page;
}

void Cover::ask(db::ProgramFile& file, Reason reason, const QString& name, const QString& remark,
                bool mayRecover) {
    m_gate.emplace(file, [this] { return m_clock(); });
    forget();
    m_title->setText(reason == Reason::Locked ? tr("Locked") : tr("Sign in"));
    m_enter->setText(reason == Reason::Locked ? tr("Unlock") : tr("Sign in"));
    m_name->setText(name);
    setRemark(remark);
    m_recover->setVisible(mayRecover);
    m_close->setVisible(reason == Reason::Opening);
    // They are made before the window knows its type.
    for (QLineEdit* field : {m_name, m_passphrase, m_code, m_who, m_new, m_again})
        field->setFont(m_theme.font(15));
    setGeometry(parentWidget()->rect());
    show();
    raise();
    showSignIn(false);
    showWait();
    m_tick.start();
}

void Cover::setRemark(const QString& remark) {
    tell(*m_remark, remark);
}

void Cover::leave() {
    m_tick.stop();
    m_gate.reset();
    forget();
    hide();
}

void Cover::forget() {
    for (QLineEdit* field : {m_name, m_passphrase, m_code, m_who, m_new, m_again}) field->clear();
    tell(*m_problem, {});
    tell(*m_recoveryProblem, {});
}

void Cover::showSignIn(bool back) {
    m_forms->setCurrentIndex(0);
    if (back)
        for (QLineEdit* field : {m_code, m_new, m_again}) field->clear();
    (m_name->text().isEmpty() ? m_name : m_passphrase)->setFocus();
}

void Cover::showWait() {
    if (!m_gate) return;
    const QString words = m_gate->waitWords();
    const bool waiting = !words.isEmpty();
    const bool waited = !m_enter->isEnabled();
    m_enter->setEnabled(!waiting);
    m_renew->setEnabled(!waiting);
    if (waiting || waited) {
        tell(*m_problem, words);
        tell(*m_recoveryProblem, words);
    }
}

void Cover::trySignIn() {
    if (!m_gate || !m_enter->isEnabled()) return;
    const auto acting = whileBusy([&] { return m_gate->signIn(m_name->text(), m_passphrase->text()); });
    m_passphrase->clear();
    if (acting) {
        emit passed(*acting);
        return;
    }
    tell(*m_problem, errorText(acting.error(), 1));
    m_passphrase->setFocus();
    showWait();
}

void Cover::tryRecovery() {
    if (!m_gate || !m_renew->isEnabled()) return;
    const auto done = whileBusy(
        [&] { return m_gate->recover(m_code->text(), m_who->text(), m_new->text(), m_again->text()); });
    if (done) {
        emit recovered(done->acting, done->code);
        return;
    }
    tell(*m_recoveryProblem, errorText(done.error(), 1));
    showWait();
}

}  // namespace markerlamp::app
