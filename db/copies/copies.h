#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Copies of a program file: in FILE.copies beside it, and in a second place where one is set. Each is looked
// through before it gets its name, and old ones are thinned out. Nothing here touches the records of the
// file.

#include "core/base/result.h"
#include "core/copies/copies.h"

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace markerlamp::db {

class ProgramFile;

struct CopyFile {
    std::filesystem::path path;
    core::CopyName name;  ///< of a copy FILE.before-N.bak: when it was written, and Migration
    std::uintmax_t bytes = 0;
    bool second = false;  ///< it lies in the second place
};

/// FILE.copies
[[nodiscard]] std::filesystem::path copiesFolder(const std::filesystem::path& program);
/// All copies that the program made, newest first. What cannot be reached is not among them.
/// @param secondFolder from secondFolderOf(); empty: without
[[nodiscard]] std::vector<CopyFile> copiesOf(const std::filesystem::path& program,
                                             const std::filesystem::path& secondFolder = {});

struct CopyRequest {
    core::CopyReason reason = core::CopyReason::ByHand;
    std::int64_t nowMs = 0;      ///< since 1970 UTC; 0: the clock's
    bool onlyIfChanged = false;  ///< nothing is made where the newest copy holds the same records
};
struct CopyKept {
    std::filesystem::path made;         ///< empty: nothing was changed since the copy before
    std::vector<std::string> removed;   ///< older copies that went by the keep rule
    std::optional<core::Error> second;  ///< why nothing could be brought to the second place
};
/// Makes a copy, thins the older ones out, and sees that the newest one lies in the second place, too. A file
/// that is damaged is not copied, and no copy goes then.
core::Result<CopyKept> keepCopy(const std::filesystem::path& program, const CopyRequest& request);

/// A copy under a name that the caller chose, which must not be there yet; no keep rule.
core::Result<void> copyTo(const std::filesystem::path& program, const std::filesystem::path& name);

/// The folder that was set; empty: none.
core::Result<std::filesystem::path> secondPlaceOf(ProgramFile& file);
/// Where copies of this file lie in it: PLACE/FILE.copies-ID; empty: no place is set.
core::Result<std::filesystem::path> secondFolderOf(ProgramFile& file);
/// Refused: what is no folder, or the folder in which the copies lie already. Empty: no second place from now
/// on; copies that lie there stay there, and erasing does not reach them any more.
core::Result<void> setSecondPlace(ProgramFile& file, const std::filesystem::path& place);

/// What a copy has that the open file has not, and the other way round.
struct CopyDifference {
    struct Count {
        int attempts = 0, events = 0, trainees = 0, others = 0;
        [[nodiscard]] bool none() const { return attempts + events + trainees + others == 0; }
        bool operator==(const Count&) const = default;
    };
    Count onlyInCopy;  ///< events: of attempts that both have, those beyond what the other has
    Count onlyInFile;
};
core::Result<CopyDifference> differenceOf(const std::filesystem::path& program,
                                          const std::filesystem::path& copy);

/// Minutes that local time is ahead of UTC at a moment.
[[nodiscard]] int minutesEastAt(std::int64_t ms);
[[nodiscard]] std::int64_t nowInMs();

}  // namespace markerlamp::db
