// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Days on which something happens to the file or its place: full disk, read-only medium, deleted, replaced,
// folder gone, cut off between the renames of a copy or a restoring, ten thousand attempts. What was called
// stored stays, what was pressed waits, nothing gets into a stranger's file, and the words say what is wrong.

#include "core/base/text.h"
#include "db/copies/copies.h"
#include "db/copies/restore.h"
#include "db/copies/verify.h"
#include "db/event_writer.h"
#include "db/salvage/salvage.h"
#include "db/whole_files.h"
#include "db/writer/own_place.h"
#include "db/writer/spill_file.h"
#include "db_support.h"
#include "faulty_disk.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <atomic>
#include <cerrno>
#include <condition_variable>
#include <fstream>
#include <iostream>
#include <mutex>
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

namespace markerlamp::db {
namespace {

using namespace testing;
using namespace std::chrono_literals;
using ::testing::HasSubstr;

core::Event press(int n) {
    core::Event event;
    event.n = n;
    event.t = n;
    event.kind = core::EventKind::Show;
    event.step = n % 2 == 0 ? "start" : "leak-test";
    return event;
}

/// A writer and what it told.
class Scoring {
public:
    explicit Scoring(const std::filesystem::path& path)
        : m_writer(
              path, [this](std::uint64_t upTo) { tell([&] { m_upTo = upTo; }); },
              [this](const core::Error* error, std::size_t) {
                  tell([&] { m_trouble = error != nullptr ? error->message : ""; });
              },
              {1ms, 4ms}) {
        m_writer.startAttempt(sampleAttempt("day").header);
    }
    void presses(int count) {
        for (int i = 0; i < count; ++i) m_writer.append("day", {press(++m_pressed)});
    }
    /// All that was pressed is stored, and no trouble is left.
    bool stored() {
        return wait(
            [this] { return m_upTo == static_cast<std::uint64_t>(m_pressed) + 1 && m_trouble.empty(); });
    }
    /// Either that or trouble: true for trouble.
    bool meetsTrouble() {
        const auto all = static_cast<std::uint64_t>(m_pressed) + 1;
        wait([&] { return m_upTo == all || !m_trouble.empty(); });
        const std::lock_guard lock(m_mutex);
        return !m_trouble.empty();
    }
    std::string trouble() {
        wait([this] { return !m_trouble.empty(); });
        const std::lock_guard lock(m_mutex);
        return m_trouble;
    }
    /// Waits till the trouble is in these words.
    bool says(const std::string& words) {
        return wait([&] { return m_trouble.find(words) != std::string::npos; });
    }
    /// Waits till it was told again, so that a further try was made.
    void againInTrouble() {
        const int before = told();
        wait([&] { return m_told > before + 1; });
    }
    [[nodiscard]] int pressed() const { return m_pressed; }
    [[nodiscard]] std::size_t waiting() const { return m_writer.waiting(); }

private:
    template <class Change>
    void tell(const Change& change) {
        const std::lock_guard lock(m_mutex);
        change();
        ++m_told;
        m_changed.notify_all();
    }
    int told() {
        const std::lock_guard lock(m_mutex);
        return m_told;
    }
    template <class Condition>
    bool wait(const Condition& condition) {
        std::unique_lock lock(m_mutex);
        return m_changed.wait_for(lock, 20s, condition);
    }

    std::mutex m_mutex;
    std::condition_variable m_changed;
    std::uint64_t m_upTo = 0;
    std::string m_trouble;
    int m_told = 0, m_pressed = 0;
    EventWriter m_writer;
};

class Trouble : public ::testing::Test {
protected:
    void SetUp() override {
        std::filesystem::create_directory(m_place);
        programWithRubric(m_path);
        ::setenv("XDG_DATA_HOME", (m_folder / "data").c_str(), 1);
    }
    void TearDown() override {
        ::unsetenv("XDG_DATA_HOME");
        g_noSync = false;
    }
    /// The file and what SQLite keeps beside it.
    static void moveWhole(const std::filesystem::path& from, const std::filesystem::path& to) {
        for (const char* tail : {"", "-wal", "-shm"})
            if (std::filesystem::exists(from.string() + tail))
                std::filesystem::rename(from.string() + tail, to.string() + tail);
    }
    /// Puts copies of the file and its log in their places: the same bytes in other files.
    void replaceByCopies() {
        for (const char* tail : {"-wal", ""}) {
            const std::filesystem::path name = m_path.string() + tail;
            std::filesystem::copy_file(name, m_folder / "copy");
            std::filesystem::rename(m_folder / "copy", name);
        }
    }
    void expectAll(const std::filesystem::path& path, int pressed) {
        auto file = ProgramFile::open(path);
        ASSERT_TRUE(file) << file.error().message;
        const auto attempt = (*file)->attempt("day");
        ASSERT_TRUE(attempt) << attempt.error().message;
        EXPECT_EQ(static_cast<int>(attempt->events.size()), pressed);
        file->reset();
        EXPECT_TRUE(verifyProgram(path)->good());
        EXPECT_FALSE(std::filesystem::exists(path.string() + ".refused.jsonl"));
        EXPECT_FALSE(std::filesystem::exists(EventWriter::spillPath(path)));
    }
    [[nodiscard]] std::string bytesOf(const std::filesystem::path& path) const {
        return everything(m_folder / "").at(std::filesystem::relative(path, m_folder / "").string());
    }

