// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "sheet_support.h"

namespace {

using namespace markerlamp;
using namespace markerlamp::forms;
using namespace markerlamp::forms::testing;

const QDateTime kPrinted(QDate(2026, 3, 2), QTime(7, 5));

Sheet blank(const core::Rubric& rubric, const std::vector<std::string>& equipment = {},
            Paper paper = Paper::Letter) {
    return blankSheet(rubric, equipment, paper, QStringLiteral("0.1.0"), kPrinted);
}

TEST(BlankSheet, HoldsEveryStepOfEachBuiltInRubric) {
    const PdfFolder folder;
    for (const core::Rubric& rubric : builtInRubrics())
        for (const Paper paper : {Paper::Letter, Paper::A4}) {
            const Sheet sheet = blank(rubric, {}, paper);
            EXPECT_GT(sheet.pages(), 1);
            expectTidy(sheet);
            for (const core::Zone& zone : rubric.zones) {
                EXPECT_TRUE(saysSo(sheet, zone.title)) << zone.title;
                for (const core::Step& step : zone.steps) {
                    EXPECT_TRUE(saysSo(sheet, step.title)) << step.title;
                    EXPECT_TRUE(saysSo(sheet, step.caution)) << step.caution;
                }
            }
            ASSERT_TRUE(writePdf(sheet, folder.path(QStringLiteral("blank-%1-%2.pdf")
                                                        .arg(QString::fromStdString(rubric.id))
                                                        .arg(static_cast<int>(paper)))));
        }
}

TEST(BlankSheet, CautionsOnEveryPage) {
    const Sheet sheet = blank(builtInRubrics().front());
    for (int page = 0; page < sheet.pages(); ++page) {
        const QString text = letters(textOf(sheet, page));
        for (const char* words :
             {"wheels chocked", "level ground", "Hood open: engine off, key out", "official test"})
            EXPECT_TRUE(text.contains(letters(QLatin1String(words)))) << words << " on page " << page + 1;
    }
}

TEST(BlankSheet, MarksWhatOnlySomeBusesHave) {
    auto rubric = makeRubric();
    rubric->zones[1].steps[0].title = "Lift platform";
    rubric->zones[1].steps[0].when = {"wheelchair-lift"};
    rubric->zones[1].steps[1].title = "Hydraulic booster";
    rubric->zones[1].steps[1].when = {"!air-brakes"};
    const Sheet all = blank(*rubric);
    expectTidy(all);
    EXPECT_TRUE(saysSo(all, "only with: Wheelchair lift"));
    EXPECT_TRUE(saysSo(all, "not with: Air brakes"));
    EXPECT_TRUE(saysSo(all, "of 120"));
}

TEST(BlankSheet, LeavesOutWhatThisBusDoesNotHave) {
    auto rubric = makeRubric();
    rubric->zones[1].steps[0].title = "Lift platform";
    rubric->zones[1].steps[0].when = {"wheelchair-lift"};
    rubric->zones[1].steps[1].title = "Hydraulic booster";
    rubric->zones[1].steps[1].when = {"!air-brakes"};
    const Sheet sheet = blank(*rubric, {"air-brakes"});
    expectTidy(sheet);
    EXPECT_FALSE(saysSo(sheet, "Lift platform"));
    EXPECT_FALSE(saysSo(sheet, "Hydraulic booster"));
    EXPECT_FALSE(saysSo(sheet, "only with"));
    EXPECT_TRUE(saysSo(sheet, "for a bus with: Air brakes"));
    EXPECT_TRUE(saysSo(sheet, "of 118"));
}

TEST(BlankSheet, TakesNinePointsAndReadings) {
    RubricShape shape;
    shape.points = 9;
    auto rubric = makeRubric(shape);
    rubric->zones[8].steps[1].reading =
        core::ReadingRule{"loss", "applied-leak", {}, {}, {}, false, {}, true, 0};
    const Sheet sheet = blank(*rubric);
    expectTidy(sheet);
    EXPECT_TRUE(saysSo(sheet, "psi"));
}

TEST(BlankSheet, StaysTidyInALanguageThatTakesAThirdMoreRoom) {
    const LongerLanguage language;
    const PdfFolder folder;
    const auto rubric = longerRubric(builtInRubrics().front());
    for (const Paper paper : {Paper::Letter, Paper::A4}) {
        const Sheet sheet = blank(*rubric, {}, paper);
        expectTidy(sheet);
        ASSERT_TRUE(
            writePdf(sheet, folder.path(QStringLiteral("blank-longer-%1.pdf").arg(static_cast<int>(paper)))));
    }
}

}  // namespace
