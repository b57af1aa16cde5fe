#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include <QString>

#include <filesystem>

namespace markerlamp::app {

/// Where a suggested file goes: the folder for documents, or the home folder where there is none.
[[nodiscard]] QString documentsFolder();

/// A path as Qt and as the file system write it.
[[nodiscard]] std::filesystem::path fsPath(const QString& path);
[[nodiscard]] QString pathText(const std::filesystem::path& path);

}  // namespace markerlamp::app
