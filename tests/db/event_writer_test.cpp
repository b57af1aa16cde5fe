// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/event_writer.h"

#include "db_support.h"

#include <gtest/gtest.h>

#include <condition_variable>
#include <mutex>

#include <sys/wait.h>
#include <unistd.h>

namespace markerlamp::db {
namespace {

using namespace testing;
using namespace std::chrono_literals;

/// What the writer told, for the test's thread.
class Told {
public:
    EventWriter::Stored stored() {
        return [this](std::uint64_t upTo) {
            const std::lock_guard lock(m_mutex);
            m_upTo = upTo;
            m_changed.notify_all();
        };
    }
    EventWriter::Trouble trouble() {
        return [this](const core::Error* error, std::size_t) {
            const std::lock_guard lock(m_mutex);
            m_troubles += error != nullptr ? 1 : 0;
            m_inTrouble = error != nullptr;
            if (error != nullptr) m_kind = error->kind;
            m_changed.notify_all();
        };
    }
    template <class Condition>
    bool wait(Condition condition) {
        std::unique_lock lock(m_mutex);
        return m_changed.wait_for(lock, 20s, [&] { return condition(*this); });
    }

    std::uint64_t m_upTo = 0;
    int m_troubles = 0;
    bool m_inTrouble = false;
    core::ErrorKind m_kind = core::ErrorKind::Refused;

private:
    std::mutex m_mutex;
    std::condition_variable m_changed;
};

core::Event show(int n) {
    core::Event event;
    event.n = n;
    event.t = n;
    event.kind = core::EventKind::Show;
    event.step = n % 2 == 0 ? "start" : "leak-test";
    return event;
}

TEST(EventWriter, StoresPressesInOrderAndSaysSo) {
    Folder folder;
    const auto path = folder / "p.markerlamp";
    auto file = programWithRubric(path);
    Told told;
    EventWriter writer(path, told.stored(), told.trouble());
    EXPECT_EQ(writer.startAttempt(sampleAttempt().header), 1u);
    for (int n = 1; n <= 50; ++n) writer.append("a-1", {show(n)});
    ASSERT_TRUE(writer.flush(20s));
    EXPECT_TRUE(told.wait([](const Told& t) { return t.m_upTo == 51; }));
    EXPECT_EQ(file->attempt("a-1").value().events.size(), 50u);
    EXPECT_EQ(told.m_troubles, 0);
}

// An amendment bears the name of who writes it down; the trail, of who had signed in.
TEST(EventWriter, TheTrailNamesWhoHadSignedIn) {
    Folder folder;
    const auto path = folder / "p.markerlamp";
    programWithRubric(path);
    const core::Attempt whole = sampleAttempt("a-1");
    const std::vector<core::Event> all = whole.events;
    {
        EventWriter writer(
            path, [](std::uint64_t) {}, [](const core::Error*, std::size_t) {}, {1ms, 4ms});
        writer.startAttempt(whole.header);
        writer.append("a-1", {all.begin(), all.begin() + 6}, "ada");
        ASSERT_TRUE(writer.flush(20s));
        std::filesystem::rename(path, folder / "aside");
        writer.append("a-1", {all[6]}, "Cora");
        EXPECT_FALSE(writer.flush(50ms));
    }
    // It waited beside the file, name and all.
    std::filesystem::rename(folder / "aside", path);
    EXPECT_EQ(EventWriter::recoverSpill(path).value(), 1);
    const auto trail = ProgramFile::open(path).value()->trail().value();
    ASSERT_GE(trail.size(), 2u);
    EXPECT_EQ(trail[trail.size() - 2].what, "attempt.ended");
    EXPECT_EQ(trail[trail.size() - 2].by, "ada");
    EXPECT_EQ(trail.back().what, "attempt.amended");
    EXPECT_EQ(trail.back().by, "Cora");
}

// Figure of the design: one transaction and one sync per press.
TEST(EventWriter, SyncsOncePerPress) {
    Folder folder;
    const WatchedDisk disk;
    const auto path = folder / "p.markerlamp";
    programWithRubric(path);
    Told told;
    EventWriter writer(path, told.stored(), told.trouble());
    writer.startAttempt(sampleAttempt().header);
    writer.append("a-1", {show(1)});
    ASSERT_TRUE(writer.flush(20s));
    const int before = WatchedDisk::syncs();
    for (int n = 2; n <= 21; ++n) writer.append("a-1", {show(n)});
    ASSERT_TRUE(writer.flush(20s));
    EXPECT_EQ(WatchedDisk::syncs() - before, 20);
}

TEST(EventWriter, HoldsSpillsAndRetriesWhileTheDiskFails) {
    Folder folder;
    const WatchedDisk disk;
    const auto path = folder / "p.markerlamp";
    auto file = programWithRubric(path);
    Told told;
    EventWriter writer(path, told.stored(), told.trouble(), {5ms, 20ms});
    writer.startAttempt(sampleAttempt().header);
    writer.append("a-1", {show(1)});
    ASSERT_TRUE(writer.flush(20s));
    WatchedDisk::failing() = true;
    writer.append("a-1", {show(2)});
    writer.append("a-1", {show(3)});
    ASSERT_TRUE(told.wait([](const Told& t) { return t.m_inTrouble && t.m_troubles >= 2; }));
    EXPECT_EQ(told.m_kind, core::ErrorKind::Machine);
    EXPECT_EQ(writer.waiting(), 2u);
    EXPECT_TRUE(std::filesystem::exists(EventWriter::spillPath(path)));
    EXPECT_EQ(told.m_upTo, 2u) << "nothing is called stored that is not";
    WatchedDisk::failing() = false;
    ASSERT_TRUE(told.wait([](const Told& t) { return !t.m_inTrouble && t.m_upTo == 4; }));
    EXPECT_EQ(file->attempt("a-1").value().events.size(), 3u);
    EXPECT_FALSE(std::filesystem::exists(EventWriter::spillPath(path)));
}

// With no other connection open, the commit whose sync failed is found in the log when the file is opened
// again: the retry must see that it is there and not store it twice or call it refused.
TEST(EventWriter, ARetryFindsThatThePressIsThereAlready) {
    Folder folder;
    const WatchedDisk disk;
    const auto path = folder / "p.markerlamp";
    programWithRubric(path);
    Told told;
    EventWriter writer(path, told.stored(), told.trouble(), {5ms, 20ms});
    writer.startAttempt(sampleAttempt().header);
    ASSERT_TRUE(writer.flush(20s));
    WatchedDisk::failing() = true;
    writer.append("a-1", {show(1), show(2)});
    ASSERT_TRUE(told.wait([](const Told& t) { return t.m_inTrouble; }));
    WatchedDisk::failing() = false;
    ASSERT_TRUE(told.wait([](const Told& t) { return !t.m_inTrouble && t.m_upTo == 2; }));
    writer.append("a-1", {show(3)});
    ASSERT_TRUE(writer.flush(20s));
    EXPECT_EQ(ProgramFile::open(path).value()->attempt("a-1").value().events.size(), 3u);
    EXPECT_FALSE(std::filesystem::exists(path.string() + ".refused.jsonl"));
}

TEST(EventWriter, WaitsForAFileThatWasTakenAway) {
    Folder folder;
    const auto path = folder / "p.markerlamp";
    programWithRubric(path);
    std::filesystem::rename(path, folder / "away");
    Told told;
    EventWriter writer(path, told.stored(), told.trouble(), {5ms, 20ms});
    writer.startAttempt(sampleAttempt().header);
    ASSERT_TRUE(told.wait([](const Told& t) { return t.m_inTrouble; }));
    std::filesystem::rename(folder / "away", path);
    ASSERT_TRUE(told.wait([](const Told& t) { return !t.m_inTrouble && t.m_upTo == 1; }));
}

TEST(EventWriter, WhatWasHeldWhenTheProgramEndedIsStoredNextTime) {
    Folder folder;
    const auto path = folder / "p.markerlamp";
    {
        const WatchedDisk disk;
        programWithRubric(path);
        Told told;
        EventWriter writer(path, told.stored(), told.trouble(), {5ms, 20ms});
        writer.startAttempt(sampleAttempt().header);
        writer.append("a-1", {show(1), show(2)});
        ASSERT_TRUE(writer.flush(20s));
        WatchedDisk::failing() = true;
        writer.append("a-1", {show(3)});
        writer.append("a-1", {show(4)});
        ASSERT_TRUE(told.wait([](const Told& t) { return t.m_troubles >= 2; }));
    }
    ASSERT_TRUE(std::filesystem::exists(EventWriter::spillPath(path)));
    // How many are stored only now is not certain: one whose sync failed may be in the log after all.
    ASSERT_TRUE(EventWriter::recoverSpill(path));
    EXPECT_EQ(ProgramFile::open(path).value()->attempt("a-1").value().events.size(), 4u);
    EXPECT_FALSE(std::filesystem::exists(EventWriter::spillPath(path)));
    EXPECT_EQ(EventWriter::recoverSpill(path).value(), 0);
}

TEST(EventWriter, APressThatCanNeverBeStoredDoesNotBlockOtherAttempts) {
    Folder folder;
    const auto path = folder / "p.markerlamp";
    auto file = programWithRubric(path);
    Told told;
    EventWriter writer(path, told.stored(), told.trouble());
    writer.startAttempt(sampleAttempt("a-1").header);
    writer.startAttempt(sampleAttempt("a-2").header);
    writer.append("a-1", {show(5)});  // a gap
    writer.append("a-1", {show(6)});
    writer.append("a-2", {show(1)});
    ASSERT_TRUE(writer.flush(20s));
    ASSERT_TRUE(told.wait([](const Told& t) { return t.m_upTo == 5; }));
    EXPECT_EQ(told.m_troubles, 1);
    EXPECT_EQ(file->attempt("a-1").value().events.size(), 0u);
    EXPECT_EQ(file->attempt("a-2").value().events.size(), 1u);
    EXPECT_TRUE(std::filesystem::exists(path.string() + ".refused.jsonl"));
}

// A child appends presses and tells each one that is stored; it is killed at a moment that a seed chooses.
// Whatever it told must be there, numbered without a gap, and no press may be there by half.
TEST(EventWriter, EveryPressItAcknowledgedSurvivesAKill) {
    Folder folder;
    std::uint64_t state = 20260302;
    int acknowledged = 0;
    for (int round = 0; round < 25; ++round) {
        const auto path = folder / ("p" + std::to_string(round) + ".markerlamp");
        programWithRubric(path);
        int pipeEnds[2];
        ASSERT_EQ(::pipe(pipeEnds), 0);
        const pid_t child = ::fork();
        ASSERT_GE(child, 0);
        if (child == 0) {
            ::close(pipeEnds[0]);
            EventWriter writer(
                path,
                [&](std::uint64_t upTo) {
                    const int told = static_cast<int>(upTo);
                    if (::write(pipeEnds[1], &told, sizeof told) < 0) ::_exit(1);
                },
                [](const core::Error*, std::size_t) {});
            writer.startAttempt(sampleAttempt().header);
            for (int n = 1; n < 200'000; n += 2) {
                writer.append("a-1", {show(n), show(n + 1)});
                while (writer.waiting() > 3) ::usleep(50);
            }
            ::_exit(0);
        }
        ::close(pipeEnds[1]);
        // Every second one dies at any moment, start included; the others once a press was acknowledged,
        // however slow the disk is.
        int last = 0;
        if (round % 2 == 1) {
            ASSERT_EQ(::read(pipeEnds[0], &last, sizeof last), static_cast<ssize_t>(sizeof last));
        }
        state = state * 6364136223846793005u + 1442695040888963407u;
        ::usleep(3'000 + static_cast<useconds_t>((state >> 33) % 40'000));
        ::kill(child, SIGKILL);
        int status = 0;
        ::waitpid(child, &status, 0);
        for (int told = 0; ::read(pipeEnds[0], &told, sizeof told) == sizeof told;) last = told;
        ::close(pipeEnds[0]);
        acknowledged += last;
        auto file = ProgramFile::open(path);
        ASSERT_TRUE(file) << file.error().message;
        if (last == 0) continue;
        const auto attempt = (*file)->attempt("a-1");
        ASSERT_TRUE(attempt);
        EXPECT_GE(static_cast<int>(attempt->events.size()), 2 * (last - 1)) << "round " << round;
        EXPECT_EQ(attempt->events.size() % 2, 0u) << "a press by half in round " << round;
        for (std::size_t i = 0; i < attempt->events.size(); ++i)
            ASSERT_EQ(attempt->events[i].n, static_cast<int>(i) + 1);
    }
    std::printf("kills: 25, presses acknowledged: %d, all there\n", acknowledged);
    EXPECT_GE(acknowledged, 12);
}

}  // namespace
}  // namespace markerlamp::db
