#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// For an editor: what can be read of a rubric document that may be unfinished, and all that is wrong with it.

#include "core/base/result.h"
#include "core/rubric/rubric.h"

#include <string>
#include <string_view>
#include <vector>

namespace markerlamp::core {

/// With no problem the rubric is what readRubric() gives.
struct RubricReading {
    Rubric rubric;
    std::vector<Problem> problems;
};
[[nodiscard]] RubricReading readRubricAsFarAsItGoes(std::string_view yaml, const std::string& name = {});

}  // namespace markerlamp::core
