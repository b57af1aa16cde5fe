// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/history/history.h"
#include "scoring_support.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <functional>

namespace markerlamp::core {
namespace {

using testing::AttemptBuilder;
using ::testing::ElementsAre;
using ::testing::IsEmpty;
using testing::makeRubric;
using testing::makeStep;

/// Two zones of four steps each, two points a step; "b3" is a must-pass step.
std::shared_ptr<const Rubric> twoZones(int edition = 1, const std::string& id = "test-rubric") {
    std::vector<Zone> zones;
    for (const std::string zone : {"a", "b"}) {
        zones.push_back({zone, "Zone " + zone, {}});
        for (int i = 0; i < 4; ++i) zones.back().steps.push_back(makeStep(zone + std::to_string(i), 2));
    }
    zones[1].steps[3].mustPass = true;
    Rubric rubric = makeRubric(zones);
    rubric.edition = edition;
    rubric.id = id;
    return std::make_shared<const Rubric>(rubric);
}

/// All steps whole except as told: 'o' omitted, 's' shown only, 'u' unseen, 'r' unreached, 'w' whole.
ScoredAttempt attemptWith(const std::shared_ptr<const Rubric>& rubric, const std::string& marks,
                          const std::string& started = "2026-03-02T06:10:00-05:00") {
    AttemptBuilder builder(*rubric);
    builder.header().started = started;
    std::size_t i = 0;
    for (const Zone& zone : rubric->zones)
        for (const Step& step : zone.steps) switch (i < marks.size() ? marks[i++] : 'w') {
                case 'o':
                    break;
                case 's':
                    builder.show(step.id);
                    break;
                case 'u':
                    builder.mark(EventKind::Unseen, step.id);
                    break;
                case 'r':
                    builder.mark(EventKind::Unreached, step.id);
                    break;
                default:
                    builder.whole(step);
            }
    const Attempt attempt = builder.end();
    return {rubric, attempt, score(*rubric, attempt)};
}

std::vector<std::string> ids(const std::vector<SayNext>& lines) {
    std::vector<std::string> all;
    for (const SayNext& line : lines) all.push_back(line.step);
    return all;
}

TEST(ZonesNow, AddsUpTheLastThreeAttempts) {
    const auto rubric = twoZones();
    const auto zones = zonesNow({attemptWith(rubric, "oooooooo"), attemptWith(rubric, "wwwoooou"),
                                 attemptWith(rubric, "wwwsoooo"), attemptWith(rubric, "wwwwwurr")});
    ASSERT_EQ(zones.size(), 2u);
    EXPECT_EQ(zones[0].zone, "a");
    EXPECT_EQ(zones[0].title, "Zone a");
    EXPECT_EQ(zones[0].satisfied, 3 + 3 + 4);
    EXPECT_EQ(zones[0].observed, 12);
    EXPECT_EQ(zones[0].interval, wilson(10, 12, 0.8));
    EXPECT_FALSE(zones[0].weak);
    EXPECT_EQ(zones[1].satisfied, 1);
    EXPECT_EQ(zones[1].observed, 3 + 4 + 1);
    EXPECT_EQ(zones[1].interval, wilson(1, 8, 0.8));
    EXPECT_TRUE(zones[1].weak) << "1 of 8 lies surely enough under the pass mark of 80 percent";
}

TEST(ZonesNow, GivesCountsOnlyUnderEightObserved) {
    const auto rubric = twoZones();
    const auto zones = zonesNow({attemptWith(rubric, "ooooooou"), attemptWith(rubric, "oooooooo")});
    EXPECT_TRUE(zones[0].interval) << "8 observed";
    EXPECT_TRUE(zones[0].weak);
    EXPECT_EQ(zones[1].observed, 7);
    EXPECT_FALSE(zones[1].interval);
    // Five observed steps are enough for this one: 0 of 7 are far from 80 percent whatever the interval.
    EXPECT_TRUE(zones[1].weak);
}

TEST(ZonesNow, FlagsByChanceNotByRawShare) {
    const auto rubric = twoZones();
    // Zone b, 3 of 4 satisfied, lies under 80 percent as a share; four steps do not show it.
    const auto few = zonesNow({attemptWith(rubric, "wwwwowww")});
    EXPECT_EQ(few[1].observed, 4);
    EXPECT_FALSE(few[1].weak);
    // 6 of 8 do not show it either, 4 of 8 do.
    EXPECT_FALSE(zonesNow({attemptWith(rubric, "wwwwowww"), attemptWith(rubric, "wwwwowww")})[1].weak);
    EXPECT_TRUE(zonesNow({attemptWith(rubric, "wwwwooww"), attemptWith(rubric, "wwwwooww")})[1].weak);
}

TEST(ZonesNow, FlagsWhatZoneChancesFlag) {
    const auto rubric = twoZones();
    const std::vector<ScoredAttempt> attempts{attemptWith(rubric, "wwowooww"),
                                              attemptWith(rubric, "wwwwoouw")};
    const auto zones = zonesNow(attempts);
    const auto chances = zoneChances(attempts);
    ASSERT_EQ(chances.size(), zones.size());
    for (std::size_t z = 0; z < zones.size(); ++z) {
        EXPECT_EQ(chances[z].zone, zones[z].zone);
        EXPECT_EQ(chances[z].right, zones[z].satisfied);
        EXPECT_EQ(chances[z].seen, zones[z].observed);
        EXPECT_EQ(chances[z].weak, zones[z].weak);
    }
    EXPECT_EQ(chances[1].below, weakZones({{"a", 7, 8}, {"b", 3, 7}}, 0.8)[1].below);
}

TEST(ZonesNow, AnyPassMarkCanBeComparedWith) {
    for (const double mark : {0.0, 100.0}) {
        Rubric rubric = *twoZones();
        rubric.pass.percent = mark;
        const auto shared = std::make_shared<const Rubric>(rubric);
        const auto zones = zonesNow({attemptWith(shared, "oooowwww"), attemptWith(shared, "oooowwww")});
        EXPECT_EQ(zones[0].weak, mark == 100) << "nothing is weak for a mark of 0";
    }
}

TEST(PercentTrend, TakesWholeAttemptsByTheirDays) {
    const auto rubric = twoZones();
    std::vector<ScoredAttempt> attempts;
    const std::vector<std::string> marks{"oooowwww", "ooowwwww", "oowwwwww", "owwwwwww"};
    // One more of eight steps each time, after 1, 2 and 4 days: medians of the pairwise slopes by hand.
    const std::vector<std::string> days{"02", "03", "05", "09"};
    for (std::size_t i = 0; i < marks.size(); ++i) {
        EXPECT_FALSE(percentTrend(attempts).trend) << "not under four attempts";
        attempts.push_back(attemptWith(rubric, marks[i], "2026-03-" + days[i] + "T06:10:00-05:00"));
    }
    auto drill = attemptWith(rubric, "wwwwwwww", "2026-03-10T06:10:00-05:00");
    drill.attempt.header.zones = {"a"};
    attempts.push_back(drill);
    const auto found = percentTrend(attempts);
    EXPECT_EQ(found.attempts, 4) << "a drill of one zone is no whole attempt";
    ASSERT_TRUE(found.trend);
    // Slopes 12.5/1, 25/3, 37.5/7, 12.5/2, 25/6, 12.5/4 in percent a day: median of 25/3 .. is (6.25
    // + 37.5/7) / 2.
    EXPECT_NEAR(found.trend->slope, (12.5 / 2 + 37.5 / 7) / 2, 1e-9);
    EXPECT_EQ(percentTrend(attempts, 3).attempts, 3);
    EXPECT_FALSE(percentTrend(attempts, 3).trend);
}

TEST(PercentTrend, LeavesOtherRubricsAside) {
    std::vector<ScoredAttempt> attempts;
    for (int i = 1; i <= 8; ++i)
        attempts.push_back(attemptWith(twoZones(i > 4 ? 2 : 1, i % 2 == 0 ? "test-rubric" : "other"), "ww",
                                       "2026-03-0" + std::to_string(i) + "T06:10:00-05:00"));
    EXPECT_EQ(percentTrend(attempts).attempts, 4) << "any edition of the newest one's rubric";
    EXPECT_EQ(percentTrend({}).attempts, 0);
}

TEST(ZonesNow, TakesOtherEditionsButNoOtherRubric) {
    const auto zones =
        zonesNow({attemptWith(twoZones(1), "ooooowww"), attemptWith(twoZones(1, "other"), "wwww"),
                  attemptWith(twoZones(2), "wwww")});
    EXPECT_EQ(zones[0].satisfied, 4);
    EXPECT_EQ(zones[0].observed, 8);
}

TEST(ZonesNow, IsEmptyWithoutAttempts) {
    EXPECT_THAT(zonesNow({}), IsEmpty());
    EXPECT_THAT(zonesByAttempts({}).zones, IsEmpty());
    EXPECT_THAT(learningPoints({}), IsEmpty());
    EXPECT_THAT(sayNextTime({}), IsEmpty());
    EXPECT_EQ(cleanMustPassInARow({}), 0);
}

TEST(HeatMap, HasARowAZoneAndAColumnAnAttempt) {
    const auto rubric = twoZones();
    ScoredAttempt half = attemptWith(rubric, "woosuurw");
    AttemptBuilder builder(*rubric);
    builder.header().zones = {"b"};
    const Attempt onlyB = builder.whole(rubric->zones[1].steps[0]).end();
    const HeatMap map =
        zonesByAttempts({attemptWith(twoZones(2), "wwww"), half, {rubric, onlyB, score(*rubric, onlyB)}});
    EXPECT_THAT(map.zones, ElementsAre("a", "b"));
    EXPECT_THAT(map.titles, ElementsAre("Zone a", "Zone b"));
    EXPECT_THAT(map.otherEdition, ElementsAre(true, false, false));
    EXPECT_EQ(map.cells[0][1].satisfied, 1);
    EXPECT_EQ(map.cells[0][1].observed, 4);
    EXPECT_EQ(map.cells[1][1].satisfied, 1);
    EXPECT_EQ(map.cells[1][1].observed, 1);
    EXPECT_EQ(map.cells[1][1].unseen, 2);
    EXPECT_EQ(map.cells[1][1].unreached, 1);
    EXPECT_FALSE(map.cells[0][2].inScope);
    EXPECT_TRUE(map.cells[1][2].inScope);
    EXPECT_EQ(map.cells[1][2].observed, 4);
}

TEST(LearningPoints, CountShownStepsAndSaidPointsOfObservedSteps) {
    const auto rubric = twoZones();
    const auto points = learningPoints({attemptWith(rubric, "wsouwwwr")});
    ASSERT_EQ(points.size(), 1u);
    EXPECT_EQ(points[0].shownCount, 5) << "w s w w w";
    EXPECT_EQ(points[0].shownOf, 6);
    EXPECT_EQ(points[0].saidCount, 8) << "two points of each w";
    EXPECT_EQ(points[0].saidOf, 12);
}

TEST(LearningPoints, DayCountKnowsTheOffsetFromUtc) {
    const auto rubric = twoZones();
    const auto points = learningPoints({attemptWith(rubric, "", "2026-03-07T23:00:00-05:00"),
                                        attemptWith(rubric, "", "2026-03-08T23:00:00-04:00"),
                                        attemptWith(rubric, "", "2026-03-11T04:00:00Z"),
                                        attemptWith(twoZones(2), "", "2026-03-11T06:00:30.5+02:00")});
    EXPECT_DOUBLE_EQ(points[0].days, 0);
    EXPECT_DOUBLE_EQ(points[1].days, 23.0 / 24) << "the clocks went forward";
    EXPECT_DOUBLE_EQ(points[2].days, 3);
    EXPECT_NEAR(points[3].days, 3 + 30.5 / 86400, 1e-9);
    EXPECT_TRUE(points[0].otherEdition);
    EXPECT_FALSE(points[3].otherEdition);
}

TEST(LearningPoints, EvenZonesAreTakenAsIndependentMarks) {
    // Half of each zone: the zones do not differ, so the design effect stays at its floor of 1.
    const auto points = learningPoints({attemptWith(twoZones(), "wwoowwoo")});
    EXPECT_EQ(points[0].shown, wilson(4, 8, 0.8));
    EXPECT_EQ(points[0].said, wilson(8, 16, 0.8));
}

TEST(LearningPoints, UnevenZonesWidenTheInterval) {
    // By hand: 4 of 4 and 0 of 4 shown. p = 1/2, v = 2/1 * (2^2 + 2^2) / 8^2 = 1/4; independent marks would
    // have 1/4 / 8, so the effect is 8 and eight marks weigh as one.
    const auto points = learningPoints({attemptWith(twoZones(), "wwwwoooo")});
    ASSERT_TRUE(points[0].shown);
    const auto want = wilson(0.5, 1, 0.8);
    EXPECT_NEAR(points[0].shown->low, want->low, 1e-12);
    EXPECT_NEAR(points[0].shown->high, want->high, 1e-12);
    // Points said: twice as many of each, effect 16.
    EXPECT_NEAR(points[0].said->low, want->low, 1e-12);
}

TEST(LearningPoints, AllOrNoneNeedsNoDesignEffect) {
    EXPECT_EQ(learningPoints({attemptWith(twoZones(), "")})[0].shown, wilson(8, 8, 0.8));
    EXPECT_EQ(learningPoints({attemptWith(twoZones(), "oooooooo")})[0].said, wilson(0, 16, 0.8));
    EXPECT_FALSE(learningPoints({attemptWith(twoZones(), "uuuuuuuu")})[0].shown);
}

TEST(SayNext, RanksMustPassThenMissedOftenThenWeightThenWalk) {
    Rubric changed = *twoZones();
    changed.zones[1].steps[1].weight = 3;
    const auto rubric = std::make_shared<const Rubric>(changed);
    // a0 missed once, a1 missed once, a2 missed twice, b1 once but weighty, b3 must-pass.
    const auto lines = sayNextTime({attemptWith(rubric, "wwowwwww"), attemptWith(rubric, "oosuwowo")});
    EXPECT_THAT(ids(lines), ElementsAre("b3", "a2", "b1", "a0", "a1"));
}

TEST(SayNext, TellsWhatIsMissingAndHowItWentBefore) {
    const auto rubric = twoZones();
    AttemptBuilder builder(*rubric);
    builder.say("a0", "p1").show("a1").say("a1", "p0").say("a1", "p1").mark(EventKind::Wrong, "a1");
    const Attempt last = builder.end();
    const auto lines = sayNextTime({attemptWith(rubric, "s"),
                                    attemptWith(rubric, "w"),
                                    attemptWith(rubric, "u"),
                                    attemptWith(rubric, "o"),
                                    {rubric, last, score(*rubric, last)}});
    const SayNext& first = *std::ranges::find(lines, "a0", &SayNext::step);
    EXPECT_EQ(first.title, "Step a0");
    EXPECT_EQ(first.zone, "a");
    EXPECT_EQ(first.zoneTitle, "Zone a");
    EXPECT_EQ(first.outcome, StepOutcome::Partial);
    EXPECT_TRUE(first.notShown);
    EXPECT_THAT(first.missing, ElementsAre("text of p0"));
    using enum StepOutcome;
    EXPECT_THAT(first.recent, ElementsAre(Satisfied, Unseen, Omitted, Partial)) << "the four newest";
    EXPECT_EQ(first.seenRecent, 3);
    EXPECT_EQ(first.missedRecent, 2);
    const SayNext& second = *std::ranges::find(lines, "a1", &SayNext::step);
    EXPECT_EQ(second.outcome, Wrong);
    EXPECT_FALSE(second.notShown);
    EXPECT_THAT(second.missing, IsEmpty()) << "everything was said, it was wrong all the same";
}

TEST(SayNext, LeavesOutWhatWasNotObserved) {
    EXPECT_THAT(sayNextTime({attemptWith(twoZones(), "ur")}), IsEmpty());
}

TEST(SayNext, DoesNotAskForMorePointsThanAreNeeded) {
    Rubric changed = *twoZones();
    changed.zones[0].steps[0].sayNeeded = 1;
    const auto rubric = std::make_shared<const Rubric>(changed);
    AttemptBuilder builder(*rubric);
    builder.say("a0", "p0");
    const Attempt last = builder.end();
    const auto lines = sayNextTime({{rubric, last, score(*rubric, last)}});
    const SayNext& line = *std::ranges::find(lines, "a0", &SayNext::step);
    EXPECT_TRUE(line.notShown);
    EXPECT_THAT(line.missing, IsEmpty());
}

TEST(CleanMustPass, CountsBackFromTheNewest) {
    const auto rubric = twoZones();
    const auto whole = attemptWith(rubric, "");
    const auto missed = attemptWith(rubric, "wwwwwwws");
    const auto unseen = attemptWith(rubric, "wwwwwwwu");
    const auto otherMissed = attemptWith(rubric, "o");
    EXPECT_EQ(cleanMustPassInARow({whole, missed, whole, whole}), 2);
    EXPECT_EQ(cleanMustPassInARow({whole, missed}), 0);
    EXPECT_EQ(cleanMustPassInARow({whole, unseen, whole}), 2)
        << "nothing observed neither counts nor ends it";
    EXPECT_EQ(cleanMustPassInARow({unseen}), 0);
    EXPECT_EQ(cleanMustPassInARow({whole, otherMissed}), 2) << "other steps do not matter";
}

}  // namespace
}  // namespace markerlamp::core
