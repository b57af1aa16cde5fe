// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The program page without a window: hand-made people and readiness that the test chooses.

#include "app/program/program_view.h"

#include "../readiness/readiness_support.h"
#include "app/program/runway.h"
#include "app/readiness/readiness_desk.h"
#include "app/support/display.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace markerlamp {
namespace {

using app::Grouping;
using app::ProgramView;
using core::ReadinessWord;
using ::testing::ElementsAre;

const QDate kToday(2026, 3, 12);  // a Thursday

class ProgramViewTest : public ::testing::Test {
protected:
    core::PersonFile& person(const std::string& key, const std::string& name, const std::string& permitEnd,
                             const std::string& group = "") {
        core::PersonFile one;
        one.trainee.key = key;
        one.trainee.name = name;
        one.trainee.started = "2026-01-05";
        one.trainee.permitIssued = "2026-01-06";
        one.trainee.permitExpires = permitEnd;
        one.trainee.group = group;
        m_data.people.push_back(one);
        return m_data.people.back();
    }
    void attempt(const std::string& trainee, const std::string& started, const std::string& instructor,
                 double percent = 60) {
        db::AttemptInfo info;
        info.id = "a-" + std::to_string(m_data.attempts.size());
        info.trainee = trainee;
        info.instructor = instructor;
        info.started = started;
        info.state = db::AttemptState::Ended;
        info.percent = percent;
        m_data.attempts.insert(m_data.attempts.begin(), info);  // newest first
    }
    void known(const std::string& key, ReadinessWord word, int lowDays, int highDays) {
        app::ReadinessStanding& standing = m_standings[app::qs(key)];
        standing.known = true;
        standing.state = app::ReadinessStanding::State::Known;
        standing.answer = testing::closeAnswer(key, 20524);
        standing.answer.readiness.word = word;
        app::Outlook outlook;
        outlook.ahead.low = lowDays;
        outlook.ahead.high = highDays;
        outlook.ahead.paceDays = 1;
        standing.answer.outlook = outlook;
    }
    [[nodiscard]] ProgramView view() const {
        return ProgramView(
            m_data,
            [this](const QString& key) -> const app::ReadinessStanding& {
                static const app::ReadinessStanding none;
                const auto found = m_standings.find(key);
                return found == m_standings.end() ? none : found->second;
            },
            kToday, m_open);
    }
    static std::vector<QString> ids(const std::vector<app::Row>& rows) {
        std::vector<QString> all;
        for (const app::Row& row : rows) all.push_back(row.id);
        return all;
    }

