// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Readiness and the next drill on the progress sheet.

#include "sheet_support.h"

#include <QRegularExpression>

namespace {

using namespace markerlamp;
using namespace markerlamp::forms;
using namespace markerlamp::forms::testing;

SheetReadiness closeReadiness() {
    core::Forecast forecast;
    forecast.trainee = "trainee-a";
    forecast.attempts = 6;
    forecast.chance = 0.71;
    forecast.low = 0.52;
    forecast.high = 0.88;
    forecast.holding = {{core::Holding::Kind::Zone, "engine", "Engine", 0.11, 21, 35, {"a"}},
                        {core::Holding::Kind::Zone, "front-axle", "Front axle", 0.07, 23, 36, {"a"}}};
    core::Gate shut;
    shut.id = "must-pass";
    shut.state = core::GateState::NotMet;
    shut.why = "brake check by oneself in 1 of the last 2 attempts";
    shut.opens = "one more clean brake check";
    SheetReadiness readiness;
    readiness.readiness = core::judge(forecast, {shut}, {}, {});
    return readiness;
}

/// As many zones as asked for, each with `steps` quoted titles, as core::linesOf() words them.
SheetDrill drillOf(const core::Rubric& rubric, std::size_t zones, std::size_t steps) {
    SheetDrill drill;
    drill.minutes = 24;
    for (const core::Zone& zone : rubric.zones) {
        if (drill.lines.size() == zones) break;
        core::DrillLine line;
        line.zone = zone.id;
        line.title = zone.title;
        line.minutes = 4.5;
        line.text = "show and say ";
        for (std::size_t s = 0; s < std::min(steps, zone.steps.size()); ++s) {
            line.text += (s == 0 ? "\"" : ", \"") + zone.steps[s].title + "\"";
            if (!zone.steps[s].caution.empty() &&
                line.caution.find(zone.steps[s].caution) == std::string::npos)
                line.caution += (line.caution.empty() ? "" : " ") + zone.steps[s].caution;
        }
        drill.lines.push_back(std::move(line));
    }
    return drill;
}

void expectDrill(const Sheet& sheet, const SheetDrill& drill) {
    for (const core::DrillLine& line : drill.lines) {
        EXPECT_TRUE(saysSo(sheet, line.title)) << line.title;
        EXPECT_TRUE(saysSo(sheet, line.caution)) << line.caution;
    }
}

TEST(ReadinessSheet, TakesOnePageForTwelveMissesWithBoth) {
    const PdfFolder folder;
    for (const Paper paper : {Paper::Letter, Paper::A4}) {
        const auto rubric = makeRubric();
        auto input = inputFor({attemptWithMisses(rubric, 24, 4), attemptWithMisses(rubric, 12)}, paper);
        input.readiness = closeReadiness();
        input.drill = drillOf(*rubric, 3, 3);
        const Sheet sheet = progressSheet(input);
        EXPECT_EQ(sheet.pages(), 1);
        expectTidy(sheet);
        expectDrill(sheet, *input.drill);
        for (const core::SayNext& next : core::sayNextTime(input.history))
            EXPECT_TRUE(saysSo(sheet, next.title)) << next.title;
        ASSERT_TRUE(writePdf(
            sheet, folder.path(QStringLiteral("progress-readiness-%1.pdf").arg(static_cast<int>(paper)))));
    }
}

// Both parts, twelve misses with long points and seven steps out of place: what to practise goes overleaf,
// nothing of the attempt does.
TEST(ReadinessSheet, KeepsTheAttemptOnTheFirstPageForTheBuiltInRubrics) {
    const PdfFolder folder;
    for (const core::Rubric& rubric : builtInRubrics()) {
        const auto shared = std::make_shared<core::Rubric>(rubric);
        auto input = inputFor({attemptWithMisses(shared, 12, 7)});
        input.readiness = closeReadiness();
        input.drill = drillOf(rubric, 5, 3);
        const Sheet sheet = progressSheet(input);
        EXPECT_LE(sheet.pages(), 2) << rubric.id;
        QString firstPage;
        for (const PageDrawing::PlacedText& text : sheet.texts(0)) firstPage += text.text;
        for (const core::SayNext& next : core::sayNextTime(input.history))
            EXPECT_TRUE(letters(firstPage).contains(letters(QString::fromStdString(next.title))))
                << next.title;
        EXPECT_TRUE(letters(firstPage).contains(letters(QStringLiteral("would pass"))));
        expectTidy(sheet);
        expectDrill(sheet, *input.drill);
        ASSERT_TRUE(writePdf(
            sheet, folder.path(QStringLiteral("readiness-%1.pdf").arg(QString::fromStdString(rubric.id)))));
    }
}

// Where little was missed, the whole drill stands in the room of the notes: one sheet to take home.
TEST(ReadinessSheet, AFewMissesLeaveRoomForTheWholeDrillOnOnePage) {
    const PdfFolder folder;
    for (const core::Rubric& rubric : builtInRubrics()) {
        const auto shared = std::make_shared<core::Rubric>(rubric);
        auto input = inputFor({attemptWithMisses(shared, 12), attemptWithMisses(shared, 3)});
        input.readiness = closeReadiness();
        input.drill = drillOf(rubric, 5, 4);
        const Sheet sheet = progressSheet(input);
        EXPECT_EQ(sheet.pages(), 1) << rubric.id;
        expectTidy(sheet);
        expectDrill(sheet, *input.drill);
        for (std::size_t zone = 0; zone < 5; ++zone)
            EXPECT_TRUE(saysSo(sheet, rubric.zones[zone].steps[2].title));
        ASSERT_TRUE(writePdf(sheet, folder.path(QStringLiteral("readiness-few-%1.pdf")
                                                    .arg(QString::fromStdString(rubric.id)))));
    }
}

TEST(ReadinessSheet, SaysItInWordsAndNeverAsABareNumber) {
    const auto rubric = makeRubric();
    auto input = inputFor({attemptWithMisses(rubric, 5)});
    input.readiness = closeReadiness();
    const QString with = textOf(progressSheet(input));
    EXPECT_TRUE(with.contains(QStringLiteral("Close. About 7 in 10 would pass (likely 5 to 9).")))
        << with.toStdString();
    EXPECT_TRUE(letters(with).contains(letters(QStringLiteral("one more clean brake check"))));
    EXPECT_TRUE(letters(with).contains(letters(QStringLiteral("Engine, Front axle"))));
    static const QRegularExpression bare(QStringLiteral("71 ?%|0[.,]7"));
    EXPECT_FALSE(with.contains(bare));
    input.readiness.reset();
    EXPECT_FALSE(textOf(progressSheet(input)).contains(QStringLiteral("would pass")))
        << "only where it is chosen";
}

TEST(ReadinessSheet, AnOwnWordStandsWithItsReasonAndTheFigures) {
    auto input = inputFor({attemptWithMisses(makeRubric(), 5)});
    SheetReadiness readiness = closeReadiness();
    core::Override own;
    own.trainee = "trainee-a";
    own.word = core::ReadinessWord::Ready;
    own.reason = "two clean days";
    own.by = "k";
    own.at = "2026-03-01T07:00:00-05:00";
    core::Forecast forecast = readiness.readiness.forecast;
    forecast.at = *core::dayOf("2026-03-02T07:00:00-05:00");
    readiness.readiness = core::judge(forecast, readiness.readiness.gates, {own}, {});
    readiness.overrideBy = QStringLiteral("K. Invented");
    input.readiness = readiness;
    const QString text = letters(textOf(progressSheet(input)));
    EXPECT_TRUE(text.contains(letters(QStringLiteral("Ready. About 7 in 10")))) << text.toStdString();
    EXPECT_TRUE(text.contains(letters(QStringLiteral("two clean days. The figures say Close."))))
        << text.toStdString();
    EXPECT_TRUE(text.contains(letters(QStringLiteral("K. Invented"))));
}

TEST(ReadinessSheet, ALongDrillLosesNeitherMissesNorZonesNorCautions) {
    // Twelve zones of the longest names: the drill says less before anything of the attempt goes overleaf.
    RubricShape shape;
    shape.stepTitle = "Slack adjuster and pushrod at wheel %m";
    shape.zoneTitle = "Passenger cabin and emergency exits %";
    const auto rubric = makeRubric(shape);
    for (core::Zone& zone : rubric->zones)
        zone.steps.front().caution = "Chock the wheels at " + zone.id + ".";
    auto input = inputFor({attemptWithMisses(rubric, 12)});
    input.readiness = closeReadiness();
    input.drill = drillOf(*rubric, 12, 10);
    const PdfFolder folder;
    const Sheet sheet = progressSheet(input);
    expectTidy(sheet);
    expectDrill(sheet, *input.drill);
    EXPECT_LE(sheet.pages(), 2);
    for (const core::SayNext& next : core::sayNextTime(input.history))
        EXPECT_TRUE(saysSo(sheet, next.title)) << next.title;
    ASSERT_TRUE(writePdf(sheet, folder.path(QStringLiteral("progress-long-drill.pdf"))));
}

TEST(ReadinessSheet, HoldsInALongerLanguage) {
    const LongerLanguage longer;
    for (const core::Rubric& rubric : builtInRubrics()) {
        const auto shared = longerRubric(rubric);
        auto input = inputFor({attemptWithMisses(shared, 8, 9)});
        input.readiness = closeReadiness();
        input.drill = drillOf(*shared, 4, 2);
        const Sheet sheet = progressSheet(input);
        expectTidy(sheet);
        expectDrill(sheet, *input.drill);
    }
}

TEST(ReadinessSheet, SaysSoWhereNothingFitsIntoTheTime) {
    auto input = inputFor({attemptWithMisses(makeRubric(), 5)});
    input.drill = SheetDrill{5, {}};
    const Sheet sheet = progressSheet(input);
    EXPECT_EQ(sheet.pages(), 1);
    EXPECT_TRUE(saysSo(sheet, "Next drill, 5 min"));
    EXPECT_TRUE(saysSo(sheet, "Nothing that raises the chance fits into this time"));
}

}  // namespace
