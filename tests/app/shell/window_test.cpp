// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The window around its pages: commands, what is dropped on it, what it shows of a file.

#include "../window_fixture.h"

#include "app/debrief/debrief_page.h"
#include "app/rubrics/rubric_page.h"
#include "app/scoring/scoring_page.h"
#include "app/shell/first_page.h"
#include "app/start/start_page.h"
#include "app/support/table_view.h"
#include "app/trainees/trainee_page.h"
#include "app/trainees/trainees_page.h"
#include "core/attempt/attempt_document.h"

#include "../../support/sample_attempt.h"

#include <QDropEvent>
#include <QLabel>
#include <QLineEdit>
#include <QMenu>
#include <QMenuBar>
#include <QMimeData>
#include <QPushButton>
#include <QTreeView>

#include <set>

namespace markerlamp::testing {
namespace {

using PageId = app::MainWindow::PageId;

class WindowTest : public WindowFixture {
protected:
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
    /// Those of a menu and of the menus in it; a submenu's own entry is not a command.
    static void gather(QMenu* menu, std::vector<QAction*>& actions) {
        for (QAction* action : menu->actions()) {
            if (action->menu() != nullptr)
                gather(action->menu(), actions);
            else if (!action->isSeparator())
                actions.push_back(action);
        }
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

// On a page where names are hidden it would give one away.
TEST_F(WindowTest, WhatAPageSaidOfItselfGoesWithIt) {
    openDemo();
    trigger("view.debrief");
    const auto* said = m_window->findChild<QLabel*>(QStringLiteral("said"));
    ASSERT_TRUE(said->text().startsWith(QStringLiteral("Debrief of"))) << said->text().toStdString();
    const QString words = said->text();
    trigger("view.agreement");
    EXPECT_NE(said->text(), words);
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

TEST_F(WindowTest, TheWindowComesBackWhereItWas) {
    makeWindow();
    m_window->resize(1100, 700);
    settle();
    m_window->close();
    m_window = std::make_unique<app::MainWindow>(m_theme, m_settings);
    EXPECT_EQ(m_window->size(), QSize(1100, 700));
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
