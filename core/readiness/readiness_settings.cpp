// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/readiness/readiness_settings.h"

#include "core/base/text.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <functional>
#include <optional>
#include <set>
#include <string_view>

namespace markerlamp::core {

namespace {

constexpr std::string_view kGate = "program.gate.";
constexpr std::string_view kWord = "program.word.";
constexpr std::size_t kMostWordBytes = 40;

constexpr std::string_view kPlainDays = "issue-plus-days";
constexpr std::string_view kDaysAndOne = "issue-plus-days-and-one";

/// How one setting is read from its fact and written to it.
struct Setting {
    std::string key;
    std::string right;  ///< what would be right
    std::function<bool(ReadinessSettings&, const std::string&)> read;
    std::function<std::string(const ReadinessSettings&)> write;
};

/// The whole text as a plain number: no sign but minus, no spaces, nothing after it.
std::optional<double> plainNumber(const std::string& text) {
    double value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc{} || end != text.data() + text.size() || !std::isfinite(value))
        return std::nullopt;
    return value;
}

Setting yesNo(std::string_view prefix, std::string_view name, bool ReadinessSettings::*member) {
    return {std::string(prefix) + std::string(name), "write yes or no",
            [member](ReadinessSettings& settings, const std::string& text) {
                settings.*member = text == "yes";
                return text == "yes" || text == "no";
            },
            [member](const ReadinessSettings& settings) { return settings.*member ? "yes" : "no"; }};
}

Setting whole(std::string_view prefix, std::string_view name, int ReadinessSettings::*member, int least,
              int most) {
    return {std::string(prefix) + std::string(name),
            "write a whole number from " + std::to_string(least) + " to " + std::to_string(most),
            [=](ReadinessSettings& settings, const std::string& text) {
                const auto value = plainNumber(text);
                if (!value || *value < least || *value > most || *value != std::floor(*value)) return false;
                settings.*member = static_cast<int>(*value);
                return true;
            },
            [member](const ReadinessSettings& settings) { return std::to_string(settings.*member); }};
}

Setting number(std::string_view prefix, std::string_view name, double ReadinessSettings::*member,
               double least, double most) {
    return {std::string(prefix) + std::string(name),
            "write a number from " + shortestText(least) + " to " + shortestText(most),
            [=](ReadinessSettings& settings, const std::string& text) {
                const auto value = plainNumber(text);
                if (!value || *value < least || *value > most) return false;
                settings.*member = *value;
                return true;
            },
            [member](const ReadinessSettings& settings) { return shortestText(settings.*member); }};
}

bool isWording(const std::string& text) {
    return !text.empty() && text.size() <= kMostWordBytes && isUtf8(text) && text.front() != ' ' &&
           text.back() != ' ' &&
           std::ranges::none_of(text, [](unsigned char c) { return c < 0x20 || c == 0x7f; });
}

Setting wording(std::string_view name, std::string ReadinessSettings::*member) {
    return {std::string(kWord) + std::string(name),
            "write a short wording of at most " + std::to_string(kMostWordBytes) + " bytes on one line",
            [member](ReadinessSettings& settings, const std::string& text) {
                settings.*member = text;
                return isWording(text);
            },
            [member](const ReadinessSettings& settings) { return settings.*member; }};
}

Setting permitDayRule() {
    return {std::string(kGate) + "permit_day_rule",
            "write " + std::string(kPlainDays) + " (the looser reading) or " + std::string(kDaysAndOne) +
                " (the stricter one)",
            [](ReadinessSettings& settings, const std::string& text) {
                settings.permitDayRule =
                    text == kPlainDays ? PermitDayRule::IssuePlusDays : PermitDayRule::IssuePlusDaysAndOne;
                return text == kPlainDays || text == kDaysAndOne;
            },
            [](const ReadinessSettings& settings) {
                return std::string(settings.permitDayRule == PermitDayRule::IssuePlusDays ? kPlainDays
                                                                                          : kDaysAndOne);
            }};
}

/// In the order in which a form asks for them.
const std::vector<Setting>& allSettings() {
    using S = ReadinessSettings;
    static const std::vector<Setting> all{
        yesNo(kGate, "must_pass", &S::askMustPass),
        whole(kGate, "must_pass_attempts", &S::mustPassAttempts, 1, 20),
        yesNo(kGate, "full_attempt", &S::askFullAttempt),
        whole(kGate, "full_attempt_days", &S::fullAttemptDays, 1, 365),
        yesNo(kGate, "permit", &S::askPermit),
        whole(kGate, "permit_days", &S::permitDays, 0, 365),
        permitDayRule(),
        whole(kGate, "permit_left_days", &S::permitLeftDays, 0, 365),
        yesNo(kGate, "medical", &S::askMedical),
        yesNo(kGate, "theory", &S::askTheory),
        number(kGate, "theory_percent", &S::theoryPercent, 1, 100),
        number(kWord, "ready_at", &S::readyAt, 0.05, 0.99),
        number(kWord, "ready_low", &S::readyLow, 0, 0.99),
        number(kWord, "close_at", &S::closeAt, 0.01, 0.99),
        whole(kWord, "fewest_attempts", &S::fewestAttempts, 1, 20),
        wording("ready", &S::wordReady),
        wording("close", &S::wordClose),
        wording("not_yet", &S::wordNotYet),
        wording("too_little", &S::wordTooLittle),
    };
    return all;
}

Problem problemOf(const std::string& key, const std::string& value, std::string message, std::string remedy) {
    return {{}, 0, key, value, std::move(message), std::move(remedy)};
}

/// The settings that must fit one another.
void checkTogether(const ReadinessSettings& settings, std::vector<Problem>& problems) {
    const std::string word(kWord);
    const std::string ready = shortestText(settings.readyAt);
    if (settings.closeAt > settings.readyAt)
        problems.push_back(
            problemOf(word + "close_at", shortestText(settings.closeAt), "it lies above " + word + "ready_at",
                      "write at most " + ready + ", so that a trainee comes close before being ready"));
    if (settings.readyLow > settings.readyAt)
        problems.push_back(problemOf(
            word + "ready_low", shortestText(settings.readyLow), "it lies above " + word + "ready_at",
            "write at most " + ready + ": the low end of a forecast lies below its middle"));
    const std::vector<std::pair<std::string, const std::string*>> words{
        {"ready", &settings.wordReady},
        {"close", &settings.wordClose},
        {"not_yet", &settings.wordNotYet},
        {"too_little", &settings.wordTooLittle}};
    std::set<std::string_view> taken;
    for (const auto& [name, wording] : words)
        if (!taken.insert(*wording).second)
            problems.push_back(problemOf(word + name, *wording, "another word has the same wording",
                                         "give each of the four words a wording of its own"));
}

Problem unknownKey(const std::string& key) {
    std::vector<std::string> known;
    for (const Setting& setting : allSettings()) known.push_back(setting.key);
    const std::string near = nearest(key, known);
    if (!near.empty()) return problemOf(key, key, "there is no such setting", "did you mean " + near);
    std::string list;
    for (const std::string& one : known) list += (list.empty() ? "" : ", ") + one;
    return problemOf(key, key, "there is no such setting", "use one of " + list);
}

}  // namespace

