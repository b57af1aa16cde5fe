#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The three ways in which tables leave a program, for the command line and the window. Each appears whole or
// not at all; a stop asked for by progress leaves nothing.

#include "app/exports/program_tables.h"

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>

namespace markerlamp::app {

struct TablesWritten {
    std::int64_t trainees = 0, attempts = 0, steps = 0, zones = 0;
    int stepSheets = 1;     ///< spreadsheet: more than one where the steps did not fit into one
    std::int64_t cut = 0;   ///< spreadsheet: texts that were too long for a cell
    bool saltMade = false;  ///< study: the salt file was not there
};

/// Of which moment readiness and dates are told.
struct ExportMoment {
    double now = 0;     ///< day (core::dayOf)
    std::string today;  ///< ISO 8601 date by the clock of the place
};

core::Result<TablesWritten> exportSpreadsheet(db::ProgramFile& file, const std::filesystem::path& path,
                                              const ExportMoment& moment, const ExportProgress& progress);
core::Result<TablesWritten> exportCsv(db::ProgramFile& file, const std::filesystem::path& dir,
                                      const ExportMoment& moment, const ExportProgress& progress);
/// @param saltFile read, or made where it is not there; absent: the salt is thrown away
core::Result<TablesWritten> exportStudy(db::ProgramFile& file, const std::filesystem::path& dir,
                                        const std::optional<std::filesystem::path>& saltFile,
                                        const ExportMoment& moment, const ExportProgress& progress);

}  // namespace markerlamp::app
