// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/access/own_passphrase_dialog.h"

#include "app/access/gate.h"
#include "app/support/busy.h"
#include "app/support/display.h"

#include <QFormLayout>
#include <QLineEdit>

namespace markerlamp::app {

OwnPassphraseDialog::OwnPassphraseDialog(const Theme& theme, db::ProgramFile& file, QWidget* parent)
    : FormDialog(theme, tr("Change my passphrase"), tr("C&hange it"), parent), m_file(file) {
    auto* words = new Text(theme, 15, false, Ink::Full,
                           tr("Signed in as %1. The new passphrase holds for this program file, on every "
                              "computer that opens it.")
                               .arg(qs(file.acting().name)));
    words->setWordWrap(true);
    form()->addRow(words);
    m_present = addField(tr("&Present passphrase"), {});
    m_next = addField(tr("&New passphrase"), {}, tr("12 characters or more"));
    m_again = addField(tr("The same a&gain"), {});
    for (QLineEdit* field : {m_present, m_next, m_again}) field->setEchoMode(QLineEdit::Password);
    m_present->setFocus();
}

core::Result<void> OwnPassphraseDialog::check() {
    const auto next = Gate::twice(m_next->text(), m_again->text());
    if (!next) return core::fail(next.error());
    if (*next == Gate::spelled(m_present->text()))
        return core::fail(core::ErrorKind::Refused,
                          ss(tr("the new passphrase is the present one; choose another")));
    return whileBusy([&]() -> core::Result<void> {
        const auto known = Gate(m_file).signIn(qs(m_file.acting().name), m_present->text());
        if (!known) return core::fail(known.error());
        return m_file.saveAccount({known->name, known->role, known->instructor}, *next);
    });
}

}  // namespace markerlamp::app
