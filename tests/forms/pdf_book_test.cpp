// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Sheets of a class in one PDF: where each begins when both sides are printed. Pages are counted as the file
// names them, "/Type /Page" (ISO 32000-1, 7.7.3.3).

#include "forms/sheets/pdf_book.h"

#include "sheet_support.h"

#include <QFile>
#include <QRegularExpression>
#include <QTemporaryDir>

namespace markerlamp::forms {
namespace {

Sheet sheetOf(int pages) {
    return Sheet(Paper::Letter, QStringLiteral("made for this test"),
                 std::vector<PageDrawing>(static_cast<std::size_t>(pages)));
}

int pagesIn(const QString& path) {
    QFile file(path);
    EXPECT_TRUE(file.open(QIODevice::ReadOnly));
    static const QRegularExpression page(QStringLiteral("/Type\\s*/Page\\b(?!s)"));
    auto found = page.globalMatch(QString::fromLatin1(file.readAll()));
    int count = 0;
    for (; found.hasNext(); found.next()) ++count;
    return count;
}

TEST(PdfBook, ALeafOfItsOwnNeedsAnEmptyPageOnlyAfterAnOddNumber) {
    const QTemporaryDir dir;
    const QString path = dir.filePath(QStringLiteral("book.pdf"));
    auto book = PdfBook::begin(path.toStdString(), Paper::Letter, QStringLiteral("book"));
    ASSERT_TRUE(book) << book.error().message;
    std::vector<int> begins;
    for (const int pages : {1, 2, 1, 1}) {
        ASSERT_TRUE((*book)->beginLeaf());
        begins.push_back((*book)->pages() + 1);
        ASSERT_TRUE((*book)->add(sheetOf(pages)));
    }
    // Odd numbers are fronts: 1, empty, 1 2, 1, empty, 1.
    EXPECT_EQ(begins, (std::vector<int>{1, 3, 5, 7}));
    EXPECT_EQ((*book)->pages(), 7);
    ASSERT_TRUE((*book)->publish());
    EXPECT_EQ(pagesIn(path), 7);
}

}  // namespace
}  // namespace markerlamp::forms
