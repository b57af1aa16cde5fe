// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/shell/main_window.h"

#include "app/access/cover.h"
#include "app/access/idle_watch.h"
#include "app/access/window_lock.h"
#include "app/agreement/agreement_page.h"
#include "app/copies/copy_keeper.h"
#include "app/debrief/debrief_page.h"
#include "app/people/person_dialog.h"
#include "app/program/limits_dialog.h"
#include "app/program/program_page.h"
#include "app/readiness/readiness_desk.h"
#include "app/scoring/scoring_page.h"
#include "app/shell/first_page.h"
#include "app/shell/page_bar.h"
#include "app/shell/session.h"
#include "app/start/start_page.h"
#include "app/support/display.h"
#include "app/support/small_screens.h"
#include "app/support/text_widgets.h"
#include "app/track/track_page.h"
#include "app/trail/trail_page.h"
#include "app/trainees/people_dialogs.h"
#include "app/trainees/trainee_page.h"
#include "app/trainees/trainees_page.h"

#include <QAccessible>
#include <QApplication>
#include <QCloseEvent>
#include <QDir>
#include <QDragEnterEvent>
#include <QDropEvent>
#include <QFileInfo>
#include <QLabel>
#include <QMessageBox>
#include <QMimeData>
#include <QStackedWidget>
#include <QStandardPaths>
#include <QStatusBar>
#include <QTimer>
#include <QUrl>
#include <QVBoxLayout>

#include <algorithm>
#include <array>

