// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/scoring/scoring_layout.h"

#include <algorithm>
#include <cmath>

namespace markerlamp::app {

namespace {

constexpr double kDock = 136;        // hairline, pads of 120, margins of 8
constexpr double kFullHeight = 708;  // everything there; 720 as drawn, with 2 px less for each row of tiles
constexpr double kBars = 64;         // menu and status bar, and a little
constexpr double kLeft = 8;
constexpr double kPlanWidth = 380;
constexpr double kBoardLeft = 400;
constexpr double kTilePitch = 8;
constexpr double kSmallestTile = 66;  // 15 mm

}  // namespace

ScoringLayout layOutScoring(QSizeF size, const ScoringLayoutWish& wish) {
    ScoringLayout l;
    const double w = size.width();
    const double h = size.height();
    // BOTH 130 high, four pads of 89 and gaps of 13: the least a dock can be.
    constexpr double kSmallestDock = 130 + 4 * 89 + 4 * 13 + 16;
    // Menu and status bar come and go with the small layout: without a step between, it would flicker.
    const double leaving = wish.compactNow ? kBars : 0;
    if (h < kSmallestDock + leaving || w < kDock + 480) {
        l.compact = true;
        l.shrink = std::min({1.0, w / 683, h / 384});
        const double cw = w / l.shrink;
        const double ch = h / l.shrink;
        const double dockX = wish.dockLeft ? 0 : cw - kDock;
        const double x = wish.dockLeft ? kDock : 0;
        l.dock = QRectF(dockX, 0, kDock, ch);
        l.content = QRectF(x, 0, cw - kDock, ch);
        l.boardHead = QRectF(x + 8, 40, cw - kDock - 16, 36);
        l.board = QRectF(x + 8, 80, cw - kDock - 16, ch - 80 - 112);
        l.plan = QRectF(x + 8, 48, cw - kDock - 16, ch - 56);
        l.strip = QRectF(x + 4, 40, cw - kDock - 8, 150);
        l.header = QRectF(x, 0, cw - kDock, 44);
        l.keypad = QRectF(x + 8, ch - 108, cw - kDock - 16, 100);
        l.settle = QRectF(x, 0, cw - kDock, ch);
        l.ribbon = l.listening = false;
        l.rows =
            std::max(1, static_cast<int>((l.board.height() + kTilePitch) / (kSmallestTile + kTilePitch)));
        l.columns = 1;
        return l;
    }
    const double x0 = wish.dockLeft ? kDock : 0;
    const double contentWidth = w - kDock;
    l.content = QRectF(x0, 0, contentWidth, h);
    l.dock = QRectF(wish.dockLeft ? 0 : contentWidth, 0, kDock, h);
    l.header = QRectF(x0, 0, contentWidth, 44);
    l.saidInStrip = h < kSmallestDock + 89 + 13;

    l.planPopup = contentWidth < kBoardLeft + 360;
    const double boardLeft = l.planPopup ? kLeft : kBoardLeft;
    const double right = contentWidth - 6;
    const double bottomMargin = 4;
    // The keypad of the readings stays as long as there is room for three rows of tiles above it.
    const double below = 84;
    l.ribbon = wish.keypad || h >= kFullHeight;
    double stripHeight = 84;
    if (h < kFullHeight - 76 || contentWidth < 1000) {
        stripHeight = 72;
        l.beadsOnly = true;
    }
    l.strip = QRectF(x0 + kLeft, 52, right - kLeft, stripHeight);
    const double top = l.strip.bottom() + 8;
    const double bottom = h - bottomMargin - (l.ribbon ? below - 4 : 0);
    l.boardHead = QRectF(x0 + boardLeft, top, right - boardLeft, 36);
    const double boardHeight = bottom - (top + 40) - (l.ribbon ? 4 : 0);
    l.rows =
        std::clamp(static_cast<int>((boardHeight + kTilePitch + 0.5) / (kSmallestTile + kTilePitch)), 1, 6);
    l.tileHeight =
        std::clamp(std::floor((boardHeight + kTilePitch) / l.rows - kTilePitch), kSmallestTile, 96.0);
    l.board = QRectF(x0 + boardLeft, top + 40, right - boardLeft,
                     l.rows * l.tileHeight + (l.rows - 1) * kTilePitch);
    l.columns = l.board.width() >= 3 * 270 && wish.dense ? 3 : l.board.width() >= 2 * 320 + 8 ? 2 : 1;
    if (!l.planPopup) {
        l.planHead = QRectF(x0 + kLeft, top, kPlanWidth, 36);
        l.plan = QRectF(x0 + kLeft, top + 40, kPlanWidth, 96.0 * std::max(3, wish.planRows) - 4);
        const double cardTop = l.plan.bottom() + 8;
        const double cardHeight = std::min(bottom - (l.ribbon ? 4 : 0) - cardTop, 300.0);
        l.listening = cardHeight >= 100;
        l.listeningCard = QRectF(x0 + kLeft, cardTop, kPlanWidth, std::max(0.0, cardHeight));
    } else {
        l.listening = false;
        l.plan = QRectF(x0 + kLeft, top + 40, std::min(kPlanWidth, right - kLeft),
                        96.0 * std::max(3, wish.planRows) - 4);
    }
    l.ribbonRect = QRectF(x0 + kLeft, h - 4 - 76, right - kLeft, 76);
    l.keypad = QRectF(x0 + kLeft, h - 4 - 78, right - kLeft, 80);
    l.settle = QRectF(x0, 52, contentWidth, h - 52);
    return l;
}

}  // namespace markerlamp::app
