// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "forms/sheets/trail_sheet.h"

#include "sheet_support.h"

namespace {

using namespace markerlamp;
using namespace markerlamp::forms;
using namespace markerlamp::forms::testing;

TrailSheetInput inputOf(int rows, Paper paper) {
    TrailSheetInput input;
    input.programTitle = QStringLiteral("Invented program");
    input.filter = QStringLiteral("people, of the last 30 days");
    input.standing = QStringLiteral("entries: 120, since 2 Mar 2026; every seal fits");
    for (int i = rows; i > 0; --i)
        input.rows.push_back({QString::number(i), QStringLiteral("2 Mar 2026, 06:10"),
                              QStringLiteral("Kim Teacher"), QStringLiteral("trainee changed"),
                              QStringLiteral("Ada Example"),
                              QStringLiteral("permit until: 2026-09-01, was 2026-03-01; note: ") +
                                  QString(i % 7 * 30, QLatin1Char('n'))
                                      .replace(QStringLiteral("nnnnn"), QStringLiteral("nnnn "))});
    input.version = QStringLiteral("0.1.0");
    input.printed = QDateTime(QDate(2026, 11, 28), QTime(7, 5));
    input.paper = paper;
    return input;
}

TEST(TrailSheet, HoldsEveryEntryOnTidyPages) {
    for (const Paper paper : {Paper::Letter, Paper::A4}) {
        const Sheet sheet = trailSheet(inputOf(120, paper));
        expectTidy(sheet);
        EXPECT_GT(sheet.pages(), 2);
        QStringList numbers;
        for (int page = 0; page < sheet.pages(); ++page)
            for (const auto& text : sheet.texts(page))
                if (text.text.toInt() > 0) numbers << text.text;
        EXPECT_EQ(numbers.size(), 120);
        EXPECT_EQ(numbers.first(), QStringLiteral("120"));
        EXPECT_EQ(numbers.last(), QStringLiteral("1"));
        EXPECT_TRUE(letters(textOf(sheet, 0)).contains(letters(QStringLiteral("every seal fits"))));
        EXPECT_TRUE(letters(textOf(sheet, 1)).contains(letters(QStringLiteral("Trail, continued"))));
        EXPECT_TRUE(
            letters(textOf(sheet, sheet.pages() - 1)).contains(letters(QStringLiteral("Looked through by"))));
    }
}

TEST(TrailSheet, AVeryLongEntryIsCutAndSaysSo) {
    TrailSheetInput input = inputOf(1, Paper::Letter);
    input.rows[0].words = QStringLiteral("note: ") + QStringLiteral("words ").repeated(2000);
    const Sheet sheet = trailSheet(input);
    expectTidy(sheet);
    EXPECT_EQ(sheet.pages(), 1);
    EXPECT_TRUE(textOf(sheet, 0).contains(QChar(0x2026)));
}

}  // namespace
