// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The drill panel and its dialog over a real planner, by keyboard.

#include "app/readiness/drill_panel.h"

#include "app/readiness/drill_dialog.h"
#include "app/settings/settings.h"
#include "app/shell/session.h"
#include "app/support/display.h"
#include "app/support/table_view.h"
#include "app/support/theme.h"
#include "readiness_support.h"

#include <gtest/gtest.h>

#include <QApplication>
#include <QClipboard>
#include <QLabel>
#include <QPushButton>
#include <QSignalSpy>
#include <QSpinBox>
#include <QTemporaryDir>
#include <QTreeWidget>

namespace markerlamp {
namespace {

using testing::eventually;

class DrillPanelTest : public ::testing::Test {
protected:
    DrillPanelTest() : m_settings(m_dir.filePath(QStringLiteral("settings.ini"))) {}

    void SetUp() override {
        auto made = app::Session::create(m_dir.filePath(QStringLiteral("small.markerlamp")), false);
        ASSERT_TRUE(made) << made.error().message;
        m_session = std::move(*made);
        m_script->answer = [this](const std::string& trainee, double now, bool, const auto&) {
            app::ReadinessAnswer answer = testing::closeAnswer(trainee, now);
            answer.planner = m_planner;
            return core::Result<app::ReadinessAnswer>(std::move(answer));
        };
        m_desk = std::make_unique<app::ReadinessDesk>(*m_session, testing::opener(m_script));
        m_panel = std::make_unique<app::DrillPanel>(m_theme, m_settings, *m_desk);
        m_panel->resize(588, 170);
        m_panel->show();
        spin()->setValue(10);
    }
    bool planned() {
        m_desk->ask(one());
        m_panel->showTrainee(one());
        return eventually([&] { return m_panel->view() != nullptr; });
    }
    static QString one() { return QStringLiteral("t-1"); }
    QSpinBox* spin() { return m_panel->findChild<QSpinBox*>(); }
    app::TableView* table() { return m_panel->findChild<app::TableView*>(); }
    QPushButton* control(int place) {
        return qobject_cast<QPushButton*>(m_panel->controls()[static_cast<std::size_t>(place)]);
    }

