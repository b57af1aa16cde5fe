// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// `markerlamp trail`: who changed what in a program file, and when.

#include "app/cli/arguments.h"
#include "app/cli/command_line.h"
#include "app/cli/opened_program.h"
#include "db/program_file.h"

#include <nlohmann/json.hpp>

#include <cstdio>

namespace markerlamp::app {

namespace {

constexpr const char* kHelp =
    "Usage: markerlamp trail FILE [--trainee KEY] [--json]\n\n"
    "Lists who changed what in a program file and when, oldest first; changes nothing. `markerlamp verify` "
    "says\n"
    "whether the trail itself was changed behind the program's back.\n\n"
    "  --trainee KEY  only what is about this trainee\n"
    "  --json         one JSON line an entry: {number, at, atMs, by, what, salt, trainee, subject, words, "
    "digest,\n"
    "                 seal}. digest is the BLAKE2b hash (32 bytes, hexadecimal) of the JSON array [salt, "
    "trainee,\n"
    "                 subject, words], seal that of [seal before, number, at, atMs, by, what, digest], both "
    "without\n"
    "                 blanks; salt, trainee, subject and words are empty once the person was erased\n"
    "  --help         this text\n\n"
    "Exit codes: 0 done, 1 it is no program file, 2 wrong usage, 3 the machine failed.\n";

std::string jsonOf(const core::TrailEntry& entry) {
    const nlohmann::ordered_json line{
        {"number", entry.number},   {"at", entry.at},           {"atMs", entry.atMs},
        {"by", entry.by},           {"what", entry.what},       {"salt", entry.salt},
        {"trainee", entry.trainee}, {"subject", entry.subject}, {"words", entry.words},
        {"digest", entry.digest},   {"seal", entry.seal}};
    return line.dump(-1, ' ', false, nlohmann::ordered_json::error_handler_t::replace);
}

void print(const core::TrailEntry& entry) {
    std::printf("%lld  %s  %s  %s %s\n", static_cast<long long>(entry.number), entry.at.c_str(),
                entry.by.c_str(), entry.what.c_str(), entry.erased() ? "(erased)" : entry.subject.c_str());
    for (const core::TrailField& field : core::fieldsOf(entry)) {
        std::printf("    %s: ", field.field.c_str());
        if (!field.was.empty()) std::printf("%s -> ", field.was.c_str());
        std::printf("%s\n", field.is.c_str());
    }
}

}  // namespace

int trailCommand(const Words& words) {
    const Arguments arguments(words, {"--json"}, withSignIn({"--trainee"}));
    if (!arguments.problem().empty()) return wrongUsage("trail", arguments.problem(), kHelp);
    if (arguments.has("--help")) return printHelp(kHelp, kSignInHelp);
    if (arguments.rest().size() != 1) return wrongUsage("trail", "name one program file", kHelp);
    const auto trainee = arguments.value("--trainee");
    if (trainee == "") return wrongUsage("trail", "--trainee needs a value", kHelp);
    const auto file = openProgram(arguments.rest().front(), db::OpenMode::ReadOnly, signInOf(arguments),
                                  core::Deed::SeeProgram);
    if (!file) return reportError(file.error());
    const auto entries = (*file)->trail();
    if (!entries) return reportError(entries.error());
    for (const core::TrailEntry& entry : *entries) {
        if (trainee && entry.trainee != *trainee) continue;
        if (arguments.has("--json"))
            std::printf("%s\n", jsonOf(entry).c_str());
        else
            print(entry);
    }
    return kDone;
}

}  // namespace markerlamp::app
