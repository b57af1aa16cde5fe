#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What is kept of readiness: forecasts frozen before their result was known, instructors' overrides, official
// test results. Records are never changed; each is one JSON line.

#include "core/base/result.h"
#include "core/readiness/readiness_word.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace markerlamp::core {

/// A forecast as it was shown, before what it is about.
struct FrozenForecast {
    enum class About { FullAttempt, OfficialTest } about = About::FullAttempt;
    std::string id;  ///< uuid
    std::string trainee;
    std::string at;       ///< moment at which it was frozen, ISO 8601 with offset
    std::string attempt;  ///< FullAttempt: id of the attempt it was frozen before; else empty
    std::string rubric;
    int edition = 1;
    int modelVersion = 0;
    int attempts = 0;
    double chance = 0, low = 0, high = 1;
    ReadinessWord word = ReadinessWord::TooLittle;  ///< as shown
    ReadinessWord computed = ReadinessWord::TooLittle;

    bool operator==(const FrozenForecast&) const = default;
};

/// The segment of the skills test that the forecasts are about.
inline constexpr std::string_view kInspectionSegment = "inspection";

/// What the official test said. Results of other segments are kept, but no forecast is held against them.
struct TestResult {
    std::string id;  ///< uuid
    std::string trainee;
    std::string date;  ///< ISO 8601 date
    std::string segment{kInspectionSegment};
    bool passed = false;
    std::string note;

    bool operator==(const TestResult&) const = default;
};

// One JSON object a line ("markerlamp.forecasts/1", "markerlamp.overrides/1", "markerlamp.tests/1" in a first
// line
// {"format": ...}). Readers refuse unknown keys, wrong types, doubled ids, with line and key.
[[nodiscard]] std::string writeForecasts(const std::vector<FrozenForecast>& forecasts);
[[nodiscard]] Result<std::vector<FrozenForecast>> readForecasts(std::string_view text,
                                                                const std::string& name = {});
[[nodiscard]] std::string writeOverrides(const std::vector<Override>& overrides);
[[nodiscard]] Result<std::vector<Override>> readOverrides(std::string_view text,
                                                          const std::string& name = {});
[[nodiscard]] std::string writeTestResults(const std::vector<TestResult>& results);
[[nodiscard]] Result<std::vector<TestResult>> readTestResults(std::string_view text,
                                                              const std::string& name = {});

}  // namespace markerlamp::core
