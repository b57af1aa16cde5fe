// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The way of an attempt through the window: start form, scoring, debrief; and going on with one that was cut
// off.

#include "app/debrief/debrief_page.h"
#include "app/scoring/scoring_page.h"
#include "app/shell/main_window.h"
#include "app/shell/page_bar.h"
#include "app/shell/session.h"
#include "app/start/start_page.h"
#include "app/support/display.h"

#include <QMenuBar>
#include <QStatusBar>

namespace markerlamp::app {

void MainWindow::makeScoringPages() {
    m_start = new StartPage(m_theme, m_settings, startDataLoader(*m_session));
    m_scoring = new ScoringPage(m_theme, m_settings, sessionServices(*m_session, m_session.get()));
    addPage(PageId::Start, m_start);
    addPage(PageId::Scoring, m_scoring);

    connect(m_start, &StartPage::startRequested, this, [this](const core::AttemptHeader& header) {
        auto rubric = m_session->file().rubric(header.rubric, header.edition);
        const auto started =
            rubric ? m_scoring->start(*rubric, header) : core::Result<void>(core::fail(rubric.error()));
        goOnScoring(started, tr("The attempt was not started"));
    });
    connect(m_start, &StartPage::resumeRequested, this, [this](const QString& id) {
        goOnScoring(m_scoring->resume(id), tr("The attempt was not resumed"));
    });
    connect(m_start, &StartPage::finishRequested, this, [this](const QString& id) {
        goOnScoring(m_scoring->settle(id), tr("The attempt was not opened"));
    });
    connect(m_start, &StartPage::setAsideRequested, this, [this](const QString& id) {
        if (auto done = m_session->file().setAside(ss(id)); !done) {
            showError(tr("The attempt was not set aside"), done.error());
            return;
        }
        say(tr("Set aside; it stays in the trainee's list and can be taken up there"));
        m_session->noteAttemptChanged(id);
        m_start->aboutToShow();
    });
    connect(m_start, &StartPage::cancelled, this, [this] { showPage(PageId::Trainees); });
    connect(m_scoring, &ScoringPage::finished, this, [this](const QString& id) {
        // The debrief reads the file: what the writer still holds must be there first.
        m_session->flush();
        m_session->noteAttemptChanged(id);
        m_debrief->showAttempt(id);
        showPage(PageId::Debrief);
    });
    connect(m_scoring, &ScoringPage::compactChanged, this, [this] { updateFrame(); });
}

void MainWindow::goOnScoring(const core::Result<void>& opened, const QString& title) {
    if (!opened) {
        showError(title, opened.error());
        return;
    }
    showPage(PageId::Scoring);
}

void MainWindow::startAttempt(const QString& trainee) {
    if (m_start != nullptr && !trainee.isEmpty()) m_start->chooseTrainee(trainee);
    showPage(PageId::Scoring);
}

Page* MainWindow::pageFor(PageId id) const {
    // The way to scoring leads over the start form until an attempt runs.
    if (id == PageId::Scoring && m_scoring != nullptr && !m_scoring->isActive()) return m_start;
    const auto found = m_pages.find(id);
    return found == m_pages.end() ? nullptr : found->second;
}

void MainWindow::updateFrame() {
    const bool scoring = m_session != nullptr && m_current == PageId::Scoring;
    const bool compact =
        scoring && m_scoring != nullptr && currentPage() == m_scoring && m_scoring->isCompact();
    // The scoring screens take the whole height; their menu and keys lead to the other pages.
    m_bar->setVisible(!scoring);
    menuBar()->setVisible(!compact);
    statusBar()->setVisible(!compact);
}

}  // namespace markerlamp::app
