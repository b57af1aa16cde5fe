#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The one word that a forecast and its gates come to, why, and what would change it.

#include "core/readiness/forecast.h"
#include "core/readiness/gates.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace markerlamp::core {

enum class ReadinessWord { Ready, Close, NotYet, TooLittle };
[[nodiscard]] std::string_view toWord(
    ReadinessWord word);  ///< "ready", "close", "not yet", "too little data"
[[nodiscard]] std::optional<ReadinessWord> readinessFromWord(std::string_view word);
/// The program's own wording.
[[nodiscard]] std::string shownWord(ReadinessWord word, const ReadinessSettings& settings);

/// An instructor's own judgement in place of the program's. Stays visible beside it.
struct Override {
    std::string id;  ///< uuid
    std::string trainee;
    ReadinessWord word = ReadinessWord::NotYet;
    std::string reason;      ///< not empty
    std::string by;          ///< instructor key
    std::string at;          ///< moment, ISO 8601 with offset
    bool withdrawn = false;  ///< a later entry that takes an override back: the computed word counts again

    bool operator==(const Override&) const = default;
};

struct Readiness {
    ReadinessWord word = ReadinessWord::TooLittle;  ///< what is shown: the override's, where one stands
    ReadinessWord computed = ReadinessWord::TooLittle;
    std::optional<Override> override_;
    Forecast forecast;
    std::vector<Gate> gates;  ///< not met first, then unknown, then met
    std::string change;       ///< what would change the word, one sentence with full stop; empty when Ready
};

/// Ready: chance >= readyAt, low >= readyLow, and no gate that is asked for is shut (an unknown one keeps it
/// at Close). Too little data goes before everything.
/// @param overrides of the trainee in any order; the newest before `forecast.at` counts, unless withdrawn
[[nodiscard]] Readiness judge(const Forecast& forecast, std::vector<Gate> gates,
                              const std::vector<Override>& overrides, const ReadinessSettings& settings);

/// "About 7 in 10 would pass (likely 5 to 9)." Never a percentage; "nearly all", "hardly any" at the ends.
/// With too little data: the words, and why.
[[nodiscard]] std::string chanceInWords(const Forecast& forecast);

}  // namespace markerlamp::core
