// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// `markerlamp erase`: who may be erased when, and erasing a person for good.

#include "app/cli/arguments.h"
#include "app/cli/command_line.h"
#include "app/cli/opened_program.h"
#include "app/people/record_source.h"
#include "app/support/display.h"

#include <algorithm>
#include <cstdio>

namespace markerlamp::app {

namespace {

constexpr const char* kHelp =
    "Usage: markerlamp erase FILE\n"
    "       markerlamp erase FILE --trainee KEY --yes [--early]\n\n"
    "Without a trainee: who may be erased from when on, with the newest day on record. Records are kept for "
    "three\n"
    "years from the day they were made or received (49 CFR 380.725), longer where other law says so; the\n"
    "program's settings may say another number of years.\n\n"
    "With one: name, papers, license number, hours, bookings, notes and every other word about the person "
    "leave\n"
    "the file and the log beside it. The copies that this program made go, in the second place too, and one\n"
    "without the person is made. The marks stay under a key\n"
    "that says nothing, so that counts and forecasts stay what they were. There is no way back.\n\n"
    "  --trainee KEY  the person\n"
    "  --yes          erase; without it nothing is done\n"
    "  --early        before the records have been kept long enough\n"
    "  --help         this text\n\n"
    "What was exported, printed or copied by hand, and notes about this person in the attempts of others, "
    "are\n"
    "not found by it.\n\n"
    "Exit codes: 0 done, 1 refused, 2 wrong usage, 3 the machine failed.\n";

void print(const core::KeepRow& row) {
    if (row.last.empty())
        std::printf("%s: may be erased, nothing is on record\n", row.trainee.c_str());
    else
        std::printf("%s: %s %s, newest record %s\n", row.trainee.c_str(),
                    row.may ? "may be erased since" : "may be erased from", row.from.c_str(),
                    row.last.c_str());
}

int erasePerson(db::ProgramFile& file, const Arguments& arguments, const std::vector<core::KeepRow>& rows) {
    const std::string key = *arguments.value("--trainee");
    if (const auto person = personOf(file, key); !person) return reportError(person.error());
    const auto row = std::ranges::find(rows, key, &core::KeepRow::trainee);
    if (row != rows.end() && !row->may && !arguments.has("--early"))
        return reportError({core::ErrorKind::Refused,
                            "the records of " + key + " are kept until " + row->from +
                                "; give --early where another rule asks for erasing before that",
                            {},
                            {}});
    const auto erased = file.eraseTrainee(key);
    if (!erased) return reportError(erased.error());
    std::printf("erased; attempts that stay under %s: %d, texts taken out: %d\n", erased->anonymous.c_str(),
                erased->attempts, erased->texts);
    for (const std::string& copy : erased->copies) std::printf("removed: %s\n", copy.c_str());
    if (!erased->unreached.empty())
        std::printf("copies there still hold the person until the place is reached again: %s\n",
                    erased->unreached.c_str());
    return kDone;
}

}  // namespace

int eraseCommand(const Words& words) {
    const Arguments arguments(words, {"--yes", "--early"}, withSignIn({"--trainee"}));
    if (!arguments.problem().empty()) return wrongUsage("erase", arguments.problem(), kHelp);
    if (arguments.has("--help")) return printHelp(kHelp, kSignInHelp);
    if (arguments.rest().size() != 1) return wrongUsage("erase", "name the program file", kHelp);
    const bool one = arguments.value("--trainee").has_value();
    if (arguments.value("--trainee") == "") return wrongUsage("erase", "--trainee needs a value", kHelp);
    if (!one && (arguments.has("--yes") || arguments.has("--early")))
        return wrongUsage("erase", "--yes and --early go with --trainee KEY only", kHelp);
    if (one && !arguments.has("--yes"))
        return wrongUsage("erase", "nothing was erased: give --yes, as there is no way back", kHelp);
    auto file = openProgram(arguments.rest().front(), one ? db::OpenMode::ReadWrite : db::OpenMode::ReadOnly,
                            signInOf(arguments), core::Deed::Erase);
    if (!file) return reportError(file.error());
    const auto rows = keepRowsOf(**file, nowIso().substr(0, 10));
    if (!rows) return reportError(rows.error());
    if (one) return erasePerson(**file, arguments, *rows);
    for (const core::KeepRow& row : *rows) print(row);
    return kDone;
}

}  // namespace markerlamp::app
