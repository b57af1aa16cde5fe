#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What people do with a program file, and who may do which of it.

#include "core/access/acting.h"
#include "core/base/result.h"

#include <span>
#include <string>
#include <string_view>

namespace markerlamp::core {

enum class Deed {
    Score,           ///< start and score attempts in one's own name
    AmendOwn,        ///< amend, set aside, take up again, print one's own attempts
    NoteTraining,    ///< put clock hours and times away on file
    SeeAnothers,     ///< see what another instructor marked
    AlterAnothers,   ///< amend it, set it aside, score in another's name
    ChangePeople,    ///< trainees, instructors, buses
    ChangeRubrics,   ///< rubric editions, their drafts, limit sets
    KeepRecords,     ///< test results, bookings, papers, overrides
    Settle,          ///< settle second scorings
    Erase,           ///< take a person out for good
    ChangeSettings,  ///< name and settings of the program
    ManageAccounts,  ///< who may sign in
    Exchange,        ///< take documents in, write them and tables out
    ManageCopies,    ///< copies of the file, restoring one
    SeeProgram       ///< the pages about all trainees and instructors
};

struct DeedRow {
    Deed deed;
    bool instructor;         ///< may an instructor do it; a coordinator may do everything
    std::string_view words;  ///< goes on after "may": "change the rubric"
};
/// Every deed once, in the order of the enumeration.
[[nodiscard]] std::span<const DeedRow> deedRows();

/// Refused with who may, and what to do about it.
[[nodiscard]] Result<void> may(const Acting& acting, Deed deed);
/// Whether an attempt under this instructor's key is theirs to see and to amend. A coordinator's are all.
[[nodiscard]] bool isOwn(const Acting& acting, const std::string& instructor);
/// What a change of this fact of the program file is: nothing for what programs note for themselves ("ui.").
[[nodiscard]] Result<void> mayChangeFact(const Acting& acting, std::string_view key);

}  // namespace markerlamp::core
