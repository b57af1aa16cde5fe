// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The program page in the real window over the demo program; readiness is the test's own.

#include "app/program/program_page.h"
#include "../readiness/readiness_support.h"
#include "../window_fixture.h"
#include "app/debrief/debrief_page.h"
#include "app/program/attempts_dialog.h"
#include "app/program/limits_dialog.h"
#include "app/support/block_tabs.h"
#include "app/support/rows_model.h"
#include "app/support/table_view.h"
#include "app/trainees/trainee_page.h"

#include <QComboBox>
#include <QHeaderView>
#include <QLabel>
#include <QLineEdit>
#include <QScrollArea>
#include <QScrollBar>

#include <set>

namespace markerlamp {
namespace {

using PageId = app::MainWindow::PageId;
using testing::eventually;

class ProgramPageTest : public testing::WindowFixture {
protected:
    void SetUp() override {
        makeWindow();
        m_window->setReadinessOpener(testing::opener(m_script));
        const QString file = path(QStringLiteral("demo.markerlamp"));
        // Its practice ends today: the page shows the last weeks.
        const auto made =
            app::makeProgram(file.toStdString(), app::ss(QDate::currentDate().toString(Qt::ISODate)));
        ASSERT_TRUE(made) << made.error().message;
        ASSERT_TRUE(m_window->openFile(file));
        trigger("view.program");
        ASSERT_TRUE(eventually([&] { return page().view()->known() == page().view()->inTraining(); }));
    }
    app::ProgramPage& page() { return *m_window->findChild<app::ProgramPage*>(); }
    app::TableView& table(const char* name) {
        for (app::TableView* one : page().findChildren<app::TableView*>())
            if (one->accessibleName() == QLatin1String(name)) return *one;
        ADD_FAILURE() << name;
        return *page().findChild<app::TableView*>();
    }
    QComboBox& combo(const char* name) {
        for (QComboBox* one : page().findChildren<QComboBox*>())
            if (one->accessibleName() == QLatin1String(name)) return *one;
        ADD_FAILURE() << name;
        return *page().findChild<QComboBox*>();
    }
    void clickHead(int column) {
        QHeaderView& head = *roster().horizontalHeader();
        QTest::mouseClick(head.viewport(), Qt::LeftButton, Qt::NoModifier,
                          {head.sectionViewportPosition(column) + 10, head.height() / 2});
        settle();
    }
    QStringList rosterNames() {
        QStringList names;
        for (int row = 0; row < roster().model()->rowCount(); ++row)
            if (!roster().model()->index(row, 0).data(app::RowsModel::MutedRole).toBool())
                names << roster().model()->index(row, 0).data().toString().toLower();
        return names;
    }
    QPushButton& link(const char* words) {
        for (QPushButton* one : page().findChildren<QPushButton*>())
            if (one->text() == QLatin1String(words)) return *one;
        ADD_FAILURE() << words;
        return *page().findChild<QPushButton*>();
    }
    app::TableView& roster() { return table("Roster and runway"); }

