#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What `forecast`, `drill` and `track` have in common: the program file, whom and when they are about, and
// chances in words.

#include "app/cli/opened_program.h"
#include "app/cli/progress_line.h"
#include "app/readiness/program_readiness.h"
#include "core/base/result.h"

#include <memory>
#include <optional>
#include <string>

namespace markerlamp::app {

/// A moment "2026-03-02T06:10:00-05:00" or "...Z", or a date, which begins at midnight UTC. Refused with what
/// would be right.
[[nodiscard]] core::Result<double> momentOption(const std::string& option, const std::string& text);
/// A number from `least` to `most`, e.g. of minutes. Refused with what would be right.
[[nodiscard]] core::Result<double> numberOption(const std::string& option, const std::string& text,
                                                double least, double most);

/// The day number of this moment.
[[nodiscard]] double dayNow();

/// Opens the file for reading and reads it, with progress.
[[nodiscard]] core::Result<std::unique_ptr<ProgramReadiness>> readReadiness(
    const std::string& path, const SignIn& signIn, ProgressLine& progress,
    std::optional<core::Deed> deed = {});

/// "about 7 in 10", "nearly all", "hardly any": never a percentage.
[[nodiscard]] std::string tenths(double chance);

}  // namespace markerlamp::app
