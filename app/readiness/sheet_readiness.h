#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Readiness and next drill for the progress sheet, from a program file (command line) or from what a page
// shows (window).

#include "app/readiness/program_readiness.h"
#include "forms/sheets/sheets.h"

#include <optional>
#include <string>

namespace markerlamp::app {

inline constexpr double kLeastDrillMinutes = 5;
inline constexpr double kMostDrillMinutes = 180;

/// "24" or "7.5" within the bounds above; anything else is refused with what would be right.
[[nodiscard]] core::Result<double> drillMinutes(const std::string& text);

/// What a sheet may carry besides the attempt.
struct SheetExtras {
    std::optional<forms::SheetReadiness> readiness;
    std::optional<forms::SheetDrill> drill;
};

/// @param now day, see core::dayOf()
[[nodiscard]] core::Result<SheetExtras> sheetExtras(db::ProgramFile& file, const std::string& trainee,
                                                    bool readiness, std::optional<double> minutes,
                                                    double now);
/// The same of a program that was read already.
[[nodiscard]] core::Result<SheetExtras> sheetExtras(ProgramReadiness& program, db::ProgramFile& file,
                                                    const std::string& trainee, bool readiness,
                                                    std::optional<double> minutes, double now);

}  // namespace markerlamp::app
