#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The part of `markerlamp check` that holds a limit set against a rubric.

#include <string>

namespace markerlamp::app {

struct LimitsCheck {
    std::string rubric;  ///< path of the rubric
    std::string limits;  ///< path of the limit set
    std::string out;     ///< where the new edition goes; empty: it is only told what would change
    bool json = false;
};

/// Returns the exit code.
int checkLimits(const LimitsCheck& check);

}  // namespace markerlamp::app
