#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Reads *.rubric.yaml and *.limits.yaml. Every problem is reported, nothing is loaded from a bad document.
// Bounded against hostile input: size, nesting, aliases, number of zones, steps, points and rules.

#include "core/base/result.h"
#include "core/rubric/rubric.h"

#include <filesystem>
#include <string>
#include <string_view>

namespace markerlamp::core {

/// A named set of limits that can replace those of a rubric (markerlamp.limits/1).
struct LimitSet {
    std::string id;
    std::string title;
    std::string about;
    std::vector<Limit> limits;

    bool operator==(const LimitSet&) const = default;
};

/// Largest document that is looked at, in bytes.
inline constexpr std::size_t kMaxRubricBytes = 4u << 20;

/// @param name shown in problems as the file; may be empty.
[[nodiscard]] Result<Rubric> readRubric(std::string_view yaml, const std::string& name = {});
[[nodiscard]] Result<Rubric> readRubricFile(const std::filesystem::path& path);
[[nodiscard]] Result<LimitSet> readLimitSet(std::string_view yaml, const std::string& name = {});

/// The rubric as a document of the same format; readRubric(writeRubric(r)) == r.
[[nodiscard]] std::string writeRubric(const Rubric& rubric);
[[nodiscard]] std::string writeLimitSet(const LimitSet& set);

/// A new edition of the rubric with the limits of the set in place of those of the same id (limits that the
/// rubric does not have are refused by name; point numbers and readings that refer to them follow by
/// themselves).
[[nodiscard]] Result<Rubric> withLimits(const Rubric& rubric, const LimitSet& set, int newEdition);

/// What is accepted but will not look well on the screens: titles over 40 characters, over 12 steps in a
/// zone, over 12 zones. Never a reason to refuse.
[[nodiscard]] std::vector<Problem> rubricWarnings(const Rubric& rubric);

}  // namespace markerlamp::core
