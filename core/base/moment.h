#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// A moment as written in documents, as a number that sorts.

#include <cstdint>
#include <optional>
#include <string_view>

namespace markerlamp::core {

/// Milliseconds since 1970-01-01 UTC of an ISO 8601 / RFC 3339 date and time with offset
/// (YYYY-MM-DDTHH:MM[:SS[.f]](Z|+HH:MM|-HH:MM)); nothing for other text.
[[nodiscard]] std::optional<std::int64_t> millisecondsOf(std::string_view moment);

}  // namespace markerlamp::core
