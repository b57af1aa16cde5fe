// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Readiness on the pages of the real window over the demo program; the answers are the test's own, as long as
// they come.

#include "../window_fixture.h"
#include "app/debrief/debrief_page.h"
#include "app/readiness/drill_panel.h"
#include "app/readiness/readiness_blocks.h"
#include "app/readiness/readiness_card.h"
#include "app/readiness/readiness_desk.h"
#include "app/scoring/scoring_page.h"
#include "app/shell/session.h"
#include "app/start/start_page.h"
#include "app/support/block_tabs.h"
#include "app/trainees/trainee_page.h"
#include "readiness_support.h"

#include <QPushButton>
#include <QScrollArea>
#include <QScrollBar>

#include <algorithm>

namespace markerlamp {
namespace {

using PageId = app::MainWindow::PageId;
using core::GateState;
using testing::eventually;

class ReadinessWindow : public testing::WindowFixture {
protected:
    void SetUp() override {
        makeWindow();
        m_window->setReadinessOpener(testing::opener(m_script));
        m_script->answer = [this](const std::string& trainee, double now, bool, const auto&) {
            return core::Result<app::ReadinessAnswer>(fullAnswer(trainee, now));
        };
        openDemoInWindow();
        m_trainee = busiest();
        readAttempts();
    }
    /// Six gates with long sentences, four reasons, an own word: as much as a card ever holds.
    app::ReadinessAnswer fullAnswer(const std::string& trainee, double now) {
        app::ReadinessAnswer answer = testing::closeAnswer(trainee, now);
        core::Forecast forecast = answer.readiness.forecast;
        const std::string attempt = m_attempts.empty() ? std::string("none") : m_attempts[1];
        const std::string step = m_steps.empty() ? std::string("none") : m_steps.front();
        forecast.holding = {
            {core::Holding::Kind::Step, step, "Automatic slack adjuster, left rear", .1, 1, 4, {attempt}},
            {core::Holding::Kind::Zone, "engine", "Engine compartment", .1, 7, 12, {attempt}},
            {core::Holding::Kind::Zone, "air-brakes", "Air-brake checks", .1, 7, 12, {attempt}},
            {core::Holding::Kind::Step, step, "Emergency exits with their alarms", .1, 1, 4, {attempt}}};
        std::vector<core::Gate> gates;
        for (const char* id : {"must-pass", "full-attempt", "permit-held", "permit-runs", "medical"})
            gates.push_back(
                {id,
                 GateState::NotMet,
                 "not by oneself in each of the last 2 attempts: Level ground and chocks (1 of 2), "
                 "Governor cut-out (0 of 2) and 3 more",
                 "each of them by oneself in 2 attempts",
                 {attempt},
                 {step}});
        gates.push_back({"theory", GateState::Unknown, "no theory result on file", "a result", {}, {}});
        const core::Override own{"o-1",
                                 trainee,
                                 core::ReadinessWord::NotYet,
                                 "tired this week, wait",
                                 "i-1",
                                 "2026-03-12T06:50:00-05:00"};
        answer.readiness = core::judge(forecast, gates, {own}, {});
        answer.planner = testing::planner(m_rubric);
        answer.rubric = m_rubric ? m_rubric->id : "";
        answer.edition = m_rubric ? m_rubric->edition : 0;
        return answer;
    }
    void openDemoInWindow() {
        const QString file = path(QStringLiteral("demo.markerlamp"));
        ASSERT_TRUE(QFile::copy(demoFile(), file));
        auto opened = db::ProgramFile::open(file.toStdString(), db::OpenMode::ReadOnly);
        ASSERT_TRUE(opened);
        const auto rubrics = (*opened)->rubrics();
        ASSERT_TRUE(rubrics);
        const auto air =
            std::ranges::find(*rubrics, std::string("air-brake-school-bus"), &db::RubricInfo::id);
        ASSERT_NE(air, rubrics->end());
        m_rubric = *(*opened)->rubric(air->id, air->edition);
        ASSERT_TRUE(m_window->openFile(file));
        settle();
    }
    void readAttempts() {
        const auto history = m_window->session()->history(m_trainee);
        ASSERT_TRUE(history);
        ASSERT_GE(history->size(), 3U);
        for (const auto& one : *history) m_attempts.push_back(one.attempt.header.id);
        for (const core::StepScore& one : history->at(1).card.steps)
            if (one.outcome == core::StepOutcome::Partial) m_steps.push_back(one.step);
        ASSERT_FALSE(m_steps.empty());
    }
    app::TraineePage& traineePage() { return *m_window->findChild<app::TraineePage*>(); }
    app::DebriefPage& debriefPage() { return *m_window->findChild<app::DebriefPage*>(); }
    void showTrainee() {
        traineePage().showTrainee(m_trainee);
        m_window->showPage(PageId::Trainee);
        ASSERT_TRUE(eventually([&] { return traineePage().readiness().drill().view() != nullptr; }));
        settle();
    }
    /// Whether the page, with each of its blocks in front, has more than fits.
    static void expectNoScroll(app::Page& page) {
        for (app::BlockTabs* tabs : page.findChildren<app::BlockTabs*>())
            for (app::BlockTab* tab : tabs->findChildren<app::BlockTab*>()) {
                tab->click();
                settle();
                for (QScrollArea* area : page.findChildren<QScrollArea*>()) {
                    const bool whole = area->isVisible() && area->width() > page.width() * 9 / 10;
                    if (!whole) continue;
                    EXPECT_EQ(area->verticalScrollBar()->maximum(), 0) << qPrintable(tab->text());
                    EXPECT_EQ(area->horizontalScrollBar()->maximum(), 0) << qPrintable(tab->text());
                }
            }
    }
    static QPushButton* buttonNamed(const QWidget& inside, const QString& part) {
        for (QPushButton* button : inside.findChildren<QPushButton*>())
            if (button->accessibleName().contains(part)) return button;
        return nullptr;
    }

