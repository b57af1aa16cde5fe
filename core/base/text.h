#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Small checks on text that every reader of documents needs.

#include <string>
#include <string_view>
#include <vector>

namespace markerlamp::core {

/// Well-formed UTF-8 (RFC 3629: no surrogates, nothing overlong, at most U+10FFFF).
[[nodiscard]] bool isUtf8(std::string_view text);
/// Lower-case words of letters and digits joined by single hyphens.
[[nodiscard]] bool isKebabCase(std::string_view text);
/// YYYY-MM-DD, a day that exists (ISO 8601).
[[nodiscard]] bool isIsoDate(std::string_view text);
/// Shortest text that reads back as the same number; no decimal point for whole numbers below 1e15.
[[nodiscard]] std::string shortestText(double value);
/// "1 day", "2 days": the count before its noun; `many` where the plural takes more than an s.
[[nodiscard]] std::string counted(int count, std::string_view one, std::string_view many = {});
/// "a", "a and b", "a, b and c".
[[nodiscard]] std::string listed(const std::vector<std::string>& parts);
/// The same of at most `most` parts, then "and 3 more".
[[nodiscard]] std::string listedAtMost(std::vector<std::string> parts, std::size_t most);
/// FNV-1a, 64 bits (http://www.isthe.com/chongo/tech/comp/fnv/), as 16 hexadecimal digits: the same on every
/// machine, unlike std::hash. No secret can be kept with it.
[[nodiscard]] std::string hashText(std::string_view bytes);
/// Fewest insertions, deletions and replacements that turn a into b (Levenshtein 1965).
[[nodiscard]] int editDistance(std::string_view a, std::string_view b);
/// The known word nearest to `word`, when it is near enough to be a slip; empty otherwise.
[[nodiscard]] std::string nearest(std::string_view word, const std::vector<std::string>& known);

}  // namespace markerlamp::core
