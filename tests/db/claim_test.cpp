// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// One window at a time writes to a program file, and a killed one is in nobody's way.

#include "db/claim.h"

#include "db_support.h"

#include <gtest/gtest.h>

#include <csignal>
#include <filesystem>
#include <fstream>
#include <functional>
#include <string>
#include <vector>

#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

namespace markerlamp::db {
namespace {

namespace fs = std::filesystem;

class ClaimTest : public ::testing::Test {
protected:
    void SetUp() override { std::ofstream(m_program) << "a program file"; }

    /// A process that claims the file, tells so, and waits to be killed.
    [[nodiscard]] pid_t holderElsewhere() const {
        int told[2];
        EXPECT_EQ(::pipe(told), 0);
        const pid_t child = ::fork();
        if (child == 0) {
            const auto got = Claim::on(m_program);
            const char answer = got.claim ? 'y' : 'n';
            if (::write(told[1], &answer, 1) != 1) ::_exit(2);
            for (;;) ::pause();
        }
        char answer = 0;
        EXPECT_EQ(::read(told[0], &answer, 1), 1);
        EXPECT_EQ(answer, 'y');
        ::close(told[0]);
        ::close(told[1]);
        return child;
    }
    static void killNow(pid_t child) {
        ASSERT_EQ(::kill(child, SIGKILL), 0);
        int status = 0;
        ASSERT_EQ(::waitpid(child, &status, 0), child);
        ASSERT_TRUE(WIFSIGNALED(status));
    }

    testing::Folder m_dir;
    fs::path m_program = m_dir / "p.markerlamp";
};

TEST_F(ClaimTest, IsOnesOwnUntilItEnds) {
    auto first = Claim::on(m_program);
    ASSERT_TRUE(first.claim);
    const auto second = Claim::on(m_program);
    EXPECT_FALSE(second.claim);
    ASSERT_TRUE(second.heldBy);
    EXPECT_EQ(second.heldBy->process, std::to_string(::getpid()));
    EXPECT_FALSE(second.heldBy->host.empty());
    EXPECT_FALSE(second.heldBy->user.empty());
    EXPECT_EQ(second.heldBy->since.size(), std::string("2026-03-02T06:12:40Z").size());
    first.claim.reset();
    EXPECT_FALSE(fs::exists(Claim::placeFor(m_program))) << "nothing stays beside the records";
    EXPECT_TRUE(Claim::on(m_program).claim);
}

TEST_F(ClaimTest, TellsTheHoldersProcessAndGoesWithItHoweverItEnds) {
    for (int round = 0; round < 20; ++round) {
        const pid_t child = holderElsewhere();
        const auto asked = Claim::on(m_program);
        EXPECT_FALSE(asked.claim);
        ASSERT_TRUE(asked.heldBy);
        EXPECT_EQ(asked.heldBy->process, std::to_string(child));
        killNow(child);
        EXPECT_TRUE(fs::exists(Claim::placeFor(m_program))) << "a killed process clears nothing away";
        EXPECT_TRUE(Claim::on(m_program).claim) << "round " << round;
    }
}

TEST_F(ClaimTest, IsTheSameByWhateverNameTheFileIsReached) {
    const fs::path link = m_dir / "link";
    fs::create_symlink(m_program, link);
    const auto first = Claim::on(m_program);
    ASSERT_TRUE(first.claim);
    EXPECT_TRUE(Claim::on(link).heldBy);
    EXPECT_TRUE(Claim::on(m_dir / "." / "p.markerlamp").heldBy);
}

TEST_F(ClaimTest, WhateverAKilledOneLeftIsNobodysClaim) {
    const std::vector<std::string> leftovers{"", "host", "host\nuser\n1\n2026-03-02T06:12:40Z\n",
                                             std::string(5000, '\n'), std::string("\0\xff\n", 3)};
    for (const std::string& left : leftovers) {
        std::ofstream(Claim::placeFor(m_program), std::ios::binary) << left;
        EXPECT_TRUE(Claim::on(m_program).claim) << left.size() << " bytes";
    }
}

TEST_F(ClaimTest, AHolderThatWroteNothingYetIsAHolder) {
    const pid_t child = holderElsewhere();
    fs::resize_file(Claim::placeFor(m_program), 0);
    const auto asked = Claim::on(m_program);
    EXPECT_FALSE(asked.claim);
    ASSERT_TRUE(asked.heldBy);
    EXPECT_TRUE(asked.heldBy->host.empty());
    killNow(child);
}

TEST_F(ClaimTest, WithoutAPlaceThereIsNeitherClaimNorHolder) {
    const auto nowhere = Claim::on(m_dir / "gone" / "p.markerlamp");
    EXPECT_FALSE(nowhere.claim);
    EXPECT_FALSE(nowhere.heldBy);
    // A link laid there must not make this program write elsewhere.
    const fs::path victim = m_dir / "letter";
    std::ofstream(victim) << "Dear driver,";
    fs::create_symlink(victim, Claim::placeFor(m_program));
    const auto linked = Claim::on(m_program);
    EXPECT_FALSE(linked.claim);
    EXPECT_FALSE(linked.heldBy);
    EXPECT_EQ(fs::file_size(victim), 12u);
}

TEST_F(ClaimTest, MayBeAskedForByWhoMayWriteToTheProgram) {
    ASSERT_EQ(::chmod(m_program.c_str(), 0660), 0);
    const auto got = Claim::on(m_program);
    ASSERT_TRUE(got.claim);
    struct stat place {};
    ASSERT_EQ(::stat(Claim::placeFor(m_program).c_str(), &place), 0);
    EXPECT_EQ(place.st_mode & 0777, 0660u);
}

/// Eight processes take and leave the file as fast as they can; whoever has it makes a folder that only one
/// can make, and removes it.
TEST_F(ClaimTest, NeverTwoAtOnceInACrowd) {
    const fs::path alone = m_dir / "alone";
    std::vector<pid_t> crowd;
    for (int one = 0; one < 8; ++one) {
        const pid_t child = ::fork();
        ASSERT_GE(child, 0);
        if (child == 0) {
            int had = 0;
            for (int tries = 0; tries < 20000 && had < 50; ++tries) {
                const auto got = Claim::on(m_program);
                if (!got.claim) continue;
                if (::mkdir(alone.c_str(), 0700) != 0) ::_exit(9);
                if (::rmdir(alone.c_str()) != 0) ::_exit(8);
                ++had;
            }
            ::_exit(had > 0 ? 0 : 7);
        }
        crowd.push_back(child);
    }
    for (const pid_t child : crowd) {
        int status = 0;
        ASSERT_EQ(::waitpid(child, &status, 0), child);
        EXPECT_TRUE(WIFEXITED(status));
        EXPECT_EQ(WEXITSTATUS(status), 0);
    }
}

}  // namespace
}  // namespace markerlamp::db
