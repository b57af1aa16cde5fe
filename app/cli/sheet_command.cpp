// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// `markerlamp sheet`: printed documents as PDF, without a display.

#include "app/cli/arguments.h"
#include "app/cli/command_line.h"
#include "app/cli/opened_program.h"
#include "app/cli/paper_application.h"
#include "app/cli/progress_line.h"
#include "app/exports/sheet_batch.h"
#include "app/readiness/sheet_readiness.h"
#include "app/support/display.h"
#include "app/support/trainee_history.h"
#include "core/base/files.h"
#include "core/base/text.h"
#include "core/rubric/rubric_reader.h"
#include "forms/sheets/sheets.h"

#include <QDateTime>

#include <algorithm>
#include <array>
#include <cstdio>
#include <filesystem>
#include <optional>
#include <sstream>
#include <string>
#include <system_error>
#include <utility>
#include <vector>

namespace markerlamp::app {

namespace {

using core::ErrorKind;
using core::fail;
using core::Result;

constexpr const char* kHelp =
    "Usage: markerlamp sheet FILE --trainee KEY [--attempt ID] [--readiness] [--drill MINUTES] --out F.pdf\n"
    "       markerlamp sheet FILE --group NAME|--all [--readiness] [--drill MINUTES] --out F.pdf|--to DIR\n"
    "                       [--two-sided]\n"
    "       markerlamp sheet --blank RUBRIC [--equipment TAGS] --out F.pdf\n"
    "       markerlamp sheet --study RUBRIC [--zone ID] --out F.pdf\n\n"
    "Writes a printed document, black and white, as PDF. FILE is a program file (*.markerlamp), RUBRIC a\n"
    "rubric document (*.rubric.yaml). Print at 100 percent.\n\n"
    "  --trainee KEY     progress sheet of this trainee\n"
    "  --group NAME      progress sheets of everybody in this group, by name; who has no finished attempt "
    "is\n"
    "                    named and has none\n"
    "  --all             of all trainees\n"
    "  --to DIR          for --group and --all: a PDF for each trainee in a new folder, instead of one PDF\n"
    "  --two-sided       with one PDF for many: each sheet begins on a leaf of its own\n"
    "  --attempt ID      of this attempt; without it, of the newest finished one\n"
    "  --readiness       with where readiness stands now, in words with the reasons\n"
    "  --drill MINUTES   with the next drill for the minutes that are left (5 to 180)\n"
    "  --blank RUBRIC    blank score sheet, for days without power\n"
    "  --equipment TAGS  only the steps of a bus with these tags (\"air-brakes wheelchair-lift\");\n"
    "                    without it every step, marked with what it needs\n"
    "  --study RUBRIC    what to show and what to say\n"
    "  --zone ID         of one zone; without it, of all of them\n"
    "  --out F.pdf       the file to write; nothing is written when anything is refused\n"
    "  --paper SIZE      letter (default) or a4\n"
    "  --help            this text\n\n"
    "Exit codes: 0 done, 1 refused, 2 wrong usage, 3 the machine failed.\n\n"
    "Training record: the official test, the state's manual, the maker's limits and the program's safety\n"
    "rules decide.\n";

/// Options by their bare names.
class Request {
public:
    explicit Request(const Words& words)
        : m_arguments(words, {"--readiness", "--all", "--two-sided"},
                      withSignIn({"--trainee", "--group", "--to", "--attempt", "--drill", "--blank",
                                  "--equipment", "--study", "--zone", "--out", "--paper"})) {}