    Folder m_folder{true};
    std::filesystem::path m_place = m_folder / "place";
    std::filesystem::path m_path = m_place / "p.markerlamp";
};

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

TEST_F(Trouble, AFileThatWasDeletedGetsNothingMoreAndComesBackWhole) {
    const auto aside = m_folder / "aside";
    Scoring scoring(m_path);
    scoring.presses(5);
    ASSERT_TRUE(scoring.stored());
    std::filesystem::copy_file(m_path, aside);
    std::filesystem::copy_file(m_path.string() + "-wal", aside.string() + "-wal");
    for (const char* tail : {"", "-wal", "-shm"}) std::filesystem::remove(m_path.string() + tail);
    scoring.presses(3);
    EXPECT_THAT(scoring.trouble(),
                ::testing::AnyOf(HasSubstr("not there any more"), HasSubstr("there is no file")));
    EXPECT_TRUE(std::filesystem::exists(EventWriter::spillPath(m_path)));
    EXPECT_FALSE(std::filesystem::exists(m_path)) << "no empty file is made in its place";
    // A copy that has all that was stored is taken: that is only with its log.
    std::filesystem::rename(aside, m_path);
    EXPECT_TRUE(scoring.says("it lacks what was stored there")) << scoring.trouble();
    std::filesystem::rename(aside.string() + "-wal", m_path.string() + "-wal");
    ASSERT_TRUE(scoring.stored());
    expectAll(m_path, 8);
}

TEST_F(Trouble, NothingIsWrittenIntoAFileThatTookItsPlace) {
    const auto other = m_folder / "other", mine = m_folder / "mine";
    ASSERT_TRUE(programWithRubric(other)->setFact("program.title", "Other"));
    const std::string others = bytesOf(other);
    Scoring scoring(m_path);
    scoring.presses(5);
    ASSERT_TRUE(scoring.stored());
    // As a person would who puts a file of the same name there, log and all.
    moveWhole(m_path, mine);
    std::filesystem::rename(other, m_path);
    scoring.presses(3);
    scoring.againInTrouble();
    EXPECT_THAT(scoring.trouble(), HasSubstr("another file has taken the place"));
    EXPECT_TRUE(bytesOf(m_path) == others);
    EXPECT_FALSE(std::filesystem::exists(m_path.string() + ".refused.jsonl"));
    moveWhole(mine, m_path);
    ASSERT_TRUE(scoring.stored());
    expectAll(m_path, 8);
}

TEST_F(Trouble, AFileIsPutBackPieceByPieceInAnyOrder) {
    std::vector<std::string> order{"", "-shm", "-wal"};
    int orders = 0;
    do {
        SCOPED_TRACE("file" + order[0] + ", file" + order[1] + ", file" + order[2]);
        const Folder folder(true);
        const auto path = folder / "p.markerlamp", other = folder / "other", mine = folder / "mine";
        programWithRubric(path);
        ASSERT_TRUE(programWithRubric(other)->setFact("program.title", "Other"));
        Scoring scoring(path);
        scoring.presses(5);
        ASSERT_TRUE(scoring.stored());
        for (const std::string& tail : order)
            std::filesystem::rename(path.string() + tail, mine.string() + tail);
        std::filesystem::rename(other, path);
        scoring.presses(3);
        EXPECT_NE(scoring.trouble(), "");
        for (const std::string& tail : order) {
            // The writer has looked at what lies there before the next piece comes, and left it alone.
            scoring.againInTrouble();
            EXPECT_EQ(std::filesystem::exists(path.string() + "-wal"),
                      !std::filesystem::exists(mine.string() + "-wal"));
            std::filesystem::rename(mine.string() + tail, path.string() + tail);
        }
        ASSERT_TRUE(scoring.stored()) << scoring.trouble();
        expectAll(path, 8);
        ++orders;
    } while (std::next_permutation(order.begin(), order.end()));
    EXPECT_EQ(orders, 6);
}

TEST_F(Trouble, ALogThatWasTakenAwayIsWaitedFor) {
    const std::filesystem::path log = m_path.string() + "-wal", aside = m_folder / "log";
    auto window = ProgramFile::open(m_path).value();
    Scoring scoring(m_path);
    scoring.presses(5);
    ASSERT_TRUE(scoring.stored());
    ASSERT_TRUE(window->setFact("program.title", "Ours"));
    std::filesystem::rename(log, aside);
    scoring.presses(3);
    EXPECT_THAT(scoring.trouble(), HasSubstr("log"));
    EXPECT_FALSE(std::filesystem::exists(log)) << "none is made in its place";
    const auto refused = window->setFact("program.title", "Nobody's");
    ASSERT_FALSE(refused);
    EXPECT_THAT(refused.error().message, HasSubstr("put it back"));
    std::filesystem::rename(aside, log);
    ASSERT_TRUE(scoring.stored());
    EXPECT_TRUE(window->setFact("program.title", "Ours still"));
    window.reset();
    expectAll(m_path, 8);
}

TEST_F(Trouble, ALogThatWasDeletedIsNotNeededByWhoHasItOpen) {
    {
        Scoring scoring(m_path);
        scoring.presses(5);
        ASSERT_TRUE(scoring.stored());
        std::filesystem::remove(m_path.string() + "-wal");
        scoring.presses(3);
        EXPECT_THAT(scoring.trouble(), HasSubstr("log"));
    }
    EXPECT_EQ(EventWriter::recoverSpill(m_path).value(), 3);
    expectAll(m_path, 8);
}

TEST_F(Trouble, AnOlderFileInItsPlaceIsNotBroughtUpToDate) {
    const auto other = m_folder / "other", mine = m_folder / "mine";
    std::ostringstream sql;
    sql << std::ifstream(MARKERLAMP_SOURCE_DIR "/tests/old-databases/0001.sql").rdbuf();
    ASSERT_EQ(rawSql(other, sql.str()), "");
    const std::string others = bytesOf(other);
    Scoring scoring(m_path);
    scoring.presses(5);
    ASSERT_TRUE(scoring.stored());
    moveWhole(m_path, mine);
    std::filesystem::rename(other, m_path);
    scoring.presses(1);
    EXPECT_TRUE(scoring.says("it lacks what was stored there")) << scoring.trouble();
    EXPECT_TRUE(bytesOf(m_path) == others);
    std::vector<std::string> names;
    for (const auto& [name, bytes] : everything(m_place))
        if (!name.starts_with(".")) names.push_back(name);
    EXPECT_THAT(names, ::testing::ElementsAre("p.markerlamp", "p.markerlamp.waiting.jsonl"));
}

TEST_F(Trouble, OurLogBesideAnothersFileDoesNotMakeItOurs) {
    const auto other = m_folder / "other", mine = m_folder / "mine";
    ASSERT_TRUE(programWithRubric(other)->setFact("program.title", "Other"));
    const std::string others = bytesOf(other);
    // The log holds the presses only: the pages of the trail went into the file when it was closed.
    Scoring scoring(m_path);
    scoring.presses(5);
    ASSERT_TRUE(scoring.stored());
    moveWhole(m_path, mine);
    std::filesystem::rename(other, m_path);
    // Carried over from another disk: under its name lies a file with another number.
    std::filesystem::copy_file(mine.string() + "-wal", m_path.string() + "-wal");
    scoring.presses(1);
    EXPECT_TRUE(scoring.says("it lacks what was stored there")) << scoring.trouble();
    EXPECT_TRUE(bytesOf(m_path) == others);
    EXPECT_TRUE(bytesOf(m_path.string() + "-wal") == bytesOf(mine.string() + "-wal"));
    std::filesystem::copy_file(mine, m_path, std::filesystem::copy_options::overwrite_existing);
    ASSERT_TRUE(scoring.stored());
    expectAll(m_path, 6);
}

TEST_F(Trouble, NothingElseIsOpenedWhereAnotherFileTookThePlace) {
    const auto other = m_folder / "other", mine = m_folder / "mine";
    ASSERT_TRUE(programWithRubric(other)->setFact("program.title", "Other"));
    auto window = ProgramFile::open(m_path).value();
    Scoring scoring(m_path);
    scoring.presses(5);
    ASSERT_TRUE(scoring.stored());
    // Only the file: its log stays, and SQLite would take it into the other one.
    std::filesystem::rename(m_path, mine);
    std::filesystem::rename(other, m_path);
    const auto before = everything(m_place);
    for (const OpenMode mode : {OpenMode::ReadOnly, OpenMode::ReadWrite}) {
        const auto opened = ProgramFile::open(m_path, mode);
        ASSERT_FALSE(opened);
        EXPECT_EQ(opened.error().kind, core::ErrorKind::Machine);
        EXPECT_THAT(opened.error().message, HasSubstr("another file has taken the place"));
    }
    EXPECT_FALSE(keepCopy(m_path, {core::CopyReason::Day, 0, true}));
    EXPECT_FALSE(verifyProgram(m_path));
    EXPECT_TRUE(everything(m_place) == before);
    std::filesystem::rename(mine, m_path);
    EXPECT_TRUE(ProgramFile::open(m_path, OpenMode::ReadOnly));
    scoring.presses(1);
    ASSERT_TRUE(scoring.stored());
    window.reset();
    expectAll(m_path, 6);
}

// As the window does: pages read in the background, copies are made, while somebody moves the file about.
TEST_F(Trouble, ReadersComeAndGoWhileTheFileIsAway) {
    const auto other = m_folder / "other", mine = m_folder / "mine";
    auto window = ProgramFile::open(m_path).value();
    Scoring scoring(m_path);
    scoring.presses(5);
    ASSERT_TRUE(scoring.stored());
    std::atomic<bool> over = false;
    std::vector<std::thread> readers;
    for (int i = 0; i < 2; ++i)
        readers.emplace_back([&] {
            while (!over)
                if (auto file = ProgramFile::open(m_path, OpenMode::ReadOnly)) (void)(*file)->attempts();
        });
    for (int round = 0; round < 20 && !HasFailure(); ++round) {
        SCOPED_TRACE(round);
        programWithRubric(other);
        std::filesystem::rename(m_path, mine);
        scoring.presses(1);
        EXPECT_TRUE(scoring.meetsTrouble());
        std::filesystem::rename(other, m_path);
        scoring.againInTrouble();
        std::filesystem::rename(mine, m_path);
        EXPECT_TRUE(scoring.stored()) << scoring.trouble();
        for (int more = 0; more < 3; ++more) {
            scoring.presses(1);
            EXPECT_TRUE(scoring.stored()) << scoring.trouble();
        }
    }
    over = true;
    for (std::thread& reader : readers) reader.join();
    window.reset();
    expectAll(m_path, scoring.pressed());
}

TEST_F(Trouble, ALogThatWasTakenAwayBeforeTheFirstPressIsWaitedFor) {
    const std::filesystem::path log = m_path.string() + "-wal", aside = m_folder / "log";
    auto window = ProgramFile::open(m_path).value();
    ASSERT_TRUE(window->setFact("program.title", "Only in the log"));
    {
        EventWriter writer(
            m_path, [](std::uint64_t) {}, [](const core::Error*, std::size_t) {}, {1ms, 4ms});
        std::this_thread::sleep_for(300ms);  // it opens the file by itself
        std::filesystem::rename(log, aside);
        writer.startAttempt(sampleAttempt("day").header);
        EXPECT_FALSE(writer.flush(100ms));
        EXPECT_FALSE(std::filesystem::exists(log));
        std::filesystem::rename(aside, log);
        EXPECT_TRUE(writer.flush(20s));
    }
    window.reset();
    EXPECT_EQ(ProgramFile::open(m_path).value()->fact("program.title").value(), "Only in the log");
    expectAll(m_path, 0);
}

TEST_F(Trouble, TheFileInAnotherPlaceOfTheDiskIsTakenBeforeAnyPress) {
    EventWriter writer(
        m_path, [](std::uint64_t) {}, [](const core::Error*, std::size_t) {}, {1ms, 4ms});
    std::this_thread::sleep_for(300ms);
    replaceByCopies();
    writer.startAttempt(sampleAttempt("day").header);
    EXPECT_TRUE(writer.flush(20s));
    expectAll(m_path, 0);
}

TEST_F(Trouble, AFileThatCouldNotBeLookedIntoIsLookedIntoAgain) {
    auto window = ProgramFile::open(m_path).value();
    Scoring scoring(m_path);
    scoring.presses(5);
    ASSERT_TRUE(scoring.stored());
    replaceByCopies();
    g_noSync = true;
    scoring.presses(1);
    EXPECT_TRUE(scoring.says("cannot be looked into now")) << scoring.trouble();
    g_noSync = false;
    EXPECT_TRUE(scoring.stored());
    window.reset();
    expectAll(m_path, 6);
}

// A copy of the file in its place, and the log stays: a connection to each would write into the one log.
TEST_F(Trouble, OnlyTheFileReplacedByACopyIsOpenedWhenTheOneBeforeIsClosed) {
    auto window = ProgramFile::open(m_path).value();
    {
        Scoring scoring(m_path);
        scoring.presses(5);
        ASSERT_TRUE(scoring.stored());
        std::filesystem::rename(m_path, m_folder / "mine");
        std::filesystem::copy_file(m_folder / "mine", m_path);
        scoring.presses(2);
        EXPECT_TRUE(scoring.says("beside the log of the one before")) << scoring.trouble();
        std::this_thread::sleep_for(3s);  // nor when it has lain there for a while
        EXPECT_THAT(scoring.trouble(), HasSubstr("beside the log"));
        std::filesystem::rename(m_folder / "mine", m_path);
        EXPECT_TRUE(scoring.stored());
        std::filesystem::rename(m_path, m_folder / "mine");
        std::filesystem::copy_file(m_folder / "mine", m_path);
        scoring.presses(3);
        EXPECT_TRUE(scoring.says("beside the log")) << scoring.trouble();
    }
    window.reset();
    EXPECT_EQ(EventWriter::recoverSpill(m_path).value(), 3);
    expectAll(m_path, 10);
}

TEST_F(Trouble, ALogThatACrashLeftFitsItsOwnFileOnly) {
    const auto left = m_folder / "left", other = m_folder / "other", older = m_folder / "older";
    std::filesystem::copy_file(m_path, older);
    {
        auto window = ProgramFile::open(m_path).value();
        ASSERT_TRUE(window->setFact("program.title", "Ours"));
        Scoring scoring(m_path);
        scoring.presses(40);
        ASSERT_TRUE(scoring.stored());
        for (const char* tail : {"", "-wal"})
            std::filesystem::copy_file(m_path.string() + tail, left.string() + tail);
    }
    ASSERT_TRUE(programWithRubric(other)->setFact("program.title", "Other"));
    ASSERT_TRUE(ProgramFile::open(other).value()->addAttempt(sampleAttempt("day")));
    EXPECT_TRUE(logFits(left));
    EXPECT_TRUE(logFits(other)) << "no log at all";
    std::filesystem::copy_file(left.string() + "-wal", other.string() + "-wal");
    const auto before = everything(m_folder / "");
    const auto fits = logFits(other);
    ASSERT_FALSE(fits);
    EXPECT_EQ(fits.error().kind, core::ErrorKind::Refused);
    EXPECT_THAT(fits.error().message, HasSubstr("other-wal is the log of another file"));
    EXPECT_TRUE(everything(m_folder / "") == before);
    // A copy of before, in whose place nothing was taken out of the log yet, is as good as the file.
    std::filesystem::copy_file(left.string() + "-wal", older.string() + "-wal");
    EXPECT_TRUE(logFits(older));
    expectAll(left, 40);
    expectAll(older, 40);
}

TEST_F(Trouble, AnothersLogIsNotClearedAwayWhenTheFileIsClosed) {
    const std::filesystem::path log = m_path.string() + "-wal";
    {
        Scoring scoring(m_path);
        scoring.presses(5);
        ASSERT_TRUE(scoring.stored());
        std::filesystem::remove(log);
        std::ofstream(log) << "somebody else's";
        scoring.presses(3);
        EXPECT_THAT(scoring.trouble(), HasSubstr("log"));
    }
    EXPECT_EQ(bytesOf(log), "somebody else's");
    std::filesystem::remove(log);
    EXPECT_EQ(EventWriter::recoverSpill(m_path).value(), 3);
    expectAll(m_path, 8);
}

TEST_F(Trouble, ALogIsFoundWhereALinkLeads) {
    const std::filesystem::path log = m_path.string() + "-wal", link = m_folder / "link";
    std::filesystem::create_symlink(m_path, link);
    Scoring scoring(link);
    scoring.presses(5);
    ASSERT_TRUE(scoring.stored());
    std::filesystem::rename(log, m_folder / "log");
    scoring.presses(1);
    EXPECT_TRUE(scoring.says("put it back")) << scoring.trouble();
    std::filesystem::rename(m_folder / "log", log);
    ASSERT_TRUE(scoring.stored());
    expectAll(m_path, 6);
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
    g_noSync = true;
    EXPECT_FALSE(appendPresses(path, {line(4)}));
    g_noSync = false;
    EXPECT_EQ(bytesOf(path), before) << "all or nothing";
    const auto presses = readPresses(path).value();
    ASSERT_EQ(presses.size(), 3u);
    for (std::size_t i = 0; i < 3; ++i) EXPECT_EQ(presses[i].events.at(0).n, static_cast<int>(i) + 1);
}

TEST_F(Trouble, AStartIsNotWrittenIntoAFileThatTookThePlaceBefore) {
    const auto other = m_folder / "other", mine = m_folder / "mine";
    programWithRubric(other);
    const std::string others = bytesOf(other);
    EventWriter writer(
        m_path, [](std::uint64_t) {}, [](const core::Error*, std::size_t) {}, {1ms, 4ms});
    std::filesystem::rename(m_path, mine);
    std::filesystem::rename(other, m_path);
    writer.startAttempt(sampleAttempt("day").header);
    EXPECT_FALSE(writer.flush(100ms));
    EXPECT_TRUE(bytesOf(m_path) == others);
    std::filesystem::rename(mine, m_path);
    EXPECT_TRUE(writer.flush(20s));
}

TEST_F(Trouble, AFolderThatIsGoneIsWaitedFor) {
    Scoring scoring(m_path);
    scoring.presses(5);
    ASSERT_TRUE(scoring.stored());
    std::filesystem::rename(m_place, m_folder / "gone");
    scoring.presses(4);
    EXPECT_THAT(scoring.trouble(),
                ::testing::AnyOf(HasSubstr("not there any more"), HasSubstr("there is no file")));
    EXPECT_EQ(scoring.waiting(), 4u);
    std::filesystem::rename(m_folder / "gone", m_place);
    ASSERT_TRUE(scoring.stored());
    expectAll(m_path, 9);
}

TEST_F(Trouble, PressesThatFitAnotherFileAreLeftWhereTheyAre) {
    const auto mine = m_folder / "mine";
    {
        EventWriter writer(
            m_path, [](std::uint64_t) {}, [](const core::Error*, std::size_t) {});
        writer.startAttempt(sampleAttempt("day").header);
        ASSERT_TRUE(writer.flush(20s));
        moveWhole(m_path, mine);
        writer.append("day", {press(1)});
        EXPECT_FALSE(writer.flush(50ms));
    }
    programWithRubric(m_path);
    const auto before = everything(m_folder / "");
    const auto recovered = EventWriter::recoverSpill(m_path);
    ASSERT_FALSE(recovered);
    EXPECT_THAT(recovered.error().message,
                HasSubstr("p.markerlamp.waiting.jsonl holds presses that do not fit"));
    EXPECT_TRUE(everything(m_folder / "") == before);
    moveWhole(mine, m_path);
    EXPECT_EQ(EventWriter::recoverSpill(m_path).value(), 1);
}

// SQLite takes a log for that of whatever file lies beside it.
TEST_F(Trouble, TheLogOfAFileThatIsGoneGetsIntoNoNewOne) {
    const auto copy = m_folder / "copy.markerlamp", log = m_folder / "log";
    ASSERT_TRUE(copyTo(m_path, copy));
    {
        auto file = ProgramFile::open(m_path).value();
        ASSERT_TRUE(file->addAttempt(sampleAttempt("a-1")));
        std::filesystem::copy_file(m_path.string() + "-wal", log);
    }
    std::filesystem::remove(m_path);
    for (const char* tail : {"-wal", "-journal"}) {
        std::filesystem::copy_file(log, m_path.string() + tail);
        const auto before = everything(m_folder / "");
        const auto refuses = [&](const auto& result) {
            ASSERT_FALSE(result);
            EXPECT_THAT(result.error().message, HasSubstr(m_path.string() + tail));
            EXPECT_TRUE(everything(m_folder / "") == before);
        };
        refuses(ProgramFile::create(m_path));
        refuses(restoreProgram(copy, m_path));
        refuses(copyTo(copy, m_path));
        refuses(salvage(copy, m_path));
        std::filesystem::remove(m_path.string() + tail);
    }
    EXPECT_TRUE(restoreProgram(copy, m_path));
    EXPECT_TRUE(verifyProgram(m_path)->good());
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
