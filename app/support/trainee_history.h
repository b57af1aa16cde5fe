#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// A trainee's attempts, scored, as the pages and the printed sheet need them. Shared by window and command
// line, so that both tell the same story.

#include "core/base/result.h"
#include "core/history/history.h"
#include "core/scoring/scorecard.h"
#include "db/program_file.h"
#include "forms/sheets/sheets.h"

#include <functional>
#include <string>
#include <vector>

namespace markerlamp::app {

/// Where prepared rubrics come from: whoever scores many attempts keeps them.
using ScorerSource = std::function<core::Result<const core::Scorer*>(const std::string& rubric, int edition)>;
/// A source that prepares each edition of the file once and keeps it. The file must outlive it.
[[nodiscard]] ScorerSource scorersOf(db::ProgramFile& file);

/// All attempts of a trainee that are fit for history (ended, not set aside, not second scorings or settled
/// records, none that another instructor is still scoring blind), scored, oldest first. upTo: only those not
/// after this attempt; where it is fit itself, it comes last. Empty: all.
[[nodiscard]] core::Result<std::vector<core::ScoredAttempt>> traineeHistory(db::ProgramFile& file,
                                                                            const ScorerSource& scorers,
                                                                            const std::string& trainee,
                                                                            const std::string& upTo = {});

/// All that the progress sheet of an attempt says. attempt empty: the trainee's newest ended one. Version,
/// time of printing and paper are left to the caller. Refuses a trainee that is not on file (naming those
/// that are), one without an ended attempt, and an attempt of somebody else.
[[nodiscard]] core::Result<forms::ProgressSheetInput> progressSheetInput(db::ProgramFile& file,
                                                                         const ScorerSource& scorers,
                                                                         const std::string& trainee,
                                                                         const std::string& attempt = {});

/// What to say about a key that no trainee on file has: it names the keys there are.
[[nodiscard]] std::string noSuchTrainee(const std::string& key, const std::vector<core::Trainee>& onFile);

}  // namespace markerlamp::app
