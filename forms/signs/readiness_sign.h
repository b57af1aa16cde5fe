#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The signs of readiness: the shape that goes with the word, and the number line of "how many of ten". Ink
// only, no meaning in colour; every shape is told apart in 1-bit black and white.

#include "core/readiness/readiness_word.h"
#include "forms/signs/roles.h"

#include <QFont>
#include <QPainter>
#include <QRectF>
#include <QString>

namespace markerlamp::forms {

/// Ready solid circle, Close its left half, Not yet hollow, Too little data dotted outline. `square` is its
/// place, 14 px in lists and 24 px beside the word.
void paintReadiness(QPainter& painter, const QRectF& square, core::ReadinessWord word, const Roles& roles,
                    double scale = 1);

/// A chance on a line of 0 to 10 with its interval. Shares in [0, 1], low <= chance <= high; what lies
/// outside is drawn at the end of the line.
struct OfTen {
    double chance = 0.5, low = 0, high = 1;
};

/// Line with ticks at 0 .. 10 (longer at 0, 5 and 10), interval of 3 px and dot above it, and the numbers
/// 0, 5, 10 below. `unit` follows the 10 ("in 10" gives "10 in 10"); empty: nothing does.
/// Without `value` only the empty line is drawn.
void paintOfTen(QPainter& painter, const QRectF& rect, const OfTen* value, const QString& unit,
                const QFont& font, const Roles& roles, double scale = 1);
/// x of a share on that line; the ends leave room for half of the widest number.
[[nodiscard]] double ofTenX(const QRectF& rect, double share, const QString& unit, const QFont& font);
/// Height that the line needs with this font.
[[nodiscard]] double ofTenHeight(const QFont& font, double scale = 1);

/// The same for a cell of a list: a hairline, the interval and the dot, no numbers.
void paintOfTenCell(QPainter& painter, const QRectF& rect, const OfTen& value, const Roles& roles,
                    double scale = 1);

}  // namespace markerlamp::forms
