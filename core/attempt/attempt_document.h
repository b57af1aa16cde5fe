#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Reads and writes *.attempt.jsonl. Reading is strict: unknown keys, gaps in n, times that run backwards,
// keys that do not belong to the event's kind are all refused with line, key and value. Bounded against
// hostile input.

#include "core/attempt/attempt.h"
#include "core/base/result.h"
#include "core/rubric/rubric.h"

#include <string>
#include <string_view>

namespace markerlamp::core {

inline constexpr std::size_t kMaxAttemptBytes = 32u << 20;
inline constexpr std::size_t kMaxAttemptEvents = 200'000;

/// Checks everything that can be checked without the rubric.
[[nodiscard]] Result<Attempt> readAttempt(std::string_view jsonl, const std::string& name = {});

/// Checks an attempt against its rubric: id and edition, zones, limits, equipment tags, steps in scope,
/// points, units of readings and of stated numbers. Every problem is returned; empty when there is none. Line
/// n+1 holds event n.
[[nodiscard]] std::vector<Problem> checkAgainstRubric(const Attempt& attempt, const Rubric& rubric,
                                                      const std::string& name = {});

/// Canonical text: fixed key order, shortest numbers that read back the same; readAttempt(writeAttempt(a)) ==
/// a.
[[nodiscard]] std::string writeAttempt(const Attempt& attempt);
/// The parts of it, without line end.
[[nodiscard]] std::string writeHeaderLine(const AttemptHeader& header);
[[nodiscard]] std::string writeEventLine(const Event& event);

}  // namespace markerlamp::core
