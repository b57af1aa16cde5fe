// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// `markerlamp record`: the record of a trainee's training as PDF and table, and what is still missing.

#include "app/cli/arguments.h"
#include "app/cli/command_line.h"
#include "app/cli/opened_program.h"
#include "app/cli/paper_application.h"
#include "app/people/record_source.h"
#include "core/base/files.h"

#include <QDateTime>

#include <cstdio>
#include <filesystem>

namespace markerlamp::app {

namespace {

using core::Result;

constexpr const char* kHelp =
    "Usage: markerlamp record FILE --trainee KEY [--pdf F.pdf] [--csv F.csv] [--paper letter|a4]\n"
    "       markerlamp record FILE --all --csv F.csv\n\n"
    "The record of a trainee's training: what the certification of a training provider holds (49 CFR "
    "380.717),\n"
    "the clock hours behind it, by when the report must go, and what is still missing. Without --pdf and "
    "--csv\n"
    "the check-list alone, without the license number.\n\n"
    "  --trainee KEY  of this trainee\n"
    "  --all          of everybody, as one table\n"
    "  --pdf F.pdf    the printed record; it shows the license number\n"
    "  --csv F.csv    one row for each trainee, with the license number: keep it as you keep their records\n"
    "  --help         this text\n\n"
    "The report to the Training Provider Registry is made elsewhere, by the provider. The official "
    "rules\n"
    "decide what it must hold and by when it goes.\n\n"
    "Exit codes: 0 done (also where something is missing), 1 refused, 2 wrong usage, 3 the machine failed.\n";

std::string problemOf(const Arguments& arguments) {
    if (!arguments.problem().empty()) return arguments.problem();
    for (const char* option : {"--trainee", "--pdf", "--csv", "--paper"})
        if (arguments.value(option) == "") return std::string(option) + " needs a value";
    if (arguments.rest().size() != 1) return "name the program file";
    if (arguments.has("--all") == arguments.value("--trainee").has_value())
        return "give one of --trainee KEY and --all";
    if (arguments.has("--all") && (arguments.value("--pdf") || !arguments.value("--csv")))
        return "--all goes with --csv F.csv only";
    if (arguments.value("--paper") && !arguments.value("--pdf")) return "--paper goes with --pdf only";
    if (!paperFromWord(arguments.value("--paper").value_or("")))
        return "--paper is letter or a4, not \"" + *arguments.value("--paper") + "\"";
    std::error_code ec;  // set, and no match, when there is no such file yet
    for (const char* option : {"--pdf", "--csv"})
        if (const auto out = arguments.value(option);
            out && std::filesystem::equivalent(arguments.rest().front(), *out, ec))
            return std::string(option) + " names the program file itself";
    return {};
}

Result<std::vector<core::TrainingRecord>> recordsOf(db::ProgramFile& file, const Arguments& arguments) {
    const auto settings = peopleSettingsOf(file);
    if (!settings) return core::fail(settings.error());
    std::vector<core::TrainingRecord> records;
    if (const auto key = arguments.value("--trainee")) {
        const auto person = personOf(file, *key);
        if (!person) return core::fail(person.error());
        records.push_back(core::trainingRecord(*person, *settings));
        return records;
    }
    const auto people = file.personFiles();
    if (!people) return core::fail(people.error());
    for (const core::PersonFile& person : *people)
        if (!core::isErased(person.trainee)) records.push_back(core::trainingRecord(person, *settings));
    return records;
}

void printReport(const core::ReportDue& report) {
    const char* part = report.part == core::ReportDue::Part::Theory ? "theory" : "behind the wheel";
    if (!report.sent.empty())
        std::printf("%s: completed %s, reported %s\n", part, report.completed.c_str(), report.sent.c_str());
    else if (!report.due.empty())
        std::printf("%s: completed %s, the report goes by the end of %s\n", part, report.completed.c_str(),
                    report.due.c_str());
    else
        std::printf("%s: not completed\n", part);
}

void printChecks(const core::TrainingRecord& record) {
    std::printf("%s: %s hours behind the wheel\n", record.person.trainee.key.c_str(),
                core::decimalHours(record.hours.behindTheWheel()).c_str());
    for (const core::ReportDue& report : record.reports) printReport(report);
    for (const core::RecordItem item : record.missing())
        std::printf("missing: %s\n", std::string(core::toWord(item)).c_str());
    if (record.missing().empty()) std::printf("nothing is missing\n");
    std::printf("The report itself is made elsewhere; the official rules decide.\n");
}

Result<void> writePdf(db::ProgramFile& file, const Arguments& arguments) {
    const PaperApplication application;
    if (auto ready = application.ready(); !ready) return ready;
    auto input = trainingRecordInput(file, *arguments.value("--trainee"));
    if (!input) return core::fail(input.error());
    input->version = QStringLiteral(MARKERLAMP_VERSION);
    input->printed = QDateTime::currentDateTime();
    input->paper = *paperFromWord(arguments.value("--paper").value_or(""));
    const forms::Sheet sheet = forms::trainingRecordSheet(*input);
    if (auto done = forms::writePdf(sheet, *arguments.value("--pdf")); !done) return done;
    std::printf("%s: pages: %d\n", arguments.value("--pdf")->c_str(), sheet.pages());
    return {};
}

}  // namespace

int recordCommand(const Words& words) {
    const Arguments arguments(words, {"--all"}, withSignIn({"--trainee", "--pdf", "--csv", "--paper"}));
    if (arguments.problem().empty() && arguments.has("--help")) return printHelp(kHelp, kSignInHelp);
    if (const std::string problem = problemOf(arguments); !problem.empty())
        return wrongUsage("record", problem, kHelp);
    // One record is what the window shows to everybody who trains; a table of them leaves the program.
    const auto deed = arguments.value("--csv") ? std::optional(core::Deed::Exchange) : std::nullopt;
    auto file = openProgram(arguments.rest().front(), db::OpenMode::ReadOnly, signInOf(arguments), deed);
    if (!file) return reportError(file.error());
    const auto records = recordsOf(**file, arguments);
    if (!records) return reportError(records.error());
    if (arguments.value("--pdf"))
        if (auto done = writePdf(**file, arguments); !done) return reportError(done.error());
    if (const auto csv = arguments.value("--csv")) {
        if (auto done = core::replaceFile(*csv, core::writeTrainingRecordsCsv(*records)); !done)
            return reportError(done.error());
        std::printf("%s: rows: %zu\n", csv->c_str(), records->size());
    }
    if (!arguments.has("--all")) printChecks(records->front());
    return kDone;
}

}  // namespace markerlamp::app
