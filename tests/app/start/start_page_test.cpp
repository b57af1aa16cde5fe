// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/start/start_page.h"
#include "app/settings/settings.h"
#include "app/support/text_widgets.h"
#include "app/support/theme.h"

#include "../../support/sample_attempt.h"

#include <gtest/gtest.h>

#include <QAccessible>
#include <QLineEdit>
#include <QListView>
#include <QSignalSpy>
#include <QTemporaryDir>
#include <QTest>

namespace markerlamp::app {
namespace {

StartData sampleData(bool unfinished) {
    StartData data;
    for (const auto& [key, name] :
         {std::pair{"t-1", "Ada Example"}, std::pair{"t-2", "Bo Example"}, std::pair{"t-3", "Cy Sample"}}) {
        StartTrainee entry;
        entry.trainee.key = key;
        entry.trainee.name = name;
        data.trainees.push_back(entry);
    }
    data.instructors = {{"i-1", "Ivy Instructor", false}, {"i-2", "Ian Instructor", false}};
    core::Bus air;
    air.key = "14";
    air.equipment = {"air-brakes", "front-engine", "a-tag-of-another-rubric"};
    air.limits["low-warning"] = {55.0, std::nullopt};
    air.limits["a-limit-of-another-rubric"] = {1.0, std::nullopt};
    core::Bus rear;
    rear.key = "7";
    rear.equipment = {"air-brakes", "rear-engine"};
    data.buses = {air, rear};
    data.rubrics = {std::make_shared<core::Rubric>(testing::builtInRubric("air-brake-school-bus")),
                    std::make_shared<core::Rubric>(testing::builtInRubric("hydraulic-brake-school-bus"))};
    if (unfinished) {
        UnfinishedAttempt attempt;
        attempt.id = QStringLiteral("open-1");
        attempt.traineeName = QStringLiteral("Ada Example");
        attempt.busTitle = QStringLiteral("Bus 14");
        attempt.stopped = QDateTime(QDate(2026, 3, 2), QTime(6, 12));
        attempt.scored = 48;
        attempt.steps = 118;
        attempt.crashed = true;
        data.unfinished.push_back(attempt);
    }
    return data;
}

class StartPageTest : public ::testing::Test {
protected:
    StartPageTest() : m_settings(m_dir.filePath(QStringLiteral("settings.ini"))) {}

    StartPage& page(bool unfinished = false) {
        m_page = std::make_unique<StartPage>(
            m_theme, m_settings, [unfinished] { return core::Result<StartData>(sampleData(unfinished)); });
        m_page->resize(1366, 720);
        m_page->setStyleSheet(m_theme.styleSheet());
        m_page->show();
        m_page->aboutToShow();
        QTest::qWait(10);
        return *m_page;
    }