    app::ProgramData m_data;
    std::vector<app::OpenPair> m_open;
    std::map<QString, app::ReadinessStanding> m_standings;
};

TEST_F(ProgramViewTest, TheRosterBeginsWithTheLeastTimeToSpare) {
    person("t-a", "Able Invented", "2026-06-01");
    person("t-b", "Best Invented", "2026-03-31");
    person("t-c", "Calm Invented", "2026-04-20");
    person("t-d", "Done Invented", "2026-05-01");
    for (const char* key : {"t-a", "t-b", "t-c", "t-d"}) attempt(key, "2026-03-10T06:00:00-05:00", "i-1");
    known("t-a", ReadinessWord::Close, 5, 20);    // 81 - 20
    known("t-b", ReadinessWord::NotYet, 24, 40);  // 19 - 40
    known("t-c", ReadinessWord::NotYet, 10, 30);  // 39 - 30
    const ProgramView made = view();
    EXPECT_THAT(ids(made.rosterRows({})), ElementsAre("t-b", "t-c", "t-a", "t-d"));
    EXPECT_EQ(made.entry("t-b")->spare, -21);
    EXPECT_TRUE(made.entry("t-b")->runway.late());
    EXPECT_FALSE(made.entry("t-c")->runway.late());
    EXPECT_EQ(made.inTraining(), 4);
    EXPECT_EQ(made.known(), 3);
    EXPECT_EQ(made.count(ReadinessWord::NotYet), 2);
    // One reason, with its words: 19 days to 31 March.
    ASSERT_EQ(made.attention().size(), 1U);
    EXPECT_EQ(app::reasonWords(made.attention().front()),
              QStringLiteral("Permit ends 31 Mar 2026, in 19 days; ready in 24 to 40 days"));
    EXPECT_EQ(app::actionWords(made.attention().front().action), QStringLiteral("Begin an attempt"));
    EXPECT_TRUE(made.rosterRows({}).front().cells[0].bold);
}

TEST_F(ProgramViewTest, GroupsStandUnderTheirNameWithTheirCount) {
    person("t-a", "Able Invented", "2026-06-01", "September");
    person("t-b", "Best Invented", "2026-03-31", "January");
    person("t-c", "Calm Invented", "2026-04-20", "January");
    m_data.instructors = {{"i-1", "Ann Invented", false}, {"i-2", "Zoe Invented", false}};
    attempt("t-a", "2026-03-10T06:00:00-05:00", "i-2");
    attempt("t-b", "2026-03-09T06:00:00-05:00", "i-1");
    attempt("t-b", "2026-03-10T06:00:00-05:00", "i-2");
    attempt("t-b", "2026-03-11T06:00:00-05:00", "i-2");
    const ProgramView made = view();
    app::RosterFilter filter;
    filter.grouping = Grouping::Class;
    auto rows = made.rosterRows(filter);
    EXPECT_THAT(ids(rows), ElementsAre("", "t-b", "t-c", "", "t-a"));
    EXPECT_EQ(rows[0].cells[0].text, QStringLiteral("January"));
    EXPECT_EQ(rows[0].cells[2].text, QStringLiteral("2"));
    filter.grouping = Grouping::Instructor;
    rows = made.rosterRows(filter);
    EXPECT_THAT(ids(rows), ElementsAre("", "t-c", "", "t-b", "t-a"));
    EXPECT_EQ(rows[0].cells[0].text, QStringLiteral("nobody yet"));
    EXPECT_EQ(rows[2].cells[0].text, QStringLiteral("Zoe Invented")) << "most of the last attempts";
}

TEST_F(ProgramViewTest, SortsByAnyColumnWithinTheGroups) {
    person("t-a", "able Invented", "2026-06-01", "January");
    person("t-b", "Best Invented", "2026-03-31", "September");
    person("t-c", "Calm Invented", "2026-04-20", "January");
    person("t-d", "Done Invented", "2026-05-01", "September");
    core::Absence away;
    away.trainee = "t-a";
    away.left = "2026-03-01";
    m_data.people[0].absences = {away};
    attempt("t-b", "2026-03-09T06:00:00-05:00", "i-1");
    attempt("t-c", "2026-03-10T06:00:00-05:00", "i-1");
    attempt("t-c", "2026-03-11T06:00:00-05:00", "i-1");
    known("t-c", ReadinessWord::Ready, 0, 0);
    known("t-d", ReadinessWord::NotYet, 5, 9);
    const ProgramView made = view();
    app::RosterFilter filter;
    const auto by = [&](int column, bool descending) {
        filter.order = {column, descending};
        return ids(made.rosterRows(filter));
    };
    EXPECT_THAT(by(0, false), ElementsAre("t-b", "t-c", "t-d", "t-a")) << "who is away comes last";
    EXPECT_THAT(by(0, true), ElementsAre("t-d", "t-c", "t-b", "t-a"));
    EXPECT_THAT(by(2, true), ElementsAre("t-c", "t-b", "t-d", "t-a")) << "attempts";
    EXPECT_THAT(by(3, false), ElementsAre("t-d", "t-b", "t-c", "t-a")) << "never before long ago";
    EXPECT_THAT(by(4, false).front(), QStringLiteral("t-c")) << "ready first";
    filter.grouping = Grouping::Class;
    EXPECT_THAT(by(0, true), ElementsAre("", "t-c", "t-a", "", "t-d", "t-b"));
}

TEST_F(ProgramViewTest, SheetsThatAreNotSignedAndScoringsThatWaitAskForAction) {
    person("t-a", "Able Invented", "2026-12-01");
    person("t-b", "Best Invented", "2026-12-01");
    attempt("t-a", "2026-03-03T06:00:00-05:00", "i-1");
    attempt("t-a", "2026-03-10T06:00:00-05:00", "i-1");
    attempt("t-b", "2026-03-10T06:00:00-05:00", "i-1");
    m_data.sheets["a-0"] = {"2026-03-03T08:00:00-05:00"};
    m_data.sheets["a-1"] = {"2026-03-10T08:00:00-05:00", "2026-03-10T08:10:00-05:00"};
    m_open = {{"t-b", "a-2", "s-1"}};
    const ProgramView made = view();
    ASSERT_EQ(made.attention().size(), 2U);
    EXPECT_EQ(app::reasonWords(made.attention()[0]),
              QStringLiteral("Sheet of 3 Mar 2026 is not signed, 9 days after it was made"));
    EXPECT_EQ(made.attention()[0].attempts.front(), "a-0");
    EXPECT_EQ(app::reasonWords(made.attention()[1]), QStringLiteral("To be settled: 1 second scoring"));
    EXPECT_EQ(made.attention()[1].attempts.front(), "s-1");
}

TEST_F(ProgramViewTest, FindsByNameClassAndInstructorAndByWord) {
    person("t-a", "Able Invented", "2026-06-01", "September");
    person("t-b", "Best Invented", "2026-06-02", "January");
    m_data.instructors = {{"i-1", "Ann Someone", false}};
    attempt("t-b", "2026-03-10T06:00:00-05:00", "i-1");
    known("t-a", ReadinessWord::Ready, 0, 0);
    known("t-b", ReadinessWord::NotYet, 5, 9);
    const ProgramView made = view();
    const auto found = [&](const QString& words, std::optional<ReadinessWord> word = {}) {
        return ids(made.rosterRows({words, word, Grouping::None, {}}));
    };
    EXPECT_THAT(found("able"), ElementsAre("t-a"));
    EXPECT_THAT(found("JANU"), ElementsAre("t-b"));
    EXPECT_THAT(found("someone"), ElementsAre("t-b"));
    EXPECT_TRUE(found("nobody").empty());
    EXPECT_THAT(found({}, ReadinessWord::Ready), ElementsAre("t-a"));
}

TEST_F(ProgramViewTest, WhoIsAwayOrHasPassedIsNotInTraining) {
    core::Absence away;
    away.trainee = "t-a";
    away.left = "2026-03-01";
    person("t-a", "Able Invented", "2026-06-01").absences = {away};
    core::PersonFile& passed = person("t-b", "Best Invented", "2026-06-01");
    for (const std::string_view segment : core::kSegments) {
        core::TestResult result;
        result.id = segment;
        result.trainee = "t-b";
        result.segment = segment;
        result.date = "2026-03-01";
        result.passed = true;
        passed.results.push_back(result);
    }
    const ProgramView made = view();
    EXPECT_EQ(made.inTraining(), 0);
    EXPECT_TRUE(made.keysInTraining().isEmpty());
    const auto rows = made.rosterRows({});
    ASSERT_EQ(rows.size(), 2U);
    EXPECT_EQ(rows[0].cells[4].text, QStringLiteral("away"));
    EXPECT_EQ(rows[1].cells[4].text, QStringLiteral("passed"));
}

TEST_F(ProgramViewTest, CountsAttemptsByWeekAndInstructor) {
    m_data.instructors = {{"i-1", "Ann Invented", false}, {"i-2", "Bo Invented", false}};
    person("t-a", "Able Invented", "2026-06-01");
    attempt("t-a", "2026-01-18T23:00:00-05:00", "i-1");  // the Sunday before the first of eight weeks
    attempt("t-a", "2026-01-19T06:00:00-05:00", "i-1");  // its Monday
    attempt("t-a", "2026-03-08T06:00:00-05:00", "i-2");  // the Sunday before this week
    attempt("t-a", "2026-03-09T06:00:00-05:00", "i-1");
    attempt("t-a", "2026-03-12T06:00:00-05:00", "i-1");
    const ProgramView made = view();
    const auto rows = made.weekRows();
    ASSERT_EQ(rows.size(), 3U);
    std::vector<QString> first;
    for (const app::Cell& cell : rows[0].cells) first.push_back(cell.text);
    EXPECT_THAT(first, ElementsAre("Ann Invented", "1", "0", "0", "0", "0", "0", "0", "2", "3"));
    EXPECT_EQ(rows[1].cells[7].text, QStringLiteral("1"));
    EXPECT_EQ(rows[2].cells[9].text, QStringLiteral("4"));
    EXPECT_THAT(made.attemptsOf("i-1", 7), ElementsAre("a-4", "a-3"));
    EXPECT_THAT(made.attemptsOf("", 6), ElementsAre("a-2"));
    EXPECT_EQ(made.attemptsOf("", -1).size(), 4U);
    EXPECT_EQ(made.weekColumns()[1].title, app::shortDate(QDate(2026, 1, 19)));
}

TEST_F(ProgramViewTest, TestsAheadAndTheRunwayInWords) {
    core::BookedTest near, far, over;
    near.id = "b-1";
    near.date = "2026-03-20";
    far.id = "b-2";
    far.date = "2026-05-20";
    over.id = "b-3";
    over.date = "2026-03-02";
    person("t-a", "Able Invented", "2026-06-01").bookings = {over, near, far};
    known("t-a", ReadinessWord::NotYet, 6, 12);
    const ProgramView made = view();
    ASSERT_EQ(made.testsAhead().size(), 1U);
    EXPECT_EQ(made.testsAhead().front().date, QDate(2026, 3, 20));
    EXPECT_EQ(app::runwayWords(made.entry("t-a")->runway, kToday),
              QStringLiteral("permit ends 1 Jun 2026, ready in 6 to 12 days, test 20 Mar 2026, "
                             "test 20 May 2026"));
    EXPECT_GE(made.lastDay(), 81);
}

TEST(DayScaleTest, IsLinearFromTodayAndNamesFirstAndFifteenth) {
    const app::DayScale scale{kToday, 60};
    EXPECT_LT(scale.x(0, 100, 600), 110);
    EXPECT_DOUBLE_EQ(scale.x(60, 100, 600), 700);
    EXPECT_NEAR(scale.x(30, 100, 600) * 2, scale.x(0, 100, 600) + scale.x(60, 100, 600), 1e-9);
    EXPECT_DOUBLE_EQ(scale.x(400, 100, 600), 700) << "what lies beyond stays at the edge";
    EXPECT_THAT(scale.ticks(600, 40), ElementsAre(20, 34, 50));  // 1 Apr, 15 Apr, 1 May
    EXPECT_LT(scale.ticks(150, 64).size(), 3U);
}

}  // namespace
}  // namespace markerlamp
