// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The window's menus: one action per command, each with a key, a status tip and a mnemonic of its own.

#include "app/access/own_passphrase_dialog.h"
#include "app/people/keeping_dialog.h"
#include "app/people/person_dialog.h"
#include "app/readiness/readiness_desk.h"
#include "app/settings/people_settings_dialog.h"
#include "app/settings/program_settings_dialog.h"
#include "app/shell/main_window.h"
#include "app/shell/page_bar.h"
#include "app/shell/session.h"
#include "app/trainees/people_dialogs.h"
#include "app/trainees/trainee_page.h"
#include "app/trainees/trainees_page.h"

#include <QAction>
#include <QApplication>
#include <QDir>
#include <QMenu>
#include <QMenuBar>

namespace markerlamp::app {

QAction* MainWindow::addCommand(QMenu* menu, const QString& name, const QString& text,
                                const QKeySequence& key, const QString& tip) {
    auto* action = new QAction(text, this);
    action->setObjectName(name);
    action->setShortcut(key);
    action->setStatusTip(tip);
    action->setToolTip(tip);
    action->setProperty("tip", tip);
    menu->addAction(action);
    addAction(action);  // a menu bar that is hidden, as over the small scoring card, answers to no key
    m_actions[name] = action;
    return action;
}

QAction* MainWindow::addPageCommand(QMenu* menu, PageCommand command, const QString& name,
                                    const QString& text, const QKeySequence& key, const QString& tip) {
    QAction* action = addCommand(menu, name, text, key, tip);
    action->setProperty("name", text);
    m_pageCommands[command] = action;
    connect(action, &QAction::triggered, this, [this, command] {
        if (Page* page = currentPage(); page != nullptr && page->canPerform(command)) page->perform(command);
    });
    return action;
}

QAction* MainWindow::action(const QString& name) const {
    const auto found = m_actions.find(name);
    return found == m_actions.end() ? nullptr : found->second;
}

QList<QAction*> MainWindow::commands() const {
    QList<QAction*> list;
    for (const auto& [name, action] : m_actions) list << action;
    return list;
}

void MainWindow::makeMenus() {
    makeFileMenu();
    makeEditMenu();
    makeAttemptMenu();
    makeViewMenu();
    makeProgramMenu();
    makeHelpMenu();
}

void MainWindow::makeFileMenu() {
    QMenu* menu = menuBar()->addMenu(tr("&File"));
    const auto add = [this, menu](const char* name, const QString& text, const QKeySequence& key,
                                  const QString& tip, auto slot, bool needsFile) {
        QAction* action = addCommand(menu, QLatin1String(name), text, key, tip);
        connect(action, &QAction::triggered, this, slot);
        if (needsFile) m_fileActions.push_back(action);
        return action;
    };
    add(
        "file.new", tr("&New program..."), QKeySequence(tr("Ctrl+Shift+N")),
        tr("Makes a program file with the built-in rubrics"), [this] { newProgram(); }, false);
    add(
        "file.open", tr("&Open program..."), QKeySequence(tr("Ctrl+O")), tr("Opens another program file"),
        [this] { openProgram(); }, false);
    add(
        "file.demo", tr("Open the &demo"), QKeySequence(tr("Ctrl+Shift+O")),
        tr("Opens the demo program; everybody in it is invented"),
        [this] {
            if (auto done = openDemo(); !done) showError(tr("The demo cannot be opened"), done.error());
        },
        false);
    m_recentMenu = menu->addMenu(tr("Used &lately"));
    fillRecentMenu();
    // Files come and go while the window is open.
    connect(menu, &QMenu::aboutToShow, this, &MainWindow::fillRecentMenu);
    menu->addSeparator();
    add(
        "file.import", tr("&Import..."), QKeySequence(tr("Ctrl+I")),
        tr("Takes in people, buses, rubrics, limit sets and attempts"), [this] { chooseImport(); }, true);
    add(
        "file.export", tr("E&xport..."), QKeySequence(tr("Ctrl+Shift+E")),
        tr("Writes a spreadsheet, tables, a study without names, sheets for a class, or documents"),
        [this] { showExport(); }, true);
    add(
        "file.copies", tr("Bac&kup copies..."), QKeySequence(tr("Ctrl+Shift+B")),
        tr("Copies that the program made of this file: look into them, make one, restore one"),
        [this] { showCopies(); }, true);
    add(
        "file.bring-back", tr("Bring b&ack a copy..."), QKeySequence(tr("Ctrl+Shift+R")),
        tr("Puts a copy from wherever it lies where the program is to be: on a new machine, or for a damaged "
           "file"),
        [this] { bringBackCopy(); }, false);
    menu->addSeparator();
    addPageCommand(menu, PageCommand::PrintSheet, QStringLiteral("file.print"),
                   tr("&Print progress sheet..."), QKeySequence(tr("Ctrl+P")),
                   tr("Prints the sheet that the trainee takes home"));
    addPageCommand(menu, PageCommand::PreviewSheet, QStringLiteral("file.preview"),
                   tr("Pre&view progress sheet"), QKeySequence(tr("Ctrl+Shift+P")),
                   tr("Shows the sheet as it will be printed"));
    addPageCommand(menu, PageCommand::NoteSigning, QStringLiteral("file.signed"), tr("Sheet si&gned"),
                   QKeySequence(tr("Ctrl+Alt+F")),
                   tr("Notes that trainee and instructor signed the sheet, or takes it back"));
    const auto onSheet = [&](const char* name, const QString& text, const QString& key, const QString& tip,
                             const QString& setting, bool usual) {
        QAction* action = addCommand(menu, QLatin1String(name), text, QKeySequence(key), tip);
        action->setCheckable(true);
        action->setChecked(m_settings.value(setting, usual).toBool());
        connect(action, &QAction::toggled, this, [this, setting, tip](bool on) {
            m_settings.setValue(setting, on);
            say(on ? tip : tr("Not on the progress sheet any more"));
        });
    };
    onSheet("file.sheet-readiness", tr("&Readiness on the sheet"), tr("Ctrl+Alt+P"),
            tr("The progress sheet says where readiness stands, in words"), QStringLiteral("print/readiness"),
            false);  // it may go home with the trainee: only where somebody chose it
    onSheet("file.sheet-drill", tr("N&ext drill on the sheet"), tr("Ctrl+Alt+D"),
            tr("The progress sheet carries the next drill as the page shows it"),
            QStringLiteral("print/drill"), true);
    add(
        "file.blank", tr("&Blank score sheet..."), QKeySequence(tr("Ctrl+Alt+B")),
        tr("A sheet to score on paper, for days without power"), [this] { printChosen(false, {}, 0, {}); },
        true);
    add(
        "file.study", tr("S&tudy sheet..."), QKeySequence(tr("Ctrl+Alt+S")),
        tr("What to show and say, for the trainee to learn from"), [this] { printChosen(true, {}, 0, {}); },
        true);
    menu->addSeparator();
    add(
        "file.sign-in", tr("W&ho may sign in..."), QKeySequence(tr("Ctrl+Shift+I")),
        tr("Who may sign in to this file, in which role; the recovery code; when the window locks"),
        [this] { showAccounts(); }, true);
    add(
        "file.passphrase", tr("Change &my passphrase..."), QKeySequence(tr("Ctrl+Shift+M")),
        tr("Whoever is signed in chooses another passphrase"),
        [this] { OwnPassphraseDialog(m_theme, m_session->file(), this).exec(); }, false);
    add(
        "file.lock", tr("Lock the &window"), QKeySequence(tr("Ctrl+L")),
        tr("Covers the window until the passphrase is typed; what runs goes on"), [this] { lock(); }, false);
    add(
        "file.sign-out", tr("Sign o&ut"), QKeySequence(tr("Ctrl+Shift+W")),
        tr("Lets another person sign in; a running attempt is paused"), [this] { signOut(); }, false);
    menu->addSeparator();
    add(
        "file.save", tr("&Save"), QKeySequence(tr("Ctrl+S")), tr("Records save themselves; this says so"),
        [this] {
            // A disk that fails must not hold up the window: half a second tells.
            say(m_session->flush(500)
                    ? tr("Everything is saved already: each press is kept at once")
                    : tr("The disk does not take it yet; it is kept in memory and tried again"));
        },
        true);
    add(
        "file.close", tr("&Close program"), QKeySequence(tr("Ctrl+W")), tr("Closes the program file"),
        [this] {
            closeFile();
            say(tr("Program closed"));
        },
        true);
    add(
        "file.quit", tr("&Quit"), QKeySequence(tr("Ctrl+Q")), tr("Leaves; a running attempt is paused"),
        [this] { close(); }, false);
}

void MainWindow::fillRecentMenu() {
    m_recentMenu->clear();
    int number = 0;
    for (const QString& path : m_settings.recentFiles()) {
        ++number;
        QString shown = QDir::toNativeSeparators(path);
        QAction* action =
            m_recentMenu->addAction(QStringLiteral("&%1  %2")
                                        .arg(number % 10)
                                        .arg(shown.replace(QLatin1Char('&'), QLatin1String("&&"))));
        action->setStatusTip(tr("Opens this program file"));
        connect(action, &QAction::triggered, this, [this, path] {
            if (auto done = openFile(path); !done) showError(tr("Not opened"), done.error());
        });
    }
    m_recentMenu->setEnabled(number > 0);
}

void MainWindow::makeEditMenu() {
    QMenu* menu = menuBar()->addMenu(tr("&Edit"));
    addPageCommand(menu, PageCommand::Undo, QStringLiteral("edit.undo"), tr("&Undo"),
                   QKeySequence(tr("Ctrl+Z")),
                   tr("Takes back the last press, or the last change of a draft"));
    addPageCommand(menu, PageCommand::Redo, QStringLiteral("edit.redo"), tr("&Redo"),
                   QKeySequence(tr("Ctrl+Shift+Z")), tr("Records or changes again what was taken back"));
    menu->addSeparator();
    addPageCommand(menu, PageCommand::CopyTable, QStringLiteral("edit.copy"), tr("&Copy table"),
                   QKeySequence(tr("Ctrl+C")), tr("Copies the table as text for a spreadsheet"));
    addPageCommand(menu, PageCommand::CopyImage, QStringLiteral("edit.image"), tr("Copy &image"),
                   QKeySequence(tr("Ctrl+Shift+C")), tr("Copies the chart as an image"));
    addPageCommand(menu, PageCommand::Find, QStringLiteral("edit.find"), tr("&Find"),
                   QKeySequence(tr("Ctrl+F")), tr("Finds a trainee or a step by name"));
    menu->addSeparator();
    addPageCommand(menu, PageCommand::Add, QStringLiteral("edit.add"), tr("&Add..."), QKeySequence(tr("Ins")),
                   tr("Adds a trainee; in a draft a step, point, limit or order rule"));
    addPageCommand(menu, PageCommand::Edit, QStringLiteral("edit.edit"), tr("&Edit..."),
                   QKeySequence(tr("F2")), tr("Edits the trainee; in a draft the thing at hand"));
    menu->addSeparator();
    QAction* settings = addCommand(menu, QStringLiteral("edit.settings"), tr("&Settings..."),
                                   QKeySequence(tr("Ctrl+,")), tr("Palette, sizes, scoring and paper"));
    settings->setMenuRole(QAction::PreferencesRole);
    connect(settings, &QAction::triggered, this, &MainWindow::showSettings);
}

void MainWindow::makeAttemptMenu() {
    QMenu* menu = menuBar()->addMenu(tr("&Attempt"));
    QAction* start =
        addCommand(menu, QStringLiteral("attempt.start"), tr("&Start an attempt..."),
                   QKeySequence(tr("Ctrl+N")), tr("Chooses trainee, bus and zones, then scores"));
    connect(start, &QAction::triggered, this, [this] { startAttempt(traineeInFront()); });
    m_fileActions.push_back(start);
    QAction* second = addCommand(
        menu, QStringLiteral("attempt.second"), tr("Second sc&oring..."), QKeySequence(tr("Ctrl+Alt+2")),
        tr("Another instructor scores the same attempt, live by its code or later from a video"));
    connect(second, &QAction::triggered, this, &MainWindow::startSecondScoring);
    m_fileActions.push_back(second);
    QAction* write = addCommand(
        menu, QStringLiteral("attempt.write"), tr("&Hand over as a file..."), QKeySequence(tr("Ctrl+Alt+H")),
        tr("Writes the attempt of the debrief as a document for another workstation"));
    connect(write, &QAction::triggered, this, &MainWindow::writeAttempt);
    m_fileActions.push_back(write);
    addPageCommand(menu, PageCommand::Pause, QStringLiteral("attempt.pause"), tr("&Pause"),
                   QKeySequence(tr("F8")), tr("Stops the clock, or lets it go on"));
    addPageCommand(menu, PageCommand::CoverSheet, QStringLiteral("attempt.cover"), tr("&Cover sheet"),
                   QKeySequence(tr("F9")), tr("Hides the marks from the trainee's eyes"));
    addPageCommand(menu, PageCommand::Finish, QStringLiteral("attempt.finish"), tr("&Finish..."),
                   QKeySequence(tr("Ctrl+Return")),
                   tr("Settles the steps that are still dark and ends the attempt"));
    menu->addSeparator();
    addPageCommand(menu, PageCommand::TraineeView, QStringLiteral("attempt.trainee-view"),
                   tr("&Trainee view"), QKeySequence(tr("F7")), tr("Large type for the trainee's own eyes"));
    addPageCommand(menu, PageCommand::Amend, QStringLiteral("attempt.amend"), tr("&Amend..."),
                   QKeySequence(tr("Ctrl+E")), tr("Changes an outcome afterwards, with the reason"));
}

void MainWindow::makeViewMenu() {
    QMenu* menu = menuBar()->addMenu(tr("&View"));
    struct Entry {
        PageId id;
        const char* name;
        QString text;
        QString key;
        QString tip;
    };
    const std::vector<Entry> entries{
        {PageId::Scoring, "view.scoring", tr("&Scoring"), tr("Ctrl+1"), tr("Start and score an attempt")},
        {PageId::Debrief, "view.debrief", tr("&Debrief"), tr("Ctrl+2"),
         tr("What happened and what to say next time")},
        {PageId::Trainees, "view.trainees", tr("&Trainees"), tr("Ctrl+3"), tr("All trainees of the program")},
        {PageId::Trainee, "view.trainee", tr("T&rainee"), tr("Ctrl+4"),
         tr("One trainee: zones, learning, attempts")},
        {PageId::Program, "view.program", tr("Pro&gram"), tr("Ctrl+8"),
         tr("Who needs action, the roster with the runway of permits, what the group misses")},
        {PageId::Agreement, "view.agreement", tr("Agree&ment"), tr("Ctrl+7"),
         tr("Where two instructors differ on one attempt, and how far instructors agree")},
        {PageId::Track, "view.track", tr("Trac&k record"), tr("Ctrl+6"),
         tr("Whether forecasts came true: frozen ones, and the past replayed")},
        {PageId::Rubric, "view.rubric", tr("R&ubric"), tr("Ctrl+5"),
         tr("What must be shown and said, with limits")},
        {PageId::Trail, "view.trail", tr("Trai&l"), tr("Ctrl+9"), tr("Who changed what, and when")},
    };
    for (const Entry& entry : entries) {
        QAction* action =
            addCommand(menu, QLatin1String(entry.name), entry.text, QKeySequence(entry.key), entry.tip);
        action->setCheckable(true);
        m_pageActions[entry.id] = action;
        m_bar->addPage(action);
        connect(action, &QAction::triggered, this, [this, id = entry.id] {
            showPage(id);
            updateCommands();  // a checkable action unchecks itself when pressed twice
        });
    }
    menu->addSeparator();
    QAction* next = addCommand(menu, QStringLiteral("view.next"), tr("&Next page"),
                               QKeySequence(tr("Ctrl+Tab")), tr("Goes to the next page"));
    connect(next, &QAction::triggered, this, [this] { stepPage(1); });
    QAction* previous = addCommand(menu, QStringLiteral("view.previous"), tr("&Previous page"),
                                   QKeySequence(tr("Ctrl+Shift+Tab")), tr("Goes to the page before"));
    connect(previous, &QAction::triggered, this, [this] { stepPage(-1); });
    m_fileActions.push_back(next);
    m_fileActions.push_back(previous);
    menu->addSeparator();
    addPageCommand(menu, PageCommand::DataTable, QStringLiteral("view.data"), tr("D&ata table"),
                   QKeySequence(tr("Ctrl+T")), tr("The figures of the charts as tables"));
    QAction* palette = addCommand(menu, QStringLiteral("view.palette"), tr("N&ext palette"),
                                  QKeySequence(tr("Ctrl+Shift+L")), tr("Day, Sun, Pre-dawn, System"));
    connect(palette, &QAction::triggered, this, [this] {
        m_theme.cycle();
        m_settings.setPalette(m_theme.choice());
        say(tr("%1 palette").arg(m_theme.choiceName()));
    });
    QAction* full = addCommand(menu, QStringLiteral("view.full"), tr("&Full screen"), QKeySequence(tr("F11")),
                               tr("Uses the whole screen"));
    connect(full, &QAction::triggered, this,
            [this] { setWindowState(windowState() ^ Qt::WindowFullScreen); });
}

void MainWindow::makeProgramMenu() {
    QMenu* menu = menuBar()->addMenu(tr("&Program"));
    const auto add = [this, menu](const char* name, const QString& text, const QKeySequence& key,
                                  const QString& tip, auto slot) {
        QAction* action = addCommand(menu, QLatin1String(name), text, key, tip);
        connect(action, &QAction::triggered, this, slot);
        m_fileActions.push_back(action);
    };
    add("program.title", tr("&Name of the program..."), QKeySequence(tr("Ctrl+Alt+N")),
        tr("The name that sheets and the window show"), [this] { editProgramTitle(); });
    add("program.instructors", tr("&Instructors..."), QKeySequence(tr("Ctrl+Alt+I")),
        tr("Who scores attempts"), [this] { showInstructors(m_theme, *m_session, this); });
    add("program.buses", tr("&Buses..."), QKeySequence(tr("Ctrl+Alt+U")),
        tr("Equipment and own limits of each bus"), [this] { showBuses(m_theme, *m_session, this); });
    add("program.readiness", tr("&Readiness..."), QKeySequence(tr("Ctrl+Alt+G")),
        tr("Gates, thresholds and words of readiness, for the whole program"), [this] {
            if (!editProgramSettings(m_theme, *m_session, this)) return;
            m_readiness->noteSettingsChanged();
            say(tr("Readiness settings kept"));
        });
    add("program.limits", tr("&Limits of who needs action..."), QKeySequence(tr("Ctrl+Alt+8")),
        tr("From when on a trainee needs action, for the whole program"), [this] { editLimits(); });
    add("program.result", tr("Record a &test result..."), QKeySequence(tr("Ctrl+Alt+R")),
        tr("Puts on file what the official test said"), [this] { recordTestResult(traineeInFront()); });
    add("program.person", tr("&Papers, hours and tests..."), QKeySequence(tr("Ctrl+Alt+T")),
        tr("Hours, booked tests, results, times away and training record of the trainee in front"), [this] {
            if (traineeInFront().isEmpty())
                say(tr("Choose a trainee first"));
            else
                showPerson(m_theme, *m_session, m_settings.paper(), traineeInFront(), this);
        });
    add("program.dates", tr("&Dates and records..."), QKeySequence(tr("Ctrl+Alt+M")),
        tr("When dates are shown, what the training record says, how long records are kept"), [this] {
            if (editPeopleSettings(m_theme, *m_session, this)) say(tr("Settings of dates and records kept"));
        });
    add("program.keeping", tr("&Keeping and erasing..."), QKeySequence(tr("Ctrl+Alt+J")),
        tr("Who may be erased when; takes a person out of the file for good"), [this] {
            KeepingDialog dialog(m_theme, *m_session, this);
            dialog.exec();
            if (!dialog.outcome().isEmpty()) say(dialog.outcome());
        });
    addPageCommand(menu, PageCommand::NewEdition, QStringLiteral("program.edition"),
                   tr("New &edition with these limits..."), QKeySequence(tr("Ctrl+Alt+E")),
                   tr("Makes a new edition of the rubric in front with the limits of a limit set"));
    makeEditionMenu(menu->addMenu(tr("Rubric edit&or")));
}

void MainWindow::makeEditionMenu(QMenu* menu) {
    struct Entry {
        PageCommand command;
        const char* name;
        QString text;
        QString key;
        QString tip;
    };
    const std::vector<Entry> entries{
        {PageCommand::EditEdition, "edition.edit", tr("&Write the next edition"), tr("Ctrl+Alt+W"),
         tr("Begins a draft from the edition in front, or goes on with the one that is there")},
        {PageCommand::EditionFromFile, "edition.file", tr("Next edition from a &file..."), tr("Ctrl+Alt+O"),
         tr("Begins a draft from a rubric document")},
        {PageCommand::AddZone, "edition.zone", tr("Add a &zone..."), tr("Ctrl+Alt+Z"),
         tr("Adds a zone after the one at hand")},
        {PageCommand::MoveUp, "edition.up", tr("Move &up"), tr("Alt+Up"),
         tr("Moves the step, zone or point at hand up")},
        {PageCommand::MoveDown, "edition.down", tr("Move &down"), tr("Alt+Down"),
         tr("Moves the step, zone or point at hand down")},
        {PageCommand::Retire, "edition.retire", tr("&Retire"), tr("Del"),
         tr("Leaves the thing at hand out of the next edition; its id is never used again")},
        {PageCommand::NextProblem, "edition.check", tr("&Check"), tr("Ctrl+Alt+K"),
         tr("Goes to the next thing that is wrong with the draft")},
        {PageCommand::PreviewScoring, "edition.preview", tr("Pre&view the scoring page..."), tr("Ctrl+Alt+V"),
         tr("Shows the scoring page over the draft; nothing is kept")},
        {PageCommand::PrintStudySheet, "edition.study", tr("Preview the &study sheet..."), tr("Ctrl+Alt+C"),
         tr("Shows the study sheet of the edition or draft in front")},
        {PageCommand::Publish, "edition.publish", tr("&Put in use..."), tr("Ctrl+Alt+Y"),
         tr("Shows what is different and what that does, then puts the edition in the file")},
        {PageCommand::LeaveDraft, "edition.leave", tr("Back to the &editions"), tr("Ctrl+Alt+L"),
         tr("Keeps the draft and shows the editions that are in use")},
        {PageCommand::DropDraft, "edition.drop", tr("&Throw the draft away..."), tr("Ctrl+Alt+X"),
         tr("Forgets the draft; editions that are in use stay")},
    };
    for (const Entry& entry : entries)
        addPageCommand(menu, entry.command, QLatin1String(entry.name), entry.text, QKeySequence(entry.key),
                       entry.tip);
}

void MainWindow::makeHelpMenu() {
    QMenu* menu = menuBar()->addMenu(tr("&Help"));
    const auto add = [this, menu](const char* name, const QString& text, const QKeySequence& key,
                                  const QString& tip, auto slot) {
        QAction* action = addCommand(menu, QLatin1String(name), text, key, tip);
        connect(action, &QAction::triggered, this, slot);
    };
    add("help.help", tr("&Help"), QKeySequence(tr("F1")),
        tr("First steps, keys, printing, what the numbers mean"),
        [this] { showHelp(QStringLiteral("first-attempt")); });
    add("help.keys", tr("&Keys"), QKeySequence(tr("Ctrl+?")), tr("All keys on one sheet"),
        [this] { showKeys(); });
    add("help.cautions", tr("&Cautions and limits"), QKeySequence(tr("Shift+F1")),
        tr("What can hurt somebody, and what the program cannot do"),
        [this] { showHelp(QStringLiteral("cautions")); });
    menu->addSeparator();
    add("help.about", tr("&About Markerlamp"), QKeySequence(tr("Ctrl+Alt+A")),
        tr("Version, license, data folder"), [this] { showAbout(); });
    add("help.qt", tr("About &Qt"), QKeySequence(tr("Ctrl+Alt+Q")),
        tr("The toolkit that the window is made with"), [] { QApplication::aboutQt(); });
}

}  // namespace markerlamp::app
