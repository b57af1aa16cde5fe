// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Stored attempts scored again with another edition, as a trial: cases worked by hand, what must change
// nothing, and a plain second way to fit and score.

#include "core/scoring/edition_trial.h"

#include "../support/sample_attempt.h"
#include "core/attempt/attempt_document.h"
#include "core/rubric/rubric_edit.h"
#include "core/rubric/rubric_reader.h"
#include "demo/generator/demo_program.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <random>

namespace markerlamp::core {
namespace {

using testing::builtInRubric;
using ::testing::ElementsAre;
using ::testing::IsEmpty;

/// Four steps of weight 1 in two zones, all to be shown, one of them with two points; pass mark 75.
std::shared_ptr<const Rubric> four() {
    const auto rubric = readRubric(R"(format: markerlamp.rubric/1
id: four
edition: 1
title: Four
equipment: {lift: Lift}
pass: {percent: 75}
limits: {leak: {high: 3, unit: psi, source: invented}}
zones:
  - {id: x, title: X, steps: [{id: a, title: A, show: s, say: [{id: p, text: P}, {id: q, text: Q}]}, {id: b, title: B, show: s}]}
  - {id: y, title: Y, steps: [{id: c, title: C, show: s, reading: {quantity: loss, limit: leak}}, {id: d, title: D, show: s}]}
order:
  - {id: walk, chain: [a, b, c], strict: true, must_pass: true}
)");
    EXPECT_TRUE(rubric);
    return std::make_shared<const Rubric>(*rubric);
}

/// a with both points, b, c with a loss of 2.5 psi; d is left out: 75 percent.
Attempt threeOfFour() {
    const auto attempt = readAttempt(
        R"({"format":"markerlamp.attempt/1","id":"5b1c6c52-0000-4000-8000-0000000000aa","rubric":"four","edition":1,"trainee":"t","instructor":"i","bus":"7","equipment":[],"zones":["x","y"],"limits":{},"started":"2026-03-02T06:10:00-05:00"}
{"n":1,"t":1,"do":"show","step":"a"}
{"n":2,"t":2,"do":"say","step":"a","point":"p"}
{"n":3,"t":3,"do":"say","step":"a","point":"q"}
{"n":4,"t":4,"do":"show","step":"b"}
{"n":5,"t":5,"do":"show","step":"c"}
{"n":6,"t":6,"do":"reading","step":"c","value":2.5,"unit":"psi"}
{"n":7,"t":7,"do":"omit","step":"d"}
{"n":8,"t":9,"do":"end"}
)");
    EXPECT_TRUE(attempt) << attempt.error().message;
    return *attempt;
}

TrialResult trial(const Rubric& draft, const Rubric& own, const Attempt& attempt,
                  NewThings newThings = NewThings::TakeNoPart) {
    EXPECT_THAT(checkDraft(draft).problems, IsEmpty());
    EditionTrial trial(std::make_shared<const Rubric>(draft), newThings);
    return trial.judge(own, attempt, score(own, attempt));
}

class FourSteps : public ::testing::Test {
protected:
    [[nodiscard]] TrialResult judged(NewThings newThings = NewThings::TakeNoPart) const {
        return trial(m_draft, *m_own, m_attempt, newThings);
    }
    static void expect(const TrialResult& result, double percent, AttemptResult after, int leftOut = 0) {
        EXPECT_EQ(result.before, AttemptResult::Pass);
        EXPECT_DOUBLE_EQ(result.percentBefore, 75);
        EXPECT_DOUBLE_EQ(result.percentAfter, percent);
        EXPECT_EQ(result.after, after);
        EXPECT_EQ(result.eventsLeftOut, leftOut);
    }
    const std::shared_ptr<const Rubric> m_own = four();
    Rubric m_draft = *m_own;
    Attempt m_attempt = threeOfFour();
};

TEST_F(FourSteps, TheSameChangesNothing) {
    m_draft.edition = 2;
    const TrialResult result = judged();
    expect(result, 75, AttemptResult::Pass);
    EXPECT_FALSE(result.resultChanges());
    EXPECT_EQ(result.edition, 1);
    EXPECT_EQ(result.attempt, m_attempt.header.id);
}

TEST_F(FourSteps, APassMarkAboveChangesTheResult) {
    m_draft.pass.percent = 80;
    expect(judged(), 75, AttemptResult::Fail);
}

TEST_F(FourSteps, WeightOfTheMissedStepCounts) {
    findStep(m_draft, "d")->weight = 3;  // 3 of 6
    expect(judged(), 50, AttemptResult::Fail);
    findStep(m_draft, "d")->weight = 1;
    findStep(m_draft, "a")->weight = 5;  // 7 of 8
    expect(judged(), 87.5, AttemptResult::Pass);
}

TEST_F(FourSteps, ATighterLimitJudgesTheStoredReading) {
    m_draft.limits[0].high = 2;
    expect(judged(), 50, AttemptResult::Fail);  // a, b of four
    m_draft.limits[0].unit = "kPa";
    expect(judged(), 75, AttemptResult::Pass,
           1);  // a number of another unit says nothing, and is not asked for
    findStep(m_draft, "c")->reading->required = true;
    expect(judged(), 50, AttemptResult::Fail, 1);
}

TEST_F(FourSteps, ARetiredStepIsLeftOutAndCounted) {
    retireStep(m_draft, "d");
    expect(judged(), 100, AttemptResult::Pass, 1);  // its omit
    retireStep(m_draft, "a");
    expect(judged(), 100, AttemptResult::Pass, 4);
    // b, c of b, c: what took a's events back still has something to take back.
    m_attempt.events[7].n = 9;
    Event retract;
    retract.n = 8;
    retract.t = 8;
    retract.kind = EventKind::Retract;
    retract.retracts = 2;
    m_attempt.events.insert(m_attempt.events.begin() + 7, retract);
    const auto result = judged();
    EXPECT_DOUBLE_EQ(result.percentAfter, 100);
    EXPECT_EQ(result.eventsLeftOut, 4);
}

TEST_F(FourSteps, ARetiredPointIsNotMissed) {
    m_attempt.events[2].kind = EventKind::Wrong;  // q was said wrongly
    const TrialResult before = trial(*m_own, *m_own, m_attempt);
    EXPECT_DOUBLE_EQ(before.percentAfter, 50);
    retirePoint(m_draft, "a", "q");
    const TrialResult after = judged();
    EXPECT_DOUBLE_EQ(after.percentAfter, 75);
    EXPECT_EQ(after.eventsLeftOut, 1);
    EXPECT_EQ(after.before, AttemptResult::Fail);
    EXPECT_EQ(after.after, AttemptResult::Pass);
}

TEST_F(FourSteps, NewStepsAndPointsTakeNoPartUnlessAskedFor) {
    addPoint(m_draft, {}, "a", "R", 9);
    const std::string added = addStep(m_draft, {}, "y", "New", 9);
    findStep(m_draft, added)->show = "s";
    findStep(m_draft, added)->mustPass = true;
    expect(judged(), 75, AttemptResult::Pass);
    // Counted: a misses a point, the new one is omitted: b, c of five.
    expect(judged(NewThings::CountAsOmitted), 40, AttemptResult::Fail);
    // A new zone was asked of nobody but those who did all there was.
    const std::string zone = addZone(m_draft, {}, "Z", 9);
    moveStepTo(m_draft, added, zone, 0);
    expect(judged(NewThings::CountAsOmitted), 40, AttemptResult::Fail);
    m_attempt.header.zones = {"x"};
    m_attempt.events.erase(m_attempt.events.begin() + 4, m_attempt.events.begin() + 7);
    m_attempt.events.back().n = 5;
    const TrialResult part = judged(NewThings::CountAsOmitted);
    EXPECT_DOUBLE_EQ(part.percentBefore, 100);
    EXPECT_DOUBLE_EQ(part.percentAfter, 50) << "b of a, b";
}

TEST_F(FourSteps, AStepThatMovedIsAskedOfThoseWhoWereAsked) {
    moveStepTo(m_draft, "d", "x", 0);
    expect(judged(), 75, AttemptResult::Pass);
    m_attempt.header.zones = {"x"};
    m_attempt.events.erase(m_attempt.events.begin() + 4, m_attempt.events.begin() + 7);
    m_attempt.events.back().n = 5;
    TrialResult part = judged();
    EXPECT_DOUBLE_EQ(part.percentAfter, 100) << "d was not asked for on zone x";
    moveStepTo(m_draft, "b", "y", 0);
    part = judged();
    EXPECT_DOUBLE_EQ(part.percentAfter, 100) << "b was, and still counts";
    EXPECT_EQ(part.eventsLeftOut, 0);
}

TEST_F(FourSteps, AStepThatNeedsEquipmentOfNobodyIsLeftOut) {
    findStep(m_draft, "d")->when = {"lift"};
    expect(judged(), 100, AttemptResult::Pass, 1);
}

TEST_F(FourSteps, AnOrderRuleIsHeldAgainstWhatWasDone) {
    addRule(m_draft, {}, {"c"}, {"a"});
    m_draft.order.erase(m_draft.order.begin());
    expect(judged(), 75, AttemptResult::Pass);  // advice
    m_draft.order[0].strict = m_draft.order[0].mustPass = true;
    expect(judged(), 75, AttemptResult::Fail);
}

TEST_F(FourSteps, TheTimeThatWasTakenStays) {
    m_draft.pass.minutes = 8.1 / 60;  // from 1 s to 9 s are 8 s
    m_draft.pass.minutesFail = true;
    retireStep(m_draft, "a");  // which began it
    retireStep(m_draft, "d");
    EXPECT_EQ(judged().after, AttemptResult::Pass);
    m_draft.pass.minutes = 7.9 / 60;
    EXPECT_EQ(judged().after, AttemptResult::Fail);
}

TEST(EditionEffect, CountsAndMean) {
    EditionEffect effect;
    EXPECT_EQ(effect.change().mean, 0);
    const auto add = [&](AttemptResult before, AttemptResult after, double from, double to) {
        TrialResult result;
        result.before = before;
        result.after = after;
        result.percentBefore = from;
        result.percentAfter = to;
        effect.results.push_back(result);
    };
    add(AttemptResult::Pass, AttemptResult::Fail, 81, 78);
    add(AttemptResult::Fail, AttemptResult::Pass, 79, 81);
    add(AttemptResult::Incomplete, AttemptResult::Fail, 50, 50);
    add(AttemptResult::Pass, AttemptResult::Pass, 90, 91);
    EXPECT_EQ(effect.changed(), 3);
    EXPECT_EQ(effect.noLongerPass(), 1);
    EXPECT_EQ(effect.nowPass(), 1);
    EXPECT_DOUBLE_EQ(effect.change().mean, 0);
    EXPECT_DOUBLE_EQ(effect.change().least, -3);
    EXPECT_DOUBLE_EQ(effect.change().most, 2);
}

/// Attempts of the invented district.
class TrialOfTheDemo : public ::testing::Test {
protected:
    static void SetUpTestSuite() {
        s_air = std::make_unique<Rubric>(builtInRubric("air-brake-school-bus"));
        const auto all = demo::makeDemoProgram(*s_air, builtInRubric("hydraulic-brake-school-bus"));
        for (const Attempt& attempt : all.attempts)
            if (attempt.header.rubric == s_air->id && isEnded(attempt)) s_attempts.push_back(attempt);
    }
    static void TearDownTestSuite() {
        s_attempts.clear();
        s_air.reset();
    }
    static inline std::unique_ptr<Rubric> s_air;
    static inline std::vector<Attempt> s_attempts;
};

TEST_F(TrialOfTheDemo, WordsPlacesAndMinutesChangeNothing) {
    ASSERT_GT(s_attempts.size(), 50u);
    Rubric draft = *s_air;
    draft.edition = 2;
    draft.title = "Other";
    std::mt19937 random(7);
    for (Zone& zone : draft.zones) {
        zone.title += "!";
        std::ranges::shuffle(zone.steps, random);
        for (Step& step : zone.steps) {
            step.title += "?";
            step.minutes *= 2;
            step.caution = "Mind the step.";
            for (Point& point : step.say) point.text += ", I say";
        }
    }
    std::ranges::shuffle(draft.zones, random);
    for (const NewThings newThings : {NewThings::TakeNoPart, NewThings::CountAsOmitted}) {
        EditionTrial same(std::make_shared<const Rubric>(*s_air), newThings);
        EditionTrial reworded(std::make_shared<const Rubric>(draft), newThings);
        for (const Attempt& attempt : s_attempts) {
            const Scorecard card = score(*s_air, attempt);
            for (EditionTrial* trial : {&same, &reworded}) {
                const TrialResult result = trial->judge(*s_air, attempt, card);
                EXPECT_EQ(result.before, result.after) << attempt.header.id;
                EXPECT_DOUBLE_EQ(result.percentBefore, result.percentAfter) << attempt.header.id;
                EXPECT_EQ(result.eventsLeftOut, 0);
            }
        }
    }
}

// A second way: the draft's document and the attempt's document are written out with everything that does not
// fit left away by plain rules, read again by the strict readers, and scored.
TEST_F(TrialOfTheDemo, ADocumentCutByHandScoresTheSame) {
    Rubric draft = *s_air;
    draft.edition = 2;
    std::mt19937 random(11);
    std::set<std::string> retired;
    for (const Zone& zone : s_air->zones) retired.insert(zone.steps[random() % zone.steps.size()].id);
    for (const std::string& step : retired) retireStep(draft, step);
    for (Zone& zone : draft.zones)
        for (Step& step : zone.steps) {
            step.weight = 1 + static_cast<int>(random() % 3);
            step.mustPass = random() % 12 == 0;
        }
    draft.pass.percent = 77;
    const auto rubric = readRubric(writeRubric(draft));
    ASSERT_TRUE(rubric);
    EditionTrial trial(std::make_shared<const Rubric>(draft));
    int changed = 0, leftOut = 0;
    for (const Attempt& attempt : s_attempts) {
        const TrialResult result = trial.judge(*s_air, attempt, score(*s_air, attempt));
        Attempt cut = attempt;
        cut.header.edition = 2;
        std::map<int, int> numbers;
        cut.events.clear();
        for (const Event& event : attempt.events) {
            const bool gone = retired.contains(event.step) ||
                              (event.kind == EventKind::Retract && !numbers.contains(event.retracts));
            if (gone) continue;
            Event& kept = cut.events.emplace_back(event);
            kept.n = static_cast<int>(cut.events.size());
            numbers[event.n] = kept.n;
            if (event.kind == EventKind::Retract) kept.retracts = numbers[event.retracts];
        }
        const auto read = readAttempt(writeAttempt(cut));
        ASSERT_TRUE(read) << attempt.header.id;
        ASSERT_THAT(checkAgainstRubric(*read, draft), IsEmpty());
        const Scorecard card = score(*rubric, *read);
        EXPECT_EQ(result.after, card.result) << attempt.header.id;
        EXPECT_NEAR(result.percentAfter, card.percent, 1e-9) << attempt.header.id;
        changed += result.resultChanges() ? 1 : 0;
        leftOut += result.eventsLeftOut;
    }
    EXPECT_GT(changed, 0);
    EXPECT_GT(leftOut, 0);
}

TEST_F(TrialOfTheDemo, WhatIsFittedIsSoundForWhatIsAsked) {
    Rubric draft = *s_air;
    draft.edition = 2;
    std::mt19937 random(13);
    UsedIds used;
    used.note(draft);
    for (int i = 0; i < 12; ++i) {
        const Zone& from = draft.zones[random() % draft.zones.size()];
        const std::string id = from.steps[random() % from.steps.size()].id;
        if (i % 3 == 0)
            retireStep(draft, id);
        else if (i % 3 == 1)
            moveStepTo(draft, id, draft.zones[random() % draft.zones.size()].id, 0);
        else
            findStep(draft, addStep(draft, used, from.id, "New", 0))->show = "it";
    }
    retireZone(draft, draft.zones[2].id);
    for (Limit& limit : draft.limits) limit.unit += "2";
    draft.equipment.pop_back();
    for (const NewThings newThings : {NewThings::TakeNoPart, NewThings::CountAsOmitted}) {
        const EditionTrial trial(std::make_shared<const Rubric>(draft), newThings);
        for (std::size_t i = 0; i < s_attempts.size(); i += 3) {
            const Attempt& attempt = s_attempts[i];
            const Rubric asked = trial.asked(*s_air, attempt.header);
            const Attempt fitted = EditionTrial::fitted(attempt, asked);
            EXPECT_THAT(checkAgainstRubric(fitted, asked), IsEmpty()) << attempt.header.id;
            EXPECT_TRUE(readAttempt(writeAttempt(fitted))) << attempt.header.id;
        }
    }
}

}  // namespace
}  // namespace markerlamp::core
