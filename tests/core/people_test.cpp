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

}  // namespace
}  // namespace markerlamp::core
