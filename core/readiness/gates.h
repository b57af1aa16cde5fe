#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Conditions besides the forecast. Met, not met, or unknown, each with its evidence.

#include "core/history/history.h"
#include "core/people/people.h"
#include "core/readiness/readiness_settings.h"

#include <string>
#include <string_view>
#include <vector>

namespace markerlamp::core {

enum class GateState { Met, NotMet, Unknown };
[[nodiscard]] std::string_view toWord(GateState state);  ///< "met", "not met", "unknown"

struct Gate {
    std::string id;  ///< must-pass, full-attempt, permit-held, permit-runs, medical, theory
    GateState state = GateState::Unknown;
    std::string why;                    ///< one sentence with the evidence, without full stop
    std::string opens;                  ///< what would open it, to follow "needs"; empty when met
    std::vector<std::string> attempts;  ///< ids of attempts that say so, newest first; may be empty
    std::vector<std::string> steps;     ///< must-pass: what is still missing (step or rule ids)
};

/// @param attempts of the trainee that count, oldest first (history.h), all begun before `today`'s end
/// @param today    ISO 8601 date, local to the program
/// Gates that the settings do not ask for are left out.
///
/// must-pass looks at each step and rule of the newest attempt's rubric by itself: in the last attempts that
/// had it in scope. Drills of other zones therefore neither open nor shut it.
[[nodiscard]] std::vector<Gate> gates(const Trainee& trainee, const std::vector<ScoredAttempt>& attempts,
                                      const std::string& today, const ReadinessSettings& settings);

}  // namespace markerlamp::core
