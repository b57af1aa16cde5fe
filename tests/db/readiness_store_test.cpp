// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/base/moment.h"
#include "db_support.h"

#include <gtest/gtest.h>

#include <set>

namespace markerlamp::db {
namespace {

using namespace testing;
using core::ErrorKind;
using core::FrozenForecast;
using core::Override;
using core::ReadinessWord;
using core::TestResult;

FrozenForecast frozen(const std::string& id, const std::string& at) {
    FrozenForecast f;
    f.id = id;
    f.trainee = "t-1";
    f.at = at;
    f.attempt = "a-1";
    f.rubric = "small";
    f.modelVersion = 1;
    f.attempts = 3;
    f.chance = 1.0 / 3;
    f.low = 0.1;
    f.high = 0.7;
    f.word = ReadinessWord::Close;
    f.computed = ReadinessWord::NotYet;
    return f;
}

Override overriding(const std::string& id, const std::string& at) {
    return {id, "t-1", ReadinessWord::Ready, "seen on the road", "i-1", at, false};
}

TestResult tested(const std::string& id, const std::string& date) {
    return {id, "t-1", date, "inspection", true, ""};
}

TEST(ReadinessStore, KeepsRecordsToTheLetterAndInOrder) {
    Folder folder;
    const auto path = folder / "p.markerlamp";
    const FrozenForecast later = frozen("f-1", "2026-03-02T06:10:00-05:00");
    FrozenForecast first = frozen("f-2", "2026-03-02T06:10:00+00:00");  // 5 hours earlier
    first.about = FrozenForecast::About::OfficialTest;
    first.attempt.clear();
    const Override late = overriding("o-1", "2026-03-02T06:10:00-05:00");
    Override early = overriding("o-2", "2026-03-02T06:10:00+00:00");
    early.withdrawn = true;
    const TestResult second = tested("r-1", "2026-03-09");
    TestResult before = tested("r-2", "2026-03-08");
    before.passed = false;
    before.note = "two lines\nof it";
    {
        auto file = ProgramFile::create(path).value();
        for (const FrozenForecast& f : {later, first}) EXPECT_EQ(file->addForecast(f).value(), Added::New);
        for (const Override& o : {late, early}) EXPECT_EQ(file->addOverride(o).value(), Added::New);
        for (const TestResult& r : {second, before}) EXPECT_EQ(file->addTestResult(r).value(), Added::New);
        // Whom a record names and the file did not know is there to be completed.
        EXPECT_TRUE(file->trainee("t-1").value()->toComplete);
        EXPECT_TRUE(file->instructors().value().at(0).toComplete);
    }
    auto file = ProgramFile::open(path, OpenMode::ReadOnly).value();
    EXPECT_EQ(file->forecasts().value(), (std::vector{first, later}));
    EXPECT_EQ(file->overrides().value(), (std::vector{early, late}));
    EXPECT_EQ(file->testResults().value(), (std::vector{before, second}));
    EXPECT_FALSE(file->addTestResult(tested("r-3", "2026-03-10"))) << "opened for reading";
}

TEST(ReadinessStore, ARecordIsNeverAnotherOne) {
    Folder folder;
    const auto path = folder / "p.markerlamp";
    const std::string at = "2026-03-02T06:10:00-05:00";
    {
        auto file = ProgramFile::create(path).value();
        FrozenForecast f = frozen("f-1", at);
        Override o = overriding("o-1", at);
        TestResult r = tested("r-1", "2026-03-09");
        ASSERT_TRUE(file->addForecast(f) && file->addOverride(o) && file->addTestResult(r));
        EXPECT_EQ(file->addForecast(f).value(), Added::AlreadyThere);
        EXPECT_EQ(file->addOverride(o).value(), Added::AlreadyThere);
        EXPECT_EQ(file->addTestResult(r).value(), Added::AlreadyThere);
        f.chance = 0.5;
        o.reason = "another";
        r.passed = false;
        EXPECT_EQ(file->addForecast(f).error().kind, ErrorKind::Conflict);
        EXPECT_EQ(file->addOverride(o).error().kind, ErrorKind::Conflict);
        EXPECT_EQ(file->addTestResult(r).error().kind, ErrorKind::Conflict);
        EXPECT_EQ(file->forecasts().value(), std::vector{frozen("f-1", at)});
        EXPECT_EQ(file->overrides().value(), std::vector{overriding("o-1", at)});
        EXPECT_EQ(file->testResults().value(), std::vector{tested("r-1", "2026-03-09")});
    }
    for (const std::string table : {"forecast", "readiness_override", "test_result"}) {
        EXPECT_NE(rawSql(path, "UPDATE " + table + " SET trainee = 't-1'").find("never change"),
                  std::string::npos);
        EXPECT_NE(rawSql(path, "DELETE FROM " + table).find("never deleted"), std::string::npos);
    }
    EXPECT_NE(rawSql(path, "PRAGMA foreign_keys = ON; DELETE FROM trainee"), "");
}

TEST(ReadinessStore, RefusesWhatMakesNoSenseAndChangesNothing) {
    Folder folder;
    auto file = ProgramFile::create(folder / "p.markerlamp").value();
    const std::string at = "2026-03-02T06:10:00-05:00";
    const auto refused = [](const auto& done) {
        return !done && done.error().kind == ErrorKind::Refused && !done.error().message.empty();
    };
    const auto forecast = [&](auto change) {
        FrozenForecast f = frozen("f-1", at);
        change(f);
        return refused(file->addForecast(f));
    };
    EXPECT_TRUE(forecast([](auto& f) { f.id.clear(); }));
    EXPECT_TRUE(forecast([](auto& f) { f.trainee.clear(); }));
    EXPECT_TRUE(forecast([](auto& f) { f.at = "soon"; }));
    EXPECT_TRUE(forecast([](auto& f) { f.attempt.clear(); }))
        << "about a full attempt, and which is not told";
    EXPECT_TRUE(forecast([](auto& f) { f.about = FrozenForecast::About::OfficialTest; }));
    EXPECT_TRUE(forecast([](auto& f) { f.rubric.clear(); }));
    EXPECT_TRUE(forecast([](auto& f) { f.edition = 0; }));
    EXPECT_TRUE(forecast([](auto& f) { f.chance = 1.5; }));
    EXPECT_TRUE(forecast([](auto& f) { f.low = 0.8; })) << "the low end above the high one";
    const auto override_ = [&](auto change) {
        Override o = overriding("o-1", at);
        change(o);
        return refused(file->addOverride(o));
    };
    EXPECT_TRUE(override_([](auto& o) { o.reason.clear(); }));
    EXPECT_TRUE(override_([](auto& o) { o.by.clear(); }));
    EXPECT_TRUE(override_([](auto& o) { o.at = "2026-03-02"; }));
    const auto test = [&](auto change) {
        TestResult r = tested("r-1", "2026-03-09");
        change(r);
        return refused(file->addTestResult(r));
    };
    EXPECT_TRUE(test([](auto& r) { r.date = "9 March"; }));
    EXPECT_TRUE(test([](auto& r) { r.segment.clear(); }));
    EXPECT_TRUE(file->forecasts()->empty() && file->overrides()->empty() && file->testResults()->empty());
    EXPECT_TRUE(file->trainees()->empty()) << "a refused record leaves no entry behind";
}

TEST(ReadinessStore, ADiskThatFailsLeavesNoHalfRecord) {
    Folder folder;
    const auto path = folder / "p.markerlamp";
    const WatchedDisk disk;
    {
        auto file = ProgramFile::create(path).value();
        WatchedDisk::failing() = true;
        const auto done = file->addTestResult(tested("r-1", "2026-03-09"));
        WatchedDisk::failing() = false;
        ASSERT_FALSE(done);
        EXPECT_EQ(done.error().kind, ErrorKind::Machine);
        EXPECT_TRUE(file->testResults()->empty());
    }
    auto file = ProgramFile::open(path).value();
    // A commit whose sync failed may be in the log: either way the same record can be added again.
    EXPECT_TRUE(file->addTestResult(tested("r-1", "2026-03-09")));
    EXPECT_EQ(file->testResults().value(), std::vector{tested("r-1", "2026-03-09")});
}

// An ended first scoring counts; an open one, one that was set aside and a second scoring do not.
TEST(ReadinessStore, GathersTheEvidenceOfEndedFirstScorings) {
    Folder folder;
    auto file = programWithRubric(folder / "p.markerlamp");
    core::Attempt open = sampleAttempt("a-2");
    open.events.resize(3);
    core::Attempt second = sampleAttempt("a-3");
    second.header.of = "a-1";
    core::Attempt earlier = sampleAttempt("a-4");
    earlier.header.started = "2026-03-01T06:10:00-05:00";
    earlier.header.trainee = "t-2";
    for (const core::Attempt& attempt : {sampleAttempt(), open, second, earlier})
        ASSERT_TRUE(file->addAttempt(attempt));
    ASSERT_TRUE(file->setAside("a-2"));
    const auto record = file->practiceRecord();
    ASSERT_TRUE(record) << record.error().message;
    ASSERT_NE(*record, nullptr);
    const auto& attempts = (*record)->attempts();
    ASSERT_EQ(attempts.size(), 2u);
    EXPECT_EQ(attempts[0].id, "a-4") << "oldest first";
    EXPECT_EQ(attempts[1].id, "a-1");
    EXPECT_TRUE(attempts[1].whole);
    // As scored: the start was shown, of the leak test one point is missing.
    const core::Scorecard card = core::score(*file->rubric("small", 1).value(), sampleAttempt());
    EXPECT_EQ(attempts[1].result, card.result);
    ASSERT_EQ(attempts[1].tries.size(), 2u);
    std::set<std::string> right;
    for (const core::StepTry& one : attempts[1].tries)
        if (one.right) right.insert((*record)->steps()[static_cast<std::size_t>(one.step)].step);
    EXPECT_EQ(right, std::set<std::string>{"start"});
    EXPECT_DOUBLE_EQ(attempts[1].day, core::millisecondsOf(sampleAttempt().header.started).value() / 864e5);

    EXPECT_EQ(file->practiceRecord([](double) { return false; }).value(), nullptr) << "stopped";
    EXPECT_NE(ProgramFile::create(folder / "q.markerlamp").value()->practiceRecord().value(), nullptr)
        << "a file without attempts has an empty record";
}

}  // namespace
}  // namespace markerlamp::db
