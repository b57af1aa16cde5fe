// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The sheets as ink: margins, no grey, patterns, PDF against preview. What needs the poppler tools is skipped
// with a notice where they are missing.

#include "forms/sheets/progress_blocks.h"
#include "forms/sheets/training_record_sheet.h"
#include "sheet_support.h"

#include <QImage>
#include <QPainter>
#include <QPdfWriter>
#include <QRegularExpression>

#include <array>
#include <cmath>

namespace {

using namespace markerlamp;
using namespace markerlamp::forms;
using namespace markerlamp::forms::testing;

const QDateTime kPrinted(QDate(2026, 3, 2), QTime(7, 5));

std::vector<Sheet> allSheets(Paper paper) {
    const core::Rubric rubric = builtInRubrics().front();
    const auto scored = attemptWithMisses(std::make_shared<core::Rubric>(rubric), 15, 7);
    TrainingRecordInput record;
    record.record = core::trainingRecord({}, {});
    record.version = QStringLiteral("0.1.0");
    record.printed = kPrinted;
    record.paper = paper;
    return {progressSheet(inputFor({scored, scored}, paper)),
            blankSheet(rubric, {}, paper, QStringLiteral("0.1.0"), kPrinted),
            studySheet(rubric, "air-brakes", {"applied-leak"}, paper, QStringLiteral("0.1.0"), kPrinted),
            trainingRecordSheet(record)};
}

QImage pictureOf(const Sheet& sheet, int page, double dpi) {
    const QSizeF size = sheet.sizeMm() / 25.4 * dpi;
    QImage image(qRound(size.width()), qRound(size.height()), QImage::Format_RGB32);
    image.fill(Qt::white);
    QPainter painter(&image);
    sheet.paintPage(painter, page, QRectF(QPointF(0, 0), size));
    return image;
}

int grey(const QImage& image, int x, int y) {
    return qGray(image.pixel(x, y));
}

/// Share of ink in each square of `cell` pixels.
std::vector<double> inkShares(const QImage& image, int cell) {
    std::vector<double> shares;
    for (int top = 0; top + cell <= image.height(); top += cell)
        for (int left = 0; left + cell <= image.width(); left += cell) {
            double ink = 0;
            for (int y = top; y < top + cell; ++y)
                for (int x = left; x < left + cell; ++x) ink += 255 - grey(image, x, y);
            shares.push_back(ink / (255.0 * cell * cell));
        }
    return shares;
}

double inkShare(const QImage& image) {
    double ink = 0;
    for (int y = 0; y < image.height(); ++y)
        for (int x = 0; x < image.width(); ++x) ink += grey(image, x, y) < 128 ? 1 : 0;
    return ink / (static_cast<double>(image.width()) * image.height());
}

#define NEEDS(program)                                                     \
    if (QStandardPaths::findExecutable(QStringLiteral(program)).isEmpty()) \
    GTEST_SKIP() << program << " is not installed (Debian package poppler-utils)"

// 0.75 in left, 0.6 in elsewhere; half a pixel of the picture is forgiven.
TEST(Paper, KeepsTheMarginsFreeOfInk) {
    constexpr double dpi = 100;
    for (const Paper paper : {Paper::Letter, Paper::A4})
        for (const Sheet& sheet : allSheets(paper))
            for (int page = 0; page < sheet.pages(); ++page) {
                const QImage image = pictureOf(sheet, page, dpi);
                const double left = 0.75 * dpi - 1.5, other = 0.6 * dpi - 1.5;
                int outside = 0, inside = 0;
                for (int y = 0; y < image.height(); ++y)
                    for (int x = 0; x < image.width(); ++x) {
                        if (grey(image, x, y) > 200) continue;
                        const bool in = x >= left && x <= image.width() - other && y >= other &&
                                        y <= image.height() - other;
                        ++(in ? inside : outside);
                    }
                EXPECT_EQ(outside, 0) << sheet.title().toStdString() << ", page " << page + 1;
                EXPECT_GT(inside, 5000);
            }
}

TEST(Paper, IsBlackAndWhiteOnly) {
    NEEDS("pdftoppm");
    const PdfFolder folder;
    int number = 0;
    for (const Sheet& sheet : allSheets(Paper::Letter)) {
        const QString path = folder.path(QStringLiteral("ink-%1.pdf").arg(++number));
        ASSERT_TRUE(writePdf(sheet, path));
        // Without smoothing every pixel that is neither black nor white would be a grey of ours.
        const auto picture = outputOf(
            QStringLiteral("pdftoppm"),
            {QStringLiteral("-r"), QStringLiteral("300"), QStringLiteral("-gray"), QStringLiteral("-aa"),
             QStringLiteral("no"), QStringLiteral("-aaVector"), QStringLiteral("no"), QStringLiteral("-f"),
             QStringLiteral("1"), QStringLiteral("-l"), QStringLiteral("1"), path});
        ASSERT_TRUE(picture);
        const QImage image = QImage::fromData(*picture, "PGM");
        ASSERT_FALSE(image.isNull());
        EXPECT_NEAR(image.width(), 2550, 1);
        EXPECT_NEAR(image.height(), 3300, 1);
        int greys = 0, blacks = 0;
        for (int y = 0; y < image.height(); ++y)
            for (int x = 0; x < image.width(); ++x) {
                const int value = grey(image, x, y);
                if (value == 0)
                    ++blacks;
                else if (value != 255)
                    ++greys;
            }
        EXPECT_EQ(greys, 0) << sheet.title().toStdString();
        EXPECT_GT(blacks, 50'000);
    }
}

QImage patternPicture(Pattern pattern, double dpi) {
    const QRectF rect(0, 0, 9, 9);
    PageDrawing drawing;
    drawing.pattern(rect, pattern);
    QImage image(qRound(9 / 25.4 * dpi), qRound(9 / 25.4 * dpi), QImage::Format_Mono);
    image.fill(1);
    QPainter painter(&image);
    painter.scale(dpi / 25.4, dpi / 25.4);
    drawing.paint(painter);
    painter.end();
    return image.convertToFormat(QImage::Format_RGB32);
}

// Pattern brushes count device pixels and would vanish at 600 dpi; ours keep their share of ink.
TEST(Paper, PatternsAreToldApartAtEveryResolution) {
    for (const double dpi : {300.0, 600.0, 1200.0}) {
        EXPECT_EQ(inkShare(patternPicture(Pattern::None, dpi)), 0);
        const double dots = inkShare(patternPicture(Pattern::Dots, dpi));
        const double diagonal = inkShare(patternPicture(Pattern::Diagonal, dpi));
        EXPECT_GT(dots, 0.2) << dpi;
        EXPECT_LT(dots, 0.5) << dpi;
        EXPECT_GT(diagonal, 0.2) << dpi;
        EXPECT_LT(diagonal, 0.5) << dpi;
        EXPECT_GT(inkShare(patternPicture(Pattern::Solid, dpi)), 0.99);
    }
    // Dots look the same in a mirror, stripes do not.
    const QImage stripes = patternPicture(Pattern::Diagonal, 300);
    const QImage mirrored = stripes.mirrored(true, false);
    int different = 0;
    for (int y = 0; y < stripes.height(); ++y)
        for (int x = 0; x < stripes.width(); ++x) different += stripes.pixel(x, y) != mirrored.pixel(x, y);
    EXPECT_GT(different, stripes.width() * stripes.height() / 5);
}

TEST(Paper, PatternFollowsWhatWasMissed) {
    EXPECT_EQ(missedPattern(10, 10), Pattern::None);
    EXPECT_EQ(missedPattern(8, 10), Pattern::Dots);
    EXPECT_EQ(missedPattern(79, 100), Pattern::Diagonal);
    EXPECT_EQ(missedPattern(7, 10), Pattern::Diagonal);
    EXPECT_EQ(missedPattern(69, 100), Pattern::Solid);
}

TEST(Paper, PdfIsThePreview) {
    NEEDS("pdftoppm");
    const PdfFolder folder;
    int number = 0;
    for (const Paper paper : {Paper::Letter, Paper::A4})
        for (const Sheet& sheet : allSheets(paper)) {
            const QString path = folder.path(QStringLiteral("preview-%1.pdf").arg(++number));
            ASSERT_TRUE(writePdf(sheet, path));
            for (int page = 0; page < sheet.pages(); ++page) {
                const QString at = QString::number(page + 1);
                const auto picture =
                    outputOf(QStringLiteral("pdftoppm"),
                             {QStringLiteral("-r"), QStringLiteral("100"), QStringLiteral("-gray"),
                              QStringLiteral("-f"), at, QStringLiteral("-l"), at, path});
                ASSERT_TRUE(picture);
                const QImage printed = QImage::fromData(*picture, "PGM");
                const QImage shown = pictureOf(sheet, page, 100);
                ASSERT_NEAR(printed.width(), shown.width(), 1);
                ASSERT_NEAR(printed.height(), shown.height(), 1);
                const QRect common(0, 0, qMin(printed.width(), shown.width()),
                                   qMin(printed.height(), shown.height()));
                const auto a = inkShares(printed.copy(common), 20);
                const auto b = inkShares(shown.copy(common), 20);
                double worst = 0;
                for (std::size_t i = 0; i < a.size(); ++i) worst = std::max(worst, std::abs(a[i] - b[i]));
                EXPECT_LT(worst, 0.12) << sheet.title().toStdString() << ", page " << page + 1;
            }
        }
}

TEST(Paper, CarriesItsOwnFonts) {
    NEEDS("pdffonts");
    const PdfFolder folder;
    for (const Sheet& sheet : allSheets(Paper::Letter)) {
        const QString path = folder.path(QStringLiteral("fonts.pdf"));
        ASSERT_TRUE(writePdf(sheet, path));
        const auto fonts = outputOf(QStringLiteral("pdffonts"), {path});
        ASSERT_TRUE(fonts);
        const QStringList lines =
            QString::fromUtf8(*fonts).split(QLatin1Char('\n'), Qt::SkipEmptyParts).mid(2);
        EXPECT_GE(lines.size(), 2);
        for (const QString& line : lines) {
            EXPECT_TRUE(line.startsWith(QLatin1String("B612"))) << line.toStdString();
            EXPECT_TRUE(line.contains(QRegularExpression(QStringLiteral("Identity-H +yes"))))
                << line.toStdString();
        }
    }
}

TEST(Paper, CanBeSearchedAndCopied) {
    NEEDS("pdftotext");
    const PdfFolder folder;
    auto rubric = makeRubric();
    rubric->zones[0].steps[0].title = "Fuel filter fittings";
    rubric->zones[0].steps[0].say[0].text = "firmly fixed, no flaws or leaks";
    Practice practice(rubric);
    practice.walk([](Practice& p, const core::Step& step, int index) {
        if (index == 0) p.add(core::EventKind::Omit, step.id);
        return index == 0;
    });
    ProgressSheetInput input = inputFor({practice.scored()});
    input.trainee.name = "Zoë Łucja Ñuñoa";
    const QString path = folder.path(QStringLiteral("search.pdf"));
    ASSERT_TRUE(writePdf(progressSheet(input), path));
    const auto text = outputOf(
        QStringLiteral("pdftotext"),
        {QStringLiteral("-raw"), QStringLiteral("-enc"), QStringLiteral("UTF-8"), path, QStringLiteral("-")});
    ASSERT_TRUE(text);
    const QString words = QString::fromUtf8(*text).simplified();  // lines are wrapped
    for (const char* wanted :
         {"Fuel filter fittings", "firmly fixed, no flaws", "official test", "Zoë Łucja Ñuñoa"})
        EXPECT_TRUE(words.contains(QString::fromUtf8(wanted))) << wanted << "\n" << text->toStdString();
}

TEST(Paper, HasThePageSizeThatWasAskedFor) {
    NEEDS("pdfinfo");
    const PdfFolder folder;
    const std::array<std::pair<Paper, const char*>, 2> sizes{
        {{Paper::Letter, "612 x 792 pts"}, {Paper::A4, "595 x 842 pts"}}};
    for (const auto& [paper, size] : sizes) {
        const Sheet sheet = allSheets(paper).front();
        const QString path = folder.path(QStringLiteral("size.pdf"));
        ASSERT_TRUE(writePdf(sheet, path));
        const auto info = outputOf(QStringLiteral("pdfinfo"), {path});
        ASSERT_TRUE(info);
        const QString text = QString::fromUtf8(*info);
        EXPECT_TRUE(text.contains(QLatin1String(size))) << text.toStdString();
        EXPECT_TRUE(text.contains(QRegularExpression(QStringLiteral("Pages: +%1\\n").arg(sheet.pages()))));
    }
}

TEST(Paper, ShrinksOntoSmallerPaperInsteadOfCutting) {
    const PdfFolder folder;
    const Sheet sheet = allSheets(Paper::A4).front();
    const QString path = folder.path(QStringLiteral("a5.pdf"));
    {
        QPdfWriter writer(path);
        writer.setPageSize(QPageSize(QPageSize::A5));
        writer.setPageMargins(QMarginsF(0, 0, 0, 0));
        ASSERT_TRUE(sheet.print(writer));
    }
    NEEDS("pdftoppm");
    const auto picture =
        outputOf(QStringLiteral("pdftoppm"),
                 {QStringLiteral("-r"), QStringLiteral("100"), QStringLiteral("-gray"), QStringLiteral("-f"),
                  QStringLiteral("1"), QStringLiteral("-l"), QStringLiteral("1"), path});
    ASSERT_TRUE(picture);
    const QImage image = QImage::fromData(*picture, "PGM");
    // The foot of the sheet is on the paper: ink in the lowest tenth of the printed part.
    int ink = 0;
    for (int y = image.height() * 85 / 100; y < image.height(); ++y)
        for (int x = 0; x < image.width(); ++x) ink += grey(image, x, y) < 128;
    EXPECT_GT(ink, 300);
}

TEST(Paper, LeavesNothingBehindWhenItCannotWrite) {
    const QTemporaryDir folder;
    const Sheet sheet = allSheets(Paper::Letter).front();
    const QString missing = folder.path() + QStringLiteral("/no/such/folder/x.pdf");
    const auto refused = writePdf(sheet, missing);
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().kind, core::ErrorKind::NotFound);
    EXPECT_NE(refused.error().message.find((folder.path() + QStringLiteral("/no/such/folder")).toStdString()),
              std::string::npos);
    EXPECT_TRUE(QDir(folder.path()).isEmpty());
}

}  // namespace
