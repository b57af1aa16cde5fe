#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Numbers, dates and words as people read them: the one place where core values become translated text.

#include "core/attempt/attempt.h"
#include "core/base/result.h"
#include "core/scoring/scorecard.h"

#include <QDate>
#include <QDateTime>
#include <QString>

#include <optional>
#include <string>

namespace markerlamp::app {

[[nodiscard]] inline QString qs(const std::string& text) {
    return QString::fromStdString(text);
}
[[nodiscard]] inline std::string ss(const QString& text) {
    return text.toStdString();
}

/// One a line; after `most` of them only how many more there are.
[[nodiscard]] QString firstLines(const QStringList& lines, int most);
/// The sentence for people; problems (at most `most` of them) follow, one a line.
[[nodiscard]] QString errorText(const core::Error& error, int most = 12);

/// Start of an attempt as its header gives it: wall time at the place, invalid when it cannot be read.
[[nodiscard]] QDateTime startedAt(const std::string& iso);
/// Now, ISO 8601 with the offset of this place, whole seconds.
[[nodiscard]] std::string nowIso();
[[nodiscard]] std::string isoMoment(const QDateTime& moment);  ///< the same of any moment
[[nodiscard]] QDate isoDate(const std::string& iso);
[[nodiscard]] QString longDate(const QDate& date);   ///< 12 Mar 2025; empty for an invalid date
[[nodiscard]] QString shortDate(const QDate& date);  ///< 12 Mar
/// "ends 30 Apr 2026 (49 days)", "ended 30 Apr 2026", "no date".
[[nodiscard]] QString endsText(const QDate& end, const QDate& today);

[[nodiscard]] QString percentText(double percent);  ///< whole percent, never rounded up to a mark it misses
[[nodiscard]] QString clockText(double seconds);    ///< 38:20, 1:02:03
[[nodiscard]] QString numberText(double value);     ///< shortest form, at most three decimals
/// "at most 3 psi", "under 2 psi", "at least 55 psi", "20 to 45 psi".
[[nodiscard]] QString boundsText(std::optional<double> low, std::optional<double> high, const QString& unit,
                                 bool exclusive = false);

[[nodiscard]] QString outcomeWord(core::StepOutcome outcome);
[[nodiscard]] QString resultWord(core::AttemptResult result);
/// One sentence on why an attempt did not pass; titles from the rubric.
[[nodiscard]] QString reasonText(const core::Reason& reason, const core::Rubric& rubric,
                                 const core::Scorecard& card);

}  // namespace markerlamp::app
