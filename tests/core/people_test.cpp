// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/people/people.h"

#include "core/base/csv.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

namespace markerlamp::core {
namespace {

TEST(Csv, ReadsTheFormsOfRfc4180) {
    // The forms of RFC 4180 section 2: quotes, doubled quotes, commas and line breaks inside quotes, missing
    // last break.
    const auto table = readCsv("a,b\r\n\"x,1\",\"he said \"\"no\"\"\"\r\n\"two\r\nlines\",");
    ASSERT_TRUE(table);
    EXPECT_EQ(table->rows[0][0], "x,1");
    EXPECT_EQ(table->rows[0][1], "he said \"no\"");
    EXPECT_EQ(table->rows[1][0], "two\r\nlines");
    EXPECT_EQ(table->rows[1][1], "");
    EXPECT_EQ(table->lines[1], 3);
}

TEST(Csv, RefusesRaggedRowsDoubledColumnsAndStrayQuotes) {
    for (const char* bad :
         {"", "a,a\n1,2\n", "a,b\n1\n", "a,b\n1,2,3\n", "a\nx\"y\n", "a\n\"x\"y\n", "a\n\"x\n", "a\n\xff\n"})
        EXPECT_FALSE(readCsv(bad)) << bad;
}

RC_GTEST_PROP(Csv, WhatIsWrittenReadsBack, ()) {
    const auto cell = rc::gen::container<std::string>(rc::gen::elementOf(std::string("ab,\"\r\n 1")));
    const auto rows = *rc::gen::container<std::vector<std::vector<std::string>>>(
        rc::gen::map(rc::gen::pair(cell, cell), [](const auto& p) {
            return std::vector<std::string>{p.first, p.second};
        }));
    const auto table = readCsv(writeCsv({"a", "b"}, rows));
    RC_ASSERT(table.has_value());
    RC_ASSERT(table->rows == rows);
}

TEST(People, RoundTripThroughTheirTable) {
    Trainee t;
    t.key = "t-1";
    t.name = "Ada, \"the\" Example";
    t.permitIssued = "2026-01-05";
    t.theoryPercent = 92.5;
    EXPECT_EQ(readPeopleCsv(writePeopleCsv({t})).value(), std::vector{t});
    Bus bus;
    bus.key = "14";
    bus.equipment = {"air-brakes", "front-engine"};
    bus.limits["low-warning"] = {60.0, std::nullopt};
    bus.limits["cut-out"] = {120.0, 135.5};
    EXPECT_EQ(readBusesCsv(writeBusesCsv({bus})).value(), std::vector{bus});
}

TEST(People, NamesLineColumnAndRemedyOfEachProblem) {
    const auto read = readPeopleCsv("key,name,permit_issued,theory_percent\nt-1,A,2026-02-30,80\nt-1,,,101\n",
                                    "people.csv");
    ASSERT_FALSE(read);
    const auto& problems = read.error().problems;
    ASSERT_EQ(problems.size(), 4u);
    EXPECT_EQ(problems[0].line, 2);
    EXPECT_EQ(problems[0].path, "permit_issued");
    EXPECT_EQ(problems[1].path, "key");
    EXPECT_EQ(problems[2].path, "name");
    EXPECT_EQ(problems[3].path, "theory_percent");
    for (const Problem& p : problems) {
        EXPECT_EQ(p.file, "people.csv");
        EXPECT_FALSE(p.remedy.empty());
    }
    const auto unknown = readPeopleCsv("key,name,permit_isued\n");
    ASSERT_FALSE(unknown);
    EXPECT_NE(unknown.error().problems[0].remedy.find("permit_issued"), std::string::npos);
    EXPECT_FALSE(readPeopleCsv("key\nt-1\n"));
    EXPECT_FALSE(readBusesCsv("key,limits\n14,low-warning 60\n"));
    EXPECT_FALSE(readBusesCsv("key,limits\n14,low-warning 70..60\n"));
}

Trainee knownTrainee() {
    Trainee t;
    t.key = "t-1";
    t.name = "Ada Example";
    t.started = "2026-01-02";
    t.permitIssued = "2026-01-05";
    t.permitExpires = "2026-07-05";
    t.medicalExpires = "2027-01-31";
    t.theoryPercent = 92.5;
    t.theoryDate = "2026-01-20";
    t.group = "north yard";
    t.note = "early shift";
    return t;
}

TEST(People, AColumnThatIsMissingKeepsWhatIsKnown) {
    const auto read = readPeopleCsv("key,name\nt-1,Ada Sample\nt-2,New\n", {}, {knownTrainee()});
    ASSERT_TRUE(read);
    Trainee expected = knownTrainee();
    expected.name = "Ada Sample";
    EXPECT_EQ(read->at(0), expected);
    Trainee fresh;
    fresh.key = "t-2";
    fresh.name = "New";
    EXPECT_EQ(read->at(1), fresh) << "nothing of somebody else's";
}

TEST(People, AnEmptyCellClearsWhatIsKnown) {
    const auto read = readPeopleCsv(
        "key,name,started,permit_issued,permit_expires,medical_expires,theory_percent,theory_date,group,"
        "note\n"
        "t-1,Ada Example,,,,,,,,\n",
        {}, {knownTrainee()});
    ASSERT_TRUE(read);
    Trainee expected;
    expected.key = "t-1";
    expected.name = "Ada Example";
    EXPECT_EQ(read->at(0), expected);
}

TEST(People, BusesKeepEquipmentAndLimitsThatATableDoesNotCarry) {
    Bus bus;
    bus.key = "14";
    bus.title = "Front engine";
    bus.equipment = {"air-brakes"};
    bus.limits["low-warning"] = {60.0, std::nullopt};
    bus.note = "spare";
    Bus renamed = bus;
    renamed.title = "Spare bus";
    EXPECT_EQ(readBusesCsv("key,title\n14,Spare bus\n", {}, {bus}).value(), std::vector{renamed});
    Bus bare;
    bare.key = "14";
    EXPECT_EQ(readBusesCsv("key,title,equipment,limits,note\n14,,,,\n", {}, {bus}).value(),
              std::vector{bare});
    Bus other = bus;
    other.equipment = {"power-steering"};
    other.limits = {{"cut-out", {std::nullopt, 135.0}}};
    EXPECT_EQ(readBusesCsv("key,equipment,limits\n14,power-steering,cut-out ..135\n", {}, {bus}).value(),
              std::vector{other})
        << "what the table carries takes the place of what was there";
}

TEST(People, ChangesTellDatesAndKeepPersonalValuesBack) {
    Trainee now = knownTrainee();
    now.permitExpires.clear();
    now.note = "moved house";
    now.theoryPercent = 40;
    EXPECT_EQ(changesBetween(knownTrainee(), now),
              (std::vector<ColumnChange>{{"permit_expires", true, "2026-07-05", ""},
                                         {"theory_percent", false, "", ""},
                                         {"note", false, "", ""}}));
    EXPECT_TRUE(changesBetween(now, now).empty());
    EXPECT_EQ(changesBetween(Instructor{"i-1", "Before", false}, Instructor{"i-1", "After", false}),
              (std::vector<ColumnChange>{{"name", false, "", ""}}));
    Bus bus;
    bus.key = "14";
    Bus fitted = bus;
    fitted.equipment = {"air-brakes", "front-engine"};
    fitted.limits["low-warning"] = {60.0, std::nullopt};
    EXPECT_EQ(changesBetween(bus, fitted),
              (std::vector<ColumnChange>{{"equipment", true, "", "air-brakes front-engine"},
                                         {"limits", true, "", "low-warning 60.."}}));
}

}  // namespace
}  // namespace markerlamp::core
