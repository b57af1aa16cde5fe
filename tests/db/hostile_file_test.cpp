// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Program files that a stranger made: the right numbers in the head, and inside what this program never
// makes. Whatever is asked of one, the answer names what is wrong, nothing of it runs and nothing changes.

#include "db/copies/copies.h"
#include "db/copies/restore.h"
#include "db/copies/verify.h"
#include "db/event_writer.h"
#include "db/salvage/salvage.h"
#include "db/schema/schema_steps.h"
#include "db/whole_files.h"
#include "db_support.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <functional>
#include <iostream>
#include <random>

namespace markerlamp::db {
namespace {

using namespace testing;
using ::testing::HasSubstr;

struct Hostile {
    const char* name;
    std::string sql;
    const char* told;      ///< part of every answer
    bool readable = true;  ///< the records themselves are there
};

std::string inTheSchema(const std::string& change) {
    return "PRAGMA writable_schema = ON; " + change + "; PRAGMA writable_schema = OFF";
}

std::vector<Hostile> hostiles() {
    std::string wide = "CREATE VIEW x AS SELECT 1";
    for (int i = 0; i < 300; ++i) wide += " UNION ALL SELECT " + std::to_string(i);
    std::string many;
    for (int i = 0; i < 500; ++i) many += "CREATE TABLE many" + std::to_string(i) + " (a);";
    return {
        {"DeletesOnInsert", "CREATE TRIGGER x AFTER INSERT ON event BEGIN DELETE FROM fact; END",
         "has a trigger \"x\" that this program did not make"},
        {"AltersOnInsert",
         "CREATE TRIGGER x AFTER INSERT ON trainee BEGIN UPDATE trainee SET name = 'y'; END",
         "has a trigger \"x\" that"},
        {"TriggerOnTheFigures",
         "CREATE TRIGGER x AFTER INSERT ON attempt_projection BEGIN DELETE FROM fact; END",
         "has a trigger \"x\" that"},
        {"TriggerLacks", "DROP TRIGGER event_stays", "lacks the trigger \"event_stays\""},
        {"TriggerTamed",
         "DROP TRIGGER event_stays; CREATE TRIGGER event_stays BEFORE UPDATE ON event BEGIN SELECT 1; END",
         "has a trigger \"event_stays\" that is not as this program makes it"},
        {"ViewForATable", "DROP TABLE instructor; CREATE VIEW instructor AS SELECT 'i' AS key",
         "has a view \"instructor\" where a table of that name belongs"},
        {"ViewThatTakes",
         "DROP TABLE licence; CREATE VIEW licence AS SELECT 't-1' AS trainee; "
         "CREATE TRIGGER takes INSTEAD OF INSERT ON licence BEGIN DELETE FROM fact; END",
         "has a trigger \"takes\" that"},
        {"OtherView", "DROP VIEW event_in_words; CREATE VIEW event_in_words AS SELECT * FROM fact",
         "has a view \"event_in_words\" that is not"},
        {"EndlessView",
         "CREATE VIEW x AS WITH RECURSIVE r (a) AS (SELECT 1 UNION ALL SELECT a + 1 FROM r) SELECT a FROM r",
         "has a view \"x\" that"},
        {"WideView", wide, "x"},
        {"TableLacks", "DROP TABLE sheet_record", "lacks the table \"sheet_record\""},
        {"ColumnLacks", "DROP TABLE licence; CREATE TABLE licence (trainee TEXT PRIMARY KEY) STRICT",
         "has a table \"licence\" that is not as this program makes it"},
        {"WithoutChecks",
         "DROP TABLE fact; CREATE TABLE fact (key TEXT NOT NULL PRIMARY KEY, value TEXT NOT NULL)",
         "has a table \"fact\" that is not"},
        {"FurtherTable", "CREATE TABLE x (a)", "has a table \"x\" that this program did not make"},
        {"ManyTables", many, "has a table \"many0\" that"},
        {"GeneratedColumn", "CREATE TABLE x (a, b AS (zeroblob(a)) STORED)", "has a table \"x\" that"},
        {"IndexOnAnExpression", "CREATE INDEX x ON trainee (upper(name) || zeroblob(9))",
         "has an index \"x\" that"},
        {"IndexLacks", "DROP INDEX attempt_by_trainee", "lacks the index \"attempt_by_trainee\""},
        {"VirtualTable", "CREATE VIRTUAL TABLE x USING fts5(a)", "has a table \"x"},
        {"FiguresAreAView", "DROP TABLE attempt_projection; CREATE VIEW attempt_projection AS SELECT 1",
         "has a view \"attempt_projection\" that"},
        {"FiguresAreVirtual",
         "DROP TABLE attempt_projection; CREATE VIRTUAL TABLE attempt_projection USING rtree(a, b, c)",
         "attempt_projection"},
        {"NameOfControls", "CREATE TABLE \"a\x1b[2J\nb\" (a)", "has a table \"a?[2J?b\" that"},
        {"NameThatQuotes", "CREATE TABLE \"a\"\" WHERE 1; DROP TABLE fact; --\" (a)", "has a table \"a\""},
        {"SchemaLosesAWord",
         inTheSchema("UPDATE sqlite_schema SET sql = replace(sql, ' STRICT', '') WHERE name = 'trainee'"),
         "has a table \"trainee\" that is not"},
        {"SchemaIsNoSql",
         inTheSchema("UPDATE sqlite_schema SET sql = 'CREATE TABLE fact(' WHERE name = 'fact'"),
         "\"fact\" makes no sense"},
        {"SchemaIsNothing", inTheSchema("UPDATE sqlite_schema SET sql = NULL WHERE name = 'fact'"), "fact"},
        {"SchemaTwice",
         inTheSchema("INSERT INTO sqlite_schema SELECT * FROM sqlite_schema WHERE name = 'word_stays'"),
         "word_stays"},
        {"SchemaOfAnotherKind",
         inTheSchema("INSERT INTO sqlite_schema VALUES ('letter', 'x', 'x', 0, 'CREATE TABLE x (a)')"), ""},
        {"TwoInOnePlace",
         inTheSchema("UPDATE sqlite_schema SET rootpage = (SELECT rootpage FROM sqlite_schema WHERE name = "
                     "'instructor') WHERE name = 'fact'"),
         "in a place where it cannot be", false},
        {"InNoPlace", inTheSchema("UPDATE sqlite_schema SET rootpage = 999999 WHERE name = 'licence'"), ""},
    };
}

class StrangeFile : public ::testing::Test {
protected:
    void SetUp() override {
        {
            auto file = programWithRubric(m_good);
            ASSERT_TRUE(file->addAttempt(sampleAttempt("a-1")));
            ASSERT_TRUE(file->setFact("program.title", "Invented"));
            ASSERT_EQ(file->attempts()->size(), 1u);
        }
        std::filesystem::copy_file(m_good, m_path);
    }

