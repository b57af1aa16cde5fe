// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/copies/copies.h"
#include "db/copies/sealed_copy.h"

#include "core/base/moment.h"
#include "db/copies/restore.h"
#include "db/copies/verify.h"
#include "db/whole_files.h"
#include "db_support.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <thread>

#include <sys/stat.h>

namespace markerlamp::db {
namespace {

using namespace testing;
using core::CopyReason;
using core::ErrorKind;

constexpr SealCost kCheap{1, 8u << 20};
constexpr std::int64_t kMinute = 60'000, kDay = 24 * 60 * kMinute;

std::int64_t monday() {
    return core::millisecondsOf("2026-03-02T12:00:00Z").value();
}

int modeOf(const std::filesystem::path& path) {
    struct stat status = {};
    return ::stat(path.c_str(), &status) == 0 ? static_cast<int>(status.st_mode & 07777) : -1;
}

std::string bytesOf(const std::filesystem::path& path) {
    std::ostringstream text;
    text << std::ifstream(path, std::ios::binary).rdbuf();
    return text.str();
}

/// Other bytes over the second half.
void damage(const std::filesystem::path& path) {
    const auto half = static_cast<std::streamoff>(std::filesystem::file_size(path) / 8192 * 4096);
    std::fstream file(path, std::ios::in | std::ios::out | std::ios::binary);
    file.seekp(half);
    file << std::string(std::filesystem::file_size(path) - static_cast<std::size_t>(half), '\xa5');
}

class Copies : public ::testing::Test {
protected:
    void SetUp() override {
        m_file = programWithRubric(m_path);
        ASSERT_TRUE(m_file->addAttempt(sampleAttempt("a-1")));
    }
    CopyKept keep(CopyReason reason, std::int64_t now, bool onlyIfChanged = false) {
        auto kept = keepCopy(m_path, {reason, now, onlyIfChanged});
        EXPECT_TRUE(kept) << kept.error().message;
        return kept ? *kept : CopyKept{};
    }
    [[nodiscard]] std::vector<std::string> names() const {
        std::vector<std::string> list;
        for (const CopyFile& copy : copiesOf(m_path)) list.push_back(copy.path.filename().string());
        return list;
    }
    Folder m_folder;
    std::filesystem::path m_path = m_folder / "p.markerlamp";
    std::unique_ptr<ProgramFile> m_file;
};

TEST_F(Copies, AreWholePrivateAndOfTheMoment) {
    const CopyKept kept = keep(CopyReason::ByHand, monday());
    EXPECT_EQ(kept.made, m_folder / "p.markerlamp.copies" / "2026-03-02T120000Z-by-hand.markerlamp");
    EXPECT_EQ(modeOf(kept.made), 0600);
    EXPECT_EQ(modeOf(kept.made.parent_path()), 0700);
    EXPECT_EQ(modeOf(m_path), 0600);
    ASSERT_TRUE(m_file->addAttempt(sampleAttempt("a-2")));
    const FileReport report = verifyProgram(kept.made).value();
    EXPECT_TRUE(report.good());
    EXPECT_EQ(report.attempts, 1);
    EXPECT_EQ(report.events, 7);
    EXPECT_EQ(report.trainees, 1);
    EXPECT_EQ(everything(kept.made.parent_path()).size(), 1u) << "no log, nothing half made";
    EXPECT_TRUE(sameRecords(kept.made, m_path).value() == false);
}

TEST_F(Copies, OfOneSecondHaveNamesOfTheirOwn) {
    keep(CopyReason::ByHand, monday());
    keep(CopyReason::ByHand, monday() + 400);
    EXPECT_EQ(names(), (std::vector<std::string>{"2026-03-02T120000Z-by-hand-2.markerlamp",
                                                 "2026-03-02T120000Z-by-hand.markerlamp"}));
}

TEST_F(Copies, AreOnlyMadeWhenRecordsChanged) {
    EXPECT_FALSE(keep(CopyReason::Start, monday(), true).made.empty());
    ASSERT_TRUE(m_file->setFact("ui.zoom", "2"));
    ASSERT_TRUE(m_file->refillProjections());
    EXPECT_TRUE(keep(CopyReason::Start, monday() + kMinute, true).made.empty());
    ASSERT_TRUE(m_file->setAside("a-1"));
    EXPECT_FALSE(keep(CopyReason::Start, monday() + 2 * kMinute, true).made.empty());
    EXPECT_EQ(names().size(), 2u);
    damage(copiesOf(m_path).front().path);
    EXPECT_FALSE(keep(CopyReason::Start, monday() + 3 * kMinute, true).made.empty())
        << "a copy that was damaged since holds nothing";
}

TEST_F(Copies, AreThinnedOut) {
    for (int day = 0; day < 20; ++day)
        for (int hour = 0; hour < 2; ++hour)
            keep(CopyReason::Day, monday() + day * kDay + hour * 60 * kMinute);
    const auto left = names();
    // Of the last five days both, of nine more one each, of the weeks before one each: Sunday 2026-03-08 is
    // among the days.
    EXPECT_THAT(left, ::testing::Contains("2026-03-21T130000Z-day.markerlamp"));
    EXPECT_THAT(left, ::testing::Contains("2026-03-21T120000Z-day.markerlamp"));
    EXPECT_EQ(left.size(), 10u + 9u);
    EXPECT_THAT(left, ::testing::Not(::testing::Contains("2026-03-16T120000Z-day.markerlamp")));
}

TEST_F(Copies, OfADamagedFileAreNotMadeAndCostNoGoodOne) {
    for (int i = 0; i < 12; ++i) keep(CopyReason::ByHand, monday() + i * kMinute);
    const auto before = everything(m_folder / "p.markerlamp.copies");
    m_file.reset();
    damage(m_path);
    const auto refused = keepCopy(m_path, {CopyReason::Start, monday() + kDay, false});
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().kind, ErrorKind::Machine);
    EXPECT_THAT(refused.error().message, ::testing::HasSubstr("damaged"));
    EXPECT_TRUE(everything(m_folder / "p.markerlamp.copies") == before);
}

TEST_F(Copies, OfWhatIsNoProgramFileAreRefusedAndLeaveNothing) {
    EXPECT_EQ(keepCopy(m_folder / "none", {}).error().kind, ErrorKind::NotFound);
    std::ofstream(m_folder / "letter") << std::string(5000, 'x');
    EXPECT_EQ(copyTo(m_folder / "letter", m_folder / "x").error().kind, ErrorKind::Refused);
    EXPECT_EQ(copyTo(m_path, m_folder / "letter").error().kind, ErrorKind::Refused);
    EXPECT_EQ(copyTo(m_path, m_folder / "none" / "x").error().kind, ErrorKind::NotFound);
    EXPECT_FALSE(std::filesystem::exists(m_folder / "x"));
    EXPECT_FALSE(std::filesystem::exists(m_folder / "none.copies"));
}

TEST_F(Copies, AreMadeWhilePressesComeIn) {
    core::Attempt attempt = sampleAttempt("a-2");
    attempt.events.clear();
    ASSERT_TRUE(m_file->startAttempt(attempt.header));
    std::thread presses([&] {
        auto own = ProgramFile::open(m_path).value();
        for (int n = 1; n <= 60; ++n) {
            core::Event event;
            event.n = n;
            event.t = n;
            event.step = "start";
            ASSERT_TRUE(own->appendEvents("a-2", std::vector{event}));
        }
    });
    std::vector<std::filesystem::path> made;
    for (int i = 0; i < 5; ++i) made.push_back(keep(CopyReason::ByHand, monday() + i * kMinute).made);
    presses.join();
    std::size_t last = 0;
    for (const auto& copy : made) {
        EXPECT_TRUE(verifyProgram(copy)->good()) << copy;
        const std::size_t events =
            ProgramFile::open(copy, OpenMode::ReadOnly).value()->attempt("a-2")->events.size();
        EXPECT_GE(events, last);
        last = events;
    }
    EXPECT_EQ(m_file->attempt("a-2")->events.size(), 60u);
}

TEST_F(Copies, GoToASecondPlaceToo) {
    std::filesystem::create_directory(m_folder / "stick");
    ASSERT_TRUE(setSecondPlace(*m_file, m_folder / "stick"));
    EXPECT_EQ(secondPlaceOf(*m_file)->filename(), "stick");
    const auto folder = secondFolderOf(*m_file).value();
    const CopyKept kept = keep(CopyReason::ByHand, monday());
    EXPECT_FALSE(kept.second);
    EXPECT_TRUE(sameRecords(folder / kept.made.filename(), kept.made).value());
    EXPECT_EQ(modeOf(folder), 0700);
    EXPECT_EQ(modeOf(folder / kept.made.filename()), 0600);
    EXPECT_EQ(copiesOf(m_path, folder).size(), 2u);
    EXPECT_TRUE(std::ranges::any_of(copiesOf(m_path, folder), &CopyFile::second));
    // Two programs of one name do not mix there.
    std::filesystem::create_directory(m_folder / "other yard");
    auto other = programWithRubric(m_folder / "other yard" / "p.markerlamp");
    ASSERT_TRUE(setSecondPlace(*other, m_folder / "stick"));
    EXPECT_NE(secondFolderOf(*other).value(), folder);
}

TEST_F(Copies, InTheSecondPlaceCanBeSealed) {
    std::filesystem::create_directory(m_folder / "stick");
    ASSERT_TRUE(setSecondPlace(*m_file, m_folder / "stick"));
    const auto folder = secondFolderOf(*m_file).value();
    keep(CopyReason::ByHand, monday());
    ASSERT_EQ(copiesOf(m_path, folder).size(), 2u);
    EXPECT_FALSE(setSecondSeal(*m_file, "short", kCheap));
    EXPECT_FALSE(secondSealOf(*m_file).value());
    ASSERT_TRUE(setSecondSeal(*m_file, "four words of it", kCheap));
    ASSERT_TRUE(m_file->addAttempt(sampleAttempt("a-2")));
    const CopyKept kept = keep(CopyReason::ByHand, monday() + kMinute);
    EXPECT_FALSE(kept.second) << kept.second->message;
    std::vector<std::filesystem::path> there;
    for (const auto& entry : std::filesystem::directory_iterator(folder)) there.push_back(entry.path());
    ASSERT_EQ(there.size(), 1u) << "the plain one went";
    EXPECT_EQ(there[0].filename(), kept.made.filename().string() + ".sealed");
    EXPECT_EQ(modeOf(there[0]), 0600);
    EXPECT_EQ(bytesOf(there[0]).find("SQLite"), std::string::npos);
    EXPECT_TRUE(isSealed(there[0]));
    EXPECT_FALSE(isSealed(kept.made));
    // What is opened is the copy, under its name, and gone afterwards.
    std::filesystem::path plain;
    {
        const auto opened = OpenedCopy::open(there[0], m_path, [](const auto& sealed) {
            return SealReader::open(sealed, "four words of it");
        });
        ASSERT_TRUE(opened) << opened.error().message;
        plain = opened->path();
        EXPECT_EQ(plain.filename(), kept.made.filename());
        EXPECT_EQ(modeOf(plain), 0600);
        EXPECT_EQ(modeOf(plain.parent_path()), 0700);
        EXPECT_EQ(bytesOf(plain), bytesOf(kept.made));
        EXPECT_EQ(verifyProgram(plain)->attempts, 2);
    }
    EXPECT_FALSE(std::filesystem::exists(plain.parent_path()));
    // Another passphrase from now on: the newest copy is sealed anew.
    const auto before = bytesOf(there[0]);
    ASSERT_TRUE(setSecondSeal(*m_file, "other words of it", kCheap));
    keep(CopyReason::ByHand, monday() + 2 * kMinute, true);
    EXPECT_NE(bytesOf(there[0]), before);
    EXPECT_TRUE(SealReader::open(there[0], secondSealOf(*m_file).value().value()));
    EXPECT_FALSE(SealReader::open(there[0], "four words of it"));
}

TEST_F(Copies, ASealedOneThatDoesNotOpenReplacesNothing) {
    const auto sealed = m_folder / "far.sealed";
    const auto key = SealKey::of("four words of it", kCheap).value();
    ASSERT_TRUE(sealedCopyTo(m_path, sealed, key));
    EXPECT_FALSE(sealedCopyTo(m_path, sealed, key)) << "never over another file";
    const auto open = [&](std::string_view passphrase) {
        return OpenedCopy::open(sealed, m_path,
                                [&](const auto& path) { return SealReader::open(path, passphrase); });
    };
    const auto before = everything(m_path.parent_path());
    const auto other = open("other words of it");
    ASSERT_FALSE(other);
    EXPECT_NE(other.error().message.find("passphrase does not open"), std::string::npos);
    const std::string whole = bytesOf(sealed);
    std::ofstream(sealed, std::ios::binary) << whole.substr(0, whole.size() / 2);
    const auto cut = open("four words of it");
    ASSERT_FALSE(cut);
    EXPECT_NE(cut.error().message.find("cut short"), std::string::npos);
    std::string altered = whole;
    altered[altered.size() / 2] ^= 1;
    std::ofstream(sealed, std::ios::binary) << altered;
    const auto changed = open("four words of it");
    ASSERT_FALSE(changed);
    EXPECT_NE(changed.error().message.find("altered"), std::string::npos);
    std::ofstream(sealed, std::ios::binary) << whole;
    EXPECT_EQ(everything(m_path.parent_path()), before) << "nothing is left beside the file";
    EXPECT_TRUE(open("four words of it"));
}

TEST(SealKeys, ComeBackFromTheirText) {
    const auto key = SealKey::of("four words of it", kCheap).value();
    EXPECT_EQ(SealKey::fromText(key.text()), key);
    for (const std::string& text :
         {std::string(), key.text() + " more", key.text().substr(1 + key.text().find(' ')),
          key.text().substr(0, key.text().size() - 2), std::string("1 2 zz zz")})
        EXPECT_FALSE(SealKey::fromText(text)) << text;
    EXPECT_NE(SealKey::of("four words of it", kCheap)->salt, key.salt);
}

TEST_F(Copies, ASecondPlaceThatIsNotThereIsSaidAndMadeUpForLater) {
    std::filesystem::create_directory(m_folder / "stick");
    ASSERT_TRUE(setSecondPlace(*m_file, m_folder / "stick"));
    std::filesystem::rename(m_folder / "stick", m_folder / "away");
    const CopyKept kept = keep(CopyReason::ByHand, monday());
    EXPECT_FALSE(kept.made.empty()) << "the copy beside the file is made all the same";
    ASSERT_TRUE(kept.second);
    EXPECT_THAT(kept.second->message, ::testing::HasSubstr("stick"));
    EXPECT_FALSE(std::filesystem::exists(m_folder / "stick"));
    std::filesystem::rename(m_folder / "away", m_folder / "stick");
    EXPECT_FALSE(keep(CopyReason::Start, monday() + kMinute, true).second);
    EXPECT_TRUE(std::filesystem::exists(secondFolderOf(*m_file).value() / kept.made.filename()));
}

TEST_F(Copies, ASecondPlaceMustBeAFolderElsewhere) {
    keep(CopyReason::ByHand, monday());
    EXPECT_EQ(setSecondPlace(*m_file, m_folder / "none").error().kind, ErrorKind::Refused);
    EXPECT_EQ(setSecondPlace(*m_file, m_path).error().kind, ErrorKind::Refused);
    EXPECT_EQ(setSecondPlace(*m_file, m_folder / "p.markerlamp.copies").error().kind, ErrorKind::Refused);
    EXPECT_TRUE(secondPlaceOf(*m_file)->empty());
    ASSERT_TRUE(setSecondPlace(*m_file, m_folder / ""));
    ASSERT_TRUE(setSecondPlace(*m_file, {}));
    EXPECT_TRUE(secondFolderOf(*m_file)->empty());
}

TEST_F(Copies, SayWhatEachHasThatTheOtherHasNot) {
    core::Attempt open = sampleAttempt("a-2");
    open.events.resize(3);
    ASSERT_TRUE(m_file->addAttempt(open));
    const auto copy = keep(CopyReason::ByHand, monday()).made;
    EXPECT_TRUE(differenceOf(m_path, copy)->onlyInCopy.none() &&
                differenceOf(m_path, copy)->onlyInFile.none());
    core::Event note;
    note.n = 4;
    note.t = 8;
    note.kind = core::EventKind::Note;
    note.text = "again";
    ASSERT_TRUE(m_file->appendEvents("a-2", std::vector{note}));
    ASSERT_TRUE(m_file->addAttempt(sampleAttempt("a-3")));
    ASSERT_TRUE(m_file->saveTrainee({"t-2", "Bo Example", "", "", "", "", {}, "", "", "", false}));
    ASSERT_TRUE(m_file->addTestResult({"r-1", "t-2", "2026-03-09", "road", true, ""}));
    ASSERT_TRUE(m_file->addSheetRecord({"p-1", "a-3", core::SheetEvent::Made, "2026-03-05T06:10:00-05:00"}));
    const auto difference = differenceOf(m_path, copy).value();
    EXPECT_TRUE(difference.onlyInCopy.none());
    EXPECT_EQ(difference.onlyInFile, (CopyDifference::Count{1, 1, 1, 2}));
    EXPECT_EQ(differenceOf(copy, m_path)->onlyInCopy, difference.onlyInFile) << "the other way round";
    EXPECT_FALSE(differenceOf(m_path, m_folder / "none"));
    EXPECT_FALSE(std::filesystem::exists(m_folder / "none"));
}

TEST_F(Copies, AnErasedPersonIsInNoneOfThem) {
    std::filesystem::create_directory(m_folder / "stick");
    ASSERT_TRUE(setSecondPlace(*m_file, m_folder / "stick"));
    ASSERT_TRUE(m_file->saveTrainee({"t-1", "Ada Quillfeather", "", "", "", "", {}, "", "", "", false}));
    for (int i = 0; i < 3; ++i) keep(CopyReason::ByHand, monday() + i * kMinute);
    std::ofstream(m_folder / "p.markerlamp.copies" / ".2026-03-02T120000Z-day.markerlamp.part-7-1")
        << "Ada Quillfeather";
    std::ofstream(m_folder / "p.markerlamp.copies" / "2026-03-02T120000Z-damaged.markerlamp-wal")
        << "Ada Quillfeather";
    const auto erased = m_file->eraseTrainee("t-1").value();
    EXPECT_EQ(erased.copies.size(), 3u + 2u + 3u);
    EXPECT_TRUE(erased.unreached.empty());
    for (const auto& [name, bytes] : everything(m_folder / ""))
        EXPECT_EQ(bytes.find("Quillfeather"), std::string::npos) << name;
    ASSERT_EQ(names().size(), 1u) << "one copy without the person";
    EXPECT_THAT(names()[0], ::testing::EndsWith("after-erasing.markerlamp"));
    EXPECT_TRUE(verifyProgram(copiesOf(m_path)[0].path)->good());
}

TEST_F(Copies, AnErasedPersonLeavesTheSecondPlaceOnceItIsReached) {
    std::filesystem::create_directory(m_folder / "stick");
    ASSERT_TRUE(setSecondPlace(*m_file, m_folder / "stick"));
    ASSERT_TRUE(m_file->saveTrainee({"t-1", "Ada Quillfeather", "", "", "", "", {}, "", "", "", false}));
    keep(CopyReason::ByHand, monday());
    const auto folder = secondFolderOf(*m_file).value();
    std::filesystem::rename(m_folder / "stick", m_folder / "away");
    const auto erased = m_file->eraseTrainee("t-1").value();
    EXPECT_EQ(erased.unreached, folder.string());
    std::filesystem::rename(m_folder / "away", m_folder / "stick");
    ASSERT_TRUE(keepCopy(m_path, {CopyReason::Start, 0, true}));
    for (const auto& [name, bytes] : everything(m_folder / ""))
        EXPECT_EQ(bytes.find("Quillfeather"), std::string::npos) << name;
    EXPECT_EQ(everything(folder).size(), 1u);
}

class Restoring : public Copies {};

TEST_F(Restoring, PutsTheCopyInPlaceAndThePresentFileAside) {
    std::filesystem::create_directory(m_folder / "stick");
    const auto copy = keep(CopyReason::ByHand, monday()).made;
    const std::string before = bytesOf(copy);
    ASSERT_TRUE(setSecondPlace(*m_file, m_folder / "stick"));
    ASSERT_TRUE(m_file->addAttempt(sampleAttempt("a-2")));
    m_file.reset();
    const auto restored = restoreProgram(copy, m_path, monday() + kDay);
    ASSERT_TRUE(restored) << restored.error().message;
    EXPECT_EQ(restored->aside.filename(), "2026-03-03T120000Z-before-restore.markerlamp");
    EXPECT_FALSE(restored->asideDamaged);
    EXPECT_EQ(ProgramFile::open(restored->aside, OpenMode::ReadOnly).value()->attempts()->size(), 2u);
    auto file = ProgramFile::open(m_path).value();
    EXPECT_EQ(file->attempts()->size(), 1u);
    EXPECT_EQ(secondPlaceOf(*file)->filename(), "stick") << "belongs to this workstation";
    EXPECT_EQ(modeOf(m_path), 0600);
    EXPECT_TRUE(bytesOf(copy) == before);
    file.reset();
    ASSERT_TRUE(restoreProgram(restored->aside, m_path, monday() + 2 * kDay)) << "and back again";
    EXPECT_EQ(ProgramFile::open(m_path).value()->attempts()->size(), 2u);
}

TEST_F(Restoring, TakesThePlaceOfADamagedFileAndKeepsThat) {
    const auto copy = keep(CopyReason::ByHand, monday()).made;
    m_file.reset();
    damage(m_path);
    std::ofstream(m_path.string() + "-wal") << "not a log";
    const std::string damaged = bytesOf(m_path);
    const auto restored = restoreProgram(copy, m_path, monday() + kDay);
    ASSERT_TRUE(restored) << restored.error().message;
    EXPECT_TRUE(restored->asideDamaged);
    EXPECT_EQ(restored->aside.filename(), "2026-03-03T120000Z-damaged.markerlamp");
    EXPECT_TRUE(bytesOf(restored->aside) == damaged);
    EXPECT_EQ(modeOf(restored->aside), 0600);
    EXPECT_TRUE(verifyProgram(m_path)->good());
    EXPECT_FALSE(std::filesystem::exists(m_path.string() + "-wal"));
}

TEST_F(Restoring, ADamagedCopyReplacesNothing) {
    const auto copy = keep(CopyReason::ByHand, monday()).made;
    ASSERT_TRUE(m_file->addAttempt(sampleAttempt("a-2")));
    m_file.reset();
    damage(copy);
    const auto before = everything(m_folder / "");
    const auto refused = restoreProgram(copy, m_path);
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().kind, ErrorKind::Refused);
    EXPECT_FALSE(refused.error().problems.empty());
    EXPECT_TRUE(everything(m_folder / "") == before);
    EXPECT_FALSE(restoreProgram(m_folder / "none", m_path));
    EXPECT_FALSE(restoreProgram(m_path, m_path));
    EXPECT_TRUE(everything(m_folder / "") == before);
}

