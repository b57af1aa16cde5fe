// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// `markerlamp backup`: a copy of a program file that was looked through before it got its name.

#include "app/cli/arguments.h"
#include "app/cli/command_line.h"
#include "db/copies/copies.h"

#include <cstdio>

namespace markerlamp::app {

namespace {

constexpr const char* kHelp =
    "Usage: markerlamp backup FILE --to F\n"
    "       markerlamp backup FILE [--if-changed]\n\n"
    "Makes a copy of a program file, of one moment, while others may work on it. The copy is looked through\n"
    "before it gets its name; of a damaged file none is made, and no copy that is there is touched.\n\n"
    "  --to F        the copy, a name that is not there yet. Whoever has it has names and marks of people, "
    "and\n"
    "                erasing a person does not find it\n"
    "  without --to  the copy goes where the program keeps its own, FILE.copies, and to the second place "
    "where\n"
    "                one is set; of older ones there the last 10 stay, one a day for 14 days, one a week for "
    "8\n"
    "                weeks, then one a month\n"
    "  --if-changed  only when the records changed since the newest copy there\n"
    "  --help        this text\n\n"
    "Exit codes: 0 done, 1 refused, 2 wrong usage, 3 the machine failed.\n";

int copyBeside(const std::string& file, bool onlyIfChanged) {
    const auto kept = db::keepCopy(file, {core::CopyReason::ByHand, 0, onlyIfChanged});
    if (!kept) return reportError(kept.error());
    if (kept->made.empty())
        std::printf("nothing changed since the newest copy\n");
    else
        std::printf("%s: made and found sound\n", kept->made.c_str());
    for (const std::string& gone : kept->removed) std::printf("removed: %s\n", gone.c_str());
    return kept->second ? reportError(*kept->second) : kDone;
}

}  // namespace

int backupCommand(const Words& words) {
    const Arguments arguments(words, {"--if-changed"}, {"--to"});
    if (!arguments.problem().empty()) return wrongUsage("backup", arguments.problem(), kHelp);
    if (arguments.has("--help")) return printHelp(kHelp);
    if (arguments.rest().size() != 1) return wrongUsage("backup", "name one program file", kHelp);
    const std::string& file = arguments.rest().front();
    const auto to = arguments.value("--to");
    if (!to) return copyBeside(file, arguments.has("--if-changed"));
    if (to->empty()) return wrongUsage("backup", "--to needs a value", kHelp);
    if (arguments.has("--if-changed"))
        return wrongUsage("backup", "--if-changed does not go with --to", kHelp);
    if (auto done = db::copyTo(file, *to); !done) return reportError(done.error());
    std::printf("%s: made and found sound; keep it as you keep the records in it\n", to->c_str());
    return kDone;
}

}  // namespace markerlamp::app
