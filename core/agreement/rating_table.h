#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Who gave which class to what: the one form in which every coefficient of agreement takes its data.

#include "core/base/result.h"

#include <string>
#include <string_view>
#include <vector>

namespace markerlamp::core {

/// A rater gave no class to the unit.
inline constexpr int kNotRated = -1;

/// Units by raters; classes are 0 .. classes - 1, ordered where an ordinal measure is asked for. `classes` is
/// the number offered, used or not.
struct RatingTable {
    int classes = 2;
    int raters = 0;
    std::vector<std::vector<int>> units;  ///< each of size `raters`, kNotRated for a gap

    bool operator==(const RatingTable&) const = default;
};

/// At most this many classes and raters, so that a hostile table costs bounded time.
inline constexpr int kMostClasses = 100;
inline constexpr int kMostRaters = 1000;

/// CSV (RFC 4180) with one header line; each further row is a unit, each column a rater, an empty cell a gap.
/// A first column named "unit" holds names of units and is left out. Refused: a cell that is no whole number
/// in 0 .. classes - 1 (line and column are named), fewer than two raters.
[[nodiscard]] Result<RatingTable> readRatingTable(std::string_view csv, int classes,
                                                  const std::string& name = {});

}  // namespace markerlamp::core
