#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What import and export agree on besides the documents themselves.

#include <string>
#include <string_view>

namespace markerlamp::db {

/// program.csv: an attempt that was set aside, behind this prefix.
inline constexpr std::string_view kSetAsideFact = "attempt.set-aside:";

/// Facts about the program travel; those about this workstation's file do not.
[[nodiscard]] inline bool isExchangedFact(std::string_view key) {
    return key.starts_with("program.");
}

/// A file name that no id can lead out of its folder with: bytes outside [A-Za-z0-9._-] as %XX, no leading
/// dot. Names that would be longer than file systems allow are cut and end in "~" and a hash of the id.
[[nodiscard]] std::string fileNameOf(std::string_view id);

}  // namespace markerlamp::db
