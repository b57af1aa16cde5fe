// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/readiness/readiness_settings.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

namespace markerlamp::core {
namespace {

using ::testing::HasSubstr;

using Facts = std::vector<std::pair<std::string, std::string>>;

/// The only problem of facts that are refused.
Problem problemOf(const Facts& facts) {
    const auto read = settingsFromFacts(facts);
    if (read) {
        ADD_FAILURE() << "accepted";
        return {};
    }
    EXPECT_EQ(read.error().problems.size(), 1u);
    return read.error().problems.front();
}

TEST(ReadinessSettings, MissingFactsKeepTheirDefaults) {
    EXPECT_EQ(settingsFromFacts({{"program.title", "A yard"}, {"program.note", "x"}}).value(),
              ReadinessSettings{});
}

TEST(ReadinessSettings, DefaultsFollowThePublishedFigures) {
    const ReadinessSettings settings;
    EXPECT_EQ(settings.permitDays, 14) << "49 CFR 383.25: not in the first 14 days after initial issue";
    EXPECT_EQ(settings.permitDayRule, PermitDayRule::IssuePlusDaysAndOne) << "of two readings the stricter";
    EXPECT_EQ(settings.theoryPercent, 80) << "49 CFR 380.715(a): overall score of at least 80 percent";
}

TEST(ReadinessSettings, EverySettingIsReadAsItIsWritten) {
    ReadinessSettings settings;
    settings.askMustPass = settings.askFullAttempt = settings.askPermit = false;
    settings.askMedical = settings.askTheory = false;
    settings.mustPassAttempts = 3;
    settings.fullAttemptDays = 30;
    settings.permitDays = 10;
    settings.permitDayRule = PermitDayRule::IssuePlusDays;
    settings.permitLeftDays = 7;
    settings.theoryPercent = 87.5;
    settings.readyAt = 0.85;
    settings.readyLow = 0.7;
    settings.closeAt = 0.55;
    settings.fewestAttempts = 4;
    settings.wordReady = "Bereit";
    settings.wordClose = "Fast";
    settings.wordNotYet = "Noch nicht";
    settings.wordTooLittle =
        "Zu wenig \xC3\xBC"
        "ber ihn";
    const Facts facts = factsFromSettings(settings);
    EXPECT_EQ(settingsFromFacts(facts).value(), settings);
    // One of them alone changes one thing: no fact is read into another's place.
    for (const auto& fact : facts) {
        if (fact.first == "program.word.ready_low" || fact.first == "program.word.close_at") continue;
        const Facts now = factsFromSettings(settingsFromFacts({fact}).value());
        const Facts before = factsFromSettings({});
        for (std::size_t i = 0; i < now.size(); ++i)
            EXPECT_EQ(now[i].second, now[i].first == fact.first ? fact.second : before[i].second)
                << fact.first << " in " << now[i].first;
    }
}

TEST(ReadinessSettings, NonsenseIsRefusedWithItsKeyAndWhatWouldBeRight) {
    const std::vector<std::pair<std::string, std::string>> bad{
        {"program.gate.must_pass", "true"},
        {"program.gate.must_pass_attempts", "0"},
        {"program.gate.must_pass_attempts", "2.5"},
        {"program.gate.full_attempt_days", "-1"},
        {"program.gate.full_attempt_days", "3 days"},
        {"program.gate.permit_days", ""},
        {"program.gate.permit_day_rule", "issue+14"},
        {"program.gate.permit_left_days", "1e9"},
        {"program.gate.theory_percent", "101"},
        {"program.gate.theory_percent", "nan"},
        {"program.word.ready_at", "80"},
        {"program.word.ready_at", "0.8x"},
        {"program.word.close_at", "inf"},
        {"program.word.fewest_attempts", "21"},
        {"program.word.ready", ""},
        {"program.word.close", "two\nlines"},
        {"program.word.not_yet", " padded"},
        {"program.word.too_little", std::string(41, 'x')},
        {"program.word.too_little", "\xff"}};
    for (const auto& fact : bad) {
        const Problem problem = problemOf({fact});
        EXPECT_EQ(problem.path, fact.first);
        EXPECT_THAT(problem.remedy, HasSubstr("write ")) << fact.first;
    }
}

TEST(ReadinessSettings, EveryProblemIsTold) {
    const auto read = settingsFromFacts({{"program.gate.theory", "maybe"},
                                         {"program.word.ready_at", "2"},
                                         {"program.gate.permit", "yes"},
                                         {"program.gate.permit", "no"}});
    ASSERT_FALSE(read);
    ASSERT_EQ(read.error().problems.size(), 3u);
    EXPECT_THAT(read.error().problems[2].message, HasSubstr("twice"));
}

TEST(ReadinessSettings, AMisspeltKeyIsNotPassedOver) {
    EXPECT_THAT(problemOf({{"program.gate.medcal", "no"}}).remedy, HasSubstr("program.gate.medical"));
    EXPECT_THAT(problemOf({{"program.word.x", "no"}}).message, HasSubstr("no such setting"));
}

TEST(ReadinessSettings, ThresholdsThatContradictOneAnotherAreRefused) {
    const Problem close = problemOf({{"program.word.close_at", "0.9"}});
    EXPECT_EQ(close.path, "program.word.close_at");
    EXPECT_THAT(close.remedy, HasSubstr("at most 0.8"));
    EXPECT_EQ(problemOf({{"program.word.ready_low", "0.81"}}).path, "program.word.ready_low");
    EXPECT_EQ(problemOf({{"program.word.close", "Ready"}}).path, "program.word.close");
    EXPECT_TRUE(settingsFromFacts({{"program.word.close_at", "0.8"}})) << "the same bound leaves no gap";
}

}  // namespace
}  // namespace markerlamp::core
