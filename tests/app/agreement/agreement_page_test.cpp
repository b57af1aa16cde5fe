// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Second scoring and agreement in the window: from the menu to the third record.

#include "../window_fixture.h"
#include "shared_yard.h"

#include "app/agreement/agreement_page.h"
#include "app/agreement/agreement_views.h"
#include "app/agreement/difference_table.h"
#include "app/debrief/debrief_page.h"
#include "app/scoring/scoring_page.h"
#include "app/start/start_page.h"
#include "app/support/table_view.h"
#include "core/agreement/attempt_code.h"

#include <QAbstractItemModelTester>
#include <QCheckBox>
#include <QComboBox>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QSignalSpy>

namespace markerlamp::testing {
namespace {

using PageId = app::MainWindow::PageId;

class AgreementPageTest : public WindowFixture {
protected:
    void openYard(const std::function<void(db::ProgramFile&)>& fill) {
        const QString file = path(QStringLiteral("yard.markerlamp"));
        fill(*yardProgram(file.toStdString()));
        makeWindow();
        ASSERT_TRUE(m_window->openFile(file));
    }
    void showAgreement() {
        m_window->showPage(PageId::Agreement);
        ASSERT_TRUE(QTest::qWaitFor([this] { return !page().isReading(); }, 120000));
        settle();
    }
    [[nodiscard]] app::AgreementPage& page() { return *m_window->findChild<app::AgreementPage*>(); }
    [[nodiscard]] app::TableView& differences() {
        for (auto* view : page().findChildren<app::TableView*>())
            if (view->accessibleName() == QLatin1String("Only the differences")) return *view;
        throw std::runtime_error("no table of differences");
    }
    [[nodiscard]] QPushButton* button(QWidget& in, const char* words) {
        for (auto* one : in.findChildren<QPushButton*>())
            if (one->text().remove(QLatin1Char('&')) == QLatin1String(words)) return one;
        ADD_FAILURE() << "no button " << words;
        return nullptr;
    }
    [[nodiscard]] bool shows(QWidget& in, const char* words) {
        for (auto* label : in.findChildren<QLabel*>())
            if (label->isVisible() && label->text().contains(QLatin1String(words))) return true;
        return false;
    }
    static void choose(QDialog& dialog, const char* name) {
        for (auto* box : dialog.findChildren<QComboBox*>())
            if (const int row = box->findText(QLatin1String(name)); row >= 0) box->setCurrentIndex(row);
    }
};

TEST_F(AgreementPageTest, AnEmptyPageSaysWhatToDo) {
    openYard([](db::ProgramFile&) {});
    showAgreement();
    EXPECT_TRUE(shows(page(), "No attempt has two closed scorings yet"));
    EXPECT_FALSE(page().canPerform(app::PageCommand::DataTable));
}

TEST_F(AgreementPageTest, DifferencesAreSettledByKeyAndStored) {
    openYard(addPair);
    showAgreement();
    app::TableView& table = differences();
    const QAbstractItemModelTester tester(table.model(),
                                          QAbstractItemModelTester::FailureReportingMode::Fatal);
    ASSERT_EQ(table.model()->rowCount(), 1);
    EXPECT_TRUE(shows(page(), "1 of 3 steps"));
    EXPECT_TRUE(shows(page(), "1 still open"));
    table.setFocus();
    QTest::keyClick(&table, Qt::Key_1);
    EXPECT_EQ(page().model().settling("hoses").choice, core::Choice::First);
    QTest::keyClick(&table, Qt::Key_2);
    EXPECT_EQ(page().model().settling("hoses").choice, core::Choice::Second);
    EXPECT_TRUE(shows(page(), "all chosen, not settled"));
    whileDialog([&] { button(page(), "Settle record")->click(); },
                [&](QDialog& dialog) {
                    EXPECT_FALSE(button(dialog, "Settle")->isEnabled()) << "somebody has to settle";
                    choose(dialog, "Bert Brook");
                    button(dialog, "Settle")->click();
                });
    ASSERT_TRUE(QTest::qWaitFor([this] { return !page().isReading(); }, 120000));
    settle();
    const auto records = m_window->session()->file().settlements().value();
    ASSERT_EQ(records.size(), 1u);
    EXPECT_EQ(records[0].by, "i-2");
    EXPECT_EQ(records[0].secondRight, std::vector<std::string>{"hoses"});
    EXPECT_EQ(m_window->session()->file().attempts()->size(), 3u);
    EXPECT_TRUE(shows(page(), "settled"));
    EXPECT_FALSE(button(page(), "Settle record")->isEnabled()) << "nothing has changed since";
}

TEST_F(AgreementPageTest, WhatIsNotSettledYetIsThereInTheNextWindow) {
    openYard(addPair);
    showAgreement();
    differences().setFocus();
    whileDialog([&] { QTest::keyClick(&differences(), Qt::Key_3); },
                [&](QDialog& dialog) {
                    for (auto* box : dialog.findChildren<QCheckBox*>())
                        if (box->text().contains(QLatin1String("help"))) box->setChecked(true);
                    button(dialog, "Take this")->click();
                });
    QTest::keyClicks(page().findChild<QLineEdit*>(), QStringLiteral("the hoses were touched"));
    const QString file = path(QStringLiteral("yard.markerlamp"));
    {
        // What a kill would leave: the file as another connection reads it while the window stands.
        auto other = db::ProgramFile::open(file.toStdString(), db::OpenMode::ReadOnly).value();
        const auto kept = app::keptChoices(*other, kOne, kTwo).value();
        ASSERT_TRUE(kept.contains("hoses"));
        EXPECT_EQ(kept.at("hoses").reason, "the hoses were touched");
    }
    m_window.reset();
    makeWindow();
    ASSERT_TRUE(m_window->openFile(file));
    showAgreement();
    const core::Settling settling = page().model().settling("hoses");
    EXPECT_EQ(settling.choice, core::Choice::Other);
    EXPECT_TRUE(settling.other.shown && settling.other.prompted);
    EXPECT_EQ(page().findChild<QLineEdit*>()->text(), QStringLiteral("the hoses were touched"));
    EXPECT_TRUE(shows(page(), "all chosen, not settled"));
    EXPECT_TRUE(button(page(), "Settle record")->isEnabled());
    // The record is settled: nothing is left to keep.
    ASSERT_TRUE(page().settleBy("i-2"));
    ASSERT_TRUE(QTest::qWaitFor([this] { return !page().isReading(); }, 120000));
    settle();
    EXPECT_TRUE(app::keptChoices(m_window->session()->file(), kOne, kTwo)->empty());
    EXPECT_TRUE(shows(page(), "all settled"));
    EXPECT_FALSE(button(page(), "Settle record")->isEnabled());
}

TEST_F(AgreementPageTest, AChoiceThatIsTakenBackIsNotKept) {
    openYard(addPair);
    showAgreement();
    differences().setFocus();
    QTest::keyClick(&differences(), Qt::Key_1);
    db::ProgramFile& file = m_window->session()->file();
    EXPECT_EQ(app::keptChoices(file, kOne, kTwo)->size(), 1u);
    QTest::keyClick(&differences(), Qt::Key_4);
    EXPECT_TRUE(app::keptChoices(file, kOne, kTwo)->empty());
    EXPECT_FALSE(button(page(), "Settle record")->isEnabled());
}

TEST_F(AgreementPageTest, ChoicesThatCannotBeKeptAreSaid) {
    openYard(addPair);
    showAgreement();
    page().model().setKeeper([](const auto&, const auto&, const auto&) -> core::Result<void> {
        return core::fail(core::ErrorKind::Machine, "the disk is full");
    });
    QString said;
    QObject::connect(&page(), &app::Page::said, &page(), [&](const QString& words) { said = words; });
    differences().setFocus();
    QTest::keyClick(&differences(), Qt::Key_1);
    EXPECT_TRUE(said.contains(QLatin1String("the disk is full"))) << said.toStdString();
    EXPECT_TRUE(shows(page(), "CHOICES NOT KEPT"));
    EXPECT_EQ(page().model().settling("hoses").choice, core::Choice::First) << "still chosen in the window";
}

TEST_F(AgreementPageTest, AClickOnAChoiceOfTheRowTakesIt) {
    openYard(addPair);
    showAgreement();
    app::TableView& table = differences();
    const QModelIndex cell = table.model()->index(0, app::SettledColumn);
    const QRect place = table.visualRect(cell);
    QTest::mouseClick(table.viewport(), Qt::LeftButton, {}, QPoint(place.left() + 14, place.center().y()));
    EXPECT_EQ(page().model().settling("hoses").choice, core::Choice::First);
}

TEST_F(AgreementPageTest, WhatNeitherHadRightIsAsked) {
    openYard(addPair);
    showAgreement();
    differences().setFocus();
    whileDialog([&] { QTest::keyClick(&differences(), Qt::Key_3); },
                [&](QDialog& dialog) {
                    for (auto* box : dialog.findChildren<QCheckBox*>())
                        if (box->text().contains(QLatin1String("help"))) box->setChecked(true);
                    button(dialog, "Take this")->click();
                });
    EXPECT_EQ(page().model().settling("hoses").choice, core::Choice::Other);
    EXPECT_TRUE(page().model().settling("hoses").other.prompted);
    EXPECT_TRUE(page().model().settling("hoses").other.shown) << "begins with the first's marks";
}

TEST_F(AgreementPageTest, OneInstructorAloneHasNoStrictness) {
    openYard([](db::ProgramFile& file) {
        EXPECT_TRUE(file.addAttempt(scoringOf(kOne, {}, "i-1", kMorning, kYardSteps)));
        EXPECT_TRUE(file.addAttempt(scoringOf(kTwo, kOne, "i-1", kMorning, {"lamps"})));
    });
    showAgreement();
    EXPECT_TRUE(shows(page(), "Only one instructor has scored here"));
    EXPECT_FALSE(page().findChild<app::StrictnessView*>()->isVisible());
}

TEST_F(AgreementPageTest, TheDemoHasPairsAndAFunnel) {
    openDemo();
    showAgreement();
    EXPECT_GE(page().model().pairs(), 8);
    ASSERT_TRUE(page().model().funnel());
    EXPECT_TRUE(page().findChild<app::StrictnessView*>()->isVisible());
    EXPECT_TRUE(shows(page(), "By luck alone"));
    EXPECT_TRUE(page().model().agreement()->shown.byAttempt);
    EXPECT_FALSE(page().model().agreement()->disputed.empty());
    withDialog("view.data", [](QDialog& dialog) {
        EXPECT_EQ(dialog.windowTitle(), QStringLiteral("Figures of agreement"));
    });
}

TEST_F(AgreementPageTest, WhatIsStoppedSaysSoAndGoesOn) {
    openDemo();
    m_window->showPage(PageId::Agreement);
    ASSERT_TRUE(
        QTest::qWaitFor([this] { return page().model().pairs() > 0 || !page().isReading(); }, 120000));
    ASSERT_TRUE(page().isReading()) << "the fit takes longer than the pairs";
    button(page(), "Stop")->click();
    ASSERT_TRUE(QTest::qWaitFor([this] { return !page().isReading(); }, 120000));
    settle();
    EXPECT_TRUE(shows(page(), "Stopped before the strictness of instructors was worked out"));
    EXPECT_FALSE(page().model().funnel());
    button(page(), "Go on")->click();
    ASSERT_TRUE(page().isReading());
    ASSERT_TRUE(QTest::qWaitFor([this] { return !page().isReading(); }, 120000));
    settle();
    EXPECT_TRUE(page().model().funnel());
    EXPECT_FALSE(shows(page(), "Stopped before"));
}

TEST_F(AgreementPageTest, AnAttemptOnFileIsScoredAgainBlind) {
    openYard([](db::ProgramFile& file) {
        EXPECT_TRUE(file.addAttempt(scoringOf(kOne, {}, "i-1", kMorning, kYardSteps)));
    });
    withDialog("attempt.second", [&](QDialog& dialog) {
        choose(dialog, "Carla Crane");
        EXPECT_FALSE(button(dialog, "Go on")->isEnabled()) << "the first's own instructor";
        choose(dialog, "Bert Brook");
        button(dialog, "Go on")->click();
    });
    auto* scoring = m_window->findChild<app::ScoringPage*>();
    ASSERT_TRUE(scoring->isActive());
    m_window->session()->flush();
    const auto infos = m_window->session()->file().attempts().value();
    ASSERT_EQ(infos.size(), 2u);
    EXPECT_EQ(infos[0].of, kOne);
    EXPECT_EQ(infos[0].instructor, "i-2");
    // Nothing of the first before the second has ended.
    auto* debrief = m_window->findChild<app::DebriefPage*>();
    debrief->showAttempt(app::qs(kOne));
    m_window->showPage(PageId::Debrief);
    settle();
    EXPECT_TRUE(shows(*debrief, "Hidden for now"));
    EXPECT_FALSE(debrief->canPerform(app::PageCommand::PrintSheet));
    // Both have finished.
    m_window->showPage(PageId::Scoring);
    settle();
    QSignalSpy finished(scoring, &app::ScoringPage::finished);
    for (int i = 0; i < 3 && finished.isEmpty(); ++i) {
        QTest::qWait(130);  // slower than a bouncing key
        QTest::keyClick(m_window->focusWidget(), Qt::Key_Return,
                        i == 1 ? Qt::NoModifier : Qt::ControlModifier);
    }
    ASSERT_EQ(finished.count(), 1);
    debrief->showAttempt(app::qs(kOne));
    settle();
    EXPECT_FALSE(shows(*debrief, "Hidden for now"));
    EXPECT_EQ(debrief->debrief().code, app::qs(core::attemptCode(kOne)));
}

TEST_F(AgreementPageTest, ACodeOfAnotherWorkstationIsEnough) {
    openYard([](db::ProgramFile& file) {
        EXPECT_TRUE(file.saveBus({"14", "Bus", {"air-brakes"}, {}, "", false}));
    });
    const QString code = app::qs(core::attemptCode(kOne));
    withDialog("attempt.second", [&](QDialog& dialog) {
        dialog.findChild<QLineEdit*>()->setText(QStringLiteral("nobody"));
        choose(dialog, "Bert Brook");
        EXPECT_FALSE(button(dialog, "Go on")->isEnabled());
        dialog.findChild<QLineEdit*>()->setText(code.toLower());
        button(dialog, "Go on")->click();
    });
    auto* start = m_window->findChild<app::StartPage*>();
    ASSERT_EQ(m_window->currentPage(), start);
    EXPECT_TRUE(shows(*start, ("Second scoring of " + core::attemptCode(kOne)).c_str()));
    start->chooseTrainee(QStringLiteral("t-1"));
    ASSERT_TRUE(start->form().ready()) << start->form().missing().toStdString();
    const core::AttemptHeader header = start->form().header(kMorning);
    EXPECT_EQ(header.of, core::attemptCode(kOne));
    EXPECT_EQ(header.instructor, "i-2");
    // The next attempt is one of its own again.
    trigger("attempt.start");
    EXPECT_TRUE(start->form().header(kMorning).of.empty());
}

}  // namespace
}  // namespace markerlamp::testing
