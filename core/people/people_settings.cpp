// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/people/people_settings.h"

#include "core/base/fact_settings.h"
#include "core/base/text.h"

#include <sstream>

namespace markerlamp::core {

namespace {

using Setting = FactSetting<PeopleSettings>;

constexpr std::string_view kDates = "program.dates.";
constexpr std::string_view kRecord = "program.record.";
constexpr std::string_view kKeep = "program.keep.";
constexpr std::string_view kTheoryPercent = "program.gate.theory_percent";
constexpr std::size_t kMostLine = 200;
constexpr std::size_t kMostShort = 40;
constexpr std::size_t kMostDaysOff = 4000;

std::vector<std::string> splitDays(const std::string& text) {
    std::istringstream words(text);
    std::vector<std::string> days;
    for (std::string day; words >> day;) days.push_back(day);
    return days;
}

Setting daysOff(std::string key) {
    return {std::move(key), "write dates like 2026-12-24, split by single spaces, or nothing",
            [](PeopleSettings& settings, const std::string& text) {
                settings.daysOff = text;
                const std::vector<std::string> days = splitDays(text);
                return isOneLine(text, kMostDaysOff) && std::ranges::all_of(days, isIsoDate);
            },
            [](const PeopleSettings& settings) { return settings.daysOff; }};
}

const std::vector<Setting>& allSettings() {
    using S = PeopleSettings;
    const auto key = [](std::string_view prefix, std::string_view name) {
        return std::string(prefix) + std::string(name);
    };
    static const std::vector<Setting> all{
        wholeFact(key(kDates, "permit_ahead_days"), &S::permitAheadDays, 0, 365),
        wholeFact(key(kDates, "medical_ahead_days"), &S::medicalAheadDays, 0, 365),
        wholeFact(key(kDates, "theory_ahead_days"), &S::theoryAheadDays, 0, 365),
        wholeFact(key(kDates, "test_ahead_days"), &S::testAheadDays, 0, 365),
        wholeFact(key(kDates, "permit_months"), &S::permitMonths, 1, 60),
        wholeFact(key(kDates, "theory_months"), &S::theoryMonths, 0, 120),
        lineFact(key(kRecord, "provider_name"), &S::providerName, 0, kMostLine),
        lineFact(key(kRecord, "provider_number"), &S::providerNumber, 0, kMostShort),
        lineFact(key(kRecord, "provider_place"), &S::providerPlace, 0, kMostLine),
        lineFact(key(kRecord, "licence_class"), &S::licenceClass, 0, kMostShort),
        lineFact(key(kRecord, "endorsements"), &S::endorsements, 0, kMostShort),
        wholeFact(key(kRecord, "report_business_days"), &S::reportBusinessDays, 1, 60),
        yesNoFact(key(kRecord, "federal_holidays"), &S::federalHolidays),
        daysOff(key(kRecord, "days_off")),
        wholeFact(key(kKeep, "years"), &S::keepYears, 0, 100),
    };
    return all;
}

}  // namespace

BusinessCalendar PeopleSettings::calendar() const {
    return BusinessCalendar(federalHolidays, splitDays(daysOff));
}

Result<PeopleSettings> peopleSettingsFromFacts(
    const std::vector<std::pair<std::string, std::string>>& facts) {
    std::vector<Problem> problems;
    PeopleSettings settings = readFacts(allSettings(), {kDates, kRecord, kKeep}, facts, problems);
    for (const auto& [key, value] : facts)
        if (key == kTheoryPercent)
            settings.theoryPercent = plainNumber(value).value_or(settings.theoryPercent);
    if (!problems.empty())
        return fail("the settings of dates and records cannot be used", std::move(problems));
    return settings;
}

std::vector<std::pair<std::string, std::string>> factsFromPeopleSettings(const PeopleSettings& settings) {
    return writeFacts(allSettings(), settings);
}

}  // namespace markerlamp::core
