#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Looks through a whole program file or a copy of one and changes nothing.

#include "core/base/result.h"

#include <filesystem>
#include <functional>
#include <string>
#include <vector>

namespace markerlamp::db {

struct FileReport {
    std::string integrity;  ///< "ok", or the first thing that is wrong with the pages
    int schema = 0;         ///< number of its form
    int attempts = 0;
    long long events = 0;
    int trainees = 0;
    std::vector<core::Problem> problems;  ///< file is empty; path is the table, id the record
    int trail = 0;                        ///< entries of the trail
    std::string seal;                     ///< of its last entry; empty: it has none
    int unsealed = 0;                     ///< ended attempts from before the trail, of which no seal tells
    /// What was changed behind the program's back, likewise; the records can be read nevertheless.
    std::vector<core::Problem> seals;

    [[nodiscard]] bool sealed() const { return seals.empty(); }
    [[nodiscard]] bool good() const { return integrity == "ok" && problems.empty(); }
};

/// Pages and indexes; rows that name records that are not there; attempts that are not numbered without gaps
/// or do not fit their rubric; stored figures that are not those of the events; whether the trail, the
/// ended attempts and kept copies fit each other (see verify_trail). An error only for what is no program
/// file of ours or cannot be opened at all.
/// @param progress in [0, 1]; return false to stop (Refused)
core::Result<FileReport> verifyProgram(const std::filesystem::path& path,
                                       const std::function<bool(double)>& progress = {});

}  // namespace markerlamp::db
