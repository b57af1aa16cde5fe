// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Every key of the scoring page and of the settle pass, sent the way a keyboard sends it.

#include "app/scoring/board_part.h"
#include "app/scoring/cover_part.h"
#include "app/scoring/dock_part.h"
#include "app/scoring/find_part.h"
#include "app/scoring/header_part.h"
#include "app/scoring/key_map.h"
#include "app/scoring/listening_part.h"
#include "app/scoring/note_part.h"
#include "app/scoring/number_field.h"
#include "app/scoring/settle_part.h"
#include "app/scoring/strip_part.h"
#include "scoring_page_fixture.h"

#include <QAction>
#include <QLineEdit>

namespace markerlamp {
namespace {

using app::ScoringModel;

class ScoringPageKeys : public testing::ScoringPageFixture {
protected:
    void SetUp() override { open(); }
    ScoringModel& model() { return *m_page->model(); }
    [[nodiscard]] std::string marker() {
        return model().marker() < 0 ? "none" : model().step(model().marker()).id;
    }
    [[nodiscard]] std::string last() const { return m_sink.lastPress(); }
    void type(const QString& words) {
        for (const QChar c : words) key(c.toUpper().unicode(), Qt::NoModifier, QString(c));
    }
};

TEST_F(ScoringPageKeys, OutcomesAtTheMarker) {
    key(Qt::Key_Space);
    EXPECT_EQ(last(), "show a; say a p1; say a p2; say a p3");
    key(Qt::Key_L);
    EXPECT_EQ(last(), "show b; partly b");
    key(Qt::Key_J);
    EXPECT_EQ(last(), "show c");
    key(Qt::Key_K);
    EXPECT_EQ(last(), "say d p1");
    key(Qt::Key_O);
    EXPECT_EQ(last(), "omit e");
    key(Qt::Key_U);
    EXPECT_EQ(last(), "unseen f");
    EXPECT_EQ(marker(), "g");
}

TEST_F(ScoringPageKeys, DigitsAndMRefineTheStepJustScored) {
    key(Qt::Key_Space);
    key(Qt::Key_2);
    EXPECT_EQ(last(), "retract 3");
    key(Qt::Key_M);
    EXPECT_EQ(last(), "wrong a p2");
}

TEST_F(ScoringPageKeys, PArmsThePromptAndShiftPGivesItAfterwards) {
    key(Qt::Key_P);
    EXPECT_TRUE(model().promptArmed());
    EXPECT_TRUE(part<app::StripPart>()->target(app::StripPart::Prompt)->checked);
    key(Qt::Key_P);
    EXPECT_FALSE(model().promptArmed());
    key(Qt::Key_Space);
    key(Qt::Key_P, Qt::ShiftModifier, QStringLiteral("P"));
    EXPECT_EQ(model().marks(0).prompts, 1);
}

TEST_F(ScoringPageKeys, ZoneKeysAreThePlacesOnTheKeyboard) {
    const char* letters = "QWERASDFZXCV";
    for (int i = 0; i < 3; ++i) {
        key(letters[model().zones()[static_cast<std::size_t>(i)].keyIndex]);
        EXPECT_EQ(model().currentZone(), i);
    }
    // A French keyboard writes A where this one writes Q.
    const quint32 code = 16;
    m_clock.pass(0.5);
    QKeyEvent event = testing::keyEvent(Qt::Key_A, QStringLiteral("a"), Qt::NoModifier, code);
    QApplication::sendEvent(m_page.get(), &event);
    EXPECT_EQ(m_page->keyMap().zoneCaption(0), QStringLiteral("A"));
}

TEST_F(ScoringPageKeys, ArrowsPagesAndHomeMoveTheMarker) {
    key(Qt::Key_Down);
    EXPECT_EQ(marker(), "b");
    key(Qt::Key_Up);
    EXPECT_EQ(marker(), "a");
    key(Qt::Key_Space);
    key(Qt::Key_Down);
    key(Qt::Key_Home);
    EXPECT_EQ(marker(), "b");
    const std::size_t events = m_sink.events.size();
    key(Qt::Key_PageDown);  // one page holds the zone
    EXPECT_EQ(marker(), "b");
    EXPECT_EQ(m_sink.events.size(), events);
}

TEST_F(ScoringPageKeys, PageKeysTurnTheTilesWhereTheyDoNotFit) {
    m_page->resize(1366, 560);
    settle();
    ASSERT_EQ(part<app::BoardPart>()->pages(), 1);  // six tiles in four rows of two
    m_page->resize(960, 560);
    settle();
    ASSERT_GT(part<app::BoardPart>()->pages(), 1);
    key(Qt::Key_PageDown);
    EXPECT_NE(marker(), "a");
    key(Qt::Key_PageUp);
    EXPECT_EQ(marker(), "a");
}

TEST_F(ScoringPageKeys, ShiftArrowsSlide) {
    key(Qt::Key_Space);
    key(Qt::Key_Down, Qt::ShiftModifier);
    EXPECT_TRUE(model().marks(0).open());
    EXPECT_TRUE(model().marks(1).shown);
    key(Qt::Key_Up, Qt::ShiftModifier);
    EXPECT_TRUE(model().marks(0).shown);
    EXPECT_TRUE(model().marks(1).open());
}

TEST_F(ScoringPageKeys, UndoAndRedo) {
    key(Qt::Key_Space);
    key(Qt::Key_Backspace);
    EXPECT_TRUE(model().marks(0).open());
    key(Qt::Key_Z, Qt::ControlModifier | Qt::ShiftModifier);
    EXPECT_TRUE(model().marks(0).shown);
    key(Qt::Key_Z, Qt::ControlModifier);
    EXPECT_TRUE(model().marks(0).open());
}

TEST_F(ScoringPageKeys, FindSetsTheMarkerAndItsLettersDoNotAct) {
    for (const bool chord : {false, true}) {
        if (chord)
            key(Qt::Key_F, Qt::ControlModifier);
        else
            key(Qt::Key_Slash, Qt::NoModifier, QStringLiteral("/"));
        auto* find = part<app::FindPart>();
        ASSERT_TRUE(find->isVisible());
        EXPECT_EQ(QApplication::focusWidget(), find->field());
        type(chord ? QStringLiteral("bumper") : QStringLiteral("horn"));
        EXPECT_TRUE(m_sink.events.empty()) << m_sink.words();
        key(Qt::Key_Return);
        EXPECT_FALSE(find->isVisible());
        EXPECT_EQ(marker(), chord ? "i" : "e");
        EXPECT_EQ(QApplication::focusWidget(), m_page.get());
    }
    key(Qt::Key_Slash, Qt::NoModifier, QStringLiteral("/"));
    type(QStringLiteral("rims"));
    key(Qt::Key_Escape);
    EXPECT_EQ(marker(), "i");
    EXPECT_EQ(QApplication::focusWidget(), m_page.get());
}

TEST_F(ScoringPageKeys, NotesBelongToTheStepJustScored) {
    key(Qt::Key_Space);
    key(Qt::Key_N);
    auto* note = part<app::NotePart>();
    ASSERT_TRUE(note->isVisible());
    EXPECT_FALSE(part<app::StripPart>()->isVisible());
    type(QStringLiteral("quick"));
    key(Qt::Key_Space, Qt::NoModifier, QStringLiteral(" "));
    type(QStringLiteral("so"));
    key(Qt::Key_Return);
    EXPECT_EQ(last(), "note a");
    EXPECT_EQ(m_sink.events.back().text, "quick so");
    EXPECT_EQ(marker(), "b") << "no letter acted";
    EXPECT_TRUE(part<app::StripPart>()->isVisible());
    key(Qt::Key_B);
    type(QStringLiteral("nail"));
    key(Qt::Key_Return);
    EXPECT_EQ(last(), "fault a");
    EXPECT_EQ(m_sink.events.back().text, "nail");
}

TEST_F(ScoringPageKeys, PauseCoverAndFinish) {
    key(Qt::Key_F8);
    EXPECT_TRUE(model().paused());
    EXPECT_EQ(part<app::HeaderPart>()->stateWords(), QStringLiteral("paused"));
    key(Qt::Key_F8);
    EXPECT_FALSE(model().paused());
    key(Qt::Key_F9);
    EXPECT_TRUE(part<app::CoverPart>()->isVisible());
    key(Qt::Key_Space);  // goes on beneath
    EXPECT_TRUE(model().marks(0).shown);
    key(Qt::Key_F9);
    EXPECT_FALSE(part<app::CoverPart>()->isVisible());
    key(Qt::Key_Return, Qt::ControlModifier);
    EXPECT_TRUE(m_page->settling());
    EXPECT_EQ(part<app::DockPart>()->pads(), app::DockPart::Pads::Settle);
}

TEST_F(ScoringPageKeys, TOpensTheReadingsAndThenStartsTheMinute) {
    key(Qt::Key_T);
    EXPECT_TRUE(part<app::BoardPart>()->readings());
    EXPECT_EQ(marker(), "chocks") << "the level ground and the chocks come first";
    QSignalSpy said(m_page.get(), &app::Page::said);
    key(Qt::Key_T);
    EXPECT_TRUE(said.last().first().toString().startsWith(QLatin1String("Minute running")));
    key(Qt::Key_T);  // stops early
    EXPECT_EQ(m_sink.events.back().kind, core::EventKind::Note);
    EXPECT_EQ(m_sink.events.back().text, "short: 0 s");
    key(Qt::Key_Escape);
    EXPECT_FALSE(part<app::BoardPart>()->readings());
    key(Qt::Key_T);
    EXPECT_TRUE(part<app::BoardPart>()->readings());
}

TEST_F(ScoringPageKeys, ARunningMinuteKeepsItsClockInSightWhenTheReadingsClose) {
    key(Qt::Key_T);
    key(Qt::Key_T);
    auto* listening = part<app::ListeningPart>();
    EXPECT_TRUE(listening->targets().empty()) << "the stopwatch itself is on the board";
    key(Qt::Key_Escape);
    EXPECT_FALSE(part<app::BoardPart>()->readings());
    ASSERT_EQ(listening->targets().size(), 1u);
    emit listening->pressed(listening->targets().front().id, 0);
    EXPECT_TRUE(part<app::BoardPart>()->readings()) << "the clock leads back to the readings";
    EXPECT_TRUE(listening->targets().empty());
}

TEST_F(ScoringPageKeys, TheMinuteSaysWhatItsOwnStepAsksFor) {
    // The applied minute is run with the pedal held, the static one with the foot off it: one sentence for
    // both would be wrong for one of them (model commercial driver manual, section 5.3).
    key(Qt::Key_T);
    QSignalSpy said(m_page.get(), &app::Page::said);
    key(Qt::Key_T);
    const int step = model().indexOf("leak");
    ASSERT_GE(step, 0);
    EXPECT_TRUE(said.last().first().toString().contains(QString::fromStdString(model().step(step).show)));
}

TEST_F(ScoringPageKeys, FiguresTakeDigitsAndNoLetters) {
    model().goTo(model().indexOf("spring"));
    key(Qt::Key_Return);
    auto* field = qobject_cast<app::NumberField*>(QApplication::focusWidget());
    ASSERT_NE(field, nullptr);
    type(QStringLiteral("3l5"));
    key(Qt::Key_Space, Qt::NoModifier, QStringLiteral(" "));
    EXPECT_EQ(field->text(), QStringLiteral("35"));
    EXPECT_TRUE(m_sink.events.empty());
    key(Qt::Key_Escape);
    EXPECT_TRUE(m_sink.events.empty());
    EXPECT_EQ(QApplication::focusWidget(), m_page.get());
    key(Qt::Key_Return);
    type(QStringLiteral("35,5"));
    key(Qt::Key_Return);
    EXPECT_EQ(last(), "reading spring 35.50");
}

TEST_F(ScoringPageKeys, SpaceHeldForThreeSecondsIsOneOutcome) {
    key(Qt::Key_Space);
    for (int i = 0; i < 90; ++i) {
        m_clock.pass(0.033);
        QKeyEvent event = testing::keyEvent(Qt::Key_Space, QStringLiteral(" "), Qt::NoModifier, 57, true);
        QApplication::sendEvent(m_page.get(), &event);
    }
    EXPECT_EQ(m_sink.presses.size(), 1u);
}

TEST_F(ScoringPageKeys, ABouncingKeyIsOnePress) {
    for (const double gap : {0.5, 0.1, 0.05}) {
        m_clock.pass(gap);
        QKeyEvent event = testing::keyEvent(Qt::Key_Space, QStringLiteral(" "), Qt::NoModifier, 57);
        QApplication::sendEvent(m_page.get(), &event);
    }
    EXPECT_EQ(m_sink.presses.size(), 1u);
}

TEST_F(ScoringPageKeys, RemappedKeysActAndShowOnThePads) {
    app::KeyMap changed;
    ASSERT_EQ(changed.setKey(app::KeyAction::Both, QKeySequence(QStringLiteral("G"))), QString());
    changed.save(m_settings.store());
    emit m_settings.changed();
    key(Qt::Key_Space);
    EXPECT_TRUE(m_sink.events.empty());
    key(Qt::Key_G);
    EXPECT_EQ(last(), "show a; say a p1; say a p2; say a p3");
    EXPECT_EQ(part<app::DockPart>()->target(app::DockPart::Both)->key, QStringLiteral("G"));
}

TEST_F(ScoringPageKeys, SingleLettersCanBeSwitchedOff) {
    m_settings.setSingleKeys(false);
    key(Qt::Key_L);
    EXPECT_TRUE(m_sink.events.empty());
    key(Qt::Key_L, Qt::ControlModifier | Qt::AltModifier);
    EXPECT_EQ(last(), "show a; partly a");
}

TEST_F(ScoringPageKeys, AMenuDoesNotTakeTheKeysOfARunningAttempt) {
    auto* action = new QAction(m_page.get());
    action->setShortcut(QKeySequence(Qt::Key_F8));
    m_page->addAction(action);
    QSignalSpy triggered(action, &QAction::triggered);
    QTest::keyClick(m_page.get(), Qt::Key_F8);
    EXPECT_EQ(triggered.count(), 0);
    EXPECT_TRUE(model().paused());
}

TEST_F(ScoringPageKeys, TheSettlePassByKeyboard) {
    key(Qt::Key_Space);  // a; b is passed over
    key(Qt::Key_Down);
    key(Qt::Key_Space);  // c
    key(Qt::Key_Return, Qt::ControlModifier);
    auto* settle = part<app::SettlePart>();
    ASSERT_TRUE(settle->isVisible());
    const auto chosen = [&](int row, int place) {
        return settle->target(row * app::SettlePart::kPerRow + place)->checked;
    };
    EXPECT_TRUE(chosen(0, app::SettlePart::Omit));
    key(Qt::Key_U);
    EXPECT_TRUE(chosen(0, app::SettlePart::Unsee));
    key(Qt::Key_Down);
    key(Qt::Key_R);
    EXPECT_TRUE(chosen(1, app::SettlePart::Unreach));
    key(Qt::Key_Left);  // the zone's name: the letter changes all of it
    key(Qt::Key_O);
    EXPECT_TRUE(chosen(0, app::SettlePart::Omit));
    EXPECT_TRUE(chosen(1, app::SettlePart::Omit));
    key(Qt::Key_Backspace);
    EXPECT_TRUE(chosen(0, app::SettlePart::Unsee));
    key(Qt::Key_Right);
    key(Qt::Key_Up);
    key(Qt::Key_Space);  // the trainee did b
    EXPECT_EQ(last(), "show b; say b p1; say b p2");
    key(Qt::Key_Escape);
    EXPECT_FALSE(m_page->settling());
    key(Qt::Key_Return, Qt::ControlModifier);
    QSignalSpy finished(m_page.get(), &app::ScoringPage::finished);
    key(Qt::Key_Return);
    ASSERT_EQ(finished.count(), 1);
    EXPECT_EQ(m_sink.events.back().kind, core::EventKind::End);
}

}  // namespace
}  // namespace markerlamp
