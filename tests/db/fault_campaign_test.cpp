// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// A working day over a disk that fails at every place in turn, and one that loses power at every moment: what
// the program called stored is there afterwards, nothing is there by half, and what it said of the trouble is
// a sentence that people understand.

#include "db/copies/copies.h"
#include "db/copies/verify.h"
#include "db/event_writer.h"
#include "db/exchange/exchange.h"
#include "db_support.h"
#include "faulty_disk.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <chrono>
#include <iostream>

namespace markerlamp::db {
namespace {

using namespace testing;
using namespace std::chrono_literals;

constexpr int kPresses = 40;

core::Event press(int n) {
    core::Event event;
    event.n = n;
    event.t = n;
    event.kind = n == kPresses ? core::EventKind::End : core::EventKind::Show;
    if (n != kPresses) event.step = n % 2 == 0 ? "start" : "leak-test";
    return event;
}
core::Event amendment() {
    core::Event event;
    event.n = kPresses + 1;
    event.t = kPresses;
    event.kind = core::EventKind::Say;
    event.step = "leak-test";
    event.point = "engine";
    event.by = "i-1";
    event.at = "2026-03-02T07:00:00-05:00";
    return event;
}

/// Every sentence that may be said about a disk; what the library says itself is not for people.
bool isForPeople(const core::Error& error) {
    for (const char* known :
         {"the disk reports an error", "the disk is full", "the file cannot be opened", "the file is damaged",
          "another program is writing", "may not be written to", "is damaged", "is not sound",
          "is not a Markerlamp program file", "cannot be looked through", "does not make a sound file",
          "is an unfinished program file", "the file is not a program file", "is not like it", "rows of"})
        if (error.message.find(known) != std::string::npos) return true;
    return false;
}

/// What the program called done.
struct Done {
    std::atomic<int> presses{0};  ///< tickets: the header is 1
    std::atomic<bool> amended{false}, imported{false};
    std::vector<std::filesystem::path> copies;
    std::vector<core::Error> errors;
    std::mutex mutex;

    void note(const core::Error& error) {
        const std::lock_guard lock(mutex);
        errors.push_back(error);
    }
};

class Day {
public:
    explicit Day(const std::filesystem::path& folder) : m_folder(folder), m_path(folder / "p.markerlamp") {}

    /// A file of an earlier form, so that the day begins with a migration.
    static std::string startBytes() {
        const Folder folder;
        std::ostringstream sql, text;
        sql << std::ifstream(MARKERLAMP_SOURCE_DIR "/tests/old-databases/0003.sql").rdbuf();
        EXPECT_EQ(rawSql(folder / "old", sql.str()), "");
        text << std::ifstream(folder / "old", std::ios::binary).rdbuf();
        return text.str();
    }
    void begin(const std::string& bytes) const {
        std::ofstream(m_path, std::ios::binary) << bytes;
        std::ofstream(m_folder / "people.csv") << "key,name\nn-1,Wanda Invented\nn-2,Bo Invented\n";
    }

    void work(Done& done, std::chrono::milliseconds patience) const {
        const auto file = tried(done, [&] { return ProgramFile::open(m_path); });
        score(done, patience);
        if (!file) return;
        if (done.presses > kPresses &&
            tried(done, [&] { return (*file)->appendEvents("day", std::vector{amendment()}); }))
            done.amended = true;
        const auto report = tried(done, [&] { return importPaths(**file, {m_folder / "people.csv"}); });
        if (report && report->allAccepted()) done.imported = true;
        (void)tried(done, [&] { return (*file)->attempts(); });
        const auto copy = tried(done, [&] { return keepCopy(m_path, {core::CopyReason::Day, 0, false}); });
        if (copy) done.copies.push_back(copy->made);
    }

    [[nodiscard]] const std::filesystem::path& path() const { return m_path; }

private:
    /// People try a second time.
    template <class Try>
    static auto tried(Done& done, const Try& attempt) -> decltype(attempt()) {
        auto result = attempt();
        if (result) return result;
        done.note(result.error());
        result = attempt();
        if (!result) done.note(result.error());
        return result;
    }