    [[nodiscard]] bool help() const { return m_arguments.has("--help"); }
    [[nodiscard]] bool readiness() const { return m_arguments.has("--readiness"); }
    [[nodiscard]] bool all() const { return m_arguments.has("--all"); }
    [[nodiscard]] bool twoSided() const { return m_arguments.has("--two-sided"); }
    /// Sheets of many trainees.
    [[nodiscard]] bool many() const { return all() || has("group"); }
    /// Only while problem() is empty.
    [[nodiscard]] std::optional<double> minutes() const {
        if (!has("drill")) return std::nullopt;
        return *drillMinutes(of("drill"));
    }
    [[nodiscard]] SignIn signIn() const { return signInOf(m_arguments); }
    [[nodiscard]] std::string file() const {
        return m_arguments.rest().empty() ? std::string() : m_arguments.rest().front();
    }
    [[nodiscard]] bool has(const std::string& option) const {
        return m_arguments.value("--" + option).has_value();
    }
    [[nodiscard]] std::string of(const std::string& option) const {
        return m_arguments.value("--" + option).value_or("");
    }
    /// nothing: --paper names none
    [[nodiscard]] std::optional<forms::Paper> paper() const { return paperFromWord(of("paper")); }
    /// What is wrong with the way the options go together; empty when nothing is.
    [[nodiscard]] std::string problem() const;

private:
    Arguments m_arguments;
};

std::string Request::problem() const {
    if (!m_arguments.problem().empty()) return m_arguments.problem();
    for (const char* option : {"trainee", "group", "to", "attempt", "drill", "blank", "equipment", "study",
                               "zone", "out", "paper"})
        if (has(option) && of(option).empty()) return std::string("--") + option + " needs a value";
    const int kinds =
        int(has("trainee")) + int(has("blank")) + int(has("study")) + int(has("group")) + int(all());
    if (kinds == 0)
        return "say which sheet: --trainee KEY, --group NAME, --all, --blank RUBRIC or --study RUBRIC";
    if (kinds > 1)
        return "--trainee, --group, --all, --blank and --study make sheets of one kind each; give one of "
               "them";
    const bool progress = has("trainee") || many();
    if (progress && file().empty())
        return std::string("name the program file (*.markerlamp) of the trainee") + (many() ? "s" : "");
    if (m_arguments.rest().size() > (progress ? 1U : 0U))
        return m_arguments.rest().back() + " is one word too many";
    const std::array<std::pair<std::string, std::string>, 3> belongs{
        {{"attempt", "trainee"}, {"equipment", "blank"}, {"zone", "study"}}};
    for (const auto& [option, to] : belongs)
        if (has(option) && !has(to)) return "--" + option + " goes with --" + to + " only";
    if (!progress && (readiness() || has("drill")))
        return std::string(readiness() ? "--readiness" : "--drill") +
               " goes with --trainee, --group or --all only";
    if (has("to") && !many()) return "--to goes with --group or --all only";
    if (twoSided() && (!many() || has("to"))) return "--two-sided goes with --group or --all and --out only";
    if (has("drill"))
        if (const auto minutes = drillMinutes(of("drill")); !minutes) return minutes.error().message;
    if (has("to") && has("out")) return "--out makes one PDF and --to a folder of them; give one of them";
    if (!has("out") && !has("to"))
        return many() ? "--out F.pdf or --to DIR is missing" : "--out F.pdf is missing";
    if (!paper()) return "--paper is letter or a4, not \"" + of("paper") + "\"";
    // Writing the PDF over a file that it was made from would lose that file.
    std::error_code ec;  // set, and no match, when there is no such file yet
    for (const std::string& input : {file(), of("blank"), of("study")})
        if (!input.empty() && std::filesystem::equivalent(input, of("out"), ec))
            return "--out names the same file as the input, " + input;
    return {};
}

Result<std::vector<std::string>> equipmentOf(const core::Rubric& rubric, const std::string& tags) {
    std::vector<std::string> equipment;
    std::istringstream words(tags);
    for (std::string word; words >> word;) {
        const bool known = std::any_of(rubric.equipment.begin(), rubric.equipment.end(),
                                       [&](const auto& item) { return item.first == word; });
        if (!known) {
            std::string tagsKnown;
            for (const auto& [id, title] : rubric.equipment)
                tagsKnown += (tagsKnown.empty() ? "" : ", ") + id;
            return fail(ErrorKind::NotFound,
                        "the rubric knows no equipment \"" + word + "\"; it knows " + tagsKnown);
        }
        equipment.push_back(word);
    }
    return equipment;
}

Result<void> zoneExists(const core::Rubric& rubric, const std::string& zone) {
    if (zone.empty() || rubric.zone(zone)) return {};
    std::string known;
    for (const core::Zone& one : rubric.zones) known += (known.empty() ? "" : ", ") + one.id;
    return fail(ErrorKind::NotFound, "the rubric has no zone \"" + zone + "\"; its zones are " + known);
}

Result<forms::Sheet> make(const Request& request) {
    const forms::Paper paper = request.paper().value_or(forms::Paper::Letter);
    const QString version = QStringLiteral(MARKERLAMP_VERSION);
    const QDateTime printed = QDateTime::currentDateTime();
    if (request.has("trainee")) {
        auto file = openProgram(request.file(), db::OpenMode::ReadOnly, request.signIn());
        if (!file) return fail(file.error());
        auto input =
            progressSheetInput(**file, scorersOf(**file), request.of("trainee"), request.of("attempt"));
        if (!input) return fail(input.error());
        auto extras = sheetExtras(**file, request.of("trainee"), request.readiness(), request.minutes(),
                                  core::dayOf(nowIso()).value_or(0));
        if (!extras) return fail(extras.error());
        input->readiness = std::move(extras->readiness);
        input->drill = std::move(extras->drill);
        input->version = version;
        input->printed = printed;
        input->paper = paper;
        return forms::progressSheet(*input);
    }
    const bool blank = request.has("blank");
    const std::string name = request.of(blank ? "blank" : "study");
    const auto text = core::readDocument(name, core::kMaxRubricBytes);
    if (!text) return fail(text.error());
    auto rubric = core::readRubric(*text, name);
    if (!rubric) return fail(rubric.error());
    if (blank) {
        auto equipment = equipmentOf(*rubric, request.of("equipment"));
        if (!equipment) return fail(equipment.error());
        return forms::blankSheet(*rubric, *equipment, paper, version, printed);
    }
    const std::string zone = request.of("zone");
    if (auto known = zoneExists(*rubric, zone); !known) return fail(known.error());
    return forms::studySheet(*rubric, zone, {}, paper, version, printed);
}

int writeMany(const Request& request) {
    auto file = openProgram(request.file(), db::OpenMode::ReadOnly, request.signIn());
    if (!file) return reportError(file.error());
    const auto group = request.all() ? std::nullopt : std::optional(request.of("group"));
    auto trainees = traineesOfGroup(**file, group);
    if (!trainees) return reportError(trainees.error());
    SheetBatch batch;
    batch.trainees = std::move(*trainees);
    batch.readiness = request.readiness();
    batch.minutes = request.minutes();
    batch.now = core::dayOf(nowIso()).value_or(0);
    batch.paper = request.paper().value_or(forms::Paper::Letter);
    batch.oneFile = !request.has("to");
    batch.twoSided = request.twoSided();
    batch.out = request.of(batch.oneFile ? "out" : "to");
    ProgressLine progress("sheet");
    progress.phase("drawing");
    const auto written = writeSheets(**file, batch, progress.taker());
    if (!written) return reportError(written.error());
    std::printf("%s: sheets: %d, pages: %d\n", batch.out.c_str(), written->sheets, written->pages);
    if (!written->without.empty())
        std::printf("no finished attempt yet: %s\n", core::listed(written->without).c_str());
    return kDone;
}

}  // namespace

int sheetCommand(const Words& arguments) {
    const Request request(arguments);
    if (request.help()) return printHelp(kHelp, kSignInHelp);
    if (const std::string problem = request.problem(); !problem.empty())
        return wrongUsage("sheet", problem, kHelp);

    const PaperApplication application;
    if (auto ready = application.ready(); !ready) return reportError(ready.error());

    if (request.many()) return writeMany(request);
    const Result<forms::Sheet> sheet = make(request);
    if (!sheet) return reportError(sheet.error());
    if (auto written = forms::writePdf(*sheet, request.of("out")); !written)
        return reportError(written.error());
    std::printf("%s: pages: %d\n", request.of("out").c_str(), sheet->pages());
    return kDone;
}

}  // namespace markerlamp::app
