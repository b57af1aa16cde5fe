#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The rows of a program file, trainee by trainee, into a spreadsheet, CSV files or a study. No widgets,
// usable from a worker thread.

#include "core/export/tables.h"
#include "db/program_file.h"

#include <functional>
#include <string>

namespace markerlamp::app {

/// Takes the share that is done, in [0, 1]; false asks to stop, which is an error of kind Usage with an empty
/// message (see wasStopped()).
using ExportProgress = std::function<bool(double)>;

struct TablesRequest {
    double now = 0;     ///< day (core::dayOf) of which readiness is told
    std::string today;  ///< the same as ISO 8601 date, by the clock of the place
    /// Trainees come in the order of what this makes of their keys; absent: of the keys.
    std::function<std::string(const std::string&)> order;
};

/// Keeps one trainee in memory at a time, besides what the forecast needs. What is recorded meanwhile may be
/// in it or not.
[[nodiscard]] core::Result<void> writeTables(db::ProgramFile& file, const TablesRequest& request,
                                             core::TableSink& sink, const ExportProgress& progress);

}  // namespace markerlamp::app
