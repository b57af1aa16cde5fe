#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Drafts in the program file: one for each rubric, kept under a fact of its own as a document that may be
// unfinished. It goes into no export; an edition does once it is in use.

#include "core/base/result.h"
#include "core/rubric/rubric.h"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace markerlamp::db {
class ProgramFile;
}

namespace markerlamp::app {

struct KeptDraft {
    core::Rubric rubric;
    int base = 0;  ///< edition that it was begun from; 0: none
};

core::Result<void> keepDraft(db::ProgramFile& file, const core::Rubric& draft, int base);
core::Result<std::optional<KeptDraft>> keptDraft(db::ProgramFile& file, const std::string& rubric);
core::Result<void> forgetDraft(db::ProgramFile& file, const std::string& rubric);
/// Ids of rubrics with a draft.
core::Result<std::vector<std::string>> draftsIn(db::ProgramFile& file);
/// The number after the highest one on file under this id.
core::Result<int> nextEdition(db::ProgramFile& file, const std::string& rubric);
/// All on file under this id, oldest first.
core::Result<std::vector<std::shared_ptr<const core::Rubric>>> editionsOf(db::ProgramFile& file,
                                                                          const std::string& rubric);

}  // namespace markerlamp::app
