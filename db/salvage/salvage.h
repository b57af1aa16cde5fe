#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Reads out of a damaged program file what can still be read and writes it as a new one, through the same
// checks as any other record. Says exactly what was read and what was not.

#include "core/base/result.h"

#include <filesystem>
#include <string>
#include <vector>

namespace markerlamp::db {

struct SalvagedTable {
    std::string name;
    int read = 0;       ///< records found whole
    int written = 0;    ///< of them in the new file
    int pagesLost = 0;  ///< pages of the table that cannot be read; what stood there is not known
    int known = 0;      ///< so many there were at least, as its indexes say

    bool operator==(const SalvagedTable&) const = default;
};

struct SalvageReport {
    std::vector<SalvagedTable> tables;    ///< those that the file should have, by name
    std::vector<std::string> complete;    ///< ids of attempts that have all their events
    std::vector<std::string> cut;         ///< ids of attempts of which later events may be missing
    std::vector<std::string> left;        ///< ids of attempts that cannot be taken, as their rubric is lost
    int nameless = 0;                     ///< attempts whose header is lost: their events are not taken
    std::vector<std::string> toComplete;  ///< people and buses that attempts name and whose entry is lost
    std::vector<std::string> rubrics;     ///< "id, edition N": taken from elsewhere
    int strays = 0;                       ///< pages that nothing leads to: whatever they hold was not taken
    bool guessed = false;  ///< the list of tables is lost: they were looked for where a new file has them

    [[nodiscard]] bool everything() const;  ///< nothing was lost
};

/// @param target  a name that is not there yet
/// @param rubrics documents (*.rubric.yaml) to take where a rubric of the file is lost
core::Result<SalvageReport> salvage(const std::filesystem::path& damaged, const std::filesystem::path& target,
                                    const std::vector<std::string>& rubrics = {});

}  // namespace markerlamp::db
