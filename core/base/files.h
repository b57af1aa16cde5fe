#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What every module asks of a disk: documents read whole, files that appear whole or not at all. The only
// part of core that touches one.
//
// Which error: what is named and not there, or is no regular file, is the request's fault (NotFound,
// Refused); what is there and cannot be read or written is the machine's (Machine).

#include "core/base/result.h"

#include <cstddef>
#include <filesystem>
#include <string>
#include <string_view>

namespace markerlamp::core {

/// The bytes of a document; of one larger than `most` only `most` + 1, which its reader then refuses. Never
/// waits: a pipe, a device or a folder is refused.
Result<std::string> readDocument(const std::filesystem::path& path, std::size_t most);

/// Puts `bytes` under this name, in place of a regular file or of nothing: written beside, synced, renamed. A
/// link to a regular file stays one. Refused: a folder, a device, a pipe, a link that leads nowhere.
Result<void> replaceFile(const std::filesystem::path& path, std::string_view bytes);
/// The same questions asked before a long piece of work: what supersede() may be given as name then.
Result<std::filesystem::path> replaceTarget(const std::filesystem::path& path);

/// Whether a file or folder can be made under this name: NotFound when its folder is not there.
Result<void> folderIsThere(const std::filesystem::path& path);
/// Makes an empty file with mode 0600. Conflict when something of that name is there.
Result<void> createPrivateFile(const std::filesystem::path& path);
/// Syncs `made` and gives it its name; Conflict when something of that name is there already.
Result<void> publish(const std::filesystem::path& made, const std::filesystem::path& name);
/// Syncs `made` and gives it the name of a file that is there and goes away with it.
Result<void> supersede(const std::filesystem::path& made, const std::filesystem::path& name);
/// Writes a new file with mode 0600 and syncs it.
Result<void> writeWhole(const std::filesystem::path& path, std::string_view bytes);
/// Makes the names in a folder durable.
Result<void> syncFolder(const std::filesystem::path& folder);
/// A name beside `path` that nothing has: ".NAME.TAG-PROCESS-COUNT".
[[nodiscard]] std::filesystem::path besideName(const std::filesystem::path& path, std::string_view tag);

}  // namespace markerlamp::core
