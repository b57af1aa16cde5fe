#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What a program asks for besides the forecast, and the words it uses: facts of the program file, so they
// travel with it. Keys begin with "program.gate." and "program.word.".

#include "core/base/result.h"

#include <string>
#include <utility>
#include <vector>

namespace markerlamp::core {

/// "in the first 14 days after issue" is read in two ways (49 CFR 383.25): with a permit issued on day D the
/// earliest test is D + 14, or D + 15.
enum class PermitDayRule { IssuePlusDays, IssuePlusDaysAndOne };

struct ReadinessSettings {
    bool askMustPass =
        true;  ///< every must-pass step and rule by oneself in the last `mustPassAttempts` attempts
    int mustPassAttempts = 2;
    bool askFullAttempt = true;  ///< an attempt over all zones in the last `fullAttemptDays` days
    int fullAttemptDays = 21;
    bool askPermit = true;
    int permitDays = 14;
    PermitDayRule permitDayRule = PermitDayRule::IssuePlusDaysAndOne;  ///< the stricter reading
    int permitLeftDays = 14;  ///< the permit must still run this many days
    bool askMedical = true;
    bool askTheory = true;
    double theoryPercent = 80;
    double readyAt = 0.8;  ///< Ready: chance at least this, and low end at least readyLow
    double readyLow = 0.6;
    double closeAt = 0.5;    ///< Close: chance at least this
    int fewestAttempts = 2;  ///< fewer: too little data
    std::string wordReady = "Ready";
    std::string wordClose = "Close";
    std::string wordNotYet = "Not yet";
    std::string wordTooLittle = "Too little data";

    bool operator==(const ReadinessSettings&) const = default;
};

/// From a program's facts. Facts that are missing keep their default; a value that makes no sense is refused
/// with its key and what would be right.
[[nodiscard]] Result<ReadinessSettings> settingsFromFacts(
    const std::vector<std::pair<std::string, std::string>>& facts);
/// Every setting as key and value, in the order in which a form asks for them.
[[nodiscard]] std::vector<std::pair<std::string, std::string>> factsFromSettings(
    const ReadinessSettings& settings);

}  // namespace markerlamp::core
