// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What is different between two editions, thing by thing.

#include "core/rubric/edition_difference.h"

#include "../support/sample_attempt.h"
#include "core/rubric/new_edition.h"
#include "core/rubric/rubric_edit.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace markerlamp::core {
namespace {

using What = EditionChange::What;
using Act = EditionChange::Act;
using testing::builtInLimits;
using testing::builtInRubric;
using ::testing::ElementsAre;
using ::testing::IsEmpty;

class Difference : public ::testing::Test {
protected:
    const Rubric m_before = builtInRubric("air-brake-school-bus");
    Rubric m_after = m_before;
    [[nodiscard]] std::vector<EditionChange> found() const { return editionDifference(m_before, m_after); }
    Step& step(const char* id) { return *findStep(m_after, id); }
};

TEST_F(Difference, OfTheSameIsNone) {
    m_after.edition = 7;
    EXPECT_THAT(found(), IsEmpty());
}

TEST_F(Difference, OfALimitSetIsItsLimits) {
    const LimitSet set = builtInLimits("modernised-test");
    m_after = *newEdition(m_before, set, 2);
    std::set<std::string> named, expected;
    for (const EditionChange& change : found()) {
        EXPECT_EQ(change.what, What::Limit);
        EXPECT_EQ(change.act, Act::Changed);
        named.insert(change.id);
    }
    for (const LimitChange& change : compareLimits(m_before, set).changes) expected.insert(change.before.id);
    EXPECT_EQ(named, expected);
}

TEST_F(Difference, NamesEveryFieldOfAStepWithBothValues) {
    Step& leak = step("applied-leak");
    const Step was = leak;
    leak.title = "Leak, pedal held";
    leak.weight = was.weight + 1;
    leak.mustPass = !was.mustPass;
    leak.minutes = 2;
    leak.caution += " Now.";
    std::vector<std::string> fields;
    for (const EditionChange& change : found()) {
        EXPECT_EQ(change.what, What::Step);
        EXPECT_EQ(change.id, "applied-leak");
        EXPECT_EQ(change.title, "Leak, pedal held");
        fields.push_back(change.field + ": " + change.before + " -> " + change.after);
    }
    EXPECT_THAT(fields,
                ElementsAre("title: " + was.title + " -> Leak, pedal held",
                            "weight: " + std::to_string(was.weight) + " -> " + std::to_string(was.weight + 1),
                            std::string("must_pass: ") + (was.mustPass ? "true -> false" : "false -> true"),
                            "minutes: 1.5 -> 2", "caution: " + was.caution + " -> " + leak.caution));
}

TEST_F(Difference, OneCarriedStepIsOneMove) {
    const std::string zone = m_before.zones[3].id;
    const std::string last = m_before.zones[3].steps.back().id;
    ASSERT_GT(m_before.zones[3].steps.size(), 4u);
    moveStepTo(m_after, last, zone, 0);
    auto changes = found();
    ASSERT_EQ(changes.size(), 1u);
    EXPECT_EQ(changes[0].act, Act::Moved);
    EXPECT_EQ(changes[0].id, last);
    EXPECT_TRUE(changes[0].field.empty());
    moveStepTo(m_after, last, m_before.zones[0].id, 0);
    changes = found();
    ASSERT_EQ(changes.size(), 1u);
    EXPECT_EQ(changes[0].field, "zone");
    EXPECT_EQ(changes[0].before, m_before.zones[3].title);
    EXPECT_EQ(changes[0].after, m_before.zones[0].title);
}

TEST_F(Difference, NamesWhatCameAndWent) {
    UsedIds used;
    used.note(m_before);
    const std::string zone = addZone(m_after, used, "School lamps anew", 99);
    const std::string added = addStep(m_after, used, zone, "Strobe", 0);
    retireStep(m_after, "applied-leak");
    addPoint(m_after, used, "horn", "heard from outside", 99);
    const std::string point = step("horn").say.front().id;
    retirePoint(m_after, "horn", point);
    const std::string rule = addRule(m_after, used, {"horn"}, {added});
    m_after.equipment.emplace_back("wings", "Wings");
    m_after.pass.percent = 85;
    std::vector<std::string> words;
    for (const EditionChange& change : found())
        words.push_back(std::to_string(static_cast<int>(change.what)) + "/" +
                        std::to_string(static_cast<int>(change.act)) + " " + change.id + change.field);
    const auto word = [](What what, Act act, const std::string& rest) {
        return std::to_string(static_cast<int>(what)) + "/" + std::to_string(static_cast<int>(act)) + " " +
               rest;
    };
    EXPECT_THAT(
        words,
        ::testing::IsSupersetOf(
            {word(What::Equipment, Act::Added, "wings"), word(What::Pass, Act::Changed, "passpercent"),
             word(What::Zone, Act::Added, zone), word(What::Step, Act::Added, added),
             word(What::Step, Act::Retired, "applied-leak"),
             word(What::Point, Act::Added, "heard-from-outside"), word(What::Point, Act::Retired, point),
             word(What::Rule, Act::Added, rule), word(What::Rule, Act::Changed, "air-chainorder")}));
}

TEST_F(Difference, ReadBackwardsAddedIsRetired) {
    retireStep(m_after, "horn");
    const auto there = found();
    const auto back = editionDifference(m_after, m_before);
    ASSERT_FALSE(there.empty());
    const auto horn = [](const EditionChange& change) { return change.id == "horn"; };
    EXPECT_EQ(std::ranges::find_if(there, horn)->act, Act::Retired);
    EXPECT_EQ(std::ranges::find_if(back, horn)->act, Act::Added);
    EXPECT_EQ(there.size(), back.size());
}

TEST_F(Difference, AskingForAllOfMorePointsIsSaidOnce) {
    addPoint(m_after, {}, "horn", "heard from outside", 99);
    const auto changes = found();
    ASSERT_EQ(changes.size(), 1u);
    EXPECT_EQ(changes[0].what, What::Point);
    EXPECT_EQ(changes[0].step, "horn");
}

}  // namespace
}  // namespace markerlamp::core
