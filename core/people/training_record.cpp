// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/people/training_record.h"

#include "core/base/csv.h"
#include "core/base/text.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace markerlamp::core {

namespace {

constexpr std::array<std::string_view, 18> kWords{
    "name",           "licence-number",  "licence-state", "licence-class",    "endorsements",
    "provider-name",  "provider-number", "theory",        "theory-elsewhere", "range-hours",
    "road-hours",     "range-done",      "road-done",     "proficient",       "permit-seen",
    "self-certified", "theory-reported", "wheel-reported"};

const std::vector<std::string> kColumns{"trainee",
                                        "name",
                                        "licence_number",
                                        "licence_state",
                                        "licence_class",
                                        "endorsements",
                                        "covers",
                                        "behind_the_wheel_hours",
                                        "range_hours",
                                        "public_road_hours",
                                        "other_hours",
                                        "provider_name",
                                        "provider_number",
                                        "provider_place",
                                        "theory_percent",
                                        "theory_date",
                                        "theory_provider",
                                        "theory_provider_number",
                                        "range_done",
                                        "road_done",
                                        "proficient_on",
                                        "proficient_by",
                                        "theory_report_due",
                                        "theory_reported",
                                        "wheel_report_due",
                                        "wheel_reported",
                                        "missing"};

const ReportDue* reportOf(const TrainingRecord& record, ReportDue::Part part) {
    const auto found = std::ranges::find(record.reports, part, &ReportDue::part);
    return found == record.reports.end() ? nullptr : &*found;
}

std::vector<RecordCheck> checksOf(const TrainingRecord& record) {
    const PersonFile& person = record.person;
    const Course& course = person.course;
    const Trainee& trainee = person.trainee;
    const ReportDue* theory = reportOf(record, ReportDue::Part::Theory);
    const ReportDue* wheel = reportOf(record, ReportDue::Part::Wheel);
    std::vector<RecordCheck> checks;
    const auto ask = [&checks](RecordItem item, bool there) { checks.push_back({item, there}); };
    ask(RecordItem::Name, !trainee.name.empty() && !trainee.toComplete);
    ask(RecordItem::LicenceNumber, !person.licence.number.empty());
    ask(RecordItem::LicenceState, !person.licence.state.empty());
    ask(RecordItem::LicenceClass, !record.licenceClass.empty());
    ask(RecordItem::Endorsements, !record.endorsements.empty());
    ask(RecordItem::ProviderName, !record.providerName.empty());
    ask(RecordItem::ProviderNumber, !record.providerNumber.empty());
    if (theory != nullptr)
        ask(RecordItem::Theory, !theory->completed.empty());
    else
        ask(RecordItem::TheoryElsewhere, !course.theoryProvider.empty());
    if (wheel != nullptr) {
        ask(RecordItem::RangeHours, record.hours.range > 0);
        ask(RecordItem::RoadHours, record.hours.road > 0);
        ask(RecordItem::RangeDone, !course.rangeDone.empty());
        ask(RecordItem::RoadDone, !course.roadDone.empty());
        ask(RecordItem::Proficient, !course.proficientOn.empty() && !course.proficientBy.empty());
    }
    ask(RecordItem::PermitSeen, !course.permitSeen.empty());
    ask(RecordItem::SelfCertified, !course.selfCertified.empty());
    if (theory != nullptr) ask(RecordItem::TheoryReported, !theory->sent.empty());
    if (wheel != nullptr) ask(RecordItem::WheelReported, !wheel->sent.empty());
    return checks;
}

std::vector<std::string> rowOf(const TrainingRecord& record) {
    const PersonFile& person = record.person;
    const Course& course = person.course;
    const ReportDue* theory = reportOf(record, ReportDue::Part::Theory);
    const ReportDue* wheel = reportOf(record, ReportDue::Part::Wheel);
    std::string missing;
    for (const RecordItem item : record.missing())
        missing.append(missing.empty() ? "" : " ").append(toWord(item));
    return {person.trainee.key,
            person.trainee.name,
            person.licence.number,
            person.licence.state,
            record.licenceClass,
            record.endorsements,
            std::string(toWord(course.covers)),
            decimalHours(record.hours.behindTheWheel()),
            decimalHours(record.hours.range),
            decimalHours(record.hours.road),
            decimalHours(record.hours.other),
            record.providerName,
            record.providerNumber,
            record.providerPlace,
            person.trainee.theoryPercent ? shortestText(*person.trainee.theoryPercent) : std::string(),
            person.trainee.theoryDate,
            course.theoryProvider,
            course.theoryProviderNumber,
            course.rangeDone,
            course.roadDone,
            course.proficientOn,
            course.proficientBy,
            theory != nullptr ? theory->due : std::string(),
            course.theoryReported,
            wheel != nullptr ? wheel->due : std::string(),
            course.wheelReported,
            missing};
}

}  // namespace

std::string_view toWord(RecordItem item) {
    return kWords[static_cast<std::size_t>(item)];
}

std::vector<RecordItem> TrainingRecord::missing() const {
    std::vector<RecordItem> items;
    for (const RecordCheck& check : checks)
        if (!check.there) items.push_back(check.item);
    return items;
}

bool TrainingRecord::completed() const {
    return std::ranges::none_of(reports, [](const ReportDue& report) { return report.completed.empty(); });
}

TrainingRecord trainingRecord(const PersonFile& person, const PeopleSettings& settings) {
    TrainingRecord record;
    record.person = person;
    const Course& course = person.course;
    record.licenceClass = course.licenceClass.empty() ? settings.licenceClass : course.licenceClass;
    record.endorsements = course.endorsements.empty() ? settings.endorsements : course.endorsements;
    record.providerName = settings.providerName;
    record.providerNumber = settings.providerNumber;
    record.providerPlace = settings.providerPlace;
    record.hours = sumOf(person.hours);
    record.reports = reportsDue(person, settings);
    record.checks = checksOf(record);
    return record;
}

std::string decimalHours(int minutes) {
    return shortestText(std::round(minutes * 100 / 60.0) / 100);
}

std::string writeTrainingRecordsCsv(const std::vector<TrainingRecord>& records) {
    std::vector<std::vector<std::string>> rows;
    for (const TrainingRecord& record : records) rows.push_back(rowOf(record));
    return writeCsv(kColumns, rows);
}

}  // namespace markerlamp::core
