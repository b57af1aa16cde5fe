#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Whether something was changed behind the program's back.

#include "db/copies/verify.h"
#include "db/program_file.h"

namespace markerlamp::db {

/// Names the first entry of the trail that is not as it was written; ended attempts that are not as their
/// last seal says, or are gone; and kept copies of the file that hold other entries under the same numbers,
/// so that a trail that was made anew, or whose end was cut off, does not pass either.
/// @param entries file.trail(), which callers show as well
/// @param progress in [0, 1]; return false to stop (Refused)
core::Result<void> lookAtTrail(const std::filesystem::path& path, ProgramFile& file,
                               const std::vector<core::TrailEntry>& entries, FileReport& report,
                               const std::function<bool(double)>& progress = {});

}  // namespace markerlamp::db
