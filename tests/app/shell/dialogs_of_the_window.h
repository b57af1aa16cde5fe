#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Opens every page and every dialog of the window over the demo, for tests that look at all of them.

#include "../window_fixture.h"

#include "app/rubrics/editor_page.h"
#include "app/rubrics/rubric_page.h"
#include "app/rubrics/rule_drawing.h"
#include "app/rubrics/step_form.h"
#include "app/rubrics/step_tree.h"
#include "app/scoring/scoring_page.h"
#include "app/start/start_page.h"
#include "app/support/table_view.h"
#include "app/trainees/trainee_page.h"

#include <QPushButton>

#include <array>

namespace markerlamp::testing {

class DialogsOfTheWindow : public WindowFixture {
protected:
    using PageId = app::MainWindow::PageId;

    inline static constexpr std::array kPages{PageId::Scoring, PageId::Debrief, PageId::Trainees,
                                              PageId::Trainee, PageId::Program, PageId::Agreement,
                                              PageId::Track,   PageId::Rubric,  PageId::Trail};

    /// The page of the trainee with the most attempts is filled.
    void showBusiest() {
        m_window->findChild<app::TraineePage*>()->showTrainee(busiest());
        m_window->showPage(PageId::Trainee);
        settle();
    }
    /// An attempt runs on the scoring page.
    void beginAttempt() {
        auto* start = m_window->findChild<app::StartPage*>();
        m_window->showPage(PageId::Scoring);
        start->chooseTrainee(busiest());
        QTest::keyClick(start, Qt::Key_Return, Qt::ControlModifier);
        settle();
    }

    /// The next edition of the air-brake rubric, with one thing changed, at a step that has a reading.
    void openDraft() {
        m_window->showPage(PageId::Rubric);
        settle();
        m_window->findChild<app::RubricPage*>()->choose(QStringLiteral("air-brake-school-bus"), 1);
        trigger("edition.edit");
        auto* editor = m_window->findChild<app::EditorPage*>();
        editor->draft()->change(QStringLiteral("change"), {},
                                [](core::Rubric& rubric) { rubric.pass.percent = 81; });
        editor->findChild<app::StepTree*>()->select(QStringLiteral("air-brakes"),
                                                    QStringLiteral("applied-leak"));
        settle();
    }

    using Look = std::function<void(const char* name, QDialog& dialog)>;

    /// Each dialog in turn; look() may leave it open. The demo must be open and no attempt run.
    void forEachDialog(const Look& look) {
        const auto whole = [&](const char* command, const char* name) {
            withDialog(command, [&](QDialog& dialog) { show(name, dialog, look); });
        };
        m_window->showPage(PageId::Trainees);
        settle();
        whole("edit.settings", "settings");
        whole("edit.add", "new trainee");
        whole("edit.edit", "trainee");
        whole("program.title", "name of the program");
        whole("program.instructors", "instructors");
        whole("program.buses", "buses");
        whole("program.readiness", "gates and words");
        whole("program.limits", "needs action");
        whole("program.result", "test result");
        whole("program.person", "papers, hours and tests");
        whole("program.dates", "dates and records");
        whole("program.keeping", "keeping and erasing");
        inside("program.instructors", "instructor", look);
        inside("program.buses", "bus", look);
        whole("file.export", "export");
        whole("file.copies", "copies");
        whole("file.bring-back", "bring back a copy");
        whole("file.sign-in", "who may sign in");
        whole("attempt.second", "second scoring");
        whole("file.blank", "blank sheet");
        whole("file.study", "study sheet");
        whole("help.keys", "keys");
        whole("help.about", "about");
        whileDialog(
            [this] {
                m_window->importFiles(
                    {write(QStringLiteral("people.csv"), "key,name\nnew-1,Wanda Invented\n"),
                     write(QStringLiteral("broken.attempt.jsonl"),
                           "{\"format\":\"markerlamp.attempt/1\"}\n")});
            },
            [&](QDialog& dialog) { show("import", dialog, look); });
        showBusiest();
        whole("view.data", "data table");
        whole("file.preview", "preview");
        m_window->showPage(PageId::Debrief);
        settle();
        whole("attempt.amend", "amend");
        openDraft();
        whole("edition.zone", "new zone");
        whole("edition.publish", "put in use");
        whole("edition.preview", "preview of the scoring page");
        whole("edition.drop", "throw the draft away");
        auto* editor = m_window->findChild<app::EditorPage*>();
        for (const auto& [view, name] :
             {std::pair<QWidget*, const char*>{editor->findChild<app::StepForm*>()->pointsTable(), "point"},
              {editor->findChild<app::RuleDrawing*>(), "order rule"}}) {
            view->setFocus();
            whole("edit.edit", name);
        }
        for (auto* table : editor->findChildren<app::TableView*>())
            if (table->accessibleName() == QLatin1String("Limits with their sources")) {
                table->setFocus();
                whole("edit.edit", "limit");
            }
        whileDialog([&] { editor->findChild<app::StepForm*>()->editReading(); },
                    [&](QDialog& dialog) { show("reading", dialog, look); });
        QApplication::setActiveWindow(m_window.get());
        editor->findChild<app::StepTree*>()->select({}, {});
        for (const char* name : {"Equipment", "Sections"})
            for (auto* table : editor->findChildren<app::TableView*>())
                if (table->accessibleName() == QLatin1String(name)) {
                    table->setFocus();
                    whole("edit.edit", name);
                }
        trigger("edition.leave");
        whole("program.edition", "new edition");
        // The help stands beside the window.
        trigger("help.help");
        for (QWidget* top : QApplication::topLevelWidgets())
            if (auto* dialog = qobject_cast<QDialog*>(top); dialog != nullptr && dialog->isVisible()) {
                show("help", *dialog, look);
                dialog->close();
            }
        QApplication::setActiveWindow(m_window.get());
        settle();
    }

private:
    static void show(const char* name, QDialog& dialog, const Look& look) {
        QApplication::setActiveWindow(&dialog);
        settle();
        look(name, dialog);
    }
    /// The form that a list opens for its current row.
    void inside(const char* command, const char* name, const Look& look) {
        withDialog(command, [&](QDialog& list) {
            auto* table = list.findChild<app::TableView*>();
            ASSERT_NE(table, nullptr);
            // Not the list itself, which is modal already.
            QTimer watch;
            bool seen = false;
            QObject::connect(&watch, &QTimer::timeout, &watch, [&] {
                auto* form = qobject_cast<QDialog*>(QApplication::activeModalWidget());
                if (form == nullptr || form == &list) return;
                watch.stop();
                seen = true;
                show(name, *form, look);
                if (form->isVisible()) form->reject();
            });
            watch.start(5);
            QTest::keyClick(table, Qt::Key_Return);
            EXPECT_TRUE(seen) << name;
        });
    }
};

}  // namespace markerlamp::testing
