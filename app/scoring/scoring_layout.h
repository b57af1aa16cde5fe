#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Where the parts of the scoring page stand: a pure function of the page's size. Works in the design's pixels
// (4.41 to the millimetre); the caller scales. When there is too little room, parts give way in a fixed
// order.

#include <QRectF>
#include <QSizeF>

namespace markerlamp::app {

struct ScoringLayout {
    bool compact = false;  ///< one card instead of the board
    bool ribbon = true;
    bool listening = true;
    bool beadsOnly = false;    ///< strip without the points' words
    bool saidInStrip = false;  ///< the dock has no room for the fourth pad
    bool planPopup = false;    ///< zones open from the board's head
    int rows = 6;
    int columns = 2;
    double tileHeight = 68;
    double shrink = 1;  ///< compact only: further factor on all sizes when even that is too large
    QRectF header, dock, strip, planHead, plan, listeningCard, boardHead, board, ribbonRect, keypad, settle,
        content;
};

struct ScoringLayoutWish {
    bool dockLeft = false;
    bool dense = false;
    bool keypad = false;  ///< the board shows readings
    int planRows = 3;
    bool compactNow =
        false;  ///< the small layout is in use; it hides menu and status bar, and that room does not count
};

[[nodiscard]] ScoringLayout layOutScoring(QSizeF size, const ScoringLayoutWish& wish);

}  // namespace markerlamp::app
