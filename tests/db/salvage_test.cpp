// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Files damaged on purpose, at places that seeds choose: whatever is read out of them must be true.

#include "db/salvage/salvage.h"

#include "core/attempt/attempt_document.h"
#include "db/copies/copies.h"
#include "db/copies/verify.h"
#include "db/whole_files.h"
#include "db_support.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <iostream>
#include <random>

namespace markerlamp::db {
namespace {

using namespace testing;
using core::ErrorKind;

constexpr std::size_t kPage = 4096;
constexpr int kAttempts = 60;
const std::string kAt = "2026-03-05T06:10:00-05:00";

std::string bytesOf(const std::filesystem::path& path) {
    std::ostringstream text;
    text << std::ifstream(path, std::ios::binary).rdbuf();
    return text.str();
}

void put(const std::filesystem::path& path, const std::string& bytes) {
    std::ofstream(path, std::ios::binary | std::ios::trunc)
        .write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
}

/// A rubric with a long text, so that it takes several pages, and the small one.
std::string longRubric() {
    std::string text = kRubric;
    text.replace(text.find("id: small"), 9, "id: long");
    std::string cautions = "Set the brake ";
    while (cautions.size() < 12000) cautions += "and hold it while the engine runs ";
    text.replace(text.find("show: Set the brake"), 19, "show: \"" + cautions + "\"");
    return text;
}

core::Attempt attemptOf(int i) {
    core::Attempt attempt = sampleAttempt("a-" + std::to_string(100 + i));
    attempt.header.trainee = "t-" + std::to_string(i % 7);
    attempt.header.rubric = i % 3 == 0 ? "long" : "small";
    if (i % 5 == 0) attempt.events.resize(4);  // not ended
    core::Event note = attempt.events[3];
    note.text = "note of attempt " + std::to_string(i) + std::string(static_cast<std::size_t>(i) * 3, '.');
    attempt.events[3] = note;
    return attempt;
}

void fill(const std::filesystem::path& path) {
    auto file = programWithRubric(path);
    ASSERT_TRUE(file->addRubric(longRubric()));
    ASSERT_TRUE(file->setFact("program.title", "Invented district"));
    for (int i = 0; i < 7; ++i)
        ASSERT_TRUE(file->saveTrainee({"t-" + std::to_string(i), "Trainee number " + std::to_string(i),
                                       "2026-02-01", "", "", "", 92.5, "2026-02-20", "first", "", false}));
    for (int i = 0; i < kAttempts; ++i) ASSERT_TRUE(file->addAttempt(attemptOf(i)));
    ASSERT_TRUE(file->setAside("a-105"));
    ASSERT_TRUE(file->addSheetRecord({"p-1", "a-105", core::SheetEvent::Made, kAt}));
    for (int i = 0; i < 80; ++i) {
        const std::string number = std::to_string(i), trainee = "t-" + std::to_string(i % 7);
        ASSERT_TRUE(file->addClockHours({"h-" + number, trainee, "2026-03-02", core::HoursKind::Range, 30 + i,
                                         "i-1", "", kAt, "", false}));
        ASSERT_TRUE(file->addTestResult(
            {"r-" + number, trainee, "2026-03-09", "road", i % 2 == 0, "note " + number}));
    }
}

class Salvaging : public ::testing::Test {
protected:
    static void SetUpTestSuite() {
        s_folder = new Folder(true);
        fill(*s_folder / "whole.markerlamp");
        s_whole = new std::string(bytesOf(*s_folder / "whole.markerlamp"));
    }
    static void TearDownTestSuite() {
        delete s_folder;
        delete s_whole;
    }

    /// Reads out a file of these bytes and checks that all that is claimed is true.
    core::Result<SalvageReport> readOut(const std::string& bytes,
                                        const std::vector<std::string>& rubrics = {}) {
        const auto damaged = m_folder / "damaged.markerlamp", target = m_folder / "out.markerlamp";
        put(damaged, bytes);
        std::filesystem::remove(target);
        auto report = salvage(damaged, target, rubrics);
        EXPECT_TRUE(bytesOf(damaged) == bytes) << "the damaged file is not touched";
        if (!report) {
            EXPECT_FALSE(std::filesystem::exists(target));
            return report;
        }
        expectTrue(*report, target);
        return report;
    }

    template <class Record>
    static void expectAmong(const std::vector<Record>& some, const std::vector<Record>& all) {
        for (const Record& one : some) EXPECT_TRUE(std::ranges::find(all, one) != all.end());
    }

