// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The window around its pages: commands, files, what is dropped on it, and what it says when the disk fails.

#include "../window_fixture.h"

#include "app/debrief/debrief_page.h"
#include "app/rubrics/rubric_page.h"
#include "app/scoring/scoring_page.h"
#include "app/shell/first_page.h"
#include "app/start/resume_card.h"
#include "app/start/start_page.h"
#include "app/support/table_view.h"
#include "app/support/text_widgets.h"
#include "app/trainees/trainee_page.h"
#include "app/trainees/trainees_page.h"
#include "core/attempt/attempt_document.h"

#include "../../support/sample_attempt.h"

#include <QDir>
#include <QDropEvent>
#include <QLabel>
#include <QLineEdit>
#include <QLocale>
#include <QMenu>
#include <QMenuBar>
#include <QMessageBox>
#include <QMimeData>
#include <QPushButton>
#include <QSignalSpy>
#include <QStatusBar>
#include <QSysInfo>
#include <QThread>
#include <QTreeView>

#include <filesystem>
#include <set>

namespace markerlamp::testing {
namespace {

using PageId = app::MainWindow::PageId;

class WindowTest : public WindowFixture {
protected:
    template <class P>
    P& page() {
        return *m_window->findChild<P*>();
    }
    [[nodiscard]] QTableView* table(QWidget& page, const char* name) {
        for (auto* view : page.findChildren<QTableView*>())
            if (view->accessibleName() == QLatin1String(name)) return view;
        ADD_FAILURE() << "no table " << name;
        return nullptr;
    }
    [[nodiscard]] QPushButton* button(const QString& words) {
        for (auto* one : m_window->findChildren<QPushButton*>())
            if (one->isVisible() && one->text() == words) return one;
        ADD_FAILURE() << "no button " << words.toStdString();
        return nullptr;
    }
    [[nodiscard]] QMenu* recentMenu() {
        for (auto* menu : m_window->menuBar()->findChildren<QMenu*>())
            if (menu->title() == QLatin1String("Used &lately")) return menu;
        ADD_FAILURE() << "no menu of recent files";
        return nullptr;
    }
    /// All words of the status bar.
    [[nodiscard]] QString status() {
        QStringList words;
        for (auto* label : m_window->statusBar()->findChildren<QLabel*>()) words << label->text();
        return words.join(QLatin1Char('|'));
    }
    void drop(const QStringList& paths) {
        QMimeData data;
        QList<QUrl> urls;
        for (const QString& path : paths) urls << QUrl::fromLocalFile(path);
        data.setUrls(urls);
        QDragEnterEvent enter(QPoint(200, 200), Qt::CopyAction, &data, Qt::LeftButton, Qt::NoModifier);
        enter.ignore();
        QApplication::sendEvent(m_window.get(), &enter);
        EXPECT_TRUE(enter.isAccepted());
        QDropEvent event(QPointF(200, 200), Qt::CopyAction, &data, Qt::LeftButton, Qt::NoModifier);
        QApplication::sendEvent(m_window.get(), &event);
    }
    [[nodiscard]] std::vector<std::string> everybody() {
        std::vector<std::string> names;
        const auto trainees = m_window->session()->file().trainees();
        const auto instructors = m_window->session()->file().instructors();
        for (const auto& one : *trainees) names.push_back(one.name);
        for (const auto& one : *instructors) names.push_back(one.name);
        return names;
    }
    /// Those of a menu and of the menus in it; a submenu's own entry is not a command.
    static void gather(QMenu* menu, std::vector<QAction*>& actions) {
        for (QAction* action : menu->actions()) {
            if (action->menu() != nullptr)
                gather(action->menu(), actions);
            else if (!action->isSeparator())
                actions.push_back(action);
        }
    }
    /// A new attempt of the first trainee on the first rubric, with nothing scored.
    [[nodiscard]] core::AttemptHeader newHeader() {
        auto& file = m_window->session()->file();
        const auto rubric = builtInRubric("air-brake-school-bus");
        core::AttemptHeader header =
            wholeAttempt(rubric, equipmentWithout(rubric), {rubric.zones.front().id}).header;
        header.trainee = file.trainees()->front().key;
        header.instructor = file.instructors()->front().key;
        header.bus = file.buses()->front().key;
        return header;
    }
    [[nodiscard]] core::Event note(int n, const char* text) const {
        core::Event event;
        event.n = n;
        event.t = n;
        event.kind = core::EventKind::Note;
        event.text = text;
        return event;
    }
};

TEST_F(WindowTest, FirstPageOffersToMakeToOpenAndToTry) {
    makeWindow();
    EXPECT_EQ(m_window->session(), nullptr);
    EXPECT_NE(qobject_cast<app::FirstPage*>(m_window->currentPage()), nullptr);
    const QString file = path(QStringLiteral("made.markerlamp"));
    const auto nameIt = [](const QString& name) {
        return [name](QDialog& dialog) {
            auto* field = dialog.findChild<QLineEdit*>();
            ASSERT_NE(field, nullptr);
            field->setText(name);
            QMetaObject::invokeMethod(&dialog, "accept");
        };
    };
    whileDialog([&] { button(QStringLiteral("Make a new program"))->click(); }, nameIt(file));
    ASSERT_NE(m_window->session(), nullptr);
    EXPECT_TRUE(QFile::exists(file));
    EXPECT_EQ(m_window->session()->file().rubrics()->size(), 2u) << "the built-in rubrics";
    EXPECT_TRUE(m_window->session()->file().trainees()->empty());

    trigger("file.close");
    EXPECT_EQ(m_window->session(), nullptr);
    whileDialog([&] { button(QStringLiteral("open one"))->click(); }, nameIt(file));
    ASSERT_NE(m_window->session(), nullptr);
    EXPECT_EQ(m_window->session()->path(), file);

    trigger("file.close");
    button(QStringLiteral("try the invented demo"))->click();
    ASSERT_NE(m_window->session(), nullptr);
    EXPECT_EQ(m_window->session()->path(), app::MainWindow::demoPath());
    EXPECT_GE(m_window->session()->file().trainees()->size(), 14u);
}

TEST_F(WindowTest, EveryPageIsReachedByItsActionAndShowsWhatTheFileHolds) {
    openDemo();
    auto& file = m_window->session()->file();
    trigger("view.trainee");
    EXPECT_EQ(m_window->currentPage(), &page<app::TraineePage>());
    EXPECT_NE(button(QStringLiteral("Open the list")), nullptr) << "nobody is chosen yet";

    trigger("view.scoring");
    EXPECT_EQ(m_window->currentPage(), &page<app::StartPage>()) << "no attempt runs";
    EXPECT_EQ(page<app::StartPage>().form().data().trainees.size(), file.trainees()->size());

    trigger("view.debrief");
    EXPECT_EQ(m_window->currentPage(), &page<app::DebriefPage>());
    // Without a choice: the newest finished attempt.
    std::string newest;
    const auto attempts = file.attempts();
    for (const auto& info : *attempts)
        if (newest.empty() && info.state == db::AttemptState::Ended) newest = info.id;
    EXPECT_EQ(page<app::DebriefPage>().attempt().toStdString(), newest);
    EXPECT_FALSE(page<app::DebriefPage>().debrief().traineeName.isEmpty());

    trigger("view.trainee");
    EXPECT_EQ(page<app::TraineePage>().trainee(), page<app::DebriefPage>().debrief().traineeKey)
        << "the trainee of the debrief that was just read";

    trigger("view.trainees");
    EXPECT_EQ(m_window->currentPage(), &page<app::TraineesPage>());
    QTableView* people = table(page<app::TraineesPage>(), "Trainees");
    EXPECT_EQ(people->model()->rowCount(), static_cast<int>(file.trainees()->size()));
    const QString first = page<app::TraineesPage>().current();
    EXPECT_FALSE(first.isEmpty());
    QTest::keyClick(people, Qt::Key_Return);
    EXPECT_EQ(m_window->currentPage(), &page<app::TraineePage>());
    EXPECT_EQ(page<app::TraineePage>().trainee(), first);
    EXPECT_EQ(table(page<app::TraineePage>(), "Attempts")->model()->rowCount(),
              static_cast<int>(file.attempts(app::ss(first))->size()));

    trigger("view.rubric");
    EXPECT_EQ(m_window->currentPage(), &page<app::RubricPage>());
    ASSERT_NE(page<app::RubricPage>().rubric(), nullptr);
    EXPECT_EQ(page<app::RubricPage>().findChild<QTreeView*>()->model()->rowCount(),
              static_cast<int>(page<app::RubricPage>().rubric()->zones.size()) + 1)
        << "the zones and what the rubric is about";
}

TEST_F(WindowTest, TheDebriefNamesPeopleAndTheBusAndNotTheirKeys) {
    openDemo();
    auto& file = m_window->session()->file();
    std::string amended;
    const auto attempts = file.attempts();
    for (const auto& info : *attempts)
        if (info.amended) amended = info.id;
    ASSERT_FALSE(amended.empty()) << "the demo has an amended attempt";
    trigger("view.debrief");
    page<app::DebriefPage>().showAttempt(app::qs(amended));
    settle();
    const app::Debrief& debrief = page<app::DebriefPage>().debrief();
    const auto attempt = file.attempt(amended);
    ASSERT_TRUE(attempt);
    EXPECT_TRUE(debrief.facts.contains(QStringLiteral("Bus ") + app::qs(attempt->header.bus)));
    ASSERT_FALSE(debrief.amendments.empty());
    QStringList names;
    const auto instructors = file.instructors();
    for (const core::Instructor& one : *instructors) names << app::qs(one.name);
    EXPECT_TRUE(names.contains(debrief.amendments.back().by)) << app::ss(debrief.amendments.back().by);
}

TEST_F(WindowTest, TheMarkedPageIsTheOneInFrontAndCtrlTabGoesRound) {
    openDemo();
    const std::vector<std::pair<const char*, PageId>> pages{
        {"view.scoring", PageId::Scoring},   {"view.debrief", PageId::Debrief},
        {"view.trainees", PageId::Trainees}, {"view.trainee", PageId::Trainee},
        {"view.program", PageId::Program},   {"view.agreement", PageId::Agreement},
        {"view.track", PageId::Track},       {"view.rubric", PageId::Rubric},
        {"view.trail", PageId::Trail}};
    trigger(pages.front().first);
    for (int turn = 0; turn < 2; ++turn)
        for (const auto& [name, id] : pages) {
            EXPECT_EQ(m_window->currentPageId(), id) << name;
            for (const auto& [other, otherId] : pages)
                EXPECT_EQ(m_window->action(QLatin1String(other))->isChecked(), otherId == id) << other;
            trigger("view.next");
        }
    trigger("view.previous");
    EXPECT_EQ(m_window->currentPageId(), PageId::Trail);
    trigger("view.rubric");
    EXPECT_TRUE(m_window->action(QStringLiteral("view.rubric"))->isChecked()) << "pressed twice";
}

TEST_F(WindowTest, EveryCommandIsInAMenuWithAKeyOfItsOwnAndAStatusTip) {
    openDemo();
    std::set<QAction*> inMenus;
    std::map<QString, QString> keys;
    std::set<QChar> topLetters;
    for (QAction* top : m_window->menuBar()->actions()) {
        ASSERT_NE(top->menu(), nullptr);
        const QString title = top->text();
        EXPECT_TRUE(topLetters.insert(title.at(title.indexOf(QLatin1Char('&')) + 1).toLower()).second)
            << title.toStdString();
        std::set<QChar> letters;
        for (QAction* action : top->menu()->actions()) {
            if (action->isSeparator()) continue;
            const auto at = action->text().indexOf(QLatin1Char('&'));
            ASSERT_GE(at, 0) << action->text().toStdString() << " has no letter";
            EXPECT_TRUE(letters.insert(action->text().at(at + 1).toLower()).second)
                << action->text().toStdString() << " shares its letter in " << title.toStdString();
        }
        std::vector<QAction*> actions;
        gather(top->menu(), actions);
        for (QAction* action : actions) {
            inMenus.insert(action);
            EXPECT_FALSE(action->statusTip().isEmpty()) << action->text().toStdString();
            if (action->shortcut().isEmpty()) continue;
            const QString key = action->shortcut().toString();
            EXPECT_FALSE(keys.contains(key)) << key.toStdString() << " is on " << keys[key].toStdString()
                                             << " and on " << action->text().toStdString();
            keys[key] = action->text();
        }
    }
    ASSERT_GT(m_window->commands().size(), 30);
    for (QAction* action : m_window->commands()) {
        EXPECT_TRUE(inMenus.contains(action)) << action->objectName().toStdString();
        EXPECT_FALSE(action->shortcut().isEmpty()) << action->objectName().toStdString();
    }
    // Nothing acts from outside the menus.
    for (QAction* action : m_window->findChildren<QAction*>())
        if (!action->shortcut().isEmpty() && action->shortcutContext() != Qt::WidgetShortcut &&
            action->shortcutContext() != Qt::WidgetWithChildrenShortcut) {
            EXPECT_TRUE(inMenus.contains(action)) << action->text().toStdString();
        }
}

TEST_F(WindowTest, WithoutAFileOnlyCommandsThatNeedNoneCanBeChosen) {
    makeWindow();
    for (const char* name :
         {"file.new", "file.open", "file.demo", "file.bring-back", "file.quit", "edit.settings",
          "view.palette", "view.full", "help.help", "help.keys", "help.about"})
        EXPECT_TRUE(m_window->action(QLatin1String(name))->isEnabled()) << name;
    for (const char* name :
         {"file.import", "file.export", "file.print", "file.blank", "file.save", "file.close",
          "attempt.start", "attempt.amend", "view.trainees", "view.data", "edit.add", "program.buses"})
        EXPECT_FALSE(m_window->action(QLatin1String(name))->isEnabled()) << name;
}

TEST_F(WindowTest, TheNextPaletteIsShownSaidAndKept) {
    makeWindow();
    const std::vector<std::pair<app::Theme::Choice, QColor>> next{
        {app::Theme::Choice::Sun, forms::Roles::sun().ground},
        {app::Theme::Choice::PreDawn, forms::Roles::preDawn().ground},
        {app::Theme::Choice::System, QColor()},
        {app::Theme::Choice::Day, forms::Roles::day().ground}};
    for (const auto& [choice, ground] : next) {
        trigger("view.palette");
        EXPECT_EQ(m_theme.choice(), choice);
        EXPECT_EQ(m_settings.palette(), choice);
        EXPECT_TRUE(status().contains(m_theme.choiceName() + QLatin1String(" palette")))
            << status().toStdString();
        if (ground.isValid()) {
            EXPECT_EQ(m_window->palette().color(QPalette::Window), ground);
        }
    }
}

TEST_F(WindowTest, RecentFilesAreTheTenNewestThatAreStillThere) {
    QStringList files;
    for (int i = 0; i < 12; ++i) {
        files.prepend(write(QStringLiteral("file-%1.markerlamp").arg(i), "x"));
        m_settings.noteRecentFile(files.first());
    }
    m_settings.noteRecentFile(files.at(3));  // used again: first, and once
    files.prepend(files.takeAt(3));
    makeWindow();
    const auto listed = [this] {
        QStringList paths;
        for (QAction* action : recentMenu()->actions())
            paths << action->text().section(QLatin1String("  "), 1);
        return paths.join(QLatin1Char('\n')).toStdString();
    };
    const auto first = [&files](int count) {
        return QStringList(files.mid(0, count)).join(QLatin1Char('\n')).toStdString();
    };
    EXPECT_EQ(listed(), first(10));
    EXPECT_EQ(recentMenu()->actions().first()->text().left(2), QStringLiteral("&1"));
    EXPECT_EQ(recentMenu()->actions().last()->text().left(2), QStringLiteral("&0"));

    // One goes while the window is open: the menu that opens next does not list it.
    QFile::remove(files.at(4));
    files.removeAt(4);
    emit m_window->menuBar()->actions().first()->menu()->aboutToShow();
    EXPECT_EQ(listed(), first(9)) << "what had fallen off the end does not come back";
}

TEST_F(WindowTest, ARecentFileOpensAndOneThatIsNoProgramIsRefusedInWords) {
    openEmpty();
    const QString mine = m_window->session()->path();
    m_settings.noteRecentFile(write(QStringLiteral("letter.markerlamp"), "Dear driver,"));
    trigger("file.close");
    emit m_window->menuBar()->actions().first()->menu()->aboutToShow();
    const QList<QAction*> entries = recentMenu()->actions();
    ASSERT_EQ(entries.size(), 2);
    whileDialog([&] { entries[0]->trigger(); },
                [](QDialog& dialog) {
                    auto* box = qobject_cast<QMessageBox*>(&dialog);
                    ASSERT_NE(box, nullptr);
                    EXPECT_TRUE(box->text().contains(QStringLiteral("letter.markerlamp")))
                        << box->text().toStdString();
                });
    EXPECT_EQ(m_window->session(), nullptr);
    entries[1]->trigger();
    ASSERT_NE(m_window->session(), nullptr);
    EXPECT_EQ(m_window->session()->path(), mine);
}

TEST_F(WindowTest, TitleAndRecentFilesCarryNoNames) {
    openDemo();
    m_window->showPage(PageId::Trainees);
    page<app::TraineePage>().showTrainee(busiest());
    for (const PageId id :
         {PageId::Scoring, PageId::Debrief, PageId::Trainees, PageId::Trainee, PageId::Rubric}) {
        m_window->showPage(id);
        settle();
        QStringList open{m_window->windowTitle(), m_window->windowFilePath(), m_window->windowIconText()};
        for (QAction* action : recentMenu()->actions()) open << action->text();
        for (const std::string& name : everybody())
            EXPECT_FALSE(open.join(QLatin1Char('|')).contains(app::qs(name))) << name;
    }
    EXPECT_EQ(m_window->windowTitle(), m_window->session()->title() + QStringLiteral(" - Markerlamp"));
}

TEST_F(WindowTest, AFileBesideAnothersLogIsNotOpenedAndLeftAsItIs) {
    makeWindow();
    const std::string file = path(QStringLiteral("demo.markerlamp")).toStdString();
    const std::string other = path(QStringLiteral("other.markerlamp")).toStdString();
    std::filesystem::copy_file(demoFile().toStdString(), file);
    {
        auto open = db::ProgramFile::create(other).value();
        ASSERT_TRUE(open->setFact("program.title", "Other"));
        std::filesystem::copy_file(other + "-wal", file + "-wal");
    }
    const auto size = std::filesystem::file_size(file + "-wal");
    const auto opened = m_window->openFile(app::qs(file));
    ASSERT_FALSE(opened);
    EXPECT_NE(opened.error().message.find("is the log of another file"), std::string::npos)
        << opened.error().message;
    EXPECT_EQ(m_window->session(), nullptr);
    EXPECT_EQ(std::filesystem::file_size(file + "-wal"), size);
    std::filesystem::remove(file + "-wal");
    EXPECT_TRUE(m_window->openFile(app::qs(file)));
}

// A stick that is plugged in again: the same bytes under other numbers.
TEST_F(WindowTest, AFileThatCameBackElsewhereIsReadFromThere) {
    openDemo();
    std::string ended;
    for (const auto all = m_window->session()->file().attempts().value(); const db::AttemptInfo& info : all)
        if (info.state == db::AttemptState::Ended) ended = info.id;
    const core::Attempt before = m_window->session()->file().attempt(ended).value();
    core::Event note;
    note.n = static_cast<int>(before.events.size()) + 1;
    note.t = before.events.back().t;
    note.kind = core::EventKind::Note;
    note.text = "after the stick came back";
    note.by = before.header.instructor;
    note.at = "2026-11-02T07:00:00-05:00";
    ASSERT_TRUE(m_window->session()->flush());
    const QString file = path(QStringLiteral("demo.markerlamp"));
    for (const char* tail : {"-wal", ""}) {
        const std::string name = file.toStdString() + tail;
        std::filesystem::copy_file(name, path(QStringLiteral("copy")).toStdString());
        std::filesystem::rename(path(QStringLiteral("copy")).toStdString(), name);
    }
    QSignalSpy trouble(m_window->session(), &app::Session::trouble);
    m_window->session()->append(app::qs(ended), {note});
    ASSERT_TRUE(QTest::qWaitFor(
        [&] { return !trouble.isEmpty() && trouble.last().at(0).toString().isEmpty(); }, 60'000));
    EXPECT_EQ(m_window->session()->file().attempt(ended)->events.size(), before.events.size() + 1);
    EXPECT_TRUE(m_window->session()->file().setFact("program.title", "Written to where it is now"));
}

// A key may be somebody's number: it stands in the program file, which only its owner may read.
TEST_F(WindowTest, WhatAnAttemptWasStartedWithStandsInTheProgramFileAlone) {
    m_settings.setValue(QStringLiteral("start/trainee"), QStringLiteral("as an older program did"));
    app::Settings(m_settings.store().fileName());
    openDemo();
    const QString trainee = busiest();
    trigger("attempt.start");
    auto* start = m_window->findChild<app::StartPage*>();
    start->chooseTrainee(trainee);
    QTest::keyClick(start, Qt::Key_Return, Qt::ControlModifier);
    settle();
    ASSERT_TRUE(m_window->findChild<app::ScoringPage*>()->isActive());
    EXPECT_EQ(m_window->session()->file().fact("ui.start.trainee").value(), app::ss(trainee));
    m_settings.store().sync();
    QFile kept(m_settings.store().fileName());
    ASSERT_TRUE(kept.open(QIODevice::ReadOnly));
    const QByteArray bytes = kept.readAll();
    EXPECT_FALSE(bytes.contains(trainee.toUtf8())) << bytes.toStdString();
    EXPECT_FALSE(bytes.contains("older program")) << bytes.toStdString();
}

TEST_F(WindowTest, DroppedDocumentsAreTakenIn) {
    openDemo();
    auto& file = m_window->session()->file();
    const auto people = file.trainees()->size();
    const auto attempts = file.attempts()->size();
    std::string yaml = builtInText("air-brake-school-bus.rubric.yaml");
    const std::string edition = "\nedition: 1\n";
    yaml.replace(yaml.find(edition), edition.size(), "\nedition: 2\n");
    core::Attempt attempt = *file.attempt(file.attempts(app::ss(busiest()))->front().id);
    attempt.header.id = "5b1c6c52-0000-4000-8000-00000000d0d0";
    const QStringList documents{
        write(QStringLiteral("people.csv"), "key,name,group\nnew-1,Wanda Invented,spring\n"),
        write(QStringLiteral("two.rubric.yaml"), yaml),
        write(QStringLiteral("one.attempt.jsonl"), core::writeAttempt(attempt)),
        write(QStringLiteral("broken.attempt.jsonl"), "{\"format\":\"markerlamp.attempt/1\"}\n")};
    m_window->showPage(PageId::Trainees);
    whileDialog(
        [&] { drop(documents); },
        [&](QDialog& dialog) {
            auto* list = dialog.findChild<QTableView*>();
            ASSERT_NE(list, nullptr);
            ASSERT_EQ(list->model()->rowCount(), 4);
            // The refusal stands first.
            EXPECT_EQ(list->model()->index(0, 0).data().toString(), QStringLiteral("refused"));
            EXPECT_TRUE(list->model()->index(0, 3).data().toString().contains(QStringLiteral("broken")));
            for (int row = 1; row < 4; ++row)
                EXPECT_EQ(list->model()->index(row, 0).data().toString(), QStringLiteral("added"));
        });
    EXPECT_TRUE(status().contains(QStringLiteral("3 added, 0 already there, 1 refused")))
        << status().toStdString();
    EXPECT_EQ(file.trainees()->size(), people + 1);
    EXPECT_EQ(file.attempts()->size(), attempts + 1);
    EXPECT_EQ(file.rubrics()->size(), 3u);
    EXPECT_EQ(table(page<app::TraineesPage>(), "Trainees")->model()->rowCount(), static_cast<int>(people) + 1)
        << "the list in front shows who was added";
}

TEST_F(WindowTest, ADroppedProgramOpensAndDocumentsNeedOne) {
    makeWindow();
    drop({write(QStringLiteral("people.csv"), "key,name\nnew-1,Wanda Invented\n")});
    EXPECT_EQ(m_window->session(), nullptr);
    EXPECT_TRUE(status().contains(QStringLiteral("Open or make a program first"))) << status().toStdString();
    const QString file = path(QStringLiteral("dropped.markerlamp"));
    ASSERT_TRUE(app::makeProgram(file.toStdString()));
    drop({file});
    ASSERT_NE(m_window->session(), nullptr);
    EXPECT_EQ(m_window->session()->path(), file);
}

TEST_F(WindowTest, AFileWithAnOpenAttemptOffersToGoOnFirst) {
    openDemo();
    EXPECT_EQ(m_window->currentPage(), &page<app::StartPage>());
    const auto& unfinished = page<app::StartPage>().form().data().unfinished;
    ASSERT_EQ(unfinished.size(), 1u);
    auto* card = page<app::StartPage>().findChild<app::ResumeCard*>();
    ASSERT_NE(card, nullptr);
    EXPECT_TRUE(card->isVisible());
    QString words;
    for (auto* label : card->findChildren<QLabel*>()) words += label->text();
    EXPECT_TRUE(words.contains(unfinished.front().traineeName)) << words.toStdString();
    EXPECT_TRUE(words.contains(QString::number(unfinished.front().scored))) << words.toStdString();

    // Set aside, it is not offered again.
    const std::string id = app::ss(unfinished.front().id);
    ASSERT_TRUE(m_window->session()->file().setAside(id));
    trigger("file.close");
    ASSERT_TRUE(m_window->openFile(path(QStringLiteral("demo.markerlamp"))));
    EXPECT_EQ(m_window->currentPageId(), PageId::Trainees);
}

TEST_F(WindowTest, AFileThatAnotherWindowHasOpenIsRefusedAndTheOpenOneStays) {
    openEmpty();
    const QString mine = m_window->session()->path();
    const QString other = path(QStringLiteral("other.markerlamp"));
    const auto elsewhere = app::Session::create(other, false);
    ASSERT_TRUE(elsewhere);
    const auto opened = m_window->openFile(other);
    ASSERT_FALSE(opened);
    EXPECT_EQ(opened.error().kind, core::ErrorKind::Busy);
    const QString told = app::qs(opened.error().message);
    for (const QString& word :
         {QSysInfo::machineHostName(), QString::number(QCoreApplication::applicationPid()),
          QLocale().toString(QDate::currentDate(), QLocale::ShortFormat)})
        EXPECT_TRUE(told.contains(word)) << told.toStdString() << " lacks " << word.toStdString();
    EXPECT_NE(opened.error().message.find("other.markerlamp"), std::string::npos) << opened.error().message;
    EXPECT_EQ(m_window->session()->path(), mine);
}

TEST_F(WindowTest, ANewProgramInPlaceOfTheOpenOneIsRefusedByThatReason) {
    openEmpty();
    const QString mine = m_window->session()->path();
    const auto made = m_window->createFile(mine, false);
    ASSERT_FALSE(made);
    EXPECT_EQ(made.error().kind, core::ErrorKind::Refused);
    EXPECT_NE(made.error().message.find("open in this window"), std::string::npos) << made.error().message;
    EXPECT_EQ(m_window->session()->path(), mine);
}

TEST_F(WindowTest, ANewProgramNeverTakesThePlaceOfAFile) {
    makeWindow();
    const QString file = write(QStringLiteral("letter.markerlamp"), "Dear driver,");
    EXPECT_FALSE(m_window->createFile(file, false));
    QFile letter(file);
    ASSERT_TRUE(letter.open(QIODevice::ReadOnly));
    EXPECT_EQ(letter.readAll(), QByteArray("Dear driver,"));
}

TEST_F(WindowTest, TheWindowComesBackWhereItWas) {
    makeWindow();
    m_window->resize(1100, 700);
    settle();
    m_window->close();
    m_window = std::make_unique<app::MainWindow>(m_theme, m_settings);
    EXPECT_EQ(m_window->size(), QSize(1100, 700));
}

TEST_F(WindowTest, PressesAreToldOnTheThreadOfTheWindow) {
    openDemo();
    auto& session = *m_window->session();
    QThread* teller = nullptr;
    quint64 upTo = 0;
    QObject::connect(
        &session, &app::Session::stored, &session,
        [&](quint64 ticket) {
            teller = QThread::currentThread();
            upTo = ticket;
        },
        Qt::DirectConnection);
    const core::AttemptHeader header = newHeader();
    session.startAttempt(header);
    const quint64 last = session.append(app::qs(header.id), {note(1, "level ground, chocks set")});
    ASSERT_TRUE(session.flush());
    EXPECT_EQ(upTo, 0u) << "told by the writer's thread";
    ASSERT_TRUE(QTest::qWaitFor([&] { return upTo == last; }));
    EXPECT_EQ(teller, QCoreApplication::instance()->thread());
    EXPECT_EQ(session.storedUpTo(), last);
    EXPECT_TRUE(status().contains(QStringLiteral("saved "))) << status().toStdString();
}

TEST_F(WindowTest, AFailingDiskIsSaidInWordsAndWhenItWorksAgainThatToo) {
    openDemo();
    auto& session = *m_window->session();
    QThread* teller = nullptr;
    QString message;
    int waiting = 0;
    bool told = false;
    QObject::connect(
        &session, &app::Session::trouble, &session,
        [&](const QString& words, int count) {
            teller = QThread::currentThread();
            message = words;
            waiting = count;
            told = true;
        },
        Qt::DirectConnection);
    const core::AttemptHeader header = newHeader();
    // The stick is pulled out before the first press.
    const QString file = path(QStringLiteral("demo.markerlamp"));
    const QString away = path(QStringLiteral("away.markerlamp"));
    ASSERT_TRUE(QFile::rename(file, away));
    session.startAttempt(header);
    session.append(app::qs(header.id), {note(1, "level ground, chocks set")});
    ASSERT_TRUE(QTest::qWaitFor([&] { return told && waiting == 2; }));
    EXPECT_EQ(teller, QCoreApplication::instance()->thread());
    EXPECT_FALSE(message.isEmpty());
    EXPECT_TRUE(status().contains(QStringLiteral("NOT SAVED"))) << status().toStdString();
    // Why, and what to do, stands over the page, wrapped: it may be long, and makes no window wider.
    const auto* warning = m_window->findChild<app::Text*>(QStringLiteral("warning"));
    EXPECT_TRUE(warning->isVisible());
    const auto* said = m_window->findChild<QLabel*>(QStringLiteral("said"));
    ASSERT_NE(said, nullptr);
    EXPECT_FALSE(said->text().contains(message)) << "said once";
    EXPECT_TRUE(warning->text().contains(message)) << warning->text().toStdString();
    EXPECT_TRUE(warning->text().contains(QStringLiteral("2 waiting"))) << warning->text().toStdString();
    EXPECT_LE(m_window->minimumSizeHint().width(), 1366);
    EXPECT_EQ(m_window->width(), 1366);
    trigger("file.save");
    EXPECT_TRUE(status().contains(QStringLiteral("kept in memory"))) << status().toStdString();

    told = false;
    ASSERT_TRUE(QFile::rename(away, file));
    ASSERT_TRUE(QTest::qWaitFor([&] { return told && message.isEmpty(); }, 20000));
    EXPECT_FALSE(status().contains(QStringLiteral("NOT SAVED"))) << status().toStdString();
    EXPECT_FALSE(warning->isVisible());
    EXPECT_TRUE(status().contains(QStringLiteral("Writing works again"))) << status().toStdString();
    const auto stored = session.file().attempt(header.id);
    ASSERT_TRUE(stored);
    EXPECT_EQ(stored->events.size(), 1u);
}

TEST_F(WindowTest, SavingSaysThatEverythingIsSaved) {
    openEmpty();
    trigger("file.save");
    EXPECT_TRUE(status().contains(QStringLiteral("Everything is saved already"))) << status().toStdString();
}

TEST_F(WindowTest, TheNameOfTheProgramIsAskedForAndShown) {
    openEmpty();
    withDialog("program.title", [](QDialog& dialog) {
        dialog.findChild<QLineEdit*>()->setText(QStringLiteral("  Invented Valley training "));
        dialog.accept();
    });
    EXPECT_EQ(m_window->session()->title(), QStringLiteral("Invented Valley training"));
    EXPECT_EQ(m_window->windowTitle(), QStringLiteral("Invented Valley training - Markerlamp"));
}

}  // namespace
}  // namespace markerlamp::testing
