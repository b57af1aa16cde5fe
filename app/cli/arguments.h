#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Splits the arguments of a command: options, options with a value, and the rest. Unknown options are wrong
// usage.

#include "app/cli/command_line.h"

#include <map>
#include <optional>
#include <set>
#include <string>

namespace markerlamp::app {

class Arguments {
public:
    /// @param flags  options without a value ("--json"); --help is always known
    /// @param values options with one ("--to"); both "--to X" and "--to=X" are taken
    Arguments(const Words& arguments, const Words& flags, const Words& values);

    [[nodiscard]] const std::string& problem() const { return m_problem; }  ///< empty: usable
    [[nodiscard]] bool has(const std::string& flag) const { return m_flags.contains(flag); }
    [[nodiscard]] std::optional<std::string> value(const std::string& option) const;
    [[nodiscard]] const Words& rest() const { return m_rest; }

private:
    std::string m_problem;
    std::set<std::string> m_flags;
    std::map<std::string, std::string> m_values;
    Words m_rest;
};

/// Prints the command's help on standard output; returns kDone.
/// @param more printed after it
int printHelp(const char* help, const char* more = "");
/// Prints what is wrong and the help on standard error; returns kWrongUsage.
int wrongUsage(const char* command, const std::string& problem, const char* help);

}  // namespace markerlamp::app
