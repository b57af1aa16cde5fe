#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The sentences of the sheets: what a result means and why, what to say next time, what to do in which order.
// Plain words, no codes.

#include "core/attempt/marks.h"
#include "core/history/history.h"
#include "core/rubric/rubric.h"
#include "core/scoring/scorecard.h"

#include <QString>
#include <QStringList>

#include <vector>

namespace markerlamp::forms {

/// 93 -> "93 %"; never rounded up to a pass mark that was not reached ("79.9 %").
[[nodiscard]] QString percentText(double percent, double passMark);

/// Figures with their unit as people write it: "4/32 in", "180 °F", "60 psi".
[[nodiscard]] QString withUnit(const QString& figures, const std::string& unit);
/// "3 psi", "4/32 in" (unit "1/32 in"), "180 °F" (unit "degF").
[[nodiscard]] QString valueText(double value, const std::string& unit);

/// "at most 3 psi", "under 2 psi" (exclusive), "at least 4/32 in", "20 to 45 psi".
[[nodiscard]] QString limitText(const core::Limit& limit);

/// What a step needs of the bus: "only with: Lift", "not with: Air brakes"; empty when it always applies.
[[nodiscard]] QString conditionText(const core::Rubric& rubric, const core::Step& step);

struct ResultWords {
    QString headline;  ///< steps right, percent, and whether that meets the pass rule
    QString why;       ///< the pass rule and every reason against it
    QString counts;    ///< shown, explained, left out, ...
};
[[nodiscard]] ResultWords resultWords(const core::ScoredAttempt& scored);

/// One line for each zone with must-pass steps and each strict must-pass order rule.
struct MustPassFact {
    enum class State { Clean, Open, NotSeen } state = State::Clean;
    QString text;
};
[[nodiscard]] std::vector<MustPassFact> mustPassFacts(const core::ScoredAttempt& scored);

/// What the trainee should do and say at this step the next time. full: also what to point at, where that was
/// missed.
[[nodiscard]] QString nextTimeText(const core::ScoredAttempt& scored, const core::SayNext& next, bool full);

/// What to do earlier or later.
struct OrderRemark {
    QString what;  ///< "Chocks before Hood opened"
    QString why;   ///< the rule's reason; empty where an earlier remark gave it, or the rule gives none
};
/// One for each step out of place; empty when the order was right.
[[nodiscard]] std::vector<OrderRemark> orderRemarks(const core::ScoredAttempt& scored);

/// "12 Mar 2025, 06:10" in the time zone that the text names; the text itself when it is no ISO 8601 time.
[[nodiscard]] QString dateTimeText(const std::string& iso);

/// The sentence about engine, brake and wheels that stands on every sheet.
[[nodiscard]] QString cautionText();
/// That training does not decide.
[[nodiscard]] QString disclaimerText();

}  // namespace markerlamp::forms
