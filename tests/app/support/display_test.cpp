// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/support/display.h"

#include <gtest/gtest.h>

namespace markerlamp::app {

TEST(Display, PercentNeverRoundsUpToAMarkItMisses) {
    EXPECT_EQ(percentText(79.99), QStringLiteral("79 %"));
    EXPECT_EQ(percentText(80.0), QStringLiteral("80 %"));
    EXPECT_EQ(percentText(100.0 * 92 / 115), QStringLiteral("80 %"));
    EXPECT_EQ(percentText(100), QStringLiteral("100 %"));
}

TEST(Display, ClockShowsHoursOnlyWhenThereAreAny) {
    EXPECT_EQ(clockText(0), QStringLiteral("00:00"));
    EXPECT_EQ(clockText(2300.9), QStringLiteral("38:20"));
    EXPECT_EQ(clockText(3723), QStringLiteral("1:02:03"));
    EXPECT_EQ(clockText(-4), QStringLiteral("00:00"));
}

TEST(Display, BoundsSayWhetherTheEndBelongs) {
    EXPECT_EQ(boundsText({}, 3.0, QStringLiteral("psi")), QStringLiteral("at most 3 psi"));
    EXPECT_EQ(boundsText({}, 2.0, QStringLiteral("psi"), true), QStringLiteral("under 2 psi"));
    EXPECT_EQ(boundsText(55.0, {}, QStringLiteral("psi")), QStringLiteral("at least 55 psi"));
    // Counted in 32nds: "4 1/32 in" would be four inches and a bit.
    EXPECT_EQ(boundsText(4.0, {}, QStringLiteral("1/32 in")), QStringLiteral("at least 4/32 in"));
    EXPECT_EQ(boundsText(20.0, 45.0, QStringLiteral("psi")), QStringLiteral("20 to 45 psi"));
    EXPECT_EQ(boundsText({}, {}, QStringLiteral("psi")), QString());
}

TEST(Display, NumbersKeepOnlyTheDecimalsTheyNeed) {
    EXPECT_EQ(numberText(3), QStringLiteral("3"));
    EXPECT_EQ(numberText(0.5), QStringLiteral("0.5"));
    EXPECT_EQ(numberText(0.125), QStringLiteral("0.125"));
    EXPECT_EQ(numberText(1234), QStringLiteral("1234"));
}

TEST(Display, EndsTextCountsTheDaysWithTheRightPlural) {
    const QDate today(2026, 3, 12);
    EXPECT_EQ(endsText(QDate(2026, 4, 30), today), QStringLiteral("ends 30 Apr 2026 (49 days)"));
    EXPECT_EQ(endsText(QDate(2026, 3, 13), today), QStringLiteral("ends 13 Mar 2026 (1 day)"));
    EXPECT_EQ(endsText(QDate(2026, 3, 11), today), QStringLiteral("ended 11 Mar 2026"));
    EXPECT_EQ(endsText(QDate(), today), QStringLiteral("no date"));
}

TEST(Display, StartKeepsTheWallTimeOfThePlace) {
    const QDateTime start = startedAt("2026-03-02T06:10:00-05:00");
    ASSERT_TRUE(start.isValid());
    EXPECT_EQ(start.time(), QTime(6, 10));
    EXPECT_EQ(start.offsetFromUtc(), -5 * 3600);
}

TEST(Display, ErrorTextNamesEveryProblemUpToALimit) {
    core::Error error{core::ErrorKind::Refused, "refused", {}, {}};
    for (int i = 0; i < 14; ++i)
        error.problems.push_back({"a.yaml", i + 1, "zones", "", "is wrong", "make it right"});
    const QString text = errorText(error, 12);
    EXPECT_EQ(text.split(QLatin1Char('\n')).size(), 14);
    EXPECT_TRUE(text.endsWith(QStringLiteral("and 2 more"))) << text.toStdString();
}

}  // namespace markerlamp::app