    static void expectTrue(const SalvageReport& report, const std::filesystem::path& target) {
        auto out = ProgramFile::open(target);
        ASSERT_TRUE(out) << out.error().message;
        auto whole = ProgramFile::open(*s_folder / "whole.markerlamp", OpenMode::ReadOnly).value();
        const auto attempts = (*out)->attempts().value();
        EXPECT_EQ(attempts.size(), report.complete.size() + report.cut.size());
        for (const AttemptInfo& info : attempts) {
            const core::Attempt got = (*out)->attempt(info.id).value();
            const auto truth = whole->attempt(info.id);
            ASSERT_TRUE(truth) << info.id << " was never there";
            EXPECT_EQ(got.header, truth->header);
            ASSERT_LE(got.events.size(), truth->events.size());
            EXPECT_TRUE(std::equal(got.events.begin(), got.events.end(), truth->events.begin())) << info.id;
            if (std::ranges::binary_search(report.complete, info.id))
                EXPECT_EQ(got.events.size(), truth->events.size()) << info.id << " is called complete";
            else
                EXPECT_TRUE(std::ranges::binary_search(report.cut, info.id));
        }
        const auto trainees = (*out)->trainees().value();
        for (const core::Trainee& trainee : trainees)
            if (!trainee.toComplete) {
                EXPECT_EQ(trainee, *whole->trainee(trainee.key).value());
            }
        expectAmong((*out)->clockHours().value(), whole->clockHours().value());
        expectAmong((*out)->testResults().value(), whole->testResults().value());
        const auto rubrics = (*out)->rubrics().value();
        for (const RubricInfo& info : rubrics)
            EXPECT_EQ((*out)->rubricText(info.id, info.edition).value(),
                      whole->rubricText(info.id, info.edition).value());
        out->reset();
        const FileReport verified = verifyProgram(target).value();
        EXPECT_TRUE(verified.good()) << verified.integrity;
    }

