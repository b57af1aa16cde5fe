// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// `markerlamp export`: documents that can be imported again, and tables for spreadsheets and studies.

#include "app/cli/arguments.h"
#include "app/cli/command_line.h"
#include "app/cli/opened_program.h"
#include "app/cli/passphrase.h"
#include "app/cli/progress_line.h"
#include "app/cli/readiness_request.h"
#include "app/exports/export_tables.h"
#include "app/support/display.h"
#include "core/base/files.h"
#include "core/people/outcomes.h"
#include "db/exchange/exchange.h"
#include "db/package/package.h"
#include "db/program_file.h"

#include <cstdio>
#include <optional>

namespace markerlamp::app {

namespace {

using core::Result;

constexpr const char* kHelp =
    "Usage: markerlamp export FILE --to DIR\n"
    "       markerlamp export FILE --xlsx F.xlsx\n"
    "       markerlamp export FILE --csv DIR\n"
    "       markerlamp export FILE --study DIR [--salt-file S]\n"
    "       markerlamp export FILE --outcomes F.csv\n"
    "       markerlamp export FILE --package F.mlpack [--passphrase-file P]\n\n"
    "--to writes a program file as documents and tables: rubrics/, limits/, attempts/, people.csv,\n"
    "instructors.csv, buses.csv, program.csv, and where there are any forecasts.jsonl, overrides.jsonl,\n"
    "tests.jsonl, strikes.jsonl, hours.jsonl, bookings.jsonl, absences.jsonl, settlements.jsonl,\n"
    "sheets.jsonl, licences.csv, training.csv. Imported into a new file they give the same again, byte for "
    "byte.\n\n"
    "The others write four tables to look into, not to import: roster, attempts, steps and weak zones.\n"
    "Readiness is that of now.\n\n"
    "  --xlsx F.xlsx  one spreadsheet with a sheet each; numbers are numbers, dates dates. A sheet has\n"
    "                 1,048,576 rows: more steps go on in further sheets, and --csv is better for them\n"
    "  --csv DIR      roster.csv, attempts.csv, steps.csv, weak-zones.csv: UTF-8, RFC 4180. A text that\n"
    "                 begins with = + - @, a tab or a line end gets an apostrophe before it, so that no\n"
    "                 spreadsheet takes it for a formula\n"
    "  --study DIR    the same without names: keyed keys, moved dates, free text left out. README.txt and\n"
    "                 dictionary.json say what is in it. People can still be recognized; read README.txt\n"
    "                 before you pass it on\n"
    "  --salt-file S  take the salt of the keys from S, or make S, so that later exports have the same\n"
    "                 keys; without it the salt is thrown away. Whoever has S can find people\n"
    "  --outcomes F.csv  official test results as import takes them: trainee,date,segment,result,note;\n"
    "                 without those that were struck\n"
    "  --package F.mlpack  the documents of --to in one file that only its passphrase opens, for another\n"
    "                 workstation: import takes it. Tell the passphrase on another way than the file.\n"
    "                 A passphrase that is lost cannot be found again\n"
    "  --passphrase-file P  take the passphrase from the first line of P; without it, it is asked for\n"
    "  --help         this text\n\n"
    "DIR and F.mlpack must not exist; DIR may be there and empty. Everything appears whole or not at all. "
    "But for --study it holds names\n"
    "and marks of people: keep it as you keep their records.\n\n"
    "Exit codes: 0 written, 1 refused, 2 wrong usage, 3 the machine failed.\n";

constexpr const char* kWays[] = {"--to", "--xlsx", "--csv", "--study", "--outcomes", "--package"};

/// What is wrong with the way the options go together; empty when nothing is.
std::string problemOf(const Arguments& arguments) {
    if (!arguments.problem().empty()) return arguments.problem();
    int ways = 0;
    for (const char* way : kWays) {
        if (arguments.value(way) == "") return std::string(way) + " needs a value";
        ways += arguments.value(way).has_value() ? 1 : 0;
    }
    if (arguments.rest().size() != 1 || ways == 0)
        return "name the program file and one of --to DIR, --xlsx F.xlsx, --csv DIR, --study DIR, "
               "--outcomes F.csv, --package F.mlpack";
    if (ways > 1)
        return "--to, --xlsx, --csv, --study, --outcomes and --package write one thing each; give one of "
               "them";
    if (arguments.value("--salt-file") == "") return "--salt-file needs a value";
    if (arguments.value("--salt-file") && !arguments.value("--study"))
        return "--salt-file goes with --study only";
    if (arguments.value(kPassphraseOption) == "") return std::string(kPassphraseOption) + " needs a value";
    if (arguments.value(kPassphraseOption) && !arguments.value("--package"))
        return std::string(kPassphraseOption) + " goes with --package only";
    return {};
}

int exportDocuments(db::ProgramFile& file, const std::string& dir) {
    const auto count = db::exportTo(file, dir);
    if (!count) return reportError(count.error());
    std::printf("%s: %d documents written\n", dir.c_str(), *count);
    return kDone;
}

int exportOutcomes(db::ProgramFile& file, const std::string& path) {
    const auto results = file.testResults();
    if (!results) return reportError(results.error());
    if (auto done = core::replaceFile(path, core::writeOutcomesCsv(*results)); !done)
        return reportError(done.error());
    std::printf("%s: rows: %zu\n", path.c_str(), results->size());
    return kDone;
}

int exportPackage(db::ProgramFile& file, const Arguments& arguments) {
    const std::string path = *arguments.value("--package");
    const auto passphrase = passphraseFor(arguments, true);
    if (!passphrase) return reportError(passphrase.error());
    ProgressLine progress("export");
    progress.phase("sealing");
    const auto count = db::writePackage(file, path, *passphrase, {}, progress.taker());
    if (!count) return reportError(count.error());
    std::printf("%s: %d documents sealed\n", path.c_str(), *count);
    return kDone;
}

Result<TablesWritten> exportTables(db::ProgramFile& file, const Arguments& arguments) {
    ProgressLine progress("export");
    progress.phase("reading and writing");
    const ExportMoment moment{dayNow(), nowIso().substr(0, 10)};
    if (const auto path = arguments.value("--xlsx"))
        return exportSpreadsheet(file, *path, moment, progress.taker());
    if (const auto dir = arguments.value("--csv")) return exportCsv(file, *dir, moment, progress.taker());
    std::optional<std::filesystem::path> salt;
    if (const auto name = arguments.value("--salt-file")) salt = *name;
    return exportStudy(file, *arguments.value("--study"), salt, moment, progress.taker());
}

void tell(const TablesWritten& written, const Arguments& arguments) {
    for (const char* way : kWays)
        if (const auto name = arguments.value(way))
            std::printf("%s: rows: roster %lld, attempts %lld, steps %lld, weak zones %lld\n", name->c_str(),
                        static_cast<long long>(written.trainees), static_cast<long long>(written.attempts),
                        static_cast<long long>(written.steps), static_cast<long long>(written.zones));
    if (written.stepSheets > 1)
        std::printf("The steps fill %d sheets; for so many, --csv is easier to work with.\n",
                    written.stepSheets);
    if (written.cut > 0)
        std::printf("Texts cut to what a cell holds: %lld. --csv has them whole.\n",
                    static_cast<long long>(written.cut));
    if (written.saltMade)
        std::printf("%s: salt made; keep it apart from the study\n", arguments.value("--salt-file")->c_str());
    std::printf(arguments.value("--study")
                    ? "Nobody is named in it, but people can still be recognized: read README.txt first.\n"
                    : "It holds names and marks of people: keep it as you keep their records.\n");
}

}  // namespace

int exportCommand(const Words& words) {
    const Arguments arguments(words, {},
                              withSignIn({"--to", "--xlsx", "--csv", "--study", "--salt-file", "--outcomes",
                                          "--package", kPassphraseOption}));
    if (arguments.problem().empty() && arguments.has("--help")) return printHelp(kHelp, kSignInHelp);
    if (const std::string problem = problemOf(arguments); !problem.empty())
        return wrongUsage("export", problem, kHelp);
    auto file = openProgram(arguments.rest().front(), db::OpenMode::ReadOnly, signInOf(arguments),
                            core::Deed::Exchange);
    if (!file) return reportError(file.error());
    if (const auto dir = arguments.value("--to")) return exportDocuments(**file, *dir);
    if (const auto path = arguments.value("--outcomes")) return exportOutcomes(**file, *path);
    if (arguments.value("--package")) return exportPackage(**file, arguments);
    const auto written = exportTables(**file, arguments);
    if (!written) return reportError(written.error());
    tell(*written, arguments);
    return kDone;
}

}  // namespace markerlamp::app
