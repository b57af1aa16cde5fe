// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "sheet_support.h"

#include <algorithm>
#include <utility>
#include <vector>

namespace {

using namespace markerlamp;
using namespace markerlamp::forms;
using namespace markerlamp::forms::testing;

std::vector<core::ScoredAttempt> threeAttempts(const std::shared_ptr<core::Rubric>& rubric, int misses) {
    return {attemptWithMisses(rubric, misses * 2, 4), attemptWithMisses(rubric, misses, 5),
            attemptWithMisses(rubric, misses)};
}

/// An attempt that leaves out exactly the steps with the most to say.
core::ScoredAttempt attemptMissingTheWordiest(const std::shared_ptr<const core::Rubric>& rubric, int misses) {
    Practice practice(rubric);
    std::vector<std::pair<std::size_t, std::string>> sizes;
    for (const core::Step* step : core::stepsInScope(*rubric, practice.header())) {
        std::size_t size = step->title.size();
        for (const core::Point& point : step->say) size += point.text.size();
        sizes.emplace_back(size, step->id);
    }
    std::sort(sizes.rbegin(), sizes.rend());
    sizes.resize(static_cast<std::size_t>(misses));
    practice.walk([&](Practice& p, const core::Step& step, int) {
        const bool missed = std::any_of(sizes.begin(), sizes.end(),
                                        [&](const auto& entry) { return entry.second == step.id; });
        if (missed) p.add(core::EventKind::Omit, step.id);
        return missed;
    });
    return practice.scored();
}

void expectEveryMiss(const Sheet& sheet, const core::ScoredAttempt& scored) {
    for (const core::SayNext& next : core::sayNextTime({scored})) {
        EXPECT_TRUE(saysSo(sheet, next.title)) << next.title;
        for (const std::string& point : next.missing) EXPECT_TRUE(saysSo(sheet, point)) << point;
    }
}

TEST(ProgressSheet, TakesOnePageForTwelveMisses) {
    const PdfFolder folder;
    for (const Paper paper : {Paper::Letter, Paper::A4}) {
        const auto history = threeAttempts(makeRubric(), 12);
        const Sheet sheet = progressSheet(inputFor(history, paper));
        EXPECT_EQ(sheet.pages(), 1);
        expectTidy(sheet);
        expectEveryMiss(sheet, history.back());
        ASSERT_TRUE(
            writePdf(sheet, folder.path(QStringLiteral("progress-12-%1.pdf").arg(static_cast<int>(paper)))));
    }
}

TEST(ProgressSheet, TakesOnePageForTheLongestTitles) {
    RubricShape shape;
    shape.stepTitle = "Slack adjuster and pushrod at wheel %m";  // 40 letters with a number of three digits
    shape.zoneTitle = "Passenger cabin and emergency exits %";
    shape.pointText = "not loose, bent or rubbing %";
    const PdfFolder folder;
    for (const Paper paper : {Paper::Letter, Paper::A4}) {
        const auto history = threeAttempts(makeRubric(shape), 12);
        const Sheet sheet = progressSheet(inputFor(history, paper));
        EXPECT_EQ(sheet.pages(), 1);
        expectTidy(sheet);
        expectEveryMiss(sheet, history.back());
        ASSERT_TRUE(writePdf(
            sheet, folder.path(QStringLiteral("progress-longest-%1.pdf").arg(static_cast<int>(paper)))));
    }
}

TEST(ProgressSheet, TakesOnePageForTheTwelveWordiestStepsOfEachBuiltInRubric) {
    const PdfFolder folder;
    for (const core::Rubric& rubric : builtInRubrics()) {
        const auto scored = attemptMissingTheWordiest(std::make_shared<core::Rubric>(rubric), 12);
        for (const Paper paper : {Paper::Letter, Paper::A4}) {
            const Sheet sheet = progressSheet(inputFor({scored, scored}, paper));
            EXPECT_EQ(sheet.pages(), 1) << rubric.id;
            expectTidy(sheet);
            expectEveryMiss(sheet, scored);
            ASSERT_TRUE(writePdf(sheet, folder.path(QStringLiteral("wordiest-%1-%2.pdf")
                                                        .arg(QString::fromStdString(rubric.id))
                                                        .arg(static_cast<int>(paper)))));
        }
    }
}

TEST(ProgressSheet, GoesOnOverleafBeyondTwelveMisses) {
    const PdfFolder folder;
    const auto scored = attemptWithMisses(makeRubric(), 30, 3);
    const Sheet sheet = progressSheet(inputFor({scored}));
    EXPECT_EQ(sheet.pages(), 2);
    expectTidy(sheet);
    expectEveryMiss(sheet, scored);
    EXPECT_TRUE(textOf(sheet, 0).contains(QStringLiteral("18 more overleaf.")))
        << textOf(sheet, 0).toStdString();
    EXPECT_TRUE(textOf(sheet, 0).contains(QStringLiteral("page 1 of 2")));
    EXPECT_TRUE(textOf(sheet, 1).contains(QStringLiteral("page 2 of 2")));
    ASSERT_TRUE(writePdf(sheet, folder.path(QStringLiteral("progress-30.pdf"))));
}

TEST(ProgressSheet, LosesNothingWhenEveryStepIsMissed) {
    RubricShape shape;
    shape.points = 6;
    const auto scored = attemptWithMisses(makeRubric(shape), 120, 1);
    const Sheet sheet = progressSheet(inputFor({scored}));
    EXPECT_GT(sheet.pages(), 2);
    expectTidy(sheet);
    expectEveryMiss(sheet, scored);
}

TEST(ProgressSheet, StaysTidyInALanguageThatTakesAThirdMoreRoom) {
    const LongerLanguage language;
    const PdfFolder folder;
    for (const Paper paper : {Paper::Letter, Paper::A4}) {
        const auto rubric = longerRubric(builtInRubrics().front());
        const auto scored = attemptWithMisses(rubric, 12, 9);
        ProgressSheetInput input = inputFor({scored, scored, scored}, paper);
        input.amendedBy = QStringLiteral("Instructor K");
        input.amendedAt = QStringLiteral("2026-03-03T08:00:00-05:00");
        const Sheet sheet = progressSheet(input);
        expectTidy(sheet);
        expectEveryMiss(sheet, scored);
        ASSERT_TRUE(writePdf(
            sheet, folder.path(QStringLiteral("progress-longer-%1.pdf").arg(static_cast<int>(paper)))));
    }
}

TEST(ProgressSheet, TakesLongNamesWithLettersOfAnyAlphabet) {
    const PdfFolder folder;
    ProgressSheetInput input = inputFor({attemptWithMisses(makeRubric(), 5)});
    input.trainee.name = "Zoë Łucja Ñuñoa-Đorđević-Şahin, Þórdís Ærø Wojciechowska-Brandão the Younger";
    input.instructorName = QStringLiteral("Αλέξανδρος Жанна");
    input.busTitle =
        QStringLiteral("Bus with a title that somebody made much longer than a title of a bus should be");
    input.programTitle =
        QStringLiteral("Invented training program of an invented district that has a long name");
    const Sheet sheet = progressSheet(input);
    EXPECT_EQ(sheet.pages(), 1);
    expectTidy(sheet);
    EXPECT_TRUE(saysSo(sheet, input.trainee.name));
    EXPECT_TRUE(saysSo(sheet, "Αλέξανδρος Жанна"));
    ASSERT_TRUE(writePdf(sheet, folder.path(QStringLiteral("progress-names.pdf"))));
}

TEST(ProgressSheet, HoldsARubricOfTwentyZones) {
    RubricShape shape;
    shape.zones = 20;
    const PdfFolder folder;
    const auto scored = attemptWithMisses(makeRubric(shape), 12, 15);
    const Sheet sheet = progressSheet(inputFor({scored, scored}));
    expectTidy(sheet);
    expectEveryMiss(sheet, scored);
    for (const core::Zone& zone : scored.rubric->zones) EXPECT_TRUE(saysSo(sheet, zone.title)) << zone.title;
    ASSERT_TRUE(writePdf(sheet, folder.path(QStringLiteral("progress-20-zones.pdf"))));
}

TEST(ProgressSheet, SaysSoWhenNothingWasMissed) {
    const PdfFolder folder;
    const Sheet sheet = progressSheet(inputFor({attemptWithMisses(makeRubric(), 0)}));
    EXPECT_EQ(sheet.pages(), 1);
    expectTidy(sheet);
    EXPECT_TRUE(saysSo(sheet, "120 of 120 steps right, 100 %. Meets the pass rule."));
    EXPECT_TRUE(saysSo(sheet, "Nothing was missed"));
    EXPECT_TRUE(saysSo(sheet, "Every must-pass step was right."));
    ASSERT_TRUE(writePdf(sheet, folder.path(QStringLiteral("progress-clean.pdf"))));
}

TEST(ProgressSheet, SaysSoWhenNothingWasObserved) {
    const PdfFolder folder;
    Practice practice(makeRubric());
    practice.walk([](Practice& p, const core::Step& step, int) {
        p.add(core::EventKind::Unseen, step.id);
        return true;
    });
    const Sheet sheet = progressSheet(inputFor({practice.scored()}));
    EXPECT_EQ(sheet.pages(), 1);
    expectTidy(sheet);
    EXPECT_TRUE(saysSo(sheet, "Nothing was observed."));
    EXPECT_FALSE(saysSo(sheet, "Nothing was missed"));
    ASSERT_TRUE(writePdf(sheet, folder.path(QStringLiteral("progress-unseen.pdf"))));
}

TEST(ProgressSheet, TellsAnUnfinishedAttemptFromAFailedOne) {
    auto rubric = makeRubric();
    Practice practice(rubric);
    for (const core::Zone& zone : rubric->zones)
        for (const core::Step& step : zone.steps) practice.satisfy(step);
    const Sheet sheet = progressSheet(inputFor({practice.scored()}));
    EXPECT_TRUE(saysSo(sheet, "Not finished, no result yet.")) << textOf(sheet).toStdString();
}

TEST(ProgressSheet, TellsTheMinutesOfAnAttemptOfAnyLengthThatADocumentCanHave) {
    Practice practice(makeRubric());
    practice.walk([](Practice&, const core::Step&, int) { return false; });
    core::ScoredAttempt scored = practice.scored();
    scored.card.seconds = 1e12;  // the largest number that the readers take
    const Sheet sheet = progressSheet(inputFor({scored}));
    EXPECT_TRUE(saysSo(sheet, "16666666667 min")) << textOf(sheet).toStdString();
}

TEST(ProgressSheet, SaysWhatToDoEarlierAndWhy) {
    auto rubric = makeRubric();
    rubric->zones[0].steps[0].title = "Chocks set";
    rubric->zones[1].steps[0].title = "Hood opened";
    core::OrderRule rule;
    rule.id = "chocks-first";
    rule.chain = {"step-1", "step-11"};
    rule.why = "the bus must not roll";
    rule.strict = true;
    rule.mustPass = true;
    rubric->order = {rule};
    Practice practice(rubric);
    practice.satisfy(rubric->zones[1].steps[0]);
    practice.walk([](Practice&, const core::Step& step, int) { return step.id == "step-11"; });
    const Sheet sheet = progressSheet(inputFor({practice.scored()}));
    expectTidy(sheet);
    EXPECT_TRUE(saysSo(sheet, "Hood opened after Chocks set (the bus must not roll).") ||
                saysSo(sheet, "Chocks set before Hood opened (the bus must not roll)."))
        << textOf(sheet).toStdString();
    EXPECT_TRUE(saysSo(sheet, "The fixed order was broken"));
    EXPECT_TRUE(saysSo(sheet, "fixed order broken"));
}

TEST(ProgressSheet, KeepsTheOrderOnTheFirstPageHoweverMuchWasMissed) {
    auto rubric = makeRubric();
    rubric->zones[0].steps[0].title = "Chocks set";
    rubric->zones[1].steps[0].title = "Hood opened";
    core::OrderRule rule;
    rule.id = "chocks-first";
    rule.chain = {"step-1", "step-11"};
    rule.why = "the bus must not roll while somebody stands in front of it or reaches under it";
    rubric->order = {rule};
    for (const int every : {9, 2}) {
        Practice practice(rubric);
        practice.satisfy(rubric->zones[1].steps[0]);
        practice.walk([&](Practice& p, const core::Step& step, int index) {
            if (step.id == "step-11") return true;
            if (index % every != every - 1) return false;
            p.add(core::EventKind::Omit, step.id);
            return true;
        });
        const Sheet sheet = progressSheet(inputFor({practice.scored()}));
        expectTidy(sheet);
        const QString first = letters(textOf(sheet, 0));
        EXPECT_TRUE(first.contains(QStringLiteral("HoodopenedafterChocksset")) ||
                    first.contains(QStringLiteral("ChockssetbeforeHoodopened")))
            << every;
    }
}

TEST(ProgressSheet, ShowsCountsOnlyUnderEightObservedSteps) {
    RubricShape shape;
    shape.steps = 4;
    const Sheet sheet = progressSheet(inputFor({attemptWithMisses(makeRubric(shape), 5)}));
    expectTidy(sheet);
    EXPECT_TRUE(saysSo(sheet, "counts only"));
}

TEST(ProgressSheet, CarriesSignaturesAmendmentAndTheWordThatItDoesNotDecide) {
    ProgressSheetInput input = inputFor({attemptWithMisses(makeRubric(), 3)});
    input.amendedBy = QStringLiteral("Instructor M");
    input.amendedAt = QStringLiteral("2026-03-03T08:00:00-05:00");
    const Sheet sheet = progressSheet(input);
    for (const char* words : {"We talked this through. Signing does not mean agreement with every mark.",
                              "Training record. The official test, the state's manual, the maker's limits "
                              "and the program's safety "
                              "rules decide.",
                              "Amended by Instructor M, 3 Mar 2026, 08:00.", "page 1 of 1",
                              "printed 2 Mar 2026 07:05, Markerlamp 0.1.0", "wheels chocked",
                              "Nobody under or in front of the bus"})
        EXPECT_TRUE(saysSo(sheet, words)) << words;
}

// At least 3.25 in to write on and 0.4 in clear above: room for a hand, as forms for signatures give it
// (common practice, no published source).
TEST(ProgressSheet, LeavesRoomToSign) {
    for (const Paper paper : {Paper::Letter, Paper::A4}) {
        const Sheet sheet = progressSheet(inputFor({attemptWithMisses(makeRubric(), 12)}, paper));
        int found = 0;
        for (const auto& label : sheet.texts(0)) {
            if (label.text != QLatin1String("Trainee") && label.text != QLatin1String("Instructor")) continue;
            for (const auto& [line, width] : sheet.lines(0)) {
                const double above = label.box.top() - line.y1();
                if (above < 0 || above > 2.5 || line.y1() != line.y2() || line.x1() > label.box.left() + 1)
                    continue;
                ++found;
                EXPECT_GE(line.length(), 82.55);
                const QRectF clear(line.x1(), line.y1() - 10.16, line.length(), 10.1);
                for (const auto& text : sheet.texts(0))
                    EXPECT_FALSE(text.box.intersects(clear)) << text.text.toStdString();
            }
        }
        EXPECT_EQ(found, 2);
    }
}

TEST(ProgressSheet, DrawsNoRuleUnderHalfAPoint) {
    const Sheet sheet = progressSheet(inputFor({attemptWithMisses(makeRubric(), 30, 3)}));
    for (int page = 0; page < sheet.pages(); ++page)
        for (const auto& placed : sheet.lines(page)) EXPECT_GE(placed.width, 0.5 * 25.4 / 72);
}

}  // namespace
