// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/access/deeds.h"

#include <array>

namespace markerlamp::core {

namespace {

constexpr std::array kRows{
    DeedRow{Deed::Score, true, "score attempts"},
    DeedRow{Deed::AmendOwn, true, "amend attempts of their own"},
    DeedRow{Deed::NoteTraining, true, "put clock hours and times away on file"},
    DeedRow{Deed::SeeAnothers, false, "see attempts that another instructor scored"},
    DeedRow{Deed::AlterAnothers, false, "change attempts that another instructor scored"},
    DeedRow{Deed::ChangePeople, false, "change trainees, instructors and buses"},
    DeedRow{Deed::ChangeRubrics, false, "change rubrics and limit sets"},
    DeedRow{Deed::KeepRecords, false, "put test results, bookings, papers and overrides on file"},
    DeedRow{Deed::Settle, false, "settle second scorings"},
    DeedRow{Deed::Erase, false, "erase a person"},
    DeedRow{Deed::ChangeSettings, false, "change the settings of the program"},
    DeedRow{Deed::ManageAccounts, false, "say who may sign in"},
    DeedRow{Deed::Exchange, false, "import and export"},
    DeedRow{Deed::ManageCopies, false, "look into copies and restore one"},
    DeedRow{Deed::SeeProgram, false, "see the pages about the whole program"},
};

constexpr bool inOrder() {
    for (std::size_t i = 0; i < kRows.size(); ++i)
        if (static_cast<std::size_t>(kRows[i].deed) != i) return false;
    return kRows.size() == static_cast<std::size_t>(Deed::SeeProgram) + 1;
}
static_assert(inOrder());

}  // namespace

std::span<const DeedRow> deedRows() {
    return kRows;
}

Result<void> may(const Acting& acting, Deed deed) {
    if (acting.role != Role::Instructor) return {};
    const DeedRow& row = kRows[static_cast<std::size_t>(deed)];
    if (row.instructor) return {};
    return fail(ErrorKind::Refused,
                "only a coordinator may " + std::string(row.words) + "; sign in as a coordinator");
}

bool isOwn(const Acting& acting, const std::string& instructor) {
    return acting.role != Role::Instructor || acting.instructor == instructor;
}

Result<void> mayChangeFact(const Acting& acting, std::string_view key) {
    if (key.starts_with("ui.")) return {};
    if (key.starts_with("draft.settling.")) return may(acting, Deed::Settle);
    if (key.starts_with("draft.")) return may(acting, Deed::ChangeRubrics);
    if (key.starts_with("access.")) return may(acting, Deed::ManageAccounts);
    return may(acting, Deed::ChangeSettings);
}

}  // namespace markerlamp::core
