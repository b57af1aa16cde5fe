#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Whoever is signed in gives themselves another passphrase, by the one they have.

#include "app/trainees/people_dialogs.h"
#include "db/program_file.h"

namespace markerlamp::app {

class OwnPassphraseDialog final : public FormDialog {
    Q_OBJECT

public:
    OwnPassphraseDialog(const Theme& theme, db::ProgramFile& file, QWidget* parent);

protected:
    /// Stores it. A wrong passphrase counts as a failed sign-in: nobody tries them out at an open window.
    core::Result<void> check() override;

private:
    db::ProgramFile& m_file;
    QLineEdit *m_present, *m_next, *m_again;
};

}  // namespace markerlamp::app
