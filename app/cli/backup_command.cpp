// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// `markerlamp backup`: a copy of a program file that was looked through before it got its name.

#include "app/cli/arguments.h"
#include "app/cli/command_line.h"
#include "app/cli/opened_program.h"
#include "app/cli/passphrase.h"
#include "db/copies/copies.h"
#include "db/copies/sealed_copy.h"

#include <cstdio>

namespace markerlamp::app {

namespace {

constexpr const char* kHelp =
    "Usage: markerlamp backup FILE --to F [--sealed [--passphrase-file P]]\n"
    "       markerlamp backup FILE [--if-changed]\n\n"
    "Makes a copy of a program file, of one moment, while others may work on it. The copy is looked through\n"
    "before it gets its name; of a damaged file none is made, and no copy that is there is touched.\n\n"
    "  --to F        the copy, a name that is not there yet. Whoever has it has names and marks of people, "
    "and\n"
    "                erasing a person does not find it\n"
    "  --sealed      only a passphrase opens the copy; restore and verify ask for it. One that is lost "
    "cannot be\n"
    "                found again\n"
    "  --passphrase-file P  take the passphrase from the first line of P; without it, it is asked for\n"
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

int sealedCopy(const Arguments& arguments, const std::string& file, const std::string& to) {
    const auto passphrase = passphraseFor(arguments, true);
    if (!passphrase) return reportError(passphrase.error());
    const auto key = db::SealKey::of(*passphrase);
    if (!key) return reportError(key.error());
    if (auto done = db::sealedCopyTo(file, to, *key); !done) return reportError(done.error());
    std::printf("%s: made, sealed and found sound\n", to.c_str());
    return kDone;
}

}  // namespace

int backupCommand(const Words& words) {
    const Arguments arguments(words, {"--if-changed", "--sealed"}, {"--to", kPassphraseOption});
    if (!arguments.problem().empty()) return wrongUsage("backup", arguments.problem(), kHelp);
    if (arguments.has("--help")) return printHelp(kHelp);
    if (arguments.rest().size() != 1) return wrongUsage("backup", "name one program file", kHelp);
    const std::string& file = arguments.rest().front();
    const auto to = arguments.value("--to");
    const bool sealed = arguments.has("--sealed");
    if (sealed && !to) return wrongUsage("backup", "--sealed goes with --to only", kHelp);
    if (!sealed && arguments.value(kPassphraseOption))
        return wrongUsage("backup", "--passphrase-file goes with --sealed only", kHelp);
    if (to && to->empty()) return wrongUsage("backup", "--to needs a value", kHelp);
    if (to && arguments.has("--if-changed"))
        return wrongUsage("backup", "--if-changed does not go with --to", kHelp);
    if (const auto belongs = logBelongs(file); !belongs) return reportError(belongs.error());
    if (!to) return copyBeside(file, arguments.has("--if-changed"));
    if (sealed) return sealedCopy(arguments, file, *to);
    if (auto done = db::copyTo(file, *to); !done) return reportError(done.error());
    std::printf("%s: made and found sound; keep it as you keep the records in it\n", to->c_str());
    return kDone;
}

}  // namespace markerlamp::app
