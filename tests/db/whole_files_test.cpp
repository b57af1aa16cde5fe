// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/whole_files.h"
#include "db_support.h"

#include <gtest/gtest.h>

#include <fstream>
#include <functional>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

namespace markerlamp::db {
namespace {

using namespace testing;
using core::ErrorKind;

/// The same steps, so the same records.
void fill(const std::filesystem::path& path) {
    auto file = programWithRubric(path);
    ASSERT_TRUE(file->setFact("program.title", "Training program"));
    ASSERT_TRUE(file->saveBus({"14", "Bus", {"air-brakes"}, {}, "", false}));
    ASSERT_TRUE(file->addAttempt(sampleAttempt()));
    core::Attempt open = sampleAttempt("a-2");
    open.events.resize(3);
    ASSERT_TRUE(file->addAttempt(open));
}

std::string bytes(const std::filesystem::path& path) {
    std::ostringstream text;
    text << std::ifstream(path, std::ios::binary).rdbuf();
    return text.str();
}

TEST(WholeFiles, SeesWhateverWasChangedAndNothingElse) {
    Folder folder;
    const auto asMade = folder / "made.markerlamp";
    fill(asMade);
    core::Event note;
    note.n = 4;
    note.t = 8;
    note.kind = core::EventKind::Note;
    note.text = "again";
    using Change = std::function<bool(ProgramFile&)>;
    const std::vector<std::pair<std::string, Change>> changes{
        {"nothing", {}},
        {"a list that was looked at", [](ProgramFile& f) { return f.attempts() && f.refillProjections(); }},
        {"a setting of this workstation",
         [](ProgramFile& f) { return f.setFact("ui.zoom", "2").has_value(); }},
        {"the title", [](ProgramFile& f) { return f.setFact("program.title", "Ours").has_value(); }},
        {"a trainee's note",
         [](ProgramFile& f) {
             core::Trainee trainee = *f.trainee("t-1").value();
             trainee.note = "called";
             return f.saveTrainee(trainee).has_value();
         }},
        {"a new instructor",
         [](ProgramFile& f) {
             return f.saveInstructor({"i-9", "New", false}).has_value();
         }},
        {"a bus",
         [](ProgramFile& f) {
             return f.saveBus({"14", "Other", {}, {}, "", false}).has_value();
         }},
        {"an edition of the rubric",
         [](ProgramFile& f) {
             std::string text = kRubric;
             text.replace(text.find("edition: 1"), 10, "edition: 2");
             return f.addRubric(text).has_value();
         }},
        {"an attempt that was set aside", [](ProgramFile& f) { return f.setAside("a-2").has_value(); }},
        {"one press", [&](ProgramFile& f) { return f.appendEvents("a-2", std::vector{note}).has_value(); }},
        {"a new attempt", [](ProgramFile& f) { return f.addAttempt(sampleAttempt("a-3")).has_value(); }}};
    constexpr std::size_t kHarmless = 3;
    for (std::size_t i = 0; i < changes.size(); ++i) {
        SCOPED_TRACE(changes[i].first);
        const auto path = folder / (std::to_string(i) + ".markerlamp");
        fill(path);
        ASSERT_TRUE(!changes[i].second || changes[i].second(*ProgramFile::open(path).value()));
        const auto same = sameRecords(path, asMade);
        ASSERT_TRUE(same) << same.error().message;
        EXPECT_EQ(*same, i < kHarmless);
        EXPECT_EQ(sameRecords(asMade, path).value(), i < kHarmless) << "the other way round";
    }
}

TEST(WholeFiles, ATableThatOnlyOneHasCounts) {
    Folder folder;
    fill(folder / "a.markerlamp");
    fill(folder / "b.markerlamp");
    for (const char* name : {"a.markerlamp", "b.markerlamp"})
        ASSERT_EQ(rawSql(folder / name, "CREATE TABLE plan (day TEXT PRIMARY KEY)"), "");
    EXPECT_TRUE(sameRecords(folder / "a.markerlamp", folder / "b.markerlamp").value());
    ASSERT_EQ(rawSql(folder / "a.markerlamp", "INSERT INTO plan VALUES ('2026-03-02')"), "");
    EXPECT_FALSE(sameRecords(folder / "a.markerlamp", folder / "b.markerlamp").value());
    ASSERT_EQ(rawSql(folder / "b.markerlamp", "DROP TABLE plan"), "");
    EXPECT_FALSE(sameRecords(folder / "a.markerlamp", folder / "b.markerlamp").value());
}

TEST(WholeFiles, AFileThatIsMissingOrNoneIsAnErrorAndIsNotMade) {
    Folder folder;
    fill(folder / "a.markerlamp");
    EXPECT_EQ(sameRecords(folder / "a.markerlamp", folder / "none").error().kind, ErrorKind::NotFound);
    EXPECT_EQ(sameRecords(folder / "none", folder / "a.markerlamp").error().kind, ErrorKind::NotFound);
    EXPECT_FALSE(std::filesystem::exists(folder / "none"));
    std::ofstream(folder / "letter") << std::string(5000, 'x');
    EXPECT_FALSE(sameRecords(folder / "a.markerlamp", folder / "letter"));
}

TEST(WholeFiles, AFreshFileTakesThePlaceOfAnOldOne) {
    Folder folder;
    const auto old = folder / "p.markerlamp";
    fill(old);
    const auto fresh = freshNameFor(old);
    EXPECT_EQ(fresh.parent_path(), old.parent_path());
    programWithRubric(fresh).reset();
    ASSERT_FALSE(sameRecords(old, fresh).value());
    const auto done = replaceProgram(old, fresh);
    ASSERT_TRUE(done) << done.error().message;
    EXPECT_FALSE(std::filesystem::exists(fresh));
    EXPECT_TRUE(ProgramFile::open(old).value()->attempts().value().empty());
}

TEST(WholeFiles, AFileThatSomebodyHasOpenIsNotReplaced) {
    Folder folder;
    const auto old = folder / "p.markerlamp";
    fill(old);
    const auto fresh = freshNameFor(old);
    programWithRubric(fresh).reset();
    {
        const auto reader = ProgramFile::open(old).value();
        const std::string before = bytes(old);
        const auto refused = replaceProgram(old, fresh);
        ASSERT_FALSE(refused);
        EXPECT_EQ(refused.error().kind, ErrorKind::Busy);
        EXPECT_NE(refused.error().message.find("p.markerlamp"), std::string::npos);
        EXPECT_EQ(bytes(old), before);
        EXPECT_TRUE(std::filesystem::exists(fresh));
    }
    EXPECT_TRUE(replaceProgram(old, fresh));
    discardFresh(fresh);
    EXPECT_TRUE(std::filesystem::exists(old));
}

}  // namespace
}  // namespace markerlamp::db
