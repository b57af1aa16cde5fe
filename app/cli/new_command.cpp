// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/cli/arguments.h"
#include "app/cli/command_line.h"
#include "app/shell/new_program.h"

#include <cstdio>
#include <filesystem>

namespace markerlamp::app {

namespace {

constexpr const char* kHelp =
    "Usage: markerlamp new FILE [--demo]\n\n"
    "Makes a program file with the built-in rubrics and limit sets. Refuses to overwrite.\n\n"
    "  --demo   also an invented district: staff, trainees, buses and ten weeks of practice\n"
    "  --help   this text\n\n"
    "Exit codes: 0 made, 1 refused, 2 wrong usage, 3 the machine failed.\n";

}  // namespace

int newCommand(const Words& words) {
    const Arguments arguments(words, {"--demo"}, {});
    if (!arguments.problem().empty()) return wrongUsage("new", arguments.problem(), kHelp);
    if (arguments.has("--help")) return printHelp(kHelp);
    if (arguments.rest().size() != 1) return wrongUsage("new", "name one file to make", kHelp);
    const std::filesystem::path path = arguments.rest().front();
    const bool demo = arguments.has("--demo");
    if (auto made = makeProgram(path, demo); !made) return reportError(made.error());
    std::printf("%s: made%s\n", path.c_str(),
                demo ? " with the demo program; everyone in it is invented" : "");
    return kDone;
}

}  // namespace markerlamp::app
