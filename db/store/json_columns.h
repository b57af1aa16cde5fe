#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The few columns that hold JSON text: lists of ids and bounds of limits.

#include "core/attempt/attempt.h"

#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace markerlamp::db {

[[nodiscard]] std::string toJsonText(const std::vector<std::string>& list);
[[nodiscard]] std::string toJsonText(const std::map<std::string, core::LimitBounds>& limits);
/// Throws std::exception on text that this program did not write (see guarded()).
[[nodiscard]] std::vector<std::string> listFromJson(std::string_view text);
[[nodiscard]] std::map<std::string, core::LimitBounds> limitsFromJson(std::string_view text);

}  // namespace markerlamp::db
