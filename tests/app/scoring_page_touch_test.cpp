// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// How the painted parts take fingers and the mouse, and the small card by touch.

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
#include "app/scoring/settle_part.h"
#include "app/scoring/strip_part.h"
#include "scoring_page_fixture.h"

#include <QLineEdit>

namespace markerlamp {
namespace {

using app::BoardPart;
using app::CompactPart;
using app::DockPart;

class ScoringPageTouch : public testing::ScoringPageFixture {
protected:
    static QPointingDevice* finger() {
        static QPointingDevice* const device = QTest::createTouchDevice();
        return device;
    }
    app::ScoringModel& model() { return *m_page->model(); }
};

TEST_F(ScoringPageTouch, ActsOnReleaseInsideAndASlideOffCancels) {
    open();
    auto* dock = part<DockPart>();
    const QPoint both = middleOf(dock, DockPart::Both);
    QTest::touchEvent(dock, finger()).press(0, both, dock);
    settle();
    EXPECT_TRUE(m_sink.events.empty()) << "not before the release";
    QTest::touchEvent(dock, finger()).move(0, both + QPoint(0, 300), dock);
    QTest::touchEvent(dock, finger()).release(0, both + QPoint(0, 300), dock);
    settle();
    EXPECT_TRUE(m_sink.events.empty());
    // Back inside counts again.
    QTest::touchEvent(dock, finger()).press(0, both, dock);
    QTest::touchEvent(dock, finger()).move(0, both + QPoint(0, 300), dock);
    QTest::touchEvent(dock, finger()).move(0, both, dock);
    QTest::touchEvent(dock, finger()).release(0, both, dock);
    settle();
    EXPECT_EQ(m_sink.presses.size(), 1u);
}

TEST_F(ScoringPageTouch, ASecondContactIsIgnored) {
    open();
    auto* dock = part<DockPart>();
    auto* board = part<BoardPart>();
    QTest::touchEvent(dock, finger()).press(0, middleOf(dock, DockPart::Both), dock);
    QTest::touchEvent(board, finger()).stationary(0).press(1, middleOf(board, 4), board);
    QTest::touchEvent(board, finger()).stationary(0).release(1, middleOf(board, 4), board);
    settle();
    EXPECT_TRUE(m_sink.events.empty());
    QTest::touchEvent(dock, finger()).release(0, middleOf(dock, DockPart::Both), dock);
    settle();
    EXPECT_EQ(m_sink.presses.size(), 1u);
    EXPECT_TRUE(model().marks(0).shown);
    EXPECT_TRUE(model().marks(4).open());
}

TEST_F(ScoringPageTouch, TheSamePadWithinAQuarterSecondIsOnePress) {
    open();
    auto* dock = part<DockPart>();
    const QPoint both = middleOf(dock, DockPart::Both);
    quint64 made = 1000;
    // Handled `gap` s after the press before, but made `apart` ms after it.
    const auto click = [&](const QPoint& at, double gap, quint64 apart) {
        m_clock.pass(gap);
        made += apart;
        for (const auto type : {QEvent::MouseButtonPress, QEvent::MouseButtonRelease}) {
            QMouseEvent event(type, at, dock->mapToGlobal(at), Qt::LeftButton,
                              type == QEvent::MouseButtonPress ? Qt::LeftButton : Qt::NoButton, {});
            event.setTimestamp(made);
            QCoreApplication::sendEvent(dock, &event);
        }
    };
    click(both, 1.0, 1000);
    click(both, 0.2, 200);
    click(both, 0.2, 200);
    EXPECT_EQ(m_sink.presses.size(), 1u);
    click(both, 0.26, 260);
    EXPECT_EQ(m_sink.presses.size(), 2u);
    click(middleOf(dock, DockPart::Shown), 0.05, 50);  // another pad at once is meant
    EXPECT_EQ(m_sink.presses.size(), 3u);
    click(middleOf(dock, DockPart::Shown), 0.01, 400);  // it waited for a busy machine
    EXPECT_EQ(m_sink.presses.size(), 4u);
}

TEST_F(ScoringPageTouch, APalmAtTheHoldingEdgeIsIgnored) {
    open();
    auto* dock = part<DockPart>();
    // 8 mm at 4.41 px to the millimetre.
    const QPoint palm(dock->width() - 20, middleOf(dock, DockPart::Both).y());
    touch(dock, palm);
    EXPECT_TRUE(m_sink.events.empty());
    touch(dock, palm - QPoint(30, 0));
    EXPECT_EQ(m_sink.presses.size(), 1u);
}

TEST_F(ScoringPageTouch, TheEndsOfATileAreShownAndSaid) {
    open();
    auto* board = part<BoardPart>();
    const QRectF tile = board->target(1)->rect;
    const int y = qRound(tile.center().y());
    // 15 mm = 66 px at each end.
    touch(board, {qRound(tile.left()) + 64, y});
    EXPECT_EQ(m_sink.lastPress(), "show b");
    touch(board, {qRound(tile.right()) - 64, y});
    EXPECT_EQ(m_sink.lastPress(), "say b p1; say b p2");
    const QRectF next = board->target(2)->rect;
    touch(board, {qRound(next.left()) + 70, qRound(next.center().y())});
    EXPECT_EQ(m_sink.lastPress(), "show c; say c p1; say c p2");
}

TEST_F(ScoringPageTouch, NotesCoverFindAndSlideHaveButtons) {
    open();
    auto* strip = part<app::StripPart>();
    tap(part<DockPart>(), DockPart::Both);
    tap(strip, app::StripPart::Slide);
    EXPECT_TRUE(model().marks(1).shown);
    tap(strip, app::StripPart::Note);
    auto* note = part<app::NotePart>();
    ASSERT_TRUE(note->isVisible());
    tap(note, app::NotePart::Wrong);
    EXPECT_EQ(m_sink.lastPress(), "wrong b");
    EXPECT_FALSE(note->isVisible());
    tap(strip, app::StripPart::Note);
    QTest::keyClicks(QApplication::focusWidget(), QStringLiteral("loud"));
    tap(note, app::NotePart::Whole);
    tap(note, app::NotePart::Keep);
    EXPECT_EQ(m_sink.lastPress(), "note");
    EXPECT_EQ(m_sink.events.back().text, "loud");
    auto* header = part<app::HeaderPart>();
    tap(header, app::HeaderPart::Cover);
    tap(part<app::CoverPart>(), app::CoverPart::Uncover);
    EXPECT_FALSE(part<app::CoverPart>()->isVisible());
    tap(header, app::HeaderPart::Pause);
    EXPECT_TRUE(model().paused());
    tap(header, app::HeaderPart::Pause);
    EXPECT_FALSE(model().paused());
}

TEST_F(ScoringPageTouch, TheMouseDoesNotStealTheFieldFromTheNumberKeys) {
    open();
    model().goTo(model().indexOf("spring"));
    key(Qt::Key_Return);
    settle();
    auto* keypad = part<app::KeypadPart>();
    for (const int digit : {3, 0}) {
        m_clock.pass(0.5);
        QTest::mouseClick(keypad, Qt::LeftButton, {}, middleOf(keypad, digit));
    }
    auto* field = qobject_cast<app::NumberField*>(QApplication::focusWidget());
    ASSERT_NE(field, nullptr);
    EXPECT_EQ(field->text(), QStringLiteral("30"));
    // Any other press keeps the figure and hands the keys back.
    m_clock.pass(0.5);
    tap(part<app::StripPart>(), app::StripPart::Prompt);
    EXPECT_EQ(m_sink.lastPress(), "reading spring 30.00");
    EXPECT_EQ(QApplication::focusWidget(), m_page.get());
}

// --- the small card ---

class ScoringPageCompact : public ScoringPageTouch {
protected:
    void SetUp() override {
        open({683, 384});
        ASSERT_TRUE(m_page->isCompact());
    }
};

TEST_F(ScoringPageCompact, ShowsTheCardAndTheFivePads) {
    EXPECT_TRUE(part<CompactPart>()->isVisible());
    EXPECT_EQ(part<DockPart>()->pads(), DockPart::Pads::Compact);
    EXPECT_FALSE(part<BoardPart>()->isVisible());
    EXPECT_FALSE(part<app::StripPart>()->isVisible());
    EXPECT_FALSE(part<app::HeaderPart>()->isVisible());
}

TEST_F(ScoringPageCompact, OutcomesPointsAndButtonsByTouch) {
    auto* card = part<CompactPart>();
    tap(part<DockPart>(), DockPart::Both);
    EXPECT_EQ(m_sink.lastPress(), "show a; say a p1; say a p2; say a p3");
    tap(card, 2);
    EXPECT_EQ(m_sink.lastPress(), "retract 4");
    tap(card, CompactPart::Prompt);
    tap(card, CompactPart::Said);
    EXPECT_EQ(m_sink.lastPress(), "prompt b; say b p1; say b p2");
    tap(card, CompactPart::NextStep);  // the card's middle: both
    EXPECT_EQ(m_sink.lastPress(), "show c; say c p1; say c p2");
    tap(card, CompactPart::Slide);
    EXPECT_TRUE(model().marks(2).open());
    EXPECT_TRUE(model().marks(3).shown);
    tap(card, CompactPart::Note);
    EXPECT_TRUE(part<app::NotePart>()->isVisible());
    tap(part<app::NotePart>(), app::NotePart::Close);
    EXPECT_FALSE(part<app::NotePart>()->isVisible());
}

TEST_F(ScoringPageCompact, ZonesOpenOverTheCardWithTheButtonsOfTheAttempt) {
    tap(part<CompactPart>(), CompactPart::Zones);
    auto* plan = part<app::PlanPart>();
    ASSERT_TRUE(plan->isVisible());
    ASSERT_TRUE(part<app::HeaderPart>()->isVisible());
    tap(plan, 1);
    EXPECT_FALSE(plan->isVisible());
    EXPECT_EQ(model().currentZone(), 1);
    tap(part<CompactPart>(), CompactPart::Zones);
    tap(part<app::HeaderPart>(), app::HeaderPart::Finish);
    EXPECT_TRUE(m_page->settling());
    QSignalSpy finished(m_page.get(), &app::ScoringPage::finished);
    tap(part<DockPart>(), DockPart::AcceptAll);
    EXPECT_EQ(finished.count(), 1);
}

TEST_F(ScoringPageCompact, ReadingsAndTheMinuteFit) {
    tap(part<CompactPart>(), CompactPart::Brakes);
    auto* board = part<BoardPart>();
    ASSERT_TRUE(board->isVisible());
    model().goTo(model().indexOf("spring"));
    key(Qt::Key_Return);
    settle();
    auto* keypad = part<app::KeypadPart>();
    ASSERT_TRUE(keypad->isVisible());
    tap(keypad, 4);
    tap(keypad, 0);
    tap(part<DockPart>(), DockPart::Both);
    EXPECT_EQ(m_sink.words(), "reading spring 40.00; show spring; say spring p1");
    settle();
    EXPECT_FALSE(keypad->isVisible());
    EXPECT_FALSE(board->isVisible()) << "the next dark step lies in a zone without readings";
    model().goTo(model().indexOf("leak"));
    ASSERT_TRUE(board->isVisible()) << "the choice for this zone holds";
    for (const auto& target : board->targets())
        EXPECT_TRUE(QRectF(board->rect()).contains(target.rect)) << target.name.toStdString();
    tap(board, BoardPart::StartStop + model().indexOf("leak"));
    tap(part<CompactPart>(), CompactPart::Brakes);
    EXPECT_FALSE(board->isVisible());
}

}  // namespace
}  // namespace markerlamp
