#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Keys and dates of a study without names. Who does not have the salt cannot get from a key back to a person;
// who has it can, by trying the names of the program.
//
// Keys: keyed BLAKE2b (RFC 7693) of what is named, with a salt of 256 bits, so that guessing names and
// hashing them does not help. Dates: each trainee's are moved by one number of whole weeks, so that weekdays
// and the days between stay, into the years from 2100 on, so that nobody takes them for real. The time of day
// is kept to the quarter of an hour. Moving each person's dates by an amount of his own, and into the next
// centuries, is how MIMIC-III did it (Johnson et al., Scientific Data 3, 160035, 2016).

#include "core/base/result.h"
#include "core/export/tables.h"

#include <array>
#include <filesystem>
#include <string>
#include <string_view>

namespace markerlamp::core {

using StudySalt = std::array<unsigned char, 32>;

/// From the system's source of randomness.
[[nodiscard]] StudySalt freshSalt();
/// 64 hexadecimal digits on one line, as toText() writes them; anything else is refused.
[[nodiscard]] Result<StudySalt> readSalt(std::string_view text, const std::string& name);
[[nodiscard]] std::string toText(const StudySalt& salt);

class StudyKeys {
public:
    explicit StudyKeys(const StudySalt& salt) : m_salt(salt) {}

    /// "T" and 20 hexadecimal digits for a trainee, "I", "B", "G", "A", "R" likewise; empty for nothing. The
    /// same name gives other keys as another kind.
    [[nodiscard]] std::string of(KeyKind kind, std::string_view name) const;
    /// Days by which everything of this trainee is moved: whole weeks.
    [[nodiscard]] int shiftDays(std::string_view trainee) const;
    /// A moved date, or moment (without offset, to the quarter of an hour); nothing for other text.
    [[nodiscard]] Cell shifted(std::string_view dateOrMoment, ColumnKind kind, int days) const;

private:
    [[nodiscard]] std::array<unsigned char, 16> hash(std::string_view domain, std::string_view name) const;

    StudySalt m_salt;
};

}  // namespace markerlamp::core
