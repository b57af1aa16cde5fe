#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What a program has decided about dates, the training record and keeping: facts of the program file. Keys
// begin with "program.dates.", "program.record." and "program.keep.". Every default is a published fact or,
// where it says so, our choice; a program can change each.

#include "core/base/result.h"
#include "core/calendar/business_days.h"

#include <string>
#include <utility>
#include <vector>

namespace markerlamp::core {

struct PeopleSettings {
    // program.dates: how many days before it runs out a date is shown. Our choice, no published source.
    int permitAheadDays = 30;
    int medicalAheadDays = 30;
    int theoryAheadDays = 30;
    int testAheadDays = 14;
    /// A permit without a last day on file is taken to run no longer than this from its issue: one year
    /// without taking the knowledge tests again (49 CFR 383.25(c); 83 FR 65564).
    int permitMonths = 12;
    /// A theory result older than this is shown. No rule lets theory training run out; one year is our
    /// choice, after the permit's. 0: it does not age.
    int theoryMonths = 12;

    // program.record
    int reportBusinessDays = 2;   ///< the report goes by the end of this business day (49 CFR 380.717)
    bool federalHolidays = true;  ///< they are no business days; our reading, the rule does not say
    std::string daysOff;          ///< further days that are none, ISO 8601, split by spaces
    std::string providerName;
    std::string providerNumber;  ///< in the federal Training Provider Registry
    std::string providerPlace;
    std::string licenceClass = "B";
    std::string endorsements = "P S";

    // program.keep
    int keepYears = 3;  ///< records are kept at least this long (49 CFR 380.725)

    /// The theory result that is asked for; kept as program.gate.theory_percent, see readiness_settings.h.
    double theoryPercent = 80;

    bool operator==(const PeopleSettings&) const = default;
    [[nodiscard]] BusinessCalendar calendar() const;
};

/// As settingsFromFacts() of readiness_settings.h.
[[nodiscard]] Result<PeopleSettings> peopleSettingsFromFacts(
    const std::vector<std::pair<std::string, std::string>>& facts);
/// Every setting of the three prefixes, in the order in which a form asks for them.
[[nodiscard]] std::vector<std::pair<std::string, std::string>> factsFromPeopleSettings(
    const PeopleSettings& settings);

}  // namespace markerlamp::core