    void score(Done& done, std::chrono::milliseconds patience) const {
        EventWriter writer(
            m_path, [&](std::uint64_t upTo) { done.presses = static_cast<int>(upTo); },
            [&](const core::Error* error, std::size_t) {
                if (error != nullptr) done.note(*error);
            },
            {1ms, 4ms});
        writer.startAttempt(sampleAttempt("day").header);
        for (int n = 1; n <= kPresses; ++n) writer.append("day", {press(n)});
        writer.flush(patience);
    }

    std::filesystem::path m_folder, m_path;
};

struct Acknowledged {
    int presses = 0;
    bool amended = false, imported = false;
};

/// Without faults: everything that was called done is there, in order, and the file is whole.
void expectKept(const std::filesystem::path& path, const Acknowledged& done) {
    const auto recovered = EventWriter::recoverSpill(path);
    ASSERT_TRUE(recovered) << recovered.error().message;
    auto file = ProgramFile::open(path);
    ASSERT_TRUE(file) << file.error().message;
    EXPECT_EQ((*file)->attempts()->size(), done.presses > 0 ? 5u : (*file)->attempts()->size());
    const auto attempt = (*file)->attempt("day");
    const int there = attempt ? static_cast<int>(attempt->events.size()) : 0;
    if (done.presses > 0) {
        ASSERT_TRUE(attempt);
        EXPECT_GE(there, std::min(done.presses - 1, kPresses));
        EXPECT_EQ(attempt->header, sampleAttempt("day").header);
    }
    for (int n = 1; n <= there; ++n)
        EXPECT_EQ(attempt->events[static_cast<std::size_t>(n) - 1], n <= kPresses ? press(n) : amendment())
            << n;
    if (done.amended) {
        EXPECT_EQ(there, kPresses + 1);
    }
    const bool first = (*file)->trainee("n-1")->has_value();
    EXPECT_EQ(first, (*file)->trainee("n-2")->has_value()) << "a document goes in whole or not at all";
    if (done.imported) {
        EXPECT_TRUE(first);
    }
    EXPECT_EQ((*file)->rubricText("small", 1).value(), kRubric) << "and nothing of before is lost";
    EXPECT_EQ((*file)->attempt("a-1")->events.size(), 4u);
    file->reset();
    const auto report = verifyProgram(path);
    ASSERT_TRUE(report) << report.error().message;
    EXPECT_TRUE(report->good()) << report->integrity
                                << (report->problems.empty() ? "" : report->problems[0].message);
}

class Campaign : public ::testing::Test {
protected:
    struct Ran {
        int days = 0, errors = 0;
    };

    void runDay(FaultyDisk& disk, const FaultyDisk::Fault& fault, Ran& ran) {
        const Folder folder(true);
        const Day day(folder / "");
        day.begin(m_start);
        Done done;
        disk.plan(fault);
        day.work(done, fault.lasting ? 20ms : 10s);
        disk.plan({});
        ++ran.days;
        ran.errors += static_cast<int>(done.errors.size());
        for (const core::Error& error : done.errors)
            EXPECT_TRUE(isForPeople(error)) << error.message << " (" << error.detail << ")";
        expectKept(day.path(), {done.presses, done.amended, done.imported});
        EXPECT_FALSE(std::filesystem::exists(day.path().string() + ".refused.jsonl"));
        if (!fault.lasting) {
            EXPECT_EQ(done.presses, kPresses + 1) << "one failure is made up for";
        }
        // Every third day, as looking them through takes longest.
        for (const CopyFile& copy : fault.at % 3 == 0 ? copiesOf(day.path()) : std::vector<CopyFile>{})
            EXPECT_TRUE(verifyProgram(copy.path)->good()) << copy.path << " was given its name";
        for (const auto& copy : done.copies) EXPECT_TRUE(std::filesystem::exists(copy));
    }

