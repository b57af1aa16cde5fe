#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// How a command opens a program file: where it has accounts, as one of them, and only for what they may do.

#include "app/cli/arguments.h"
#include "core/access/deeds.h"
#include "core/base/result.h"
#include "db/program_file.h"

#include <memory>
#include <optional>
#include <string>

namespace markerlamp::app {

/// The end of the help of each command that takes them.
inline constexpr const char* kSignInHelp =
    "\nA program file that people sign in to wants to know who works with it:\n\n"
    "  --as NAME               as this account; an instructor gets their own attempts only\n"
    "  --as-passphrase-file F  take its passphrase from the first line of F; without it, it is asked for\n";

/// The options of a command and those of signing in.
[[nodiscard]] Words withSignIn(Words options);

struct SignIn {
    std::optional<std::string> name;
    std::optional<std::string> passphraseFile;
};
[[nodiscard]] SignIn signInOf(const Arguments& arguments);

/// Whether the log beside the file, if a crash left one, is the file's own; while a window has the file, it
/// is. Refused where it is another's, Machine where that cannot be told: every command looks before it opens
/// a program file.
[[nodiscard]] core::Result<void> logBelongs(const std::string& path);

/// @param deed what the command is about to do; nothing: what everybody may who is signed in
[[nodiscard]] core::Result<std::unique_ptr<db::ProgramFile>> openProgram(const std::string& path,
                                                                         db::OpenMode mode,
                                                                         const SignIn& signIn,
                                                                         std::optional<core::Deed> deed = {});

}  // namespace markerlamp::app
