// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// `markerlamp verify`: is a program file, or a copy of one, whole?

#include "app/cli/arguments.h"
#include "app/cli/command_line.h"
#include "app/cli/opened_program.h"
#include "app/cli/passphrase.h"
#include "app/cli/progress_line.h"
#include "db/copies/verify.h"

#include <nlohmann/json.hpp>

#include <cstdio>

namespace markerlamp::app {

namespace {

constexpr const char* kHelp =
    "Usage: markerlamp verify FILE [--json] [--passphrase-file P]\n\n"
    "Looks through a whole program file, or a copy of one, and changes nothing: pages and indexes, records "
    "that\n"
    "name others, attempts that are numbered without gaps and fit their rubric, and whether the figures "
    "that\n"
    "lists show are those of the events. Then whether something was changed behind the program's back: the "
    "first\n"
    "entry of the trail that does not fit its seal, ended attempts that are not as they were sealed, kept "
    "copies\n"
    "that hold other entries.\n\n"
    "  --json  one JSON object on standard output: {file, integrity, schema, attempts, events, trainees,\n"
    "          problems:[{path, id, message, remedy}], trail, seal, unsealed, seals:[as problems]}; "
    "integrity is \"ok\" or the first thing that is "
    "wrong\n"
    "          with the pages, path names the table, id the record\n"
    "  --passphrase-file P  of a sealed copy: take the passphrase from the first line of P; without it, it "
    "is\n"
    "          asked for\n"
    "  --help  this text\n\n"
    "Exit codes: 0 whole, 1 something is wrong or it is no program file, 2 wrong usage, 3 the machine "
    "failed.\n";

nlohmann::ordered_json listOf(const std::vector<core::Problem>& problems) {
    auto list = nlohmann::ordered_json::array();
    for (const core::Problem& p : problems)
        list.push_back({{"path", p.path}, {"id", p.id}, {"message", p.message}, {"remedy", p.remedy}});
    return list;
}

void printJson(const std::string& file, const db::FileReport& report) {
    nlohmann::ordered_json answer;
    answer["file"] = file;
    answer["integrity"] = report.integrity;
    answer["schema"] = report.schema;
    answer["attempts"] = report.attempts;
    answer["events"] = report.events;
    answer["trainees"] = report.trainees;
    answer["problems"] = listOf(report.problems);
    answer["trail"] = report.trail;
    answer["seal"] = report.seal;
    answer["unsealed"] = report.unsealed;
    answer["seals"] = listOf(report.seals);
    std::printf("%s\n",
                answer.dump(-1, ' ', false, nlohmann::ordered_json::error_handler_t::replace).c_str());
}

}  // namespace

int verifyCommand(const Words& words) {
    const Arguments arguments(words, {"--json"}, {kPassphraseOption});
    if (!arguments.problem().empty()) return wrongUsage("verify", arguments.problem(), kHelp);
    if (arguments.has("--help")) return printHelp(kHelp);
    if (arguments.rest().size() != 1) return wrongUsage("verify", "name one program file", kHelp);
    const std::string& file = arguments.rest().front();
    ProgressLine progress("verify");
    progress.phase("looking through");
    if (const auto belongs = logBelongs(file); !belongs) return reportError(belongs.error());
    const auto plain = db::OpenedCopy::open(file, file, askingFor(arguments));
    if (!plain) return reportError(plain.error());
    const auto report = db::verifyProgram(plain->path(), progress.taker());
    if (!report) return reportError(report.error());
    if (arguments.has("--json")) {
        printJson(file, *report);
    } else if (report->good()) {
        std::printf("%s: whole; form %d, trainees %d, attempts %d, events %lld\n", file.c_str(),
                    report->schema, report->trainees, report->attempts, report->events);
        if (report->sealed())
            std::printf(
                "trail: entries %d, every seal fits, the last is %s; attempts from before the trail: %d\n",
                report->trail, report->seal.empty() ? "none" : report->seal.substr(0, 12).c_str(),
                report->unsealed);
    }
    if (report->good() && report->sealed()) return kDone;
    std::vector<core::Problem> problems = report->problems;
    problems.insert(problems.end(), report->seals.begin(), report->seals.end());
    for (core::Problem& problem : problems)
        if (!problem.id.empty()) problem.path += " " + problem.id;
    return reportError({core::ErrorKind::Refused,
                        file + (report->good() ? " was changed behind the program's back" : " is not whole") +
                            ": problems found: " + std::to_string(problems.size()),
                        {},
                        std::move(problems)});
}

}  // namespace markerlamp::app
