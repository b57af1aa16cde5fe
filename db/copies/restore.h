#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// A good copy in the place of a program file, which is put aside among the copies first.

#include "core/base/result.h"
#include "db/copies/verify.h"

#include <cstdint>
#include <filesystem>

namespace markerlamp::db {

struct Restored {
    std::filesystem::path aside;  ///< where the file that was there lies now; empty: there was none
    bool asideDamaged = false;    ///< it was put aside as it was, byte for byte
    FileReport report;            ///< of what stands in its place
};

/// Refused, and nothing changes, when `copy` does not verify; Busy while something has `program` open. The
/// second place that the present file names stays the one that is used.
/// @param nowMs for the name of what is put aside; 0: the clock's
core::Result<Restored> restoreProgram(const std::filesystem::path& copy, const std::filesystem::path& program,
                                      std::int64_t nowMs = 0);

}  // namespace markerlamp::db
