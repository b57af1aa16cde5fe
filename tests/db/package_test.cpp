// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Packages: a whole program in one sealed file, and what a hostile one may try. Archives are also made and
// read with libarchive itself.

#include "db_support.h"

#include "db/package/package.h"

#include <archive.h>
#include <archive_entry.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>

namespace markerlamp::db {
namespace {

using namespace testing;

constexpr SealCost kQuick{1, 8u << 10};
const std::string kPassphrase = "four words or more";

/// Everything of a program as documents.
auto documentsOf(ProgramFile& file, const std::filesystem::path& out) {
    EXPECT_TRUE(exportTo(file, out));
    return everything(out);
}

std::unique_ptr<ProgramFile> filledProgram(const std::filesystem::path& path) {
    auto file = programWithRubric(path);
    EXPECT_TRUE(file->addAttempt(sampleAttempt("a-1")));
    EXPECT_TRUE(file->addAttempt(sampleAttempt("a-2")));
    EXPECT_TRUE(file->setAside("a-2"));
    EXPECT_TRUE(file->setFact("program.title", "Invented district"));
    return file;
}

TEST(Package, CarriesAllDocumentsToAnotherProgram) {
    Folder folder;
    auto file = filledProgram(folder / "p.markerlamp");
    const auto count = writePackage(*file, folder / "p.mlpack", kPassphrase, kQuick);
    ASSERT_TRUE(count) << count.error().message;
    const auto before = documentsOf(*file, folder / "out");
    EXPECT_EQ(static_cast<std::size_t>(*count), before.size());
    auto other = ProgramFile::create(folder / "q.markerlamp").value();
    const auto report = readPackage(*other, folder / "p.mlpack", kPassphrase);
    ASSERT_TRUE(report) << report.error().message;
    EXPECT_TRUE(report->allAccepted());
    EXPECT_EQ(report->items.size(), before.size());
    EXPECT_EQ(documentsOf(*other, folder / "out2"), before);
    const auto again = readPackage(*other, folder / "p.mlpack", kPassphrase);
    ASSERT_TRUE(again);
    EXPECT_EQ(again->count(ImportReport::Outcome::AlreadyThere), *count) << "once more is no harm";
}

TEST(Package, NothingOfItCanBeReadWithoutThePassphrase) {
    Folder folder;
    auto file = filledProgram(folder / "p.markerlamp");
    ASSERT_TRUE(file->saveTrainee({"t-1", "Ada Example", "", "", "", "", {}, "", "", "", false}));
    ASSERT_TRUE(writePackage(*file, folder / "p.mlpack", kPassphrase, kQuick));
    std::ifstream in(folder / "p.mlpack", std::ios::binary);
    const std::string bytes{std::istreambuf_iterator<char>(in), {}};
    for (const char* secret : {"Ada", "people.csv", "a-1", "rubric"})
        EXPECT_EQ(bytes.find(secret), std::string::npos) << secret;
    const auto wrong = readPackage(*file, folder / "p.mlpack", "other words entirely");
    ASSERT_FALSE(wrong);
    EXPECT_NE(wrong.error().message.find("this passphrase does not open"), std::string::npos);
}

TEST(Package, OneThatWasCutOrAlteredChangesNothing) {
    Folder folder;
    auto file = filledProgram(folder / "p.markerlamp");
    ASSERT_TRUE(writePackage(*file, folder / "p.mlpack", kPassphrase, kQuick));
    std::ifstream in(folder / "p.mlpack", std::ios::binary);
    const std::string whole{std::istreambuf_iterator<char>(in), {}};
    auto other = ProgramFile::create(folder / "q.markerlamp").value();
    const auto empty = documentsOf(*other, folder / "empty");
    std::string altered = whole;
    altered[whole.size() - 40] ^= 1;  // in the last frame, behind every document
    std::ofstream(folder / "altered.mlpack", std::ios::binary) << altered;
    std::ofstream(folder / "cut.mlpack", std::ios::binary) << whole.substr(0, whole.size() - 100);
    const auto one = readPackage(*other, folder / "altered.mlpack", kPassphrase);
    ASSERT_FALSE(one);
    EXPECT_NE(one.error().message.find("was altered"), std::string::npos);
    const auto two = readPackage(*other, folder / "cut.mlpack", kPassphrase);
    ASSERT_FALSE(two);
    EXPECT_NE(two.error().message.find("was cut short"), std::string::npos);
    EXPECT_EQ(documentsOf(*other, folder / "after"), empty);
}

TEST(Package, AnotherFileIsNotWrittenOverAndAStopLeavesNothing) {
    Folder folder;
    auto file = filledProgram(folder / "p.markerlamp");
    std::ofstream(folder / "there.mlpack") << "kept";
    const auto refused = writePackage(*file, folder / "there.mlpack", kPassphrase, kQuick);
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().kind, core::ErrorKind::Conflict);
    const auto stopped =
        writePackage(*file, folder / "s.mlpack", kPassphrase, kQuick, [](double) { return false; });
    ASSERT_FALSE(stopped);
    EXPECT_EQ(stopped.error().kind, core::ErrorKind::Usage);
    EXPECT_FALSE(writePackage(*file, folder / "short.mlpack", "short", kQuick));
    std::vector<std::string> left;
    for (const auto& entry : std::filesystem::directory_iterator((folder / "")))
        left.push_back(entry.path().filename().string());
    std::ranges::sort(left);
    EXPECT_EQ(left, (std::vector<std::string>{"p.markerlamp", "p.markerlamp-shm", "p.markerlamp-wal",
                                              "there.mlpack"}));
}

/// A sealed archive made by hand.
struct Made {
    std::string name, text;
    int type = AE_IFREG;
    std::string link = {};
};
void sealArchive(const std::filesystem::path& path, const std::vector<Made>& entries) {
    std::vector<char> bytes(1 << 20);
    std::size_t used = 0;
    archive* made = archive_write_new();
    archive_write_set_format_pax_restricted(made);
    archive_write_open_memory(made, bytes.data(), bytes.size(), &used);
    for (const Made& one : entries) {
        archive_entry* entry = archive_entry_new();
        archive_entry_set_pathname(entry, one.name.c_str());
        archive_entry_set_filetype(entry, static_cast<unsigned>(one.type));
        archive_entry_set_perm(entry, 0644);
        archive_entry_set_size(entry, one.type == AE_IFREG ? static_cast<la_int64_t>(one.text.size()) : 0);
        if (!one.link.empty()) archive_entry_set_symlink(entry, one.link.c_str());
        ASSERT_EQ(archive_write_header(made, entry), ARCHIVE_OK);
        if (one.type == AE_IFREG && !one.text.empty())
            archive_write_data(made, one.text.data(), one.text.size());
        archive_entry_free(entry);
    }
    archive_write_close(made);
    archive_write_free(made);
    auto seal = SealWriter::create(path, kPassphrase, kQuick);
    ASSERT_TRUE(seal);
    ASSERT_TRUE((*seal)->write({bytes.data(), used}));
    ASSERT_TRUE((*seal)->finish());
}

TEST(Package, AHostileOneIsRefusedWholeAndNamesThePlace) {
    Folder folder;
    auto file = ProgramFile::create(folder / "q.markerlamp").value();
    const Made good{"people.csv", "key,name\nt-1,Ada\n"};
    const std::vector<std::pair<Made, std::string>> hostile{
        {{"../people.csv", "key,name\n"}, "leads out"},
        {{"/etc/people.csv", "key,name\n"}, "leads out"},
        {{"attempts/../../people.csv", "key,name\n"}, "leads out"},
        {{"attempts\\people.csv", "key,name\n"}, "leads out"},
        {{"attempts/./people.csv", "key,name\n"}, "leads out"},
        {{"people.csv", "", AE_IFLNK, "/etc/passwd"}, "only plain documents"},
        {{"people.csv", "", AE_IFDIR}, "only plain documents"},
        {{"people.csv", "", AE_IFIFO}, "only plain documents"},
        {{"run.sh", "rm"}, "no document"},
        {{"bad\nname people.csv", "key,name\n"}, "no text"}};
    int number = 0;
    for (const auto& [entry, why] : hostile) {
        const auto path = folder / ("h" + std::to_string(++number) + ".mlpack");
        sealArchive(path, {good, entry});
        const auto report = readPackage(*file, path, kPassphrase);
        ASSERT_FALSE(report) << entry.name;
        ASSERT_EQ(report.error().problems.size(), 1U) << report.error().message;
        EXPECT_NE(report.error().problems[0].message.find(why), std::string::npos)
            << entry.name << ": " << report.error().problems[0].message;
        EXPECT_TRUE(file->trainees()->empty()) << "the good one before it is not taken either";
    }
    sealArchive(folder / "good.mlpack", {good});
    ASSERT_TRUE(readPackage(*file, folder / "good.mlpack", kPassphrase));
    EXPECT_EQ(file->trainees()->size(), 1U);
}

TEST(Package, SealedBytesThatAreNoArchiveAreSaidToBeNone) {
    Folder folder;
    auto file = ProgramFile::create(folder / "q.markerlamp").value();
    auto seal = SealWriter::create(folder / "n.mlpack", kPassphrase, kQuick);
    ASSERT_TRUE(seal);
    ASSERT_TRUE((*seal)->write(std::string(5000, 'x')));
    ASSERT_TRUE((*seal)->finish());
    const auto report = readPackage(*file, folder / "n.mlpack", kPassphrase);
    ASSERT_FALSE(report);
    EXPECT_NE(report.error().message.find("holds no documents"), std::string::npos);
}

TEST(Package, ADocumentThatIsRefusedLeavesTheOthersAndIsNamed) {
    Folder folder;
    auto file = ProgramFile::create(folder / "q.markerlamp").value();
    sealArchive(folder / "m.mlpack", {{"people.csv", "key,name\nt-1,Ada\n"}, {"buses.csv", "number\n14\n"}});
    const auto report = readPackage(*file, folder / "m.mlpack", kPassphrase);
    ASSERT_TRUE(report);
    EXPECT_EQ(report->count(ImportReport::Outcome::Refused), 1);
    EXPECT_EQ(report->items[1].file, "buses.csv");
    EXPECT_EQ(file->trainees()->size(), 1U);
}

}  // namespace
}  // namespace markerlamp::db
