// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/readiness/gates.h"
#include "scoring_support.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

namespace markerlamp::core {
namespace {

using testing::AttemptBuilder;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using testing::makeRubric;
using testing::makeStep;

constexpr const char* kToday = "2026-03-10";

/// Zone "brakes" with must-pass steps b0, b1 and, in a strict must-pass order, c0, c1; zone "body" with the
/// must-pass step "exits", only on a bus that has them, and an ordinary step.
std::shared_ptr<const Rubric> brakesAndBody(bool withOrder = true) {
    std::vector<Zone> zones{{"brakes", "Brakes", {}}, {"body", "Body", {}}};
    for (const char* id : {"b0", "b1", "c0", "c1"}) zones[0].steps.push_back(makeStep(id));
    zones[0].steps[0].mustPass = zones[0].steps[1].mustPass = true;
    zones[1].steps = {makeStep("exits"), makeStep("lamp")};
    zones[1].steps[0].mustPass = true;
    zones[1].steps[0].when = {"exits"};
    Rubric rubric = makeRubric(zones);
    rubric.equipment = {{"exits", "Emergency exits"}};
    if (withOrder) {
        OrderRule rule = testing::chainRule("sequence", {"c0", "c1"});
        rule.strict = rule.mustPass = true;
        OrderRule advice = testing::chainRule("advice", {"b1", "b0"});
        rubric.order = {rule, advice};
    }
    return std::make_shared<const Rubric>(rubric);
}

/// Steps in the order in which they are done; the letter before each: 'w' whole, 'p' only after a prompt,
/// 'u' unseen, 'r' unreached.
ScoredAttempt attemptOf(const std::shared_ptr<const Rubric>& rubric, const std::string& id,
                        const std::vector<std::string>& done, const std::string& day = "2026-03-05",
                        const std::vector<std::string>& zones = {"brakes", "body"},
                        const std::vector<std::string>& equipment = {"exits"}) {
    AttemptBuilder builder(*rubric, equipment);
    builder.header().id = id;
    builder.header().zones = zones;
    builder.header().started = day + "T06:10:00-05:00";
    for (const std::string& entry : done) {
        const Step& step = *rubric->step(entry.substr(1));
        if (entry[0] == 'p') builder.mark(EventKind::Prompt, step.id);
        if (entry[0] == 'u')
            builder.mark(EventKind::Unseen, step.id);
        else if (entry[0] == 'r')
            builder.mark(EventKind::Unreached, step.id);
        else
            builder.whole(step);
    }
    const Attempt attempt = builder.end();
    return {rubric, attempt, score(*rubric, attempt)};
}

const std::vector<std::string> kClean{"wb0", "wb1", "wc0", "wc1", "wexits", "wlamp"};

std::vector<std::string> cleanBut(const std::string& from, const std::string& to) {
    auto done = kClean;
    *std::ranges::find(done, from) = to;
    return done;
}

Gate gateOf(const std::vector<Gate>& all, const std::string& id) {
    const auto found = std::ranges::find(all, id, &Gate::id);
    if (found == all.end()) {
        ADD_FAILURE() << "no gate " << id;
        return {};
    }
    return *found;
}

Gate gateOf(const std::string& id, const std::vector<ScoredAttempt>& attempts,
            const ReadinessSettings& settings = {}) {
    return gateOf(gates({}, attempts, kToday, settings), id);
}

Gate gateOf(const std::string& id, const Trainee& trainee, const std::string& today,
            const ReadinessSettings& settings = {}) {
    return gateOf(gates(trainee, {}, today, settings), id);
}

TEST(Gates, OnlyThoseThatAreAskedForAreTold) {
    std::vector<std::string> ids;
    for (const Gate& gate : gates({}, {}, kToday, {})) ids.push_back(gate.id);
    EXPECT_THAT(ids,
                ElementsAre("must-pass", "full-attempt", "permit-held", "permit-runs", "medical", "theory"));
    ReadinessSettings none;
    none.askMustPass = none.askFullAttempt = none.askPermit = none.askMedical = none.askTheory = false;
    EXPECT_THAT(gates({}, {}, kToday, none), IsEmpty());
}

TEST(Gates, EachSaysWhyAndWhatOpensItUnlessItIsMet) {
    const auto rubric = brakesAndBody();
    Trainee good;
    good.permitIssued = "2026-01-01";
    good.permitExpires = good.medicalExpires = "2026-12-31";
    good.theoryPercent = 95;
    for (const Gate& gate :
         gates(good, {attemptOf(rubric, "a", kClean), attemptOf(rubric, "b", kClean)}, kToday, {})) {
        EXPECT_EQ(gate.state, GateState::Met) << gate.id << ": " << gate.why;
        EXPECT_THAT(gate.opens, IsEmpty()) << gate.id;
        EXPECT_FALSE(gate.why.empty() || gate.why.ends_with('.')) << gate.why;
    }
    for (const Gate& gate : gates({}, {}, kToday, {})) {
        EXPECT_EQ(gate.state, gate.id == "full-attempt" ? GateState::NotMet : GateState::Unknown) << gate.id;
        EXPECT_FALSE(gate.opens.empty()) << gate.id;
        EXPECT_FALSE(gate.why.empty() || gate.why.ends_with('.')) << gate.why;
    }
    EXPECT_EQ(toWord(GateState::Met), "met");
    EXPECT_EQ(toWord(GateState::NotMet), "not met");
    EXPECT_EQ(toWord(GateState::Unknown), "unknown");
}

TEST(MustPassGate, IsMetByTwoCleanAttempts) {
    const auto rubric = brakesAndBody();
    const Gate gate = gateOf("must-pass", {attemptOf(rubric, "old", {}), attemptOf(rubric, "a", kClean),
                                           attemptOf(rubric, "b", kClean)});
    EXPECT_EQ(gate.state, GateState::Met) << gate.why;
    EXPECT_THAT(gate.attempts, ElementsAre("b", "a"));
    EXPECT_THAT(gate.steps, IsEmpty());
    EXPECT_EQ(gate.why, "All 4 must-pass items were done by oneself in the last 2 attempts");
}

TEST(MustPassGate, OneCleanAttemptIsOneOfTwo) {
    const Gate gate = gateOf("must-pass", {attemptOf(brakesAndBody(), "a", kClean)});
    EXPECT_EQ(gate.state, GateState::NotMet);
    EXPECT_EQ(gate.why,
              "Not by oneself in each of the last 2 attempts: Step b0 (1 of 2), Step b1 (1 of 2), "
              "Step exits (1 of 2) and 1 more");
    EXPECT_EQ(gate.opens, "Step b0, Step b1, Step exits and 1 more by oneself in 2 attempts in a row");
    EXPECT_THAT(gate.steps, ElementsAre("b0", "b1", "exits", "sequence"));
}

TEST(MustPassGate, APromptedOrOmittedStepShutsIt) {
    const auto rubric = brakesAndBody();
    for (const auto& done :
         {cleanBut("wb1", "pb1"), std::vector<std::string>{"wb0", "wc0", "wc1", "wexits"}}) {
        const Gate gate = gateOf("must-pass", {attemptOf(rubric, "a", kClean), attemptOf(rubric, "b", done)});
        EXPECT_EQ(gate.state, GateState::NotMet);
        EXPECT_EQ(gate.why, "Not by oneself in each of the last 2 attempts: Step b1 (1 of 2)");
        EXPECT_THAT(gate.steps, ElementsAre("b1"));
    }
    ReadinessSettings one;
    one.mustPassAttempts = 1;
    const Gate gate = gateOf(
        "must-pass", {attemptOf(rubric, "a", kClean), attemptOf(rubric, "b", cleanBut("wb1", "pb1"))}, one);
    EXPECT_EQ(gate.why, "Not by oneself in the last attempt: Step b1");
    EXPECT_EQ(gate.opens, "Step b1 by oneself");
    EXPECT_THAT(gate.attempts, ElementsAre("b"));
}

TEST(MustPassGate, ABrokenStrictOrderShutsItAndAdviceDoesNot) {
    const auto rubric = brakesAndBody();
    // "advice" wants b1 before b0 and is broken in every clean attempt: it is neither strict nor must-pass.
    EXPECT_EQ(gateOf("must-pass", {attemptOf(rubric, "a", kClean), attemptOf(rubric, "b", kClean)}).state,
              GateState::Met);
    const Gate gate = gateOf("must-pass", {attemptOf(rubric, "a", {"wb0", "wb1", "wc1", "wc0", "wexits"}),
                                           attemptOf(rubric, "b", kClean)});
    EXPECT_EQ(gate.state, GateState::NotMet);
    EXPECT_THAT(gate.steps, ElementsAre("sequence"));
    EXPECT_THAT(gate.why, HasSubstr("the order of sequence (1 of 2)"));
}

TEST(MustPassGate, AnOrderThatCouldNotBeBrokenProvesNothing) {
    const auto rubric = brakesAndBody();
    const std::vector<std::string> noSequence{"wb0", "wb1", "wc0", "wexits"};
    const Gate gate =
        gateOf("must-pass", {attemptOf(rubric, "a", noSequence), attemptOf(rubric, "b", noSequence)});
    EXPECT_EQ(gate.state, GateState::Unknown);
    EXPECT_THAT(gate.steps, ElementsAre("sequence"));
}

TEST(MustPassGate, AttemptsWithoutItInScopeDoNotCount) {
    const auto rubric = brakesAndBody();
    // Two drills of the body follow: they say nothing of the brakes, and do not push the clean attempts out.
    const auto drill = [&](const std::string& id) {
        return attemptOf(rubric, id, {"wexits"}, "2026-03-06", {"body"});
    };
    EXPECT_EQ(gateOf("must-pass",
                     {attemptOf(rubric, "a", kClean), attemptOf(rubric, "b", kClean), drill("c"), drill("d")})
                  .state,
              GateState::Met);
    // Nor do drills open it: the brakes were prompted in the only attempts that had them.
    const auto prompted = cleanBut("wb0", "pb0");
    EXPECT_THAT(gateOf("must-pass", {attemptOf(rubric, "a", prompted), attemptOf(rubric, "b", prompted),
                                     drill("c"), drill("d")})
                    .steps,
                ElementsAre("b0"));
    // With drills alone the brakes were never seen.
    const Gate unseen = gateOf("must-pass", {drill("c"), drill("d")});
    EXPECT_EQ(unseen.state, GateState::Unknown);
    EXPECT_THAT(unseen.steps, ElementsAre("b0", "b1", "sequence"));
}

TEST(MustPassGate, AStepThatWasNotObservedLeavesItUnknown) {
    const auto rubric = brakesAndBody();
    for (const char* entry : {"ub1", "rb1"}) {
        const Gate gate = gateOf(
            "must-pass", {attemptOf(rubric, "a", kClean), attemptOf(rubric, "b", cleanBut("wb1", entry))});
        EXPECT_EQ(gate.state, GateState::Unknown);
        EXPECT_EQ(gate.why, "Not seen in each of the last 2 attempts: Step b1");
    }
    // What was seen to go wrong counts for more than what was not seen.
    EXPECT_EQ(gateOf("must-pass", {attemptOf(rubric, "a", cleanBut("wb0", "pb0")),
                                   attemptOf(rubric, "b", cleanBut("wb1", "ub1"))})
                  .state,
              GateState::NotMet);
}

TEST(MustPassGate, AsksOnlyWhatTheBusHas) {
    const auto rubric = brakesAndBody();
    const std::vector<std::string> done{"wb0", "wb1", "wc0", "wc1"};
    const auto plain = [&](const std::string& id) {
        return attemptOf(rubric, id, done, "2026-03-05", {"brakes", "body"}, {});
    };
    EXPECT_EQ(gateOf("must-pass", {plain("a"), plain("b")}).state, GateState::Met);
}

TEST(MustPassGate, ARubricWithoutMustPassAsksNothing) {
    Rubric rubric = *brakesAndBody(false);
    for (Zone& zone : rubric.zones)
        for (Step& step : zone.steps) step.mustPass = step.id == "b0";
    const auto one = std::make_shared<const Rubric>(rubric);
    EXPECT_EQ(gateOf("must-pass", {attemptOf(one, "a", kClean), attemptOf(one, "b", kClean)}).why,
              "The one must-pass item (Step b0) was done by oneself in the last 2 attempts");
    rubric.zones[0].steps[0].mustPass = false;
    const auto none = std::make_shared<const Rubric>(rubric);
    const Gate gate = gateOf("must-pass", {attemptOf(none, "a", {})});
    EXPECT_EQ(gate.state, GateState::Met);
    EXPECT_EQ(gate.why, "The rubric has no step or order that must be passed");
}

TEST(FullAttemptGate, CountsDaysByTheAttemptsOwnClock) {
    const auto rubric = brakesAndBody();
    auto attempt = attemptOf(rubric, "a", kClean, "2026-02-17");
    EXPECT_EQ(gateOf("full-attempt", {attempt}).state, GateState::Met) << "21 days are still in";
    EXPECT_EQ(gateOf("full-attempt", {attempt}).why,
              "The last full-length attempt was on 2026-02-17, 21 days ago");
    attempt = attemptOf(rubric, "a", kClean, "2026-02-16");
    const Gate late = gateOf("full-attempt", {attempt});
    EXPECT_EQ(late.state, GateState::NotMet);
    EXPECT_EQ(
        late.why,
        "The last full-length attempt was on 2026-02-16, 22 days ago; it should be at most 21 days ago");
    EXPECT_EQ(late.opens, "a full-length attempt");
    // 22:30 in the evening is the next day in UTC; the day on the yard's clock counts.
    attempt.attempt.header.started = "2026-02-16T22:30:00-05:00";
    EXPECT_EQ(gateOf("full-attempt", {attempt}).state, GateState::NotMet);
    attempt.attempt.header.started = "2026-02-17T00:30:00+14:00";
    EXPECT_EQ(gateOf("full-attempt", {attempt}).state, GateState::Met);
}

TEST(FullAttemptGate, SaysOneDayAndToday) {
    const auto rubric = brakesAndBody();
    EXPECT_THAT(gateOf("full-attempt", {attemptOf(rubric, "a", kClean, "2026-03-09")}).why,
                HasSubstr("on 2026-03-09, 1 day ago"));
    EXPECT_THAT(gateOf("full-attempt", {attemptOf(rubric, "a", kClean, "2026-03-10")}).why,
                HasSubstr("on 2026-03-10, today"));
    ReadinessSettings strict;
    strict.fullAttemptDays = 1;
    EXPECT_THAT(gateOf("full-attempt", {attemptOf(rubric, "a", kClean, "2026-03-07")}, strict).why,
                HasSubstr("3 days ago; it should be at most 1 day ago"));
}

TEST(FullAttemptGate, NeitherDrillsNorStoppedAttemptsAreFullLength) {
    const auto rubric = brakesAndBody();
    const auto drill = attemptOf(rubric, "c", {"wexits"}, "2026-03-06", {"body"});
    EXPECT_EQ(gateOf("full-attempt", {drill}).state, GateState::NotMet);
    EXPECT_EQ(gateOf("full-attempt", {drill}).why, "No full-length attempt yet");
    const auto stopped = attemptOf(rubric, "b", cleanBut("wlamp", "rlamp"), "2026-03-08");
    EXPECT_EQ(gateOf("full-attempt", {stopped}).state, GateState::NotMet);
    // An older one that went to the end is found behind them.
    const Gate gate = gateOf("full-attempt", {attemptOf(rubric, "a", {}, "2026-03-01"), stopped, drill});
    EXPECT_EQ(gate.state, GateState::Met);
    EXPECT_THAT(gate.attempts, ElementsAre("a"));
    auto open = attemptOf(rubric, "d", kClean, "2026-03-09");
    open.attempt.events.pop_back();
    EXPECT_EQ(gateOf("full-attempt", {open}).state, GateState::NotMet);
}

TEST(PermitHeldGate, HoldsBothReadingsOfTheFourteenDays) {
    // 49 CFR 383.25: not in the first 14 days after initial issue. Issued on 1 March the earliest test is on
    // the 15th (issue + 14) or on the 16th (issue + 15); the stricter reading is the default.
    Trainee trainee;
    trainee.permitIssued = "2026-03-01";
    EXPECT_EQ(gateOf("permit-held", trainee, "2026-03-15").state, GateState::NotMet);
    EXPECT_EQ(gateOf("permit-held", trainee, "2026-03-15").why,
              "Permit issued on 2026-03-01: by the stricter reading of the 14-day rule a test may be taken "
              "from 2026-03-16, in 1 day");
    EXPECT_EQ(gateOf("permit-held", trainee, "2026-03-15").opens,
              "to wait until 2026-03-16, when the permit has been held long enough");
    EXPECT_EQ(gateOf("permit-held", trainee, "2026-03-16").state, GateState::Met);
    ReadinessSettings looser;
    looser.permitDayRule = PermitDayRule::IssuePlusDays;
    EXPECT_EQ(gateOf("permit-held", trainee, "2026-03-14", looser).state, GateState::NotMet);
    EXPECT_EQ(gateOf("permit-held", trainee, "2026-03-15", looser).state, GateState::Met);
    EXPECT_EQ(
        gateOf("permit-held", trainee, "2026-03-15", looser).why,
        "Permit issued on 2026-03-01: by the looser reading of the 14-day rule a test may be taken from "
        "2026-03-15");
    trainee.permitIssued = "2024-02-16";
    EXPECT_THAT(gateOf("permit-held", trainee, "2026-03-15").why, HasSubstr("from 2024-03-02"))
        << "over the 29th of February";
}

TEST(PermitRunsGate, AsksForEnoughDaysToTheEnd) {
    Trainee trainee;
    trainee.permitExpires = "2026-03-24";
    EXPECT_EQ(gateOf("permit-runs", trainee, "2026-03-10").state, GateState::Met);
    EXPECT_EQ(gateOf("permit-runs", trainee, "2026-03-10").why,
              "The permit runs out on 2026-03-24, in 14 days");
    EXPECT_EQ(gateOf("permit-runs", trainee, "2026-03-11").why,
              "The permit runs out on 2026-03-24, in 13 days; at least 14 days should be left");
    EXPECT_EQ(gateOf("permit-runs", trainee, "2026-03-11").state, GateState::NotMet);
    EXPECT_EQ(gateOf("permit-runs", trainee, "2026-03-25").why,
              "The permit ran out on 2026-03-24, 1 day ago");
    EXPECT_EQ(gateOf("permit-runs", trainee, "2026-03-25").opens, "a renewed permit");
}

TEST(MedicalGate, LastsThroughItsLastDay) {
    Trainee trainee;
    trainee.medicalExpires = "2026-03-10";
    EXPECT_EQ(gateOf("medical", trainee, "2026-03-10").state, GateState::Met);
    EXPECT_EQ(gateOf("medical", trainee, "2026-03-10").why,
              "The medical certificate runs out on 2026-03-10, today");
    EXPECT_EQ(gateOf("medical", trainee, "2026-03-11").state, GateState::NotMet);
    EXPECT_EQ(gateOf("medical", trainee, "2026-03-11").why,
              "The medical certificate ran out on 2026-03-10, 1 day ago");
}

TEST(TheoryGate, AsksForEightyPercent) {
    // 49 CFR 380.715(a): an overall score of at least 80 percent.
    Trainee trainee;
    trainee.theoryPercent = 80;
    trainee.theoryDate = "2026-02-01";
    EXPECT_EQ(gateOf("theory", trainee, kToday).state, GateState::Met);
    EXPECT_EQ(gateOf("theory", trainee, kToday).why, "Theory result 80 % of 2026-02-01");
    trainee.theoryPercent = 79.5;
    trainee.theoryDate.clear();
    EXPECT_EQ(gateOf("theory", trainee, kToday).state, GateState::NotMet);
    EXPECT_EQ(gateOf("theory", trainee, kToday).why, "Theory result 79.5 %; at least 80 % is asked for");
    EXPECT_EQ(gateOf("theory", trainee, kToday).opens, "a theory result of at least 80 %");
}

}  // namespace
}  // namespace markerlamp::core
