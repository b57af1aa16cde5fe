#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What people read in the place of a key, the same on every page and on paper.

#include "core/people/people.h"
#include "db/program_file.h"

#include <QString>

namespace markerlamp::app {

/// The instructor's name; the key where the file has none.
[[nodiscard]] QString instructorName(db::ProgramFile& file, const std::string& key);
/// "Bus 14": the title where it holds the unit as a word, else the unit.
[[nodiscard]] QString busName(const core::Bus& bus);
/// Name of the bus of this key; one that the file does not know is named by the key.
[[nodiscard]] QString busName(db::ProgramFile& file, const std::string& key);
/// What the file says about the bus besides its unit; empty: nothing.
[[nodiscard]] QString busTitle(db::ProgramFile& file, const std::string& key);

}  // namespace markerlamp::app
