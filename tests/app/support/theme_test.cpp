// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Contrast on the roles of every palette that has colours of its own, and what the theme promises besides.

#include "app/support/theme.h"

#include "app/trainees/zones_table.h"

#include "contrast.h"

#include <gtest/gtest.h>

#include <QApplication>
#include <QLineEdit>
#include <QPlainTextEdit>
#include <QRegularExpression>

#include <array>

#include <set>

namespace markerlamp::app {
namespace {

using testing::contrast;

constexpr std::array kOwnPalettes{Theme::Choice::Day, Theme::Choice::Sun, Theme::Choice::PreDawn};

}  // namespace

TEST(Contrast, FormulaGivesThePublishedExtremes) {
    // WCAG 2.1: black on white is 21:1, equal colours 1:1.
    EXPECT_NEAR(contrast(Qt::black, Qt::white), 21, 1e-6);
    EXPECT_NEAR(contrast(QColor(0x77, 0x77, 0x77), QColor(0x77, 0x77, 0x77)), 1, 1e-9);
}

TEST(Contrast, TextAndSignsCanBeReadUnderEveryPalette) {
    Theme theme;
    for (const Theme::Choice choice : kOwnPalettes) {
        theme.setChoice(choice);
        const forms::Roles& r = theme.roles();
        for (const QColor& ground : {r.ground, r.panel}) {
            EXPECT_GE(contrast(r.ink, ground), 7) << theme.choiceName().toStdString();
            EXPECT_GE(contrast(r.muted, ground), 4.5) << theme.choiceName().toStdString();
            EXPECT_GE(contrast(r.shown, ground), 4.5) << theme.choiceName().toStdString();
            EXPECT_GE(contrast(r.said, ground), 4.5) << theme.choiceName().toStdString();
            EXPECT_GE(contrast(r.line, ground), 3) << theme.choiceName().toStdString();
        }
        EXPECT_GE(contrast(r.on, r.said), 4.5);
        EXPECT_GE(contrast(r.on, r.shown), 4.5);
    }
}

TEST(Contrast, WhatAFieldAsksForCanBeRead) {
    Theme theme;
    const QString before = qApp->styleSheet();
    for (const Theme::Choice choice : kOwnPalettes) {
        theme.setChoice(choice);
        qApp->setPalette(theme.palette());
        qApp->setStyleSheet(theme.styleSheet());
        QLineEdit line;
        QPlainTextEdit lines;
        for (QWidget* field : std::initializer_list<QWidget*>{&line, &lines}) {
            field->ensurePolished();
            const QColor ink = field->palette().color(QPalette::PlaceholderText);
            const QColor ground = theme.roles().ground;
            const auto mixed = [&](float over, float under) {
                return over * ink.alphaF() + under * (1 - ink.alphaF());
            };
            const QColor seen =
                QColor::fromRgbF(mixed(ink.redF(), ground.redF()), mixed(ink.greenF(), ground.greenF()),
                                 mixed(ink.blueF(), ground.blueF()));
            EXPECT_GE(contrast(seen, ground), 4.5)
                << theme.choiceName().toStdString() << " " << field->metaObject()->className();
            EXPECT_GE(contrast(field->palette().color(QPalette::Text), ground), 7);
        }
    }
    qApp->setStyleSheet(before);
    qApp->setPalette(QPalette());
}

TEST(Contrast, CountsCanBeReadOnEveryShadeOfTheHeatMap) {
    Theme theme;
    for (const Theme::Choice choice : kOwnPalettes) {
        theme.setChoice(choice);
        const auto ramp = heatRamp(theme);
        ASSERT_EQ(ramp.size(), 5u);
        for (int level = 0; level < 5; ++level)
            EXPECT_GE(contrast(heatInk(theme, level), ramp[static_cast<std::size_t>(level)]), 4.5)
                << theme.choiceName().toStdString() << " level " << level;
    }
}

TEST(Theme, HeatDarkensWithTheWorkThatIsLeft) {
    EXPECT_EQ(heatLevel(12, 12), 0);
    EXPECT_EQ(heatLevel(19, 20), 0);
    EXPECT_EQ(heatLevel(17, 20), 1);
    EXPECT_EQ(heatLevel(14, 20), 2);
    EXPECT_EQ(heatLevel(10, 20), 3);
    EXPECT_EQ(heatLevel(9, 20), 4);
    EXPECT_EQ(heatLevel(0, 0), 4);
}

TEST(Theme, StyleSheetLeavesNoPlaceOpen) {
    Theme theme;
    static const QRegularExpression place(QStringLiteral("%[A-Za-z0-9]+%"));
    for (const Theme::Choice choice : kOwnPalettes) {
        theme.setChoice(choice);
        EXPECT_FALSE(theme.styleSheet().contains(place))
            << place.match(theme.styleSheet()).captured().toStdString();
    }
}

TEST(Theme, StyleSheetIsNeverTakenAwayAsAWhole) {
    // Qt 6.4.2 keeps pointers to widgets that go after that, and the next sheet crashes on them.
    Theme theme;
    for (int i = 0; i < 4; ++i) {
        EXPECT_FALSE(theme.styleSheet().isEmpty()) << theme.choiceName().toStdString();
        theme.cycle();
    }
}

TEST(Theme, CyclesThroughAllFourPalettes) {
    Theme theme;
    std::set<Theme::Choice> seen;
    for (int i = 0; i < 4; ++i) {
        seen.insert(theme.choice());
        theme.cycle();
    }
    EXPECT_EQ(seen.size(), 4u);
    EXPECT_EQ(theme.choice(), Theme::Choice::Day);
}

TEST(Theme, SystemFollowsTheDesktopAfterAnotherPalette) {
    Theme theme;
    QApplication::setPalette(QPalette());
    const QColor desktop = QApplication::palette().color(QPalette::Base);
    theme.setChoice(Theme::Choice::PreDawn);
    QApplication::setPalette(theme.palette());
    theme.setChoice(Theme::Choice::System);
    EXPECT_EQ(theme.roles().ground, desktop);
}

TEST(Theme, SizesFollowTheMeasuredMillimetre) {
    Theme theme;
    const double before = theme.s(92);
    theme.setPxPerMm(8.82);
    EXPECT_NEAR(theme.s(92), 2 * before, 1e-9);
    theme.setPxPerMm(0.1);  // no screen is like that
    EXPECT_NEAR(theme.pxPerMm(), 8.82, 1e-9);
}

}  // namespace markerlamp::app
