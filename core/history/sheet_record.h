#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What became of the paper of an attempt: the sheet was made, both signed it, or a signing that was entered
// by mistake was taken back. Records are added and never changed.

#include "core/base/result.h"

#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace markerlamp::core {

enum class SheetEvent { Made, Signed, TakenBack };

struct SheetRecord {
    std::string id;       ///< uuid
    std::string attempt;  ///< id
    SheetEvent what = SheetEvent::Made;
    std::string at;  ///< ISO 8601 with offset

    bool operator==(const SheetRecord&) const = default;
};

/// Where the sheet of one attempt stands.
struct SheetStanding {
    std::string made;        ///< when it was first made; empty: the program has not made one
    std::string signedAt{};  ///< empty: not signed, or taken back

    bool operator==(const SheetStanding&) const = default;
};
/// By id of attempt. The newest of signing and taking back counts.
[[nodiscard]] std::map<std::string, SheetStanding> sheetStandings(std::vector<SheetRecord> records);

// JSON Lines, "markerlamp.sheets/1".
[[nodiscard]] std::string writeSheetRecords(const std::vector<SheetRecord>& records);
[[nodiscard]] Result<std::vector<SheetRecord>> readSheetRecords(std::string_view text,
                                                                const std::string& name = {});

/// As documents and files write it: "made", "signed", "taken-back".
[[nodiscard]] std::string_view nameOf(SheetEvent what);
[[nodiscard]] SheetEvent sheetEventOf(std::string_view name);  ///< Made for what is none of the names

}  // namespace markerlamp::core
