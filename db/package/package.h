#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// All documents of a program in one sealed file, to be carried to another workstation: an archive in the pax
// form of tar (POSIX.1-2001) inside a seal.

#include "core/base/result.h"
#include "db/exchange/exchange.h"
#include "db/package/seal.h"

#include <filesystem>
#include <functional>
#include <string_view>

namespace markerlamp::db {

/// Ends of names of packages.
inline constexpr std::string_view kPackageEnding = ".mlpack";

/// What exportTo() writes, sealed. Written beside and renamed; a file of that name is refused. How many
/// documents. A stop asked for by progress leaves nothing and is an error of kind Usage with an empty
/// message.
core::Result<int> writePackage(ProgramFile& file, const std::filesystem::path& path,
                               std::string_view passphrase, const SealCost& cost = {},
                               const std::function<bool(double)>& progress = {});

/// Takes the documents of a package as importPaths() takes those of a folder. The whole package is checked
/// first: one that was cut or altered, or holds what is no document or a name that would leave its folder,
/// changes nothing.
core::Result<ImportReport> readPackage(ProgramFile& file, const std::filesystem::path& path,
                                       std::string_view passphrase,
                                       const std::function<bool(double)>& progress = {});

}  // namespace markerlamp::db
