#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Reads one tree of a database file page by page. A page that is not in order in every respect counts as lost
// as a whole: a record out of a page that was written over in part could be a wrong one.

#include "db/salvage/raw_file.h"

#include <cstdint>
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace markerlamp::db {

/// NULL, a whole number, a number, a text. Bytes that are no text do not occur in a program file.
using RawValue = std::variant<std::monostate, std::int64_t, double, std::string>;
using RawValues = std::vector<RawValue>;

struct RawRow {
    std::int64_t rowid = 0;  ///< of a table with rowids
    RawValues values;
    bool cut = false;  ///< a page further on is lost: only the values before are there
};

/// Keys between which records may be lost; nothing: from the beginning, or to the end.
struct LostRange {
    std::optional<RawValues> after, before;
};

struct RawTree {
    std::vector<RawRow> rows;  ///< in the order of their keys
    std::vector<LostRange> lost;
    int pagesLost = 0;
    std::vector<std::uint32_t> pages;  ///< that were read, with those where long records go on

    /// Whether a record with such a key may have been lost.
    [[nodiscard]] bool mayHaveLost(const RawValues& key) const;
};

enum class TreeKind {
    Rows,  ///< a table with rowids
    Keys   ///< an index, or a table without rowids
};
/// @param columns how many values each record has; 0: any number
[[nodiscard]] RawTree readTree(const RawFile& file, std::uint32_t root, TreeKind kind, std::size_t columns);

/// The records of a page that no tree leads to; none when it is not in order.
[[nodiscard]] std::vector<RawRow> readPageAlone(const RawFile& file, std::uint32_t number, TreeKind kind,
                                                std::size_t columns);

}  // namespace markerlamp::db
