// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/exchange/exchange.h"

#include "db/exchange/names.h"
#include "db_support.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cctype>
#include <fstream>
#include <map>
#include <set>
#include <sstream>

namespace markerlamp::db {
namespace {

using namespace testing;
using Outcome = ImportReport::Outcome;

void write(const std::filesystem::path& path, const std::string& text) {
    std::filesystem::create_directories(path.parent_path());
    std::ofstream(path, std::ios::binary) << text;
}

TEST(Import, TakesDocumentsInAnyOrderAndListsWhatIsToBeCompleted) {
    Folder folder;
    write(folder / "in/a.attempt.jsonl", core::writeAttempt(sampleAttempt()));
    write(folder / "in/deep/z.rubric.yaml", kRubric);
    write(folder / "in/people.csv", "key,name\r\nt-1,Ada Example\r\n");
    write(folder / "in/readme.txt", "not ours");
    auto file = ProgramFile::create(folder / "p.markerlamp").value();
    const auto report = importPaths(*file, {folder / "in"});
    ASSERT_TRUE(report);
    EXPECT_EQ(report->count(Outcome::Added), 3);
    EXPECT_TRUE(report->allAccepted());
    EXPECT_EQ(report->toComplete, (std::vector<std::string>{"bus 14", "instructor i-1"}));
    EXPECT_EQ(file->trainee("t-1").value()->name, "Ada Example");
    const auto again = importPaths(*file, {folder / "in"});
    EXPECT_EQ(again->count(Outcome::AlreadyThere), 3);
    EXPECT_TRUE(again->toComplete.empty());
}

TEST(Import, RefusesADocumentWhollyAndTakesTheOthers) {
    Folder folder;
    auto file = programWithRubric(folder / "p.markerlamp");
    ASSERT_TRUE(file->addAttempt(sampleAttempt()));
    core::Attempt other = sampleAttempt();
    other.events.pop_back();
    core::Attempt misfit = sampleAttempt("a-3");
    misfit.events[0].step = "unknown";
    write(folder / "in/1.attempt.jsonl", core::writeAttempt(other));
    write(folder / "in/2.attempt.jsonl", core::writeAttempt(sampleAttempt("a-2")));
    write(folder / "in/3.attempt.jsonl", core::writeAttempt(misfit));
    write(folder / "in/people.csv", "key,name,permit_issued\r\nt-8,Eight,\r\nt-9,Nine,soon\r\n");
    const auto report = importPaths(*file, {folder / "in"});
    ASSERT_TRUE(report);
    EXPECT_EQ(report->count(Outcome::Refused), 3);
    EXPECT_EQ(report->count(Outcome::Added), 1);
    EXPECT_EQ(file->attempts().value().size(), 2u);
    EXPECT_FALSE(file->trainee("t-8").value()) << "a table goes in wholly or not at all";
    EXPECT_EQ(file->attempt("a-1").value(), sampleAttempt()) << "the stored one stays";
    for (const auto& item : report->items)
        if (item.file.ends_with("3.attempt.jsonl")) {
            ASSERT_EQ(item.error.problems.size(), 1u);
            EXPECT_EQ(item.error.problems[0].line, 2);
            EXPECT_EQ(item.error.problems[0].file, item.file);
        }
}

TEST(Import, NamesWhatItCannotRecognise) {
    Folder folder;
    auto file = programWithRubric(folder / "p.markerlamp");
    write(folder / "x.txt", "?");
    const auto report = importPaths(*file, {folder / "x.txt"});
    ASSERT_TRUE(report);
    EXPECT_EQ(report->count(Outcome::Refused), 1);
    EXPECT_FALSE(importPaths(*file, {folder / "nowhere"}));
}

TEST(Import, AShorterTableKeepsTheColumnsItDoesNotHave) {
    Folder folder;
    auto file = programWithRubric(folder / "p.markerlamp");
    write(folder / "people.csv", "key,name,permit_expires,note\r\nt-1,Ada Example,2026-07-05,early\r\n");
    write(folder / "buses.csv", "key,title,equipment,limits\r\n14,Spare,air-brakes,leak ..2\r\n");
    ASSERT_EQ(importPaths(*file, {folder / "people.csv", folder / "buses.csv"})->count(Outcome::Added), 2);
    write(folder / "people.csv", "key,name\r\nt-1,Ada Sample\r\n");
    write(folder / "buses.csv", "key,title\r\n14,Front engine\r\n");
    const auto report = importPaths(*file, {folder / "people.csv", folder / "buses.csv"});
    ASSERT_TRUE(report);
    EXPECT_EQ(report->count(Outcome::Changed), 2);
    const auto trainee = file->trainee("t-1").value();
    EXPECT_EQ(trainee->name, "Ada Sample");
    EXPECT_EQ(trainee->permitExpires, "2026-07-05");
    EXPECT_EQ(trainee->note, "early");
    const auto bus = file->buses().value().at(0);
    EXPECT_EQ(bus.title, "Front engine");
    EXPECT_EQ(bus.equipment, std::vector<std::string>{"air-brakes"});
    EXPECT_EQ(bus.limits.at("leak").high, 2);
    write(folder / "people.csv", "key,name,permit_expires\r\nt-1,Ada Sample,\r\n");
    ASSERT_TRUE(importPaths(*file, {folder / "people.csv"}));
    EXPECT_EQ(file->trainee("t-1").value()->permitExpires, "") << "an empty cell clears";
}

TEST(Import, AnOldTableIsReportedEntryByEntry) {
    Folder folder;
    auto file = programWithRubric(folder / "p.markerlamp");
    const std::string old = "key,name,permit_expires,note\r\nt-1,Ada,2026-01-05,first\r\nt-2,Bo,,\r\n";
    write(folder / "people.csv", old);
    ASSERT_TRUE(importPaths(*file, {folder / "people.csv"}));
    core::Trainee newer = **file->trainee("t-1");
    newer.permitExpires = "2026-07-05";
    newer.note = "a private remark";
    ASSERT_TRUE(file->saveTrainee(newer));
    write(folder / "people.csv", old + "t-3,Cy,,\r\n");
    const auto report = importPaths(*file, {folder / "people.csv"});
    ASSERT_TRUE(report);
    ASSERT_EQ(report->items.size(), 1u);
    EXPECT_EQ(report->items[0].outcome, Outcome::Changed) << "a change weighs more than a new entry";
    ASSERT_EQ(report->items[0].changes.size(), 1u) << "neither the one that is the same nor the new one";
    EXPECT_EQ(toText(report->items[0].changes[0]), "t-1: permit_expires 2026-07-05 -> 2026-01-05, note");
    EXPECT_TRUE(importPaths(*file, {folder / "people.csv"})->items[0].changes.empty());
}

TEST(Import, AnEntryThatSomebodyCompletedStaysComplete) {
    Folder folder;
    auto file = programWithRubric(folder / "p.markerlamp");
    ASSERT_TRUE(file->addAttempt(sampleAttempt()));
    write(folder / "people.csv", "key,name\r\nt-1,t-1\r\n");
    EXPECT_EQ(importPaths(*file, {folder / "people.csv"})->count(Outcome::AlreadyThere), 1);
    EXPECT_TRUE(file->trainee("t-1").value()->toComplete) << "the table says no more than the attempt did";
    core::Trainee done = **file->trainee("t-1");
    done.toComplete = false;
    ASSERT_TRUE(file->saveTrainee(done));
    EXPECT_EQ(importPaths(*file, {folder / "people.csv"})->count(Outcome::AlreadyThere), 1);
    EXPECT_FALSE(file->trainee("t-1").value()->toComplete);
}

TEST(Export, ImportedAgainGivesTheSameToTheByte) {
    Folder folder;
    auto file = programWithRubric(folder / "p.markerlamp");
    ASSERT_TRUE(file->addAttempt(sampleAttempt("a/../../b %\xC3\xA9")));
    ASSERT_TRUE(file->startAttempt(sampleAttempt("open").header));
    ASSERT_TRUE(file->setAside("open"));
    ASSERT_TRUE(file->saveTrainee({"t-2", "Ada, \"A\"", "", "", "", "", 80.5, "", "", "two\nlines", false}));
    ASSERT_TRUE(file->setFact("program.title", "Invented"));
    ASSERT_TRUE(file->setFact("ui.palette", "day"));
    const auto count = exportTo(*file, folder / "out");
    ASSERT_TRUE(count) << count.error().message;
    EXPECT_EQ(*count, 7);
    auto again = ProgramFile::create(folder / "q.markerlamp").value();
    const auto report = importPaths(*again, {folder / "out"});
    ASSERT_TRUE(report && report->allAccepted());
    ASSERT_TRUE(exportTo(*again, folder / "out2"));
    EXPECT_EQ(everything(folder / "out"), everything(folder / "out2"));
    EXPECT_TRUE(again->trainee("t-1").value()->toComplete) << "an entry to be completed stays one";
    EXPECT_EQ(again->attemptInfo("open").value()->state, AttemptState::SetAside);
    EXPECT_FALSE(exportTo(*again, folder / "out2")) << "a folder with something in it is left alone";
}

/// A file with one record of each kind of readiness, about people that it did not know before.
void keepReadiness(ProgramFile& file) {
    core::FrozenForecast forecast;
    forecast.id = "f-1";
    forecast.trainee = "t-7";
    forecast.at = "2026-03-02T06:00:00-05:00";
    forecast.attempt = "a-1";
    forecast.rubric = "small";
    forecast.modelVersion = 1;
    forecast.attempts = 4;
    forecast.chance = 2.0 / 3;
    forecast.low = 0.1;
    forecast.high = 0.95;
    forecast.word = core::ReadinessWord::Ready;
    forecast.computed = core::ReadinessWord::Close;
    ASSERT_TRUE(file.addForecast(forecast));
    ASSERT_TRUE(file.addOverride({"o-1", "t-7", core::ReadinessWord::Ready, "did it \"all\"\nat the yard",
                                  "i-7", "2026-03-01T06:00:00-05:00", false}));
    ASSERT_TRUE(file.addTestResult({"r-1", "t-8", "2026-03-09", "inspection", false, "cold \xC3\xA9"}));
}

TEST(Export, RecordsOfReadinessComeBackToTheByte) {
    Folder folder;
    auto file = programWithRubric(folder / "p.markerlamp");
    ASSERT_TRUE(file->addAttempt(sampleAttempt()));
    keepReadiness(*file);
    const auto count = exportTo(*file, folder / "out");
    ASSERT_TRUE(count) << count.error().message;
    EXPECT_EQ(*count, 9);
    auto again = ProgramFile::create(folder / "q.markerlamp").value();
    const auto report = importPaths(*again, {folder / "out"});
    ASSERT_TRUE(report && report->allAccepted());
    EXPECT_EQ(again->forecasts().value(), file->forecasts().value());
    EXPECT_EQ(again->overrides().value(), file->overrides().value());
    EXPECT_EQ(again->testResults().value(), file->testResults().value());
    ASSERT_TRUE(exportTo(*again, folder / "out2"));
    EXPECT_EQ(everything(folder / "out"), everything(folder / "out2"));
    EXPECT_EQ(importPaths(*again, {folder / "out"})->count(Outcome::Added), 0);
}

TEST(Import, ReadinessOfPeopleItDoesNotKnowMakesEntriesToComplete) {
    Folder folder;
    auto file = programWithRubric(folder / "p.markerlamp");
    keepReadiness(*file);
    ASSERT_TRUE(exportTo(*file, folder / "out"));
    std::filesystem::remove(folder / "out/people.csv");
    std::filesystem::remove(folder / "out/instructors.csv");
    auto again = ProgramFile::create(folder / "q.markerlamp").value();
    const auto report = importPaths(*again, {folder / "out"});
    ASSERT_TRUE(report && report->allAccepted());
    EXPECT_EQ(report->toComplete, (std::vector<std::string>{"instructor i-7", "trainee t-7", "trainee t-8"}));
    EXPECT_EQ(std::ranges::count(report->items, "1 record", &ImportReport::Item::id), 3);
}

TEST(Import, ReadinessThatDiffersIsRefusedWholly) {
    Folder folder;
    auto file = programWithRubric(folder / "p.markerlamp");
    ASSERT_TRUE(file->addTestResult({"r-1", "t-8", "2026-03-09", "inspection", false, ""}));
    const auto stored = file->testResults().value();
    write(folder / "in/tests.jsonl",
          core::writeTestResults({{"r-0", "t-9", "2026-03-01", "inspection", true, ""},
                                  {"r-1", "t-8", "2026-03-09", "inspection", true, ""}}));
    const auto report = importPaths(*file, {folder / "in"});
    ASSERT_TRUE(report);
    ASSERT_EQ(report->count(Outcome::Refused), 1);
    ASSERT_EQ(report->items[0].error.problems.size(), 1u);
    EXPECT_EQ(report->items[0].error.problems[0].id, "r-1");
    EXPECT_EQ(report->items[0].error.problems[0].file, report->items[0].file);
    EXPECT_EQ(file->testResults().value(), stored);
    EXPECT_FALSE(file->trainee("t-9").value());
    write(folder / "in/tests.jsonl", "{\"format\":\"markerlamp.tests/1\"}\n{\"id\":\"r-2\"}\n");
    const auto broken = importPaths(*file, {folder / "in"});
    ASSERT_EQ(broken->count(Outcome::Refused), 1);
    EXPECT_FALSE(broken->items[0].error.problems.empty());
}

TEST(Export, LongIdsAndIdsThatDifferInCaseGetNamesOfTheirOwn) {
    Folder folder;
    auto file = programWithRubric(folder / "p.markerlamp");
    std::string foreign;
    for (int i = 0; i < 95; ++i) foreign += "\xC3\xA9";  // 190 bytes, 570 when escaped
    const std::vector<std::string> ids{foreign, foreign + "2", std::string(200, 'a'), "case", "Case"};
    for (const std::string& id : ids) ASSERT_TRUE(file->addAttempt(sampleAttempt(id))) << id;
    const auto count = exportTo(*file, folder / "out");
    ASSERT_TRUE(count) << count.error().message;
    const auto out = everything(folder / "out");
    std::set<std::string> folded;
    for (const auto& [name, text] : out) {
        EXPECT_LE(std::filesystem::path(name).filename().string().size(), 200u) << name;
        std::string lower = name;
        std::ranges::transform(lower, lower.begin(), [](unsigned char c) { return std::tolower(c); });
        EXPECT_TRUE(folded.insert(lower).second) << name;
    }
    auto again = ProgramFile::create(folder / "q.markerlamp").value();
    const auto report = importPaths(*again, {folder / "out"});
    ASSERT_TRUE(report && report->allAccepted());
    EXPECT_EQ(again->attempts().value().size(), ids.size());
    ASSERT_TRUE(exportTo(*again, folder / "out2"));
    EXPECT_EQ(out, everything(folder / "out2"));
}

TEST(Export, ALinkToAnEmptyFolderStaysALink) {
    Folder folder;
    auto file = programWithRubric(folder / "p.markerlamp");
    std::filesystem::create_directory(folder / "real");
    std::filesystem::create_directory_symlink(folder / "real", folder / "link");
    std::filesystem::create_symlink(folder / "nowhere", folder / "astray");
    ASSERT_TRUE(exportTo(*file, folder / "link"));
    EXPECT_TRUE(std::filesystem::is_symlink(folder / "link"));
    EXPECT_TRUE(std::filesystem::exists(folder / "real/people.csv"));
    EXPECT_EQ(exportTo(*file, folder / "astray").error().kind, core::ErrorKind::Refused);
    EXPECT_EQ(exportTo(*file, folder / "p.markerlamp").error().kind, core::ErrorKind::Refused);
}

TEST(Export, NoIdLeadsOutOfTheFolder) {
    EXPECT_EQ(fileNameOf("../x"), "%2E.%2Fx");
    EXPECT_EQ(fileNameOf("a-1.b_c"), "a-1.b_c");
    EXPECT_EQ(fileNameOf("\xC3\xA9"), "%C3%A9");
    EXPECT_EQ(fileNameOf(std::string(150, 'a')), std::string(150, 'a'));
    // FNV-1a of 151 times "a", computed with another program (Python) from the published constants.
    EXPECT_EQ(fileNameOf(std::string(151, 'a')), std::string(150, 'a') + "~88af36af2ec649ce");
}

}  // namespace
}  // namespace markerlamp::db
