#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What was chosen for the differences of a pair before the record is settled, as a text that can be kept.

#include "core/agreement/scoring_pair.h"

#include <map>
#include <string>
#include <string_view>

namespace markerlamp::core {

using Choices = std::map<std::string, Settling>;  ///< by id of the step

// JSON Lines, "markerlamp.choices/1", one step a line.
[[nodiscard]] std::string writeChoices(const Choices& choices);
[[nodiscard]] Result<Choices> readChoices(std::string_view text, const std::string& name = {});

}  // namespace markerlamp::core
