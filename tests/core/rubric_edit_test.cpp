// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Changing a rubric that is being written: ids that stay, what moving and retiring take along, what is wrong
// with it, the circle that order rules make, and that no draft is lost on its way through a document.

#include "core/rubric/rubric_edit.h"

#include "../support/sample_attempt.h"
#include "core/base/text.h"
#include "core/rubric/draft_reading.h"
#include "core/rubric/rubric_reader.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck.h>

namespace markerlamp::core {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

/// Three zones of two steps, with a rule and a section over them.
Rubric small() {
    const auto rubric = readRubric(R"(format: markerlamp.rubric/1
id: small
edition: 1
title: Small
equipment: {lift: Lift}
pass: {percent: 80}
limits: {leak: {high: 3, unit: psi, source: invented}}
zones:
  - {id: x, title: X, steps: [{id: a, title: A, show: s, say: [{id: p, text: P}, {id: q, text: Q}]}, {id: b, title: B, show: s}]}
  - {id: y, title: Y, steps: [{id: c, title: C, show: s, reading: {quantity: loss, limit: leak}}, {id: d, title: D, show: s, when: [lift]}]}
  - {id: z, title: Z, steps: [{id: e, title: E, show: s}, {id: f, title: F, show: s}]}
order:
  - {id: walk, chain: [a, c, e]}
  - {id: zones, first: ["zone:y"], then: ["zone:z"]}
  - {id: pair, first: [b], then: [d]}
sections:
  - {id: one, title: One, zones: [x, y], share: 0.5}
  - {id: two, title: Two, zones: [y]}
)");
    EXPECT_TRUE(rubric);
    return *rubric;
}

std::vector<std::string> stepsOf(const Rubric& rubric, std::string_view zone) {
    std::vector<std::string> ids;
    for (const Step& step : rubric.zone(zone)->steps) ids.push_back(step.id);
    return ids;
}

const OrderRule* ruleOf(const Rubric& rubric, std::string_view id) {
    const auto found = std::ranges::find(rubric.order, id, &OrderRule::id);
    return found == rubric.order.end() ? nullptr : &*found;
}

TEST(RubricEdit, IdsComeFromTitlesAndAreNeverGivenTwice) {
    EXPECT_EQ(freshId("Slack adjuster, left", {}, "step"), "slack-adjuster-left");
    EXPECT_EQ(freshId("  (ABS) lamp!  ", {}, "step"), "abs-lamp");
    EXPECT_EQ(freshId("Horn", {"horn", "horn-2"}, "step"), "horn-3");
    EXPECT_EQ(freshId("\xC3\xA9\xC3\xA9", {}, "step"), "step");
    EXPECT_EQ(freshId("", {"step"}, "step"), "step-2");
    const std::string longOne = freshId(std::string(100, 'a') + " b", {}, "step");
    EXPECT_LE(longOne.size(), 40u);
    EXPECT_TRUE(isKebabCase(longOne));

    Rubric rubric = small();
    UsedIds used;
    used.note(rubric);
    retireStep(rubric, "a");
    EXPECT_EQ(addStep(rubric, used, "x", "A", 99), "a-2") << "attempts of the old edition name a";
    EXPECT_EQ(addStep(rubric, used, "y", "A", 0), "a-3");
    EXPECT_THAT(stepsOf(rubric, "x"), ElementsAre("b", "a-2"));
    EXPECT_THAT(stepsOf(rubric, "y"), ElementsAre("a-3", "c", "d"));
    EXPECT_EQ(addStep(rubric, used, "nowhere", "A", 0), "");
    EXPECT_EQ(addZone(rubric, used, "X", 0), "x-2");
    EXPECT_EQ(rubric.zones.front().id, "x-2");
    EXPECT_EQ(addPoint(rubric, used, "b", "It is tight", 0), "it-is-tight");
    EXPECT_EQ(addPoint(rubric, used, "b", "it is tight", 0), "it-is-tight-2");
}

TEST(RubricEdit, AStepThatAskedForAllPointsGoesOnToAskForAll) {
    Rubric rubric = small();
    addPoint(rubric, {}, "a", "More", 1);
    EXPECT_EQ(rubric.step("a")->sayNeeded, 3);
    EXPECT_EQ(rubric.step("a")->say[1].id, "more");
    findStep(rubric, "a")->sayNeeded = 2;
    addPoint(rubric, {}, "a", "Even more", 9);
    EXPECT_EQ(rubric.step("a")->sayNeeded, 2);
    EXPECT_TRUE(retirePoint(rubric, "a", "p"));
    EXPECT_TRUE(retirePoint(rubric, "a", "q"));
    EXPECT_EQ(rubric.step("a")->sayNeeded, 2);
    EXPECT_TRUE(retirePoint(rubric, "a", "more"));
    EXPECT_EQ(rubric.step("a")->sayNeeded, 1);
    EXPECT_FALSE(retirePoint(rubric, "a", "more"));
}

TEST(RubricEdit, StepsMoveOverTheEndsOfTheirZones) {
    Rubric rubric = small();
    EXPECT_TRUE(moveStep(rubric, "a", 1));
    EXPECT_THAT(stepsOf(rubric, "x"), ElementsAre("b", "a"));
    EXPECT_TRUE(moveStep(rubric, "a", 1));
    EXPECT_THAT(stepsOf(rubric, "x"), ElementsAre("b"));
    EXPECT_THAT(stepsOf(rubric, "y"), ElementsAre("a", "c", "d"));
    EXPECT_TRUE(moveStep(rubric, "a", -1));
    EXPECT_THAT(stepsOf(rubric, "x"), ElementsAre("b", "a"));
    EXPECT_FALSE(moveStep(rubric, "b", -1)) << "it is the first of all";
    EXPECT_FALSE(moveStep(rubric, "f", 1));
    EXPECT_TRUE(moveStepTo(rubric, "f", "x", 1));
    EXPECT_THAT(stepsOf(rubric, "x"), ElementsAre("b", "f", "a"));
    EXPECT_FALSE(moveStepTo(rubric, "f", "x", 1)) << "there it stands";
    EXPECT_TRUE(moveZone(rubric, "z", -2));
    EXPECT_EQ(rubric.zones.front().id, "z");
    EXPECT_FALSE(moveZone(rubric, "z", -1));
    EXPECT_TRUE(movePoint(rubric, "a", "q", -1));
    EXPECT_EQ(rubric.step("a")->say.front().id, "q");
}

TEST(RubricEdit, RetiringTakesTheNameOutOfRulesAndSections) {
    Rubric rubric = small();
    Retired retired = retireStep(rubric, "c");
    EXPECT_THAT(retired.rulesChanged, ElementsAre("walk"));
    EXPECT_THAT(ruleOf(rubric, "walk")->chain, ElementsAre("a", "e")) << "a still comes before e";
    retired = retireStep(rubric, "b");
    EXPECT_THAT(retired.rulesDropped, ElementsAre("pair"));
    retired = retireZone(rubric, "y");
    EXPECT_THAT(retired.steps, ElementsAre("d"));
    EXPECT_THAT(retired.rulesDropped, ElementsAre("zones"));
    EXPECT_THAT(retired.sectionsChanged, ElementsAre("one"));
    EXPECT_THAT(retired.sectionsDropped, ElementsAre("two"));
    EXPECT_TRUE(checkDraft(rubric).problems.empty());
    EXPECT_EQ(retireStep(rubric, "c"), Retired());
}

TEST(RubricEdit, SaysWhereALimitAndATagAreUsed) {
    const Rubric rubric = small();
    EXPECT_THAT(usersOfLimit(rubric, "leak"), ElementsAre("c"));
    EXPECT_THAT(usersOfLimit(rubric, "none"), IsEmpty());
    EXPECT_THAT(usersOfTag(rubric, "lift"), ElementsAre("d"));
}

TEST(RubricEdit, ProblemsLeadToTheThingTheyName) {
    Rubric rubric = small();
    findStep(rubric, "b")->show.clear();
    findStep(rubric, "a")->say[1].text.clear();
    rubric.limits[0].source.clear();
    rubric.order[2].then.clear();
    rubric.sections[1].share = 2;
    const DraftCheck check = checkDraft(rubric);
    std::vector<DraftPlace> places;
    for (const Problem& problem : check.problems) places.push_back(placeOfProblem(rubric, problem));
    EXPECT_THAT(places, ::testing::IsSupersetOf<DraftPlace>({{"x", "b", "", "", "", ""},
                                                             {"x", "a", "q", "", "", ""},
                                                             {"", "", "", "leak", "", ""},
                                                             {"", "", "", "", "pair", ""},
                                                             {"", "", "", "", "", "two"}}));
    for (const char* path :
         {"", "pass.percent", "zones", "zones[9].title", "zones[x]", "zones[1", "order[7]"})
        EXPECT_EQ(placeOfProblem(rubric, {{}, 0, path, {}, {}, {}}), DraftPlace()) << path;
}

TEST(RubricEdit, TheCircleIsTheShortestOneWithItsRules) {
    Rubric rubric = small();
    EXPECT_THAT(orderCircle(rubric).steps, IsEmpty());
    // walk says a, c, e; the long way round goes over b and d.
    rubric.order.push_back({"back", {}, {"e"}, {"a"}, false, false, ""});
    rubric.order.push_back({"long", {"c", "b", "d", "f", "e"}, {}, {}, false, false, ""});
    const OrderCircle circle = orderCircle(rubric);
    ASSERT_EQ(circle.steps.size(), 4u);
    EXPECT_EQ(circle.steps.front(), circle.steps.back());
    EXPECT_THAT(circle.rules, ::testing::UnorderedElementsAre("walk", "walk", "back"));
    const DraftCheck check = checkDraft(rubric);
    ASSERT_EQ(check.problems.size(), 1u);
    EXPECT_THAT(check.problems[0].message, HasSubstr("go in a circle"));

    // Shown also while something else is wrong, of which the reader would speak first.
    rubric.title.clear();
    EXPECT_EQ(orderCircle(rubric), circle);
    const DraftCheck both = checkDraft(rubric);
    EXPECT_EQ(both.circle, circle);
    ASSERT_EQ(both.problems.size(), 2u);
    EXPECT_EQ(both.problems[1].path, "order");

    Rubric itself = small();
    itself.order.push_back({"itself", {}, {"e"}, {"zone:z"}, false, false, ""});
    EXPECT_EQ(orderCircle(itself), (OrderCircle{{"e", "e"}, {"itself"}}));
    // A name that is not known (yet) does not hide what stands beside it.
    Rubric unknown = small();
    unknown.order.push_back({"hole", {"e", "gone", "a"}, {}, {}, false, false, ""});
    EXPECT_EQ(orderCircle(unknown).steps.size(), 4u);
}

// Rules between random pairs: a circle is found exactly where repeated removal of steps that nothing comes
// before (Kahn 1962) does not take all steps away.
TEST(RubricEdit, ACircleIsFoundExactlyWhereThereIsOne) {
    EXPECT_TRUE(rc::check([] {
        const int steps = *rc::gen::inRange(2, 9);
        Rubric rubric;
        rubric.zones.push_back({"z", "Z", {}});
        for (int i = 0; i < steps; ++i) {
            Step step;
            step.id = std::to_string(i);
            rubric.zones[0].steps.push_back(step);
        }
        const auto pairs = *rc::gen::container<std::vector<std::pair<int, int>>>(
            rc::gen::pair(rc::gen::inRange(0, steps), rc::gen::inRange(0, steps)));
        std::set<std::pair<int, int>> left;
        for (const auto& [a, b] : pairs) {
            if (a == b) continue;
            left.insert({a, b});
            rubric.order.push_back({"r" + std::to_string(a) + "-" + std::to_string(b),
                                    {std::to_string(a), std::to_string(b)},
                                    {},
                                    {},
                                    false,
                                    false,
                                    ""});
        }
        const std::set<std::pair<int, int>> all = left;
        for (bool again = true; again;) {
            again = false;
            for (int i = 0; i < steps; ++i) {
                const bool held = std::ranges::any_of(left, [i](auto pair) { return pair.second == i; });
                again =
                    (!held && std::erase_if(left, [i](auto pair) { return pair.first == i; }) > 0) || again;
            }
        }
        const OrderCircle circle = orderCircle(rubric);
        RC_ASSERT(circle.steps.empty() == left.empty());
        for (std::size_t i = 0; i + 1 < circle.steps.size(); ++i) {
            RC_ASSERT(all.contains({std::stoi(circle.steps[i]), std::stoi(circle.steps[i + 1])}));
            RC_ASSERT(circle.rules[i] == "r" + circle.steps[i] + "-" + circle.steps[i + 1]);
        }
    }));
}

/// One change out of many, on a random thing; some leave the draft unfinished.
void changeSomething(Rubric& rubric, const UsedIds& used) {
    const auto word = [] {
        return *rc::gen::element<std::string>("Horn", "Tail lamps", "yes", "80", "a: \"b\" #c", "\xC3\xA9tat",
                                              "two\nlines", "");
    };
    std::vector<std::string> steps;
    for (const Zone& zone : rubric.zones)
        for (const Step& step : zone.steps) steps.push_back(step.id);
    const std::string step = steps.empty() ? "" : *rc::gen::elementOf(steps);
    const std::string zone =
        rubric.zones.empty() ? "" : rubric.zones[*rc::gen::inRange<std::size_t>(0, rubric.zones.size())].id;
    Step* one = findStep(rubric, step);
    const std::size_t at = *rc::gen::inRange<std::size_t>(0, 4);
    const int by = *rc::gen::element(-2, -1, 1, 2);
    switch (*rc::gen::inRange(0, 17)) {
        case 0:
            addZone(rubric, used, word(), at);
            break;
        case 1:
            addStep(rubric, used, zone, word(), at);
            break;
        case 2:
            addPoint(rubric, used, step, word(), at);
            break;
        case 3:
            moveZone(rubric, zone, by);
            break;
        case 4:
            moveStep(rubric, step, by);
            break;
        case 5:
            moveStepTo(rubric, step, zone, at);
            break;
        case 6:
            retireStep(rubric, step);
            break;
        case 7:
            retireZone(rubric, zone);
            break;
        case 8:
            if (one != nullptr && !one->say.empty()) retirePoint(rubric, step, one->say.front().id);
            break;
        case 9:
            if (!steps.empty()) addRule(rubric, used, {step}, {*rc::gen::elementOf(steps)});
            break;
        case 10:
            if (!steps.empty()) addRule(rubric, used, {step, "zone:" + zone}, {*rc::gen::elementOf(steps)});
            break;
        case 11:
            rubric.title = word();
            break;
        case 12:
            rubric.pass = {*rc::gen::element(0.0, 80.0, 66.6), {}, *rc::gen::arbitrary<bool>()};
            break;
        case 13:
            rubric.limits.push_back({freshId(
                                         word(),
                                         [&] {
                                             UsedIds all = used;
                                             all.note(rubric);
                                             return all.limits;
                                         }(),
                                         "limit"),
                                     {},
                                     *rc::gen::element(1.5, -2.0, 0.1),
                                     word(),
                                     at == 1,
                                     word()});
            break;
        case 14:
            if (one != nullptr) {
                one->show = word();
                one->caution = word();
                one->weight = static_cast<int>(at) + 1;
                one->mustPass = at == 2;
            }
            break;
        case 15:
            if (one != nullptr) one->reading = ReadingRule{word(), "leak", {}, {}, "", false, "", true, 0.5};
            break;
        default:
            if (one != nullptr && !one->say.empty()) {
                one->say.front().like = {"also", "thus"};
                one->say.front().number = PointNumber{"", 1.0, 2.0, "psi", 0.25};
            }
    }
}

TEST(RubricEdit, NoDraftIsLostOnItsWayThroughADocument) {
    int sound = 0, unfinished = 0;
    EXPECT_TRUE(rc::check([&] {
        Rubric draft = small();
        UsedIds used;
        used.note(draft);
        const int changes = *rc::gen::inRange(1, 25);
        for (int i = 0; i < changes; ++i) changeSomething(draft, used);
        const std::string text = writeRubric(draft);
        const RubricReading reading = readRubricAsFarAsItGoes(text);
        RC_ASSERT(reading.rubric == draft);
        const auto strict = readRubric(text);
        RC_ASSERT(strict.has_value() == reading.problems.empty());
        if (strict) RC_ASSERT(*strict == draft);
        (strict ? sound : unfinished) += 1;
        std::set<std::string> ids;
        for (const Zone& zone : draft.zones)
            for (const Step& step : zone.steps) {
                RC_ASSERT(ids.insert(step.id).second);
                RC_ASSERT(isKebabCase(step.id));
            }
    }));
    EXPECT_GT(sound, 5);
    EXPECT_GT(unfinished, 5);
}

}  // namespace
}  // namespace markerlamp::core
