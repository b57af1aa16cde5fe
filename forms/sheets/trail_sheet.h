#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The trail of changes on paper.

#include "forms/sheets/sheets.h"

#include <QDateTime>
#include <QString>

#include <vector>

namespace markerlamp::forms {

struct TrailRow {
    QString number;
    QString when;
    QString who;
    QString change;
    QString about;
    QString words;  ///< what was, what is
};

struct TrailSheetInput {
    QString programTitle;
    QString filter;    ///< which changes these are
    QString standing;  ///< how many entries there are, whether the seals fit
    std::vector<TrailRow> rows;
    QString version;
    QDateTime printed;
    Paper paper = Paper::Letter;
};

/// As many pages as the entries take, none of which is cut in two unless it is longer than a page.
[[nodiscard]] Sheet trailSheet(const TrailSheetInput& input);

}  // namespace markerlamp::forms