    QTemporaryDir m_dir;
    Theme m_theme;
    Settings m_settings;
    std::unique_ptr<StartPage> m_page;
};

TEST(StartForm, TakesEquipmentAndLimitsFromTheBusThatTheRubricKnows) {
    StartForm form;
    form.setData(sampleData(false), {});
    form.setTrainee("t-2");
    const core::AttemptHeader header = form.header("2026-03-02T06:10:00-05:00");
    EXPECT_EQ(header.equipment, (std::vector<std::string>{"air-brakes", "front-engine"}));
    EXPECT_EQ(header.limits.size(), form.ownLimits() == 1 ? 1u : 0u);
    EXPECT_EQ(header.zones.size(), form.rubric()->zones.size());
    EXPECT_EQ(header.trainee, "t-2");
    EXPECT_EQ(header.instructor, "i-1");
    EXPECT_FALSE(header.id.empty());
    EXPECT_NE(header.id, form.header("2026-03-02T06:10:00-05:00").id) << "every attempt has an id of its own";
    form.setBus("7");
    EXPECT_TRUE(form.hasEquipment("rear-engine"));
    EXPECT_FALSE(form.hasEquipment("front-engine"));
}

TEST(StartForm, CountsStepsOfTheChoiceOnThisBus) {
    StartForm form;
    form.setData(sampleData(false), {});
    const auto rubric = form.rubric();
    int expected = 0, mustPass = 0;
    const core::Zone& zone = *rubric->zone("air-brakes");
    for (const core::Step& step : zone.steps)
        if (core::appliesTo(step, {"air-brakes", "front-engine"})) {
            ++expected;
            mustPass += step.mustPass ? 1 : 0;
        }
    form.setAllZones(false);
    form.setZone("air-brakes", true);
    EXPECT_EQ(form.stepsIn(form.zones()), expected);
    EXPECT_EQ(form.mustPassIn(form.zones()), mustPass);
    EXPECT_GT(mustPass, 0);
    form.setEquipment("air-brakes", false);
    EXPECT_LT(form.stepsIn(form.zones()), expected);
}

TEST(StartForm, SaysWhatIsMissing) {
    StartForm form;
    form.setData({}, {});
    EXPECT_FALSE(form.ready());
    form.setData(sampleData(false), {});
    EXPECT_TRUE(form.missing().contains(QStringLiteral("trainee")));
    form.setTrainee("t-1");
    EXPECT_TRUE(form.ready()) << form.missing().toStdString();
    form.setAllZones(false);
    EXPECT_TRUE(form.missing().contains(QStringLiteral("zone")));
}

TEST(StartForm, OffersWhatWasUsedLast) {
    StartForm form;
    form.setData(sampleData(false), {"t-3", "i-2", "7", "hydraulic-brake-school-bus", "whole"});
    EXPECT_EQ(form.trainee(), "t-3");
    EXPECT_EQ(form.instructor(), "i-2");
    EXPECT_EQ(form.bus(), "7");
    EXPECT_EQ(form.rubric()->id, "hydraulic-brake-school-bus");
    form.setAllZones(false);
    form.setZone(form.rubric()->zones[1].id, true);
    form.setZone(form.rubric()->zones[0].id, true);
    StartForm again;
    again.setData(sampleData(false), form.lastUsed());
    EXPECT_EQ(again.zones(), form.zones());
    StartForm gone;
    gone.setData(sampleData(false), {"left", "left", "left", "left", "section:left"});
    EXPECT_TRUE(gone.trainee().empty());
    EXPECT_EQ(gone.scope(), StartForm::Scope::Whole);
}

TEST_F(StartPageTest, FindsATraineeByPartsOfTheName) {
    StartPage& start = page();
    auto* find = start.findChild<QLineEdit*>();
    auto* list = start.findChild<QListView*>();
    ASSERT_EQ(list->model()->rowCount(), 3);
    QTest::keyClicks(find, QStringLiteral("ex bo"));
    ASSERT_EQ(list->model()->rowCount(), 1);
    EXPECT_EQ(start.form().trainee(), "t-2") << "the only one left is chosen";
}

// Design figure: two actions to be scoring, with what was used last.
TEST_F(StartPageTest, StartsWithOneKeyWhenEverythingWasUsedBefore) {
    {
        StartPage& first = page();
        first.chooseTrainee(QStringLiteral("t-2"));
        QSignalSpy spy(&first, &StartPage::startRequested);
        QTest::keyClick(&first, Qt::Key_Return, Qt::ControlModifier);
        ASSERT_EQ(spy.count(), 1);
    }
    StartPage& second = page();
    QSignalSpy spy(&second, &StartPage::startRequested);
    QTest::keyClick(&second, Qt::Key_Return, Qt::ControlModifier);
    ASSERT_EQ(spy.count(), 1);
    EXPECT_EQ(spy.first().first().value<core::AttemptHeader>().trainee, "t-2");
}

TEST_F(StartPageTest, EnterResumesAnUnfinishedAttempt) {
    StartPage& start = page(true);
    QSignalSpy resumed(&start, &StartPage::resumeRequested);
    QTest::keyClick(start.focusWidget() != nullptr ? start.focusWidget() : &start, Qt::Key_Return);
    if (resumed.isEmpty()) QTest::keyClick(&start, Qt::Key_Return);
    ASSERT_EQ(resumed.count(), 1);
    EXPECT_EQ(resumed.first().first().toString(), QStringLiteral("open-1"));
    QSignalSpy aside(&start, &StartPage::setAsideRequested);
    for (QPushButton* button : start.findChildren<QPushButton*>())
        if (button->text() == QStringLiteral("Set aside")) button->click();
    EXPECT_EQ(aside.count(), 1);
}

TEST_F(StartPageTest, EveryControlHasANameAndNothingIsClipped) {
    StartPage& start = page(true);
    int controls = 0;
    for (QWidget* widget : start.findChildren<QWidget*>()) {
        if (!widget->isVisible() || widget->focusPolicy() == Qt::NoFocus) continue;
        QAccessibleInterface* face = QAccessible::queryAccessibleInterface(widget);
        ASSERT_NE(face, nullptr);
        EXPECT_FALSE(face->text(QAccessible::Name).isEmpty()) << widget->metaObject()->className();
        ++controls;
    }
    EXPECT_GT(controls, 20);
    for (QAbstractButton* button : start.findChildren<QAbstractButton*>()) {
        if (!button->isVisible() || button->text().isEmpty() || button->inherits("markerlamp::app::ZoneBox"))
            continue;
        EXPECT_GE(button->width(), QFontMetricsF(button->font()).horizontalAdvance(button->text()))
            << button->text().toStdString();
    }
    EXPECT_LE(start.minimumSizeHint().height(), 720);
    EXPECT_LE(start.minimumSizeHint().width(), 1366);
}

}  // namespace
}  // namespace markerlamp::app
