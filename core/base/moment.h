#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// A moment as written in documents, as a number that sorts.

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace markerlamp::core {

/// Milliseconds since 1970-01-01 UTC of an ISO 8601 / RFC 3339 date and time with offset
/// (YYYY-MM-DDTHH:MM[:SS[.f]](Z|+HH:MM|-HH:MM)); nothing for other text.
[[nodiscard]] std::optional<std::int64_t> millisecondsOf(std::string_view moment);

/// The moment as RFC 3339 to the second on a clock that is `minutesEast` ahead of UTC; years 0 to 9999.
[[nodiscard]] std::string momentOf(std::int64_t ms, int minutesEast);

/// Days since 1970-01-01 of an ISO 8601 date (YYYY-MM-DD); nothing for other text.
[[nodiscard]] std::optional<std::int64_t> dayCountOf(std::string_view date);
/// The date that many days after 1970-01-01, years 0 to 9999.
[[nodiscard]] std::string dateOfDayCount(std::int64_t days);
/// The date on the clock where a moment was written: its own offset counts. The moment must be one.
[[nodiscard]] std::string_view localDateOf(std::string_view moment);

}  // namespace markerlamp::core
