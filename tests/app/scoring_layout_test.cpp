// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Where the parts of the scoring page stand, what gives way, and which step stands where on the board.

#include "app/scoring/scoring_layout.h"
#include "app/scoring/board_slots.h"
#include "app/scoring/scoring_model.h"
#include "app/scoring/step_finder.h"
#include "scoring_support.h"

#include <gtest/gtest.h>

namespace markerlamp {
namespace {

using app::BoardSlot;
using app::layOutScoring;
using app::ScoringLayout;
using app::ScoringLayoutWish;

TEST(ScoringLayout, PlacesAreThoseOfTheDrawingAt1366By720) {
    const ScoringLayout l = layOutScoring({1366, 720}, {});
    // Drawn in a window with a menu bar of 24 above the page.
    EXPECT_EQ(l.header, QRectF(0, 0, 1230, 44));
    EXPECT_EQ(l.dock, QRectF(1230, 0, 136, 720));
    EXPECT_EQ(l.strip, QRectF(8, 52, 1216, 84));
    EXPECT_EQ(l.planHead, QRectF(8, 144, 380, 36));
    EXPECT_EQ(l.plan, QRectF(8, 184, 380, 284));
    EXPECT_EQ(l.listeningCard, QRectF(8, 476, 380, 156));
    EXPECT_EQ(l.boardHead, QRectF(400, 144, 824, 36));
    EXPECT_EQ(l.board, QRectF(400, 184, 824, 448));
    EXPECT_EQ(l.ribbonRect, QRectF(8, 640, 1216, 76));
    EXPECT_EQ(l.keypad, QRectF(8, 638, 1216, 80));
    EXPECT_EQ(l.rows, 6);
    EXPECT_EQ(l.columns, 2);
    EXPECT_DOUBLE_EQ(l.tileHeight, 68);
}

TEST(ScoringLayout, PartsGiveWayOneAfterTheOther) {
    EXPECT_TRUE(layOutScoring({1366, 720}, {}).ribbon);
    const ScoringLayout low = layOutScoring({1366, 660}, {});
    EXPECT_FALSE(low.ribbon);
    EXPECT_FALSE(low.saidInStrip);
    const ScoringLayout lower = layOutScoring({1366, 600}, {});
    EXPECT_TRUE(lower.saidInStrip);
    EXPECT_TRUE(lower.beadsOnly);
    EXPECT_LT(lower.rows, 6);
    EXPECT_EQ(layOutScoring({960, 720}, {}).columns, 1);
    EXPECT_TRUE(layOutScoring({860, 720}, {}).planPopup);
    EXPECT_TRUE(layOutScoring({683, 384}, {}).compact);
    EXPECT_TRUE(layOutScoring({1366, 540}, {}).compact);
}

TEST(ScoringLayout, NothingOverlapsAndNothingStandsOutsideAtAnySize) {
    for (const bool left : {false, true})
        for (const bool keypad : {false, true})
            for (double w = 640; w <= 2000; w += 97)
                for (double h = 360; h <= 1200; h += 61) {
                    ScoringLayoutWish wish;
                    wish.dockLeft = left;
                    wish.keypad = keypad;
                    const ScoringLayout l = layOutScoring({w, h}, wish);
                    if (l.compact) continue;
                    SCOPED_TRACE(::testing::Message()
                                 << w << "x" << h << " left " << left << " keypad " << keypad);
                    std::vector<QRectF> parts{l.header, l.dock, l.strip, l.boardHead, l.board};
                    if (!l.planPopup) parts.insert(parts.end(), {l.planHead, l.plan});
                    if (l.listening) parts.push_back(l.listeningCard);
                    if (keypad)
                        parts.push_back(l.keypad);
                    else if (l.ribbon)
                        parts.push_back(l.ribbonRect);
                    for (std::size_t i = 0; i < parts.size(); ++i) {
                        EXPECT_TRUE(QRectF(0, 0, w, h).contains(parts[i])) << "part " << i;
                        for (std::size_t j = i + 1; j < parts.size(); ++j)
                            EXPECT_FALSE(parts[i].intersects(parts[j])) << "parts " << i << ", " << j;
                    }
                    // 15 mm at 4.41 px to the millimetre.
                    EXPECT_GE(l.tileHeight, 66);
                }
}

TEST(ScoringLayout, TheSmallLayoutDoesNotFlickerWhenItsBarsComeBack) {
    ScoringLayoutWish wish;
    for (double h = 500; h < 700; h += 1) {
        wish.compactNow = false;
        if (!layOutScoring({1366, h}, wish).compact) continue;
        wish.compactNow = true;
        EXPECT_TRUE(layOutScoring({1366, h + 50}, wish).compact) << h;
    }
}

TEST(BoardSlots, TilesGoDownTheColumnsAndThenToThePageAfter) {
    const auto rubric = testing::smallRubric();
    app::BoardRoom room;
    room.rows = 2;
    const auto slots_ = app::boardSlots(rubric->zones[0], testing::smallHeader(), room);
    ASSERT_EQ(slots_.size(), 6u);
    EXPECT_EQ(slots_[0].rect, QRectF(0, 0, 408, 68));
    EXPECT_EQ(slots_[1].rect, QRectF(0, 76, 408, 68));
    EXPECT_EQ(slots_[2].rect, QRectF(416, 0, 408, 68));
    EXPECT_EQ(slots_[4].page, 1);
    EXPECT_EQ(app::pageCount(slots_), 2);
}

TEST(BoardSlots, ReadingsTakeTheWidthAndTheMinuteTwoRows) {
    const auto rubric = testing::smallRubric();
    app::BoardRoom room;
    room.readings = true;
    const auto slots_ = app::boardSlots(rubric->zones[2], testing::smallHeader(), room);
    ASSERT_EQ(slots_.size(), 3u);
    EXPECT_EQ(slots_[0].kind, BoardSlot::Kind::Tile);
    EXPECT_EQ(slots_[1].kind, BoardSlot::Kind::Minute);
    EXPECT_EQ(slots_[1].rect, QRectF(0, 76, 824, 144));
    EXPECT_EQ(slots_[2].kind, BoardSlot::Kind::Reading);
    EXPECT_EQ(slots_[2].rect, QRectF(0, 228, 824, 68));
}

TEST(BoardSlots, AStepThatIsNotOnThisBusKeepsItsPlaceWithoutAnIndex) {
    const auto rubric = testing::smallRubric();
    const auto slots_ = app::boardSlots(rubric->zones[1], testing::smallHeader(), {});
    ASSERT_EQ(slots_.size(), 3u);
    EXPECT_FALSE(slots_[1].onBus);
}

TEST(StepFinder, FindsByNumberTitleAndOtherWaysToSayIt) {
    testing::KeptSink sink;
    testing::TurnedClock clock;
    auto model = app::ScoringModel::start(testing::smallRubric(), testing::smallHeader(), sink, clock);
    ASSERT_TRUE(model);
    const auto found = [&](const char* words) { return app::findSteps(**model, QString::fromUtf8(words)); };
    EXPECT_EQ(found("rims").front(), 1);
    EXPECT_EQ(found("straight").front(), 1);  // another way to say a point
    EXPECT_EQ(found("3"), (std::vector<int>{2, 9})) << "the number of a step comes before one in a point";
    EXPECT_EQ(found("tread tire").front(), 0);
    EXPECT_EQ(found("TAIL").front(), 6);
    EXPECT_TRUE(found("lift").empty());  // not on this bus
    EXPECT_TRUE(found("   ").empty());
    EXPECT_TRUE(found("zzz").empty());
}

}  // namespace
}  // namespace markerlamp
