// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Zones now, zones by attempts and learning as tables and charts, without a window: what they show are the
// figures of core, and their twins say the same.

#include "app/support/clipboard.h"
#include "app/support/display.h"
#include "app/trainees/learning_panel.h"
#include "app/trainees/zones_table.h"

#include "../debrief/scored_attempts.h"

#include <gtest/gtest.h>

#include <QAbstractItemModelTester>
#include <QChart>
#include <QXYSeries>

namespace markerlamp::testing {
namespace {

using app::LearningPanel;
using core::Outcome;

constexpr auto kFatal = QAbstractItemModelTester::FailureReportingMode::Fatal;

/// Four attempts: better and better on the left, the rear not observed once, the last months later.
std::vector<core::ScoredAttempt> fourAttempts() {
    return {smallAttempt("one", "2026-03-02T06:10:00-05:00",
                         {{"a", Outcome::Omitted},
                          {"b", Outcome::ShownOnly},
                          {"c", Outcome::Partly},
                          {"d", Outcome::Omitted},
                          {"leak", Outcome::SaidOnly}}),
            smallAttempt("two", "2026-03-06T06:10:00-05:00",
                         {{"a", Outcome::SaidOnly},
                          {"d", Outcome::Omitted},
                          {"g", Outcome::NotObserved},
                          {"i", Outcome::NotObserved}}),
            smallAttempt("three", "2026-03-16T06:10:00-04:00", {{"d", Outcome::ShownOnly}}),
            smallAttempt("four", "2026-11-25T06:10:00-05:00", {{"spring", Outcome::NotReached}})};
}

std::vector<QDate> datesOf(const std::vector<core::ScoredAttempt>& history) {
    std::vector<QDate> dates;
    for (const auto& one : history) dates.push_back(app::startedAt(one.attempt.header.started).date());
    return dates;
}

TEST(ZonesTable, CellsAreSatisfiedOfObserved) {
    const auto history = fourAttempts();
    const app::ZonesContent content = app::zonesContent(history, 0, 6, false);
    app::RowsModel model({});
    QAbstractItemModelTester tester(&model, kFatal);
    model.setColumns(content.columns);
    model.setRows(content.rows);
    ASSERT_EQ(model.columnCount(), 3 + 4);
    ASSERT_EQ(model.rowCount(), 3);
    const auto text = [&](int row, int column) {
        return model.index(row, column).data().toString().toStdString();
    };
    // By hand; left side: a b c d e f.
    EXPECT_EQ(text(0, 3), "2/6");
    EXPECT_EQ(text(0, 4), "4/6");
    EXPECT_EQ(text(0, 5), "5/6");
    EXPECT_EQ(text(0, 6), "6/6");
    EXPECT_EQ(text(1, 3), "2/2");
    EXPECT_EQ(text(1, 4), "");
    EXPECT_EQ(model.index(1, 4).data(Qt::AccessibleTextRole).toString().toStdString(), "not observed");
    EXPECT_EQ(text(2, 3), "2/3");
    EXPECT_EQ(text(2, 6), "2/2") << "what was not reached is not counted";
    EXPECT_EQ(model.headerData(3, Qt::Horizontal, Qt::DisplayRole).toString().toStdString(), "1\n2 Mar");
    EXPECT_EQ(model.headerData(6, Qt::Horizontal, Qt::DisplayRole).toString().toStdString(), "4\n25 Nov");
}

TEST(ZonesTable, NowCountsTheLastThreeAndNeedsEightStepsForAnInterval) {
    const auto history = fourAttempts();
    const app::ZonesContent content = app::zonesContent(history, 0, 6, false);
    const auto zones = core::zonesNow(history);
    ASSERT_EQ(content.rows.size(), zones.size());
    for (std::size_t i = 0; i < zones.size(); ++i) {
        const auto dot = content.rows[i].cells[1].payload.value<app::ZoneDot>();
        EXPECT_EQ(dot.known, zones[i].interval.has_value());
        EXPECT_EQ(content.rows[i].cells[2].text,
                  QStringLiteral("%1/%2").arg(zones[i].satisfied).arg(zones[i].observed));
        if (!dot.known) continue;
        EXPECT_DOUBLE_EQ(dot.low, zones[i].interval->low);
        EXPECT_DOUBLE_EQ(dot.high, zones[i].interval->high);
        EXPECT_DOUBLE_EQ(dot.value, static_cast<double>(zones[i].satisfied) / zones[i].observed);
        EXPECT_EQ(content.rows[i].cells[1].tip,
                  QStringLiteral("%1, likely %2 to %3")
                      .arg(app::percentText(100 * dot.value), app::percentText(100 * dot.low),
                           app::percentText(100 * dot.high)));
    }
    // 4 + 5 + 6 of 18; the rear was seen in two of three: 4 steps, counts only.
    EXPECT_EQ(content.rows[0].cells[2].text.toStdString(), "15/18");
    EXPECT_EQ(content.rows[1].cells[2].text.toStdString(), "4/4");
    EXPECT_EQ(content.rows[1].cells[1].tip.toStdString(), "counts only");
}

TEST(ZonesTable, WeakestFirstSortsByChanceAndKeepsTheCells) {
    const auto history = fourAttempts();
    const auto walk = app::zonesContent(history, 0, 6, false), weak = app::zonesContent(history, 0, 6, true);
    ASSERT_EQ(weak.rows.size(), walk.rows.size());
    EXPECT_EQ(weak.rows[0].id.toStdString(), "left-side");
    EXPECT_EQ(weak.rows[1].id.toStdString(), "rear") << "4 of 4 say less than 8 of 8 of the brakes";
    EXPECT_EQ(weak.rows[2].id.toStdString(), "air-brakes");
    for (const app::Row& row : weak.rows) {
        const auto same = std::ranges::find(walk.rows, row.id, &app::Row::id);
        ASSERT_NE(same, walk.rows.end());
        for (std::size_t i = 0; i < row.cells.size(); ++i) EXPECT_EQ(row.cells[i].text, same->cells[i].text);
    }
}

TEST(ZonesTable, SummaryNamesTheZonesThatAreLikelyUnderTheMark) {
    std::vector<core::ScoredAttempt> history;
    for (int i = 0; i < 3; ++i)
        history.push_back(smallAttempt("a" + std::to_string(i),
                                       "2026-03-0" + std::to_string(2 + i) + "T06:10:00-05:00",
                                       {{"a", Outcome::Omitted},
                                        {"b", Outcome::Omitted},
                                        {"c", Outcome::Omitted},
                                        {"d", Outcome::Omitted}}));
    // 6 of 18, and 2 of 6 after the first: far below 80 %.
    EXPECT_EQ(app::zonesContent(history, 0, 6, false).summary.toStdString(),
              "Likely under the pass mark of 80 %: Left side.");
    EXPECT_EQ(app::zonesContent({history[0]}, 0, 6, false).summary.toStdString(),
              "Likely under the pass mark of 80 %: Left side.");
    const auto oneMiss = smallAttempt("b", "2026-03-02T06:10:00-05:00", {{"a", Outcome::Omitted}});
    EXPECT_EQ(app::zonesContent({oneMiss}, 0, 6, false).summary.toStdString(),
              "No zone is likely under the pass mark of 80 %.")
        << "5 of 6 do not say so";
}

TEST(ZonesTable, ShowsAWindowOfTheAttemptsWithTheirOwnNumbers) {
    const auto content = app::zonesContent(fourAttempts(), 2, 6, false);
    ASSERT_EQ(content.columns.size(), 5u);
    EXPECT_TRUE(content.columns[3].title.startsWith(QLatin1String("3\n")));
    EXPECT_EQ(content.rows[0].cells[3].text.toStdString(), "5/6");
}

TEST(LearningChart, DotsAreThePercentagesAtTheNumbersOfTheAttempts) {
    const auto history = fourAttempts();
    const auto points = core::learningPoints(history);
    app::Theme theme;
    for (const auto what : {LearningPanel::What::Shown, LearningPanel::What::Said}) {
        LearningPanel panel(theme, what);
        panel.setPoints(points, datesOf(history));
        std::map<int, double> dots;
        for (QAbstractSeries* series : panel.chart()->series())
            for (const QPointF& at : qobject_cast<QXYSeries*>(series)->points())
                dots[qRound(at.x())] = at.y();
        ASSERT_EQ(dots.size(), points.size());
        for (std::size_t i = 0; i < points.size(); ++i) {
            const bool shown = what == LearningPanel::What::Shown;
            const int count = shown ? points[i].shownCount : points[i].saidCount;
            const int of = shown ? points[i].shownOf : points[i].saidOf;
            EXPECT_DOUBLE_EQ(dots[static_cast<int>(i) + 1], 100.0 * count / of);
        }
    }
}

TEST(LearningChart, AttemptsKeepTheirDistanceWhenOneIsMonthsLater) {
    const auto history = fourAttempts();
    app::Theme theme;
    LearningPanel panel(theme, LearningPanel::What::Shown);
    panel.setPoints(core::learningPoints(history), datesOf(history));
    panel.resize(400, 160);
    panel.show();
    QXYSeries* dots = nullptr;
    for (QAbstractSeries* series : panel.chart()->series())
        if (auto* one = qobject_cast<QXYSeries*>(series); !one->points().isEmpty()) dots = one;
    ASSERT_NE(dots, nullptr);
    std::vector<double> x;
    for (const QPointF& point : dots->points()) x.push_back(panel.chart()->mapToPosition(point, dots).x());
    ASSERT_EQ(x.size(), 4u);
    for (std::size_t i = 1; i < x.size(); ++i)
        EXPECT_GE(x[i] - x[i - 1], panel.chart()->plotArea().width() / 5);
}

TEST(LearningChart, MarksAGapOfMoreThanTwoWeeks) {
    const auto points = core::learningPoints(fourAttempts());
    EXPECT_FALSE(app::isLongGap(points[0], points[1])) << "4 days";
    EXPECT_FALSE(app::isLongGap(points[1], points[2])) << "10 days";
    EXPECT_TRUE(app::isLongGap(points[2], points[3])) << "254 days";
    // The picture has more on it than without the gap.
    app::Theme theme;
    const auto ink = [&](std::vector<core::LearningPoint> shown) {
        const auto history = fourAttempts();
        LearningPanel panel(theme, LearningPanel::What::Said);
        panel.resize(400, 160);
        panel.setPoints(shown, datesOf(history));
        const QImage image = panel.grab().toImage();
        int dark = 0;
        for (int y = 0; y < image.height(); ++y)
            for (int x = 0; x < image.width(); ++x) dark += image.pixelColor(x, y).lightness() < 128 ? 1 : 0;
        return dark;
    };
    auto close = points;
    close[3].days = close[2].days + 7;
    EXPECT_GT(ink(points), ink(close) + 50);
}

TEST(LearningChart, TwinSaysTheSameAndKeepsTheDays) {
    const auto history = fourAttempts();
    const auto points = core::learningPoints(history);
    app::RowsModel model(app::learningColumns());
    QAbstractItemModelTester tester(&model, kFatal);
    model.setRows(app::learningRows(history));
    ASSERT_EQ(model.rowCount(), 4);
    std::map<std::string, int> column;
    for (int i = 0; i < model.columnCount(); ++i)
        column[model.headerData(i, Qt::Horizontal, Qt::DisplayRole).toString().toStdString()] = i;
    const auto text = [&](int row, const char* name) {
        return model.index(row, column.at(name)).data().toString().toStdString();
    };
    for (int row = 0; row < 4; ++row) {
        const core::LearningPoint& point = points[static_cast<std::size_t>(row)];
        EXPECT_EQ(text(row, "attempt"), std::to_string(row + 1));
        EXPECT_EQ(text(row, "steps shown"),
                  std::to_string(point.shownCount) + " of " + std::to_string(point.shownOf));
        EXPECT_EQ(text(row, "shown"),
                  app::percentText(100.0 * point.shownCount / point.shownOf).toStdString());
        EXPECT_EQ(text(row, "points said"),
                  std::to_string(point.saidCount) + " of " + std::to_string(point.saidOf));
        EXPECT_EQ(text(row, "said, interval"), app::percentText(100 * point.said->low).toStdString() +
                                                   " to " +
                                                   app::percentText(100 * point.said->high).toStdString());
    }
    // 2026: 2, 6 and 16 March, 25 November (the clocks of the place have gone forward and back).
    EXPECT_EQ(text(0, "day"), "0");
    EXPECT_EQ(text(1, "day"), "4");
    EXPECT_EQ(text(2, "day"), "14");
    EXPECT_EQ(text(3, "day"), "268");
    EXPECT_EQ(text(3, "date"), "25 Nov 2026");
    const QStringList lines = app::tableAsTsv(model).split(QLatin1Char('\n'), Qt::SkipEmptyParts);
    EXPECT_EQ(lines.size(), 5);
}

TEST(LearningChart, SummaryIsTheAccessibleDescription) {
    const auto history = fourAttempts();
    const auto points = core::learningPoints(history);
    app::Theme theme;
    LearningPanel panel(theme, LearningPanel::What::Shown);
    panel.setPoints(points, datesOf(history));
    // By hand: shown in the first a no, b c e yes, d no, g i chocks spring yes, leak (said only) no: 7 of 10.
    // In the last all of the 9 that were observed and have something to show.
    EXPECT_EQ(panel.accessibleDescription().toStdString(),
              "Steps shown: 100 % (9 of 9) at attempt 4, 70 % at the first.");
    EXPECT_FALSE(panel.accessibleName().isEmpty());
    EXPECT_EQ(app::learningSummary({points[0]}, LearningPanel::What::Shown).toStdString(),
              "Steps shown: 70 % (7 of 10) in the only attempt; no trend yet.");
    EXPECT_EQ(app::learningSummary({}, LearningPanel::What::Said).toStdString(), "No attempt yet.");
}

}  // namespace
}  // namespace markerlamp::testing