    std::shared_ptr<testing::Script> m_script = std::make_shared<testing::Script>();
};

TEST_F(ProgramPageTest, ShowsEverybodyAndFitsTheWindow) {
    const auto trainees = m_window->session()->file().trainees();
    EXPECT_EQ(roster().model()->rowCount(), static_cast<int>(trainees->size()));
    for (app::BlockTab* tab : page().findChildren<app::BlockTab*>()) {
        tab->click();
        settle();
        for (QScrollArea* area : page().findChildren<QScrollArea*>())
            if (area->isVisible() && area->width() > page().width() * 9 / 10) {
                EXPECT_EQ(area->verticalScrollBar()->maximum(), 0) << app::ss(tab->text());
                EXPECT_EQ(area->horizontalScrollBar()->maximum(), 0) << app::ss(tab->text());
            }
    }
}

TEST_F(ProgramPageTest, EnterInTheRosterOpensTheTrainee) {
    roster().selectRowAt(2);
    const QString key = roster().currentId();
    ASSERT_FALSE(key.isEmpty());
    QTest::keyClick(&roster(), Qt::Key_Return);
    settle();
    EXPECT_EQ(m_window->currentPageId(), PageId::Trainee);
    EXPECT_EQ(m_window->findChild<app::TraineePage*>()->trainee(), key);
}

TEST_F(ProgramPageTest, CommandsAboutATraineeTakeTheRowInFront) {
    roster().setFocus();
    roster().selectRowAt(2);
    const QString key = roster().currentId();
    ASSERT_FALSE(key.isEmpty());
    EXPECT_EQ(page().current(), key);
    const auto trainee = m_window->session()->file().trainee(app::ss(key)).value();
    ASSERT_TRUE(trainee);
    withDialog("program.person", [&](QDialog& dialog) {
        bool named = false;
        for (auto* label : dialog.findChildren<QLabel*>())
            named = named || label->text() == app::qs(trainee->name);
        EXPECT_TRUE(named);
    });
    app::TableView& week = table("Who needs action this week");
    week.setFocus();
    week.selectRowAt(1);
    EXPECT_EQ(page().current(), week.currentId());
}

TEST_F(ProgramPageTest, FindingAndGroupingChangeTheRoster) {
    auto* find = page().findChild<QLineEdit*>();
    const QString name = roster().model()->index(0, 0).data().toString();
    const int all = roster().model()->rowCount();
    find->setText(name);
    settle();
    EXPECT_EQ(roster().model()->rowCount(), 1);
    find->clear();
    combo("Group the roster").setCurrentIndex(1);
    settle();
    EXPECT_GT(roster().model()->rowCount(), all) << "with the headings of the groups";
}

TEST_F(ProgramPageTest, AClickOnAHeadSortsAndASecondTurnsItRound) {
    clickHead(0);
    QStringList sorted = rosterNames();
    ASSERT_GT(sorted.size(), 5);
    std::ranges::sort(
        sorted, [](const QString& a, const QString& b) { return QString::localeAwareCompare(a, b) < 0; });
    EXPECT_EQ(rosterNames(), sorted);
    EXPECT_EQ(combo("Sort the roster").currentText(), QStringLiteral("by name"));
    clickHead(0);
    std::ranges::reverse(sorted);
    EXPECT_EQ(rosterNames(), sorted);
    // The same without a mouse.
    combo("Sort the roster").setCurrentIndex(0);
    settle();
    EXPECT_NE(rosterNames(), sorted);
}

TEST_F(ProgramPageTest, TheLinksLeadToTheTrackRecordAndToTheLimits) {
    testing::whileDialog([&] { link("limits").click(); },
                         [](QDialog& dialog) {
                             EXPECT_NE(qobject_cast<app::LimitsDialog*>(&dialog), nullptr);
                             dialog.reject();
                         });
    link("forecast against results").click();
    settle();
    EXPECT_EQ(m_window->currentPageId(), PageId::Track);
}

TEST_F(ProgramPageTest, SigningIsNotedOnTheDebriefAndTakenBack) {
    db::ProgramFile& file = m_window->session()->file();
    const std::string key = app::ss(page().view()->keysInTraining().front());
    const auto attempts = file.attempts(key).value();
    const auto ended = std::ranges::find(attempts, db::AttemptState::Ended, &db::AttemptInfo::state);
    ASSERT_NE(ended, attempts.end());
    // Made long ago, so that it asks for action.
    ASSERT_TRUE(file.addSheetRecord({"p-old", ended->id, core::SheetEvent::Made, "2026-01-05T08:00:00Z"}));
    const auto standing = [&] {
        return core::sheetStandings(file.sheetRecords(ended->id).value())[ended->id];
    };
    auto* debrief = m_window->findChild<app::DebriefPage*>();
    debrief->showAttempt(app::qs(ended->id));
    trigger("view.debrief");
    EXPECT_TRUE(debrief->debrief().facts.contains(QStringLiteral("sheet of 5 Jan 2026 not signed yet")));
    trigger("file.signed");
    settle();
    EXPECT_FALSE(standing().signedAt.empty());
    EXPECT_TRUE(debrief->debrief().facts.last().startsWith(QLatin1String("sheet signed")));
    trigger("file.signed");
    settle();
    EXPECT_TRUE(standing().signedAt.empty());
    EXPECT_EQ(standing().made, "2026-01-05T08:00:00Z");
    trigger("view.program");
    const auto& sheets = m_window->findChild<app::ProgramPage*>()->view()->entry(app::qs(key));
    ASSERT_NE(sheets, nullptr);
    ASSERT_EQ(sheets->standing.unsignedSheets.size(), 1U);
    EXPECT_EQ(sheets->standing.unsignedSheets.front().first, ended->id);
}

TEST_F(ProgramPageTest, ANumberOfTheCountsShowsTheseInTheRoster) {
    app::TableView& counts = table("Readiness of all in training");
    ASSERT_EQ(counts.model()->rowCount(), 4);
    for (int row = 0; row < 4; ++row) {
        const int count = counts.model()->index(row, 2).data().toInt();
        counts.selectRowAt(row);
        QTest::keyClick(&counts, Qt::Key_Return);
        EXPECT_EQ(roster().model()->rowCount(), count);
        QTest::keyClick(&counts, Qt::Key_Return);  // again: all
    }
    EXPECT_GT(roster().model()->rowCount(), 1);
}

TEST_F(ProgramPageTest, EveryActionLeadsSomewhere) {
    app::TableView& week = table("Who needs action this week");
    ASSERT_GT(week.model()->rowCount(), 0);
    std::set<QString> seen;
    for (int row = 0; row < week.model()->rowCount(); ++row) {
        const QString what = week.model()->index(row, 2).data().toString();
        if (!seen.insert(what).second) continue;
        trigger("view.program");
        week.selectRowAt(row);
        if (what == QLatin1String("Enter the date")) continue;  // a dialog; driven below
        QTest::keyClick(&week, Qt::Key_Return);
        settle();
        EXPECT_NE(m_window->currentPageId(), PageId::Program) << app::ss(what);
    }
}

TEST_F(ProgramPageTest, ANumberOfAWeekOpensTheAttemptsBehindIt) {
    for (app::BlockTab* tab : page().findChildren<app::BlockTab*>())
        if (tab->text() == QLatin1String("Attempts a week")) tab->click();
    app::TableView& load = table("Attempts a week by instructor");
    ASSERT_GT(load.model()->rowCount(), 1);
    const QModelIndex all = load.model()->index(load.model()->rowCount() - 1, app::ProgramView::kWeeks + 1);
    const int count = all.data().toInt();
    ASSERT_GT(count, 0);
    load.setCurrentIndex(all);
    QString chosen;
    testing::whileDialog([&] { QTest::keyClick(&load, Qt::Key_Return); },
                         [&](QDialog& dialog) {
                             auto* table = dialog.findChild<app::TableView*>();
                             EXPECT_EQ(table->model()->rowCount(), count);
                             chosen = table->currentId();
                             QTest::keyClick(table, Qt::Key_Return);
                         });
    EXPECT_EQ(m_window->currentPageId(), PageId::Debrief);
    EXPECT_EQ(m_window->findChild<app::DebriefPage*>()->attempt(), chosen);
}

TEST_F(ProgramPageTest, TheGroupsStepsComeInTheBackgroundAndOpenTheirAttempts) {
    for (app::BlockTab* tab : page().findChildren<app::BlockTab*>())
        if (tab->text() == QLatin1String("Teach the group")) tab->click();
    app::TableView& steps = table("Steps that the group misses");
    ASSERT_TRUE(eventually([&] { return steps.model()->rowCount() > 10; }));
    steps.selectRowAt(0);
    testing::whileDialog(
        [&] { QTest::keyClick(&steps, Qt::Key_Return); },
        [&](QDialog& dialog) { EXPECT_GT(dialog.findChild<app::TableView*>()->model()->rowCount(), 0); });
}

TEST_F(ProgramPageTest, LimitsAreKeptOrRefusedWithWhatWouldBeRight) {
    withDialog("program.limits", [&](QDialog& dialog) {
        const auto fields = dialog.findChildren<QLineEdit*>();
        ASSERT_EQ(fields.size(), 5);
        fields[0]->setText(QStringLiteral("soon"));
        dialog.accept();
        EXPECT_TRUE(dialog.isVisible()) << "refused";
        fields[0]->setText(QStringLiteral("3"));
        dialog.accept();
        EXPECT_FALSE(dialog.isVisible());
    });
    const auto fact = m_window->session()->file().fact("program.attention.stalled_days");
    ASSERT_TRUE(fact && *fact);
    EXPECT_EQ(**fact, "3");
}

TEST_F(ProgramPageTest, WithoutTraineesItSaysWhatToDo) {
    m_window->closeFile();
    ASSERT_TRUE(m_window->createFile(path(QStringLiteral("empty.markerlamp")), false));
    trigger("view.program");
    EXPECT_TRUE(page().view()->roster().empty());
    EXPECT_FALSE(roster().isVisible());
}

}  // namespace
}  // namespace markerlamp
