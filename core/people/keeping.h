#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// How long records of a person are kept, and who may be erased when. Records are kept for three years from
// the day on which each was made or received (49 CFR 380.725), longer where other law says so; a program sets
// its own number of years.

#include "core/people/people.h"
#include "core/people/people_settings.h"

#include <string>
#include <string_view>
#include <vector>

namespace markerlamp::core {

/// The newest day that any record of a trainee bears; empty when there is none.
struct LastRecord {
    std::string trainee;
    std::string date;

    bool operator==(const LastRecord&) const = default;
};

/// What erasing a person left, and where.
struct Erased {
    std::string anonymous;  ///< the key under which the marks stay
    int attempts = 0;
    int texts = 0;                    ///< notes and words of people that were taken out
    std::vector<std::string> copies;  ///< files beside the program file and in the second place, removed
    /// Where copies lie that cannot be reached now; they go as soon as the place is reached again.
    std::string unreached;
};

/// Keys of people who were erased begin like this, and no other key may.
inline constexpr std::string_view kErasedPrefix = "erased-";
[[nodiscard]] inline bool isErased(const Trainee& trainee) {
    return trainee.key.starts_with(kErasedPrefix);
}

struct KeepRow {
    std::string trainee;
    std::string last;  ///< newest record; empty: none
    std::string from;  ///< first day on which the person may be erased; empty: now, as there is no record
    bool may = false;  ///< today
};
/// One for each trainee who was not erased: who may be erased first comes first.
/// @param today ISO 8601 date
[[nodiscard]] std::vector<KeepRow> keepRows(const std::vector<Trainee>& trainees,
                                            const std::vector<LastRecord>& last, const std::string& today,
                                            const PeopleSettings& settings);

}  // namespace markerlamp::core
