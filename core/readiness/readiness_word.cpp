// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/readiness/readiness_word.h"

#include "core/base/moment.h"
#include "core/base/text.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <tuple>
#include <utility>

namespace markerlamp::core {

namespace {

constexpr std::array<std::pair<ReadinessWord, std::string_view>, 4> kWords{
    {{ReadinessWord::Ready, "ready"},
     {ReadinessWord::Close, "close"},
     {ReadinessWord::NotYet, "not yet"},
     {ReadinessWord::TooLittle, "too little data"}}};

constexpr double kMillisecondsOfDay = 86'400'000;

int inTen(double chance) {
    return static_cast<int>(std::lround(10 * std::clamp(chance, 0.0, 1.0)));
}

/// An end of the likely range: nobody is sure of all or of none.
std::string endInTen(int ten) {
    return ten <= 0 ? "hardly any" : ten >= 10 ? "nearly all" : std::to_string(ten);
}

bool allMet(const std::vector<Gate>& gates) {
    return std::ranges::all_of(gates, [](const Gate& gate) { return gate.state == GateState::Met; });
}

ReadinessWord computedWord(const Forecast& forecast, const std::vector<Gate>& gates,
                           const ReadinessSettings& settings) {
    if (forecast.tooLittle) return ReadinessWord::TooLittle;
    if (forecast.chance < settings.closeAt) return ReadinessWord::NotYet;
    const bool high = forecast.chance >= settings.readyAt && forecast.low >= settings.readyLow;
    return high && allMet(gates) ? ReadinessWord::Ready : ReadinessWord::Close;
}

/// The override that stands: the newest at or before the moment. Of two of the same moment a withdrawal
/// counts as the later one, then the greater id, so that the order of the entries does not matter.
std::optional<Override> standingOverride(const std::vector<Override>& overrides, const Forecast& forecast) {
    using Rank = std::tuple<std::int64_t, bool, std::string_view>;
    std::optional<Rank> newest;
    const Override* found = nullptr;
    for (const Override& entry : overrides) {
        const auto at = millisecondsOf(entry.at);
        if (entry.trainee != forecast.trainee || !at ||
            static_cast<double>(*at) > forecast.at * kMillisecondsOfDay + 0.5)
            continue;
        const Rank rank{*at, entry.withdrawn, entry.id};
        if (newest && rank < *newest) continue;
        newest = rank;
        found = &entry;
    }
    if (found == nullptr || found->withdrawn) return std::nullopt;
    return *found;
}

/// "Engine compartment (4 of 12 by oneself lately)".
std::string shownHolding(const Holding& holding) {
    if (holding.seen == 0) return holding.title + " (not seen lately)";
    return holding.title + " (" + std::to_string(holding.right) + " of " + std::to_string(holding.seen) +
           (holding.kind == Holding::Kind::OrderRule ? " in order" : " by oneself") + " lately)";
}

/// What would raise the chance.
std::string betterChance(const Forecast& forecast) {
    if (forecast.holding.empty()) return "a higher chance of passing";
    return "a higher chance of passing, which " + shownHolding(forecast.holding.front()) + " holds back most";
}

std::string changeOfTooLittle(const Forecast& forecast, const ReadinessSettings& settings) {
    if (forecast.attempts < settings.fewestAttempts) {
        const int missing = settings.fewestAttempts - forecast.attempts;
        return counted(missing, "more attempt") + (missing == 1 ? " makes" : " make") +
               " a forecast possible.";
    }
    return "More attempts make a forecast possible.";
}

/// Shut gates first, then what the forecast lacks.
std::string changeOfClose(const Forecast& forecast, const std::vector<Gate>& gates,
                          const ReadinessSettings& settings) {
    std::vector<std::string> needs;
    for (const Gate& gate : gates)
        if (gate.state != GateState::Met) needs.push_back(gate.opens.empty() ? gate.why : gate.opens);
    if (forecast.chance < settings.readyAt)
        needs.push_back(betterChance(forecast));
    else if (forecast.low < settings.readyLow)
        needs.push_back("a surer forecast, which more attempts over the whole inspection bring");
    std::string text = shownWord(ReadinessWord::Ready, settings) + " needs ";
    for (std::size_t i = 0; i < needs.size(); ++i)
        text += (i == 0 ? "" : i + 1 == needs.size() ? "; and " : "; ") + needs[i];
    return text + ".";
}

/// A gate cannot lift the word from here; only the chance can. The shut gates are still named.
std::string changeOfNotYet(const Forecast& forecast, const std::vector<Gate>& gates,
                           const ReadinessSettings& settings) {
    const auto shut =
        std::ranges::count_if(gates, [](const Gate& gate) { return gate.state == GateState::NotMet; });
    std::string text = shownWord(ReadinessWord::Close, settings) + " needs " + betterChance(forecast);
    if (shut > 0)
        text +=
            "; " + counted(static_cast<int>(shut), "gate") + (shut == 1 ? " is" : " are") + " shut besides";
    return text + ".";
}

std::string changeOf(const Readiness& readiness, const ReadinessSettings& settings) {
    if (readiness.word == ReadinessWord::Ready) return {};
    if (readiness.override_ && readiness.word != readiness.computed)
        return "Taking back the instructor's own word of " +
               std::string(localDateOf(readiness.override_->at)) + " makes it " +
               shownWord(readiness.computed, settings) + ".";
    switch (readiness.computed) {
        case ReadinessWord::TooLittle:
            return changeOfTooLittle(readiness.forecast, settings);
        case ReadinessWord::Close:
            return changeOfClose(readiness.forecast, readiness.gates, settings);
        case ReadinessWord::NotYet:
            return changeOfNotYet(readiness.forecast, readiness.gates, settings);
        case ReadinessWord::Ready:
            break;
    }
    return {};
}

}  // namespace

std::string_view toWord(ReadinessWord word) {
    return std::ranges::find(kWords, word, &std::pair<ReadinessWord, std::string_view>::first)->second;
}

std::optional<ReadinessWord> readinessFromWord(std::string_view word) {
    const auto found = std::ranges::find(kWords, word, &std::pair<ReadinessWord, std::string_view>::second);
    return found == kWords.end() ? std::nullopt : std::optional(found->first);
}

std::string shownWord(ReadinessWord word, const ReadinessSettings& settings) {
    switch (word) {
        case ReadinessWord::Ready:
            return settings.wordReady;
        case ReadinessWord::Close:
            return settings.wordClose;
        case ReadinessWord::NotYet:
            return settings.wordNotYet;
        case ReadinessWord::TooLittle:
            break;
    }
    return settings.wordTooLittle;
}

Readiness judge(const Forecast& forecast, std::vector<Gate> gates, const std::vector<Override>& overrides,
                const ReadinessSettings& settings) {
    Readiness readiness;
    readiness.forecast = forecast;
    if (!forecast.tooLittle && forecast.attempts < settings.fewestAttempts) {
        readiness.forecast.tooLittle = true;
        readiness.forecast.tooLittleWhy = counted(forecast.attempts, "attempt") + " so far, at least " +
                                          std::to_string(settings.fewestAttempts) + " are asked for";
    }
    const auto rank = [](const Gate& gate) {
        return gate.state == GateState::NotMet ? 0 : gate.state == GateState::Unknown ? 1 : 2;
    };
    std::ranges::stable_sort(gates, {}, rank);
    readiness.gates = std::move(gates);
    readiness.computed = computedWord(readiness.forecast, readiness.gates, settings);
    readiness.override_ = standingOverride(overrides, forecast);
    readiness.word = readiness.override_ ? readiness.override_->word : readiness.computed;
    readiness.change = changeOf(readiness, settings);
    return readiness;
}

std::string chanceInWords(const Forecast& forecast) {
    if (forecast.tooLittle)
        return forecast.tooLittleWhy.empty() ? "Too little data."
                                             : "Too little data: " + forecast.tooLittleWhy + ".";
    const int middle = inTen(forecast.chance);
    const int low = std::min(inTen(forecast.low), middle);
    const int high = std::max(inTen(forecast.high), middle);
    if (middle == 10)
        return "Nearly all would pass (likely at least " + std::to_string(std::clamp(low, 1, 9)) + " in 10).";
    if (middle == 0)
        return "Hardly any would pass (likely at most " + std::to_string(std::clamp(high, 1, 9)) + " in 10).";
    return "About " + std::to_string(middle) + " in 10 would pass (likely " +
           (low == high ? "just that" : endInTen(low) + " to " + endInTen(high)) + ").";
}

}  // namespace markerlamp::core
