// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The trail in the window: read beside it, filtered, printed, and what it says of a change behind its back.

#include "../readiness/yard_program.h"
#include "../window_fixture.h"

#include "app/support/table_view.h"
#include "app/trail/trail_page.h"
#include "db/copies/verify.h"

#include <QComboBox>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>

#include <sqlite3.h>

namespace markerlamp::testing {
namespace {

using PageId = app::MainWindow::PageId;

class TrailPageTest : public WindowFixture {
protected:
    void openYard() {
        m_path = path(QStringLiteral("yard.markerlamp"));
        {
            auto program = db::ProgramFile::create(m_path.toStdString()).value();
            program->actAs({"Robin Coordinator", core::Role::Coordinator, ""});
            ASSERT_TRUE(program->addRubric(yardRubric(1)));
            ASSERT_TRUE(program->saveTrainee({"t-1", "Ada Example", "", "", "", "", {}, "", "", "", false}));
            ASSERT_TRUE(program->saveTrainee({"t-2", "Bo Sample", "", "", "", "", {}, "", "", "", false}));
            ASSERT_TRUE(program->saveTrainee(
                {"t-1", "Ada Example", "", "", "2026-09-01", "", {}, "", "", "", false}));
            ASSERT_TRUE(
                program->addAttempt(yardAttempt("a-1", "t-1", "2026-02-02T08:00:00-05:00", kYardSteps)));
            program->actAs({});
            ASSERT_TRUE(program->addTestResult({"r-1", "t-1", "2026-03-02", "inspection", true, ""}));
            ASSERT_TRUE(program->setFact("program.title", "Invented district"));
        }
        show();
    }
    void show() {
        makeWindow();
        ASSERT_TRUE(m_window->openFile(m_path));
        m_window->showPage(PageId::Trail);
        finishReading();
    }
    void finishReading() {
        ASSERT_TRUE(QTest::qWaitFor([this] { return !page().isReading(); }, 60000));
        settle();
    }
    [[nodiscard]] app::TrailPage& page() { return *m_window->findChild<app::TrailPage*>(); }
    template <class Widget>
    [[nodiscard]] Widget& named(const char* name) {
        for (auto* widget : page().findChildren<Widget*>())
            if (widget->accessibleName() == QLatin1String(name)) return *widget;
        ADD_FAILURE() << "no " << name;
        std::abort();
    }
    [[nodiscard]] QStringList column(int which) {
        QStringList texts;
        const auto* model = named<app::TableView>("Changes, newest first").model();
        for (int row = 0; row < model->rowCount(); ++row) texts << model->index(row, which).data().toString();
        return texts;
    }
    [[nodiscard]] bool shows(const char* words) {
        for (auto* label : page().findChildren<QLabel*>())
            if (label->isVisible() && label->text().contains(QLatin1String(words))) return true;
        return false;
    }
    QString m_path;
};

TEST_F(TrailPageTest, ShowsWhoChangedWhatNewestFirst) {
    openYard();
    EXPECT_EQ(column(0), (QStringList{"7", "6", "5", "4", "3", "2", "1"}));
    EXPECT_EQ(column(2).first(), QStringLiteral("nobody signed in"));
    EXPECT_EQ(column(2).last(), QStringLiteral("Robin Coordinator"));
    EXPECT_EQ(column(3),
              (QStringList{"setting changed", "test result recorded", "attempt brought in", "trainee changed",
                           "trainee added", "trainee added", "rubric edition added"}));
    EXPECT_EQ(column(4).at(3), QStringLiteral("Ada Example"));
    EXPECT_EQ(column(5).at(3), QStringLiteral("permit until: 2026-09-01"));
    EXPECT_TRUE(shows("every seal fits"));
}

TEST_F(TrailPageTest, OneEntryStandsBesideTheListWithItsSeal) {
    openYard();
    named<app::TableView>("Changes, newest first").selectRowAt(3);
    settle();
    EXPECT_TRUE(shows("Entry 4: trainee changed by Robin Coordinator"));
    const auto* fields = named<app::TableView>("What the entry says").model();
    ASSERT_EQ(fields->rowCount(), 1);
    EXPECT_EQ(fields->index(0, 0).data().toString(), QStringLiteral("permit until"));
    EXPECT_EQ(fields->index(0, 2).data().toString(), QStringLiteral("2026-09-01"));
    const auto entries =
        db::ProgramFile::open(m_path.toStdString(), db::OpenMode::ReadOnly).value()->trail().value();
    EXPECT_TRUE(shows(("Seal " + entries[3].seal.substr(0, 8) + " " + entries[3].seal.substr(8, 8)).c_str()));
}

TEST_F(TrailPageTest, IsFilteredByTopicPersonAgeAndWords) {
    openYard();
    auto& topic = named<QComboBox>("Which changes");
    topic.setCurrentText(QStringLiteral("people"));
    EXPECT_EQ(column(0), (QStringList{"4", "3", "2"}));
    named<QLineEdit>("Find in the trail").setText(QStringLiteral("bo sam"));
    EXPECT_EQ(column(0), (QStringList{"3"}));
    named<QLineEdit>("Find in the trail").clear();
    topic.setCurrentIndex(0);
    named<QComboBox>("By whom").setCurrentText(QStringLiteral("nobody signed in"));
    EXPECT_EQ(column(0), (QStringList{"7", "6"}));
    named<QComboBox>("How old").setCurrentIndex(1);
    EXPECT_EQ(column(0), (QStringList{"7", "6"})) << "changed today";
    named<QLineEdit>("Find in the trail").setText(QStringLiteral("no such words"));
    EXPECT_TRUE(column(0).isEmpty());
    EXPECT_TRUE(shows("No change fits what is looked for."));
    EXPECT_FALSE(page().canPerform(app::PageCommand::PrintSheet));
}

TEST(TrailView, LeavesOutWhatIsTooOld) {
    app::TrailReading reading;
    core::TrailEntry entry;
    entry.number = 1;
    entry.by = "i-1";
    entry.what = "setting.changed";
    entry.words = "{}";
    entry.atMs = QDateTime(QDate(2026, 3, 2), QTime(12, 0)).toMSecsSinceEpoch();
    reading.entries = {entry};
    app::TrailView view(reading, QDate(2026, 3, 10));
    view.setFilter({.days = 7});
    EXPECT_TRUE(view.shown().empty());
    view.setFilter({.days = 30});
    EXPECT_EQ(view.shown().size(), 1u);
}

TEST_F(TrailPageTest, GoesOnPaperAsItIsFiltered) {
    openYard();
    named<QComboBox>("Which changes").setCurrentText(QStringLiteral("people"));
    const forms::Sheet sheet = page().sheet();
    ASSERT_EQ(sheet.pages(), 1);
    QString all;
    for (const auto& text : sheet.texts(0)) all += text.text + QLatin1Char('\n');
    for (const char* words :
         {"Trail of changes", "Invented district", "people", "trainee changed: Ada Example",
          "permit until: 2026-09-01", "Robin Coordinator", "every seal fits", "Looked through by"})
        EXPECT_TRUE(all.simplified().contains(QLatin1String(words))) << words << "\n" << all.toStdString();
    EXPECT_FALSE(all.contains(QLatin1String("rubric edition added")));
    const std::string seal = page().view().reading().entries.back().seal;
    EXPECT_TRUE(all.remove(QLatin1Char(' ')).remove(QLatin1Char('\n')).contains(app::qs(seal)));
}

TEST_F(TrailPageTest, SaysWhatWasChangedBehindItsBack) {
    openYard();
    m_window.reset();
    sqlite3* handle = nullptr;
    ASSERT_EQ(sqlite3_open(m_path.toUtf8().constData(), &handle), SQLITE_OK);
    EXPECT_EQ(
        sqlite3_exec(handle,
                     "INSERT INTO erasing SELECT 't-1', 'erased-x'; "
                     "UPDATE trail_entry SET salt = NULL, trainee = NULL, subject = NULL, words = NULL WHERE "
                     "number = 4; DELETE FROM erasing",
                     nullptr, nullptr, nullptr),
        SQLITE_OK)
        << sqlite3_errmsg(handle);
    sqlite3_close(handle);
    show();
    EXPECT_TRUE(shows("entry 4"));
    EXPECT_TRUE(shows("was changed behind the program's back"));
    EXPECT_FALSE(shows("every seal fits"));
}

TEST_F(TrailPageTest, FollowsWhatIsChangedWhileItIsShown) {
    openYard();
    auto program = db::ProgramFile::open(m_path.toStdString()).value();
    ASSERT_TRUE(program->saveInstructor({"i-7", "Kim Teacher", false}));
    program.reset();
    for (auto* button : page().findChildren<QPushButton*>())
        if (button->text().contains(QStringLiteral("Check the seals"))) button->click();
    finishReading();
    EXPECT_EQ(column(3).first(), QStringLiteral("instructor added"));
    EXPECT_EQ(column(4).first(), QStringLiteral("Kim Teacher"));
}

}  // namespace
}  // namespace markerlamp::testing
