#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The recovery code of a program file on one page, to be locked away.

#include "forms/sheets/sheets.h"

#include <QDateTime>
#include <QString>

namespace markerlamp::forms {

struct RecoverySheetInput {
    QString programTitle;
    QString fileName;
    QString code;  ///< five groups with dashes between them
    QString version;
    QDateTime printed;
    Paper paper = Paper::Letter;
};

[[nodiscard]] Sheet recoverySheet(const RecoverySheetInput& input);

}  // namespace markerlamp::forms
