#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Shows a recovery code the one time that it is known, and puts it on paper.

#include "app/support/theme.h"
#include "forms/sheets/sheets.h"

#include <QDialog>

class QLineEdit;

namespace markerlamp::app {

class Session;

class RecoveryDialog final : public QDialog {
    Q_OBJECT

public:
    RecoveryDialog(const Theme& theme, const Session& session, forms::Paper paper, const QString& code,
                   QWidget* parent);
    [[nodiscard]] QString code() const;
    [[nodiscard]] const forms::Sheet& sheet() const { return m_sheet; }
    /// What became of the paper, in words; empty: nothing.
    [[nodiscard]] QString outcome() const { return m_outcome; }

private:
    forms::Sheet m_sheet;
    QLineEdit* m_code;
    QString m_outcome;
};

}  // namespace markerlamp::app
