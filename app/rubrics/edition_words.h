#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What is different in another edition, what it would do to stored attempts, and what is wrong with a draft,
// in words and as rows of tables. Pure functions.

#include "app/rubrics/draft.h"
#include "app/support/data_table_dialog.h"
#include "core/scoring/edition_trial.h"

#include <QString>

#include <functional>

namespace markerlamp::app {

/// "Step Applied leakage", "point 2 psi of Static leakage", "limit cut-out".
[[nodiscard]] QString subjectOf(const core::EditionChange& change, const core::Rubric& after);
/// "added", "moved to Air brakes, from Engine", "weight 2, was 1", "must pass now".
[[nodiscard]] QString changeInWords(const core::EditionChange& change);
/// "1 step new, 2 limits changed"; what changed in many ways counts once.
[[nodiscard]] QString differenceInWords(const std::vector<core::EditionChange>& changes);
[[nodiscard]] std::vector<Column> differenceColumns();
[[nodiscard]] std::vector<Row> differenceRows(const std::vector<core::EditionChange>& changes,
                                              const core::Rubric& after);

/// "12 of 96 results would change: 9 no longer pass, 3 now pass."
[[nodiscard]] QString effectInWords(const core::EditionEffect& effect);
/// Where something is left out of the trial, and what: more than nothing only where it matters.
[[nodiscard]] QString trialRemarks(const core::EditionEffect& effect,
                                   const std::vector<core::EditionChange>& changes,
                                   core::NewThings newThings);
/// "-3.4" or "+0.5", with a true minus sign.
[[nodiscard]] QString signedText(double value);

using NameOf = std::function<QString(const std::string& trainee)>;
[[nodiscard]] std::vector<Column> effectColumns();
/// Those whose result changes, or all; by start.
[[nodiscard]] std::vector<Row> effectRows(const core::EditionEffect& effect, bool onlyChanged,
                                          const NameOf& nameOf);

/// "Applied leakage, point 2: the text is empty; give it".
[[nodiscard]] QString problemInWords(const core::Problem& problem, const Draft& draft);

}  // namespace markerlamp::app
