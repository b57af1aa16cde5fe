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

    [[nodiscard]] bool good() const { return integrity == "ok" && problems.empty(); }
};

/// Pages and indexes; rows that name records that are not there; attempts that are not numbered without gaps
/// or do not fit their rubric; stored figures that are not those of the events. An error only for what is no
/// program file of ours or cannot be opened at all.
/// @param progress in [0, 1]; return false to stop (Refused)
core::Result<FileReport> verifyProgram(const std::filesystem::path& path,
                                       const std::function<bool(double)>& progress = {});

}  // namespace markerlamp::db
