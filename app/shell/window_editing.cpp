// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The way of an edition through the window: editions in use, the draft of the next one, and back.

#include "app/rubrics/editor_page.h"
#include "app/rubrics/rubric_page.h"
#include "app/shell/main_window.h"
#include "app/shell/session.h"
#include "app/support/display.h"
#include "app/support/folders.h"
#include "core/rubric/rubric_reader.h"

#include <QFile>
#include <QFileDialog>
#include <QMessageBox>
#include <QPushButton>

namespace markerlamp::app {

void MainWindow::makeRubricPages() {
    m_rubric = new RubricPage(m_theme, *m_session);
    m_editor = new EditorPage(m_theme, m_settings, *m_session);
    addPage(PageId::Rubric, m_rubric);
    addPage(PageId::Edition, m_editor);
    connect(m_rubric, &RubricPage::importRequested, this, &MainWindow::chooseImport);
    connect(m_rubric, &RubricPage::blankSheetRequested, this,
            [this](const QString& id, int edition) { printChosen(false, id, edition, {}); });
    connect(m_rubric, &RubricPage::studySheetRequested, this,
            [this](const QString& id, int edition, const QString& zone) {
                printChosen(true, id, edition, zone);
            });
    connect(m_rubric, &RubricPage::editRequested, this, &MainWindow::editEdition);
    connect(m_rubric, &RubricPage::draftRequested, this, &MainWindow::editRubric);
    connect(m_rubric, &RubricPage::fileRequested, this, &MainWindow::chooseRubricFile);
    connect(m_editor, &EditorPage::left, this, &MainWindow::leftEditor);
}

void MainWindow::editEdition(const QString& rubric, int edition) {
    if (auto done = m_editor->open(rubric, edition); !done) {
        showError(tr("No draft"), done.error());
        return;
    }
    showPage(PageId::Rubric);
    say(tr("Edition %1 in the making; the draft keeps itself").arg(m_editor->draft()->rubric().edition));
}

void MainWindow::editRubric(const core::Rubric& rubric, int base) {
    const auto kept = keptDraft(m_session->file(), rubric.id);
    if (!kept) {
        showError(tr("No draft"), kept.error());
        return;
    }
    if (*kept) {
        QMessageBox box(
            QMessageBox::Question, tr("There is a draft already"),
            tr("The next edition of %1 is being written. Go on with that draft, or begin anew and lose "
               "it?")
                .arg(qs(rubric.id)),
            QMessageBox::NoButton, this);
        auto* goOn = box.addButton(tr("&Go on with it"), QMessageBox::AcceptRole);
        auto* anew = box.addButton(tr("&Begin anew"), QMessageBox::DestructiveRole);
        auto* cancel = box.addButton(tr("&Cancel"), QMessageBox::RejectRole);
        box.setDefaultButton(goOn);
        box.setEscapeButton(cancel);
        box.exec();
        if (box.clickedButton() == goOn) {
            editEdition(qs(rubric.id), base);
            return;
        }
        if (box.clickedButton() != anew) return;
    }
    if (auto done = m_editor->openWith(rubric, base); !done) {
        showError(tr("No draft"), done.error());
        return;
    }
    showPage(PageId::Rubric);
    say(tr("Edition %1 in the making; the draft keeps itself").arg(m_editor->draft()->rubric().edition));
}

void MainWindow::chooseRubricFile() {
    const QString path =
        QFileDialog::getOpenFileName(this, tr("Next edition from a rubric document"), documentsFolder(),
                                     tr("Rubrics (*.rubric.yaml *.yaml);;All files (*)"));
    if (!path.isEmpty()) editFile(path);
}

void MainWindow::editFile(const QString& path) {
    const auto rubric = core::readRubricFile(QFile::encodeName(path).toStdString());
    if (!rubric) {
        showError(tr("No draft"), rubric.error());
        return;
    }
    editRubric(*rubric, rubric->edition);
}

void MainWindow::leftEditor(const QString& rubric, int edition) {
    if (edition > 0) m_rubric->choose(rubric, edition);
    if (m_current == PageId::Rubric) showPage(PageId::Rubric);
    say(edition > 0 ? tr("Edition %1 of %2 is in the file; the others stay").arg(edition).arg(rubric)
                    : tr("The draft is kept; it can be taken up again"));
}

}  // namespace markerlamp::app
