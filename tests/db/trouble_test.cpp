// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Days on which the machine fails: full disk, read-only medium, a place that takes no waiting file, cut off
// between the renames of a copy or a restoring, ten thousand attempts. What was called stored stays, what was
// pressed waits, and the words say what is wrong.

#include "db/copies/copies.h"
#include "db/copies/restore.h"
#include "db/copies/verify.h"
#include "db/whole_files.h"
#include "db/writer/spill_file.h"
#include "faulty_disk.h"
#include "scoring.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <atomic>
#include <cerrno>
#include <fstream>
#include <iostream>
#include <sstream>
#include <thread>
#include <vector>

#include <dlfcn.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

namespace {

/// Steps of a process at which it is cut off: every sync, rename, link and removal. Only in a child of the
/// test.
int g_cutAt = 0;
/// No sync works, as on a full disk. Of the whole process.
std::atomic<bool> g_noSync = false;
int g_steps = 0;
void step() {
    if (g_cutAt > 0 && ++g_steps >= g_cutAt) ::_exit(0);
}
template <class Function>
Function next(const char* name) {
    return reinterpret_cast<Function>(::dlsym(RTLD_NEXT, name));
}

}  // namespace

// In place of the C library's, for the program and for SQLite alike. Cut off before each.
extern "C" int fsync(int fd) {
    step();
    if (g_noSync) {
        errno = ENOSPC;
        return -1;
    }
    return next<int (*)(int)>("fsync")(fd);
}
extern "C" int fdatasync(int fd) {
    step();
    return next<int (*)(int)>("fdatasync")(fd);
}
extern "C" int rename(const char* from, const char* to) noexcept {
    step();
    return next<int (*)(const char*, const char*)>("rename")(from, to);
}
extern "C" int renameat2(int a, const char* from, int b, const char* to, unsigned flags) noexcept {
    step();
    return next<int (*)(int, const char*, int, const char*, unsigned)>("renameat2")(a, from, b, to, flags);
}
extern "C" int unlink(const char* path) noexcept {
    step();
    return next<int (*)(const char*)>("unlink")(path);
}
extern "C" int mkdir(const char* path, mode_t mode) noexcept {
    step();
    return next<int (*)(const char*, mode_t)>("mkdir")(path, mode);
}

void markerlamp::db::testing::noSyncWorks(bool on) {
    g_noSync = on;
}