    std::string m_start = Day::startBytes();
};

TEST_F(Campaign, TheDiskFailsAtEveryCall) {
    const auto began = std::chrono::steady_clock::now();
    FaultyDisk disk;
    Ran ran;
    runDay(disk, {}, ran);
    EXPECT_EQ(ran.errors, 0) << "a day without faults";
    std::array<int, kDiskCalls> calls{};
    {
        const Folder folder(true);
        const Day day(folder / "");
        day.begin(m_start);
        Done done;
        disk.plan({});
        day.work(done, 10s);
        calls = disk.counts();
    }
    const std::array<std::vector<FaultyDisk::Fault>, kDiskCalls> kinds{{
        {{DiskCall::Open, 0, SQLITE_CANTOPEN}},
        {{DiskCall::Read, 0, SQLITE_IOERR_READ}},
        {{DiskCall::Write, 0, SQLITE_IOERR_WRITE},
         {DiskCall::Write, 0, SQLITE_FULL},
         {DiskCall::Write, 0, SQLITE_IOERR_WRITE, true}},
        {{DiskCall::Truncate, 0, SQLITE_IOERR_TRUNCATE}},
        {{DiskCall::Sync, 0, SQLITE_IOERR_FSYNC}},
    }};
    const std::array<const char*, kDiskCalls> names{"open", "read", "write", "truncate", "sync"};
    for (std::size_t kind = 0; kind < kDiskCalls; ++kind) {
        Ran own;
        for (int at = 1; at <= calls[kind] && !HasFailure(); ++at) {
            // Each place fails once; the ways to fail take turns, and every seventh time it goes on failing.
            FaultyDisk::Fault fault = kinds[kind][static_cast<std::size_t>(at) % kinds[kind].size()];
            fault.at = at;
            fault.lasting = at % 7 == 0;
            SCOPED_TRACE(std::string(names[kind]) + " " + std::to_string(at) + " of " +
                         std::to_string(calls[kind]) + (fault.lasting ? " and all later" : "") +
                         (fault.torn ? ", torn" : ""));
            runDay(disk, fault, own);
        }
        std::cout << names[kind] << ": days " << own.days << ", errors told " << own.errors << "\n";
        RecordProperty(std::string(names[kind]) + "_days", own.days);
        ran.days += own.days;
        ran.errors += own.errors;
    }
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - began;
    std::cout << "days with a failing disk: " << ran.days << ", errors told " << ran.errors << ", seconds "
              << took.count() << "\n";
    RecordProperty("days", ran.days);
    EXPECT_GT(ran.errors, ran.days / 4);
}

TEST_F(Campaign, ThePowerGoesAtEveryMoment) {
    struct Cut {
        std::map<std::string, std::string> files;
        Acknowledged done;
    };
    constexpr int kPasses = 8;
    int cuts = 0, moments = 0;
    for (int pass = 0; pass < kPasses && !HasFailure(); ++pass) {
        FaultyDisk disk;
        std::vector<Cut> taken;
        std::mt19937 random(static_cast<unsigned>(pass) + 1);
        {
            const Folder folder(true);
            const Day day(folder / "");
            day.begin(m_start);
            Done done;
            int moment = 0;
            disk.remember([&] {
                if (moment++ % kPasses != pass) return;
                const Acknowledged known{done.presses, done.amended, done.imported};
                taken.push_back({disk.afterCut(random), known});
            });
            day.work(done, 10s);
            moments = moment;
            disk.forget();
            EXPECT_EQ(done.presses, kPresses + 1);
        }
        for (std::size_t i = 0; i < taken.size() && !HasFailure(); ++i) {
            SCOPED_TRACE("pass " + std::to_string(pass) + ", cut " + std::to_string(i) + " of " +
                         std::to_string(taken.size()) + ", presses stored " +
                         std::to_string(taken[i].done.presses));
            const Folder folder(true);
            for (const auto& [name, bytes] : taken[i].files)
                if (name.starts_with("p.markerlamp") && !name.ends_with("-shm"))
                    std::ofstream(folder / name, std::ios::binary) << bytes;
            if (!std::filesystem::exists(folder / "p.markerlamp"))
                std::ofstream(folder / "p.markerlamp", std::ios::binary) << m_start;
            expectKept(folder / "p.markerlamp", taken[i].done);
            ++cuts;
        }
    }
    std::cout << "power cuts: " << cuts << " at " << moments << " moments\n";
    RecordProperty("cuts", cuts);
    EXPECT_GT(cuts, moments / 2);
}

}  // namespace
}  // namespace markerlamp::db
