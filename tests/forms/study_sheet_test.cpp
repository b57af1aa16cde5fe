// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "sheet_support.h"

namespace {

using namespace markerlamp;
using namespace markerlamp::forms;
using namespace markerlamp::forms::testing;

const QDateTime kPrinted(QDate(2026, 3, 2), QTime(7, 5));
constexpr double kFold = 85.3;

Sheet study(const core::Rubric& rubric, const std::string& zone = {},
            const std::vector<std::string>& missed = {}, Paper paper = Paper::Letter) {
    return studySheet(rubric, zone, missed, paper, QStringLiteral("0.1.0"), kPrinted);
}

TEST(StudySheet, HoldsWhatToShowAndWhatToSayOfEachZone) {
    const PdfFolder folder;
    for (const core::Rubric& rubric : builtInRubrics())
        for (const core::Zone& zone : rubric.zones) {
            const Sheet sheet = study(rubric, zone.id);
            expectTidy(sheet);
            EXPECT_LE(sheet.pages(), 3) << zone.id;
            for (const core::Step& step : zone.steps) {
                EXPECT_TRUE(saysSo(sheet, step.title)) << step.title;
                EXPECT_TRUE(saysSo(sheet, step.show)) << step.show;
                EXPECT_TRUE(saysSo(sheet, step.caution)) << step.caution;
                for (const core::Point& point : step.say)
                    EXPECT_TRUE(saysSo(sheet, point.text)) << point.text;
            }
            if (zone.id == "air-brakes" || zone.id == "engine") {
                ASSERT_TRUE(writePdf(sheet, folder.path(QStringLiteral("study-%1-%2.pdf")
                                                            .arg(QString::fromStdString(rubric.id),
                                                                 QString::fromStdString(zone.id)))));
            }
        }
}

TEST(StudySheet, HoldsAllZonesWhenNoneIsNamed) {
    const PdfFolder folder;
    const core::Rubric rubric = builtInRubrics().front();
    for (const Paper paper : {Paper::Letter, Paper::A4}) {
        const Sheet sheet = study(rubric, {}, {}, paper);
        expectTidy(sheet);
        for (const core::Zone& zone : rubric.zones) EXPECT_TRUE(saysSo(sheet, zone.title)) << zone.title;
        ASSERT_TRUE(
            writePdf(sheet, folder.path(QStringLiteral("study-all-%1.pdf").arg(static_cast<int>(paper)))));
    }
}

TEST(StudySheet, KeepsAnswersBehindTheFold) {
    const core::Rubric rubric = builtInRubrics().front();
    const Sheet sheet = study(rubric, "engine");
    QString left;
    for (int page = 0; page < sheet.pages(); ++page)
        for (const auto& placed : sheet.texts(page))
            if (placed.box.right() < kFold) left += letters(placed.text);
    for (const core::Step& step : rubric.zone("engine")->steps) {
        EXPECT_TRUE(left.contains(letters(QString::fromStdString(step.title)))) << step.title;
        for (const core::Point& point : step.say)
            if (point.text.size() > 16) {
                EXPECT_FALSE(left.contains(letters(QString::fromStdString(point.text)))) << point.text;
            }
    }
}

TEST(StudySheet, GivesTheNumbersWithTheirSources) {
    auto rubric = makeRubric();
    core::Step& leak = rubric->zones[8].steps[1];
    leak.title = "Applied leakage";
    leak.reading = core::ReadingRule{"loss", "applied-leak", {}, {}, {}, false, {}, true, 0};
    core::Step& tread = rubric->zones[2].steps[0];
    tread.title = "Tire tread depth";
    tread.say[0].number = core::PointNumber{"tread-front", {}, {}, {}, 0};
    const Sheet sheet = study(*rubric);
    expectTidy(sheet);
    EXPECT_TRUE(saysSo(sheet, "Numbers to know"));
    const QString text = textOf(sheet);
    EXPECT_TRUE(text.contains(QStringLiteral("at most 3 psi")));
    EXPECT_TRUE(text.contains(QStringLiteral("model commercial driver manual, section 5.3")));
    EXPECT_TRUE(text.contains(QStringLiteral("at least 4/32 in")));
    EXPECT_TRUE(text.contains(QStringLiteral("49 CFR 393.75(b)")));
    EXPECT_TRUE(saysSo(sheet, "your bus may differ"));
    EXPECT_FALSE(saysSo(study(*rubric, "front"), "Numbers to know"));
}

TEST(StudySheet, MarksWhatWasMissedLastTime) {
    const auto rubric = makeRubric();
    EXPECT_FALSE(saysSo(study(*rubric, "engine"), "missed last time"));
    EXPECT_TRUE(saysSo(study(*rubric, "engine", {"step-12"}), "missed last time"));
}

TEST(StudySheet, StaysTidyInALanguageThatTakesAThirdMoreRoom) {
    const LongerLanguage language;
    const PdfFolder folder;
    const auto rubric = longerRubric(builtInRubrics().front());
    for (const Paper paper : {Paper::Letter, Paper::A4}) {
        const Sheet sheet = study(*rubric, "air-brakes", {"applied-leak"}, paper);
        expectTidy(sheet);
        ASSERT_TRUE(
            writePdf(sheet, folder.path(QStringLiteral("study-longer-%1.pdf").arg(static_cast<int>(paper)))));
    }
}

}  // namespace
