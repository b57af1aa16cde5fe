#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// One step on the board. Pure functions: place and state in, strokes out.

#include "app/scoring/look.h"
#include "app/scoring/verdict.h"

namespace markerlamp::app {

struct TileContent {
    int number = 0;  ///< 0: not on this bus
    QString title;
    forms::SignState sign;
    bool scored = false;
    bool marker = false;
    bool justScored = false;
    bool dense = false;  ///< smaller type for three columns
};

/// The tile; the must-pass outline stands 4 px outside the rectangle.
void paintTile(QPainter& p, const Look& look, const QRectF& rect, const TileContent& tile);
/// The frame alone: fill, outline, marker, bar of the just-scored step, must-pass outline, prompt notch,
/// amended corner. lineHeight: height of the first line, in which number and lamp stand.
void paintTileFrame(QPainter& p, const Look& look, const QRectF& rect, const TileContent& tile,
                    double lineHeight);
/// Number, letter, lamp, name up to nameRight, and the capsule at the right end.
void paintTileLine(QPainter& p, const Look& look, const QRectF& rect, const TileContent& tile,
                   double lineHeight, double nameRight);
/// The capsule's left edge when it is painted at the right end of the rectangle.
[[nodiscard]] double capsuleLeft(const Look& look, const QRectF& rect, const forms::SignState& sign);

/// Words by weight: within plain, too close to call in a box, over and under inverse. Left edge x, middle yc.
void paintVerdict(QPainter& p, const Look& look, double x, double yc, Verdict verdict, double maxWidth);

}  // namespace markerlamp::app
