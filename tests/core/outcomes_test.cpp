// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/people/outcomes.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace markerlamp::core {
namespace {

using ::testing::HasSubstr;

std::vector<Trainee> known() {
    std::vector<Trainee> trainees(2);
    trainees[0].key = "t-1";
    trainees[1].key = "t-2";
    return trainees;
}

std::vector<Problem> problemsOf(const std::string& rows,
                                const std::string& header = "trainee,date,segment,result") {
    const auto read = readOutcomesCsv(header + "\r\n" + rows, "outcomes.csv", known(), {});
    if (!read) return read.error().problems;
    ADD_FAILURE() << "accepted " << rows;
    return {Problem{}};
}

TEST(OutcomesTable, MakesResultsThatReadBack) {
    const auto read = readOutcomesCsv(
        "trainee,date,segment,result,note\r\nt-1,2026-04-01,inspection,fail,\"spring brakes, again\"\r\n"
        "t-1,2026-04-08,inspection,pass,\r\nt-2,2026-04-08,road,pass,\r\n",
        "outcomes.csv", known(), {});
    ASSERT_TRUE(read) << read.error().message;
    EXPECT_EQ(read->rows, 3);
    ASSERT_EQ(read->results.size(), 3u);
    EXPECT_EQ(read->results[0].note, "spring brakes, again");
    EXPECT_FALSE(read->results[0].passed);
    EXPECT_TRUE(read->results[1].passed);
    EXPECT_EQ(read->results[2].segment, "road");
    const auto again = readOutcomesCsv(writeOutcomesCsv(read->results), {}, known(), {});
    EXPECT_EQ(again->results, read->results) << "with the same ids, wherever the table is taken in";
    EXPECT_TRUE(
        readOutcomesCsv(writeOutcomesCsv(read->results), {}, known(), read->results)->results.empty());
}

TEST(OutcomesTable, PassesOverARowThatIsOnFileUnderAnotherIdOrStandsTwice) {
    const TestResult stored{"by-hand", "t-1", "2026-04-01", "inspection", false, "of the form"};
    const auto read = readOutcomesCsv(
        "trainee,date,segment,result\r\nt-1,2026-04-01,inspection,fail\r\nt-1,2026-04-01,inspection,pass\r\n"
        "t-1,2026-04-01,inspection,pass\r\n",
        {}, known(), {stored});
    EXPECT_EQ(read->rows, 3);
    ASSERT_EQ(read->results.size(), 1u) << "a retest on the same day is another result";
    EXPECT_TRUE(read->results[0].passed);
}

TEST(OutcomesTable, RefusesByRowAndColumn) {
    auto problems = problemsOf("t-9,2026-04-01,inspection,pass\r\n");
    ASSERT_EQ(problems.size(), 1u);
    EXPECT_EQ(problems[0].line, 2);
    EXPECT_EQ(problems[0].path, "trainee");
    problems =
        problemsOf("t-1,2026-02-29,inspection,pass\r\nt-1,2026-04-01,inspecton,pass\r\nt-1,,road,passed\r\n");
    ASSERT_EQ(problems.size(), 4u) << "every problem is told, and nothing is taken";
    EXPECT_EQ(problems[0].path, "date");
    EXPECT_EQ(problems[1].line, 3);
    EXPECT_THAT(problems[1].remedy, HasSubstr("\"inspection\""));
    EXPECT_EQ(problems[2].path, "date");
    EXPECT_EQ(problems[3].id, "passed");
    problems = problemsOf("t-1,2026-04-01,road,pass,x\r\n", "trainee,date,segment,result,score");
    ASSERT_EQ(problems.size(), 1u);
    EXPECT_EQ(problems[0].id, "score");
    problems = problemsOf("t-1,2026-04-01,road\r\n", "trainee,date,segment");
    EXPECT_THAT(problems.at(0).message, HasSubstr("\"result\" is missing"));
}

TEST(OutcomesTable, TakesASegmentOfTheProgramsOwnOnceAResultHasIt) {
    const TestResult stored{"by-hand", "t-1", "2026-04-01", "evacuation", false, ""};
    EXPECT_EQ(readOutcomesCsv("trainee,date,segment,result\r\nt-2,2026-04-02,evacuation,pass\r\n", {},
                              known(), {stored})
                  ->results.size(),
              1u);
    EXPECT_EQ(problemsOf("t-2,2026-04-02,evacuation,pass\r\n").at(0).path, "segment");
}

}  // namespace
}  // namespace markerlamp::core
