// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The file, its log or its folder goes away, is replaced, or is put back piece by piece. What was called
// stored stays, what was pressed waits, and nothing gets into a stranger's file.

#include "core/base/text.h"
#include "db/copies/copies.h"
#include "db/copies/restore.h"
#include "db/salvage/salvage.h"
#include "db/writer/own_place.h"
#include "scoring.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sqlite3.h>

#include <algorithm>
#include <atomic>
#include <fstream>
#include <functional>
#include <optional>
#include <sstream>
#include <string>
#include <thread>
#include <utility>
#include <vector>

namespace markerlamp::db {
namespace {

using namespace testing;
using ::testing::HasSubstr;

class Place : public Trouble {
protected:
    /// A program of somebody else; what its file holds.
    std::string makeOther() const {
        EXPECT_TRUE(programWithRubric(m_other)->setFact("program.title", "Other"));
        return bytesOf(m_other);
    }
    /// The file and what SQLite keeps beside it.
    static void moveWhole(const std::filesystem::path& from, const std::filesystem::path& to) {
        for (const char* tail : {"", "-wal", "-shm"})
            if (std::filesystem::exists(from.string() + tail))
                std::filesystem::rename(from.string() + tail, to.string() + tail);
    }
    /// As a person would who puts a file of the same name there, log and all.
    void otherTakesThePlace() const {
        moveWhole(m_path, m_mine);
        std::filesystem::rename(m_other, m_path);
    }
    /// Puts copies of the file and its log in their places: the same bytes in other files.
    void replaceByCopies() {
        for (const char* tail : {"-wal", ""}) {
            const std::filesystem::path name = m_path.string() + tail;
            std::filesystem::copy_file(name, m_folder / "copy");
            std::filesystem::rename(m_folder / "copy", name);
        }
    }

