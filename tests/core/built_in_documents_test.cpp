// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The rubrics and limit sets that travel inside the program: sound, fit for the screens, sourced, cautious.

#include "../support/sample_attempt.h"
#include "core/attempt/attempt_document.h"
#include "core/rubric/rubric_reader.h"
#include "core/scoring/scorecard.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <map>
#include <set>

namespace markerlamp::core {

namespace {

using markerlamp::testing::builtInLimits;
using markerlamp::testing::builtInRubric;
using markerlamp::testing::equipmentWithout;
using markerlamp::testing::wholeAttempt;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::IsSupersetOf;
using ::testing::UnorderedElementsAre;

const std::vector<std::string> kRubrics{"air-brake-school-bus", "hydraulic-brake-school-bus"};
const std::vector<std::string> kLimitSets{"california-2012",    "common-practice", "federal-in-use",
                                          "federal-in-use-air", "model-manual",    "modernised-test"};

std::vector<const Step*> allSteps(const Rubric& rubric) {
    std::vector<const Step*> steps;
    for (const Zone& zone : rubric.zones)
        for (const Step& step : zone.steps) steps.push_back(&step);
    return steps;
}

std::string problemsOf(const Error& error) {
    std::string text = error.message;
    for (const Problem& problem : error.problems) text += "\n" + toText(problem);
    return text;
}

/// A bus has its engine in one place, and full air brakes or air over oil, not both.
std::vector<std::vector<std::string>> buses(const Rubric& rubric) {
    if (rubric.id == "hydraulic-brake-school-bus")
        return {equipmentWithout(rubric, {"rear-engine"}), equipmentWithout(rubric, {"front-engine"})};
    return {equipmentWithout(rubric, {"rear-engine", "hydraulic-brakes"}),
            equipmentWithout(rubric, {"front-engine", "hydraulic-brakes"}),
            equipmentWithout(rubric, {"rear-engine"})};
}

class EachRubric : public ::testing::TestWithParam<std::string> {
protected:
    const Rubric rubric = builtInRubric(GetParam());
};
INSTANTIATE_TEST_SUITE_P(BuiltIn, EachRubric, ::testing::ValuesIn(kRubrics),
                         [](const auto& rubric) { return rubric.param.substr(0, rubric.param.find('-')); });

}  // namespace

TEST(BuiltInDocuments, AreTheOnesThatAreNamedHere) {
    std::vector<std::string> expected, names;
    for (const std::string& id : kRubrics) expected.push_back(id + ".rubric.yaml");
    for (const std::string& id : kLimitSets) expected.push_back(id + ".limits.yaml");
    for (const demo::BuiltInDocument& document : demo::builtInDocuments()) names.push_back(document.name);
    EXPECT_THAT(names, ::testing::UnorderedElementsAreArray(expected));
}

TEST(BuiltInDocuments, AllReadWithoutAProblemOrAWarning) {
    for (const demo::BuiltInDocument& document : demo::builtInDocuments()) {
        if (document.name.ends_with(".rubric.yaml")) {
            const auto rubric = readRubric(document.text, document.name);
            ASSERT_TRUE(rubric) << problemsOf(rubric.error());
            EXPECT_EQ(rubric->id + ".rubric.yaml", document.name);
            EXPECT_THAT(rubricWarnings(*rubric), IsEmpty());
        } else {
            const auto set = readLimitSet(document.text, document.name);
            ASSERT_TRUE(set) << problemsOf(set.error());
            EXPECT_EQ(set->id + ".limits.yaml", document.name);
        }
    }
}

TEST(BuiltInDocuments, EverySetMakesANewEditionOfTheAirBrakeRubric) {
    const Rubric air = builtInRubric("air-brake-school-bus");
    for (const std::string& id : kLimitSets) {
        const LimitSet set = builtInLimits(id);
        const auto edition = withLimits(air, set, 2);
        ASSERT_TRUE(edition) << problemsOf(edition.error());
        EXPECT_EQ(edition->edition, 2);
        EXPECT_EQ(edition->limits.size(), air.limits.size()) << id;
        for (const Limit& limit : set.limits) EXPECT_EQ(*edition->limit(limit.id), limit) << id;
        EXPECT_EQ(edition->zones, air.zones) << "points and readings follow by name";
    }
}

TEST(BuiltInDocuments, OnlyTheSetForBothKindsOfBrakesFitsTheHydraulicRubric) {
    const Rubric hydraulic = builtInRubric("hydraulic-brake-school-bus");
    for (const std::string& id : kLimitSets) {
        const auto edition = withLimits(hydraulic, builtInLimits(id), 2);
        EXPECT_EQ(edition.has_value(), id == "federal-in-use") << id;
    }
}

TEST(BuiltInDocuments, EveryAboutSendsTheProgramToItsOwnManual) {
    for (const std::string& id : kLimitSets) {
        EXPECT_THAT(builtInLimits(id).about, HasSubstr("very program checks its own state's")) << id;
    }
    for (const std::string& id : kRubrics) {
        const std::string about = builtInRubric(id).about;
        EXPECT_THAT(about, HasSubstr("Every program checks its own state's current manual")) << id;
        EXPECT_THAT(about, HasSubstr("the official test decides")) << id;
    }
}

TEST_P(EachRubric, HasTwelveZonesOfAtMostTwelveSteps) {
    EXPECT_EQ(rubric.zones.size(), 12u);
    for (const Zone& zone : rubric.zones) EXPECT_LE(zone.steps.size(), 12u) << zone.id;
    const std::size_t steps = allSteps(rubric).size();
    EXPECT_GE(steps, 115u);
    EXPECT_LE(steps, 135u);
}

TEST_P(EachRubric, HasTitlesThatFitPlanTilesAndPads) {
    for (const Zone& zone : rubric.zones) {
        std::size_t words = 1, letters = 0;
        for (const char c : zone.title) {
            if (c == ' ') {
                ++words;
                letters = 0;
            } else if (c != ',') {
                EXPECT_LE(++letters, 8u) << zone.title;
            }
        }
        EXPECT_LE(words, 2u) << zone.title;
    }
    for (const Step* step : allSteps(rubric)) {
        EXPECT_LE(step->title.size(), 26u) << step->title;
        EXPECT_LE(step->say.size(), 5u) << step->id;
        for (const Point& point : step->say) EXPECT_LE(point.text.size(), 34u) << point.text;
    }
}

TEST_P(EachRubric, SaysEachPointOfAStepOnlyOnce) {
    for (const Step* step : allSteps(rubric)) {
        std::set<std::string> words;
        for (const Point& point : step->say) {
            EXPECT_TRUE(words.insert(point.text).second) << step->id << ": " << point.text;
            for (const std::string& like : point.like)
                EXPECT_TRUE(words.insert(like).second) << step->id << ": " << like;
        }
    }
}

TEST_P(EachRubric, NamesASourceForEveryLimitAndEveryStep) {
    for (const Limit& limit : rubric.limits) EXPECT_FALSE(limit.source.empty()) << limit.id;
    for (const Step* step : allSteps(rubric)) EXPECT_FALSE(step->source.empty()) << step->id;
}

TEST_P(EachRubric, UsesEveryLimitAndEveryEquipmentTag) {
    std::set<std::string> limits, tags;
    for (const Step* step : allSteps(rubric)) {
        if (step->reading) limits.insert(step->reading->limit);
        for (const Point& point : step->say)
            if (point.number) limits.insert(point.number->limit);
        for (const std::string& tag : step->when) tags.insert(tag.substr(tag.starts_with('!') ? 1 : 0));
    }
    for (const Limit& limit : rubric.limits) EXPECT_TRUE(limits.contains(limit.id)) << limit.id;
    for (const auto& [tag, title] : rubric.equipment) EXPECT_TRUE(tags.contains(tag)) << tag;
}

TEST_P(EachRubric, LeavesEveryReadingToTheInstructor) {
    for (const Step* step : allSteps(rubric))
        if (step->reading) {
            EXPECT_FALSE(step->reading->required) << step->id;
        }
}

// inspection-steps of a published test text (Georgia section 11M.1.2): four parts, any one failed fails all.
// The chocks are the program's own: common practice, no published source for failing the test by them.
TEST(BuiltInRubrics, FailOnTheFourAirBrakePartsAndOnMissingChocks) {
    std::vector<std::string> must;
    const Rubric air = builtInRubric("air-brake-school-bus");
    for (const Step* step : allSteps(air))
        if (step->mustPass) must.push_back(step->id);
    EXPECT_THAT(must, UnorderedElementsAre("level-chocks", "cut-out", "applied-leak", "low-warning",
                                           "spring-brakes"));

    must.clear();
    const Rubric hydraulic = builtInRubric("hydraulic-brake-school-bus");
    for (const Step* step : allSteps(hydraulic))
        if (step->mustPass) must.push_back(step->id);
    EXPECT_THAT(must, UnorderedElementsAre("level-chocks", "pump-hold"));
}

TEST(BuiltInRubrics, KeepTheAirBrakeChainStrict) {
    const Rubric air = builtInRubric("air-brake-school-bus");
    std::vector<std::string> failing;
    for (const OrderRule& rule : air.order) {
        EXPECT_FALSE(rule.why.empty()) << rule.id;
        if (rule.strict && rule.mustPass) failing.push_back(rule.id);
    }
    EXPECT_THAT(failing, UnorderedElementsAre("chocks-before-release", "air-chain"));
    const auto advice = std::ranges::find(air.order, "in-cab-advice", &OrderRule::id);
    ASSERT_NE(advice, air.order.end());
    EXPECT_FALSE(advice->strict);
}

TEST(BuiltInRubrics, CautionWhereWorkCanHurt) {
    const std::map<std::string, std::vector<std::string>> dangerous{
        {"air-brake-school-bus",
         {"secured",      "hood",          "engine-door",   "coolant-level",   "belts",
          "engine-close", "front-chamber", "battery",       "frame",           "exhaust",
          "air-tanks",    "rear-chamber",  "backup",        "entry-door",      "safe-start",
          "lamps-front",  "lamps-rear",    "stop-arm",      "stop-arm-second", "crossing-arm",
          "lift",         "level-chocks",  "brake-release", "static-leak",     "applied-leak",
          "build-up",     "park-tug",      "service-roll",  "brake-set-after", "gauge-coolant",
          "rear-door",    "side-door"}},
        {"hydraulic-brake-school-bus",
         {"secured",     "hood",         "engine-door",     "coolant-level", "belts",      "engine-close",
          "battery",     "frame",        "exhaust",         "backup",        "entry-door", "safe-start",
          "lamps-front", "lamps-rear",   "stop-arm",        "crossing-arm",  "lift",       "level-chocks",
          "park-tug",    "service-roll", "brake-set-after", "gauge-coolant", "rear-door"}}};
    for (const auto& [id, steps] : dangerous) {
        const Rubric rubric = builtInRubric(id);
        for (const std::string& step : steps) {
            ASSERT_TRUE(rubric.step(step)) << step;
            EXPECT_FALSE(rubric.step(step)->caution.empty()) << id << ": " << step;
        }
    }
    const Rubric air = builtInRubric("air-brake-school-bus");
    EXPECT_THAT(air.step("level-chocks")->caution, HasSubstr("nobody in front of or behind"));
    EXPECT_THAT(air.step("coolant-level")->caution, HasSubstr("Hot coolant"));
    EXPECT_THAT(air.step("hood")->caution, HasSubstr("Engine off"));
}

TEST_P(EachRubric, PassesAnAttemptThatDoesEverythingInItsOrder) {
    for (const auto& equipment : buses(rubric)) {
        const Attempt attempt = wholeAttempt(rubric, equipment);
        EXPECT_THAT(checkAgainstRubric(attempt, rubric), IsEmpty());
        const Scorecard card = score(rubric, attempt);
        EXPECT_EQ(card.result, AttemptResult::Pass);
        EXPECT_DOUBLE_EQ(card.percent, 100);
        EXPECT_DOUBLE_EQ(card.orderPercent, 100);
        EXPECT_THAT(card.brokenRules, IsEmpty());
    }
}

// 89 FR 95348: a state may let school-bus applicants skip the engine compartment until 28 November 2026.
TEST_P(EachRubric, WorksWithoutTheEngineCompartment) {
    const Section* section = rubric.section("no-engine");
    ASSERT_TRUE(section);
    EXPECT_EQ(section->zones.size(), rubric.zones.size() - 1);
    EXPECT_THAT(section->zones, ::testing::Not(::testing::Contains("engine")));
    for (const auto& equipment : buses(rubric)) {
        const Attempt attempt = wholeAttempt(rubric, equipment, section->zones);
        EXPECT_THAT(checkAgainstRubric(attempt, rubric), IsEmpty());
        const Scorecard card = score(rubric, attempt);
        EXPECT_EQ(card.result, AttemptResult::Pass);
        EXPECT_DOUBLE_EQ(card.orderPercent, 100);
        for (const StepScore& step : card.steps) EXPECT_NE(step.zone, "engine");
    }
}

TEST_P(EachRubric, NeedsOnlyTheEnginesOwnRulesAndSectionsChangedWhenItIsTakenOut) {
    Rubric without = rubric;
    const Zone engine = *rubric.zone("engine");
    std::erase_if(without.zones, [](const Zone& zone) { return zone.id == "engine"; });
    const auto isEngines = [&](const std::string& step) {
        return std::ranges::find(engine.steps, step, &Step::id) != engine.steps.end();
    };
    std::erase_if(without.order, [&](OrderRule& rule) {
        for (auto* list : {&rule.chain, &rule.first, &rule.then}) std::erase_if(*list, isEngines);
        return rule.chain.size() < 2 && (rule.first.empty() || rule.then.empty());
    });
    for (Section& section : without.sections) std::erase(section.zones, "engine");
    std::set<std::string> kept;
    for (const OrderRule& rule : without.order) kept.insert(rule.id);
    for (const OrderRule& rule : rubric.order)
        if (!kept.contains(rule.id)) {
            EXPECT_THAT(rule.id, HasSubstr("hood"));
        }
    // Tags and limits that only the engine used go with it.
    std::set<std::string> tags, limits;
    for (const Step* step : allSteps(without)) {
        for (const std::string& tag : step->when) tags.insert(tag.substr(tag.starts_with('!') ? 1 : 0));
        if (step->reading) limits.insert(step->reading->limit);
        for (const Point& point : step->say)
            if (point.number) limits.insert(point.number->limit);
    }
    std::erase_if(without.equipment, [&](const auto& tag) { return !tags.contains(tag.first); });
    std::erase_if(without.limits, [&](const Limit& limit) { return !limits.contains(limit.id); });
    const auto again = readRubric(writeRubric(without), "without engine");
    ASSERT_TRUE(again) << problemsOf(again.error());
    EXPECT_EQ(*again, without);
}

TEST_P(EachRubric, DrawsSectionsThatAlwaysHoldTheCabAndTheBrakes) {
    double shares = 0;
    const std::string brakes =
        rubric.id.starts_with("air") ? std::string("air-brakes") : std::string("hydraulic-brakes");
    for (const Section& section : rubric.sections) {
        shares += section.share;
        if (section.share > 0) {
            EXPECT_THAT(section.zones,
                        IsSupersetOf({std::string("start"), brakes, std::string("school-lamps")}));
        }
    }
    EXPECT_DOUBLE_EQ(shares, 1);
}

// 383.113(a)(1): engine compartment, cab and engine start, steering, suspension, brakes, wheels, side, rear,
// special features of a school bus. 383.113(a)(2) for air brakes. Georgia manual, page 109: school-bus items.
TEST(BuiltInRubrics, HoldWhatTheTestRulesName) {
    const Rubric air = builtInRubric("air-brake-school-bus");
    for (const char* id :
         {"engine-close", "safe-start", "steering-linkage", "steering-play", "front-springs", "rear-springs",
          "front-drum", "front-hose", "front-rim", "front-lugs", "front-tread", "left-lamps", "fuel-tank",
          "battery", "frame", "tail-lamps", "rear-turn-lamps",
          // school bus and passengers
          "amber-lamps", "red-lamps", "stop-arm", "stop-arm-second", "crossing-arm", "strobe", "kits", "lift",
          "entry-door", "entry-steps", "handrail", "step-lamp", "seats", "rear-door", "side-door",
          "exit-windows", "hatches", "overhead-mirror", "flat-mirrors", "convex-mirrors", "crossover-mirrors",
          // inside
          "extinguisher", "triangles", "fuses", "windshield-in", "wipers-in", "heater", "defroster", "horn",
          "ind-turns", "ind-four-way", "ind-high-beam", "abs-lamp", "seat-belt",
          // air brakes
          "gauge-air", "front-chamber", "rear-chamber", "low-warning", "cut-out", "build-up", "park-tug",
          "service-roll", "spring-brakes", "applied-leak"})
        EXPECT_TRUE(air.step(id)) << id;
    // 49 CFR 571.108: red alone on a four-lamp bus, amber before red on an eight-lamp bus.
    EXPECT_TRUE(air.step("red-lamps")->when.empty());
    EXPECT_EQ(air.step("amber-lamps")->when, std::vector<std::string>{"eight-lamp"});
}

}  // namespace markerlamp::core
