#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What a program file says about people's records, the same for window and command line.

#include "core/people/keeping.h"
#include "core/people/training_record.h"
#include "db/program_file.h"
#include "forms/sheets/training_record_sheet.h"

#include <string>
#include <vector>

namespace markerlamp::app {

[[nodiscard]] core::Result<core::PeopleSettings> peopleSettingsOf(db::ProgramFile& file);
/// Refuses a key that no trainee on file has, naming those that are.
[[nodiscard]] core::Result<core::PersonFile> personOf(db::ProgramFile& file, const std::string& trainee);
/// All that the printed record says but version, time of printing and paper.
[[nodiscard]] core::Result<forms::TrainingRecordInput> trainingRecordInput(db::ProgramFile& file,
                                                                           const std::string& trainee);
/// Who may be erased when, the first first.
[[nodiscard]] core::Result<std::vector<core::KeepRow>> keepRowsOf(db::ProgramFile& file,
                                                                  const std::string& today);

}  // namespace markerlamp::app