namespace markerlamp::app {

namespace {

constexpr std::array kPageOrder{
    MainWindow::PageId::Scoring, MainWindow::PageId::Debrief, MainWindow::PageId::Trainees,
    MainWindow::PageId::Trainee, MainWindow::PageId::Program, MainWindow::PageId::Agreement,
    MainWindow::PageId::Track,   MainWindow::PageId::Rubric,  MainWindow::PageId::Trail};

}  // namespace

MainWindow::MainWindow(Theme& theme, Settings& settings, QWidget* parent)
    : QMainWindow(parent),
      m_theme(theme),
      m_settings(settings),
      m_bar(new PageBar(theme)),
      m_warning(new Text(theme, 15, true)),
      m_stack(new QStackedWidget),
      m_first(new FirstPage(theme)) {
    setObjectName(QStringLiteral("main"));
    setAcceptDrops(true);
    setMinimumSize(480, 320);
    auto* middle = new QWidget;
    auto* column = new QVBoxLayout(middle);
    column->setContentsMargins(0, 0, 0, 0);
    column->setSpacing(0);
    column->addWidget(m_bar);
    column->addWidget(m_warning);
    m_warning->setObjectName(QStringLiteral("warning"));
    m_warning->setTextFormat(Qt::PlainText);
    m_warning->setWordWrap(true);
    m_warning->setContentsMargins(12, 6, 12, 6);
    m_warning->hide();
    column->addWidget(m_stack, 1);
    setCentralWidget(middle);
    m_stack->addWidget(m_first);
    connect(m_first, &FirstPage::newRequested, this, &MainWindow::newProgram);
    connect(m_first, &FirstPage::openRequested, this, &MainWindow::openProgram);
    connect(m_first, &FirstPage::bringBackRequested, this, &MainWindow::bringBackCopy);
    connect(m_first, &FirstPage::demoRequested, this, [this] {
        if (auto done = openDemo(); !done) showError(tr("The demo cannot be opened"), done.error());
    });
    connect(m_first, &FirstPage::fileRequested, this, [this](const QString& path) {
        if (auto done = openFile(path); !done) showError(tr("Not opened"), done.error());
    });
    makeMenus();
    makeStatusBar();
    makeCover();
    connect(&m_theme, &Theme::changing, this, &MainWindow::applyTheme);
    applyTheme();
    if (!restoreGeometry(m_settings.geometry())) resizeToScreen(*this, {1366, 768});
    m_first->setRecentFiles(m_settings.recentFiles());
    updateTitle();
    updateCommands();
    say(tr("Everything is kept as you press it. There is nothing to save."));
}

MainWindow::~MainWindow() {
    if (m_session) closeFile();
}

void MainWindow::makeStatusBar() {
    m_said = new QLabel;
    m_said->setObjectName(QStringLiteral("said"));
    m_said->setAccessibleName(tr("Last action"));
    m_said->setTextFormat(Qt::PlainText);
    m_said->setMinimumWidth(10);
    m_saved = new QLabel;
    m_palette = new QLabel;
    statusBar()->setSizeGripEnabled(false);
    statusBar()->setContentsMargins(12, 0, 12, 0);
    statusBar()->addWidget(m_said, 1);
    statusBar()->addPermanentWidget(m_saved);
    statusBar()->addPermanentWidget(m_palette);
}

void MainWindow::applyTheme() {
    qApp->setFont(m_theme.font(15));
    for (const char* part : {"QMenuBar", "QMenu", "QToolTip", "QMessageBox", "QAbstractItemView"})
        QApplication::setFont(m_theme.font(15), part);
    qApp->setPalette(m_theme.palette());
    qApp->setStyleSheet(m_theme.styleSheet());
    for (QLabel* label : {m_said, m_saved, m_palette}) label->setFont(m_theme.font(13));
    updateStatus();
    m_bar->update();
}

void MainWindow::updateStatus() {
    m_palette->setText(tr("%1 palette").arg(m_theme.choiceName()));
    const bool news = !m_trouble.isEmpty() && m_trouble != m_warning->text();
    m_warning->setText(m_trouble);
    m_warning->setVisible(!m_trouble.isEmpty());
    if (news) {
        QAccessibleEvent alert(m_warning, QAccessible::Alert);
        QAccessible::updateAccessibility(&alert);
    }
    if (!m_session)
        m_saved->clear();
    else if (!m_trouble.isEmpty())
        m_saved->setText(tr("NOT SAVED"));
    else if (m_session->lastStored().isValid())
        m_saved->setText(
            tr("saved %1").arg(m_session->lastStored().time().toString(QStringLiteral("HH:mm:ss"))));
    else
        m_saved->setText(tr("all saved"));
}

void MainWindow::say(const QString& message) {
    if (message.isEmpty()) return;
    m_saidOf = nullptr;
    m_said->setText(message);
    m_said->setToolTip(message);
    m_said->setAccessibleName(message);
    QAccessibleEvent event(m_said, QAccessible::NameChanged);
    QAccessible::updateAccessibility(&event);
}

void MainWindow::showError(const QString& title, const core::Error& error) {
    say(errorText(error, 1));
    QMessageBox::warning(this, title, errorText(error));
}

QString MainWindow::demoPath() {
    return QDir(QStandardPaths::writableLocation(QStandardPaths::AppDataLocation))
        .filePath(QStringLiteral("demo.markerlamp"));
}

core::Result<void> MainWindow::openFile(const QString& path) {
    if (m_session && QFileInfo(path) == QFileInfo(m_session->path())) return {};
    // By whatever way it is opened, the demo of the window does not grow old.
    if (QFileInfo::exists(path) && QFileInfo(path) == QFileInfo(demoPath())) return openDemo();
    auto session = Session::open(path);
    if (!session) return core::fail(session.error());
    adopt(std::move(*session));
    return {};
}

core::Result<void> MainWindow::createFile(const QString& path, bool demo) {
    if (m_session && QFileInfo(path) == QFileInfo(m_session->path()))
        return core::fail(core::ErrorKind::Refused,
                          ss(tr("%1 is open in this window; choose another name for a new program")
                                 .arg(QDir::toNativeSeparators(path))));
    auto session = Session::create(path, demo);
    if (!session) return core::fail(session.error());
    adopt(std::move(*session));
    return {};
}

core::Result<void> MainWindow::openDemo(const QDate& today) {
    const QString path = demoPath();
    if (m_session && QFileInfo(path) == QFileInfo(m_session->path())) return {};
    if (!QDir().mkpath(QFileInfo(path).absolutePath()))
        return core::fail(core::ErrorKind::Machine,
                          ss(tr("cannot make the folder %1").arg(QFileInfo(path).absolutePath())));
    auto session = Session::openDemo(path, today);
    if (!session) return core::fail(session.error());
    adopt(std::move(*session));
    return {};
}

void MainWindow::adopt(std::unique_ptr<Session> session) {
    closeFile();
    m_session = std::move(session);
    m_settings.noteRecentFile(m_session->path());
    fillRecentMenu();
    connect(m_session.get(), &Session::stored, this, [this] { updateStatus(); });
    connect(m_session.get(), &Session::trouble, this, [this](const QString& message, int waiting) {
        m_trouble = message.isEmpty()
                        ? QString()
                        : tr("NOT SAVED: %1 (%n waiting, kept in memory)", nullptr, waiting).arg(message);
        updateStatus();
        if (message.isEmpty()) say(tr("Writing works again; everything is saved"));
    });
    beginCopies();
    const auto accounts = m_session->file().accounts();
    if (accounts && accounts->empty())
        enter();
    else
        askWho();  // also where it is not known: better closed than open
}

void MainWindow::enter() {
    m_readiness = std::make_unique<ReadinessDesk>(*m_session, m_readinessOpener);
    connect(m_readiness.get(), &ReadinessDesk::said, this, &MainWindow::say);
    makePages();
    updateTitle();
    // An attempt that was cut off comes first: its card offers to go on.
    bool open = false;
    if (const auto attempts = m_session->file().attempts())
        open = std::any_of(attempts->begin(), attempts->end(),
                           [](const db::AttemptInfo& info) { return info.state == db::AttemptState::Open; });
    showPage(open ? PageId::Scoring : PageId::Trainees);
    watchIdle();
    say(tr("%1 opened").arg(m_session->title()));
}

void MainWindow::makePages() {
    makeScoringPages();
    m_debrief = new DebriefPage(m_theme, m_settings, *m_session, *m_readiness);
    m_trainees = new TraineesPage(m_theme, *m_session);
    m_trainee = new TraineePage(m_theme, m_settings, *m_session, *m_readiness);
    m_agreement = new AgreementPage(m_theme, *m_session);
    m_track = new TrackPage(m_theme, *m_session);
    m_trail = new TrailPage(m_theme, m_settings, *m_session);
    addPage(PageId::Debrief, m_debrief);
    addPage(PageId::Trainees, m_trainees);
    addPage(PageId::Trainee, m_trainee);
    makeProgramPage();
    addPage(PageId::Agreement, m_agreement);
    addPage(PageId::Track, m_track);
    makeRubricPages();
    addPage(PageId::Trail, m_trail);
    connect(m_debrief, &DebriefPage::startRequested, this, [this] { startAttempt({}); });
    connect(m_debrief, &DebriefPage::printRequested, this, &MainWindow::printAttempt);
    connect(m_debrief, &DebriefPage::signingRequested, this, &MainWindow::noteSheetSigned);
    // After the debrief one looks at how that trainee has come along.
    connect(m_debrief, &DebriefPage::traineeShown, m_trainee, &TraineePage::showTrainee);
    connect(m_trainees, &TraineesPage::opened, this, [this](const QString& key) {
        m_trainee->showTrainee(key);
        showPage(PageId::Trainee);
    });
    connect(m_trainees, &TraineesPage::importRequested, this, &MainWindow::chooseImport);
    connect(m_trainee, &TraineePage::listRequested, this, [this] { showPage(PageId::Trainees); });
    connect(m_trainee, &TraineePage::startRequested, this, &MainWindow::startAttempt);
    connect(m_trainee, &TraineePage::printRequested, this, &MainWindow::printAttempt);
    connect(m_trainee, &TraineePage::signingRequested, this, &MainWindow::noteSheetSigned);
    connect(m_trainee, &TraineePage::attemptRequested, this, [this](const QString& id) {
        m_debrief->showAttempt(id);
        showPage(PageId::Debrief);
    });
    connect(m_trainee, &TraineePage::resultRequested, this, &MainWindow::recordTestResult);
    connect(m_trainee, &TraineePage::papersRequested, this, [this](const QString& trainee) {
        showPerson(m_theme, *m_session, m_settings.paper(), trainee, this);
    });
    connect(m_agreement, &AgreementPage::secondScoringRequested, this, &MainWindow::startSecondScoring);
    connect(m_track, &TrackPage::resultRequested, this, &MainWindow::recordTestResult);
    connect(m_trainee, &TraineePage::marksRequested, this, [this](const QString& id, const QString& step) {
        m_debrief->showMarks(id, step);
        showPage(PageId::Debrief);
    });
    connect(m_trainee, &TraineePage::drillRequested, this, &MainWindow::startDrill);
    connect(m_debrief, &DebriefPage::drillRequested, this, &MainWindow::startDrill);
    connect(m_trainee, &TraineePage::drillPrintRequested, this, &MainWindow::printDrill);
    connect(m_debrief, &DebriefPage::drillPrintRequested, this, &MainWindow::printDrill);
}

void MainWindow::makeProgramPage() {
    m_program = new ProgramPage(m_theme, *m_session, *m_readiness);
    addPage(PageId::Program, m_program);
    const auto showTrainee = [this](const QString& key) {
        m_trainee->showTrainee(key);
        showPage(PageId::Trainee);
    };
    for (const auto signal : {&ProgramPage::traineeRequested, &ProgramPage::drillRequested})
        connect(m_program, signal, this, showTrainee);
    const auto showPapers = [this](PersonDialog::Block block) {
        return [this, block](const QString& key) {
            showPerson(m_theme, *m_session, m_settings.paper(), key, this, block);
        };
    };
    connect(m_program, &ProgramPage::bookTestRequested, this, showPapers(PersonDialog::Tests));
    connect(m_program, &ProgramPage::recordRequested, this, showPapers(PersonDialog::Record));
    connect(m_program, &ProgramPage::settleRequested, this, [this](const QString& secondScoring) {
        m_agreement->showPair(secondScoring);
        showPage(PageId::Agreement);
    });
    connect(m_program, &ProgramPage::attemptRequested, this, [this](const QString& id) {
        m_debrief->showAttempt(id);
        showPage(PageId::Debrief);
    });
    connect(m_program, &ProgramPage::startRequested, this, &MainWindow::startAttempt);
    connect(m_program, &ProgramPage::editRequested, this, [this](const QString& key) {
        if (!editTrainee(m_theme, *m_session, key, this).isEmpty()) say(tr("Trainee changed"));
    });
    connect(m_program, &ProgramPage::trackRequested, this, [this] { showPage(PageId::Track); });
    connect(m_program, &ProgramPage::importRequested, this, &MainWindow::chooseImport);
    connect(m_program, &ProgramPage::settingsRequested, this, &MainWindow::editLimits);
}

void MainWindow::editLimits() {
    if (editAttentionLimits(m_theme, *m_session, this)) say(tr("Limits kept"));
}

void MainWindow::addPage(PageId id, Page* page) {
    m_pages[id] = page;
    m_stack->addWidget(page);
    connect(page, &Page::said, this, [this, page](const QString& message) {
        if (page != currentPage()) return;
        say(message);
        m_saidOf = page;
    });
    connect(page, &Page::commandsChanged, this, &MainWindow::updateCommands);
}

void MainWindow::closePages() {
    // A running attempt is paused, not ended; its card offers to go on next time.
    if (m_scoring != nullptr) m_scoring->suspend();
    m_session->flush();
    for (const auto& [id, page] : m_pages) {
        m_stack->removeWidget(page);
        delete page;
    }
    m_pages.clear();
    m_drill.reset();
    m_readiness.reset();
    m_start = nullptr;
    m_scoring = nullptr;
    m_debrief = nullptr;
    m_trainees = nullptr;
    m_trainee = nullptr;
    m_program = nullptr;
    m_agreement = nullptr;
    m_track = nullptr;
    m_trail = nullptr;
    m_rubric = nullptr;
    m_editor = nullptr;
}

void MainWindow::closeFile() {
    if (!m_session) return;
    m_lock->unlock();
    m_cover->leave();
    m_idle->setMinutes(0);
    m_inside.reset();
    closePages();
    // While the session holds its place: a copy is made of this file, not of what may lie there now.
    m_copies->end();
    m_copies.reset();
    m_session.reset();
    m_trouble.clear();
    m_first->setRecentFiles(m_settings.recentFiles());
    m_stack->setCurrentWidget(m_first);
    giveFocus(*m_first);
    updateTitle();
    updateStatus();
    updateCommands();
}

Page* MainWindow::currentPage() const {
    return qobject_cast<Page*>(m_stack->currentWidget());
}

void MainWindow::showPage(PageId id) {
    Page* page = pageFor(id);
    if (page == nullptr) return;
    if (currentPage() == m_scoring && m_scoring != nullptr && page != m_scoring) m_scoring->suspend();
    m_current = id == PageId::Edition ? PageId::Rubric : id;
    // What a page said of itself goes with it; what was done while scoring stays to be read.
    if (m_saidOf != nullptr && m_saidOf != page && m_saidOf != m_scoring) {
        m_saidOf = nullptr;
        m_said->clear();
        m_said->setToolTip({});
        m_said->setAccessibleName(tr("Last action"));
    }
    m_stack->setCurrentWidget(page);
    updateFrame();
    holdReadiness();
    page->aboutToShow();
    giveFocus(*page);
    updateCommands();
}

void MainWindow::giveFocus(Page& page) {
    // A page that is empty has nothing in mind: its first control takes the keys.
    if (QWidget* now = focusWidget(); now != nullptr && (now == &page || page.isAncestorOf(now))) return;
    for (QWidget* next = page.nextInFocusChain(); next != nullptr && next != &page;
         next = next->nextInFocusChain())
        if (page.isAncestorOf(next) && next->isVisible() && next->isEnabled() &&
            (next->focusPolicy() & Qt::TabFocus) != 0) {
            next->setFocus(Qt::OtherFocusReason);
            return;
        }
}

void MainWindow::stepPage(int by) {
    if (!m_session) return;
    const int count = static_cast<int>(kPageOrder.size());
    int at =
        static_cast<int>(std::find(kPageOrder.begin(), kPageOrder.end(), m_current) - kPageOrder.begin());
    for (int tries = 0; tries < count; ++tries) {
        at = (at + by + count) % count;
        const PageId next = kPageOrder[static_cast<std::size_t>(at)];
        if (m_pages.count(next) == 0 || !m_pageActions.at(next)->isEnabled()) continue;
        showPage(kPageOrder[static_cast<std::size_t>(at)]);
        return;
    }
}

void MainWindow::updateCommands() {
    reopenCommands();
    const Page* page = currentPage();
    for (const auto& [command, action] : m_pageCommands) {
        action->setEnabled(page != nullptr && page->canPerform(command));
        QString words = page != nullptr ? page->commandWords(command) : QString();
        words.replace(QLatin1Char('&'), QLatin1String("&&"));
        const QString name = action->property("name").toString();
        action->setText(words.isEmpty() ? name : tr("%1: %2", "command, what it does here").arg(name, words));
    }
    for (QAction* action : m_fileActions) action->setEnabled(m_session != nullptr);
    for (const auto& [id, action] : m_pageActions) {
        action->setEnabled(m_pages.count(id) > 0);
        action->setChecked(m_session != nullptr && id == m_current);
    }
    m_bar->setRight(m_session ? m_session->title() : QString());
    guardCommands();
    updateFrame();
}

void MainWindow::updateTitle() {
    setWindowFilePath(m_session ? m_session->path() : QString());
    setWindowTitle(m_session && !isCovered() ? tr("%1 - Markerlamp").arg(m_session->title())
                                             : tr("Markerlamp"));
}

void MainWindow::leave() {
    m_settings.setGeometry(saveGeometry());
    if (m_session) closeFile();
}

void MainWindow::closeEvent(QCloseEvent* event) {
    if (m_lock->hasDialogs()) {
        // What they stand in must not go before they have let go of it.
        m_lock->rejectDialogs();
        QTimer::singleShot(0, this, &QWidget::close);
        event->ignore();
        return;
    }
    leave();
    event->accept();
}

void MainWindow::changeEvent(QEvent* event) {
    QMainWindow::changeEvent(event);
    if (event->type() == QEvent::PaletteChange) m_theme.refreshSystem();
}

void MainWindow::dragEnterEvent(QDragEnterEvent* event) {
    for (const QUrl& url : event->mimeData()->urls())
        if (url.isLocalFile()) {
            event->acceptProposedAction();
            return;
        }
}

void MainWindow::dropEvent(QDropEvent* event) {
    QStringList documents;
    QString program;
    for (const QUrl& url : event->mimeData()->urls()) {
        if (!url.isLocalFile()) continue;
        const QString path = url.toLocalFile();
        if (path.endsWith(QLatin1String(".markerlamp")))
            program = path;
        else
            documents << path;
    }
    event->acceptProposedAction();
    if (isCovered()) return;
    if (!program.isEmpty())
        if (auto done = openFile(program); !done) {
            showError(tr("Not opened"), done.error());
            return;
        }
    if (documents.isEmpty()) return;
    if (!m_session)
        say(tr("Open or make a program first; then drop its documents here"));
    else
        importFiles(documents);
}

}  // namespace markerlamp::app
