// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/readiness/practice_record.h"
#include "practice_support.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

namespace markerlamp::core {
namespace {

using testing::addTo;
using ::testing::ElementsAre;
using testing::MarkedAttempt;
using testing::practiceRubric;
using testing::recordOf;

TEST(DayOf, CountsDaysInUtc) {
    EXPECT_DOUBLE_EQ(dayOf("1970-01-02T00:00:00Z").value(), 1);
    EXPECT_DOUBLE_EQ(dayOf("2026-03-02T06:00:00-06:00").value(), dayOf("2026-03-02T12:00:00Z").value());
    EXPECT_DOUBLE_EQ(dayOf("2026-03-02T12:00:00Z").value(), 20514.5);  // date -d 2026-03-02 +%s / 86400
    EXPECT_EQ(dayOf("2026-03-02"), std::nullopt);
}

TEST(DayOf, IsUndoneByMomentOf) {
    for (const std::string moment : {"2026-03-02T12:34:56Z", "1969-12-31T23:59:59Z", "2000-02-29T00:00:00Z"})
        EXPECT_EQ(momentOf(dayOf(moment).value()), moment);
}

TEST(OffsetSeconds, AreReadFromTheEnd) {
    EXPECT_EQ(offsetSecondsOf("2026-03-02T06:00:00-05:30"), -(5 * 60 + 30) * 60);
    EXPECT_EQ(offsetSecondsOf("2026-03-02T06:00+02:00"), 7200);
    EXPECT_EQ(offsetSecondsOf("2026-03-02T06:00:00Z"), 0);
    EXPECT_EQ(offsetSecondsOf("yesterday"), std::nullopt);
}

TEST(StepsNamed, ExpandsZones) {
    const auto rubric = practiceRubric(2, 3);
    EXPECT_THAT(stepsNamed(*rubric, "zone:z1"), ElementsAre("z1s0", "z1s1", "z1s2"));
    EXPECT_THAT(stepsNamed(*rubric, "z0s2"), ElementsAre("z0s2"));
    EXPECT_TRUE(stepsNamed(*rubric, "zone:none").empty());
}

TEST(CanBreak, AsksForBothStepsOfAPair) {
    const auto rubric = practiceRubric(2, 3);
    const OrderRule chain = testing::chainRule("c", {"z0s0", "zone:z1"});
    EXPECT_TRUE(canBreak(*rubric, chain, {"z0s0", "z1s2"}));
    EXPECT_FALSE(canBreak(*rubric, chain, {"z1s1", "z1s2"})) << "within one entry no order is stated";
    OrderRule both;
    both.first = {"z0s0", "z0s1"};
    both.then = {"zone:z1"};
    EXPECT_TRUE(canBreak(*rubric, both, {"z0s1", "z1s0"}));
    EXPECT_FALSE(canBreak(*rubric, both, {"z0s0", "z0s1"}));
}

TEST(PracticeRecord, TakesWhatWasObserved) {
    const auto rubric = practiceRubric(2, 3);
    const auto record = recordOf({{rubric, "a", "t0", "i0", 20000, "rpwoun"}});
    ASSERT_EQ(record->attempts().size(), 1u);
    const PracticeAttempt& attempt = record->attempts()[0];
    ASSERT_EQ(attempt.tries.size(), 4u) << "unseen and unreached are no evidence";
    std::vector<bool> right;
    for (const StepTry& one : attempt.tries) right.push_back(one.right);
    EXPECT_THAT(right, ElementsAre(true, false, false, false)) << "prompted is not by oneself";
    EXPECT_TRUE(attempt.whole);
    EXPECT_EQ(record->stepNumber("practice", "z1s2"), std::nullopt);
    EXPECT_EQ(record->steps()[std::size_t(record->stepNumber("practice", "z1s0").value())].zone, "z1");
}

TEST(PracticeRecord, LeavesOutWhatDoesNotCount) {
    const auto rubric = practiceRubric(1, 2);
    PracticeRecord record;
    auto [attempt, card] = testing::scored({rubric, "a", "t0", "i0", 20000, "rr"});
    Attempt open = attempt;
    open.events.pop_back();
    EXPECT_FALSE(record.add(*rubric, open, card));
    Attempt second = attempt;
    second.header.of = "first";
    EXPECT_FALSE(record.add(*rubric, second, card));
    Attempt undated = attempt;
    undated.header.started = "monday";
    EXPECT_FALSE(record.add(*rubric, undated, card));
    EXPECT_TRUE(record.add(*rubric, attempt, card));
    EXPECT_FALSE(record.add(*rubric, attempt, card)) << "the same attempt again";
    record.sort();
    EXPECT_EQ(record.attempts().size(), 1u);
}

TEST(PracticeRecord, KnowsPartialAttempts) {
    const auto rubric = practiceRubric(2, 2);
    EXPECT_FALSE(recordOf({{rubric, "a", "t0", "i0", 20000, "rrxx"}})->attempts()[0].whole);
}

TEST(PracticeRecord, SaysWhetherStrictRulesWereKept) {
    Rubric document = *practiceRubric(1, 3);
    document.order.push_back(testing::chainRule("chain", {"z0s1", "z0s0"}));
    document.order.back().strict = document.order.back().mustPass = true;
    document.order.push_back(testing::chainRule("advice", {"z0s1", "z0s0"}));
    const auto rubric = std::make_shared<const Rubric>(document);
    const auto record = recordOf({{rubric, "a", "t0", "i0", 20000, "rrr"},    // s0 before s1: broken
                                  {rubric, "b", "t0", "i0", 20001, "ror"}});  // s1 left out: no evidence
    ASSERT_EQ(record->attempts()[0].rules.size(), 1u);
    EXPECT_FALSE(record->attempts()[0].rules[0].kept);
    EXPECT_TRUE(record->attempts()[1].rules.empty());
    EXPECT_EQ(record->rules()[0].rule, "chain");
}

TEST(PracticeRecord, KnowsTheTimeAllowance) {
    Rubric document = *practiceRubric(1, 3);
    document.pass.minutes = 0.05;  // three seconds; a press takes one
    const auto rubric = std::make_shared<const Rubric>(document);
    const auto record =
        recordOf({{rubric, "a", "t0", "i0", 20000, "rrr"}, {rubric, "b", "t0", "i0", 20001, "ooo"}});
    EXPECT_TRUE(record->attempts()[0].overTime);
    EXPECT_NEAR(record->attempts()[0].minutes, 6 / 60.0, 1e-9);
    EXPECT_FALSE(record->attempts()[1].overTime);
}

TEST(PracticeRecord, IsTheSameInWhateverOrderItCame) {
    const auto rubric = practiceRubric(3, 4), other = practiceRubric(2, 2, "another");
    std::vector<MarkedAttempt> attempts = testing::smallProgram(rubric, 5, 3);
    attempts.push_back({other, "zz", "t9", "i9", 19000, "rwrw"});
    const auto first = recordOf(attempts);
    std::ranges::reverse(attempts);
    std::swap(attempts[1], attempts[7]);
    const auto second = recordOf(attempts);
    ASSERT_EQ(first->attempts().size(), second->attempts().size());
    EXPECT_EQ(first->trainees(), second->trainees());
    EXPECT_EQ(first->instructors(), second->instructors());
    EXPECT_EQ(first->rubrics(), second->rubrics());
    for (std::size_t i = 0; i < first->attempts().size(); ++i) {
        const PracticeAttempt &a = first->attempts()[i], &b = second->attempts()[i];
        EXPECT_EQ(a.id, b.id);
        EXPECT_EQ(std::tie(a.trainee, a.instructor, a.rubric), std::tie(b.trainee, b.instructor, b.rubric));
        ASSERT_EQ(a.tries.size(), b.tries.size());
        for (std::size_t k = 0; k < a.tries.size(); ++k) EXPECT_EQ(a.tries[k].step, b.tries[k].step);
    }
}

TEST(PracticeRecord, FindsATraineesAttemptsBeforeADay) {
    const auto rubric = practiceRubric(1, 2);
    const auto record = recordOf({{rubric, "b", "t1", "i0", 20002, "rr"},
                                  {rubric, "a", "t1", "i0", 20001, "rr"},
                                  {rubric, "c", "t0", "i0", 20001, "rr"}});
    const std::int32_t trainee = record->traineeNumber("t1").value();
    EXPECT_EQ(record->attemptsOf(trainee, 20002).size(), 1u) << "strictly before";
    EXPECT_EQ(record->attemptsOf(trainee, 20002.001).size(), 2u);
    EXPECT_EQ(record->attempts()[record->attemptsOf(trainee, 1e9)[0]].id, "a");
    EXPECT_TRUE(record->attemptsOf(99, 1e9).empty());
    EXPECT_EQ(record->traineeNumber("nobody"), std::nullopt);
}

}  // namespace
}  // namespace markerlamp::core
