// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// `markerlamp drill`: what a trainee should practise in the minutes that are left.

#include "app/cli/arguments.h"
#include "app/cli/command_line.h"
#include "app/cli/opened_program.h"
#include "app/cli/readiness_request.h"
#include "core/base/text.h"

#include <cmath>
#include <cstdio>
#include <string>

namespace markerlamp::app {

namespace {

using core::fail;
using core::Result;

constexpr double kMostMinutes = 1440;

constexpr const char* kHelp =
    "Usage: markerlamp drill FILE --trainee KEY --minutes N [--at TIME] [--section ID] [--json]\n\n"
    "What to practice next: the steps that raise the chance of passing most in the minutes that are left.\n"
    "The steps of a strict order are drilled together; walking to a zone and setting up count once. What\n"
    "was done by oneself on the same day is not offered again.\n\n"
    "  --trainee KEY  for whom\n"
    "  --minutes N    how long, set-up included; more than 0, at most 1440\n"
    "  --at TIME      as it was known at this moment: 2026-03-02T06:10:00-05:00, or a date (midnight UTC);\n"
    "                 without it, now\n"
    "  --section ID   for a test of this section of the rubric\n"
    "  --json         the plan as one object (markerlamp.drill/1)\n"
    "  --help         this text\n\n"
    "Exit codes: 0 done, 1 refused, 2 wrong usage, 3 the machine failed.\n\n"
    "Read the cautions aloud before a drill: chocks and parking brake, nobody in front of, behind or under\n"
    "the bus with the engine on. The state's manual, the maker's and the program's own rules decide.\n";

struct Request {
    std::string file;
    SignIn signIn;
    std::string trainee;
    double minutes = 0;
    ReadinessQuestion question;
};

Result<Request> requestOf(const Arguments& arguments) {
    Request request{
        arguments.rest().front(), signInOf(arguments), arguments.value("--trainee").value_or(""), 0, {}};
    const std::string text = arguments.value("--minutes").value_or("");
    const auto minutes = numberOption("--minutes", text, 0, kMostMinutes);
    if (!minutes) return fail(minutes.error());
    if (*minutes <= 0)
        return fail(core::ErrorKind::Refused, "--minutes is more than 0, not \"" + text + "\"");
    request.minutes = *minutes;
    request.question.now = dayNow();
    request.question.section = arguments.value("--section");
    if (const auto at = arguments.value("--at")) {
        const auto day = momentOption("--at", *at);
        if (!day) return fail(day.error());
        request.question.at = *day;
    }
    return request;
}

std::string minutesText(double minutes) {
    return core::shortestText(std::round(minutes * 10) / 10) + " min";
}

/// What the plan does, in words.
std::string effect(const core::DrillPlan& plan) {
    const std::string before = tenths(plan.before), after = tenths(plan.after);
    return "Would pass: " + before + " now, " + (before == after ? "a little surer" : after) +
           " after this drill.\n";
}

std::string textOf(const core::DrillPlan& plan, const core::DrillPlanner& planner, const Request& request) {
    if (plan.parts.empty())
        return request.trainee + ": nothing to drill fits into " + minutesText(request.minutes) +
               " (walking to a zone and setting up take minutes too), or all was done by oneself today.\n";
    std::string text =
        request.trainee + ", " + minutesText(plan.minutes) + " of " + minutesText(request.minutes) + ":\n";
    int number = 0;
    for (const core::DrillLine& line : core::linesOf(plan, planner)) {
        text += "  " + std::to_string(++number) + " " + line.title + ", " + minutesText(line.minutes) + ": " +
                line.text + "\n";
        if (!line.caution.empty()) text += "    CAUTION: " + line.caution + "\n";
    }
    return text + effect(plan);
}

Result<std::string> answer(const Request& request, bool json) {
    ProgressLine progress("drill");
    const auto program = readReadiness(request.file, request.signIn, progress);
    if (!program) return fail(program.error());
    progress.phase("learning from the attempts");
    const auto planner = (*program)->planner(request.trainee, request.question, progress.taker());
    if (!planner) return fail(planner.error());
    const core::DrillPlan plan = planner->plan(request.minutes);
    if (json) return core::toJson(plan, *planner, request.trainee, request.minutes) + "\n";
    return textOf(plan, *planner, request);
}

}  // namespace

int drillCommand(const Words& words) {
    const Arguments arguments(words, {"--json"}, withSignIn({"--trainee", "--minutes", "--at", "--section"}));
    if (!arguments.problem().empty()) return wrongUsage("drill", arguments.problem(), kHelp);
    if (arguments.has("--help")) return printHelp(kHelp, kSignInHelp);
    if (arguments.rest().size() != 1) return wrongUsage("drill", "name one program file", kHelp);
    for (const char* option : {"--trainee", "--minutes"})
        if (arguments.value(option).value_or("").empty())
            return wrongUsage("drill", std::string(option) + " is missing", kHelp);
    const auto request = requestOf(arguments);
    if (!request) return reportError(request.error());
    const auto output = answer(*request, arguments.has("--json"));
    if (!output) return reportError(output.error());
    std::fwrite(output->data(), 1, output->size(), stdout);
    return kDone;
}

}  // namespace markerlamp::app
