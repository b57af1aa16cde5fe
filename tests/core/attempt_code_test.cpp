// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/agreement/attempt_code.h"
#include "core/base/fnv.h"

#include <gtest/gtest.h>

#include <set>

namespace markerlamp::core {
namespace {

TEST(Fnv, GivesThePublishedHashes) {
    // Test vectors of the authors, http://www.isthe.com/chongo/src/fnv/test_fnv.c (from memory).
    EXPECT_EQ(fnv1a(""), 0xcbf29ce484222325U);
    EXPECT_EQ(fnv1a("a"), 0xaf63dc4c8601ec8cU);
    EXPECT_EQ(fnv1a("foobar"), 0x85944171f73967e8U);
}

TEST(AttemptCode, IsSixLettersThatNobodyConfuses) {
    std::set<std::string> codes;
    for (int i = 0; i < 2000; ++i) {
        const std::string code = attemptCode("8f7c2a10-0000-4000-8000-" + std::to_string(i));
        EXPECT_TRUE(isAttemptCode(code)) << code;
        EXPECT_EQ(code.find_first_of("IOQAEU0123456789"), std::string::npos) << code;
        codes.insert(code);
    }
    EXPECT_EQ(codes.size(), 2000u);
    // By hand: 0xaf63dc4c8601ec8c = 12638187200555641996; its remainders by 20 are 16, 19, 4, 15, 12, 13.
    EXPECT_EQ(attemptCode("a"), "WZGVRS");
}

TEST(AttemptCode, IsTakenAsPeopleTypeIt) {
    EXPECT_EQ(typedCode(" ktr-wmb "), "KTRWMB");
    EXPECT_TRUE(isAttemptCode("KTRWMB"));
    EXPECT_FALSE(isAttemptCode("KTRWM"));
    EXPECT_FALSE(isAttemptCode("KTRWMO"));
    EXPECT_FALSE(isAttemptCode("ktrwmb"));
}

TEST(FirstScorings, FindsTheFirstByIdOrByCode) {
    FirstScorings firsts;
    firsts.add({"one", "t-1", "r", 1});
    firsts.add({"two", "t-1", "r", 1});
    EXPECT_EQ(firsts.idOf("one", {"x", "t-1", "r", 1}), "one");
    EXPECT_EQ(firsts.idOf(attemptCode("two"), {"x", "t-1", "r", 1}), "two");
    // Another workstation may have its own key for the trainee.
    EXPECT_EQ(firsts.idOf(attemptCode("two"), {"x", "trainee-1", "r", 1}), "two");
    EXPECT_EQ(firsts.idOf("three", {"x", "t-1", "r", 1}), "");
    EXPECT_EQ(firsts.idOf(attemptCode("three"), {"x", "t-1", "r", 1}), "");
}

TEST(FirstScorings, OfTwoWithOneCodeTakesTheOneOfTheSameTraineeOrNone) {
    // Found by trying: these ids share their code.
    const std::string a = "a-37387", b = "a-46790";
    ASSERT_EQ(attemptCode(a), attemptCode(b));
    FirstScorings firsts;
    firsts.add({a, "t-1", "r", 1});
    firsts.add({b, "t-2", "r", 1});
    EXPECT_EQ(firsts.idOf(attemptCode(a), {"x", "t-2", "r", 1}), b);
    EXPECT_EQ(firsts.idOf(attemptCode(a), {"x", "t-3", "r", 1}), "");
    EXPECT_EQ(firsts.idOf(attemptCode(a), {"x", "t-2", "r", 2}), "");
    EXPECT_EQ(firsts.idOf(a, {"x", "t-3", "r", 1}), a);
}

}  // namespace
}  // namespace markerlamp::core
