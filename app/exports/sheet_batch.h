#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The progress sheets of a class: one PDF with all of them, or a folder with one for each trainee. Needs the
// program's fonts; usable from a worker thread.

#include "app/exports/program_tables.h"
#include "forms/sheets/sheets.h"

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace markerlamp::app {

struct SheetBatch {
    std::vector<std::string> trainees;  ///< keys on file, in the order of the sheets
    bool readiness = false;             ///< each with where readiness stands
    std::optional<double> minutes;      ///< each with the next drill for so long
    double now = 0;                     ///< day (core::dayOf)
    forms::Paper paper = forms::Paper::Letter;
    std::filesystem::path out;
    bool oneFile = true;    ///< `out` is a PDF; else a folder, not there or empty
    bool twoSided = false;  ///< each sheet begins on a leaf of its own in the one PDF
};

struct SheetsWritten {
    int sheets = 0, pages = 0;          ///< empty pages are none
    std::vector<std::string> attempts;  ///< ids of the attempts whose sheets these are
    std::vector<std::string> without;   ///< keys of those who have no finished attempt, and so no sheet
};

/// Of the newest finished attempt of each. Refused when nobody has one.
core::Result<SheetsWritten> writeSheets(db::ProgramFile& file, const SheetBatch& batch,
                                        const ExportProgress& progress);

/// Keys of a group's trainees by name; of all where no group is given. Without those who were erased. A group
/// that nobody is in is refused, with those that there are.
core::Result<std::vector<std::string>> traineesOfGroup(db::ProgramFile& file,
                                                       const std::optional<std::string>& group);

}  // namespace markerlamp::app
