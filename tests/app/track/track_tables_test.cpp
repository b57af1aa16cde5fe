// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/track/track_tables.h"

#include "app/support/display.h"

#include <gtest/gtest.h>

namespace markerlamp::app {
namespace {

using core::FrozenForecast;
using core::TrackRow;

TrackRow row(int number, double chance, bool passed,
             FrozenForecast::About about = FrozenForecast::About::OfficialTest) {
    TrackRow made;
    made.about = about;
    made.trainee = "t-" + std::to_string(number);
    made.of = "r-" + std::to_string(number);
    const std::string day = (number < 10 ? "0" : "") + std::to_string(number);
    made.at = "2026-03-" + day + "T18:00:00-05:00";
    made.resultAt = "2026-04-" + day;
    made.chance = chance;
    made.passed = passed;
    return made;
}

/// 20 results: ten forecasts of 0.9, of which nine passed, and ten of 0.3, of which three passed.
core::TrackRecord twenty() {
    std::vector<TrackRow> rows;
    for (int i = 1; i <= 20; ++i) rows.push_back(row(i, i <= 10 ? 0.9 : 0.3, i <= 9 || i > 17));
    return core::trackRecordOf(std::move(rows));
}

QString nameOf(const std::string& key) {
    return QStringLiteral("Trainee ") + qs(key);
}

TEST(TrackTables, PartsFrozenForecastsByWhatTheyAreAbout) {
    const auto frozen =
        core::trackRecordOf({row(1, 0.9, true), row(2, 0.4, false, FrozenForecast::About::FullAttempt)});
    const TrackSources sources = sourcesOf(frozen, {});
    EXPECT_EQ(sources.tests.rows.size(), 1u);
    EXPECT_EQ(sources.attempts.rows.size(), 1u);
    EXPECT_TRUE(sources.record(TrackSource::Replayed).rows.empty());
    EXPECT_FALSE(sources.empty());
    EXPECT_TRUE(sourcesOf({}, {}).empty());
    EXPECT_TRUE(sourcesOf({}, core::TrackRecord()).empty());
    EXPECT_FALSE(sourcesOf({}, twenty()).empty());
}

// By hand: the miss is (9 * 0.01 + 0.81 + 3 * 0.49 + 7 * 0.09) / 20 = 0.15; 12 of 20 passed, so one chance
// for all misses by 0.6 * 0.4 = 0.24.
TEST(TrackTables, SaysTheMissBesideThatOfOneChanceForAll) {
    const QString words = missInWords(twenty());
    for (const char* part : {"0.150", "60 in 100", "0.240", "better than one chance for all"})
        EXPECT_TRUE(words.contains(QLatin1String(part))) << part << " in " << ss(words);
    const std::vector<Row> rows = sourceRows(sourcesOf(twenty(), {}));
    ASSERT_EQ(rows.size(), 3u);
    EXPECT_EQ(rows[0].cells[1].text, QStringLiteral("20"));
    EXPECT_EQ(rows[0].cells[2].text, QStringLiteral("12"));
    EXPECT_EQ(rows[0].cells[3].text, QStringLiteral("0.150"));
    EXPECT_EQ(rows[0].cells[4].text, QStringLiteral("0.240"));
    EXPECT_EQ(rows[1].cells[3].text, QStringLiteral("too few")) << "no frozen forecast of an attempt";
    EXPECT_EQ(rows[2].cells[3].text, QStringLiteral("not yet")) << "the past was not played again";
    std::vector<TrackRow> worse;
    for (int i = 1; i <= 20; ++i) worse.push_back(row(i, i <= 10 ? 0.1 : 0.9, i <= 10));
    EXPECT_TRUE(missInWords(core::trackRecordOf(std::move(worse))).contains(QLatin1String("no better")));
}

// Wilson, 95 %: 9 of 10 gives 0.596 to 0.982, 3 of 10 gives 0.108 to 0.603 (Brown, Cai & DasGupta 2001 use
// the same formula; computed with another program).
TEST(TrackTables, GroupsHaveTheirCountAndInterval) {
    const std::vector<Row> rows = groupRows(twenty().quality);
    ASSERT_EQ(rows.size(), 2u) << "groups without a forecast are left out";
    EXPECT_EQ(rows[0].cells[1].text, QStringLiteral("30"));
    EXPECT_EQ(rows[0].cells[3].text, QStringLiteral("3"));
    EXPECT_EQ(rows[0].cells[5].text, QStringLiteral("11 to 60"));
    EXPECT_EQ(rows[1].cells[4].text, QStringLiteral("90"));
    EXPECT_EQ(rows[1].cells[5].text, QStringLiteral("60 to 98"));
    EXPECT_TRUE(chartInWords(twenty()).contains(QLatin1String("9 of 10 passed")));
    EXPECT_EQ(tooFewTitle(twenty()), QString());
}

TEST(TrackTables, TooFewResultsGetNoScore) {
    std::vector<TrackRow> rows = twenty().rows;
    rows.pop_back();
    const core::TrackRecord nineteen = core::trackRecordOf(rows);
    EXPECT_EQ(missInWords(nineteen), QString());
    EXPECT_TRUE(groupRows(nineteen.quality).empty());
    EXPECT_TRUE(tooFewTitle(nineteen).startsWith(QLatin1String("19 results")));
    EXPECT_TRUE(tooFewWords(nineteen).contains(QLatin1String("1 more")));
    EXPECT_TRUE(chartInWords(nineteen).contains(QLatin1String("of 19 passed")));
    EXPECT_EQ(tooFewTitle({}), QStringLiteral("No result yet"));
    EXPECT_EQ(chartInWords({}), QStringLiteral("No result yet."));
}

TEST(TrackTables, ResultsStandNewestFirstAndSayWhatTheyPaint) {
    TrackRow unsure = row(3, 0.5, true);
    unsure.tooLittle = true;
    TrackRow again = row(4, 0.25, false);
    again.source = TrackRow::Source::Replayed;
    unsure.at = "2025-12-31T18:00:00-05:00";
    const auto record = core::trackRecordOf({row(1, 0.93, false), unsure, again});
    const std::vector<Row> rows = resultRows(record, nameOf);
    ASSERT_EQ(rows.size(), 3u);
    EXPECT_EQ(rows[2].cells[1].text, QStringLiteral("Trainee t-1"));
    EXPECT_EQ(rows[2].cells[2].text, QStringLiteral("93"));
    EXPECT_TRUE(rows[2].cells[3].tip.contains(QLatin1String("93 in 100, not passed")));
    EXPECT_TRUE(rows[2].cells[4].bold);
    EXPECT_EQ(rows[2].cells[5].text, shortDate(QDate(2026, 3, 1)));
    EXPECT_EQ(rows[2].cells[5].tip, longDate(QDate(2026, 3, 1)));
    EXPECT_EQ(rows[1].cells[5].text, longDate(QDate(2025, 12, 31))) << "another year";
    EXPECT_TRUE(rows[1].cells[2].muted);
    EXPECT_TRUE(rows[1].cells[2].tip.contains(QLatin1String("too little data")));
    EXPECT_EQ(rows[0].cells[5].text, QStringLiteral("replayed"));
    EXPECT_EQ(rows[0].cells.size(), resultColumns().size());
    EXPECT_EQ(groupRows(twenty().quality)[0].cells.size(), groupColumns().size());
}

}  // namespace
}  // namespace markerlamp::app
