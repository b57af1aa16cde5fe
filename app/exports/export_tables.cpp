// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/exports/export_tables.h"

#include "app/exports/xlsx_book.h"
#include "core/base/files.h"
#include "core/export/csv_folder.h"
#include "core/export/study_folder.h"

#include <system_error>
#include <utility>

namespace markerlamp::app {

namespace {

namespace fs = std::filesystem;
using core::ErrorKind;
using core::fail;
using core::Result;
using core::TableId;

constexpr std::size_t kMostSaltBytes = 200;

template <class Sink>
TablesWritten countsOf(const Sink& sink) {
    TablesWritten counts;
    counts.trainees = sink.rows(TableId::Roster);
    counts.attempts = sink.rows(TableId::Attempts);
    counts.steps = sink.rows(TableId::Steps);
    counts.zones = sink.rows(TableId::WeakZones);
    return counts;
}

struct Salt {
    core::StudySalt salt{};
    bool made = false;
};

Result<Salt> saltFor(const std::optional<fs::path>& file, const fs::path& dir) {
    if (!file) return Salt{core::freshSalt(), false};
    fs::path folder = fs::absolute(dir).lexically_normal();
    if (!folder.has_filename()) folder = folder.parent_path();
    if (fs::absolute(*file).lexically_normal().parent_path() == folder)
        return fail(ErrorKind::Refused, "the salt file " + file->string() +
                                            " would travel with the study; keep it somewhere else");
    std::error_code ec;
    if (!fs::exists(fs::symlink_status(*file, ec))) {
        if (auto there = core::folderIsThere(*file); !there) return fail(there.error());
        return Salt{core::freshSalt(), true};
    }
    const auto text = core::readDocument(*file, kMostSaltBytes);
    if (!text) return fail(text.error());
    const auto salt = core::readSalt(*text, file->string());
    if (!salt) return fail(salt.error());
    return Salt{*salt, false};
}

}  // namespace

Result<TablesWritten> exportSpreadsheet(db::ProgramFile& file, const fs::path& path,
                                        const ExportMoment& moment, const ExportProgress& progress) {
    std::error_code ec;  // set, and no match, when there is no such file yet
    if (fs::equivalent(path, file.path(), ec))
        return fail(ErrorKind::Refused, path.string() + " is the program file itself; choose another name");
    const auto title = file.fact("program.title");
    if (!title) return fail(title.error());
    const auto book = XlsxBook::begin(path, title->value_or(std::string()), moment.today);
    if (!book) return fail(book.error());
    if (auto done = writeTables(file, {moment.now, moment.today, {}}, **book, progress); !done)
        return fail(done.error());
    TablesWritten counts = countsOf(**book);
    counts.stepSheets = (*book)->sheets(TableId::Steps);
    counts.cut = (*book)->cut();
    if (auto done = (*book)->publish(); !done) return fail(done.error());
    return counts;
}

Result<TablesWritten> exportCsv(db::ProgramFile& file, const fs::path& dir, const ExportMoment& moment,
                                const ExportProgress& progress) {
    const auto& tables = core::exportTables();
    auto folder = core::CsvFolder::begin(dir, {tables.begin(), tables.end()});
    if (!folder) return fail(folder.error());
    if (auto done = writeTables(file, {moment.now, moment.today, {}}, *folder, progress); !done)
        return fail(done.error());
    if (auto done = folder->publish(); !done) return fail(done.error());
    return countsOf(*folder);
}

Result<TablesWritten> exportStudy(db::ProgramFile& file, const fs::path& dir,
                                  const std::optional<fs::path>& saltFile, const ExportMoment& moment,
                                  const ExportProgress& progress) {
    const auto salt = saltFor(saltFile, dir);
    if (!salt) return fail(salt.error());
    auto folder = core::StudyFolder::begin(dir, salt->salt);
    if (!folder) return fail(folder.error());
    const core::StudyKeys keys(salt->salt);
    const TablesRequest request{moment.now, moment.today, [&keys](const std::string& key) {
                                    return keys.of(core::KeyKind::Trainee, key);
                                }};
    if (auto done = writeTables(file, request, *folder, progress); !done) return fail(done.error());
    // The salt first: a study that says it was kept, and was not, could never be joined.
    if (salt->made)
        if (auto kept = core::writeWhole(*saltFile, core::toText(salt->salt)); !kept)
            return fail(kept.error());
    if (auto done = folder->publish(saltFile.has_value()); !done) {
        std::error_code ignored;
        if (salt->made) fs::remove(*saltFile, ignored);
        return fail(done.error());
    }
    TablesWritten counts = countsOf(*folder);
    counts.saltMade = salt->made;
    return counts;
}

}  // namespace markerlamp::app
