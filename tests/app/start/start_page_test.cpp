// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The start form as it is used: keys, focus, the card of an unfinished attempt, and what fits where.

#include "app/start/start_page.h"
#include "app/settings/settings.h"
#include "app/start/resume_card.h"
#include "app/start/start_widgets.h"
#include "app/support/display.h"
#include "app/support/text_widgets.h"
#include "app/support/theme.h"
#include "start_support.h"

#include <gtest/gtest.h>

#include <QAccessible>
#include <QApplication>
#include <QLineEdit>
#include <QRadioButton>
#include <QScrollArea>
#include <QScrollBar>
#include <QSignalSpy>
#include <QTemporaryDir>
#include <QTest>

#include <set>

namespace markerlamp::testing {
namespace {

using app::KeyButton;
using app::StartForm;
using app::StartPage;

class StartPageTest : public ::testing::Test {
protected:
    StartPageTest() : m_settings(m_dir.filePath(QStringLiteral("settings.ini"))) {}

    StartPage& page(std::vector<app::UnfinishedAttempt> open = {}, QSize size = {1366, 720}) {
        app::StartData data = startData();
        data.unfinished = std::move(open);
        data.last = m_last;
        m_page = std::make_unique<StartPage>(m_theme, m_settings,
                                             [data] { return core::Result<app::StartData>(data); });
        m_page->form().setToday(kToday);
        m_page->setStyleSheet(m_theme.styleSheet());
        m_page->resize(size);
        m_page->show();
        QApplication::setActiveWindow(m_page.get());
        m_page->aboutToShow();
        QTest::qWait(20);
        return *m_page;
    }
    StartPage& pageWithOne() { return page({unfinished(QStringLiteral("open-1"), QStringLiteral("Ada"))}); }

    template <class Widget>
    Widget* one() {
        return m_page->findChild<Widget*>();
    }
    KeyButton* button(const QString& words) {
        for (KeyButton* candidate : m_page->findChildren<KeyButton*>())
            if (candidate->text() == words) return candidate;
        return nullptr;
    }
    app::ZoneBox* zone(const QString& title) {
        for (auto* box : m_page->findChildren<app::ZoneBox*>())
            if (box->text() == title) return box;
        return nullptr;
    }
    QRadioButton* radio(const QString& words) {
        for (auto* candidate : m_page->findChildren<QRadioButton*>())
            if (candidate->text() == words) return candidate;
        return nullptr;
    }
    void key(Qt::Key code, Qt::KeyboardModifiers modifiers = {}) {
        ASSERT_NE(QApplication::focusWidget(), nullptr);
        QTest::keyClick(QApplication::focusWidget(), code, modifiers);
    }