Result<ReadinessSettings> settingsFromFacts(const std::vector<std::pair<std::string, std::string>>& facts) {
    ReadinessSettings settings;
    std::vector<Problem> problems;
    std::set<std::string_view> seen;
    for (const auto& [key, value] : facts) {
        if (!key.starts_with(kGate) && !key.starts_with(kWord)) continue;
        const auto found = std::ranges::find(allSettings(), key, &Setting::key);
        if (found == allSettings().end())
            problems.push_back(unknownKey(key));
        else if (!seen.insert(key).second)
            problems.push_back(problemOf(key, value, "the setting stands twice", "give it once"));
        else if (!found->read(settings, value))
            problems.push_back(problemOf(key, value, "\"" + value + "\" makes no sense here", found->right));
    }
    // A value that was refused says nothing about how it fits the others.
    if (problems.empty()) checkTogether(settings, problems);
    if (!problems.empty()) return fail("the readiness settings cannot be used", std::move(problems));
    return settings;
}

std::vector<std::pair<std::string, std::string>> factsFromSettings(const ReadinessSettings& settings) {
    std::vector<std::pair<std::string, std::string>> facts;
    for (const Setting& setting : allSettings()) facts.emplace_back(setting.key, setting.write(settings));
    return facts;
}

}  // namespace markerlamp::core
