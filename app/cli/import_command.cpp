// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/cli/arguments.h"
#include "app/cli/command_line.h"
#include "app/cli/opened_program.h"
#include "app/cli/passphrase.h"
#include "db/copies/copies.h"
#include "db/exchange/exchange.h"
#include "db/package/package.h"
#include "db/program_file.h"

#include <nlohmann/json.hpp>

#include <cstdio>

namespace markerlamp::app {

namespace {

using Outcome = db::ImportReport::Outcome;

constexpr const char* kHelp =
    "Usage: markerlamp import FILE PATH... [--json]\n"
    "       markerlamp import FILE F.mlpack [--passphrase-file P] [--json]\n\n"
    "Takes documents into a program file: *.rubric.yaml, *.limits.yaml, *.attempt.jsonl, people.csv,\n"
    "instructors.csv, buses.csv, licences.csv, training.csv, outcomes.csv, forecasts.jsonl, "
    "overrides.jsonl,\n"
    "tests.jsonl, strikes.jsonl, hours.jsonl, bookings.jsonl, absences.jsonl, settlements.jsonl, "
    "sheets.jsonl,\n"
    "and folders of them, in any order.\n"
    "Each document goes in wholly or not at all.\n"
    "Rubrics, limit sets, attempts and records of readiness never change: what is there already stays as it "
    "is, and\n"
    "another content under the same name is refused. A table updates the entries whose keys it names: a "
    "column that it does not "
    "have keeps\n"
    "the value of the file, an empty cell clears it. So an old table brings old values back; every entry "
    "that was\n"
    "changed is listed with its columns, dates, equipment and limits with the value before and after.\n"
    "Trainees, instructors and buses that an attempt names and the file does not know get an entry that is "
    "to be\n"
    "completed.\n\n"
    "A package (*.mlpack, made by export --package) is checked whole before anything of it is taken.\n\n"
    "  --passphrase-file P  take the passphrase of the package from the first line of P; without it, it is\n"
    "                       asked for\n"
    "  --json   the report as one JSON object on standard output\n"
    "  --help   this text\n\n"
    "outcomes.csv (trainee,date,segment,result[,note]; result is pass or fail) brings official test "
    "results:\n"
    "trainees must be on file, a result that is on file already is passed over.\n\n"
    "First a copy of the program file is kept in FILE.copies, where records changed since the newest one.\n\n"
    "Exit codes: 0 all taken, 1 something was refused (the rest is in the file), 2 wrong usage, 3 the "
    "machine failed.\n";

const char* wordOf(Outcome outcome) {
    switch (outcome) {
        case Outcome::Added:
            return "added";
        case Outcome::AlreadyThere:
            return "already there";
        case Outcome::Changed:
            return "changed";
        case Outcome::Refused:
            return "refused";
    }
    return "";
}

constexpr Outcome kOutcomes[] = {Outcome::Added, Outcome::Changed, Outcome::AlreadyThere, Outcome::Refused};

void printJson(const db::ImportReport& report) {
    nlohmann::ordered_json answer;
    for (const Outcome outcome : kOutcomes) {
        std::string key = wordOf(outcome);
        std::replace(key.begin(), key.end(), ' ', '_');
        answer[key] = report.count(outcome);
    }
    answer["to_complete"] = report.toComplete;
    answer["documents"] = nlohmann::ordered_json::array();
    for (const auto& item : report.items) {
        nlohmann::ordered_json entry{
            {"file", item.file}, {"kind", item.kind}, {"id", item.id}, {"outcome", wordOf(item.outcome)}};
        for (const auto& change : item.changes) {
            nlohmann::ordered_json columns = nlohmann::ordered_json::array();
            for (const core::ColumnChange& column : change.columns) {
                columns.push_back({{"column", column.column}});
                if (column.told) columns.back().update({{"from", column.from}, {"to", column.to}});
            }
            entry["changes"].push_back({{"key", change.key}, {"columns", std::move(columns)}});
        }
        if (item.outcome == Outcome::Refused) {
            entry["message"] = item.error.message;
            entry["problems"] = nlohmann::ordered_json::array();
            for (const core::Problem& p : item.error.problems)
                entry["problems"].push_back({{"line", p.line},
                                             {"path", p.path},
                                             {"id", p.id},
                                             {"message", p.message},
                                             {"remedy", p.remedy}});
        }
        answer["documents"].push_back(std::move(entry));
    }
    std::printf("%s\n",
                answer.dump(-1, ' ', false, nlohmann::ordered_json::error_handler_t::replace).c_str());
}

bool isPackage(const std::filesystem::path& path) {
    return path.filename().string().ends_with(db::kPackageEnding);
}

core::Result<db::ImportReport> takePackage(db::ProgramFile& file, const std::filesystem::path& path,
                                           const Arguments& arguments) {
    const auto passphrase = passphraseFor(arguments, false);
    if (!passphrase) return core::fail(passphrase.error());
    return db::readPackage(file, path, *passphrase);
}

/// As the window does: what is there now can be had back. What is refused anyway leaves no copy.
core::Result<void> copyBefore(const std::string& program, const std::vector<std::filesystem::path>& paths) {
    std::error_code ec;
    for (const auto& path : paths)
        if (!std::filesystem::exists(path, ec)) return {};
    const auto kept = db::keepCopy(program, {core::CopyReason::Import, 0, true});
    if (!kept) return core::fail(kept.error());
    if (kept->second) std::fprintf(stderr, "markerlamp: %s\n", kept->second->message.c_str());
    return {};
}

}  // namespace

int importCommand(const Words& words) {
    const Arguments arguments(words, {"--json"}, withSignIn({kPassphraseOption}));
    if (!arguments.problem().empty()) return wrongUsage("import", arguments.problem(), kHelp);
    if (arguments.has("--help")) return printHelp(kHelp, kSignInHelp);
    if (arguments.rest().size() < 2)
        return wrongUsage("import", "name the program file and at least one document or folder", kHelp);
    const std::vector<std::filesystem::path> paths(arguments.rest().begin() + 1, arguments.rest().end());
    const bool package = std::ranges::any_of(paths, isPackage);
    if (package && paths.size() > 1)
        return wrongUsage("import", "a package comes alone; import it by itself", kHelp);
    if (!package && arguments.value(kPassphraseOption))
        return wrongUsage("import", std::string(kPassphraseOption) + " goes with a package only", kHelp);

    auto file = openProgram(arguments.rest().front(), db::OpenMode::ReadWrite, signInOf(arguments),
                            core::Deed::Exchange);
    if (!file) return reportError(file.error());
    if (const auto kept = copyBefore(arguments.rest().front(), paths); !kept)
        return reportError(kept.error());
    const auto report =
        package ? takePackage(**file, paths.front(), arguments) : db::importPaths(**file, paths);
    if (!report) return reportError(report.error());

    for (const auto& item : report->items) {
        if (item.outcome != Outcome::Refused) continue;
        std::fprintf(stderr, "%s: refused: %s\n", item.file.c_str(), item.error.message.c_str());
        for (const core::Problem& problem : item.error.problems)
            std::fprintf(stderr, "%s\n", core::toText(problem).c_str());
    }
    if (arguments.has("--json")) {
        printJson(*report);
    } else {
        for (const auto& item : report->items)
            for (const auto& change : item.changes)
                std::printf("%s: changed: %s\n", item.file.c_str(), db::toText(change).c_str());
        for (const std::string& entry : report->toComplete)
            std::printf("to be completed: %s\n", entry.c_str());
        std::string counts;
        for (const Outcome outcome : kOutcomes)
            counts +=
                (counts.empty() ? "" : ", ") + std::to_string(report->count(outcome)) + " " + wordOf(outcome);
        std::printf("%zu documents: %s\n", report->items.size(), counts.c_str());
    }
    return report->allAccepted() ? kDone : kRefused;
}

}  // namespace markerlamp::app
