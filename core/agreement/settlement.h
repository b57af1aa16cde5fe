#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What two instructors agreed on afterwards: a record that names the first scoring, the second one and the
// attempt that holds what was settled. All three stay as they are.

#include "core/base/result.h"

#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace markerlamp::core {

/// Never changed; settling again is another record with another settled attempt. The steps are those on which
/// the scorings differed, each in one of the four lists.
struct Settlement {
    std::string id;                      ///< uuid
    std::string first, second, settled;  ///< ids of attempts
    std::string by;                      ///< instructor who wrote it down
    std::string at;                      ///< ISO 8601 with offset
    std::vector<std::string> firstRight, secondRight, other, open;

    bool operator==(const Settlement&) const = default;
};

/// Ids of the attempts that hold what was settled: no scoring of anybody's own.
[[nodiscard]] std::set<std::string> settledAttempts(const std::vector<Settlement>& settlements);
/// The newest record of this pair; nullptr when it was never settled.
[[nodiscard]] const Settlement* standing(const std::vector<Settlement>& settlements, std::string_view first,
                                         std::string_view second);

// JSON Lines, "markerlamp.settlements/1".
[[nodiscard]] std::string writeSettlements(const std::vector<Settlement>& settlements);
[[nodiscard]] Result<std::vector<Settlement>> readSettlements(std::string_view text,
                                                              const std::string& name = {});

}  // namespace markerlamp::core