    inline static Folder* s_folder = nullptr;
    inline static std::string* s_whole = nullptr;
    Folder m_folder{true};
};

TEST_F(Salvaging, AWholeFileComesOutWhole) {
    const auto report = readOut(*s_whole);
    ASSERT_TRUE(report) << report.error().message;
    EXPECT_TRUE(report->everything());
    EXPECT_EQ(report->complete.size(), static_cast<std::size_t>(kAttempts));
    EXPECT_TRUE(sameRecords(m_folder / "out.markerlamp", *s_folder / "whole.markerlamp").value());
}

TEST_F(Salvaging, ReadsWhatIsStillInTheLog) {
    // The last presses stand in the log alone: a file that was never closed.
    const auto path = m_folder / "open.markerlamp";
    std::filesystem::copy_file(*s_folder / "whole.markerlamp", path);
    auto file = ProgramFile::open(path).value();
    ASSERT_TRUE(file->addAttempt(sampleAttempt("b-1")));
    std::filesystem::copy_file(path, m_folder / "left.markerlamp");
    std::filesystem::copy_file(path.string() + "-wal", m_folder / "left.markerlamp-wal");
    file.reset();
    const auto report = salvage(m_folder / "left.markerlamp", m_folder / "out.markerlamp");
    ASSERT_TRUE(report) << report.error().message;
    EXPECT_TRUE(report->everything());
    EXPECT_TRUE(std::ranges::binary_search(report->complete, "b-1"));
    // A log that is torn in its last frame gives what was committed before.
    std::filesystem::resize_file(m_folder / "left.markerlamp-wal",
                                 std::filesystem::file_size(m_folder / "left.markerlamp-wal") - 100);
    const auto torn = salvage(m_folder / "left.markerlamp", m_folder / "torn.markerlamp");
    ASSERT_TRUE(torn) << torn.error().message;
    EXPECT_FALSE(std::ranges::binary_search(torn->complete, "b-1"));
    EXPECT_EQ(torn->complete.size(), static_cast<std::size_t>(kAttempts));
}

TEST_F(Salvaging, EachPageInTurnIsLost) {
    const std::size_t pages = s_whole->size() / kPage;
    std::size_t complete = 0, refused = 0;
    for (std::size_t page = 0; page < pages; ++page) {
        SCOPED_TRACE("page " + std::to_string(page + 1));
        std::string bytes = *s_whole;
        std::fill_n(bytes.begin() + static_cast<std::ptrdiff_t>(page * kPage), kPage,
                    page % 2 == 0 ? '\0' : '\xa5');
        const auto report = readOut(bytes, {kRubric, longRubric()});
        if (!report)
            ++refused;
        else
            complete += report->complete.size();
    }
    std::cout << "pages lost one at a time: " << pages << ", refused " << refused << ", attempts complete "
              << complete << " of " << pages * kAttempts << "\n";
    RecordProperty("pages", static_cast<int>(pages));
    RecordProperty("complete", static_cast<int>(complete));
    EXPECT_EQ(refused, 0u) << "one page never takes all";
    EXPECT_GT(complete, pages * kAttempts * 4 / 5);
}

TEST_F(Salvaging, SeededDamageNeverMakesItSayMoreThanItHas) {
    int files = 0, refused = 0, complete = 0, cut = 0;
    for (unsigned seed = 1; seed <= 100; ++seed) {
        SCOPED_TRACE("seed " + std::to_string(seed));
        std::mt19937 random(seed);
        std::string bytes = *s_whole;
        const auto below = [&](std::size_t most) { return static_cast<std::size_t>(random()) % most; };
        switch (seed % 4) {
            case 0:  // cut off
                bytes.resize(below(bytes.size()));
                break;
            case 1:  // sectors with other bytes
                for (std::size_t n = 1 + below(6); n > 0; --n) {
                    const std::size_t at = below(bytes.size() / 512) * 512;
                    for (std::size_t i = 0; i < 512; ++i) bytes[at + i] = static_cast<char>(random());
                }
                break;
            case 2:  // pages with zeros
                for (std::size_t n = 1 + below(8); n > 0; --n)
                    std::fill_n(
                        bytes.begin() + static_cast<std::ptrdiff_t>(below(bytes.size() / kPage) * kPage),
                        kPage, '\0');
                break;
            default:  // pages in the place of others
                for (std::size_t n = 1 + below(4); n > 0; --n)
                    std::copy_n(
                        bytes.begin() + static_cast<std::ptrdiff_t>(below(bytes.size() / kPage) * kPage),
                        kPage,
                        bytes.begin() + static_cast<std::ptrdiff_t>(below(bytes.size() / kPage) * kPage));
        }
        ++files;
        const auto report = readOut(bytes);
        if (!report) {
            ++refused;
            EXPECT_FALSE(report.error().message.empty());
            continue;
        }
        complete += static_cast<int>(report->complete.size());
        cut += static_cast<int>(report->cut.size());
        if (bytes != *s_whole && report->everything()) {
            EXPECT_TRUE(sameRecords(m_folder / "out.markerlamp", *s_folder / "whole.markerlamp").value())
                << "only what nobody needs was hit";
        }
    }
    std::cout << "damaged files: " << files << ", refused " << refused << ", attempts complete " << complete
              << ", cut " << cut << "\n";
    RecordProperty("files", files);
    RecordProperty("complete", complete);
    EXPECT_LT(refused, files / 3);
    EXPECT_GT(complete, files * kAttempts / 4);
}

TEST_F(Salvaging, ALostRubricComesFromACopyOrADocument) {
    // Its text goes on in pages of its own.
    std::string bytes = *s_whole;
    const std::size_t at = bytes.find("and hold it while the engine runs", bytes.size() / 8);
    ASSERT_NE(at, std::string::npos);
    const std::size_t page = at / kPage * kPage;
    std::fill_n(bytes.begin() + static_cast<std::ptrdiff_t>(page), kPage, '\0');
    const auto without = readOut(bytes);
    ASSERT_TRUE(without) << without.error().message;
    EXPECT_EQ(without->left.size(), 20u);
    EXPECT_FALSE(without->everything());
    const auto document = readOut(bytes, {longRubric()});
    EXPECT_TRUE(document->left.empty());
    EXPECT_EQ(document->rubrics, std::vector<std::string>{"long, edition 1"});
    std::filesystem::create_directory(m_folder / "damaged.markerlamp.copies");
    ASSERT_TRUE(copyTo(*s_folder / "whole.markerlamp",
                       m_folder / "damaged.markerlamp.copies" / "2026-03-02T120000Z-day.markerlamp"));
    const auto copied = readOut(bytes);
    EXPECT_EQ(copied->rubrics, std::vector<std::string>{"long, edition 1"});
    EXPECT_EQ(copied->complete.size(), static_cast<std::size_t>(kAttempts));
}

TEST_F(Salvaging, WhatIsNoProgramFileIsRefused) {
    EXPECT_EQ(readOut(std::string(20000, 'x')).error().kind, ErrorKind::Refused);
    EXPECT_EQ(readOut("").error().kind, ErrorKind::Refused);
    ASSERT_EQ(rawSql(m_folder / "other.db", "PRAGMA application_id = 7; CREATE TABLE a (b)"), "");
    EXPECT_EQ(readOut(bytesOf(m_folder / "other.db")).error().kind, ErrorKind::Refused);
    std::string newer = *s_whole;
    newer[63] = 99;
    EXPECT_EQ(readOut(newer).error().kind, ErrorKind::NewerFile);
    EXPECT_EQ(salvage(m_folder / "none", m_folder / "x").error().kind, ErrorKind::NotFound);
    EXPECT_EQ(salvage(*s_folder / "whole.markerlamp", m_folder / "damaged.markerlamp").error().kind,
              ErrorKind::Refused);
}

TEST_F(Salvaging, OlderFormsComeOutInTodays) {
    for (const char* form : {"0001", "0002", "0003", "0004"}) {
        const auto old = m_folder / (std::string(form) + ".markerlamp");
        std::ostringstream sql;
        sql << std::ifstream(std::string(MARKERLAMP_SOURCE_DIR "/tests/old-databases/") + form + ".sql")
                   .rdbuf();
        ASSERT_EQ(rawSql(old, sql.str()), "");
        const auto target = m_folder / (std::string(form) + "-out.markerlamp");
        const auto report = salvage(old, target);
        ASSERT_TRUE(report) << report.error().message;
        EXPECT_TRUE(report->everything()) << form;
        EXPECT_EQ(ProgramFile::open(target).value()->attempts()->size(), 4u);
    }
}

}  // namespace
}  // namespace markerlamp::db
