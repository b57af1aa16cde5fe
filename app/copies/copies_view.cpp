// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/copies/copies_view.h"

#include "app/support/display.h"
#include "app/support/folders.h"
#include "db/program_file.h"

#include <QCoreApplication>
#include <QDir>
#include <QLocale>

namespace markerlamp::app {

namespace {

struct CopyWords {
    Q_DECLARE_TR_FUNCTIONS(Copies)
};

QString placeText(const db::CopyFile& copy) {
    if (copy.name.sealed) return CopyWords::tr("second, sealed");
    return copy.second ? CopyWords::tr("second place") : CopyWords::tr("beside the file");
}

std::optional<CopyLook> lookOf(const std::map<QString, CopyLook>& looks, const QString& path) {
    const auto found = looks.find(path);
    return found == looks.end() ? std::nullopt : std::optional(found->second);
}

}  // namespace

core::Result<db::OpenedCopy> openCopy(const QString& program, const QString& copy) {
    const auto withKeyOf =
        [&program](const std::filesystem::path& sealed) -> core::Result<std::unique_ptr<db::SealReader>> {
        auto file = db::ProgramFile::open(fsPath(program), db::OpenMode::ReadOnly);
        if (!file) return core::fail(file.error());
        const auto key = db::secondSealOf(**file);
        if (!key) return core::fail(key.error());
        if (!*key)
            return core::fail(
                core::ErrorKind::Refused,
                ss(CopyWords::tr("the copy is sealed, and this program does not seal its copies now; "
                                 "restore it with: markerlamp restore")));
        return db::SealReader::open(sealed, **key);
    };
    return db::OpenedCopy::open(fsPath(copy), fsPath(program), withKeyOf);
}

CopyLook lookInto(const QString& program, const QString& copy, const std::function<bool()>& goOn) {
    const auto progress = [&goOn](double) { return !goOn || goOn(); };
    const auto opened = openCopy(program, copy);
    if (!opened) return {copy, core::fail(opened.error()), core::fail(opened.error())};
    return {copy, db::verifyProgram(opened->path(), progress),
            db::differenceOf(fsPath(program), opened->path())};
}

QString whyText(core::CopyReason reason) {
    switch (reason) {
        case core::CopyReason::Start:
            return CopyWords::tr("at the start");
        case core::CopyReason::Day:
            return CopyWords::tr("end of a training day");
        case core::CopyReason::Import:
            return CopyWords::tr("before an import");
        case core::CopyReason::Migration:
            return CopyWords::tr("before it was brought up to date");
        case core::CopyReason::ByHand:
            return CopyWords::tr("by hand");
        case core::CopyReason::Restore:
            return CopyWords::tr("before a copy was restored");
        case core::CopyReason::Erasing:
            return CopyWords::tr("after a person was erased");
        case core::CopyReason::Damaged:
            return CopyWords::tr("damaged file, put aside");
    }
    return {};
}

QString whenText(std::int64_t ms) {
    const QDateTime when = QDateTime::fromMSecsSinceEpoch(ms);
    return CopyWords::tr("%1, %2", "date and time")
        .arg(longDate(when.date()), QLocale().toString(when.time(), QStringLiteral("HH:mm")));
}

QString countsText(const db::CopyDifference::Count& count) {
    QStringList parts;
    if (count.attempts > 0) parts << CopyWords::tr("%n attempt(s)", nullptr, count.attempts);
    if (count.events > 0) parts << CopyWords::tr("%n event(s)", nullptr, count.events);
    if (count.trainees > 0) parts << CopyWords::tr("%n trainee(s)", nullptr, count.trainees);
    if (count.others > 0) parts << CopyWords::tr("%n other record(s)", nullptr, count.others);
    return parts.isEmpty() ? CopyWords::tr("nothing") : parts.join(CopyWords::tr(", ", "between counts"));
}

QString stateText(const db::CopyFile& copy, const std::optional<CopyLook>& look) {
    if (!look) return CopyWords::tr("looking ...");
    if (look->good()) return CopyWords::tr("sound");
    if (copy.name.sealed && !look->report) return CopyWords::tr("does not open");
    return copy.name.reason == core::CopyReason::Damaged ? CopyWords::tr("damaged, as it was put aside")
                                                         : CopyWords::tr("damaged");
}

std::vector<Column> copyColumns() {
    return {{CopyWords::tr("When")},
            {CopyWords::tr("Why")},
            {CopyWords::tr("Where")},
            {CopyWords::tr("Trainees"), true},
            {CopyWords::tr("Attempts"), true},
            {CopyWords::tr("Only in the copy")},
            {CopyWords::tr("Only in the open file")},
            {CopyWords::tr("State")}};
}

std::vector<Row> copyRows(const std::vector<db::CopyFile>& copies, const std::map<QString, CopyLook>& looks) {
    std::vector<Row> rows;
    for (const db::CopyFile& copy : copies) {
        const QString path = pathText(copy.path);
        const auto look = lookOf(looks, path);
        const bool counted = look && look->good();
        const auto number = [&](int value) {
            return counted ? sortedCell(QLocale().toString(value), value) : Cell{};
        };
        const auto only = [&](const db::CopyDifference::Count& count) {
            return count.none() ? mutedCell(countsText(count)) : longCell(countsText(count));
        };
        const bool compared = look && look->good() && look->difference;
        rows.push_back(
            {path,
             {sortedCell(whenText(copy.name.ms), static_cast<qlonglong>(copy.name.ms)),
              longCell(whyText(copy.name.reason)), longCell(placeText(copy)),
              number(counted ? look->report->trainees : 0), number(counted ? look->report->attempts : 0),
              compared ? only(look->difference->onlyInCopy) : Cell{},
              compared ? only(look->difference->onlyInFile) : Cell{},
              look ? boldCell(stateText(copy, look), !look->good()) : mutedCell(stateText(copy, look))}});
    }
    return rows;
}

QString copyLines(const db::CopyFile& copy, const std::optional<CopyLook>& look) {
    QStringList lines{QDir::toNativeSeparators(pathText(copy.path))};
    if (look && !look->report) lines << errorText(look->report.error(), 1);
    if (look && look->report && !look->good()) {
        const auto& problems = look->report->problems;
        for (std::size_t i = 0; i < problems.size() && i < 2; ++i) lines << qs(core::toText(problems[i]));
    }
    if (look && look->good() && !look->difference) lines << errorText(look->difference.error(), 1);
    return lines.join(QLatin1Char('\n'));
}

QString restoreQuestion(const db::CopyFile& copy, const CopyLook& look) {
    QString words = CopyWords::tr(
                        "The copy of %1 takes the place of the open file. The file as it is now is put "
                        "aside among the copies first, so that you can come back to it.")
                        .arg(whenText(copy.name.ms));
    if (look.difference) {
        words += QLatin1String("\n\n") +
                 (look.difference->onlyInFile.none()
                      ? CopyWords::tr("The open file has nothing that the copy has not.")
                      : CopyWords::tr(
                            "The open file has %1 that the copy has not; they will not be in the file any "
                            "more.")
                            .arg(countsText(look.difference->onlyInFile)));
        if (!look.difference->onlyInCopy.none())
            words += QLatin1Char(' ') + CopyWords::tr("The copy has %1 that the open file has not.")
                                            .arg(countsText(look.difference->onlyInCopy));
    }
    return words;
}

QString keptText(const core::Result<db::CopyKept>& kept) {
    if (!kept) return CopyWords::tr("No copy was made: %1").arg(errorText(kept.error(), 0));
    if (kept->second) return CopyWords::tr("Second place: %1").arg(errorText(*kept->second, 0));
    if (kept->made.empty()) return {};
    return CopyWords::tr("Copy made and found sound");
}

}  // namespace markerlamp::app
