// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// `markerlamp forecast`: who would pass, how surely, and what stands against it. Nothing is printed on
// standard output unless every forecast was made.

#include "app/cli/arguments.h"
#include "app/cli/command_line.h"
#include "app/cli/opened_program.h"
#include "app/cli/readiness_request.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cstdio>
#include <string>
#include <vector>

namespace markerlamp::app {

namespace {

using core::fail;
using core::Result;

constexpr double kFarthestAhead = 3650;
constexpr std::size_t kMostHoldings = 3;  ///< in the text

constexpr const char* kHelp =
    "Usage: markerlamp forecast FILE [--trainee KEY] [--at TIME | --ahead DAYS] [--section ID] [--json]\n\n"
    "The chance of passing the inspection test for every trainee of a program file (*.markerlamp), from\n"
    "what the attempts before the moment say, and the gates beside it. What was recorded at that moment\n"
    "or later changes nothing in it.\n\n"
    "  --trainee KEY  only this trainee\n"
    "  --at TIME      as it was known at this moment: 2026-03-02T06:10:00-05:00, or a date (midnight UTC);\n"
    "                 without it, now\n"
    "  --ahead DAYS   instead: this many days after each trainee's own last attempt, 0 to 3650; now for\n"
    "                 who has no attempt\n"
    "  --section ID   as if the test were this section of the rubric; without it the sections count by\n"
    "                 their shares; who is trained by a rubric without it is left out and named\n"
    "  --json         one object a line and trainee: trainee, at, attempts, chance, low and high (the 90\n"
    "                 percent interval), word, gates [{gate, state, why}]; with too little data the\n"
    "                 numbers are still there, and the word says so\n"
    "  --help         this text\n\n"
    "Exit codes: 0 done, 1 refused, 2 wrong usage, 3 the machine failed.\n\n"
    "Training support only: a forecast is no test result. The official test, the state's manual and the\n"
    "program's own rules decide.\n";

struct Request {
    std::string file;
    SignIn signIn;
    std::string trainee;  ///< empty: all
    ReadinessQuestion question;
};

Result<Request> requestOf(const Arguments& arguments) {
    Request request;
    request.file = arguments.rest().front();
    request.signIn = signInOf(arguments);
    request.trainee = arguments.value("--trainee").value_or("");
    request.question.now = dayNow();
    request.question.section = arguments.value("--section");
    if (const auto text = arguments.value("--at")) {
        const auto day = momentOption("--at", *text);
        if (!day) return fail(day.error());
        request.question.at = *day;
    }
    if (const auto text = arguments.value("--ahead")) {
        const auto days = numberOption("--ahead", *text, 0, kFarthestAhead);
        if (!days) return fail(days.error());
        request.question.aheadDays = *days;
    }
    return request;
}

/// Who is meant: one key, known or not, or all in the order of their keys.
std::vector<std::string> keysOf(const ProgramReadiness& program, const std::string& trainee) {
    if (!trainee.empty()) return {trainee};
    std::vector<std::string> keys;
    for (const core::Trainee& one : program.trainees()) keys.push_back(one.key);
    std::ranges::sort(keys);
    return keys;
}

std::string lineOf(const core::Readiness& readiness) {
    using Json = nlohmann::ordered_json;
    const core::Forecast& forecast = readiness.forecast;
    Json gates = Json::array();
    for (const core::Gate& gate : readiness.gates)
        gates.push_back({{"gate", gate.id}, {"state", core::toWord(gate.state)}, {"why", gate.why}});
    const Json line{{"trainee", forecast.trainee},
                    {"at", core::momentOf(forecast.at)},
                    {"attempts", forecast.attempts},
                    {"chance", forecast.chance},
                    {"low", forecast.low},
                    {"high", forecast.high},
                    {"word", core::toWord(readiness.word)},
                    {"gates", std::move(gates)}};
    return line.dump(-1, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::string textOf(const core::Readiness& readiness, const core::ReadinessSettings& settings) {
    const core::Forecast& forecast = readiness.forecast;
    std::string text = forecast.trainee + ", " + core::momentOf(forecast.at) + ": " +
                       core::shownWord(readiness.word, settings);
    if (readiness.word == core::ReadinessWord::TooLittle && !forecast.tooLittleWhy.empty())
        text += ": " + forecast.tooLittleWhy + ".\n";
    else
        text += ". " + core::chanceInWords(forecast) + "\n";
    if (readiness.override_)
        text += "  the word is " + readiness.override_->by + "'s: " + readiness.override_->reason +
                " (the program says: " + core::shownWord(readiness.computed, settings) + ")\n";
    for (const core::Gate& gate : readiness.gates)
        text += "  gate " + gate.id + ", " + std::string(core::toWord(gate.state)) + ": " + gate.why + "\n";
    if (!forecast.tooLittle)
        for (std::size_t i = 0; i < std::min(kMostHoldings, forecast.holding.size()); ++i) {
            const core::Holding& holding = forecast.holding[i];
            text += "  holding back: " + holding.title + " (" + std::to_string(holding.right) + " of " +
                    std::to_string(holding.seen) + " lately)\n";
        }
    if (!readiness.change.empty()) text += "  " + readiness.change + "\n";
    return text;
}

/// For --ahead and who has no attempt: now.
ReadinessQuestion questionFor(const ProgramReadiness& program, const std::string& key,
                              const ReadinessQuestion& asked) {
    if (program.momentFor(key, asked)) return asked;
    ReadinessQuestion question = asked;
    question.aheadDays.reset();
    question.at = asked.now;
    return question;
}

bool lacksSection(const core::Error& error) {
    return std::ranges::any_of(error.problems,
                               [](const core::Problem& problem) { return problem.path == "section"; });
}

/// Who is trained by a rubric without the section is left out, as long as somebody has it.
void sayLeftOut(const std::vector<std::string>& keys, const std::string& section) {
    if (keys.empty()) return;
    std::string list;
    for (const std::string& key : keys) list += (list.empty() ? "" : ", ") + key;
    std::fprintf(stderr, "left out, their rubric has no section \"%s\": %s\n", section.c_str(), list.c_str());
}

/// @param without filled with who has no such section
Result<std::string> answer(const Request& request, bool json, std::vector<std::string>& without) {
    ProgressLine progress("forecast");
    const auto program = readReadiness(request.file, request.signIn, progress);
    if (!program) return fail(program.error());
    std::string output;
    const std::vector<std::string> keys = keysOf(**program, request.trainee);
    const auto take = progress.taker();
    for (std::size_t i = 0; i < keys.size(); ++i) {
        progress.phase("trainee " + std::to_string(i + 1) + " of " + std::to_string(keys.size()));
        const auto readiness =
            (*program)->readiness(keys[i], questionFor(**program, keys[i], request.question), take);
        if (!readiness && lacksSection(readiness.error()) && without.size() + 1 < keys.size()) {
            without.push_back(keys[i]);
            continue;
        }
        if (!readiness) return fail(readiness.error());
        output += json ? lineOf(*readiness) : textOf(*readiness, (*program)->settings());
    }
    if (keys.empty() && !json) output = "There is no trainee in this file yet.\n";
    return output;
}

}  // namespace

int forecastCommand(const Words& words) {
    const Arguments arguments(words, {"--json"}, withSignIn({"--trainee", "--at", "--ahead", "--section"}));
    if (!arguments.problem().empty()) return wrongUsage("forecast", arguments.problem(), kHelp);
    if (arguments.has("--help")) return printHelp(kHelp, kSignInHelp);
    if (arguments.rest().size() != 1) return wrongUsage("forecast", "name one program file", kHelp);
    if (arguments.value("--at") && arguments.value("--ahead"))
        return wrongUsage("forecast", "--at and --ahead name two moments; give one of them", kHelp);
    if (arguments.value("--trainee") == "") return wrongUsage("forecast", "--trainee needs a value", kHelp);
    const auto request = requestOf(arguments);
    if (!request) return reportError(request.error());
    std::vector<std::string> without;
    const auto output = answer(*request, arguments.has("--json"), without);
    if (!output) return reportError(output.error());
    sayLeftOut(without, request->question.section.value_or(""));
    std::fwrite(output->data(), 1, output->size(), stdout);
    return kDone;
}

}  // namespace markerlamp::app