    QTemporaryDir m_dir;
    app::Theme m_theme;
    app::Settings m_settings;
    std::unique_ptr<app::Session> m_session;
    std::shared_ptr<testing::Script> m_script = std::make_shared<testing::Script>();
    std::shared_ptr<const core::DrillPlanner> m_planner = testing::planner(testing::smallRubric());
    std::unique_ptr<app::ReadinessDesk> m_desk;
    std::unique_ptr<app::DrillPanel> m_panel;
};

TEST_F(DrillPanelTest, ShowsWhatThePlannerChoseForTheMinutes) {
    ASSERT_TRUE(planned());
    const core::DrillPlan plan = m_planner->plan(10);
    ASSERT_FALSE(plan.parts.empty());
    EXPECT_EQ(m_panel->view()->plan.parts.size(), plan.parts.size());
    EXPECT_DOUBLE_EQ(m_panel->view()->plan.after, plan.after);
    EXPECT_GT(plan.after, plan.before);
    const auto lines = core::linesOf(plan, *m_planner);
    EXPECT_EQ(table()->model()->rowCount(), static_cast<int>(lines.size()));
    EXPECT_EQ(table()->model()->index(0, 0).data().toString(), app::qs(lines[0].title));
    EXPECT_TRUE(table()->model()->index(0, 1).data().toString().endsWith(QStringLiteral("min")));
    for (const double gain : m_panel->view()->gains) EXPECT_GE(gain, -1e-12);
}

TEST_F(DrillPanelTest, WhatToDoAndItsCautionStandUnderTheChosenZone) {
    spin()->setValue(60);
    ASSERT_TRUE(planned());
    ASSERT_TRUE(eventually([&] { return table()->isVisible(); }));
    bool chocks = false;
    for (std::size_t i = 0; i < m_panel->view()->lines.size(); ++i) {
        const core::DrillLine& line = m_panel->view()->lines[i];
        table()->selectRowAt(static_cast<int>(i));
        QString all;
        for (const QLabel* label : m_panel->findChildren<QLabel*>())
            if (label->isVisible())
                all += label->text().replace(QStringLiteral("&quot;"), QStringLiteral("\""));
        EXPECT_TRUE(all.contains(app::qs(line.text))) << all.toStdString();
        EXPECT_TRUE(line.caution.empty() || all.contains(app::qs(line.caution))) << all.toStdString();
        chocks = chocks || line.caution.find("Wheels chocked") != std::string::npos;
    }
    EXPECT_TRUE(chocks) << "an hour holds every step of the small rubric";
}

TEST_F(DrillPanelTest, OtherMinutesMakeAnotherPlanAndAreRemembered) {
    ASSERT_TRUE(planned());
    const double before = m_panel->view()->plan.minutes;
    spin()->setFocus();
    spin()->selectAll();
    QTest::keyClicks(spin(), QStringLiteral("5"));
    QTest::keyClick(spin(), Qt::Key_Return);
    ASSERT_TRUE(eventually([&] { return m_panel->view()->plan.minutes <= 5 + 1e-9; }));
    EXPECT_LT(m_panel->view()->plan.minutes, before);
    app::DrillPanel other(m_theme, m_settings, *m_desk);
    EXPECT_EQ(other.minutes(), 5);
}

TEST_F(DrillPanelTest, CopiesItAsText) {
    ASSERT_TRUE(planned());
    QSignalSpy said(m_panel.get(), &app::DrillPanel::said);
    control(1)->click();
    const QString text = QApplication::clipboard()->text();
    for (const core::DrillLine& line : m_panel->view()->lines)
        EXPECT_TRUE(text.contains(app::qs(line.text))) << text.toStdString();
    EXPECT_TRUE(text.startsWith(QStringLiteral("Now "))) << text.toStdString();
    EXPECT_EQ(said.count(), 1);
}

TEST_F(DrillPanelTest, StartsAnAttemptWithItsZonesAndNamesWhatItLeavesOut) {
    spin()->setValue(5);
    ASSERT_TRUE(planned());
    QSignalSpy start(m_panel.get(), &app::DrillPanel::startRequested);
    control(3)->click();
    ASSERT_EQ(start.count(), 1);
    const auto drill = start[0][0].value<app::DrillAttempt>();
    EXPECT_EQ(drill.trainee, one());
    EXPECT_EQ(drill.rubric, "small");
    EXPECT_EQ(drill.edition, 3);
    EXPECT_EQ(drill.zones, m_planner->zonesOf(m_panel->view()->plan));
    EXPECT_EQ(drill.besides, m_planner->besides(m_panel->view()->plan));
}

TEST_F(DrillPanelTest, BeforeReadinessIsKnownNothingCanBePressed) {
    m_panel->showTrainee(QStringLiteral("t-2"));
    EXPECT_EQ(m_panel->view(), nullptr);
    for (QWidget* control : m_panel->controls()) EXPECT_FALSE(control->isEnabled());
    EXPECT_FALSE(table()->isVisible());
}

TEST_F(DrillPanelTest, TheDialogTakesBlocksOutByKeyboardAndShowsWhatItComesTo) {
    ASSERT_TRUE(planned());
    app::DrillDialog dialog(m_theme, m_panel->view(), 10, nullptr);
    dialog.show();
    QApplication::setActiveWindow(&dialog);
    auto* tree = dialog.findChild<QTreeWidget*>();
    ASSERT_NE(tree, nullptr);
    EXPECT_TRUE(tree->hasFocus());
    const auto before = dialog.view();
    // Down to the first block that is in, and Space.
    QTreeWidgetItem* item = tree->topLevelItem(0);
    tree->setCurrentItem(item);
    for (int i = 0; i < 40 && (item->parent() == nullptr || item->checkState(0) != Qt::Checked); ++i) {
        QTest::keyClick(tree, Qt::Key_Right);
        QTest::keyClick(tree, Qt::Key_Down);
        item = tree->currentItem();
    }
    ASSERT_NE(item->parent(), nullptr);
    ASSERT_EQ(item->checkState(0), Qt::Checked);
    QTest::keyClick(tree, Qt::Key_Space);
    EXPECT_EQ(item->checkState(0), Qt::Unchecked);
    ASSERT_TRUE(eventually([&] { return dialog.view() != before; }));
    EXPECT_EQ(dialog.view()->plan.parts.size() + 1, before->plan.parts.size());
    EXPECT_LT(dialog.view()->plan.minutes, before->plan.minutes);
    EXPECT_LE(dialog.view()->plan.after, before->plan.after + 1e-12);
    QTest::keyClick(&dialog, Qt::Key_Return);
    EXPECT_EQ(dialog.result(), QDialog::Accepted);
}

TEST_F(DrillPanelTest, TheDialogSaysHowMuchTooLongItIs) {
    ASSERT_TRUE(planned());
    app::DrillDialog dialog(m_theme, m_panel->view(), 10, nullptr);
    dialog.show();
    auto* tree = dialog.findChild<QTreeWidget*>();
    const auto before = dialog.view();
    for (int i = 0; i < tree->topLevelItemCount(); ++i) tree->topLevelItem(i)->setCheckState(0, Qt::Checked);
    ASSERT_TRUE(eventually([&] {
        return dialog.view() != before && dialog.view()->plan.parts.size() == m_planner->blocks().size();
    }));
    bool said = false;
    for (const QLabel* label : dialog.findChildren<QLabel*>())
        said = said || label->text().contains(QStringLiteral("too long"));
    EXPECT_EQ(said, dialog.view()->plan.minutes > 10.05);
    for (const core::DrillLine& line : dialog.view()->lines)
        if (!line.caution.empty()) {
            bool caution = false;
            for (const QLabel* label : dialog.findChildren<QLabel*>())
                caution = caution || label->text().contains(app::qs(line.caution));
            EXPECT_TRUE(caution) << line.caution;
        }
}

}  // namespace
}  // namespace markerlamp
