// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/drill/drill_plan.h"
#include "core/drill/drill_blocks.h"
#include "core/drill/drill_worth.h"
#include "core/rubric/rubric_reader.h"
#include "drill_support.h"
#include "scoring_support.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include <cmath>
#include <map>
#include <numeric>
#include <random>

namespace markerlamp::core {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;

double mean(const std::vector<double>& values) {
    return std::accumulate(values.begin(), values.end(), 0.0) / double(values.size());
}

/// Zones front (a1..a4) and brakes (b1..b5), where b1 to b3 are a strict must-pass chain.
Rubric twoZones() {
    std::vector<Step> front, brakes;
    for (int i = 1; i <= 4; ++i) front.push_back(testing::makeStep("a" + std::to_string(i)));
    for (int i = 1; i <= 5; ++i) brakes.push_back(testing::makeStep("b" + std::to_string(i)));
    brakes[0].caution = "Chock the wheels.";
    brakes[1].caution = "Only the chocks hold the bus.";
    brakes[2].caution = "Only the chocks hold the bus.";
    front[1].caution = "Hood propped.";
    Rubric rubric = testing::makeRubric(
        std::vector<Zone>{{"front", "Front end", std::move(front)}, {"brakes", "Brakes", std::move(brakes)}});
    rubric.order.push_back(testing::chainRule("chain", {"b1", "b2", "b3"}));
    rubric.order.back().strict = true;
    rubric.order.back().mustPass = true;
    return rubric;
}

TestDraws halves(const Rubric& rubric) {
    return testing::drawsOf(
        rubric, [](const Step&) { return 0.5; }, [](const Step&) { return 0.8; });
}

std::vector<std::string> idsOf(const DrillPlan& plan, const DrillPlanner& planner) {
    std::vector<std::string> ids;
    for (const DrillPart& part : plan.parts) ids.push_back(planner.blocks()[std::size_t(part.block)].id);
    return ids;
}

TEST(DrillBlocks, KeepStrictChainsTogetherAndOtherStepsAlone) {
    const DrillPlanner planner(halves(twoZones()));
    ASSERT_EQ(planner.blocks().size(), 7U);
    const DrillBlock& chain = planner.blocks()[4];
    EXPECT_EQ(chain.id, "chain");
    EXPECT_EQ(chain.zone, "brakes");
    EXPECT_EQ(chain.title, "Step b1 to Step b3");
    EXPECT_THAT(chain.steps, ElementsAre(4, 5, 6));
    EXPECT_NEAR(chain.minutes, 0.9, 1e-12);
    EXPECT_DOUBLE_EQ(chain.setUpMinutes, kWalkMinutes + kChainSetUpMinutes);
    EXPECT_EQ(chain.caution, "Chock the wheels. Only the chocks hold the bus.");
    EXPECT_EQ(planner.blocks()[1].caution, "Hood propped.");
    EXPECT_DOUBLE_EQ(planner.blocks()[1].setUpMinutes, kWalkMinutes);
    EXPECT_EQ(planner.blocks()[5].id, "b4");
}

TEST(DrillBlocks, JoinRulesThatShareAStepAndReachOverZones) {
    Rubric rubric = twoZones();
    rubric.order.push_back(testing::chainRule("start", {"a4", "b1"}));
    rubric.order.back().strict = true;
    const DrillPlanner planner(halves(rubric));
    ASSERT_EQ(planner.blocks().size(), 6U);
    const DrillBlock& joined = planner.blocks()[3];
    EXPECT_EQ(joined.id, "chain");  // the first rule of the document that is part of it
    EXPECT_EQ(joined.zone, "front");
    EXPECT_THAT(joined.steps, ElementsAre(3, 4, 5, 6));
    EXPECT_DOUBLE_EQ(joined.setUpMinutes, 2 * kWalkMinutes + kChainSetUpMinutes);
    EXPECT_THAT(inWords({3, 0, 0}, planner), HasSubstr("\"Step b1\" (Brakes)"));
}

TEST(DrillBlocks, ReadZonesInRulesAndLeaveAdviceAlone) {
    Rubric rubric = twoZones();
    rubric.order.clear();
    OrderRule first;
    first.id = "brakes-first";
    first.first = {"zone:brakes"};
    first.then = {"a1"};
    rubric.order.push_back(first);
    EXPECT_EQ(DrillPlanner(halves(rubric)).blocks().size(), 9U);
    rubric.order.back().strict = true;
    const DrillPlanner planner(halves(rubric));
    ASSERT_EQ(planner.blocks().size(), 4U);
    EXPECT_THAT(planner.blocks()[0].steps, ElementsAre(0, 4, 5, 6, 7, 8));
}

TEST(DrillBlocks, LeaveOutStepsThatThisBusDoesNotHave) {
    TestDraws draws = halves(twoZones());
    draws.steps.resize(5);  // a1..a4, b1: one step of the chain is left
    draws.inPart[0].resize(5);
    draws.logit.resize(5);
    draws.drilled.resize(5);
    const DrillPlanner planner(std::move(draws));
    ASSERT_EQ(planner.blocks().size(), 5U);
    EXPECT_EQ(planner.blocks()[4].id, "b1");
    EXPECT_DOUBLE_EQ(planner.blocks()[4].setUpMinutes, kWalkMinutes);
}

// By hand: nine steps of chance 1/2, eight needed: (9 + 1) / 512. With one of them at 0.8 the other eight
// give 1/256 for all right and 8/256 for one missed: 0.8 * 9 / 256 + 0.2 * 1 / 256.
TEST(DrillPlanner, TellsWhatASetBrings) {
    const DrillPlanner planner(halves(twoZones()));
    const DrillPlan plan = planner.worth({0});
    EXPECT_NEAR(plan.before, 10.0 / 512, 1e-9);
    EXPECT_NEAR(plan.after, (0.8 * 9 + 0.2) / 256, 1e-9);
    ASSERT_EQ(plan.parts.size(), 1U);
    EXPECT_NEAR(plan.parts[0].gain, plan.after - plan.before, 1e-9);
    EXPECT_NEAR(plan.scoreBefore, 50, 1e-9);
    EXPECT_NEAR(plan.scoreAfter, 50 + 30.0 / 9, 1e-9);
    EXPECT_NEAR(plan.parts[0].points, 30.0 / 9, 1e-9);
    EXPECT_NEAR(plan.minutes, 0.3 + kWalkMinutes, 1e-12);
}

TEST(DrillPlanner, GivesTheGainOfAChainAsAWhole) {
    const DrillPlanner planner(halves(twoZones()));
    const DrillPlan with = planner.worth({0, 4}), without = planner.worth({0});
    ASSERT_EQ(with.parts.size(), 2U);
    EXPECT_NEAR(with.parts[1].gain, with.after - without.after, 1e-9);
    EXPECT_THAT(planner.worth({4, 0, 4}).parts.size(), 2U);
}

TEST(DrillPlanner, StaysWithinTheMinutes) {
    const DrillPlanner planner(halves(twoZones()));
    for (const double minutes : {-1.0, 0.0, 1.2, 1.3, 2.0, 3.7, 5.0, 9.0, 100.0}) {
        const DrillPlan plan = planner.plan(minutes);
        EXPECT_LE(plan.minutes, std::max(minutes, 0.0) + 1e-9);
        EXPECT_GE(plan.after, plan.before);
        EXPECT_EQ(plan.parts.empty(), minutes < 1.3) << minutes;
    }
    EXPECT_EQ(planner.plan(100).parts.size(), planner.blocks().size());
    EXPECT_THAT(planner.plan(std::nan("")).parts, IsEmpty());
}

// With one draw and no spread of days the plan can be held against every set of blocks.
TEST(DrillPlanner, FindsTheBestOfAllSets) {
    std::mt19937 random(3);
    std::uniform_real_distribution<double> uniform(0.45, 0.95);
    for (int round = 0; round < 12; ++round) {
        SCOPED_TRACE(round);
        Rubric rubric = twoZones();
        for (Zone& zone : rubric.zones)
            for (Step& step : zone.steps) step.minutes = uniform(random);
        rubric.zones[1].steps[4].mustPass = true;
        std::map<std::string, double> now;
        const TestDraws draws = testing::drawsOf(
            rubric, [&](const Step& step) { return now[step.id] = uniform(random); },
            [&](const Step& step) { return now[step.id] + 0.5 * (1 - now[step.id]); });
        const DrillPlanner planner(draws);
        const double minutes = 5.5;
        double best = 0;
        for (unsigned mask = 0; mask < 1U << planner.blocks().size(); ++mask) {
            std::vector<int> set;
            for (int b = 0; b < int(planner.blocks().size()); ++b)
                if (mask >> b & 1U) set.push_back(b);
            if (planner.minutesOf(set) <= minutes) best = std::max(best, planner.worth(set).after);
        }
        EXPECT_NEAR(planner.plan(minutes).after, best, 2e-5);  // points break ties
    }
}

TEST(DrillPlanner, DoesNotOfferWhatWasDoneTodayUnlessPartOfItFailed) {
    const DrillPlanner planner(halves(twoZones()), {"a1", "a2", "b1", "b2", "b4"});
    EXPECT_TRUE(planner.blocks()[0].doneToday);
    EXPECT_FALSE(planner.blocks()[4].doneToday);  // b3 was not done
    EXPECT_THAT(idsOf(planner.plan(100), planner), ElementsAre("a3", "a4", "chain", "b5"));
    EXPECT_EQ(planner.worth({0}).parts.size(), 1U);  // by hand all the same
}

TEST(DrillPlanner, DoesNotOfferADrillThatMakesItWorse) {
    const DrillPlanner planner(testing::drawsOf(
        twoZones(), [](const Step&) { return 0.7; },
        [](const Step& step) { return step.id == "a3" ? 0.6 : 0.8; }));
    const auto ids = idsOf(planner.plan(100), planner);
    EXPECT_THAT(ids, Not(::testing::Contains("a3")));
    EXPECT_EQ(ids.size(), 6U);
}

// Only the must-pass step can fail the test; it takes a minute, and the rest goes where points are.
TEST(DrillPlanner, FillsTheMinutesWithPointsWhereNothingElseMovesTheChance) {
    Rubric rubric = twoZones();
    rubric.order.clear();
    rubric.pass.percent = 10;
    rubric.zones[0].steps[0].mustPass = true;
    const DrillPlanner planner(testing::drawsOf(
        rubric, [](const Step& step) { return step.id == "a3" ? 0.8 : 0.9; },
        [](const Step&) { return 0.95; }));
    EXPECT_THAT(idsOf(planner.plan(1.65), planner), ElementsAre("a1", "a3"));
}

// Far below the pass mark all gains in the chance are next to nothing; the dear steps bring more points.
TEST(DrillPlanner, TakesPointsWhereTheChanceIsNearNothing) {
    Rubric rubric = twoZones();
    rubric.order.clear();
    rubric.zones[0].steps[3].weight = 3;
    const DrillPlanner planner(testing::drawsOf(
        rubric, [](const Step&) { return 0.1; }, [](const Step&) { return 0.3; }));
    const DrillPlan plan = planner.plan(1.35);
    EXPECT_LT(plan.after, 0.05);
    EXPECT_EQ(plan.aim, DrillAim::ExpectedScore);
    EXPECT_THAT(idsOf(plan, planner), ElementsAre("a4"));
}

// One must-pass step holds the chance at 0.02 while all else is safe: that step, not points.
TEST(DrillPlanner, TakesTheMustPassStepThatAloneHoldsTheChanceDown) {
    Rubric rubric = twoZones();
    rubric.order.clear();
    rubric.zones[1].steps[0].mustPass = true;
    rubric.zones[1].steps[0].minutes = 3;
    const DrillPlanner planner(testing::drawsOf(
        rubric, [](const Step& step) { return step.mustPass ? 0.02 : 0.97; },
        [](const Step& step) { return step.mustPass ? 0.3 : 0.99; }));
    const DrillPlan plan = planner.plan(4.1);
    EXPECT_LT(plan.before, 0.05);
    EXPECT_EQ(plan.aim, DrillAim::PassChance);
    EXPECT_THAT(idsOf(plan, planner), ElementsAre("b1"));
}

// In nine draws of ten all is safe; in the tenth a1 is weak. On the average a2 would gain as much.
TEST(DrillPlanner, MakesTheBadCaseBetterWhereTheChanceIsHigh) {
    Rubric rubric = twoZones();
    rubric.order.clear();
    rubric.pass.percent = 100;
    const DrillPlanner planner(testing::drawsOf(
        rubric, 10,
        [](const Step& step, int draw) {
            if (step.id == "a1" && draw == 4) return 0.94;
            return step.id == "a2" ? 0.99 : 0.9999;
        },
        [](const Step& step, int draw) { return step.id == "a1" && draw == 4 ? 0.96 : 0.9999; }));
    const DrillPlan plan = planner.plan(1.35);
    EXPECT_GT(plan.before, 0.98);
    EXPECT_EQ(plan.aim, DrillAim::LowerQuantile);
    EXPECT_THAT(idsOf(plan, planner), ElementsAre("a1"));
    EXPECT_GT(planner.worth({1}).after, plan.after);  // what the mean alone would have taken
}

TEST(DrillPlanner, CountsThePartsOfTheTestByTheirShares) {
    Rubric rubric = twoZones();
    rubric.order.clear();
    TestDraws draws = testing::drawsOf(
        rubric, [](const Step&) { return 0.8; }, [](const Step&) { return 0.9; });
    draws.scope.parts = {{"s1", "Front", 0.2, {"front"}}, {"s2", "Brakes", 0.8, {"brakes"}}};
    draws.inPart = {{0, 1, 2, 3}, {4, 5, 6, 7, 8}};
    draws.kept = {1, 1};
    const DrillPlanner planner(draws);
    // ceil(80 % of 4) = 4 and of 5 = 4 right steps are needed.
    const double front = std::pow(0.8, 4), brakes = std::pow(0.8, 5) + 5 * std::pow(0.8, 4) * 0.2;
    const DrillPlan plan = planner.plan(1.35);
    EXPECT_NEAR(plan.before, 0.2 * front + 0.8 * brakes, 1e-9);
    ASSERT_EQ(plan.parts.size(), 1U);
    EXPECT_EQ(planner.blocks()[std::size_t(plan.parts[0].block)].zone, "brakes");
    draws.kept = {1, 0};  // a strict rule of the brakes is always broken: only the front can help
    const DrillPlanner broken(draws);
    EXPECT_NEAR(broken.plan(1.35).before, 0.2 * front, 1e-9);
    EXPECT_EQ(broken.blocks()[std::size_t(broken.plan(1.35).parts.at(0).block)].zone, "front");
}

TEST(DrillPlanner, NamesItsZonesAndTheStepsBeside) {
    const DrillPlanner planner(halves(twoZones()));
    const DrillPlan plan = planner.worth({4, 6});
    EXPECT_THAT(planner.zonesOf(plan), ElementsAre("brakes"));
    EXPECT_THAT(planner.besides(plan), ElementsAre("b4"));
    EXPECT_THAT(planner.zonesOf(planner.worth({})), IsEmpty());
    EXPECT_THAT(planner.besides(planner.worth({})), IsEmpty());
}

TEST(DrillWords, SayWhatToDoAndEveryCaution) {
    Rubric rubric = twoZones();
    rubric.zones[0].steps[0].show.clear();
    rubric.zones[0].steps[2].say.clear();
    const DrillPlanner planner(halves(rubric));
    EXPECT_EQ(inWords({0, 0, 0}, planner), "Front end: say \"Step a1\" (0.3 min)");
    EXPECT_EQ(inWords({1, 0, 0}, planner),
              "Front end: show and say \"Step a2\" (0.3 min). Caution: Hood propped.");
    EXPECT_EQ(inWords({2, 0, 0}, planner), "Front end: show \"Step a3\" (0.3 min)");
    EXPECT_EQ(inWords({4, 0, 0}, planner),
              "Brakes: keeping their order, show and say \"Step b1\", \"Step b2\", \"Step b3\" (0.9 min). "
              "Caution: Chock the wheels. Only the chocks hold the bus.");
}

TEST(DrillWords, GatherAPlanByZones) {
    const DrillPlanner planner(halves(twoZones()));
    const DrillPlan plan = planner.worth({0, 1, 2, 3, 4, 5});
    const auto lines = linesOf(plan, planner);
    ASSERT_EQ(lines.size(), 2U);
    EXPECT_EQ(lines[0].title, "Front end");
    EXPECT_EQ(lines[0].text, "all of it, shown and said aloud");
    EXPECT_EQ(lines[0].caution, "Hood propped.");
    EXPECT_EQ(
        lines[1].text,
        "keeping their order, show and say \"Step b1\", \"Step b2\", \"Step b3\"; show and say \"Step b4\"");
    EXPECT_THAT(lines[1].caution, HasSubstr("Chock the wheels."));
    EXPECT_NEAR(lines[0].minutes + lines[1].minutes, plan.minutes, 1e-12);
}

TEST(DrillJson, CarriesTheWholePlan) {
    const DrillPlanner planner(halves(twoZones()));
    const DrillPlan plan = planner.worth({1, 4});
    const auto json = nlohmann::json::parse(toJson(plan, planner, "t-01", 20));
    EXPECT_EQ(json["format"], "markerlamp.drill/1");
    EXPECT_EQ(json["trainee"], "t-01");
    EXPECT_EQ(json["minutes_asked"], 20);
    EXPECT_NEAR(json["minutes"].get<double>(), 6.2, 1e-9);
    EXPECT_DOUBLE_EQ(json["before"], plan.before);
    EXPECT_DOUBLE_EQ(json["after"], plan.after);
    ASSERT_EQ(json["parts"].size(), 2U);
    EXPECT_EQ(json["parts"][0]["block"], "a2");
    EXPECT_EQ(json["parts"][0]["caution"], "Hood propped.");
    EXPECT_EQ(json["parts"][1]["steps"], nlohmann::json({"b1", "b2", "b3"}));
    EXPECT_DOUBLE_EQ(json["parts"][1]["gain"], plan.parts[1].gain);
    EXPECT_EQ(json["zones"], nlohmann::json({"front", "brakes"}));
    EXPECT_EQ(json["besides"], nlohmann::json({"a1", "a3", "a4", "b4", "b5"}));
}

/// A bus's whole rubric with invented chances that differ from draw to draw.
TestDraws bus(int draws) {
    const auto rubric =
        readRubricFile(MARKERLAMP_SOURCE_DIR "/sample-data/rubrics/air-brake-school-bus.rubric.yaml");
    EXPECT_TRUE(rubric);
    std::mt19937 random(17);
    std::normal_distribution<double> normal;
    std::map<std::string, double> easiness, gain;
    for (const Zone& zone : rubric->zones)
        for (const Step& step : zone.steps) {
            easiness[step.id] = 1.5 + normal(random);
            gain[step.id] = 0.15 + 0.1 * std::abs(normal(random));
        }
    std::vector<double> ability;
    for (int d = 0; d < draws; ++d) ability.push_back(0.4 * normal(random));
    const auto now = [&](const Step& step, int d) {
        return 1 / (1 + std::exp(-easiness[step.id] - ability[std::size_t(d)]));
    };
    const auto then = [&](const Step& step, int d) {
        return 1 / (1 + std::exp(-easiness[step.id] - gain[step.id] - ability[std::size_t(d)]));
    };
    return testing::drawsOf(*rubric, draws, now, then, 0.3);
}

TEST(DrilledChances, AgreeWithTheForecastAndAmongThemselves) {
    const TestDraws draws = bus(12);
    const DrilledChances chances(draws, 12, 5);
    const std::size_t steps = draws.steps.size();
    std::vector<char> drilled(steps, 0);
    EXPECT_NEAR(mean(chances.perDraw(drilled)), mean(passChances(draws)), 2e-3);
    for (std::size_t s = 0; s < steps; s += 3) drilled[s] = 1;
    std::vector<std::vector<int>> blocks;
    for (int s = 0; s < int(steps); ++s) blocks.push_back({s});
    const std::vector<double> toggled = chances.toggledPerDraw(drilled, blocks);
    for (const std::size_t s : {0U, 1U, 60U, 100U}) {
        std::vector<char> other = drilled;
        other[s] = other[s] ? 0 : 1;
        const std::vector<double> exact = chances.perDraw(other);
        for (std::size_t d = 0; d < 12; ++d) EXPECT_NEAR(toggled[s * 12 + d], exact[d], 1e-12);
    }
}

// Weakest first is what a list sorted by chance invites to.
TEST(DrillPlanner, BeatsWeakestFirstOnAWholeBus) {
    const TestDraws draws = bus(30);
    const DrillPlanner planner(draws);
    const double minutes = 20;
    const DrillPlan plan = planner.plan(minutes);
    EXPECT_LE(plan.minutes, minutes + 1e-9);
    std::vector<int> order(planner.blocks().size());
    std::iota(order.begin(), order.end(), 0);
    std::ranges::stable_sort(order, {}, [&](int block) {
        double weakest = 1e9;
        for (const int step : planner.blocks()[std::size_t(block)].steps)
            weakest = std::min(weakest, draws.logit[std::size_t(step)]);
        return weakest;
    });
    std::vector<int> set;
    for (const int block : order) {
        set.push_back(block);
        if (planner.minutesOf(set) > minutes + 1e-9) set.pop_back();
    }
    const DrillPlan weakest = planner.worth(set);
    RecordProperty("gain", std::to_string(plan.after - plan.before));
    RecordProperty("weakest_first_gain", std::to_string(weakest.after - weakest.before));
    EXPECT_GT(plan.after - plan.before, 1.3 * (weakest.after - weakest.before));
    for (const DrillPart& part : plan.parts) EXPECT_GT(part.gain, 0);
}

TEST(DrillPlanner, MakesTheSamePlanAgain) {
    const TestDraws draws = bus(20);
    const DrillPlan one = DrillPlanner(draws).plan(15), two = DrillPlanner(draws).plan(15);
    ASSERT_EQ(one.parts.size(), two.parts.size());
    for (std::size_t i = 0; i < one.parts.size(); ++i) EXPECT_EQ(one.parts[i].block, two.parts[i].block);
    EXPECT_EQ(one.after, two.after);
}

}  // namespace
}  // namespace markerlamp::core