namespace markerlamp::db {
namespace {

using namespace testing;
using ::testing::HasSubstr;

TEST_F(Trouble, ADiskThatIsFullFromAnyWriteOnHoldsAllUntilThereIsSpace) {
    FaultyDisk disk;
    disk.plan({});
    constexpr int kPresses = 12;
    {
        Scoring scoring(m_path);
        scoring.presses(kPresses);
        ASSERT_TRUE(scoring.stored());
    }
    const int writes = disk.counts()[static_cast<std::size_t>(DiskCall::Write)];
    int days = 0, held = 0;
    for (int at = 1; at <= writes && !HasFailure(); ++at, ++days) {
        SCOPED_TRACE("full from write " + std::to_string(at) + " of " + std::to_string(writes));
        const Folder folder(true);
        const auto path = folder / "p.markerlamp";
        programWithRubric(path);
        FaultyDisk::Fault full{DiskCall::Write, at, SQLITE_FULL};
        full.lasting = true;
        disk.plan(full);
        {
            Scoring scoring(path);
            scoring.presses(kPresses);
            if (scoring.meetsTrouble()) {
                EXPECT_THAT(scoring.trouble(), HasSubstr("the disk is full"));
                EXPECT_GT(scoring.waiting(), 0u);
                EXPECT_TRUE(std::filesystem::exists(EventWriter::spillPath(path)));
                ++held;
            }
            disk.plan({});
            EXPECT_TRUE(scoring.stored());
        }
        disk.plan({});
        expectAll(path, kPresses);
    }
    std::cout << "days with a full disk: " << days << ", presses held " << held << "\n";
    RecordProperty("days", days);
    EXPECT_GT(held, days / 2);
}

TEST_F(Trouble, WhatCannotWaitBesideTheFileWaitsInTheDataFolder) {
    {
        Scoring scoring(m_path);
        scoring.presses(5);
        ASSERT_TRUE(scoring.stored());
        std::filesystem::rename(m_place, m_folder / "gone");
        scoring.presses(4);
        EXPECT_TRUE(scoring.meetsTrouble());
    }
    std::filesystem::rename(m_folder / "gone", m_place);
    const auto elsewhere = spillPlaces(m_path).at(1);
    EXPECT_EQ(elsewhere.parent_path(), m_folder / "data/markerlamp/waiting");
    using std::filesystem::perms;
    EXPECT_EQ(std::filesystem::status(elsewhere).permissions(), perms::owner_read | perms::owner_write);
    EXPECT_EQ(std::filesystem::status(elsewhere.parent_path()).permissions(), perms::owner_all);
    EXPECT_EQ(EventWriter::recoverSpill(m_path).value(), 4);
    EXPECT_FALSE(std::filesystem::exists(elsewhere));
    expectAll(m_path, 9);
}

TEST_F(Trouble, WhatIsPressedBetweenTwoTriesWaitsBesideTheFileAtOnce) {
    EventWriter writer(
        m_path, [](std::uint64_t) {}, [](const core::Error*, std::size_t) {}, {1h, 1h});
    writer.startAttempt(sampleAttempt("day").header);
    ASSERT_TRUE(writer.flush(20s));
    std::filesystem::rename(m_path, m_folder / "mine");
    const auto waiting = [&] {
        const auto presses = readPresses(EventWriter::spillPath(m_path));
        return presses ? presses->size() : 0;
    };
    for (int n = 1; n <= 5; ++n) {
        writer.append("day", {press(n)});
        for (int i = 0; i < 2000 && waiting() < static_cast<std::size_t>(n); ++i)
            std::this_thread::sleep_for(10ms);
        EXPECT_EQ(waiting(), static_cast<std::size_t>(n));
    }
}

TEST_F(Trouble, ALineTornByTheEndOfThePowerCostsNoOther) {
    const auto path = m_folder / "waiting";
    const auto line = [](int n) {
        Press one;
        one.attempt = "day";
        one.events = {press(n)};
        return one;
    };
    ASSERT_TRUE(appendPresses(path, {line(1)}));
    const std::string whole = bytesOf(path);
    std::ofstream(path, std::ios::app) << whole.substr(0, whole.size() / 2);
    ASSERT_TRUE(appendPresses(path, {line(2), line(3)}));
    const std::string before = bytesOf(path);
    noSyncWorks(true);
    EXPECT_FALSE(appendPresses(path, {line(4)}));
    noSyncWorks(false);
    EXPECT_EQ(bytesOf(path), before) << "all or nothing";
    const auto presses = readPresses(path).value();
    ASSERT_EQ(presses.size(), 3u);
    for (std::size_t i = 0; i < 3; ++i) EXPECT_EQ(presses[i].events.at(0).n, static_cast<int>(i) + 1);
}

/// What the child finds as somebody whom permissions bind; 0: as it should be.
int asNobody(const std::filesystem::path& path) {
    auto writing = ProgramFile::open(path);
    if (writing || writing.error().message.find("may not be written to") == std::string::npos) return 1;
    auto reading = ProgramFile::open(path, OpenMode::ReadOnly);
    if (!reading || (*reading)->attempt("a-1").value() != sampleAttempt("a-1")) return 2;
    if ((*reading)->setFact("program.title", "x")) return 3;
    if ((*reading)->attempts()->size() != 1) return 4;
    if (const auto report = verifyProgram(path); !report || !report->good()) return 5;
    const auto copied = keepCopy(path, {core::CopyReason::Day, 0, false});
    if (copied || copied.error().message.find(".copies cannot be made") == std::string::npos) return 6;
    Scoring scoring(path);
    scoring.presses(2);
    if (scoring.trouble().find("may not be written to") == std::string::npos || scoring.waiting() != 3)
        return 7;
    return 0;
}

TEST_F(Trouble, AReadOnlyMediumIsReadAndSaysSoWhereItCannotBeWrittenTo) {
    ASSERT_TRUE(ProgramFile::open(m_path).value()->addAttempt(sampleAttempt("a-1")));
    constexpr uid_t kNobody = 65534;
    const bool root = ::geteuid() == 0;
    if (root) {
        ASSERT_EQ(::chown((m_folder / "").c_str(), kNobody, kNobody), 0);
        ASSERT_EQ(::chown(m_place.c_str(), kNobody, kNobody), 0);
        ASSERT_EQ(::chown(m_path.c_str(), kNobody, kNobody), 0);
    }
    ASSERT_EQ(::chmod(m_path.c_str(), 0400), 0);
    ASSERT_EQ(::chmod(m_place.c_str(), 0500), 0);
    const auto before = everything(m_place);
    const pid_t child = ::fork();
    ASSERT_GE(child, 0);
    if (child == 0) ::_exit(root && ::setresuid(kNobody, kNobody, kNobody) != 0 ? 99 : asNobody(m_path));
    int status = 0;
    ASSERT_EQ(::waitpid(child, &status, 0), child);
    ASSERT_TRUE(WIFEXITED(status));
    EXPECT_EQ(WEXITSTATUS(status), 0);
    EXPECT_TRUE(everything(m_place) == before);
    EXPECT_EQ(readPresses(spillPlaces(m_path).at(1))->size(), 3u) << "they wait elsewhere";
    ::chmod(m_place.c_str(), 0700);
}

// The renames of whole files are no calls of SQLite's: a child is cut off before each sync, rename, link and
// removal in turn. (What the disk may lose of what was not synced is in fault_campaign_test.)
struct Piece {
    const char* name;
    std::function<bool(const std::filesystem::path& program, const std::filesystem::path& other)> work;
    bool replaces = false;  ///< the program file may be the other one afterwards
};

class CutOff : public ::testing::TestWithParam<Piece> {};

TEST_P(CutOff, LeavesEveryFileThatHasANameWhole) {
    const Folder model(true);
    const auto file = model / "p.markerlamp", other = model / "other.markerlamp";
    ASSERT_TRUE(programWithRubric(file)->addAttempt(sampleAttempt("a-1")));
    ASSERT_TRUE(programWithRubric(other)->addAttempt(sampleAttempt("b-1")));
    int cuts = 0;
    for (int at = 1; !HasFailure(); ++at) {
        SCOPED_TRACE("cut off before step " + std::to_string(at));
        ASSERT_LT(at, 2000);
        const Folder folder(true);
        const auto here = folder / "p.markerlamp", there = folder / "other.markerlamp";
        std::filesystem::copy_file(file, here);
        std::filesystem::copy_file(other, there);
        const pid_t child = ::fork();
        ASSERT_GE(child, 0);
        if (child == 0) {
            g_steps = 0;
            g_cutAt = at;
            const bool done = GetParam().work(here, there);
            g_cutAt = 0;
            ::_exit(done ? 7 : 8);
        }
        int status = 0;
        ASSERT_EQ(::waitpid(child, &status, 0), child);
        ASSERT_TRUE(WIFEXITED(status));
        const bool finished = WEXITSTATUS(status) != 0;
        EXPECT_TRUE(!finished || WEXITSTATUS(status) == 7);
        // Everything under a name that people see is whole; one of the two programs is in the first place,
        // and the one that was there is somewhere.
        bool kept = false;
        for (const auto& entry : std::filesystem::recursive_directory_iterator(folder / "")) {
            const std::string name = entry.path().filename().string();
            if (!entry.is_regular_file() || name.starts_with(".") || !name.ends_with("markerlamp")) continue;
            const auto report = verifyProgram(entry.path());
            ASSERT_TRUE(report) << name << ": " << report.error().message;
            EXPECT_TRUE(report->good()) << name;
            kept = kept ||
                   ProgramFile::open(entry.path(), OpenMode::ReadOnly).value()->attempt("a-1").has_value();
        }
        EXPECT_TRUE(kept);
        auto now = ProgramFile::open(here);
        ASSERT_TRUE(now) << now.error().message;
        const bool old = (*now)->attempt("a-1").has_value();
        EXPECT_NE(old, (*now)->attempt("b-1").has_value());
        EXPECT_TRUE(old || GetParam().replaces);
        EXPECT_EQ((*now)->rubricText("small", 1).value(), kRubric);
        now->reset();
        if (finished) break;
        ++cuts;
        // What the run that was cut off left is in nobody's way.
        EXPECT_TRUE(GetParam().work(here, there));
    }
    std::cout << GetParam().name << ": cut off at " << cuts << " steps\n";
    RecordProperty("cuts", cuts);
    EXPECT_GT(cuts, 3);
}

INSTANTIATE_TEST_SUITE_P(
    Pieces, CutOff,
    ::testing::Values(
        Piece{"Copy",
              [](const auto& program, const auto&) {
                  return keepCopy(program, {core::CopyReason::Day, 0, false}).has_value();
              }},
        Piece{"CopyTo",
              [](const auto& program, const auto& other) {
                  const auto name = other.parent_path() / "copy.markerlamp";
                  return std::filesystem::exists(name) || copyTo(program, name).has_value();
              }},
        Piece{
            "Restore",
            [](const auto& program, const auto& other) { return restoreProgram(other, program).has_value(); },
            true},
        Piece{"Make",
              [](const auto& program, const auto&) {
                  const auto name = program.parent_path() / "new.markerlamp";
                  return std::filesystem::exists(name) || ProgramFile::create(name).has_value();
              }},
        Piece{"Migrate",
              [](const auto& program, const auto&) {
                  const auto name = program.parent_path() / "old.markerlamp";
                  std::ostringstream sql;
                  sql << std::ifstream(MARKERLAMP_SOURCE_DIR "/tests/old-databases/0001.sql").rdbuf();
                  if (!std::filesystem::exists(name)) {
                      const int cutAt = std::exchange(g_cutAt, 0);
                      rawSql(name, sql.str());
                      g_cutAt = cutAt;
                  }
                  return ProgramFile::open(name).has_value();
              }}),
    [](const auto& one) { return std::string(one.param.name); });

TEST_F(Trouble, TenThousandAttemptsAreOpenedListedVerifiedCopiedAndScoredOn) {
    constexpr int kAttempts = 10'000;
    {
        auto file = ProgramFile::open(m_path).value();
        ASSERT_TRUE(file->transaction([&]() -> core::Result<void> {
            for (int i = 0; i < kAttempts; ++i) {
                core::Attempt attempt = sampleAttempt("x-" + std::to_string(i));
                attempt.events.resize(2);
                if (auto added = file->addAttempt(attempt); !added) return core::fail(added.error());
            }
            return {};
        }));
    }
    auto file = ProgramFile::open(m_path).value();
    EXPECT_EQ(file->attempts()->size(), static_cast<std::size_t>(kAttempts));
    {
        Scoring scoring(m_path);
        scoring.presses(1);
        ASSERT_TRUE(scoring.stored());
    }
    EXPECT_EQ(file->attempt("day")->events, std::vector{press(1)});
    file.reset();
    const auto report = verifyProgram(m_path);
    ASSERT_TRUE(report);
    EXPECT_TRUE(report->good());
    EXPECT_EQ(report->attempts, kAttempts + 1);
    EXPECT_EQ(report->events, 2LL * kAttempts + 1);
    const auto copy = keepCopy(m_path, {core::CopyReason::Day, 0, false});
    ASSERT_TRUE(copy);
    EXPECT_TRUE(sameRecords(copy->made, m_path).value());
}

}  // namespace
}  // namespace markerlamp::db
