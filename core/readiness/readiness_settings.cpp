// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/readiness/readiness_settings.h"

#include "core/base/fact_settings.h"
#include "core/base/text.h"

#include <set>
#include <string_view>

namespace markerlamp::core {

namespace {

constexpr std::string_view kGate = "program.gate.";
constexpr std::string_view kWord = "program.word.";
constexpr std::size_t kMostWordBytes = 40;

constexpr std::string_view kPlainDays = "issue-plus-days";
constexpr std::string_view kDaysAndOne = "issue-plus-days-and-one";

using Setting = FactSetting<ReadinessSettings>;

std::string gate(std::string_view name) {
    return std::string(kGate) + std::string(name);
}
std::string word(std::string_view name) {
    return std::string(kWord) + std::string(name);
}

Setting permitDayRule() {
    return {gate("permit_day_rule"),
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
        yesNoFact(gate("must_pass"), &S::askMustPass),
        wholeFact(gate("must_pass_attempts"), &S::mustPassAttempts, 1, 20),
        yesNoFact(gate("full_attempt"), &S::askFullAttempt),
        wholeFact(gate("full_attempt_days"), &S::fullAttemptDays, 1, 365),
        yesNoFact(gate("permit"), &S::askPermit),
        wholeFact(gate("permit_days"), &S::permitDays, 0, 365),
        permitDayRule(),
        wholeFact(gate("permit_left_days"), &S::permitLeftDays, 0, 365),
        yesNoFact(gate("medical"), &S::askMedical),
        yesNoFact(gate("theory"), &S::askTheory),
        numberFact(gate("theory_percent"), &S::theoryPercent, 1, 100),
        numberFact(word("ready_at"), &S::readyAt, 0.05, 0.99),
        numberFact(word("ready_low"), &S::readyLow, 0, 0.99),
        numberFact(word("close_at"), &S::closeAt, 0.01, 0.99),
        wholeFact(word("fewest_attempts"), &S::fewestAttempts, 1, 20),
        lineFact(word("ready"), &S::wordReady, 1, kMostWordBytes),
        lineFact(word("close"), &S::wordClose, 1, kMostWordBytes),
        lineFact(word("not_yet"), &S::wordNotYet, 1, kMostWordBytes),
        lineFact(word("too_little"), &S::wordTooLittle, 1, kMostWordBytes),
    };
    return all;
}

/// The settings that must fit one another.
void checkTogether(const ReadinessSettings& settings, std::vector<Problem>& problems) {
    const std::string prefix(kWord);
    const std::string ready = shortestText(settings.readyAt);
    if (settings.closeAt > settings.readyAt)
        problems.push_back(factProblem(
            prefix + "close_at", shortestText(settings.closeAt), "it lies above " + prefix + "ready_at",
            "write at most " + ready + ", so that a trainee comes close before being ready"));
    if (settings.readyLow > settings.readyAt)
        problems.push_back(factProblem(
            prefix + "ready_low", shortestText(settings.readyLow), "it lies above " + prefix + "ready_at",
            "write at most " + ready + ": the low end of a forecast lies below its middle"));
    const std::vector<std::pair<std::string, const std::string*>> words{
        {"ready", &settings.wordReady},
        {"close", &settings.wordClose},
        {"not_yet", &settings.wordNotYet},
        {"too_little", &settings.wordTooLittle}};
    std::set<std::string_view> taken;
    for (const auto& [name, wording] : words)
        if (!taken.insert(*wording).second)
            problems.push_back(factProblem(prefix + name, *wording, "another word has the same wording",
                                           "give each of the four words a wording of its own"));
}

}  // namespace

Result<ReadinessSettings> settingsFromFacts(const std::vector<std::pair<std::string, std::string>>& facts) {
    std::vector<Problem> problems;
    ReadinessSettings settings = readFacts(allSettings(), {kGate, kWord}, facts, problems);
    // A value that was refused says nothing about how it fits the others.
    if (problems.empty()) checkTogether(settings, problems);
    if (!problems.empty()) return fail("the readiness settings cannot be used", std::move(problems));
    return settings;
}

std::vector<std::pair<std::string, std::string>> factsFromSettings(const ReadinessSettings& settings) {
    return writeFacts(allSettings(), settings);
}

}  // namespace markerlamp::core
