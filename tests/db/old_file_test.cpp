// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Files of earlier forms: read as they are, and brought up to date with nothing lost.

#include "db/schema/migrator.h"
#include "db_support.h"

#include <gtest/gtest.h>

#include <fstream>
#include <sstream>

namespace markerlamp::db {
namespace {

using namespace testing;

struct OldForm {
    int form;
    int tests;  ///< results that the file has
    int hours;  ///< records of clock hours, and licences
};

/// What each file holds, whatever its form.
void expectRecords(ProgramFile& file, const OldForm& old) {
    EXPECT_EQ(file.fact("program.title").value(), "Invented district, driver training");
    const auto trainees = file.trainees().value();
    ASSERT_EQ(trainees.size(), 2u);
    EXPECT_EQ(trainees[0].name, "Ada Example");
    EXPECT_EQ(trainees[0].permitIssued, "2026-02-02");
    EXPECT_EQ(trainees[0].theoryPercent, 92.5);
    const auto attempts = file.attempts().value();
    ASSERT_EQ(attempts.size(), 4u);
    EXPECT_EQ(attempts[0].id, "a-4");
    EXPECT_EQ(attempts[0].state, AttemptState::SetAside);
    EXPECT_EQ(attempts[1].result, core::AttemptResult::Pass);
    EXPECT_EQ(file.attempt("a-1").value().events.at(1).text, "calm");
    EXPECT_EQ(file.rubricText("small", 1).value(), kRubric);
    const auto record = file.practiceRecord().value();
    ASSERT_EQ(record->attempts().size(), 2u);
    EXPECT_EQ(record->attempts()[1].id, "a-2");
    const auto tests = file.testResults().value();
    EXPECT_EQ(static_cast<int>(tests.size()), old.tests);
    EXPECT_EQ(file.forecasts()->empty(), old.tests == 0);
    EXPECT_EQ(file.overrides()->empty(), old.tests == 0);
    if (old.tests > 0) {
        EXPECT_EQ(tests[0].note, "spring brakes");
        EXPECT_EQ(file.forecasts()->at(0).chance, 0.625);
        EXPECT_EQ(file.overrides()->at(0).reason, "steady on the last two");
    }
    EXPECT_EQ(static_cast<int>(file.clockHours()->size()), old.hours);
    EXPECT_TRUE(file.bookedTests()->empty());
    EXPECT_TRUE(file.absences()->empty());
    EXPECT_EQ(static_cast<int>(file.licences()->size()), old.hours);
    EXPECT_TRUE(file.courses()->empty());
    EXPECT_EQ(file.personFiles()->size(), 2u);
    EXPECT_TRUE(file.settlements()->empty());
    EXPECT_TRUE(file.sheetRecords()->empty());
}

core::TestResult tested() {
    return {"r-9", "t-1", "2026-03-19", "road", true, ""};
}
core::ClockHours driven() {
    return {"h-1", "t-1", "2026-03-02", core::HoursKind::Range, 90, "i-1", "", "2026-03-02T16:00:00Z",
            "",    false};
}

core::Settlement settledLater() {
    return {"s-1", "a-1", "b-1", "c-1", "i-1", "2026-03-20T09:00:00Z", {"open"}, {}, {}, {}};
}

core::SheetRecord signedLater() {
    return {"p-1", "a-1", core::SheetEvent::Signed, "2026-03-20T09:00:00Z"};
}

class OldFile : public ::testing::TestWithParam<OldForm> {
protected:
    void SetUp() override {
        std::ostringstream sql;
        sql << std::ifstream(MARKERLAMP_SOURCE_DIR "/tests/old-databases/000" +
                             std::to_string(GetParam().form) + ".sql")
                   .rdbuf();
        ASSERT_EQ(rawSql(m_path, sql.str()), "");
    }
    [[nodiscard]] std::string copy() const {
        return m_path.string() + ".before-" + std::to_string(GetParam().form + 1) + ".bak";
    }
    Folder m_folder;
    std::filesystem::path m_path = m_folder / "old.markerlamp";
};

TEST_P(OldFile, CanBeReadAsItIs) {
    {
        auto file = ProgramFile::open(m_path, OpenMode::ReadOnly);
        ASSERT_TRUE(file) << file.error().message;
        expectRecords(**file, GetParam());
        EXPECT_FALSE((*file)->addTestResult(tested()));
        EXPECT_FALSE((*file)->addClockHours(driven()));
        EXPECT_FALSE((*file)->addSettlement(settledLater()));
        EXPECT_FALSE((*file)->addSheetRecord(signedLater()));
        expectRecords(**file, GetParam());
    }
    EXPECT_NE(rawSql(m_path, "SELECT * FROM trail_entry"), "") << "the file is still of its form";
    int beside = 0;
    for ([[maybe_unused]] const auto& entry : std::filesystem::directory_iterator(m_path.parent_path()))
        ++beside;
    EXPECT_EQ(beside, 1);
}

TEST_P(OldFile, IsBroughtUpToDateWithNothingLost) {
    {
        auto file = ProgramFile::open(m_path);
        ASSERT_TRUE(file) << file.error().message;
        expectRecords(**file, GetParam());
        ASSERT_TRUE((*file)->addTestResult(tested()));
        ASSERT_TRUE((*file)->addClockHours(driven()));
        ASSERT_TRUE((*file)->saveLicence({"t-1", "X", "OH"}));
        ASSERT_TRUE((*file)->addSettlement(settledLater()));
        ASSERT_TRUE((*file)->addSheetRecord(signedLater()));
    }
    EXPECT_TRUE(std::filesystem::exists(copy()));
    auto before = ProgramFile::open(copy(), OpenMode::ReadOnly);
    ASSERT_TRUE(before);
    expectRecords(**before, GetParam());
    auto file = ProgramFile::open(m_path, OpenMode::ReadOnly).value();
    EXPECT_EQ(static_cast<int>(file->testResults()->size()), GetParam().tests + 1);
    EXPECT_EQ(static_cast<int>(file->personFile("t-1").value()->hours.size()), GetParam().hours + 1);
    EXPECT_EQ(file->settlements().value(), std::vector{settledLater()});
    EXPECT_EQ(file->sheetRecords().value(), std::vector{signedLater()});
    for (const char* change :
         {"UPDATE attempt SET trainee = 't-2'", "UPDATE event SET text = NULL", "UPDATE event SET t = 0",
          "DELETE FROM event", "DELETE FROM attempt", "UPDATE test_result SET note = ''",
          "DELETE FROM test_result", "UPDATE settlement SET settled = 'd'", "DELETE FROM settlement",
          "UPDATE sheet_record SET what = 'made'", "DELETE FROM sheet_record"})
        EXPECT_NE(rawSql(m_path, change), "") << change;
}

TEST_P(OldFile, StaysOfItsFormWhenTheChangeFails) {
    std::vector<SchemaStep> steps = schemaSteps();
    steps.back().sql += "; CREATE TABLE word (a INTEGER) STRICT";
    {
        auto connection = Connection::open(m_path, Access::ReadWrite).value();
        const auto done = migrate(*connection, m_path, steps);
        ASSERT_FALSE(done);
        EXPECT_NE(done.error().message.find(copy()), std::string::npos) << done.error().message;
    }
    EXPECT_NE(rawSql(m_path, "SELECT number FROM trail_entry"), "") << "nothing of the step is left";
    auto again = ProgramFile::open(m_path);
    ASSERT_TRUE(again) << again.error().message;
    expectRecords(**again, GetParam());
}

INSTANTIATE_TEST_SUITE_P(Forms, OldFile,
                         ::testing::Values(OldForm{1, 0, 0}, OldForm{2, 2, 0}, OldForm{3, 2, 1},
                                           OldForm{4, 2, 1}, OldForm{5, 2, 1}),
                         [](const auto& one) { return "Form" + std::to_string(one.param.form); });

}  // namespace
}  // namespace markerlamp::db
