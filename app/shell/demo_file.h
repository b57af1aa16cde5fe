#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The demo that the window keeps in its data folder: which day it ends with, and when a fresh one takes its
// place.

#include "core/base/result.h"

#include <QDate>

#include <filesystem>
#include <string>

namespace markerlamp::app {

/// The last working day before `today`, YYYY-MM-DD.
[[nodiscard]] std::string demoDay(const QDate& today);

/// Puts the demo for `today` in the place of the one at `path` when that one is older than 14 days and holds
/// exactly what was made for its last day: nobody's work is ever replaced. Nothing of this program may have
/// the file open; where another program has, it stays. After an error the old file is whole.
/// @return whether it was replaced
core::Result<bool> renewDemo(const std::filesystem::path& path, const QDate& today);

}  // namespace markerlamp::app
