// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Who may do what, how long a next try waits, recovery codes. The bounds of the wait and the length of a
// passphrase are ours; NIST SP 800-63B (from memory) asks for at least 8 characters and for a limit to tries.

#include "core/access/accounts.h"
#include "core/access/deeds.h"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <map>
#include <set>

namespace markerlamp::core {
namespace {

const Acting kInstructor{"Ann", Role::Instructor, "i-1"};
const Acting kCoordinator{"Cora", Role::Coordinator, ""};
const Acting kAnybody;

/// Written down a second time, by hand.
const std::map<Deed, bool> kInstructorMay{
    {Deed::Score, true},          {Deed::AmendOwn, true},        {Deed::NoteTraining, true},
    {Deed::SeeAnothers, false},   {Deed::AlterAnothers, false},  {Deed::ChangePeople, false},
    {Deed::ChangeRubrics, false}, {Deed::KeepRecords, false},    {Deed::Settle, false},
    {Deed::Erase, false},         {Deed::ChangeSettings, false}, {Deed::ManageAccounts, false},
    {Deed::Exchange, false},      {Deed::ManageCopies, false},   {Deed::SeeProgram, false},
};

TEST(Deeds, EveryCellOfTheTable) {
    ASSERT_EQ(deedRows().size(), kInstructorMay.size());
    for (const auto& [deed, instructor] : kInstructorMay) {
        SCOPED_TRACE(static_cast<int>(deed));
        EXPECT_EQ(may(kInstructor, deed).has_value(), instructor);
        EXPECT_TRUE(may(kCoordinator, deed));
        EXPECT_TRUE(may(kAnybody, deed)) << "sign-in is not in use";
    }
}

TEST(Deeds, ARefusalSaysWhoMayAndWhatToDo) {
    const auto refused = may(kInstructor, Deed::ChangeRubrics);
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().kind, ErrorKind::Refused);
    EXPECT_EQ(refused.error().message,
              "only a coordinator may change rubrics and limit sets; sign in as a coordinator");
}

TEST(Deeds, AnInstructorsOwnAttemptsAreThoseUnderTheirKey) {
    EXPECT_TRUE(isOwn(kInstructor, "i-1"));
    EXPECT_FALSE(isOwn(kInstructor, "i-10"));
    EXPECT_FALSE(isOwn(kInstructor, ""));
    EXPECT_TRUE(isOwn(kCoordinator, "i-1"));
    EXPECT_TRUE(isOwn(kAnybody, "i-1"));
}

TEST(Deeds, FactsAreGuardedByWhatTheyAreAbout) {
    for (const char* key : {"program.title", "program.gate.full_attempt_days", "access.idle_minutes",
                            "draft.rubric.small", "draft.settling.a.b", "people.keep_years", "", "uix"}) {
        EXPECT_FALSE(mayChangeFact(kInstructor, key)) << key;
        EXPECT_TRUE(mayChangeFact(kCoordinator, key)) << key;
        EXPECT_TRUE(mayChangeFact(kAnybody, key)) << key;
    }
    EXPECT_TRUE(mayChangeFact(kInstructor, "ui.copies.id")) << "what the program notes for itself";
}

TEST(SignInWait, ThreeTriesAreFreeThenItDoublesToFiveMinutes) {
    const std::int64_t at = 1'800'000'000'000;
    const std::map<int, std::int64_t> seconds{{0, 0},    {1, 0},    {2, 0},    {3, 1},    {4, 2},
                                              {5, 4},    {6, 8},    {7, 16},   {8, 32},   {9, 64},
                                              {10, 128}, {11, 256}, {12, 300}, {13, 300}, {1'000'000, 300}};
    for (const auto& [failures, wait] : seconds) {
        SCOPED_TRACE(failures);
        EXPECT_EQ(waitBeforeNextTry(failures, at, at), wait * 1000);
        if (wait == 0) continue;
        EXPECT_EQ(waitBeforeNextTry(failures, at, at + 1), wait * 1000 - 1);
        EXPECT_EQ(waitBeforeNextTry(failures, at, at + wait * 1000 - 1), 1);
        EXPECT_EQ(waitBeforeNextTry(failures, at, at + wait * 1000), 0);
    }
}

TEST(SignInWait, AClockThatWasSetBackMakesItNeitherLongerNorFree) {
    const std::int64_t at = 1'800'000'000'000;
    for (const std::int64_t back : {std::int64_t{1}, std::int64_t{3'600'000}, at})
        EXPECT_EQ(waitBeforeNextTry(4, at, at - back), 2000);
    constexpr auto kLeast = std::numeric_limits<std::int64_t>::min(),
                   kMost = std::numeric_limits<std::int64_t>::max();
    EXPECT_EQ(waitBeforeNextTry(4, kMost, kLeast), 2000);
    EXPECT_EQ(waitBeforeNextTry(4, kLeast, kMost), 0);
}

TEST(RecoveryCode, CarriesMoreThan120BitsOfCharactersThatAreToldApart) {
    std::set<char> seen;
    std::set<std::string> codes;
    for (int i = 0; i < 400; ++i) {
        const std::string code = drawRecoveryCode();
        ASSERT_EQ(code.size(), 29U);
        for (std::size_t at = 0; at < code.size(); ++at) {
            if (at % 6 == 5)
                EXPECT_EQ(code[at], '-');
            else
                seen.insert(code[at]);
        }
        codes.insert(code);
    }
    EXPECT_EQ(codes.size(), 400U);
    for (const char c : {'0', 'O', '1', 'I', 'L'}) EXPECT_FALSE(seen.contains(c)) << c;
    // 10,000 draws: that one of 31 is never drawn has a chance below 1e-140.
    EXPECT_GT(25 * std::log2(static_cast<double>(seen.size())), 120.0);
}

TEST(RecoveryCode, IsReadHoweverItWasTyped) {
    const std::string code = "7KQ2M-ABCDE-FGHJK-MNPQR-STUVW";
    EXPECT_EQ(typedRecoveryCode(code), code);
    EXPECT_EQ(typedRecoveryCode("  7kq2m abcde-fghjkmnpqr stuvw\n"), code);
    EXPECT_FALSE(typedRecoveryCode(""));
    EXPECT_FALSE(typedRecoveryCode("7KQ2M-ABCDE-FGHJK-MNPQR-STUV"));
    EXPECT_FALSE(typedRecoveryCode(code + "X"));
    EXPECT_FALSE(typedRecoveryCode("7KQ2M-ABCDE-FGHJK-MNPQR-STUV0"));
    EXPECT_FALSE(typedRecoveryCode("7KQ2M-ABCDE-FGHJK-MNPQR-STUV\xC3\x84"));
}

TEST(Passphrase, LengthCountsAndNothingElse) {
    EXPECT_TRUE(checkPassphrase("aaaaaaaaaaaa")) << "no rule about kinds of characters";
    EXPECT_FALSE(checkPassphrase("aaaaaaaaaaa"));
    EXPECT_FALSE(checkPassphrase("\xC3\xA4\xC3\xA4\xC3\xA4\xC3\xA4\xC3\xA4\xC3\xA4"))
        << "characters, not bytes";
    EXPECT_TRUE(checkPassphrase(std::string(1024, 'a')));
    EXPECT_FALSE(checkPassphrase(std::string(1025, 'a')));
    EXPECT_FALSE(checkPassphrase(std::string("aaaaaaaaaaaa\0b", 14)));
    EXPECT_FALSE(checkPassphrase("aaaaaaaaaaaa\xff"));
    const auto refused = checkPassphrase("short");
    EXPECT_EQ(refused.error().message,
              "the passphrase is too short; use at least 12 characters, such as four words");
    EXPECT_EQ(refused.error().message.find("short;"), refused.error().message.find("short"))
        << "does not repeat what was typed";
}

TEST(Account, NeedsANameARoleAndWhoseAttemptsTheyAre) {
    EXPECT_TRUE(checkAccount({"Ann", Role::Instructor, "i-1"}));
    EXPECT_TRUE(checkAccount({"Cora", Role::Coordinator, ""}));
    EXPECT_FALSE(checkAccount({"", Role::Coordinator, ""}));
    EXPECT_FALSE(checkAccount({" Ann", Role::Coordinator, ""}));
    EXPECT_FALSE(checkAccount({"A\nnn", Role::Coordinator, ""}));
    EXPECT_FALSE(checkAccount({std::string(101, 'a'), Role::Coordinator, ""}));
    EXPECT_FALSE(checkAccount({"Ann", Role::Instructor, ""}));
    EXPECT_FALSE(checkAccount({"Ann", Role::Anybody, "i-1"}));
}

TEST(IdleMinutes, NonsenseIsTheUsualOne) {
    EXPECT_EQ(idleMinutesOf(std::nullopt), 10);
    EXPECT_EQ(idleMinutesOf("0"), 0) << "never";
    EXPECT_EQ(idleMinutesOf("240"), 240);
    for (const char* text : {"", "soon", "-1", "241", "2.5", "1e99"})
        EXPECT_EQ(idleMinutesOf(text), 10) << text;
}

}  // namespace
}  // namespace markerlamp::core
