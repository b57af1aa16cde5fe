#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// `markerlamp COMMAND ...`: everything that works without a display. Exit codes: 0 done, 1 the input was
// refused, 2 wrong usage, 3 the machine failed.

#include "core/base/result.h"

#include <QStringList>

#include <optional>

namespace markerlamp::app {

inline constexpr int kDone = 0;
inline constexpr int kRefused = 1;
inline constexpr int kWrongUsage = 2;
inline constexpr int kMachineFailed = 3;

/// The exit code when the arguments name a command, --help or --version, or are wrong; nothing when the
/// window is meant.
std::optional<int> runCommandLine(int argc, char** argv);

/// Prints the error with every problem on standard error and returns its exit code.
int reportError(const core::Error& error);

// The commands. `arguments` are those after the command's name; each takes --help.
int checkCommand(const QStringList& arguments);
int scoreCommand(const QStringList& arguments);
int newCommand(const QStringList& arguments);
int importCommand(const QStringList& arguments);
int exportCommand(const QStringList& arguments);
int sheetCommand(const QStringList& arguments);

}  // namespace markerlamp::app
