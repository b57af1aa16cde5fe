// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "in_folder.h"
#include "run_program.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <chrono>
#include <cstdio>
#include <ctime>
#include <filesystem>
#include <map>
#include <string>

namespace markerlamp::cli {
namespace {

using ::testing::HasSubstr;

class NewCommand : public InFolder {
protected:
    /// Every document of a program file.
    std::map<std::string, std::string> documents(const std::string& name) {
        const ProgramRun run = runProgram({"export", at(name), "--to", at(name + "-out")});
        EXPECT_EQ(run.exitCode, 0) << run.standardError;
        return filesOf(name + "-out");
    }
    /// Day of the newest attempt, YYYY-MM-DD.
    static std::string newestDay(const std::map<std::string, std::string>& documents) {
        const std::string key = "\"started\":\"";
        std::string newest;
        for (const auto& [file, text] : documents)
            if (const auto found = text.find(key);
                file.starts_with("attempts/") && found != std::string::npos)
                newest = std::max(newest, text.substr(found + key.size(), 10));
        return newest;
    }
};

/// Today in the time zone of this machine.
std::chrono::sys_days today() {
    const std::time_t now = std::time(nullptr);
    std::tm local{};
    ::localtime_r(&now, &local);
    return std::chrono::year(local.tm_year + 1900) / (local.tm_mon + 1) / local.tm_mday;
}

std::string lastWorkingDayBefore(std::chrono::sys_days day) {
    do day -= std::chrono::days(1);
    while (std::chrono::weekday(day).iso_encoding() > 5);
    const std::chrono::year_month_day ymd(day);
    char text[16];
    std::snprintf(text, sizeof text, "%04d-%02u-%02u", int(ymd.year()) % 10000, unsigned(ymd.month()) % 100,
                  unsigned(ymd.day()) % 100);
    return text;
}

TEST_F(NewCommand, TheDemoEndsWithTheLastWorkingDayBeforeToday) {
    const auto before = today();
    const ProgramRun made = runProgram({"new", at("d.markerlamp"), "--demo"});
    ASSERT_EQ(made.exitCode, 0) << made.standardError;
    const auto files = documents("d.markerlamp");
    const std::string day = newestDay(files);
    // Midnight may pass while it is made.
    EXPECT_TRUE(day == lastWorkingDayBefore(before) || day == lastWorkingDayBefore(today())) << day;
    EXPECT_THAT(made.standardOutput, HasSubstr("up to " + day));
    EXPECT_THAT(files.at("program.csv"), HasSubstr("program.demo_until," + day));
}

// The first and the last day that are taken; 1 January 2000 was a Saturday.
TEST_F(NewCommand, TheSameDayGivesTheSameDemoAgain) {
    for (const char* name : {"a.markerlamp", "b.markerlamp"}) {
        const ProgramRun made = runProgram({"new", at(name), "--demo", "--demo-until", "2099-12-31"});
        ASSERT_EQ(made.exitCode, 0) << made.standardError;
    }
    const auto files = documents("a.markerlamp");
    EXPECT_EQ(newestDay(files), "2099-12-31");
    EXPECT_GE(files.size(), 100u);
    EXPECT_EQ(files, documents("b.markerlamp"));
}

TEST_F(NewCommand, ADayOnAWeekendIsTheFridayBefore) {
    const ProgramRun made = runProgram({"new", at("d.markerlamp"), "--demo", "--demo-until=2000-01-01"});
    ASSERT_EQ(made.exitCode, 0) << made.standardError;
    EXPECT_THAT(made.standardOutput, HasSubstr("up to 1999-12-31"));
    EXPECT_EQ(newestDay(documents("d.markerlamp")), "1999-12-31");
}

TEST_F(NewCommand, ALastDayWithoutTheDemoIsRefused) {
    const ProgramRun run = runProgram({"new", at("d.markerlamp"), "--demo-until", "2026-11-24"});
    EXPECT_EQ(run.exitCode, 2);
    EXPECT_THAT(run.standardError, HasSubstr("--demo-until only goes with --demo"));
    EXPECT_FALSE(std::filesystem::exists(at("d.markerlamp")));
}

TEST_F(NewCommand, WhatIsNoDayIsRefusedByNameAndNothingIsMade) {
    for (const char* day : {"2026-02-29", "2026-13-01", "26-11-24", "11/24/2026", "2026-11-24T06:10",
                            "yesterday", "", "1999-12-31", "2100-01-01", "20261124"}) {
        const ProgramRun run =
            runProgram({"new", at("d.markerlamp"), "--demo", std::string("--demo-until=") + day});
        EXPECT_EQ(run.exitCode, 2) << day;
        EXPECT_THAT(run.standardError, HasSubstr("--demo-until \"" + std::string(day) + "\" is not a day"));
        EXPECT_THAT(run.standardError, HasSubstr("write it like 2026-03-13"));
        EXPECT_FALSE(std::filesystem::exists(at("d.markerlamp"))) << day;
    }
    EXPECT_EQ(runProgram({"new", at("d.markerlamp"), "--demo", "--demo-until"}).exitCode, 2);
}

TEST_F(NewCommand, TheHelpTellsOfTheLastDay) {
    const ProgramRun run = runProgram({"new", "--help"});
    EXPECT_EQ(run.exitCode, 0);
    EXPECT_THAT(run.standardOutput, HasSubstr("--demo-until DATE"));
    EXPECT_THAT(run.standardOutput, HasSubstr("2000-01-01 to 2099-12-31"));
}

}  // namespace
}  // namespace markerlamp::cli
