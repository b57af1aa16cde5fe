// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Accounts, signing in, recovery, and what a program file refuses to whom. The test vector of RFC 9106 for
// Argon2id has a secret and associated data, which libsodium does not take; the strings are held against
// another reader where Python's argon2 module is installed.

#include "db_support.h"

#include <gtest/gtest.h>

#include <cstdio>
#include <regex>

namespace markerlamp::db {
namespace {

using namespace testing;
using core::Account;
using core::Acting;
using core::ErrorKind;
using core::Role;

constexpr const char* kPass = "four words are best";
constexpr const char* kOther = "another long phrase";
constexpr std::int64_t kNow = 1'800'000'000'000;

std::string raw(const std::filesystem::path& path, const char* sql) {
    sqlite3* db = nullptr;
    EXPECT_EQ(sqlite3_open_v2(path.c_str(), &db, SQLITE_OPEN_READWRITE, nullptr), SQLITE_OK);
    std::string text;
    const auto take = [](void* into, int count, char** columns, char**) {
        for (int i = 0; i < count; ++i)
            *static_cast<std::string*>(into) +=
                std::string(i > 0 ? "|" : "") + (columns[i] ? columns[i] : "");
        *static_cast<std::string*>(into) += '\n';
        return 0;
    };
    EXPECT_EQ(sqlite3_exec(db, sql, take, &text, nullptr), SQLITE_OK) << sqlite3_errmsg(db);
    sqlite3_close(db);
    return text;
}

/// A program with an attempt of i-1, accounts of a coordinator and of i-1 and i-2.
class AccessTest : public ::testing::Test {
protected:
    void SetUp() override {
        m_file = programWithRubric(path());
        m_file->setPassphraseCost(PassphraseCost::Least);
        ASSERT_TRUE(m_file->addAttempt(sampleAttempt()));
        ASSERT_TRUE(m_file->saveInstructor({"i-2", "Ben Other", false}));
        auto other = sampleAttempt("a-2");
        other.header.instructor = "i-2";
        ASSERT_TRUE(m_file->addAttempt(other));
    }
    void startSignIn() {
        m_code = m_file->startSignIn({"Cora", Role::Coordinator, {}}, kPass).value();
        ASSERT_TRUE(m_file->saveAccount({"Ann", Role::Instructor, "i-1"}, kOther));
        ASSERT_TRUE(m_file->saveAccount({"Ben", Role::Instructor, "i-2"}, kPass));
    }
    [[nodiscard]] std::filesystem::path path() const { return m_folder / "p.markerlamp"; }
    ProgramFile& file() { return *m_file; }

