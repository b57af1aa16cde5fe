// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// `markerlamp restore`: a copy in the place of a program file, or what can still be read of a damaged one.

#include "app/cli/arguments.h"
#include "app/cli/command_line.h"
#include "app/cli/opened_program.h"
#include "app/cli/passphrase.h"
#include "core/base/files.h"
#include "core/base/text.h"
#include "core/rubric/rubric_reader.h"
#include "db/copies/restore.h"
#include "db/copies/sealed_copy.h"
#include "db/salvage/salvage.h"

#include <cstdio>

namespace markerlamp::app {

namespace {

constexpr const char* kHelp =
    "Usage: markerlamp restore COPY --to FILE [--passphrase-file P]\n"
    "       markerlamp restore DAMAGED --salvage --to NEWFILE [--rubric DOCUMENT]...\n\n"
    "Puts a copy in the place of a program file. The copy is looked through first: one that is not whole "
    "replaces\n"
    "nothing. The file that is there is put aside in FILE.copies, as a copy if it is whole, byte for byte if "
    "it\n"
    "is damaged, and never lost. Close the program first.\n\n"
    "With --salvage: reads out of a damaged file, table by table and page by page, what can still be read, "
    "and\n"
    "writes it as a new program file. Nothing is guessed: of an attempt with a missing event only the "
    "events\n"
    "before it are taken, and the report says so. The damaged file is not touched.\n\n"
    "  --to FILE          the program file; with --salvage a name that is not there yet\n"
    "  --passphrase-file P  of a sealed copy: take the passphrase from the first line of P; without it, it "
    "is\n"
    "                     asked for\n"
    "  --salvage          read out what can be read\n"
    "  --rubric DOCUMENT  takes the place of a rubric that cannot be read (*.rubric.yaml); copies beside "
    "the\n"
    "                     damaged file are asked as well\n"
    "  --help             this text\n\n"
    "Exit codes: 0 done, with --salvage: everything was read; 1 refused, with --salvage: something is "
    "missing\n"
    "or nothing could be read; 2 wrong usage; 3 the machine failed.\n";

/// Arguments takes each option once; this one may stand several times.
Words takeRubrics(Words& words) {
    Words rubrics;
    for (std::size_t i = 0; i < words.size() && words[i] != "--";) {
        if (words[i].starts_with("--rubric=")) {
            rubrics.push_back(words[i].substr(9));
            words.erase(words.begin() + static_cast<std::ptrdiff_t>(i));
        } else if (words[i] == "--rubric" && i + 1 < words.size()) {
            rubrics.push_back(words[i + 1]);
            words.erase(words.begin() + static_cast<std::ptrdiff_t>(i),
                        words.begin() + static_cast<std::ptrdiff_t>(i) + 2);
        } else {
            ++i;
        }
    }
    return rubrics;
}

void listed(const char* what, const std::vector<std::string>& names) {
    if (names.empty()) return;
    std::printf("%s: %zu\n", what, names.size());
    for (const std::string& name : names) std::printf("  %s\n", name.c_str());
}

int printSalvaged(const std::string& to, const db::SalvageReport& report) {
    std::printf("%s: written\n", to.c_str());
    for (const db::SalvagedTable& table : report.tables)
        if (table.read > 0 || table.pagesLost > 0)
            std::printf("%-18s read %d, taken %d, pages that cannot be read %d\n", table.name.c_str(),
                        table.read, table.written, table.pagesLost);
    std::printf("attempts with all their events: %zu\n", report.complete.size());
    listed("attempts of which later events may be missing", report.cut);
    listed("attempts that cannot be taken, as their rubric is lost; give it with --rubric", report.left);
    if (report.nameless > 0) std::printf("attempts whose header is lost, not taken: %d\n", report.nameless);
    listed("entries that are lost and stand to be completed", report.toComplete);
    listed("rubrics taken from elsewhere", report.rubrics);
    for (const db::SalvagedTable& table : report.tables)
        if (table.known > table.written)
            std::printf("%s: its indexes name %d, so at least %d are missing\n", table.name.c_str(),
                        table.known, table.known - table.written);
    if (report.strays > 0)
        std::printf("pages that nothing leads to any more, not taken: %d\n", report.strays);
    if (report.guessed)
        std::printf("The list of tables is lost; what was found where a new file has them was taken.\n");
    if (report.everything()) return kDone;
    std::fflush(stdout);
    return reportError({core::ErrorKind::Refused,
                        "not everything could be read; compare the new file with the newest good copy before "
                        "you work on with either",
                        {},
                        {}});
}

int salvageFile(const std::string& damaged, const std::string& to, const Words& rubrics) {
    std::vector<std::string> documents;
    for (const std::string& name : rubrics) {
        const auto text = core::readDocument(name, core::kMaxRubricBytes);
        if (!text) return reportError(text.error());
        if (const auto rubric = core::readRubric(*text, name); !rubric) return reportError(rubric.error());
        documents.push_back(*text);
    }
    const auto report = db::salvage(damaged, to, documents);
    return report ? printSalvaged(to, *report) : reportError(report.error());
}

/// A file that cannot be opened any more asks nobody: it is to be rescued.
core::Result<void> mayReplace(const std::string& to, const SignIn& signIn) {
    if (auto belongs = logBelongs(to); !belongs) return belongs;
    const auto there = db::ProgramFile::open(to, db::OpenMode::ReadOnly);
    if (!there && !signIn.name) return {};
    const auto file = openProgram(to, db::OpenMode::ReadOnly, signIn, core::Deed::ManageCopies);
    if (!file) return core::fail(file.error());
    return {};
}

}  // namespace

int restoreCommand(const Words& given) {
    Words words = given;
    const Words rubrics = takeRubrics(words);
    const Arguments arguments(words, {"--salvage"}, withSignIn({"--to", kPassphraseOption}));
    if (!arguments.problem().empty()) return wrongUsage("restore", arguments.problem(), kHelp);
    if (arguments.has("--help")) return printHelp(kHelp, kSignInHelp);
    const std::string to = arguments.value("--to").value_or("");
    if (arguments.rest().size() != 1 || to.empty())
        return wrongUsage("restore", "name one copy, and the program file with --to", kHelp);
    const std::string& copy = arguments.rest().front();
    if (arguments.has("--salvage")) return salvageFile(copy, to, rubrics);
    if (!rubrics.empty()) return wrongUsage("restore", "--rubric goes with --salvage only", kHelp);
    if (const auto may = mayReplace(to, signInOf(arguments)); !may) return reportError(may.error());
    const auto plain = db::OpenedCopy::open(copy, to, askingFor(arguments));
    if (!plain) return reportError(plain.error());
    const auto restored = db::restoreProgram(plain->path(), to);
    if (!restored) return reportError(restored.error());
    if (!restored->aside.empty())
        std::printf("put aside%s: %s\n", restored->asideDamaged ? ", damaged as it was" : "",
                    restored->aside.c_str());
    std::printf("%s: restored; trainees %d, attempts %d, events %lld\n", to.c_str(),
                restored->report.trainees, restored->report.attempts, restored->report.events);
    return kDone;
}

}  // namespace markerlamp::app