    std::shared_ptr<testing::Script> m_script = std::make_shared<testing::Script>();
    std::shared_ptr<const core::Rubric> m_rubric;
    QString m_trainee;
    std::vector<std::string> m_attempts, m_steps;
};

TEST_F(ReadinessWindow, FullCardsAndDrillsFitThePages) {
    showTrainee();
    expectNoScroll(traineePage());
    debriefPage().showAttempt(app::qs(m_attempts[1]));
    m_window->showPage(PageId::Debrief);
    settle();
    expectNoScroll(debriefPage());
}

TEST_F(ReadinessWindow, TheWordStaysInSightBehindAnotherBlock) {
    showTrainee();
    for (app::BlockTab* tab : traineePage().findChildren<app::BlockTab*>())
        if (tab->text().startsWith(QLatin1String("Attempts"))) tab->click();
    EXPECT_FALSE(traineePage().readiness().card().isVisible());
    const app::ReadinessStanding& standing = m_window->readiness()->of(m_trainee);
    const QString word =
        app::qs(core::shownWord(standing.answer.readiness.word, m_window->readiness()->settings()));
    const auto tabs = traineePage().findChildren<app::BlockTab*>();
    EXPECT_TRUE(std::ranges::any_of(
        tabs, [&](const app::BlockTab* tab) { return tab->text() == QLatin1String("Readiness: ") + word; }));
}

TEST_F(ReadinessWindow, AReasonLeadsToItsMarks) {
    showTrainee();
    QPushButton* reason = buttonNamed(traineePage().readiness().card(), QStringLiteral("slack adjuster"));
    ASSERT_NE(reason, nullptr);
    reason->click();
    settle();
    EXPECT_EQ(m_window->currentPageId(), PageId::Debrief);
    EXPECT_EQ(debriefPage().attempt(), app::qs(m_attempts[1]));
}

TEST_F(ReadinessWindow, ADrillBecomesAnAttemptWithJustItsZones) {
    showTrainee();
    app::DrillPanel& drill = traineePage().readiness().drill();
    const auto zones = drill.view()->planner->zonesOf(drill.view()->plan);
    ASSERT_FALSE(zones.empty());
    ASSERT_LT(zones.size(), m_rubric->zones.size());
    QPushButton* start = buttonNamed(traineePage(), QStringLiteral("Start an attempt with the zones"));
    ASSERT_NE(start, nullptr);
    start->click();
    settle();
    auto* form = m_window->findChild<app::StartPage*>();
    ASSERT_EQ(m_window->currentPage(), form);
    EXPECT_EQ(std::set(zones.begin(), zones.end()), [&] {
        const auto chosen = form->form().zones();
        return std::set(chosen.begin(), chosen.end());
    }());
    QTest::keyClick(form, Qt::Key_Return, Qt::ControlModifier);
    settle();
    auto* scoring = m_window->findChild<app::ScoringPage*>();
    ASSERT_TRUE(scoring->isActive());
    EXPECT_EQ(scoring->model()->zones().size(), zones.size());
}

}  // namespace
}  // namespace markerlamp
