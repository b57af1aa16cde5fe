// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The track record in the window: worked out beside it, shown by source, and a result put on file.

#include "../readiness/yard_program.h"
#include "../window_fixture.h"

#include "app/support/table_view.h"
#include "app/track/result_dialog.h"
#include "app/track/track_chart.h"
#include "app/track/track_page.h"
#include "app/trainees/trainee_page.h"

#include <QAbstractItemModelTester>
#include <QClipboard>
#include <QComboBox>
#include <QLabel>
#include <QLineEdit>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QRadioButton>

namespace markerlamp::testing {
namespace {

using PageId = app::MainWindow::PageId;

class TrackPageTest : public WindowFixture {
protected:
    /// `tests` official tests of one trainee, each with a forecast frozen the day before; three of four
    /// passed.
    void openYard(int tests, bool attempts = true) {
        const QString file = path(QStringLiteral("yard.markerlamp"));
        {
            auto program = db::ProgramFile::create(file.toStdString()).value();
            ASSERT_TRUE(program->addRubric(yardRubric(1)));
            ASSERT_TRUE(program->saveTrainee({"t-1", "Ada Example", "", "", "", "", {}, "", "", "", false}));
            if (attempts) {
                for (const char* day : {"02", "03", "04", "05"})
                    ASSERT_TRUE(program->addAttempt(
                        yardAttempt(std::string("a-") + day, "t-1",
                                    std::string("2026-02-") + day + "T08:00:00-05:00", kYardSteps)));
            }
            for (int i = 0; i < tests; ++i) {
                const QDate day = QDate(2026, 3, 2).addDays(i);
                core::FrozenForecast frozen;
                frozen.id = "f-" + std::to_string(i);
                frozen.about = core::FrozenForecast::About::OfficialTest;
                frozen.trainee = "t-1";
                frozen.at = app::ss(day.addDays(-1).toString(Qt::ISODate)) + "T18:00:00-05:00";
                frozen.rubric = "yard";
                frozen.modelVersion = 1;
                frozen.chance = i % 4 == 3 ? 0.25 : 0.75;
                ASSERT_TRUE(program->addForecast(frozen));
                ASSERT_TRUE(program->addTestResult({"r-" + std::to_string(i), "t-1",
                                                    app::ss(day.toString(Qt::ISODate)), "inspection",
                                                    i % 4 != 3, ""}));
            }
        }
        makeWindow();
        ASSERT_TRUE(m_window->openFile(file));
        m_window->showPage(PageId::Track);
        finishReading();
    }
    void finishReading() {
        ASSERT_TRUE(QTest::qWaitFor([this] { return !page().isReading(); }, 120000));
        settle();
    }
    [[nodiscard]] app::TrackPage& page() { return *m_window->findChild<app::TrackPage*>(); }
    [[nodiscard]] app::TrackChart& chart() { return *page().findChild<app::TrackChart*>(); }
    [[nodiscard]] app::TableView* table(const char* name) {
        for (auto* view : page().findChildren<app::TableView*>())
            if (view->accessibleName() == QLatin1String(name)) return view;
        ADD_FAILURE() << "no table " << name;
        return nullptr;
    }
    [[nodiscard]] bool shows(const char* words) {
        for (auto* label : page().findChildren<QLabel*>())
            if (label->isVisible() && label->text().contains(QLatin1String(words))) return true;
        return false;
    }
    static QRadioButton* radio(QDialog& dialog, const char* words) {
        for (auto* one : dialog.findChildren<QRadioButton*>())
            if (one->text().remove(QLatin1Char('&')) == QLatin1String(words)) return one;
        return nullptr;
    }
    static QLineEdit* date(QDialog& dialog) {
        for (auto* one : dialog.findChildren<QLineEdit*>())
            if (one->placeholderText() == QLatin1String("YYYY-MM-DD")) return one;
        return nullptr;
    }
};

TEST_F(TrackPageTest, JudgesTwentyResultsAndShowsThePastReplayed) {
    openYard(20);
    QAbstractItemModelTester sources(table("How well the forecasts held")->model());
    QAbstractItemModelTester results(table("Results, newest first")->model());
    EXPECT_EQ(table("How well the forecasts held")->currentIndex().row(), 0) << "official tests come first";
    EXPECT_EQ(table("Results, newest first")->model()->rowCount(), 20);
    // Every forecast misses by 0.25: the mean squared miss is 0.0625; 15 of 20 passed: 0.75 * 0.25.
    EXPECT_TRUE(shows("0.063") || shows("0.062"));
    EXPECT_TRUE(shows("0.188") || shows("0.187"));
    EXPECT_FALSE(shows("too few"));
    EXPECT_TRUE(chart().accessibleDescription().contains(QLatin1String("15 of 15 passed")));
    // Down to the replayed past: four attempts, which are too few to judge.
    QTest::keyClick(table("How well the forecasts held"), Qt::Key_Down);
    QTest::keyClick(table("How well the forecasts held"), Qt::Key_Down);
    settle();
    EXPECT_EQ(table("Results, newest first")->model()->rowCount(), 4);
    EXPECT_TRUE(shows("4 results, too few"));
    EXPECT_FALSE(shows("0.063"));
}

TEST_F(TrackPageTest, CopiesWhatHasTheFocusAndHasADataTable) {
    openYard(20);
    ASSERT_TRUE(page().canPerform(app::PageCommand::CopyTable));
    chart().setFocus();
    trigger("edit.copy");
    const QString groups = QApplication::clipboard()->text();
    EXPECT_EQ(groups.count(QLatin1Char('\n')), 3) << "head and two groups";
    EXPECT_TRUE(groups.contains(QLatin1String("15")));
    table("Results, newest first")->setFocus();
    trigger("edit.copy");
    EXPECT_EQ(QApplication::clipboard()->text().count(QLatin1Char('\n')), 21);
    trigger("edit.image");
    withDialog("view.data", [](QDialog& dialog) {
        EXPECT_EQ(dialog.findChildren<app::TableView*>().size(), 3);
        for (auto* view : dialog.findChildren<app::TableView*>())
            EXPECT_TRUE(view->currentIndex().isValid()) << app::ss(view->accessibleName());
    });
}

TEST_F(TrackPageTest, AnEmptyProgramSaysHowAResultComesAbout) {
    openYard(0, false);
    EXPECT_TRUE(shows("No forecast has met its result yet"));
    EXPECT_TRUE(shows("A forecast is frozen when an attempt over all zones starts"));
    EXPECT_FALSE(page().canPerform(app::PageCommand::DataTable));
}

TEST_F(TrackPageTest, AResultIsRecordedAndHeldAgainstTheForecastBeforeIt) {
    openYard(1);
    core::FrozenForecast frozen;
    frozen.id = "f-new";
    frozen.about = core::FrozenForecast::About::OfficialTest;
    frozen.trainee = "t-1";
    frozen.at = "2026-03-20T18:00:00-05:00";
    frozen.rubric = "yard";
    frozen.chance = 0.8;
    ASSERT_TRUE(m_window->session()->file().addForecast(frozen));
    const auto said = [](QDialog& dialog, const char* words) {
        for (auto* label : dialog.findChildren<QLabel*>())
            if (label->isVisible() && label->text().contains(QLatin1String(words))) return true;
        return false;
    };
    withDialog("program.result", [&](QDialog& dialog) {
        dialog.accept();
        EXPECT_TRUE(dialog.isVisible()) << "nothing was filled in";
        EXPECT_TRUE(said(dialog, "nobody is chosen"));
        EXPECT_TRUE(said(dialog, "no result is chosen"));
        auto* trainee = dialog.findChildren<QComboBox*>().constFirst();
        trainee->setCurrentIndex(trainee->findData(QStringLiteral("t-1")));
        date(dialog)->setText(QStringLiteral("2999-01-01"));
        radio(dialog, "Not passed")->setChecked(true);
        dialog.accept();
        EXPECT_TRUE(said(dialog, "still to come"));
        date(dialog)->setText(QStringLiteral("2026-03-20"));
        EXPECT_FALSE(said(dialog, "80 in 100")) << "frozen on the day itself";
        date(dialog)->setText(QStringLiteral("2026-03-21"));
        EXPECT_TRUE(said(dialog, "80 in 100"));
        dialog.findChild<QPlainTextEdit*>()->setPlainText(QStringLiteral("spring brakes out of order"));
        dialog.accept();
        EXPECT_FALSE(dialog.isVisible());
    });
    const auto results = m_window->session()->file().testResults().value();
    ASSERT_EQ(results.size(), 2u);
    EXPECT_EQ(results[1].date, "2026-03-21");
    EXPECT_FALSE(results[1].passed);
    EXPECT_EQ(results[1].note, "spring brakes out of order");
    finishReading();
    EXPECT_EQ(table("Results, newest first")->model()->rowCount(), 2);
    // The page of the trainee tells it, too, and asks for him at once.
    m_window->findChild<app::TraineePage*>()->showTrainee(QStringLiteral("t-1"));
    m_window->showPage(PageId::Trainee);
    settle();
    withDialog("program.result", [&](QDialog& dialog) {
        EXPECT_EQ(dialog.findChildren<QComboBox*>().constFirst()->currentData().toString(),
                  QStringLiteral("t-1"));
    });
}

TEST_F(TrackPageTest, StopsAndGoesOn) {
    openYard(20);
    m_window->session()->notePeopleChanged();  // the page in front begins anew
    ASSERT_TRUE(page().isReading());
    QPushButton* stop = nullptr;
    for (auto* one : page().findChildren<QPushButton*>())
        if (one->isVisible() && one->text() == QLatin1String("Stop")) stop = one;
    ASSERT_NE(stop, nullptr);
    stop->click();
    finishReading();
    EXPECT_TRUE(shows("Stopped"));
    EXPECT_EQ(table("Results, newest first")->model()->rowCount(), 20) << "what was known stays";
    EXPECT_EQ(stop->text(), QStringLiteral("Go on"));
    stop->click();
    finishReading();
    EXPECT_FALSE(shows("Stopped"));
}

TEST_F(TrackPageTest, ClosingTheProgramStopsTheReading) {
    openDemo();
    m_window->showPage(PageId::Track);
    ASSERT_TRUE(page().isReading());
    m_window->closeFile();
    EXPECT_EQ(m_window->session(), nullptr);
}

}  // namespace
}  // namespace markerlamp::testing
