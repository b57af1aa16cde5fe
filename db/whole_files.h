#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Program files as wholes: whether two hold the same, and one put in the place of another.

#include "core/base/result.h"

#include <filesystem>

namespace markerlamp::db {

/// Every table row by row, whatever later schemas add; caches and what only concerns this workstation (facts
/// ui.*) do not count.
core::Result<bool> sameRecords(const std::filesystem::path& a, const std::filesystem::path& b);

/// A name beside `path` that nothing has, for a file that may take its place.
[[nodiscard]] std::filesystem::path freshNameFor(const std::filesystem::path& path);
/// Removes a file from freshNameFor() and what SQLite keeps beside it.
void discardFresh(const std::filesystem::path& fresh) noexcept;

/// Gives the closed file `fresh` the name and place of the program file `old`, which is gone then. Busy, and
/// nothing changes, while something has `old` open.
core::Result<void> replaceProgram(const std::filesystem::path& old, const std::filesystem::path& fresh);

}  // namespace markerlamp::db
