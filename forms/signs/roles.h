#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Colour roles. Meaning is shape first, colour second: two hues only, blue = shown, amber = said.

#include <QColor>
#include <QString>

namespace markerlamp::forms {

struct Roles {
    QColor ground, panel, ink, muted, line, hair, shown, said, on;
    double minStroke = 1;       ///< Sun: no stroke under 2
    bool filledPrimary = true;  ///< Pre-dawn: the primary is an outline, a filled pad dazzles

    static Roles day();
    static Roles sun();
    static Roles preDawn();
    /// Everything black on white, for paper.
    static Roles paper();
};

}  // namespace markerlamp::forms
