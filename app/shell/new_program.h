#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Makes a program file: the built-in rubrics and limit sets, and for the demo the invented district.

#include "core/base/result.h"

#include <filesystem>
#include <optional>
#include <string>

namespace markerlamp::app {

/// The fact that holds the last day of a demo (YYYY-MM-DD): with it the same file can be made again.
inline constexpr const char* kDemoUntilFact = "program.demo_until";

/// Refuses to overwrite. What could not be made whole is removed again.
/// @param demoUntil also the demo program, with this last day (YYYY-MM-DD; on a weekend: the Friday before)
core::Result<void> makeProgram(const std::filesystem::path& path,
                               const std::optional<std::string>& demoUntil = {});

}  // namespace markerlamp::app
