// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/exports/export_job.h"

#include "app/exports/sheet_batch.h"
#include "app/readiness/readiness_source.h"
#include "app/support/display.h"
#include "app/support/folders.h"
#include "db/exchange/exchange.h"
#include "db/package/package.h"

#include <QDir>
#include <QFileInfo>
#include <QLocale>
#include <QPromise>
#include <QtConcurrentRun>

#include <cmath>

namespace markerlamp::app {

namespace {

using core::fail;
using core::Result;

constexpr int kWhole = 1000;  ///< permille

QString shown(const ExportPlan& plan) {
    return QDir::toNativeSeparators(plan.out);
}

QString count(std::int64_t number) {
    return QLocale().toString(static_cast<qlonglong>(number));
}

Result<TablesWritten> writeTablesOf(db::ProgramFile& file, const ExportPlan& plan,
                                    const ExportProgress& progress) {
    switch (plan.what) {
        case ExportWhat::Spreadsheet:
            return exportSpreadsheet(file, fsPath(plan.out), plan.moment, progress);
        case ExportWhat::Tables:
            return exportCsv(file, fsPath(plan.out), plan.moment, progress);
        default: {
            std::optional<std::filesystem::path> salt;
            if (!plan.saltFile.isEmpty()) salt = fsPath(plan.saltFile);
            return exportStudy(file, fsPath(plan.out), salt, plan.moment, progress);
        }
    }
}

Result<ExportOutcome> tables(db::ProgramFile& file, const ExportPlan& plan, const ExportProgress& progress) {
    const auto written = writeTablesOf(file, plan, progress);
    if (!written) return fail(written.error());
    ExportOutcome outcome;
    outcome.said = ExportJob::tr("Written to %1. Rows: trainees %2, attempts %3, steps %4, zones %5.")
                       .arg(shown(plan), count(written->trainees), count(written->attempts),
                            count(written->steps), count(written->zones));
    if (written->stepSheets > 1)
        outcome.remarks << ExportJob::tr(
                               "The steps fill %1 sheets; for so many, tables (CSV) are easier to work with.")
                               .arg(written->stepSheets);
    if (written->cut > 0)
        outcome.remarks << ExportJob::tr("Texts cut to what a cell holds: %1. Tables (CSV) have them whole.")
                               .arg(count(written->cut));
    if (written->saltMade)
        outcome.remarks << ExportJob::tr("The salt is in %1: keep it apart from the study.")
                               .arg(QDir::toNativeSeparators(plan.saltFile));
    if (plan.what == ExportWhat::Study)
        outcome.remarks << ExportJob::tr(
            "People can still be recognized: read README.txt before you pass it on.");
    return outcome;
}

Result<ExportOutcome> sheets(db::ProgramFile& file, const ExportPlan& plan, const ExportProgress& progress) {
    SheetBatch batch;
    auto trainees = traineesOfGroup(file, plan.group ? std::optional(ss(*plan.group)) : std::nullopt);
    if (!trainees) return fail(trainees.error());
    batch.trainees = std::move(*trainees);
    batch.readiness = plan.readiness;
    batch.now = plan.moment.now;
    batch.paper = plan.paper;
    batch.out = fsPath(plan.out);
    batch.oneFile = plan.oneFile;
    batch.twoSided = plan.twoSided;
    const auto written = writeSheets(file, batch, progress);
    if (!written) return fail(written.error());
    ExportOutcome outcome;
    outcome.said = ExportJob::tr("Written to %1. Sheets: %2, pages: %3.")
                       .arg(shown(plan))
                       .arg(written->sheets)
                       .arg(written->pages);
    for (const std::string& attempt : written->attempts) outcome.sheetsOf << qs(attempt);
    if (!written->without.empty()) {
        QStringList keys;
        for (const std::string& key : written->without) keys << qs(key);
        outcome.remarks << ExportJob::tr("No finished attempt yet, and so no sheet: %1.")
                               .arg(keys.join(QLatin1String(", ")));
    }
    return outcome;
}

Result<ExportOutcome> documents(db::ProgramFile& file, const ExportPlan& plan,
                                const ExportProgress& progress) {
    const auto written = db::exportTo(file, fsPath(plan.out), progress);
    if (!written) return fail(written.error());
    ExportOutcome outcome;
    outcome.said = ExportJob::tr("%n document(s) written to %1.", nullptr, *written).arg(shown(plan));
    return outcome;
}

Result<ExportOutcome> package(db::ProgramFile& file, const ExportPlan& plan, const ExportProgress& progress) {
    const auto written = db::writePackage(file, fsPath(plan.out), ss(plan.passphrase), {}, progress);
    if (!written) return fail(written.error());
    ExportOutcome outcome;
    outcome.said = ExportJob::tr("%n document(s) sealed in %1.", nullptr, *written).arg(shown(plan));
    outcome.remarks << ExportJob::tr("Tell the passphrase on another way than the file.");
    return outcome;
}

Result<ExportOutcome> write(const ExportPlan& plan, const ExportProgress& progress) {
    auto file = db::ProgramFile::open(fsPath(plan.program), db::OpenMode::ReadOnly);
    if (!file) return fail(file.error());
    if (plan.what == ExportWhat::Sheets) return sheets(**file, plan, progress);
    if (plan.what == ExportWhat::Documents) return documents(**file, plan, progress);
    if (plan.what == ExportWhat::Package) return package(**file, plan, progress);
    return tables(**file, plan, progress);
}

QString stemOf(ExportWhat what) {
    switch (what) {
        case ExportWhat::Spreadsheet:
            return ExportJob::tr("%1-tables", "file name");
        case ExportWhat::Tables:
            return ExportJob::tr("%1-tables", "file name");
        case ExportWhat::Study:
            return ExportJob::tr("%1-study", "file name");
        case ExportWhat::Sheets:
            return ExportJob::tr("%1-sheets", "file name");
        case ExportWhat::Package:
            return ExportJob::tr("%1-package", "file name");
        default:
            return ExportJob::tr("%1-documents", "file name");
    }
}

}  // namespace

ExportOutcome runExport(const ExportPlan& plan, const ExportProgress& progress) {
    auto outcome = write(plan, progress);
    if (outcome) return std::move(*outcome);
    ExportOutcome failed;
    failed.stopped = wasStopped(outcome.error());
    if (!failed.stopped) failed.error = outcome.error();
    return failed;
}

QString suggestedExport(const ExportPlan& plan, const QString& folder) {
    const QString stem = stemOf(plan.what).arg(QFileInfo(plan.program).completeBaseName());
    const QString ending = plan.what == ExportWhat::Spreadsheet ? QStringLiteral(".xlsx")
                           : plan.what == ExportWhat::Package   ? qs(std::string(db::kPackageEnding))
                           : plan.toFile()                      ? QStringLiteral(".pdf")
                                                                : QString();
    QString path = QDir(folder).filePath(stem + ending);
    for (int n = 2; QFileInfo::exists(path); ++n)
        path = QDir(folder).filePath(stem + QLatin1Char('-') + QString::number(n) + ending);
    return path;
}

ExportJob::ExportJob(QObject* parent) : QObject(parent) {
    connect(&m_watcher, &QFutureWatcherBase::progressValueChanged, this, &ExportJob::progressed);
    connect(&m_watcher, &QFutureWatcherBase::finished, this, &ExportJob::end);
}

ExportJob::~ExportJob() {
    m_watcher.disconnect(this);
    stop();
    m_watcher.waitForFinished();
}

void ExportJob::start(const ExportPlan& plan) {
    m_running = true;
    m_stop = std::make_shared<std::atomic<bool>>(false);
    m_watcher.setFuture(QtConcurrent::run([plan, stop = m_stop](QPromise<ExportOutcome>& promise) {
        promise.setProgressRange(0, kWhole);
        promise.addResult(runExport(plan, [&](double share) {
            promise.setProgressValue(static_cast<int>(std::lround(share * kWhole)));
            return !stop->load();
        }));
    }));
}

void ExportJob::stop() {
    if (m_stop) m_stop->store(true);
}

void ExportJob::end() {
    m_running = false;
    emit finished(m_watcher.result());
}

}  // namespace markerlamp::app
