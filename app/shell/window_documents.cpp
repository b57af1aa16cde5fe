// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What the window does with files, sheets and its own dialogs.

#include "app/debrief/debrief_page.h"
#include "app/exports/export_dialog.h"
#include "app/exports/package_dialog.h"
#include "app/help/help_window.h"
#include "app/printing/print_jobs.h"
#include "app/printing/sheet_signing.h"
#include "app/program/program_page.h"
#include "app/readiness/readiness_blocks.h"
#include "app/settings/settings_dialog.h"
#include "app/shell/main_window.h"
#include "app/shell/report_dialogs.h"
#include "app/shell/session.h"
#include "app/support/display.h"
#include "app/support/folders.h"
#include "app/support/names.h"
#include "app/track/result_dialog.h"
#include "app/trainees/trainee_page.h"
#include "app/trainees/trainees_page.h"
#include "core/agreement/attempt_code.h"
#include "core/attempt/attempt_document.h"
#include "core/base/files.h"
#include "db/exchange/exchange.h"
#include "db/package/package.h"

#include <QApplication>
#include <QDir>
#include <QFileDialog>
#include <QFileInfo>
#include <QInputDialog>
#include <QLineEdit>
#include <QMessageBox>
#include <QProgressDialog>
#include <QPushButton>

namespace markerlamp::app {

void MainWindow::newProgram() {
    QString path = QFileDialog::getSaveFileName(
        this, tr("Make a new program"), QDir(documentsFolder()).filePath(tr("training.markerlamp")),
        tr("Markerlamp program (*.markerlamp)"), nullptr, QFileDialog::DontConfirmOverwrite);
    if (path.isEmpty()) return;
    if (QFileInfo(path).suffix().isEmpty()) path += QLatin1String(".markerlamp");
    if (auto done = createFile(path, false); !done) showError(tr("Not made"), done.error());
}

void MainWindow::openProgram() {
    const QString from = m_session ? QFileInfo(m_session->path()).absolutePath() : documentsFolder();
    const QString path = QFileDialog::getOpenFileName(this, tr("Open a program"), from,
                                                      tr("Markerlamp program (*.markerlamp);;All files (*)"));
    if (path.isEmpty()) return;
    if (auto done = openFile(path); !done) showError(tr("Not opened"), done.error());
}

void MainWindow::chooseImport() {
    if (!m_session || !allowed(core::Deed::Exchange)) return;
    const QStringList paths =
        QFileDialog::getOpenFileNames(this, tr("Import documents"), documentsFolder(),
                                      tr("Documents and packages (*.csv *.yaml *.jsonl *.mlpack);;People, "
                                         "buses, instructors (*.csv);;Rubrics and limit sets "
                                         "(*.yaml);;Attempts (*.jsonl);;Packages (*.mlpack);;All files (*)"));
    if (!paths.isEmpty()) importFiles(paths);
}

void MainWindow::importFiles(const QStringList& paths) {
    if (!m_session || !allowed(core::Deed::Exchange)) return;
    using Taker = std::function<core::Result<db::ImportReport>(const std::function<bool(double)>& progress)>;
    // Shows how far it is, then what became of each document.
    const auto take = [this](const Taker& taker) {
        QProgressDialog progress(tr("Taking in documents"), tr("Stop"), 0, 1000, this);
        progress.setWindowModality(Qt::WindowModal);
        progress.setMinimumDuration(700);
        const auto report = taker([&progress](double share) {
            progress.setValue(static_cast<int>(share * 1000));
            return !progress.wasCanceled();
        });
        progress.reset();
        m_session->noteRubricsChanged();
        m_session->notePeopleChanged();
        m_session->noteAttemptChanged({});
        if (!report) {
            showError(tr("Not imported"), report.error());
            return;
        }
        using Outcome = db::ImportReport::Outcome;
        const QString summary =
            importSummary(report->count(Outcome::Added), report->count(Outcome::Changed),
                          report->count(Outcome::AlreadyThere), report->count(Outcome::Refused));
        say(summary);
        ImportDialog dialog(m_theme, *report, summary, this);
        dialog.exec();
    };
    copyBeforeImport();
    std::vector<std::filesystem::path> files;
    for (const QString& path : paths) {
        if (!isPackage(path)) {
            files.push_back(fsPath(path));
            continue;
        }
        PackageDialog dialog(m_theme, path, this);
        if (dialog.exec() == QDialog::Accepted)
            take([&](const auto& progress) {
                return db::readPackage(m_session->file(), fsPath(path), ss(dialog.passphrase()), progress);
            });
    }
    if (!files.empty())
        take([&](const auto& progress) { return db::importPaths(m_session->file(), files, progress); });
}

QString importSummary(int added, int changed, int there, int refused) {
    QStringList words;
    words << MainWindow::tr("%n added", nullptr, added);
    if (changed > 0) words << MainWindow::tr("%n changed", nullptr, changed);
    words << MainWindow::tr("%n already there", nullptr, there)
          << MainWindow::tr("%n refused", nullptr, refused);
    return words.join(MainWindow::tr(", ", "between counts"));
}

void MainWindow::showExport() {
    const QString key = QStringLiteral("export/folder");
    QString folder = m_settings.value(key, documentsFolder()).toString();
    if (!QFileInfo(folder).isDir()) folder = documentsFolder();
    ExportDialog dialog(m_theme, *m_session, m_settings.paper(), folder, this);
    connect(&dialog, &ExportDialog::exported, this, [&](const QString& said) {
        m_settings.setValue(key, dialog.folder());
        say(said);
    });
    dialog.exec();
}

void MainWindow::writeAttempt() {
    const QString id = m_debrief != nullptr ? m_debrief->attempt() : QString();
    if (id.isEmpty() || !m_debrief->canPerform(PageCommand::PrintSheet)) {
        say(tr("Open the debrief of a finished attempt first; that attempt is handed over"));
        return;
    }
    m_session->flush();
    const auto attempt = m_session->file().attempt(ss(id));
    if (!attempt) {
        showError(tr("Not written"), attempt.error());
        return;
    }
    const QString name =
        qs(core::attemptCode(attempt->header.id)).toLower() + QStringLiteral(".attempt.jsonl");
    const QString path = QFileDialog::getSaveFileName(this, tr("Hand over the attempt as a file"),
                                                      QDir(documentsFolder()).filePath(name),
                                                      tr("Attempts (*.attempt.jsonl)"));
    if (path.isEmpty()) return;
    if (auto done = core::writeWhole(fsPath(path), core::writeAttempt(*attempt)); !done) {
        showError(tr("Not written"), done.error());
        return;
    }
    say(tr("Written to %1; import it on the other workstation").arg(QDir::toNativeSeparators(path)));
}

bool MainWindow::showSheet(const core::Result<forms::Sheet>& sheet, const QString& name, bool preview) {
    if (!sheet) {
        showError(tr("No sheet"), sheet.error());
        return false;
    }
    if (preview) {
        SheetPreview dialog(m_theme, *sheet, name, this);
        dialog.exec();
        say(dialog.outcome());
        return !dialog.outcome().isEmpty();
    }
    const QString done = printSheet(*sheet, name, this);
    say(done);
    return !done.isEmpty();
}

void MainWindow::printAttempt(const QString& attempt, bool preview) {
    if (!m_session || attempt.isEmpty()) return;
    m_session->flush();
    QString trainee, day;
    if (const auto info = m_session->file().attemptInfo(ss(attempt)); info && *info) {
        trainee = qs((*info)->trainee);
        day = startedAt((*info)->started).date().toString(Qt::ISODate);
    }
    const bool made =
        showSheet(progressSheetOf(
                      *m_session, attempt, m_settings.paper(),
                      extrasFor(trainee, m_settings.value(QStringLiteral("print/readiness"), false).toBool(),
                                m_settings.value(QStringLiteral("print/drill"), true).toBool())),
                  pdfName(QStringLiteral("progress-sheet"), {trainee, day}), preview);
    if (made) keepSheetMade(attempt);
}

void MainWindow::keepSheetMade(const QString& attempt) {
    if (auto noted = noteSheetsMade(*m_session, {attempt}); !noted) showError(tr("Not noted"), noted.error());
}

void MainWindow::noteSheetSigned(const QString& attempt) {
    if (!m_session || attempt.isEmpty()) return;
    if (const auto noted = noteSigning(*m_session, attempt); noted)
        say(*noted);
    else
        showError(tr("Not noted"), noted.error());
}

void MainWindow::printDrill(const QString& attempt) {
    const QString trainee =
        currentPage() == m_debrief ? m_debrief->debrief().traineeKey : m_trainee->trainee();
    if (attempt.isEmpty()) return;
    m_session->flush();
    if (showSheet(progressSheetOf(*m_session, attempt, m_settings.paper(), extrasFor(trainee, true, true)),
                  pdfName(QStringLiteral("progress-sheet"), {trainee, QStringLiteral("drill")}), true))
        keepSheetMade(attempt);
}

SheetExtras MainWindow::extrasFor(const QString& trainee, bool readiness, bool drill) {
    // What the page shows goes on paper; printing does not wait for what is still being worked out.
    SheetExtras extras;
    const ReadinessStanding& standing = m_readiness->of(trainee);
    if (readiness && standing.known && !standing.old) {
        extras.readiness = forms::SheetReadiness{standing.answer.readiness, m_readiness->settings(), {}};
        if (const auto& own = standing.answer.readiness.override_)
            extras.readiness->overrideBy = instructorName(m_session->file(), own->by);
    }
    const ReadinessBlocks* blocks = currentPage() == m_debrief   ? &m_debrief->readiness()
                                    : currentPage() == m_trainee ? &m_trainee->readiness()
                                                                 : nullptr;
    if (drill && blocks != nullptr && blocks->trainee() == trainee)
        if (const auto& view = blocks->drill().view())
            extras.drill = forms::SheetDrill{static_cast<double>(blocks->drill().minutes()), view->lines};
    return extras;
}

void MainWindow::printChosen(bool study, const QString& rubric, int edition, const QString& zone) {
    if (!m_session) return;
    SheetChooser chooser(m_theme, *m_session, study ? SheetChooser::Kind::Study : SheetChooser::Kind::Blank,
                         rubric, edition, zone, this);
    if (chooser.exec() != QDialog::Accepted) return;
    showSheet(chooser.sheet(m_settings.paper()), chooser.suggestedName(), true);
}

void MainWindow::showSettings() {
    SettingsDialog dialog(m_theme, m_settings, this);
    if (dialog.exec() == QDialog::Accepted) say(tr("Settings kept"));
}

void MainWindow::showHelp(const QString& page) {
    if (m_help == nullptr) m_help = new HelpWindow(m_theme, this);
    m_help->showPage(page);
    m_help->show();
    m_help->raise();
    m_help->activateWindow();
}

void MainWindow::showKeys() {
    KeysDialog dialog(m_theme, commands(), this);
    dialog.exec();
}

void MainWindow::showAbout() {
    AboutDialog dialog(m_theme, m_session ? m_session->path() : QString(), this);
    dialog.exec();
}

QString MainWindow::traineeInFront() const {
    if (m_trainee != nullptr && currentPage() == m_trainee) return m_trainee->trainee();
    if (m_trainees != nullptr && currentPage() == m_trainees) return m_trainees->current();
    if (m_program != nullptr && currentPage() == m_program) return m_program->current();
    if (m_debrief != nullptr && currentPage() == m_debrief) return m_debrief->debrief().traineeKey;
    return {};
}

void MainWindow::recordTestResult(const QString& trainee) {
    if (!allowed(core::Deed::KeepRecords)) return;
    if (!m_session) return;
    if (recordResult(m_theme, *m_session, trainee, this)) say(tr("Test result recorded"));
}

void MainWindow::editProgramTitle() {
    bool kept = false;
    const QString title =
        QInputDialog::getText(this, tr("Name of the program"), tr("Name that sheets and the window show:"),
                              QLineEdit::Normal, m_session->title(), &kept)
            .trimmed();
    if (!kept || title.isEmpty()) return;
    if (auto done = m_session->file().setFact("program.title", ss(title)); !done) {
        showError(tr("Not stored"), done.error());
        return;
    }
    updateTitle();
    updateCommands();
    m_session->notePeopleChanged();
    say(tr("The program is called %1").arg(title));
}

}  // namespace markerlamp::app
