// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// `markerlamp verify`: is a program file, or a copy of one, whole?

#include "app/cli/arguments.h"
#include "app/cli/command_line.h"
#include "app/cli/progress_line.h"
#include "db/copies/verify.h"

#include <nlohmann/json.hpp>

#include <cstdio>

namespace markerlamp::app {

namespace {

constexpr const char* kHelp =
    "Usage: markerlamp verify FILE [--json]\n\n"
    "Looks through a whole program file, or a copy of one, and changes nothing: pages and indexes, records "
    "that\n"
    "name others, attempts that are numbered without gaps and fit their rubric, and whether the figures "
    "that\n"
    "lists show are those of the events.\n\n"
    "  --json  one JSON object on standard output: {file, integrity, schema, attempts, events, trainees,\n"
    "          problems:[{path, id, message, remedy}]}; integrity is \"ok\" or the first thing that is "
    "wrong\n"
    "          with the pages, path names the table, id the record\n"
    "  --help  this text\n\n"
    "Exit codes: 0 whole, 1 something is wrong or it is no program file, 2 wrong usage, 3 the machine "
    "failed.\n";

void printJson(const std::string& file, const db::FileReport& report) {
    nlohmann::ordered_json answer;
    answer["file"] = file;
    answer["integrity"] = report.integrity;
    answer["schema"] = report.schema;
    answer["attempts"] = report.attempts;
    answer["events"] = report.events;
    answer["trainees"] = report.trainees;
    answer["problems"] = nlohmann::ordered_json::array();
    for (const core::Problem& p : report.problems)
        answer["problems"].push_back(
            {{"path", p.path}, {"id", p.id}, {"message", p.message}, {"remedy", p.remedy}});
    std::printf("%s\n",
                answer.dump(-1, ' ', false, nlohmann::ordered_json::error_handler_t::replace).c_str());
}

}  // namespace

int verifyCommand(const Words& words) {
    const Arguments arguments(words, {"--json"}, {});
    if (!arguments.problem().empty()) return wrongUsage("verify", arguments.problem(), kHelp);
    if (arguments.has("--help")) return printHelp(kHelp);
    if (arguments.rest().size() != 1) return wrongUsage("verify", "name one program file", kHelp);
    const std::string& file = arguments.rest().front();
    ProgressLine progress("verify");
    progress.phase("looking through");
    const auto report = db::verifyProgram(file, progress.taker());
    if (!report) return reportError(report.error());
    if (arguments.has("--json")) {
        printJson(file, *report);
    } else if (report->good()) {
        std::printf("%s: whole; form %d, trainees %d, attempts %d, events %lld\n", file.c_str(),
                    report->schema, report->trainees, report->attempts, report->events);
    }
    if (report->good()) return kDone;
    std::vector<core::Problem> problems = report->problems;
    for (core::Problem& problem : problems)
        if (!problem.id.empty()) problem.path += " " + problem.id;
    return reportError({core::ErrorKind::Refused,
                        file + " is not whole: problems found: " + std::to_string(problems.size()),
                        {},
                        std::move(problems)});
}

}  // namespace markerlamp::app
