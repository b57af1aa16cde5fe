// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/copies/copies.h"

#include "core/base/moment.h"

#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <map>
#include <set>

namespace markerlamp::core {
namespace {

constexpr std::int64_t kHour = 3600'000, kDay = 24 * kHour;

std::int64_t at(const char* moment) {
    return millisecondsOf(moment).value();
}

/// What stays of one copy a day at noon, `days` of them up to and with the last.
std::vector<std::string> leftOf(int days, const char* last, KeepRule rule = {}) {
    std::vector<CopyToKeep> copies;
    for (int i = 0; i < days; ++i) copies.push_back({at(last) - i * kDay, true});
    const auto go = copiesThatGo(copies, at(last), rule);
    std::vector<std::string> left;
    for (std::size_t i = 0; i < copies.size(); ++i)
        if (!std::ranges::binary_search(go, i)) left.push_back(dateOfDayCount(copies[i].ms / kDay));
    return left;
}

TEST(CopyNames, SayWhenAndWhyAndAreReadAgain) {
    const CopyName name{at("2026-03-02T11:10:05Z"), CopyReason::Day, 1};
    EXPECT_EQ(copyFileName(name), "2026-03-02T111005Z-day.markerlamp");
    for (int reason = 0; reason <= static_cast<int>(CopyReason::Damaged); ++reason)
        for (const int count : {1, 2, 31}) {
            const CopyName one{name.ms, static_cast<CopyReason>(reason), count};
            EXPECT_EQ(readCopyFileName(copyFileName(one)), one) << copyFileName(one);
        }
    for (const char* other :
         {"", ".markerlamp", "2026-03-02T111005Z-day", "2026-03-02T111005Z-why.markerlamp",
          "2026-03-32T111005Z-day.markerlamp", "2026-03-02T111005Z-day-.markerlamp",
          "2026-03-02T111005Z-day-1.markerlamp", "2026-03-02T111005Z-day-x.markerlamp",
          "2026-03-02T111005Z.markerlamp", ".2026-03-02T111005Z-day.markerlamp.part-1-1"})
        EXPECT_FALSE(readCopyFileName(other)) << other;
}

// Counted by hand on a calendar: Friday 2026-03-13 is the last day.
TEST(KeepRules, KeepTheLastThenADayAWeekAMonth) {
    KeepRule rule;
    rule.last = 2;
    rule.days = 4;
    rule.weeks = 3;
    const std::vector<std::string> expected{
        "2026-03-13", "2026-03-12", "2026-03-11", "2026-03-10",  // each of four days
        "2026-03-08", "2026-03-01",                              // Sundays, newest of the two weeks before
        "2026-02-28", "2026-01-31", "2025-12-31"};               // newest of each month
    EXPECT_EQ(leftOf(80, "2026-03-13T12:00:00Z", rule), expected);
}

TEST(KeepRules, UsualRuleKeepsTenOfOneDay) {
    std::vector<CopyToKeep> copies;
    for (int i = 0; i < 40; ++i) copies.push_back({at("2026-03-13T12:00:00Z") + i * 60'000, true});
    const auto go = copiesThatGo(copies, copies.back().ms);
    ASSERT_EQ(go.size(), 30u);
    EXPECT_EQ(go.back(), 29u) << "the last ten stay";
    EXPECT_EQ(leftOf(400, "2026-03-13T12:00:00Z").size(), 14u + 5u + 12u)
        << "28 February to 13 March, the Sundays from 25 January to 22 February, the last days of January "
           "back to February";
}

TEST(KeepRules, DaysBeginAtTheProgramsMidnight) {
    // 23:30 and 00:30 of the next day where the clock is five hours behind UTC.
    const std::vector<CopyToKeep> copies{{at("2026-03-13T04:30:00Z"), true},
                                         {at("2026-03-13T05:30:00Z"), true}};
    KeepRule rule{0, 14, 0, 0};
    EXPECT_EQ(copiesThatGo(copies, copies[1].ms, rule), std::vector<std::size_t>{0});
    rule.minutesEast = -300;
    EXPECT_TRUE(copiesThatGo(copies, copies[1].ms, rule).empty());
}

TEST(KeepRules, AClockThatRunsAheadCostsNothing) {
    std::vector<CopyToKeep> copies;
    for (int i = 0; i < 14; ++i) copies.push_back({at("2026-03-13T12:00:00Z") - i * kDay, true});
    EXPECT_TRUE(copiesThatGo(copies, at("2036-01-01T00:00:00Z")).empty()) << "now is wrong";
    copies.push_back({at("2036-01-01T00:00:00Z"), true});
    EXPECT_TRUE(copiesThatGo(copies, at("2026-03-13T13:00:00Z")).empty()) << "the name of one is wrong";
}

TEST(KeepRules, ADamagedOneTakesNoGoodOnesPlace) {
    const std::vector<CopyToKeep> copies{{at("2026-03-13T12:00:00Z"), true},
                                         {at("2026-03-13T13:00:00Z"), false}};
    EXPECT_TRUE(copiesThatGo(copies, copies[1].ms, {0, 0, 0, 0}).empty());
    EXPECT_TRUE(copiesThatGo({{0, false}}, 0).empty());
    EXPECT_TRUE(copiesThatGo({}, 0).empty());
}

RC_GTEST_PROP(KeepRules, NewestGoodAndLastStayAndOrderDoesNotMatter, ()) {
    const auto hours = *rc::gen::container<std::vector<int>>(rc::gen::inRange(0, 24 * 500));
    std::vector<CopyToKeep> copies;
    for (const int hour : hours) copies.push_back({hour * kHour, *rc::gen::arbitrary<bool>()});
    const std::int64_t now = *rc::gen::inRange(0, 24 * 600) * kHour;
    const auto go = copiesThatGo(copies, now);
    std::set<std::int64_t> gone;
    std::multiset<std::int64_t, std::greater<>> good;
    for (const CopyToKeep& copy : copies)
        if (copy.good) good.insert(copy.ms);
    for (const std::size_t place : go) {
        RC_ASSERT(copies[place].good);
        gone.insert(copies[place].ms);
    }
    // At least the last ten stay, and one of every month with a good copy.
    RC_ASSERT(good.size() - go.size() >= std::min<std::size_t>(good.size(), 10));
    std::map<std::string, std::size_t> before, after;
    for (std::size_t i = 0; i < copies.size(); ++i) {
        if (!copies[i].good) continue;
        const std::string month = dateOfDayCount(copies[i].ms / kDay).substr(0, 7);
        ++before[month];
        if (!std::ranges::binary_search(go, i)) ++after[month];
    }
    for (const auto& [month, count] : before) RC_ASSERT(after[month] > 0);
    // What is left stays when asked again.
    std::vector<CopyToKeep> left;
    for (std::size_t i = 0; i < copies.size(); ++i)
        if (!std::ranges::binary_search(go, i)) left.push_back(copies[i]);
    RC_ASSERT(copiesThatGo(left, now).empty());
}

}  // namespace
}  // namespace markerlamp::core
