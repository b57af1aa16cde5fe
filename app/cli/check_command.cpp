// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/cli/arguments.h"
#include "app/cli/check_limits.h"
#include "app/cli/command_line.h"
#include "core/base/files.h"
#include "core/rubric/rubric_reader.h"

#include <nlohmann/json.hpp>

#include <cstdio>

namespace markerlamp::app {

namespace {

constexpr const char* kHelp =
    "Usage: markerlamp check RUBRIC [--json]\n"
    "       markerlamp check RUBRIC --limits SET [--out NEW.rubric.yaml] [--json]\n\n"
    "Tells whether a rubric (*.rubric.yaml) or a limit set (*.limits.yaml) is sound, and lists every problem "
    "with its\n"
    "line, its place and what would be right.\n\n"
    "With --limits: tells limit by limit what the limit set changes in the rubric, and writes the next "
    "edition "
    "with\n"
    "these limits. Limits that the rubric does not have are left out and named; a set that changes nothing "
    "is "
    "refused.\n\n"
    "  --limits SET  a limit set (*.limits.yaml)\n"
    "  --out FILE    the new edition, a name that is not there yet\n"
    "  --json   one JSON object on standard output: {ok, rubric, edition, problems:[{line, path, id, "
    "message, remedy}]};\n"
    "           with --limits also limits, changes:[{limit, before, after}] and left_out\n"
    "  --help   this text\n\n"
    "Exit codes: 0 sound, 1 refused, 2 wrong usage, 3 the machine failed.\n";

}  // namespace

int checkCommand(const Words& words) {
    const Arguments arguments(words, {"--json"}, {"--limits", "--out"});
    if (!arguments.problem().empty()) return wrongUsage("check", arguments.problem(), kHelp);
    if (arguments.has("--help")) return printHelp(kHelp);
    if (arguments.rest().size() != 1) return wrongUsage("check", "name one document", kHelp);
    const bool json = arguments.has("--json");
    const std::string& name = arguments.rest().front();
    if (const auto limits = arguments.value("--limits")) {
        const std::string out = arguments.value("--out").value_or(std::string());
        if (arguments.value("--out") && !out.ends_with(".rubric.yaml"))
            return wrongUsage("check", "--out names a *.rubric.yaml", kHelp);
        return checkLimits({name, *limits, out, json});
    }
    if (arguments.value("--out")) return wrongUsage("check", "--out needs --limits", kHelp);
    const auto document = core::readDocument(name, core::kMaxRubricBytes);
    if (!document) return reportError(document.error());
    const std::string& text = *document;

    core::Error error;
    nlohmann::ordered_json answer;
    bool good = false;
    if (name.ends_with(".limits.yaml")) {
        const auto set = core::readLimitSet(text, name);
        good = set.has_value();
        answer["ok"] = good;
        answer["limits"] = good ? nlohmann::ordered_json(set->id) : nlohmann::ordered_json(nullptr);
        if (good && !json) std::printf("%s: sound, %zu limits\n", name.c_str(), set->limits.size());
        if (!good) error = set.error();
    } else {
        const auto rubric = core::readRubric(text, name);
        good = rubric.has_value();
        answer["ok"] = good;
        answer["rubric"] = good ? nlohmann::ordered_json(rubric->id) : nlohmann::ordered_json(nullptr);
        answer["edition"] = good ? nlohmann::ordered_json(rubric->edition) : nlohmann::ordered_json(nullptr);
        if (good) {
            for (const core::Problem& warning : core::rubricWarnings(*rubric))
                std::fprintf(stderr, "note: %s\n", core::toText(warning).c_str());
            std::size_t steps = 0;
            for (const core::Zone& zone : rubric->zones) steps += zone.steps.size();
            if (!json)
                std::printf("%s: sound, edition %d, %zu zones, %zu steps\n", name.c_str(), rubric->edition,
                            rubric->zones.size(), steps);
        } else {
            error = rubric.error();
        }
    }
    if (json) {
        answer["problems"] = nlohmann::ordered_json::array();
        for (const core::Problem& p : error.problems)
            answer["problems"].push_back({{"line", p.line},
                                          {"path", p.path},
                                          {"id", p.id},
                                          {"message", p.message},
                                          {"remedy", p.remedy}});
        std::printf("%s\n",
                    answer.dump(-1, ' ', false, nlohmann::ordered_json::error_handler_t::replace).c_str());
    }
    return good ? kDone : reportError(error);
}

}  // namespace markerlamp::app
