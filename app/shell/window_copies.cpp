// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Copies of the open file: those that the program makes by itself, and one in the file's place.

#include "app/copies/bring_back_dialog.h"
#include "app/copies/copies_dialog.h"
#include "app/copies/copy_keeper.h"
#include "app/shell/main_window.h"
#include "app/shell/session.h"
#include "app/support/busy.h"
#include "app/support/display.h"
#include "app/support/folders.h"
#include "db/copies/restore.h"

#include <QFileInfo>
#include <QTimer>

namespace markerlamp::app {

namespace {

// The window and its pages come first; a copy can wait.
constexpr int kBeforeTheFirstCopy = 3000;

}  // namespace

void MainWindow::beginCopies() {
    const QString path = m_session->path();
    m_copies = std::make_unique<CopyKeeper>(path);
    connect(m_copies.get(), &CopyKeeper::said, this, &MainWindow::say);
    // Nobody's work is in the demo, and it is made afresh now and then.
    if (QFileInfo(path) == QFileInfo(demoPath())) return;
    auto* first = new QTimer(this);
    first->setObjectName(QStringLiteral("first-copy"));
    first->setSingleShot(true);
    connect(first, &QTimer::timeout, m_copies.get(), &CopyKeeper::begin);
    connect(m_copies.get(), &QObject::destroyed, first, &QObject::deleteLater);
    first->start(kBeforeTheFirstCopy);
}

void MainWindow::showCopies() {
    if (!m_session) return;
    QString copy;
    {
        CopiesDialog dialog(m_theme, *m_session, *m_copies, this);
        dialog.exec();
        if (!dialog.outcome().isEmpty()) say(dialog.outcome());
        copy = dialog.restore();
    }
    if (!copy.isEmpty()) restoreCopy(copy);
}

void MainWindow::restoreCopy(const QString& copy) {
    const QString path = m_session->path();
    closeFile();
    const auto restored = whileBusy([&]() -> core::Result<db::Restored> {
        const auto opened = openCopy(path, copy);
        if (!opened) return core::fail(opened.error());
        return db::restoreProgram(opened->path(), fsPath(path));
    });
    // Restored or not, the file is there and is opened again.
    const auto opened = openFile(path);
    if (!restored) {
        showError(tr("Not restored"), restored.error());
    } else if (!opened) {
        showError(tr("Not opened"), opened.error());
    } else {
        say(tr("Restored: %n attempt(s). The file as it was before lies among the copies", nullptr,
               restored->report.attempts));
    }
}

void MainWindow::bringBackCopy() {
    QString program, done;
    {
        BringBackDialog dialog(m_theme, m_session ? m_session->path() : QString(), this);
        if (dialog.exec() != QDialog::Accepted) return;
        program = dialog.program();
        done = dialog.outcome();
    }
    if (const auto opened = openFile(program); !opened)
        showError(tr("Not opened"), opened.error());
    else
        say(done);
}

void MainWindow::copyBeforeImport() {
    m_session->flush();
    if (QFileInfo(m_session->path()) == QFileInfo(demoPath())) return;
    const auto kept = whileBusy([this] { return m_copies->keep(core::CopyReason::Import, true); });
    if (!kept || kept->second) say(keptText(kept));
}

}  // namespace markerlamp::app
