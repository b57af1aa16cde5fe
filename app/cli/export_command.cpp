// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/cli/arguments.h"
#include "app/cli/command_line.h"
#include "db/exchange/exchange.h"
#include "db/program_file.h"

#include <cstdio>

namespace markerlamp::app {

namespace {

constexpr const char* kHelp =
    "Usage: markerlamp export FILE --to DIR\n\n"
    "Writes a program file as documents and tables: rubrics/, limits/, attempts/, people.csv, "
    "instructors.csv,\n"
    "buses.csv, program.csv, and where there are any forecasts.jsonl, overrides.jsonl, tests.jsonl. "
    "Imported into a new file they give the same again, byte for byte. DIR must not "
    "exist or\n"
    "be empty; it appears whole or not at all.\n\n"
    "  --help   this text\n\n"
    "Exit codes: 0 written, 1 refused, 2 wrong usage, 3 the machine failed.\n";

}  // namespace

int exportCommand(const Words& words) {
    const Arguments arguments(words, {}, {"--to"});
    if (!arguments.problem().empty()) return wrongUsage("export", arguments.problem(), kHelp);
    if (arguments.has("--help")) return printHelp(kHelp);
    if (arguments.rest().size() != 1 || !arguments.value("--to"))
        return wrongUsage("export", "name the program file and --to DIR", kHelp);
    auto file = db::ProgramFile::open(arguments.rest().front(), db::OpenMode::ReadOnly);
    if (!file) return reportError(file.error());
    const std::string dir = *arguments.value("--to");
    const auto count = db::exportTo(**file, dir);
    if (!count) return reportError(count.error());
    std::printf("%s: %d documents written\n", dir.c_str(), *count);
    return kDone;
}

}  // namespace markerlamp::app