    Folder m_folder;
    std::unique_ptr<ProgramFile> m_file;
    std::string m_code;
};

const Acting kAnn{"Ann", Role::Instructor, "i-1"};

TEST_F(AccessTest, SignsInByNameAndPassphrase) {
    EXPECT_TRUE(file().accounts()->empty());
    startSignIn();
    const std::vector<Account> all{
        {"Ann", Role::Instructor, "i-1"}, {"Ben", Role::Instructor, "i-2"}, {"Cora", Role::Coordinator, {}}};
    EXPECT_EQ(file().accounts().value(), all);
    EXPECT_EQ(file().signIn("Ann", kOther, kNow).value(), kAnn);
    EXPECT_EQ(file().signIn("Cora", kPass, kNow).value(), (Acting{"Cora", Role::Coordinator, {}}));
    EXPECT_EQ(file().acting(), Acting{}) << "it does not act as them by itself";
    EXPECT_FALSE(file().startSignIn({"Dora", Role::Coordinator, {}}, kPass)) << "only once";
}

TEST_F(AccessTest, TheFirstAccountIsACoordinatorsWithAPassphraseOfSomeLength) {
    EXPECT_FALSE(file().startSignIn({"Ann", Role::Instructor, "i-1"}, kPass));
    EXPECT_FALSE(file().startSignIn({"Cora", Role::Coordinator, {}}, "elevenchars"));
    EXPECT_FALSE(file().startSignIn({"Cora", Role::Coordinator, "nobody"}, kPass)) << "no such instructor";
    EXPECT_FALSE(file().saveAccount({"Ann", Role::Instructor, "i-1"}, kPass)) << "sign-in is not in use";
    EXPECT_TRUE(file().accounts()->empty());
    EXPECT_FALSE(file().signIn("Cora", kPass, kNow));
    EXPECT_EQ(raw(path(), "SELECT count(*) FROM sign_in_guard"), "0\n");
}

TEST_F(AccessTest, WrongNameAndWrongPassphraseAreToldTheSame) {
    startSignIn();
    const auto name = file().signIn("Nobody", kPass, kNow);
    const auto phrase = file().signIn("Ann", kPass, kNow);
    ASSERT_FALSE(name);
    ASSERT_FALSE(phrase);
    EXPECT_EQ(name.error(), phrase.error());
    EXPECT_EQ(name.error().kind, ErrorKind::Refused);
    EXPECT_FALSE(file().signIn("Nobody", m_code, kNow)) << "the string that is checked instead opens nothing";
}

TEST_F(AccessTest, FailuresAreOnDiskBeforeTheAnswerAndMakeTheNextTryWait) {
    startSignIn();
    for (int i = 1; i <= 3; ++i) {
        EXPECT_EQ(file().signInWait(kNow).value(), 0);
        EXPECT_FALSE(file().signIn("Ann", kPass, kNow));
        EXPECT_EQ(raw(path(), "SELECT failures FROM sign_in_guard"), std::to_string(i) + "\n");
    }
    EXPECT_EQ(file().signInWait(kNow).value(), 1000);
    const auto early = file().signIn("Ann", kOther, kNow + 999);
    ASSERT_FALSE(early) << "even the right one";
    EXPECT_NE(early.error().message.find("wait 1 s"), std::string::npos) << early.error().message;
    EXPECT_EQ(raw(path(), "SELECT failures FROM sign_in_guard"), "3\n") << "not looked at, not counted";
    m_file.reset();
    m_file = ProgramFile::open(path()).value();
    EXPECT_EQ(file().signInWait(kNow).value(), 1000) << "opening it anew helps nobody";
    EXPECT_FALSE(file().signIn("Nobody", kPass, kNow + 1000));
    EXPECT_EQ(file().signInWait(kNow + 1000).value(), 2000) << "for every name";
    EXPECT_TRUE(file().signIn("Ann", kOther, kNow + 3000));
    EXPECT_EQ(file().signInWait(kNow + 3000).value(), 0);
    EXPECT_EQ(raw(path(), "SELECT failures FROM sign_in_guard"), "0\n");
}

TEST_F(AccessTest, AClockThatWasSetBackKeepsNobodyOutForLong) {
    startSignIn();
    for (int i = 0; i < 4; ++i) (void)file().signIn("Ann", kPass, kNow + i * 10'000);
    const std::int64_t back = kNow - 86'400'000;
    EXPECT_EQ(file().signInWait(back).value(), 2000);
    EXPECT_EQ(file().signInWait(back + 1500).value(), 500) << "it goes on by the clock of now";
    EXPECT_TRUE(file().signIn("Ann", kOther, back + 2000));
}

TEST_F(AccessTest, AFileThatCannotBeWrittenLetsNobodyIn) {
    startSignIn();
    const auto reader = ProgramFile::open(path(), OpenMode::ReadOnly).value();
    EXPECT_EQ(reader->accounts()->size(), 3U);
    const auto refused = reader->signIn("Ann", kOther, kNow);
    ASSERT_FALSE(refused) << "what is not counted can be tried as often as one likes";
    EXPECT_EQ(refused.error().kind, ErrorKind::Machine);
}

TEST_F(AccessTest, TheRecoveryCodeMakesANewPassphraseAndTheNextCode) {
    startSignIn();
    std::string typed = m_code;
    for (char& c : typed) c = c == '-' ? ' ' : static_cast<char>(std::tolower(c));
    const auto next = file().recover(typed, "Cora", "quite another phrase", kNow);
    ASSERT_TRUE(next) << next.error().message;
    EXPECT_FALSE(file().signIn("Cora", kPass, kNow));
    EXPECT_TRUE(file().signIn("Cora", "quite another phrase", kNow));
    EXPECT_FALSE(file().recover(m_code, "Cora", kPass, kNow)) << "the old code is dead";
    EXPECT_TRUE(file().recover(*next, "Dora", kPass, kNow)) << "who is made where there is none";
    EXPECT_EQ(file().signIn("Dora", kPass, kNow)->role, Role::Coordinator);
    EXPECT_EQ(file().accounts()->size(), 4U);
}

TEST_F(AccessTest, GuessingTheRecoveryCodeIsAsSlow) {
    startSignIn();
    EXPECT_FALSE(file().recover(m_code, "Cora", "short", kNow));
    EXPECT_EQ(raw(path(), "SELECT failures FROM sign_in_guard"), "0\n") << "no guess yet";
    for (const char* guess : {"22222-22222-22222-22222-22222", "nothing", ""})
        EXPECT_FALSE(file().recover(guess, "Cora", kOther, kNow));
    EXPECT_FALSE(file().recover(m_code, "Cora", kOther, kNow)) << "has to wait now";
    EXPECT_FALSE(file().signIn("Cora", kPass, kNow)) << "so has a passphrase";
    EXPECT_TRUE(file().recover(m_code, "Cora", kOther, kNow + 1000));
}

TEST_F(AccessTest, TheOnlyCoordinatorStays) {
    startSignIn();
    EXPECT_FALSE(file().removeAccount("Cora"));
    EXPECT_FALSE(file().saveAccount({"Cora", Role::Instructor, "i-1"}));
    EXPECT_FALSE(file().removeAccount("Nobody"));
    ASSERT_TRUE(file().saveAccount({"Dora", Role::Coordinator, {}}, kOther));
    EXPECT_TRUE(file().removeAccount("Cora"));
    EXPECT_FALSE(file().removeAccount("Dora"));
    EXPECT_TRUE(file().endSignIn());
    EXPECT_TRUE(file().accounts()->empty());
    EXPECT_EQ(raw(path(), "SELECT count(*) FROM sign_in_guard"), "0\n");
    EXPECT_TRUE(file().startSignIn({"Cora", Role::Coordinator, {}}, kPass)) << "it can be switched on again";
}

TEST_F(AccessTest, AnAccountIsChangedWithOrWithoutItsPassphrase) {
    startSignIn();
    EXPECT_FALSE(file().saveAccount({"Dora", Role::Coordinator, {}})) << "a new one needs a passphrase";
    EXPECT_FALSE(file().saveAccount({"Ann", Role::Instructor, "i-1"}, "short"));
    ASSERT_TRUE(file().saveAccount({"Ann", Role::Instructor, "i-2"}));
    EXPECT_EQ(file().signIn("Ann", kOther, kNow)->instructor, "i-2");
    ASSERT_TRUE(file().saveAccount({"Ann", Role::Coordinator, "i-2"}, kPass));
    EXPECT_FALSE(file().signIn("Ann", kOther, kNow));
    EXPECT_EQ(file().signIn("Ann", kPass, kNow)->role, Role::Coordinator);
}

TEST_F(AccessTest, ANewRecoveryCodeKillsTheOldOne) {
    EXPECT_FALSE(file().newRecoveryCode()) << "sign-in is not in use";
    startSignIn();
    const std::string next = file().newRecoveryCode().value();
    EXPECT_NE(next, m_code);
    EXPECT_FALSE(file().recover(m_code, "Cora", kOther, kNow));
    EXPECT_TRUE(file().recover(next, "Cora", kOther, kNow));
}

TEST_F(AccessTest, SecretsStandNowhereInTheFile) {
    startSignIn();
    m_file.reset();
    std::ifstream in(path(), std::ios::binary);
    const std::string bytes((std::istreambuf_iterator<char>(in)), {});
    for (const std::string& secret : {std::string(kPass), std::string(kOther), m_code})
        EXPECT_EQ(bytes.find(secret), std::string::npos);
}

TEST_F(AccessTest, RealStringsAreArgon2idAndAnotherReaderChecksThem) {
    file().setPassphraseCost(PassphraseCost::Usual);
    ASSERT_TRUE(file().startSignIn({"Cora", Role::Coordinator, {}}, kPass));
    EXPECT_TRUE(file().signIn("Cora", kPass, kNow));
    const std::string text = raw(path(), "SELECT passphrase FROM account");
    // RFC 9106: version 19 (0x13); libsodium's documentation: INTERACTIVE is 2 passes over 64 MiB.
    EXPECT_TRUE(std::regex_match(
        text, std::regex(R"(\$argon2id\$v=19\$m=65536,t=2,p=1\$[A-Za-z0-9+/]{22}\$[A-Za-z0-9+/]{43}\n)")))
        << text;
    // Debian's own interpreter, for its python3-argon2.
    const std::string python = MARKERLAMP_PYTHON;
    if (std::system((python + " -c 'import argon2' 2>/dev/null").c_str()) != 0)
        GTEST_SKIP() << "Python's argon2 module is not installed; the form was checked";
    std::ofstream(m_folder / "hash") << text.substr(0, text.size() - 1);
    const std::string command = python + " -c \"import argon2; argon2.PasswordHasher().verify(open('" +
                                (m_folder / "hash").string() + "').read(), '" + kPass + "')\"";
    EXPECT_EQ(std::system(command.c_str()), 0);
}

TEST_F(AccessTest, AStringThatAsksForTooMuchOpensNothing) {
    startSignIn();
    for (const char* hash : {"$argon2id$v=19$m=4294967295,t=2,p=1$c2FsdHNhbHRzYWx0c2E$aGFzaA",
                             "$argon2id$v=19$m=8,t=4000000000,p=1$c2FsdHNhbHRzYWx0c2E$aGFzaA", "$argon2id$",
                             "$argon2id$v=19$m=99999999999999999999,t=1$"}) {
        raw(path(),
            (std::string("UPDATE account SET passphrase = '") + hash + "' WHERE name = 'Ann'").c_str());
        EXPECT_FALSE(file().signIn("Ann", kOther, kNow)) << hash;
        raw(path(), "UPDATE sign_in_guard SET failures = 0");
    }
}

TEST_F(AccessTest, AnInstructorSeesOwnAttemptsOnly) {
    file().actAs(kAnn);
    const auto list = file().attempts().value();
    ASSERT_EQ(list.size(), 1U);
    EXPECT_EQ(list[0].id, "a-1");
    EXPECT_EQ(file().attempts("t-1")->size(), 1U);
    EXPECT_TRUE(file().attemptInfo("a-1").value());
    EXPECT_FALSE(file().attemptInfo("a-2").value());
    EXPECT_TRUE(file().attempt("a-1"));
    auto others = file().attempt("a-2"), none = file().attempt("a-9");
    ASSERT_FALSE(others);
    ASSERT_FALSE(none);
    EXPECT_EQ(others.error().kind, ErrorKind::NotFound);
    EXPECT_EQ(others.error().message.find("a-2") == std::string::npos, false);
    others.error().message.replace(others.error().message.find("a-2"), 3, "a-9");
    EXPECT_EQ(others.error(), none.error()) << "nobody learns whether it exists";
    file().actAs({"Cora", Role::Coordinator, {}});
    EXPECT_EQ(file().attempts()->size(), 2U);
    EXPECT_TRUE(file().attempt("a-2"));
}

TEST_F(AccessTest, WhatIsWorkedOutOverAllStaysOverAll) {
    const auto before = file().practiceRecord().value()->attempts().size();
    ASSERT_EQ(before, 2U);
    file().actAs(kAnn);
    EXPECT_EQ(file().practiceRecord().value()->attempts().size(), before);
    EXPECT_TRUE(file().refillProjections());
    EXPECT_TRUE(file().wrongFigures()->empty());
}

TEST_F(AccessTest, AnInstructorAltersOwnAttemptsOnly) {
    file().actAs(kAnn);
    core::Event amendment = sampleAttempt().events.back();
    amendment.n = 8;
    const std::vector<core::Event> events{amendment};
    EXPECT_TRUE(file().mayAlter("a-1"));
    EXPECT_TRUE(file().appendEvents("a-1", events));
    for (const auto& refused : {file().appendEvents("a-2", events), file().setAside("a-2"),
                                file().mayAlter("a-2"), file().mayAlter("a-9")}) {
        ASSERT_FALSE(refused);
        EXPECT_EQ(refused.error().kind, ErrorKind::NotFound);
    }
    EXPECT_FALSE(file().addSheetRecord({"p-1", "a-2", core::SheetEvent::Made, "2026-03-20T08:30:00-05:00"}));
    EXPECT_TRUE(file().addSheetRecord({"p-1", "a-1", core::SheetEvent::Made, "2026-03-20T08:30:00-05:00"}));
    EXPECT_TRUE(file().setAside("a-1"));
    auto fresh = sampleAttempt("a-3");
    EXPECT_TRUE(file().startAttempt(fresh.header));
    fresh.header.id = "a-4";
    fresh.header.instructor = "i-2";
    EXPECT_FALSE(file().startAttempt(fresh.header)) << "in another's name";
    EXPECT_FALSE(file().addAttempt(fresh));
    file().actAs({});
    EXPECT_EQ(file().attempt("a-2")->events.size(), 7U) << "nothing came in";
}

TEST_F(AccessTest, WhatIsTheCoordinatorsIsRefusedToAnInstructorAndChangesNothing) {
    startSignIn();
    file().actAs(kAnn);
    const auto facts = file().facts().value();
    core::Trainee trainee;
    trainee.key = "t-9";
    core::Bus bus;
    bus.key = "99";
    const auto refusedOf = [](const auto& result) {
        return !result && result.error().kind == ErrorKind::Refused;
    };
    EXPECT_TRUE(refusedOf(file().setFact("program.title", "Mine")));
    EXPECT_TRUE(file().setFact("ui.zoom", "2"));
    EXPECT_TRUE(refusedOf(file().saveTrainee(trainee)));
    EXPECT_TRUE(refusedOf(file().saveInstructor({"i-1", "Other name", false})));
    EXPECT_TRUE(refusedOf(file().saveBus(bus)));
    EXPECT_TRUE(refusedOf(file().addRubric(kRubric)));
    EXPECT_TRUE(refusedOf(file().addLimitSet("")));
    EXPECT_TRUE(refusedOf(file().addBookedTest({})));
    EXPECT_TRUE(refusedOf(file().addTestResult({})));
    EXPECT_TRUE(refusedOf(file().addStruckResult({})));
    EXPECT_TRUE(refusedOf(file().addOverride({})));
    EXPECT_TRUE(refusedOf(file().saveLicence({})));
    EXPECT_TRUE(refusedOf(file().saveCourse({})));
    EXPECT_TRUE(refusedOf(file().addSettlement({})));
    EXPECT_TRUE(refusedOf(file().eraseTrainee("t-1")));
    EXPECT_TRUE(refusedOf(file().saveAccount({"Ann", Role::Coordinator, {}})));
    EXPECT_TRUE(refusedOf(file().saveAccount({"Ann", Role::Coordinator, "i-1"}, kPass)))
        << "of their own: no role";
    EXPECT_TRUE(refusedOf(file().saveAccount({"Ann", Role::Instructor, "i-2"}, kPass)))
        << "nor another's attempts";
    EXPECT_TRUE(refusedOf(file().saveAccount({"Ben", Role::Instructor, "i-2"}, kOther)))
        << "nor another's passphrase";
    EXPECT_TRUE(refusedOf(file().removeAccount("Ben")));
    EXPECT_TRUE(refusedOf(file().endSignIn()));
    EXPECT_TRUE(refusedOf(file().newRecoveryCode()));
    EXPECT_TRUE(refusedOf(file().startSignIn({"Ann", Role::Coordinator, {}}, kPass)));
    file().actAs({});
    EXPECT_EQ(file().accounts()->size(), 3U);
    EXPECT_TRUE(file().trainee("t-1").value());
    EXPECT_FALSE(file().trainee("t-9").value());
    EXPECT_EQ(file().fact("program.title").value(), std::nullopt);
    EXPECT_EQ(file().facts()->size(), facts.size() + 1) << "ui.zoom";
}

TEST_F(AccessTest, HoursAreNotedByInstructorsToo) {
    file().actAs(kAnn);
    core::ClockHours hours;
    const auto refused = file().addClockHours(hours);
    ASSERT_FALSE(refused) << "it says nothing";
    EXPECT_EQ(refused.error().message.find("coordinator"), std::string::npos);
    hours.instructor = "i-2";
    const auto another = file().addClockHours(hours);
    ASSERT_FALSE(another);
    EXPECT_NE(another.error().message.find("another instructor taught"), std::string::npos);
}

TEST_F(AccessTest, AnInstructorGivesThemselvesAnotherPassphraseAndNothingElse) {
    startSignIn();
    file().actAs(kAnn);
    ASSERT_TRUE(file().saveAccount({"Ann", Role::Instructor, "i-1"}, kPass));
    EXPECT_FALSE(file().saveAccount({"Ann", Role::Instructor, "i-1"})) << "nothing to change";
    const auto in = file().signIn("Ann", kPass, 1);
    ASSERT_TRUE(in) << in.error().message;
    EXPECT_EQ(*in, kAnn);
    file().actAs({"Cora", Role::Coordinator, {}});
    const auto trail = file().trail();
    ASSERT_TRUE(trail);
    ASSERT_FALSE(trail->empty());
    EXPECT_EQ(trail->back().by, "Ann");
}

}  // namespace
}  // namespace markerlamp::db
