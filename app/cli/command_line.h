#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// `markerlamp COMMAND ...`: everything that works without a display. Exit codes: 0 done, 1 the input was
// refused (what is named and not there, too), 2 wrong usage, 3 the machine failed (standard output that
// cannot be written to, too).

#include "core/base/result.h"

#include <optional>
#include <string>
#include <vector>

namespace markerlamp::app {

inline constexpr int kDone = 0;
inline constexpr int kRefused = 1;
inline constexpr int kWrongUsage = 2;
inline constexpr int kMachineFailed = 3;

/// Arguments as the system hands them over, byte for byte: a file name need not be UTF-8.
using Words = std::vector<std::string>;

/// The exit code when the arguments name a command, --help or --version, or are wrong; nothing when the
/// window is meant.
std::optional<int> runCommandLine(int argc, char** argv);

/// Prints the error with every problem on standard error and returns its exit code.
int reportError(const core::Error& error);

// The commands. `arguments` are those after the command's name; each takes --help.
int checkCommand(const Words& arguments);
int scoreCommand(const Words& arguments);
int newCommand(const Words& arguments);
int importCommand(const Words& arguments);
int exportCommand(const Words& arguments);
int sheetCommand(const Words& arguments);
int agreeCommand(const Words& arguments);
int forecastCommand(const Words& arguments);
int drillCommand(const Words& arguments);
int trackCommand(const Words& arguments);
int recordCommand(const Words& arguments);
int eraseCommand(const Words& arguments);
int backupCommand(const Words& arguments);
int restoreCommand(const Words& arguments);
int verifyCommand(const Words& arguments);
int trailCommand(const Words& arguments);

}  // namespace markerlamp::app
