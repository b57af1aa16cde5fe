// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/people/people_settings.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace markerlamp::core {
namespace {

using ::testing::HasSubstr;

TEST(PeopleSettings, DefaultsFollowThePublishedFigures) {
    const PeopleSettings settings;
    EXPECT_EQ(settings.permitMonths, 12) << "49 CFR 383.25(c): one year from initial issue";
    EXPECT_EQ(settings.theoryPercent, 80) << "49 CFR 380.715(a)";
    EXPECT_EQ(settings.reportBusinessDays, 2) << "49 CFR 380.717: second business day after completion";
    EXPECT_TRUE(settings.federalHolidays);
    EXPECT_EQ(settings.keepYears, 3) << "49 CFR 380.725: at least three years";
    EXPECT_EQ(settings.licenceClass, "B") << "common practice for school buses, no published source";
    EXPECT_EQ(settings.endorsements, "P S") << "49 CFR 383.123(a): school bus needs passenger, too";
}

TEST(PeopleSettings, GoIntoFactsAndBack) {
    PeopleSettings settings;
    settings.permitAheadDays = 45;
    settings.medicalAheadDays = 0;
    settings.theoryAheadDays = 60;
    settings.testAheadDays = 21;
    settings.permitMonths = 6;
    settings.theoryMonths = 0;
    settings.reportBusinessDays = 3;
    settings.federalHolidays = false;
    settings.daysOff = "2026-12-24 2026-12-31";
    settings.providerName = "Invented district, driver training";
    settings.providerNumber = "00-1234";
    settings.providerPlace = "Pinewater, Ohio";
    settings.licenceClass = "C";
    settings.endorsements = "";
    settings.keepYears = 5;
    EXPECT_EQ(peopleSettingsFromFacts(factsFromPeopleSettings(settings)).value(), settings);
    EXPECT_EQ(peopleSettingsFromFacts({{"program.title", "A yard"}}).value(), PeopleSettings{});
    EXPECT_EQ(settings.calendar().businessDaysAfter("2026-12-23", 1), "2026-12-25")
        << "24 is off, the holiday is not";
}

TEST(PeopleSettings, TakeTheTheoryPercentOfTheGate) {
    EXPECT_EQ(peopleSettingsFromFacts({{"program.gate.theory_percent", "85"}}).value().theoryPercent, 85);
}

TEST(PeopleSettings, RefuseWhatMakesNoSenseByKey) {
    const auto problem = [](const std::string& key, const std::string& value) {
        const auto read = peopleSettingsFromFacts({{key, value}});
        if (!read) return read.error().problems.at(0);
        ADD_FAILURE() << key << " accepted " << value;
        return Problem{};
    };
    EXPECT_THAT(problem("program.dates.permit_ahead_days", "-1").remedy, HasSubstr("from 0 to 365"));
    EXPECT_THAT(problem("program.record.days_off", "2026-12-24, 2026-12-31").remedy, HasSubstr("2026-12-24"));
    EXPECT_EQ(problem("program.record.federal_holidays", "maybe").remedy, "write yes or no");
    EXPECT_EQ(problem("program.keep.yaers", "3").remedy, "did you mean program.keep.years");
    EXPECT_EQ(problem("program.record.provider_name", " x").path, "program.record.provider_name");
}

}  // namespace
}  // namespace markerlamp::core