    QTemporaryDir m_dir;
    app::Theme m_theme;
    app::Settings m_settings;
    app::LastUsed m_last;
    std::unique_ptr<StartPage> m_page;
};

TEST_F(StartPageTest, FindsATraineeByPartsOfTheName) {
    StartPage& start = page();
    auto* find = one<QLineEdit>();
    auto* list = one<app::TraineeList>();
    ASSERT_EQ(list->model()->rowCount(), 3);
    find->setFocus();
    QTest::keyClicks(find, QStringLiteral("ex bo"));
    ASSERT_EQ(list->model()->rowCount(), 1);
    EXPECT_EQ(start.form().trainee(), "t-2") << "the only one left is chosen";
    key(Qt::Key_Escape);
    EXPECT_EQ(list->model()->rowCount(), 3) << "Esc empties the field first";
    EXPECT_EQ(start.form().trainee(), "t-2");
}

TEST_F(StartPageTest, EnterInTheFindFieldTakesTheFirstMatchAndResumesNothing) {
    StartPage& start = pageWithOne();
    QSignalSpy resumed(&start, &StartPage::resumeRequested), started(&start, &StartPage::startRequested);
    one<QLineEdit>()->setFocus();
    QTest::keyClicks(one<QLineEdit>(), QStringLiteral("ex"));
    key(Qt::Key_Return);
    EXPECT_EQ(start.form().trainee(), "t-1");
    EXPECT_TRUE(one<app::TraineeList>()->hasFocus());
    EXPECT_TRUE(resumed.isEmpty());
    EXPECT_TRUE(started.isEmpty());
}

// ux figure: with what was used last, two actions lead to scoring: the key that opens the page, and this one.
TEST_F(StartPageTest, StartsWithOneKeyWhenEverythingWasUsedBefore) {
    {
        StartPage& first = page();
        first.chooseTrainee(QStringLiteral("t-2"));
        first.form().setAllZones(false);
        first.form().setZone("air-brakes", true);
        QSignalSpy spy(&first, &StartPage::startRequested);
        key(Qt::Key_Return, Qt::ControlModifier);
        ASSERT_EQ(spy.count(), 1);
        m_last = first.form().lastUsed();
    }
    StartPage& second = page();
    QSignalSpy spy(&second, &StartPage::startRequested);
    key(Qt::Key_Return, Qt::ControlModifier);
    ASSERT_EQ(spy.count(), 1);
    const auto header = spy.first().first().value<core::AttemptHeader>();
    EXPECT_EQ(header.trainee, "t-2");
    EXPECT_EQ(header.instructor, "i-1");
    EXPECT_EQ(header.bus, "14");
    EXPECT_EQ(header.zones, (std::vector<std::string>{"air-brakes"}));
}

TEST_F(StartPageTest, CtrlEnterStartsOnceWhereverTheFocusIs) {
    for (const bool open : {false, true}) {
        StartPage& start = open ? pageWithOne() : page();
        start.chooseTrainee(QStringLiteral("t-2"));
        QSignalSpy started(&start, &StartPage::startRequested), resumed(&start, &StartPage::resumeRequested);
        int tried = 0;
        for (QWidget* widget : start.findChildren<QWidget*>()) {
            if (!widget->isVisibleTo(&start) || widget->focusPolicy() == Qt::NoFocus) continue;
            widget->setFocus();
            if (QApplication::focusWidget() != widget) continue;
            started.clear();
            QTest::keyClick(widget, Qt::Key_Return, Qt::ControlModifier);
            EXPECT_EQ(started.count(), 1) << widget->metaObject()->className();
            ++tried;
        }
        EXPECT_TRUE(resumed.isEmpty());
        EXPECT_GT(tried, 30);
    }
}

TEST_F(StartPageTest, EnterResumesAnUnfinishedAttempt) {
    StartPage& start = pageWithOne();
    EXPECT_TRUE(button(QStringLiteral("Resume"))->hasFocus());
    QSignalSpy resumed(&start, &StartPage::resumeRequested), started(&start, &StartPage::startRequested);
    key(Qt::Key_Return);
    ASSERT_EQ(resumed.count(), 1);
    EXPECT_EQ(resumed.first().first().toString(), QStringLiteral("open-1"));
    one<app::TraineeList>()->setFocus();
    key(Qt::Key_Return);
    EXPECT_EQ(resumed.count(), 2) << "from the list as well";
    EXPECT_TRUE(started.isEmpty());
}

TEST_F(StartPageTest, EnterOnAButtonWithTheFocusPressesThatButton) {
    StartPage& start = pageWithOne();
    QSignalSpy resumed(&start, &StartPage::resumeRequested), aside(&start, &StartPage::setAsideRequested),
        finish(&start, &StartPage::finishRequested), cancelled(&start, &StartPage::cancelled);
    button(QStringLiteral("Set aside"))->setFocus();
    key(Qt::Key_Return);
    EXPECT_EQ(aside.count(), 1);
    button(QStringLiteral("Finish as it stands"))->setFocus();
    key(Qt::Key_Return);
    EXPECT_EQ(finish.count(), 1);
    button(QStringLiteral("Cancel"))->setFocus();
    key(Qt::Key_Return);
    EXPECT_EQ(cancelled.count(), 1);
    EXPECT_TRUE(resumed.isEmpty());
    one<app::TraineeList>()->setFocus();
    key(Qt::Key_Escape);
    EXPECT_EQ(cancelled.count(), 2);
}

TEST_F(StartPageTest, OnlyOneButtonIsFilled) {
    const auto filled = [this] {
        QStringList list;
        for (KeyButton* candidate : m_page->findChildren<KeyButton*>())
            if (candidate->isVisible() && candidate->property("primary").toBool()) list << candidate->text();
        return list;
    };
    page();
    EXPECT_EQ(filled(), QStringList{QStringLiteral("Start")});
    pageWithOne();
    EXPECT_EQ(filled(), QStringList{QStringLiteral("Resume")});
}

TEST_F(StartPageTest, SeveralUnfinishedAttemptsTakeTurnsOnOneCard) {
    StartPage& start = page({unfinished(QStringLiteral("a"), QStringLiteral("Ada")),
                             unfinished(QStringLiteral("b"), QStringLiteral("Bo"), false)});
    auto* card = one<app::ResumeCard>();
    QPushButton* next = nullptr;
    for (QPushButton* candidate : card->findChildren<QPushButton*>())
        if (candidate->text().contains(QStringLiteral("next"))) next = candidate;
    ASSERT_NE(next, nullptr);
    EXPECT_TRUE(next->isVisible());
    next->click();
    QSignalSpy resumed(&start, &StartPage::resumeRequested);
    button(QStringLiteral("Resume"))->click();
    ASSERT_EQ(resumed.count(), 1);
    EXPECT_EQ(resumed.first().first().toString(), QStringLiteral("b"));
    next->click();
    button(QStringLiteral("Resume"))->click();
    EXPECT_EQ(resumed.last().first().toString(), QStringLiteral("a")) << "round and round";
}

TEST_F(StartPageTest, ChoosingKeepsTheFocus) {
    StartPage& start = page();
    QRadioButton* zones = radio(QStringLiteral("Zones I pick"));
    zones->setFocus();
    key(Qt::Key_Space);
    EXPECT_EQ(start.form().scope(), StartForm::Scope::Zones);
    QTest::qWait(10);
    EXPECT_TRUE(zones->hasFocus());
    button(QStringLiteral("All"))->click();
    app::ZoneBox* engine = zone(QStringLiteral("Engine"));
    engine->setFocus();
    key(Qt::Key_Space);
    EXPECT_FALSE(start.form().hasZone("engine"));
    EXPECT_TRUE(engine->hasFocus());
    app::TickBox* tick = nullptr;
    for (auto* box : start.findChildren<app::TickBox*>())
        if (box->text() == QStringLiteral("Wheelchair lift")) tick = box;
    ASSERT_NE(tick, nullptr);
    const int before = start.form().stepsIn(zoneIds(*start.form().rubric()));
    tick->setFocus();
    key(Qt::Key_Space);
    QTest::qWait(10);
    EXPECT_TRUE(tick->hasFocus());
    EXPECT_GT(start.form().stepsIn(zoneIds(*start.form().rubric())), before);
    button(QStringLiteral("None"))->click();
    EXPECT_TRUE(start.form().zones().empty());
    EXPECT_FALSE(button(QStringLiteral("Start"))->isEnabled());
}

TEST_F(StartPageTest, ZoneKeysOfThePlanTickBoxesOnlyInTheirColumn) {
    StartPage& start = page();
    app::ZoneBox* engine = zone(QStringLiteral("Engine"));
    engine->setFocus();
    key(Qt::Key_A);  // the middle row's first cell
    EXPECT_FALSE(start.form().hasZone("engine"));
    key(Qt::Key_A);
    EXPECT_TRUE(start.form().hasZone("engine"));
    one<QLineEdit>()->setFocus();
    key(Qt::Key_A);
    EXPECT_EQ(one<QLineEdit>()->text(), QStringLiteral("a"));
    EXPECT_TRUE(start.form().hasZone("engine")) << "no letter acts in a text field";
}

TEST_F(StartPageTest, ComingBackKeepsTheChoice) {
    StartPage& start = page();
    start.chooseTrainee(QStringLiteral("t-3"));
    zone(QStringLiteral("Engine"))->click();
    start.aboutToShow();
    EXPECT_EQ(start.form().trainee(), "t-3");
    EXPECT_FALSE(start.form().hasZone("engine"));
    EXPECT_FALSE(zone(QStringLiteral("Engine"))->isChecked());
}

TEST_F(StartPageTest, BringsTheChosenTraineeIntoSight) {
    app::StartData data = startData();
    for (int i = 0; i < 200; ++i)
        data.trainees.push_back(startTrainee("n-" + std::to_string(i), "Number " + std::to_string(i)));
    StartPage start(m_theme, m_settings, [data] { return core::Result<app::StartData>(data); });
    start.resize(1366, 720);
    start.show();
    start.chooseTrainee(QStringLiteral("n-150"));
    start.aboutToShow();
    QTest::qWait(20);
    auto* list = start.findChild<app::TraineeList*>();
    const QModelIndexList chosen = list->selectionModel()->selectedIndexes();
    ASSERT_EQ(chosen.size(), 1);
    EXPECT_TRUE(list->viewport()->rect().contains(list->visualRect(chosen.first())));
}

TEST_F(StartPageTest, SaysWhyItCannotStart) {
    StartPage& start = page();
    QSignalSpy said(&start, &StartPage::said), started(&start, &StartPage::startRequested);
    key(Qt::Key_Return, Qt::ControlModifier);
    EXPECT_TRUE(started.isEmpty());
    ASSERT_EQ(said.count(), 1);
    EXPECT_EQ(said.first().first().toString(), QStringLiteral("Still to choose: the trainee."));
    ASSERT_TRUE(one<app::TraineeList>()->currentIndex().isValid()) << "never a view without a current row";
    EXPECT_TRUE(start.form().trainee().empty()) << "a current row alone is no choice";
}

TEST_F(StartPageTest, TellsWhenTheFileCannotBeRead) {
    StartPage start(m_theme, m_settings, []() -> core::Result<app::StartData> {
        return core::fail(core::ErrorKind::Machine, "the disk does not answer");
    });
    QSignalSpy said(&start, &StartPage::said);
    start.aboutToShow();
    ASSERT_EQ(said.count(), 1);
    EXPECT_TRUE(said.first().first().toString().contains(QStringLiteral("disk")));
}

TEST_F(StartPageTest, EveryControlHasANameAndIsReachedByTab) {
    StartPage& start = pageWithOne();
    std::set<QWidget*> controls;
    for (QWidget* widget : start.findChildren<QWidget*>()) {
        if (!widget->isVisibleTo(&start) || !widget->isEnabled()) continue;
        if ((widget->focusPolicy() & Qt::TabFocus) == 0) continue;
        QAccessibleInterface* face = QAccessible::queryAccessibleInterface(widget);
        ASSERT_NE(face, nullptr);
        EXPECT_FALSE(face->text(QAccessible::Name).isEmpty()) << widget->metaObject()->className();
        EXPECT_NE(face->role(), QAccessible::Client) << widget->metaObject()->className();
        // Of an exclusive group Tab reaches the chosen one; arrows lead to the others.
        const auto* choice = qobject_cast<QRadioButton*>(widget);
        if (choice == nullptr || choice->isChecked()) controls.insert(widget);
    }
    EXPECT_GT(controls.size(), 40u);
    QWidget* first = QApplication::focusWidget();
    std::set<QWidget*> reached;
    for (int i = 0; i < 200 && QApplication::focusWidget() != nullptr; ++i) {
        reached.insert(QApplication::focusWidget());
        QTest::keyClick(QApplication::focusWidget(), Qt::Key_Tab);
        if (QApplication::focusWidget() == first) break;
    }
    EXPECT_EQ(QApplication::focusWidget(), first) << "no trap: Tab comes round";
    for (QWidget* control : controls)
        EXPECT_TRUE(reached.count(control) != 0)
            << control->metaObject()->className() << " " << control->accessibleName().toStdString();
}

// Painting with and without the focus must differ where the control stands, in every palette of ours.
TEST_F(StartPageTest, TheFocusIsSeenOnEveryControl) {
    for (const auto choice :
         {app::Theme::Choice::Day, app::Theme::Choice::Sun, app::Theme::Choice::PreDawn}) {
        m_theme.setChoice(choice);
        StartPage& start = pageWithOne();
        start.chooseTrainee(QStringLiteral("t-1"));
        for (QWidget* widget : start.findChildren<QWidget*>()) {
            if (!widget->isVisibleTo(&start) || !widget->isEnabled()) continue;
            if ((widget->focusPolicy() & Qt::TabFocus) == 0) continue;
            widget->setFocus(Qt::TabFocusReason);
            if (!widget->hasFocus()) continue;
            const QImage with = widget->grab().toImage();
            QWidget* other = one<QLineEdit>();
            if (widget == other) other = button(QStringLiteral("Cancel"));
            other->setFocus(Qt::TabFocusReason);
            ASSERT_TRUE(other->hasFocus());
            const QImage without = widget->grab().toImage();
            int pixels = 0;
            for (int y = 0; y < std::min(with.height(), without.height()); ++y)
                for (int x = 0; x < std::min(with.width(), without.width()); ++x)
                    pixels += with.pixel(x, y) != without.pixel(x, y) ? 1 : 0;
            EXPECT_GT(pixels, 60)
                << widget->metaObject()->className() << " "
                << QAccessible::queryAccessibleInterface(widget)->text(QAccessible::Name).toStdString();
        }
    }
}

TEST_F(StartPageTest, FitsWithoutScrollingAndWithoutCutTextAtTheUsualSize) {
    pageWithOne();
    for (QScrollArea* area : m_page->findChildren<QScrollArea*>()) {
        if (area->accessibleName().isEmpty()) {
            EXPECT_EQ(area->verticalScrollBar()->maximum(), 0);
        }
        EXPECT_LE(area->widget()->width(), area->viewport()->width());
    }
    for (app::TickBox* box : m_page->findChildren<app::TickBox*>()) {
        const bool isZone = qobject_cast<app::ZoneBox*>(box) != nullptr;
        const QFont font = m_theme.font(15);
        const QStringList lines = app::wrapped(box->text(), font, box->width() - (isZone ? 20 : 42), 2);
        EXPECT_FALSE(lines.join(QString()).contains(QChar(0x2026)))
            << box->text().toStdString() << " in " << box->width();
    }
    for (KeyButton* candidate : m_page->findChildren<KeyButton*>())
        if (candidate->isVisible()) {
            EXPECT_GE(candidate->width(), candidate->sizeHint().width()) << candidate->text().toStdString();
        }
    for (auto* text : m_page->findChildren<app::FitText*>())
        EXPECT_GE(text->width(), QFontMetricsF(m_theme.font(15, true)).horizontalAdvance(text->text()))
            << text->text().toStdString();
}

TEST_F(StartPageTest, TheBusKeepsItsNoseLeftWhereOneReadsFromTheRight) {
    QApplication::setLayoutDirection(Qt::RightToLeft);
    StartPage& start = pageWithOne();
    const auto left = [&](QWidget* widget) { return widget->mapTo(&start, QPoint()).x(); };
    EXPECT_TRUE(QTest::qWaitFor([&] { return left(one<QLineEdit>()) > start.width() / 2; })) << "mirrored";
    EXPECT_LT(left(zone(QStringLiteral("Engine"))), left(zone(QStringLiteral("Rear, side"))));
    QApplication::setLayoutDirection(Qt::LeftToRight);
}

// 1366x768 at twice the scale leaves 683x384; menu and status bar may be there as well.
TEST_F(StartPageTest, StaysUsableOnASmallScreen) {
    StartPage& start = page({unfinished(QStringLiteral("open-1"), QStringLiteral("Ada"))}, {683, 336});
    EXPECT_LE(start.minimumSizeHint().width(), 683);
    EXPECT_LE(start.minimumSizeHint().height(), 336);
    QScrollArea* body = nullptr;
    for (QScrollArea* area : start.findChildren<QScrollArea*>())
        if (area->accessibleName().isEmpty()) body = area;
    ASSERT_NE(body, nullptr);
    EXPECT_TRUE(QTest::qWaitFor([body] { return body->verticalScrollBar()->maximum() > 0; }));
    EXPECT_LE(body->widget()->width(), body->viewport()->width()) << "nothing sticks out sideways";
    // Tab brings what it reaches into sight.
    app::ZoneBox* last = zone(QStringLiteral("Air brakes"));
    EXPECT_TRUE(last->visibleRegion().isEmpty());
    last->setFocus();
    key(Qt::Key_Backtab, Qt::ShiftModifier);
    key(Qt::Key_Tab);
    ASSERT_TRUE(last->hasFocus());
    EXPECT_TRUE(QTest::qWaitFor([last] { return last->visibleRegion().boundingRect() == last->rect(); }));
    for (const QString& words : {QStringLiteral("Start"), QStringLiteral("Cancel")}) {
        const QRect place(button(words)->mapTo(&start, QPoint()), button(words)->size());
        EXPECT_TRUE(start.rect().contains(place)) << words.toStdString();
    }
}

}  // namespace
}  // namespace markerlamp::testing
