// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The way of an attempt through the window: start form, scoring, debrief; and going on with one that was cut
// off.

#include "app/debrief/debrief_page.h"
#include "app/readiness/readiness_desk.h"
#include "app/rubrics/editor_page.h"
#include "app/rubrics/rubric_page.h"
#include "app/scoring/scoring_page.h"
#include "app/shell/main_window.h"
#include "app/shell/page_bar.h"
#include "app/shell/session.h"
#include "app/start/second_scoring_dialog.h"
#include "app/start/start_page.h"
#include "app/support/display.h"

#include <QMenuBar>
#include <QStatusBar>

#include <algorithm>

namespace markerlamp::app {

namespace {

/// Where the steps beside the plan of a drill are remembered until its attempt ends.
QString besidesKey(const QString& attempt) {
    return QStringLiteral("drill/besides/") + attempt;
}

}  // namespace

void MainWindow::makeScoringPages() {
    m_start = new StartPage(m_theme, m_settings, startDataLoader(*m_session));
    ScoringServices services = sessionServices(*m_session, m_session.get());
    services.besidesPlan = [this](const QString& id) {
        std::vector<std::string> steps;
        for (const QString& step : m_settings.value(besidesKey(id)).toStringList()) steps.push_back(ss(step));
        return steps;
    };
    m_scoring = new ScoringPage(m_theme, m_settings, services);
    addPage(PageId::Start, m_start);
    addPage(PageId::Scoring, m_scoring);

    connect(m_start, &StartPage::startRequested, this, &MainWindow::begin);
    // While the form is filled in there is time to work out what is frozen when the attempt starts.
    connect(m_start, &StartPage::traineeChosen, this, [this](const QString& key) { m_readiness->ask(key); });
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
    connect(m_start, &StartPage::cancelled, this, [this] {
        m_start->secondScoringOf({});
        showPage(PageId::Trainees);
    });
    connect(m_scoring, &ScoringPage::finished, this, [this](const QString& id) {
        // The debrief reads the file: what the writer still holds must be there first.
        m_session->flush();
        m_settings.store().remove(besidesKey(id));
        holdReadiness();
        m_session->noteAttemptChanged(id);
        m_debrief->showAttempt(id);
        showPage(PageId::Debrief);
    });
    connect(m_scoring, &ScoringPage::compactChanged, this, [this] { updateFrame(); });
}

void MainWindow::begin(const core::AttemptHeader& header) {
    if (!core::isOwn(m_session->file().acting(), header.instructor)) {
        allowed(core::Deed::AlterAnothers);
        return;
    }
    auto rubric = m_session->file().rubric(header.rubric, header.edition);
    if (!rubric) {
        showError(tr("The attempt was not started"), rubric.error());
        return;
    }
    if (m_drill && ss(m_drill->trainee) == header.trainee && m_drill->rubric == header.rubric &&
        std::is_permutation(m_drill->zones.begin(), m_drill->zones.end(), header.zones.begin(),
                            header.zones.end())) {
        // On this workstation, under the attempt's id: it must outlive a crash, and is no part of the record.
        QStringList besides;
        for (const std::string& step : m_drill->besides) besides << qs(step);
        m_settings.setValue(besidesKey(qs(header.id)), besides);
    }
    m_drill.reset();
    m_start->secondScoringOf({});
    // Convenience only: without it the form offers less the next time.
    (void)keepLastUsed(*m_session, m_start->form().lastUsed());
    const bool frozen = m_readiness->freezeBefore(header);
    goOnScoring(m_scoring->start(*rubric, header), tr("The attempt was not started"));
    if (frozen) say(tr("The forecast before this attempt is kept"));
}

void MainWindow::startDrill(const DrillAttempt& drill) {
    showPage(PageId::Scoring);
    if (m_scoring->isActive()) {
        say(tr("An attempt is still open; finish it or set it aside first"));
        return;
    }
    m_start->secondScoringOf({});
    m_start->chooseTrainee(drill.trainee);
    if (!m_start->chooseZones(drill.rubric, drill.edition, drill.zones)) {
        say(tr("The rubric edition of this drill is not on file"));
        return;
    }
    m_drill = drill;
    say(tr("The zones of the drill are chosen; what the plan leaves out will be proposed as not observed"));
}

void MainWindow::startSecondScoring() {
    if (!m_session) return;
    if (m_scoring->isActive()) {
        say(tr("An attempt is still open; finish it or set it aside first"));
        return;
    }
    const auto infos = m_session->file().attempts();
    const auto trainees = m_session->file().trainees();
    auto instructors = m_session->file().instructors();
    if (instructors)
        std::erase_if(*instructors, [this](const core::Instructor& one) {
            return !core::isOwn(m_session->file().acting(), one.key);
        });
    if (!infos || !trainees || !instructors) {
        showError(tr("Not started"), !infos      ? infos.error()
                                     : !trainees ? trainees.error()
                                                 : instructors.error());
        return;
    }
    SecondScoringDialog dialog(m_theme, firstChoices(*infos, *trainees, *instructors), *instructors,
                               currentPage() == m_debrief ? m_debrief->attempt() : QString(), this);
    if (dialog.exec() != QDialog::Accepted) return;
    if (dialog.first().empty()) {
        m_drill.reset();
        showPage(PageId::Scoring);
        m_start->secondScoringOf(dialog.code(), dialog.instructor());
        say(tr("Choose trainee, bus and zones as the first instructor did"));
        return;
    }
    const auto first = m_session->file().attempt(dialog.first());
    const auto header = first ? secondHeader(first->header, dialog.instructor(), nowIso())
                              : core::Result<core::AttemptHeader>(core::fail(first.error()));
    if (!header) {
        showError(tr("Not started"), header.error());
        return;
    }
    m_drill.reset();
    begin(*header);
}

void MainWindow::holdReadiness() {
    if (m_readiness)
        m_readiness->hold(m_scoring != nullptr && m_scoring->isActive() && currentPage() == m_scoring);
}

void MainWindow::goOnScoring(const core::Result<void>& opened, const QString& title) {
    if (!opened) {
        showError(title, opened.error());
        return;
    }
    showPage(PageId::Scoring);
}

void MainWindow::startAttempt(const QString& trainee) {
    m_drill.reset();
    if (m_start != nullptr) m_start->secondScoringOf({});
    if (m_start != nullptr && !trainee.isEmpty()) m_start->chooseTrainee(trainee);
    showPage(PageId::Scoring);
}

Page* MainWindow::pageFor(PageId id) const {
    // The way to scoring leads over the start form until an attempt runs.
    if (id == PageId::Scoring && m_scoring != nullptr && !m_scoring->isActive()) return m_start;
    // A draft that is being written stands before the editions in use.
    if (id == PageId::Rubric || id == PageId::Edition) {
        if (m_editor != nullptr && m_editor->isOpen()) return m_editor;
        return m_rubric;
    }
    const auto found = m_pages.find(id);
    return found == m_pages.end() ? nullptr : found->second;
}

void MainWindow::updateFrame() {
    const bool covered = isCovered();
    centralWidget()->setVisible(!covered);
    const bool scoring = m_session != nullptr && m_current == PageId::Scoring;
    const bool compact =
        scoring && m_scoring != nullptr && currentPage() == m_scoring && m_scoring->isCompact();
    // The scoring screens take the whole height; their menu and keys lead to the other pages.
    m_bar->setVisible(!scoring);
    menuBar()->setVisible(!compact && !covered);
    statusBar()->setVisible(!compact && !covered);
}

}  // namespace markerlamp::app
