#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Copies of the program file in words: what the table and the lines of the dialog say.

#include "app/support/rows_model.h"
#include "db/copies/copies.h"
#include "db/copies/sealed_copy.h"
#include "db/copies/verify.h"

#include <QDateTime>
#include <QString>

#include <functional>
#include <map>
#include <optional>
#include <vector>

namespace markerlamp::app {

/// What looking into one copy gave.
struct CopyLook {
    QString path;
    core::Result<db::FileReport> report;
    core::Result<db::CopyDifference> difference;

    [[nodiscard]] bool good() const { return report && report->good(); }
};
/// Takes a while. @param goOn asked now and then; false stops
/// A sealed copy is opened with the key that the program seals its copies with.
[[nodiscard]] core::Result<db::OpenedCopy> openCopy(const QString& program, const QString& copy);
[[nodiscard]] CopyLook lookInto(const QString& program, const QString& copy,
                                const std::function<bool()>& goOn = {});

[[nodiscard]] QString whyText(core::CopyReason reason);
[[nodiscard]] QString whenText(std::int64_t ms);  ///< 2 Mar 2026, 12:00, by the clock of this place
/// "2 attempts, 1 trainee"; "nothing".
[[nodiscard]] QString countsText(const db::CopyDifference::Count& count);
/// "sound", "damaged", "looking ...", "put aside as it was".
[[nodiscard]] QString stateText(const db::CopyFile& copy, const std::optional<CopyLook>& look);

[[nodiscard]] std::vector<Column> copyColumns();
/// Row ids are paths. @param looks by path
[[nodiscard]] std::vector<Row> copyRows(const std::vector<db::CopyFile>& copies,
                                        const std::map<QString, CopyLook>& looks);
/// What stands below the table about the current copy.
[[nodiscard]] QString copyLines(const db::CopyFile& copy, const std::optional<CopyLook>& look);
/// What is asked before a copy takes the file's place.
[[nodiscard]] QString restoreQuestion(const db::CopyFile& copy, const CopyLook& look);
/// What to say after a copy was made or not; empty: nothing worth a word.
[[nodiscard]] QString keptText(const core::Result<db::CopyKept>& kept);

}  // namespace markerlamp::app
