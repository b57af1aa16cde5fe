#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The passphrase of a package: from a file, or typed at the terminal, where it is not shown. Never from the
// command line, which other users of the machine can read.

#include "app/cli/arguments.h"
#include "core/base/result.h"
#include "db/copies/sealed_copy.h"

#include <optional>
#include <string>

namespace markerlamp::app {

inline constexpr const char* kPassphraseOption = "--passphrase-file";

/// First line of the file that the option named; else asked for.
[[nodiscard]] core::Result<std::string> readPassphrase(const char* option,
                                                       const std::optional<std::string>& file, bool twice);
/// First line of the file of --passphrase-file; else asked for, twice where it seals something.
[[nodiscard]] core::Result<std::string> passphraseFor(const Arguments& arguments, bool twice);

/// Opens a sealed copy with that passphrase.
[[nodiscard]] db::OpenedCopy::Open askingFor(const Arguments& arguments);

}  // namespace markerlamp::app
