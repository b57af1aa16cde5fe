#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Copies of a program file: how they are called, and which of them are kept.

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace markerlamp::core {

/// Why a copy was made.
enum class CopyReason {
    Start,      ///< the program started and the file was changed since the copy before
    Day,        ///< a training day is over
    Import,     ///< before documents were taken in
    Migration,  ///< before the file was brought to a newer form
    ByHand,
    Restore,  ///< before another copy took the file's place
    Erasing,  ///< after a person was erased, when all copies before had to go
    Damaged,  ///< no good copy: the damaged file as it was, put aside
};
/// The word for it in names and in tables: start, day, before-import, ...
[[nodiscard]] std::string_view wordOf(CopyReason reason);

struct CopyName {
    std::int64_t ms = 0;  ///< when it was made, whole seconds, since 1970 UTC
    CopyReason reason = CopyReason::ByHand;
    int count = 1;        ///< 2 and more: others of the same second came before
    bool sealed = false;  ///< only its passphrase opens it

    bool operator==(const CopyName&) const = default;
};
/// "2026-03-02T111000Z-day.markerlamp", with "-2" before the dot where count is 2.
[[nodiscard]] std::string copyFileName(const CopyName& name);
[[nodiscard]] std::optional<CopyName> readCopyFileName(std::string_view name);

/// Which copies are kept: the last ones, then the newest of each day, of each week, and of each month for
/// ever.
struct KeepRule {
    int last = 10;
    int days = 14;
    int weeks = 8;
    int minutesEast = 0;  ///< of UTC, where days begin at the program's own midnight
};
struct CopyToKeep {
    std::int64_t ms = 0;
    bool good = true;  ///< false: it is known to be damaged; it takes no good one's place
};
/// Places in `copies` of those that go. The newest good one never goes. Days, weeks and months are counted
/// back from the newest good copy or from now, whichever is earlier: a clock that runs ahead costs no copy.
/// One that is not good stays; somebody may want to look into it.
[[nodiscard]] std::vector<std::size_t> copiesThatGo(const std::vector<CopyToKeep>& copies, std::int64_t nowMs,
                                                    const KeepRule& rule = {});

}  // namespace markerlamp::core
