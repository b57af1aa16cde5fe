#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Files that appear whole or not at all: made beside under another name, synced, renamed.

#include "core/base/result.h"

#include <filesystem>
#include <string_view>

namespace markerlamp::db {

/// Makes an empty file with mode 0600. Conflict when something of that name is there.
core::Result<void> createPrivateFile(const std::filesystem::path& path);
/// Syncs `made` and gives it its name; Conflict when something of that name is there already.
core::Result<void> publish(const std::filesystem::path& made, const std::filesystem::path& name);
/// Writes a new file and syncs it.
core::Result<void> writeWhole(const std::filesystem::path& path, std::string_view bytes);
/// Makes the names in a folder durable.
core::Result<void> syncFolder(const std::filesystem::path& folder);
/// Removes a database file and what SQLite keeps beside it.
void removeDatabase(const std::filesystem::path& path) noexcept;
/// A name beside `path` that nothing has: ".NAME.TAG-PROCESS-COUNT".
[[nodiscard]] std::filesystem::path besideName(const std::filesystem::path& path, std::string_view tag);

}  // namespace markerlamp::db
