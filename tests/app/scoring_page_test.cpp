// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The live page as it is used: whole attempts by keyboard and by touch, and every key.

#include "app/scoring/board_part.h"
#include "app/scoring/compact_part.h"
#include "app/scoring/cover_part.h"
#include "app/scoring/dock_part.h"
#include "app/scoring/find_part.h"
#include "app/scoring/header_part.h"
#include "app/scoring/keypad_part.h"
#include "app/scoring/note_part.h"
#include "app/scoring/number_field.h"
#include "app/scoring/plan_part.h"
#include "app/scoring/ribbon_part.h"
#include "app/scoring/settle_part.h"
#include "app/scoring/strip_part.h"
#include "app/support/display.h"
#include "core/attempt/attempt_document.h"
#include "scoring_page_fixture.h"

namespace markerlamp {
namespace {

using app::BoardPart;
using app::DockPart;
using app::NumberField;
using app::StripPart;

class ScoringPageTest : public testing::ScoringPageFixture {
protected:
    [[nodiscard]] std::string markerStep() {
        const int marker = m_page->model()->marker();
        return marker < 0 ? "none" : m_page->model()->step(marker).id;
    }
    void wait(double seconds) {
        for (double left = seconds; left > 0; left -= 0.4) m_clock.pass(std::min(0.4, left));
        QTest::qWait(150);  // the page looks at the clock ten times a second
    }
    void type(const QString& figure) {
        for (const QChar c : figure) key(c.unicode(), Qt::NoModifier, QString(c));
        key(Qt::Key_Return);
    }
};

TEST_F(ScoringPageTest, AWholeAttemptByKeyboard) {
    open();
    QSignalSpy finished(m_page.get(), &app::ScoringPage::finished);
    key(Qt::Key_Space);      // a: both
    key(Qt::Key_3);          // its third point was not said
    key(Qt::Key_P);          // the next one with help
    key(Qt::Key_Space);      // b
    key(Qt::Key_L);          // c: partly
    key(Qt::Key_J);          // d: shown only
    key(Qt::Key_O);          // e: left out
    key(Qt::Key_K);          // f: said
    key(Qt::Key_U);          // g: not observed
    key(Qt::Key_Backspace);  // no, it was seen
    key(Qt::Key_Space);      // g
    const int brakes = m_page->model()->zones()[2].keyIndex;
    const char* zoneKeys = "QWERASDFZXCV";
    key(zoneKeys[brakes]);
    EXPECT_EQ(markerStep(), "chocks");
    key(Qt::Key_Space);
    EXPECT_EQ(markerStep(), "leak");
    key(Qt::Key_Return);  // the figure before the minute
    type(QStringLiteral("118"));
    key(Qt::Key_T);
    wait(61);
    type(QStringLiteral("116"));
    key(Qt::Key_Space);
    EXPECT_EQ(markerStep(), "spring");
    key(Qt::Key_Return);
    type(QStringLiteral("35.5"));
    key(Qt::Key_Space);
    EXPECT_EQ(markerStep(), "i");
    key(Qt::Key_Return, Qt::ControlModifier);
    EXPECT_TRUE(m_page->settling());
    key(Qt::Key_R);
    key(Qt::Key_Return);
    ASSERT_EQ(finished.count(), 1);
    EXPECT_FALSE(m_page->isActive());
    EXPECT_EQ(m_sink.words(),
              "show a; say a p1; say a p2; say a p3; retract 4; "
              "prompt b; show b; say b p1; say b p2; show c; partly c; show d; omit e; say f p1; unseen g; "
              "retract 15; show g; say g p1; say g p2; show chocks; say chocks p1; reading leak 2.000; "
              "show leak; say leak p1; say leak p2; reading spring 35.50; show spring; say spring p1; "
              "unreached i; end");
    // What was stored is a sound attempt of this rubric.
    EXPECT_TRUE(core::checkAgainstRubric({m_sink.header, m_sink.events}, *testing::smallRubric()).empty());
}

TEST_F(ScoringPageTest, AWholeAttemptByTouch) {
    open();
    QSignalSpy finished(m_page.get(), &app::ScoringPage::finished);
    auto* dock = part<DockPart>();
    auto* board = part<BoardPart>();
    tap(dock, DockPart::Both);  // a
    tap(part<StripPart>(), 1);  // its second point was not said
    tap(part<StripPart>(), StripPart::Prompt);
    tap(dock, DockPart::Partly);  // b
    const QRectF c = board->seenRect(*board->target(2));
    touch(board, QPoint(qRound(c.left()) + 30, qRound(c.center().y())));   // left end: shown
    touch(board, QPoint(qRound(c.right()) - 30, qRound(c.center().y())));  // right end: said
    tap(board, 3);                                                         // d: middle, both
    tap(dock, DockPart::NotObserved);                                      // e
    tap(dock, DockPart::Undo);
    tap(dock, DockPart::Shown);     // e
    tap(part<app::PlanPart>(), 2);  // brakes
    tap(dock, DockPart::Said);      // chocks
    // The figure by the page's own keys.
    NumberField* before = nullptr;
    for (NumberField* field : board->findChildren<NumberField*>())
        if (field->isVisible() && field->accessibleName().contains(QLatin1String("before"))) before = field;
    ASSERT_NE(before, nullptr);
    touch(board, before->geometry().center());
    auto* keypad = part<app::KeypadPart>();
    for (const int digit : {1, 2, 0}) tap(keypad, digit);
    tap(keypad, app::KeypadPart::Less);
    tap(board, BoardPart::StartStop + 9);
    wait(61);
    tap(keypad, 9);
    tap(keypad, 8);
    tap(board, 9);  // leak: both
    tap(part<app::HeaderPart>(), app::HeaderPart::Finish);
    tap(part<app::SettlePart>(), 0 * app::SettlePart::kPerRow + app::SettlePart::Unsee);
    tap(dock, DockPart::AcceptAll);
    ASSERT_EQ(finished.count(), 1);
    EXPECT_EQ(m_sink.words(),
              "show a; say a p1; say a p2; say a p3; retract 3; prompt b; show b; partly b; "
              "show c; say c p1; say c p2; show d; say d p1; unseen e; retract 14; show e; say chocks p1; "
              "reading leak 21.00; show leak; say leak p1; say leak p2; "
              "unseen f; unreached g; unreached i; omit spring; end");
}

TEST_F(ScoringPageTest, TheComputerIsKeptAwakeWhileTheClockRuns) {
    make({1366, 720});
    EXPECT_FALSE(m_awake);
    ASSERT_TRUE(m_page->start(testing::smallRubric(), testing::smallHeader()));
    EXPECT_TRUE(m_awake);
    m_page->suspend();
    EXPECT_FALSE(m_awake);
    key(Qt::Key_F8);
    EXPECT_TRUE(m_awake);
    key(Qt::Key_Return, Qt::ControlModifier);
    key(Qt::Key_Return);
    EXPECT_FALSE(m_page->isActive());
    EXPECT_FALSE(m_awake);
}

TEST_F(ScoringPageTest, ResumeBringsEveryMarkBackAndThePauseBetween) {
    open();
    key(Qt::Key_Space);
    key(Qt::Key_L);
    m_stored = {m_sink.header, m_sink.events};
    const std::size_t before = m_sink.events.size();
    m_clock.pass(600);
    m_page.reset();
    make({1366, 720});
    ASSERT_TRUE(m_page->resume(app::qs(m_sink.header.id)));
    EXPECT_EQ(m_sink.words(before), "pause; resume");
    const std::size_t all = m_sink.events.size();
    ASSERT_TRUE(m_page->resume(app::qs(m_sink.header.id))) << "it is open already";
    EXPECT_EQ(m_sink.events.size(), all);
    EXPECT_TRUE(m_page->model()->marks(0).shown);
    EXPECT_TRUE(m_page->model()->marks(1).partly);
    EXPECT_EQ(markerStep(), "c");
    EXPECT_FALSE(m_page->model()->paused());
}

TEST_F(ScoringPageTest, AnUnfinishedAttemptCanBeFinishedAsItStands) {
    open();
    key(Qt::Key_Space);
    m_page->suspend();
    m_stored = {m_sink.header, m_sink.events};
    const double stopped = m_sink.events.back().t;
    m_clock.pass(86400);
    m_page.reset();
    make({1366, 720});
    ASSERT_TRUE(m_page->settle(app::qs(m_sink.header.id)));
    EXPECT_TRUE(m_page->settling());
    QSignalSpy finished(m_page.get(), &app::ScoringPage::finished);
    key(Qt::Key_Return);
    ASSERT_EQ(finished.count(), 1);
    EXPECT_EQ(m_sink.events.back().kind, core::EventKind::End);
    EXPECT_DOUBLE_EQ(m_sink.events.back().t, stopped) << "not a day later";
}

TEST_F(ScoringPageTest, TheRibbonTellsWhatIsOutOfPlace) {
    open();
    auto* ribbon = part<app::RibbonPart>();
    for (const char* step : {"b", "c", "d", "a"}) {
        m_page->model()->goTo(m_page->model()->indexOf(step));
        key(Qt::Key_Space);
    }
    EXPECT_EQ(ribbon->outOfPlace(), 1);
    EXPECT_EQ(ribbon->words(), QStringLiteral("1 out of place: 1"));
    // Two that changed places: either could be the one.
    m_page->model()->undo();
    m_page->model()->undo();
    m_page->model()->goTo(m_page->model()->indexOf("f"));
    key(Qt::Key_Space);
    m_page->model()->goTo(m_page->model()->indexOf("e"));
    key(Qt::Key_Space);
    EXPECT_EQ(ribbon->outOfPlace(), 1);
    EXPECT_TRUE(ribbon->words().contains(QLatin1String("or beside"))) << ribbon->words().toStdString();
}

}  // namespace
}  // namespace markerlamp