    std::filesystem::path m_other = m_folder / "other", m_mine = m_folder / "mine";
};

TEST_F(Place, AFileThatWasDeletedGetsNothingMoreAndComesBackWhole) {
    const auto aside = m_folder / "aside";
    Scoring scoring(m_path, 5);
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

TEST_F(Place, NothingIsWrittenIntoAFileThatTookItsPlace) {
    const std::string others = makeOther();
    Scoring scoring(m_path, 5);
    // As a person would who puts a file of the same name there, log and all.
    otherTakesThePlace();
    scoring.presses(3);
    scoring.againInTrouble();
    EXPECT_THAT(scoring.trouble(), HasSubstr("another file has taken the place"));
    EXPECT_TRUE(bytesOf(m_path) == others);
    EXPECT_FALSE(std::filesystem::exists(m_path.string() + ".refused.jsonl"));
    moveWhole(m_mine, m_path);
    ASSERT_TRUE(scoring.stored());
    expectAll(m_path, 8);
}

TEST_F(Place, AFileIsPutBackPieceByPieceInAnyOrder) {
    std::vector<std::string> order{"", "-shm", "-wal"};
    int orders = 0;
    do {
        SCOPED_TRACE("file" + order[0] + ", file" + order[1] + ", file" + order[2]);
        const Folder folder(true);
        const auto path = folder / "p.markerlamp", other = folder / "other", mine = folder / "mine";
        programWithRubric(path);
        ASSERT_TRUE(programWithRubric(other)->setFact("program.title", "Other"));
        Scoring scoring(path, 5);
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

TEST_F(Place, ALogThatWasTakenAwayIsWaitedFor) {
    const std::filesystem::path log = m_path.string() + "-wal", aside = m_folder / "log";
    auto window = ProgramFile::open(m_path).value();
    Scoring scoring(m_path, 5);
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

TEST_F(Place, ALogThatWasDeletedIsNotNeededByWhoHasItOpen) {
    {
        Scoring scoring(m_path, 5);
        std::filesystem::remove(m_path.string() + "-wal");
        scoring.presses(3);
        EXPECT_THAT(scoring.trouble(), HasSubstr("log"));
    }
    EXPECT_EQ(EventWriter::recoverSpill(m_path).value(), 3);
    expectAll(m_path, 8);
}

TEST_F(Place, AnOlderFileInItsPlaceIsNotBroughtUpToDate) {
    std::ostringstream sql;
    sql << std::ifstream(MARKERLAMP_SOURCE_DIR "/tests/old-databases/0001.sql").rdbuf();
    ASSERT_EQ(rawSql(m_other, sql.str()), "");
    const std::string others = bytesOf(m_other);
    Scoring scoring(m_path, 5);
    otherTakesThePlace();
    scoring.presses(1);
    EXPECT_TRUE(scoring.says("it lacks what was stored there")) << scoring.trouble();
    EXPECT_TRUE(bytesOf(m_path) == others);
    std::vector<std::string> names;
    for (const auto& [name, bytes] : everything(m_place))
        if (!name.starts_with(".")) names.push_back(name);
    EXPECT_THAT(names, ::testing::ElementsAre("p.markerlamp", "p.markerlamp.waiting.jsonl"));
}

TEST_F(Place, OurLogBesideAnothersFileDoesNotMakeItOurs) {
    const std::string others = makeOther();
    // The log holds the presses only: the pages of the trail went into the file when it was closed.
    Scoring scoring(m_path, 5);
    otherTakesThePlace();
    // Carried over from another disk: under its name lies a file with another number.
    std::filesystem::copy_file(m_mine.string() + "-wal", m_path.string() + "-wal");
    scoring.presses(1);
    EXPECT_TRUE(scoring.says("it lacks what was stored there")) << scoring.trouble();
    EXPECT_TRUE(bytesOf(m_path) == others);
    EXPECT_TRUE(bytesOf(m_path.string() + "-wal") == bytesOf(m_mine.string() + "-wal"));
    std::filesystem::copy_file(m_mine, m_path, std::filesystem::copy_options::overwrite_existing);
    ASSERT_TRUE(scoring.stored());
    expectAll(m_path, 6);
}

TEST_F(Place, NothingElseIsOpenedWhereAnotherFileTookThePlace) {
    ASSERT_TRUE(programWithRubric(m_other)->setFact("program.title", "Other"));
    auto window = ProgramFile::open(m_path).value();
    Scoring scoring(m_path, 5);
    // Only the file: its log stays, and SQLite would take it into the other one.
    std::filesystem::rename(m_path, m_mine);
    std::filesystem::rename(m_other, m_path);
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
    std::filesystem::rename(m_mine, m_path);
    EXPECT_TRUE(ProgramFile::open(m_path, OpenMode::ReadOnly));
    scoring.presses(1);
    ASSERT_TRUE(scoring.stored());
    window.reset();
    expectAll(m_path, 6);
}

// As the window does: pages read in the background, copies are made, while somebody moves the file about.
TEST_F(Place, ReadersComeAndGoWhileTheFileIsAway) {
    auto window = ProgramFile::open(m_path).value();
    Scoring scoring(m_path, 5);
    std::atomic<bool> over = false;
    std::vector<std::thread> readers;
    for (int i = 0; i < 2; ++i)
        readers.emplace_back([&] {
            while (!over)
                if (auto file = ProgramFile::open(m_path, OpenMode::ReadOnly)) (void)(*file)->attempts();
        });
    for (int round = 0; round < 20 && !HasFailure(); ++round) {
        SCOPED_TRACE(round);
        programWithRubric(m_other);
        std::filesystem::rename(m_path, m_mine);
        scoring.presses(1);
        EXPECT_TRUE(scoring.meetsTrouble());
        std::filesystem::rename(m_other, m_path);
        scoring.againInTrouble();
        std::filesystem::rename(m_mine, m_path);
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

/// What happens right before SQLite opens the file, by the call that it lets be put in place of the system's.
class BeforeOpening {
public:
    BeforeOpening(std::filesystem::path path, std::function<void()> happens) {
        s_path = std::move(path);
        s_happens = std::move(happens);
        s_system = vfs()->xGetSystemCall(vfs(), "open");
        vfs()->xSetSystemCall(vfs(), "open", reinterpret_cast<sqlite3_syscall_ptr>(&open));
    }
    ~BeforeOpening() {
        vfs()->xSetSystemCall(vfs(), "open", s_system);
        EXPECT_FALSE(s_happens) << "it was not opened";
        s_happens = nullptr;
    }
    BeforeOpening(const BeforeOpening&) = delete;
    BeforeOpening& operator=(const BeforeOpening&) = delete;

private:
    static sqlite3_vfs* vfs() { return sqlite3_vfs_find("unix"); }
    static int open(const char* path, int flags, int mode) {
        if (s_happens && s_path == path) std::exchange(s_happens, nullptr)();
        return reinterpret_cast<int (*)(const char*, int, int)>(s_system)(path, flags, mode);
    }
    static inline std::filesystem::path s_path;
    static inline std::function<void()> s_happens;
    static inline sqlite3_syscall_ptr s_system = nullptr;
};

// A reader that looked while the right file was there would cut off the log's index that the others read by,
// and clear the log away when it closes.
TEST_F(Place, AFileThatComesBetweenTheLookAndTheOpeningIsNotRead) {
    for (const bool scored : {false, true}) {
        SCOPED_TRACE(scored ? "with a writer" : "the window alone");
        makeOther();
        auto window = ProgramFile::open(m_path).value();
        std::optional<Scoring> scoring;
        if (scored) scoring.emplace(m_path, 5);
        ASSERT_TRUE(window->setFact("program.title", "Only in the log"));
        {
            const BeforeOpening another(m_path, [this] {
                std::filesystem::rename(m_path, m_mine);
                std::filesystem::rename(m_other, m_path);
            });
            const auto opened = ProgramFile::open(m_path, OpenMode::ReadOnly);
            ASSERT_FALSE(opened);
            EXPECT_EQ(opened.error().kind, core::ErrorKind::Machine);
            EXPECT_THAT(opened.error().message, HasSubstr("another file has taken the place"));
        }
        EXPECT_TRUE(std::filesystem::exists(m_path.string() + "-wal"));
        EXPECT_EQ(window->fact("program.title").value(), "Only in the log");
        std::filesystem::rename(m_path, m_other);
        std::filesystem::rename(m_mine, m_path);
        EXPECT_EQ(ProgramFile::open(m_path, OpenMode::ReadOnly).value()->fact("program.title").value(),
                  "Only in the log");
        std::filesystem::remove(m_other);
    }
    expectAll(m_path, 5);
}

// A file that another one replaces while nobody scores: what is open belongs there.
TEST_F(Place, WhileAConnectionIsOpenNoOtherFileIsOpenedUnderItsName) {
    makeOther();
    auto window = ProgramFile::open(m_path, OpenMode::ReadOnly).value();
    std::filesystem::rename(m_path, m_mine);
    std::filesystem::rename(m_other, m_path);
    EXPECT_FALSE(ProgramFile::open(m_path, OpenMode::ReadOnly));
    EXPECT_TRUE(window->attempts());
    window.reset();
    EXPECT_EQ(ProgramFile::open(m_path, OpenMode::ReadOnly).value()->fact("program.title").value(), "Other");
}

TEST_F(Place, ALogThatWasTakenAwayBeforeTheFirstPressIsWaitedFor) {
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

TEST_F(Place, TheFileInAnotherPlaceOfTheDiskIsTakenBeforeAnyPress) {
    EventWriter writer(
        m_path, [](std::uint64_t) {}, [](const core::Error*, std::size_t) {}, {1ms, 4ms});
    std::this_thread::sleep_for(300ms);
    replaceByCopies();
    writer.startAttempt(sampleAttempt("day").header);
    EXPECT_TRUE(writer.flush(20s));
    expectAll(m_path, 0);
}

TEST_F(Place, AFileThatCouldNotBeLookedIntoIsLookedIntoAgain) {
    auto window = ProgramFile::open(m_path).value();
    Scoring scoring(m_path, 5);
    replaceByCopies();
    noSyncWorks(true);
    scoring.presses(1);
    EXPECT_TRUE(scoring.says("cannot be looked into now")) << scoring.trouble();
    noSyncWorks(false);
    EXPECT_TRUE(scoring.stored());
    window.reset();
    expectAll(m_path, 6);
}

// A copy of the file in its place, and the log stays: a connection to each would write into the one log.
TEST_F(Place, OnlyTheFileReplacedByACopyIsOpenedWhenTheOneBeforeIsClosed) {
    auto window = ProgramFile::open(m_path).value();
    {
        Scoring scoring(m_path, 5);
        std::filesystem::rename(m_path, m_mine);
        std::filesystem::copy_file(m_mine, m_path);
        scoring.presses(2);
        EXPECT_TRUE(scoring.says("beside the log of the one before")) << scoring.trouble();
        std::this_thread::sleep_for(3s);  // nor when it has lain there for a while
        EXPECT_THAT(scoring.trouble(), HasSubstr("beside the log"));
        std::filesystem::rename(m_mine, m_path);
        EXPECT_TRUE(scoring.stored());
        std::filesystem::rename(m_path, m_mine);
        std::filesystem::copy_file(m_mine, m_path);
        scoring.presses(3);
        EXPECT_TRUE(scoring.says("beside the log")) << scoring.trouble();
    }
    window.reset();
    EXPECT_EQ(EventWriter::recoverSpill(m_path).value(), 3);
    expectAll(m_path, 10);
}

TEST_F(Place, ALogThatACrashLeftFitsItsOwnFileOnly) {
    const auto left = m_folder / "left", older = m_folder / "older";
    std::filesystem::copy_file(m_path, older);
    {
        auto window = ProgramFile::open(m_path).value();
        ASSERT_TRUE(window->setFact("program.title", "Ours"));
        Scoring scoring(m_path, 40);
        for (const char* tail : {"", "-wal"})
            std::filesystem::copy_file(m_path.string() + tail, left.string() + tail);
    }
    ASSERT_TRUE(programWithRubric(m_other)->setFact("program.title", "Other"));
    ASSERT_TRUE(ProgramFile::open(m_other).value()->addAttempt(sampleAttempt("day")));
    EXPECT_TRUE(logFits(left));
    EXPECT_TRUE(logFits(m_other)) << "no log at all";
    std::filesystem::copy_file(left.string() + "-wal", m_other.string() + "-wal");
    const auto before = everything(m_folder / "");
    const auto fits = logFits(m_other);
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

TEST_F(Place, AnothersLogIsNotClearedAwayWhenTheFileIsClosed) {
    const std::filesystem::path log = m_path.string() + "-wal";
    {
        Scoring scoring(m_path, 5);
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

TEST_F(Place, ALogIsFoundWhereALinkLeads) {
    const std::filesystem::path log = m_path.string() + "-wal", link = m_folder / "link";
    std::filesystem::create_symlink(m_path, link);
    Scoring scoring(link, 5);
    std::filesystem::rename(log, m_folder / "log");
    scoring.presses(1);
    EXPECT_TRUE(scoring.says("put it back")) << scoring.trouble();
    std::filesystem::rename(m_folder / "log", log);
    ASSERT_TRUE(scoring.stored());
    expectAll(m_path, 6);
}

TEST_F(Place, AStartIsNotWrittenIntoAFileThatTookThePlaceBefore) {
    programWithRubric(m_other);
    const std::string others = bytesOf(m_other);
    EventWriter writer(
        m_path, [](std::uint64_t) {}, [](const core::Error*, std::size_t) {}, {1ms, 4ms});
    std::filesystem::rename(m_path, m_mine);
    std::filesystem::rename(m_other, m_path);
    writer.startAttempt(sampleAttempt("day").header);
    EXPECT_FALSE(writer.flush(100ms));
    EXPECT_TRUE(bytesOf(m_path) == others);
    std::filesystem::rename(m_mine, m_path);
    EXPECT_TRUE(writer.flush(20s));
}

TEST_F(Place, AFolderThatIsGoneIsWaitedFor) {
    Scoring scoring(m_path, 5);
    std::filesystem::rename(m_place, m_folder / "gone");
    scoring.presses(4);
    EXPECT_THAT(scoring.trouble(),
                ::testing::AnyOf(HasSubstr("not there any more"), HasSubstr("there is no file")));
    EXPECT_EQ(scoring.waiting(), 4u);
    std::filesystem::rename(m_folder / "gone", m_place);
    ASSERT_TRUE(scoring.stored());
    expectAll(m_path, 9);
}

TEST_F(Place, PressesThatFitAnotherFileAreLeftWhereTheyAre) {
    {
        EventWriter writer(
            m_path, [](std::uint64_t) {}, [](const core::Error*, std::size_t) {});
        writer.startAttempt(sampleAttempt("day").header);
        ASSERT_TRUE(writer.flush(20s));
        moveWhole(m_path, m_mine);
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
    moveWhole(m_mine, m_path);
    EXPECT_EQ(EventWriter::recoverSpill(m_path).value(), 1);
}

// SQLite takes a log for that of whatever file lies beside it.
TEST_F(Place, TheLogOfAFileThatIsGoneGetsIntoNoNewOne) {
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

}  // namespace
}  // namespace markerlamp::db