    Folder m_folder{true};
    std::filesystem::path m_good = m_folder / "good.markerlamp";
    std::filesystem::path m_path = m_folder / "p.markerlamp";
};

class HostileFile : public StrangeFile, public ::testing::WithParamInterface<Hostile> {
protected:
    void expectTold(const core::Error& error) const {
        EXPECT_THAT(error.message, HasSubstr(GetParam().told)) << error.detail;
        EXPECT_EQ(error.message.find_first_of("\n\x1b"), std::string::npos) << error.message;
        EXPECT_THAT(error.message, ::testing::AnyOf(HasSubstr("copy"), HasSubstr("copies")));
    }
};

TEST_P(HostileFile, IsRefusedByWhateverOpensIt) {
    ASSERT_EQ(rawSql(m_path, GetParam().sql), "");
    const auto before = everything(m_folder / "");
    const auto refuses = [&](const char* what, const auto& result) {
        SCOPED_TRACE(what);
        ASSERT_FALSE(result);
        expectTold(result.error());
        EXPECT_TRUE(everything(m_folder / "") == before) << "nothing changed";
    };
    refuses("open", ProgramFile::open(m_path));
    refuses("read", ProgramFile::open(m_path, OpenMode::ReadOnly));
    refuses("copy to", copyTo(m_path, m_folder / "copy.markerlamp"));
    refuses("keep a copy", keepCopy(m_path, {core::CopyReason::Day, 0, false}));
    refuses("compare", differenceOf(m_good, m_path));
    const auto verified = verifyProgram(m_path);
    if (verified) {
        ASSERT_FALSE(verified->problems.empty());
        EXPECT_THAT(verified->problems[0].message, HasSubstr(GetParam().told));
        EXPECT_FALSE(restoreProgram(m_path, m_good));
        EXPECT_TRUE(everything(m_folder / "") == before);
    } else {
        refuses("verify", verified);
        refuses("restore it over a good one", restoreProgram(m_path, m_good));
    }
}

TEST_P(HostileFile, TakesNoPressAndKeepsThemBesideIt) {
    ASSERT_EQ(rawSql(m_path, GetParam().sql), "");
    const std::string before = everything(m_folder / "").at("p.markerlamp");
    {
        EventWriter writer(
            m_path, [](std::uint64_t) {}, [](const core::Error*, std::size_t) {});
        writer.startAttempt(sampleAttempt("a-2").header);
        EXPECT_FALSE(writer.flush(std::chrono::milliseconds(10)));
    }
    EXPECT_TRUE(everything(m_folder / "").at("p.markerlamp") == before);
    EXPECT_TRUE(std::filesystem::exists(EventWriter::spillPath(m_path)));
}

TEST_P(HostileFile, GivesItsRecordsToANewFileAndItsPlaceToACopy) {
    ASSERT_EQ(rawSql(m_path, GetParam().sql), "");
    const std::string before = everything(m_folder / "").at("p.markerlamp");
    const auto read = salvage(m_path, m_folder / "new.markerlamp");
    ASSERT_TRUE(read) << read.error().message;
    EXPECT_TRUE(everything(m_folder / "").at("p.markerlamp") == before);
    EXPECT_EQ(read->complete,
              std::vector<std::string>(GetParam().readable ? 1 : read->complete.size(), "a-1"));
    EXPECT_TRUE(verifyProgram(m_folder / "new.markerlamp")->good());
    auto file = ProgramFile::open(m_folder / "new.markerlamp").value();
    EXPECT_EQ(file->attempts()->size(), read->complete.size() + read->cut.size());
    const auto restored = restoreProgram(m_good, m_path);
    ASSERT_TRUE(restored) << restored.error().message;
    EXPECT_TRUE(restored->asideDamaged);
    EXPECT_TRUE(
        everything(m_folder / "").at(std::filesystem::relative(restored->aside, m_folder / "").string()) ==
        before);
    EXPECT_TRUE(sameRecords(m_path, m_good).value());
}

INSTANTIATE_TEST_SUITE_P(Strangers, HostileFile, ::testing::ValuesIn(hostiles()),
                         [](const auto& one) { return std::string(one.param.name); });

// What is odd and harmless opens.
class OddFile : public HostileFile {};

TEST_P(OddFile, OpensWithAllItHas) {
    ASSERT_EQ(rawSql(m_path, GetParam().sql), "");
    const auto report = verifyProgram(m_path);
    ASSERT_TRUE(report) << report.error().message;
    auto file = ProgramFile::open(m_path);
    ASSERT_TRUE(file) << file.error().message;
    EXPECT_EQ((*file)->attempt("a-1").value(), sampleAttempt("a-1"));
    EXPECT_TRUE((*file)->addAttempt(sampleAttempt("a-2")));
    EXPECT_EQ((*file)->attempts()->size(), 2u);
    file->reset();
    EXPECT_TRUE(verifyProgram(m_path)->good());
    EXPECT_TRUE(copyTo(m_path, m_folder / "copy.markerlamp"));
    EXPECT_TRUE(salvage(m_path, m_folder / "new.markerlamp"));
}

INSTANTIATE_TEST_SUITE_P(
    Harmless, OddFile,
    ::testing::Values(
        Hostile{"SmallPages", "PRAGMA journal_mode = DELETE; PRAGMA page_size = 512; VACUUM", ""},
        Hostile{"LargePages", "PRAGMA journal_mode = DELETE; PRAGMA page_size = 65536; VACUUM", ""},
        Hostile{"Vacuumed", "PRAGMA auto_vacuum = 1; VACUUM", ""}, Hostile{"Analysed", "ANALYZE", ""},
        Hostile{"NoFigures", "DROP TABLE attempt_projection", ""},
        Hostile{"OtherFigures", "DROP TABLE attempt_projection; CREATE TABLE attempt_projection (attempt, x)",
                ""},
        Hostile{"NulInATitle", "INSERT INTO fact VALUES ('program.x', CAST(x'410042' AS TEXT))", ""}),
    [](const auto& one) { return std::string(one.param.name); });

TEST_F(StrangeFile, OfAnotherEncodingIsRefused) {
    std::string sql = "PRAGMA encoding = 'UTF-16le'; PRAGMA application_id = 1298877552;";
    for (const SchemaStep& step : schemaSteps())
        sql += step.sql + "; PRAGMA user_version = " + std::to_string(step.number) + ";";
    ASSERT_EQ(rawSql(m_folder / "wide", sql), "");
    const auto file = ProgramFile::open(m_folder / "wide");
    ASSERT_FALSE(file);
    EXPECT_THAT(file.error().message, HasSubstr("UTF-8"));
}

TEST_F(StrangeFile, WithAJournalThatNamesAnotherFileRemovesNothing) {
    // A journal of one page with the name of a further file at its end (SQLite, "The Rollback Journal" in the
    // description of the file format). sqlite3 rolls it back and removes that file when asked to open this.
    const std::string victim = (m_folder / "letter").string();
    const auto number = [](std::uint32_t n) {
        return std::string{static_cast<char>(n >> 24), static_cast<char>(n >> 16), static_cast<char>(n >> 8),
                           static_cast<char>(n)};
    };
    const std::string magic("\xd9\xd5\x05\xf9\x20\xa1\x63\xd7", 8);
    std::uint32_t sum = 0;
    for (const char c : victim) sum += static_cast<std::uint32_t>(c);
    std::string journal = magic + number(0) + number(0) +
                          number(static_cast<std::uint32_t>(std::filesystem::file_size(m_path) / 4096)) +
                          number(512) + number(4096);
    journal.resize(512);
    journal += number((1u << 30) / 4096 + 1) + victim + number(static_cast<std::uint32_t>(victim.size())) +
               number(sum) + magic;
    const auto lay = [&] {
        std::ofstream(victim) << "kept";
        std::ofstream(m_path.string() + "-journal", std::ios::binary) << journal;
    };
    lay();
    ASSERT_EQ(rawSql(m_path, "PRAGMA user_version"), "");
    EXPECT_FALSE(std::filesystem::exists(victim)) << "else this test shows nothing";
    lay();
    const auto before = everything(m_folder / "");
    const auto refuses = [&](const auto& result) {
        ASSERT_FALSE(result);
        EXPECT_THAT(result.error().message, HasSubstr("p.markerlamp-journal"));
        EXPECT_TRUE(everything(m_folder / "") == before);
    };
    refuses(ProgramFile::open(m_path));
    refuses(ProgramFile::open(m_path, OpenMode::ReadOnly));
    refuses(verifyProgram(m_path));
    refuses(keepCopy(m_path, {core::CopyReason::Day, 0, false}));
    refuses(restoreProgram(m_path, m_good));
}

TEST_F(StrangeFile, WithALogThatIsNoneKeepsItsRecords) {
    std::mt19937 random(20260302);
    for (int round = 0; round < 40; ++round) {
        std::string log(32 + random() % 20000, '\0');
        for (char& c : log) c = static_cast<char>(random());
        if (round % 2 == 0) log.replace(0, 4, "\x37\x7f\x06\x82");
        std::ofstream(m_path.string() + "-wal", std::ios::binary) << log;
        auto file = ProgramFile::open(m_path, round % 4 < 2 ? OpenMode::ReadWrite : OpenMode::ReadOnly);
        ASSERT_TRUE(file) << file.error().message;
        EXPECT_EQ((*file)->attempt("a-1").value(), sampleAttempt("a-1"));
    }
    EXPECT_TRUE(verifyProgram(m_path)->good());
}

TEST_F(StrangeFile, WithValuesOfOtherTypesIsReadWithoutHarmAndVerifyNamesThem) {
    const char* const changes[] = {
        "UPDATE event SET t = 'soon', n = 2.5 WHERE n = 2",
        "UPDATE event SET kind = 99 WHERE n = 3",
        "UPDATE event SET step = 'start' WHERE n = 1",
        "UPDATE attempt SET started_ms = 'then'",
        "UPDATE attempt SET equipment = x'00ff', limits = '{'",
        "UPDATE attempt SET rubric = 'small'",
        "UPDATE trainee SET to_complete = 'abc', theory_percent = x'01'",
        "UPDATE rubric SET text = x'ff00ff', edition = 'one'",
        "UPDATE word SET text = CAST(number AS BLOB)",
        "UPDATE fact SET value = x'00'",
        "UPDATE event SET n = 9223372036854775807 WHERE n = 7",
        "UPDATE event SET value = 9e999, unit = 1 WHERE n = 3",
        "UPDATE bus SET equipment = printf('%.*c', 1000000, '[') || ']'",
        "UPDATE bus SET equipment = printf('%.*c', 1000000, '[') || replace(printf('%.*c', 1000000, '['), "
        "'[', "
        "']')",
        "UPDATE bus SET equipment = '[1, {\"a\": []}]', limits = '{\"a\": 7}'",
    };
    for (const char* change : changes) {
        SCOPED_TRACE(change);
        const auto path = m_folder / "typed.markerlamp";
        std::filesystem::copy_file(m_good, path, std::filesystem::copy_options::overwrite_existing);
        // As loose tables without triggers, and then as they were.
        ASSERT_EQ(
            rawSql(path, "CREATE TABLE was AS SELECT rowid AS r, * FROM sqlite_schema;" +
                             inTheSchema(
                                 "UPDATE sqlite_schema SET sql = replace(replace(sql, "
                                 "') STRICT, WITHOUT', ') WITHOUT'), ') STRICT', ')') WHERE type = 'table'; "
                                 "DELETE FROM sqlite_schema WHERE type = 'trigger'")),
            "");
        ASSERT_EQ(rawSql(path, "PRAGMA ignore_check_constraints = ON; PRAGMA foreign_keys = OFF; " +
                                   std::string(change)),
                  "");
        ASSERT_EQ(
            rawSql(path,
                   inTheSchema("UPDATE sqlite_schema AS s SET sql = (SELECT sql FROM was WHERE was.type = "
                               "s.type AND was.name = s.name) WHERE name <> 'was'; "
                               "INSERT INTO sqlite_schema SELECT type, name, tbl_name, rootpage, sql FROM "
                               "was WHERE type = 'trigger'")),
            "");
        ASSERT_EQ(rawSql(path, "DROP TABLE was"), "");
        const auto report = verifyProgram(path);
        ASSERT_TRUE(report) << report.error().message;
        EXPECT_FALSE(report->good());
        if (auto file = ProgramFile::open(path)) {
            (void)(*file)->attempts();
            (void)(*file)->attempt("a-1");
            (void)(*file)->trainees();
            (void)(*file)->buses();
            (void)(*file)->rubrics();
            (void)(*file)->facts();
            (void)(*file)->practiceRecord();
            (void)(*file)->wrongFigures();
        }
        (void)salvage(path, m_folder / "out.markerlamp");
        std::filesystem::remove(m_folder / "out.markerlamp");
    }
}

}  // namespace
}  // namespace markerlamp::db
