// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "forms/style/fonts.h"

#include <gtest/gtest.h>

#include <QFontMetricsF>
#include <QRawFont>

namespace {

using markerlamp::forms::type;
using markerlamp::forms::typeMono;

double width(const QFont& font, const char* text) {
    return QFontMetricsF(font).horizontalAdvance(QLatin1String(text));
}

// Widths from the faces' own tables (i 300, m 900 of 1000 units; mono 650).
TEST(Fonts, TakeTheProportionalFaceForText) {
    for (const bool bold : {false, true}) {
        EXPECT_NEAR(width(type(100, bold), "i"), 30, 0.2) << bold;
        EXPECT_NEAR(width(type(100, bold), "m"), 90, 0.2) << bold;
    }
}

TEST(Fonts, TakeTheMonoFaceForNumbersOfSteps) {
    for (const bool bold : {false, true})
        for (const char* letter : {"i", "m", "7"}) EXPECT_NEAR(width(typeMono(100, bold), letter), 65, 0.2);
}

TEST(Fonts, GiveDigitsOneWidth) {
    for (const bool bold : {false, true})
        for (const char* digit : {"0", "1", "4", "7", "9"})
            EXPECT_NEAR(width(type(100, bold), digit), 65, 0.3) << digit;
}

TEST(Fonts, AreBoldOnlyWhenAsked) {
    EXPECT_EQ(QRawFont::fromFont(type(40)).weight(), QFont::Normal);
    EXPECT_EQ(QRawFont::fromFont(type(40, true)).weight(), QFont::Bold);
    EXPECT_EQ(QRawFont::fromFont(typeMono(40)).weight(), QFont::Normal);
    EXPECT_EQ(QRawFont::fromFont(typeMono(40, true)).weight(), QFont::Bold);
}

}  // namespace
