// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/exports/sheet_batch.h"

#include "app/readiness/sheet_readiness.h"
#include "app/support/trainee_history.h"
#include "core/base/new_folder.h"
#include "core/base/text.h"
#include "core/people/keeping.h"
#include "db/exchange/names.h"
#include "forms/sheets/pdf_book.h"

#include <QCoreApplication>
#include <QDateTime>

#include <algorithm>
#include <memory>
#include <set>
#include <utility>

namespace markerlamp::app {

namespace {

using core::ErrorKind;
using core::fail;
using core::Result;

/// Of the whole, where readiness is asked for: reading and scoring all attempts.
constexpr double kReading = 0.3;

/// Where the sheets go: one file, or a folder of files.
class Outlet {
public:
    static Result<Outlet> begin(const SheetBatch& batch) {
        Outlet outlet;
        if (batch.oneFile) {
            auto book = forms::PdfBook::begin(batch.out, batch.paper,
                                              QCoreApplication::translate("SheetBatch", "Progress sheets"));
            if (!book) return fail(book.error());
            outlet.m_book = std::move(*book);
            outlet.m_twoSided = batch.twoSided;
            return outlet;
        }
        auto folder = core::NewFolder::begin(batch.out);
        if (!folder) return fail(folder.error());
        outlet.m_folder = std::make_unique<core::NewFolder>(std::move(*folder));
        return outlet;
    }
    Result<void> add(const std::string& trainee, const forms::Sheet& sheet) {
        if (m_book && m_twoSided)
            if (auto begun = m_book->beginLeaf(); !begun) return begun;
        if (m_book) return m_book->add(sheet);
        return forms::writePdf(sheet, m_folder->path() / nameFor(trainee));
    }
    Result<void> publish() { return m_book ? m_book->publish() : m_folder->publish(); }

private:
    /// Keys that differ in case only are one name on some media.
    std::string nameFor(const std::string& trainee) {
        const std::string stem = "progress-sheet-" + db::fileNameOf(trainee);
        for (int count = 1;; ++count) {
            std::string name = count == 1 ? stem : stem + "~" + std::to_string(count);
            std::string folded = name;
            for (char& c : folded)
                if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
            if (m_names.insert(std::move(folded)).second) return name + ".pdf";
        }
    }

    std::unique_ptr<forms::PdfBook> m_book;
    bool m_twoSided = false;
    std::unique_ptr<core::NewFolder> m_folder;
    std::set<std::string> m_names;
};

/// Id of the newest finished attempt; empty: there is none.
Result<std::string> newestFinished(db::ProgramFile& file, const std::string& trainee) {
    const auto infos = file.attempts(trainee);
    if (!infos) return fail(infos.error());
    const auto newest = std::ranges::find_if(*infos, [](const db::AttemptInfo& info) {
        return info.state == db::AttemptState::Ended && info.of.empty();
    });
    return newest == infos->end() ? std::string() : newest->id;
}

Result<forms::Sheet> sheetOf(db::ProgramFile& file, const ScorerSource& scorers, ProgramReadiness* readiness,
                             const SheetBatch& batch, const std::string& trainee) {
    auto input = progressSheetInput(file, scorers, trainee);
    if (!input) return fail(input.error());
    if (readiness != nullptr) {
        auto extras = sheetExtras(*readiness, file, trainee, batch.readiness, batch.minutes, batch.now);
        if (!extras) return fail(extras.error());
        input->readiness = std::move(extras->readiness);
        input->drill = std::move(extras->drill);
    }
    input->version = QStringLiteral(MARKERLAMP_VERSION);
    input->printed = QDateTime::currentDateTime();
    input->paper = batch.paper;
    return forms::progressSheet(*input);
}

}  // namespace

Result<SheetsWritten> writeSheets(db::ProgramFile& file, const SheetBatch& batch,
                                  const ExportProgress& progress) {
    const auto go = [&progress](double share) { return !progress || progress(share); };
    auto outlet = Outlet::begin(batch);
    if (!outlet) return fail(outlet.error());
    const ScorerSource scorers = scorersOf(file);
    std::unique_ptr<ProgramReadiness> readiness;
    const double reading = batch.readiness || batch.minutes ? kReading : 0;
    if (reading > 0) {
        auto read = ProgramReadiness::read(file, [&](double share) { return go(reading * share); });
        if (!read) return fail(read.error());
        readiness = std::move(*read);
    }
    SheetsWritten written;
    for (std::size_t i = 0; i < batch.trainees.size(); ++i) {
        const double done = static_cast<double>(i) / static_cast<double>(batch.trainees.size());
        if (!go(reading + (1 - reading) * done)) return fail(ErrorKind::Usage, {});
        const std::string& trainee = batch.trainees[i];
        const auto attempt = newestFinished(file, trainee);
        if (!attempt) return fail(attempt.error());
        if (attempt->empty()) {
            written.without.push_back(trainee);
            continue;
        }
        const auto sheet = sheetOf(file, scorers, readiness.get(), batch, trainee);
        if (!sheet) return fail(sheet.error());
        if (auto added = outlet->add(trainee, *sheet); !added) return fail(added.error());
        ++written.sheets;
        written.attempts.push_back(*attempt);
        written.pages += sheet->pages();
    }
    if (written.sheets == 0)
        return fail(ErrorKind::NotFound, "nobody of them has a finished attempt yet, so there is no sheet");
    if (!go(1)) return fail(ErrorKind::Usage, {});
    if (auto published = outlet->publish(); !published) return fail(published.error());
    return written;
}

Result<std::vector<std::string>> traineesOfGroup(db::ProgramFile& file,
                                                 const std::optional<std::string>& group) {
    auto trainees = file.trainees();
    if (!trainees) return fail(trainees.error());
    std::erase_if(*trainees, core::isErased);
    std::ranges::stable_sort(*trainees, {}, [](const core::Trainee& one) { return one.name; });
    std::vector<std::string> keys, groups;
    for (const core::Trainee& one : *trainees) {
        if (!group || one.group == *group) keys.push_back(one.key);
        if (!one.group.empty() && std::ranges::find(groups, one.group) == groups.end())
            groups.push_back(one.group);
    }
    if (!keys.empty()) return keys;
    if (!group) return fail(ErrorKind::NotFound, "the program file has no trainees yet");
    std::ranges::sort(groups);
    return fail(ErrorKind::NotFound,
                "nobody is in a group \"" + *group + "\"; " +
                    (groups.empty() ? "the program file has no groups"
                                    : "the groups on file are " + core::listedAtMost(groups, 40)));
}

}  // namespace markerlamp::app
