#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Makes a program file: the built-in rubrics and limit sets, and for the demo the invented district.

#include "core/base/result.h"

#include <filesystem>

namespace markerlamp::app {

/// Refuses to overwrite. What could not be made whole is removed again.
core::Result<void> makeProgram(const std::filesystem::path& path, bool demo);

}  // namespace markerlamp::app
