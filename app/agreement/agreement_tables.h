#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Words and tables of the Agreement page besides the pair view.

#include "app/agreement/agreement_model.h"
#include "app/support/data_table_dialog.h"

#include <QString>

#include <vector>

namespace markerlamp::app {

/// "Trainee E, 3 Mar 2025", who scored, how the clocks were aligned, whether it was settled.
[[nodiscard]] QStringList pairFacts(const AgreementModel& model);
/// "17 of 114 steps, and 4 that one did not observe".
[[nodiscard]] QString differenceRemark(const core::ScoringPair& pair);
/// Second scorings that cannot be compared yet, and why; empty when there are none.
[[nodiscard]] QString waitingWords(const std::vector<WaitingScoring>& waiting);

/// "0.93 (0.88 to 0.97)".
[[nodiscard]] QString figureText(double value, const std::optional<core::Interval>& interval);
/// What was resampled, and what that means.
[[nodiscard]] QString resampledWords(const core::Agreement& agreement);
/// Counts first, then percent, then the coefficient: all that the picture shows, in a sentence.
[[nodiscard]] QString agreementWords(const core::Agreement& shown, const core::Agreement& said,
                                     const QString& first, const QString& second);
/// Every figure, those that the page leaves out too.
[[nodiscard]] DataTable agreementTable(const QString& title, const core::Agreement& shown,
                                       const core::Agreement& said);

/// In how many cases of 100 luck alone puts one outside, or why nothing is said.
[[nodiscard]] QString luckWords(const core::StrictnessFunnel& funnel);
[[nodiscard]] DataTable strictnessTable(const AgreementModel& model);
[[nodiscard]] DataTable pairsTable(const AgreementModel& model);

[[nodiscard]] std::vector<Column> disputedColumns();
[[nodiscard]] std::vector<Row> disputedRows(const std::vector<core::DisputedStep>& steps);

}  // namespace markerlamp::app
