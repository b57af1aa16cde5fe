#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Keeps on file that a progress sheet was made, and that both signed it.

#include "core/base/result.h"
#include "core/history/sheet_record.h"

#include <QString>
#include <QStringList>

namespace markerlamp::app {

class Session;

/// The sheets of these attempts left the program, on paper or as a PDF file.
core::Result<void> noteSheetsMade(Session& session, const QStringList& attempts);
/// Notes that both signed it; when that is on file already, takes it back. What was done, in words.
[[nodiscard]] core::Result<QString> noteSigning(Session& session, const QString& attempt);
/// "sheet signed 12 Mar 2026"; empty while the program has made none and none is signed.
[[nodiscard]] QString sheetWords(const core::SheetStanding& standing);
[[nodiscard]] core::Result<core::SheetStanding> sheetOf(Session& session, const QString& attempt);

}  // namespace markerlamp::app
