#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What a reading is against its limit, in words for the screen. The scorecard judges by the rule alone; the
// words also tell when the gauge cannot be read finely enough to be sure.

#include "core/rubric/rubric.h"

#include <QString>

namespace markerlamp::app {

enum class Verdict { Within, TooClose, Over, Under };

/// tolerance: how finely the gauge can be read, in the limit's unit; 0: figures are taken as exact.
[[nodiscard]] Verdict verdictOf(double value, const core::Limit& limit, double tolerance);
[[nodiscard]] QString verdictWord(Verdict verdict);

}  // namespace markerlamp::app