TEST_F(Restoring, AFileThatIsOpenStays) {
    const auto copy = keep(CopyReason::ByHand, monday()).made;
    const auto refused = restoreProgram(copy, m_path);
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().kind, ErrorKind::Busy);
    EXPECT_EQ(m_file->attempts()->size(), 1u);
}

TEST_F(Restoring, MakesAFileWhereNoneIs) {
    const auto copy = keep(CopyReason::ByHand, monday()).made;
    const auto restored = restoreProgram(copy, m_folder / "new.markerlamp");
    ASSERT_TRUE(restored);
    EXPECT_TRUE(restored->aside.empty());
    const CopyDifference difference = differenceOf(m_folder / "new.markerlamp", copy).value();
    EXPECT_TRUE(difference.onlyInCopy.none() && difference.onlyInFile.none());
    EXPECT_EQ(ProgramFile::open(m_folder / "new.markerlamp").value()->trail()->back().what, "file.restored");
    EXPECT_FALSE(restoreProgram(copy, m_folder / "none" / "new.markerlamp"));
}

TEST_F(Copies, VerifyNamesWhatIsWrong) {
    EXPECT_TRUE(verifyProgram(m_path)->good());
    m_file.reset();
    ASSERT_EQ(rawSql(m_path, "UPDATE attempt_projection SET percent = 12.5"), "");
    FileReport report = verifyProgram(m_path).value();
    ASSERT_EQ(report.problems.size(), 1u);
    EXPECT_EQ(report.problems[0].path, "attempt_projection");
    EXPECT_EQ(report.problems[0].id, "a-1");
    EXPECT_EQ(report.integrity, "ok");
    ASSERT_EQ(rawSql(m_path,
                     "DROP TABLE attempt_projection; PRAGMA foreign_keys = OFF; DROP TRIGGER event_remains; "
                     "DELETE FROM event WHERE n = 2; DELETE FROM bus; "
                     "CREATE TRIGGER event_remains BEFORE DELETE ON event\n"
                     "BEGIN SELECT RAISE (ABORT, 'events are never deleted'); END"),
              "");
    report = verifyProgram(m_path).value();
    std::vector<std::string> places;
    for (const auto& problem : report.problems) places.push_back(problem.path);
    EXPECT_EQ(places, (std::vector<std::string>{"attempt", "attempt"}));
    EXPECT_THAT(report.problems[0].message, ::testing::HasSubstr("bus"));
    EXPECT_THAT(report.problems[1].message, ::testing::HasSubstr("gaps"));
    damage(m_path);
    EXPECT_NE(verifyProgram(m_path)->integrity, "ok");
    EXPECT_EQ(verifyProgram(m_folder / "none").error().kind, ErrorKind::NotFound);
}

}  // namespace
}  // namespace markerlamp::db
