// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/people/training_record.h"

#include "core/base/csv.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <functional>
#include <map>

namespace markerlamp::core {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

PersonFile complete() {
    PersonFile file;
    file.trainee.key = file.licence.trainee = file.course.trainee = "t-1";
    file.trainee.name = "Ada \"A.\" Example";
    file.trainee.theoryPercent = 92.5;
    file.trainee.theoryDate = "2026-07-01";
    file.licence.number = "S 123";
    file.licence.state = "OH";
    file.course.rangeDone = "2026-11-20";
    file.course.roadDone = "2026-11-25";
    file.course.proficientOn = "2026-11-25";
    file.course.proficientBy = "i-1";
    file.course.permitSeen = file.course.selfCertified = "2026-06-15";
    file.course.theoryReported = "2026-07-02";
    file.course.wheelReported = "2026-11-27";
    file.hours = {{"a", "t-1", "2026-11-18", HoursKind::Range, 400, "i-1", "", "", "", false},
                  {"b", "t-1", "2026-11-20", HoursKind::PublicRoad, 350, "i-1", "", "", "", false},
                  {"c", "t-1", "2026-11-21", HoursKind::Other, 20, "i-1", "", "", "", false}};
    return file;
}

PeopleSettings provider() {
    PeopleSettings settings;
    settings.providerName = "Invented district";
    settings.providerNumber = "00-1234";
    settings.providerPlace = "Pinewater, Ohio";
    return settings;
}

std::map<std::string, std::string> rowOf(const TrainingRecord& record) {
    const auto table = readCsv(writeTrainingRecordsCsv({record})).value();
    std::map<std::string, std::string> row;
    for (std::size_t i = 0; i < table.header.size(); ++i) row[table.header[i]] = table.rows.at(0)[i];
    return row;
}

TEST(TrainingRecord, HoldsWhatACertificationHolds) {
    // 49 CFR 380.717(a)-(e): name, licence number and State; class, endorsement and kind of training; total
    // clock hours behind the wheel; provider with its number in the register; dates of completion.
    const TrainingRecord record = trainingRecord(complete(), provider());
    EXPECT_THAT(record.missing(), IsEmpty());
    EXPECT_TRUE(record.completed());
    const auto row = rowOf(record);
    EXPECT_EQ(row.at("name"), "Ada \"A.\" Example");
    EXPECT_EQ(row.at("licence_number"), "S 123");
    EXPECT_EQ(row.at("licence_state"), "OH");
    EXPECT_EQ(row.at("licence_class"), "B");
    EXPECT_EQ(row.at("endorsements"), "P S");
    EXPECT_EQ(row.at("covers"), "both");
    EXPECT_EQ(row.at("behind_the_wheel_hours"), "12.5") << "range and public road, 750 minutes";
    EXPECT_EQ(row.at("range_hours"), "6.67");
    EXPECT_EQ(row.at("other_hours"), "0.33");
    EXPECT_EQ(row.at("provider_name"), "Invented district");
    EXPECT_EQ(row.at("provider_number"), "00-1234");
    EXPECT_EQ(row.at("theory_date"), "2026-07-01");
    EXPECT_EQ(row.at("road_done"), "2026-11-25");
    EXPECT_EQ(row.at("theory_report_due"), "2026-07-06") << "2 business days; 4 July observed on Friday 3";
    EXPECT_EQ(row.at("wheel_report_due"), "2026-11-30") << "Thanksgiving and a weekend between";
    EXPECT_EQ(row.at("missing"), "");
}

TEST(TrainingRecord, EachThingThatIsTakenAwayIsMissing) {
    using Take = std::pair<RecordItem, std::function<void(PersonFile&, PeopleSettings&)>>;
    const std::vector<Take> takes{
        {RecordItem::Name, [](PersonFile& p, PeopleSettings&) { p.trainee.toComplete = true; }},
        {RecordItem::LicenceNumber, [](PersonFile& p, PeopleSettings&) { p.licence.number.clear(); }},
        {RecordItem::LicenceState, [](PersonFile& p, PeopleSettings&) { p.licence.state.clear(); }},
        {RecordItem::LicenceClass, [](PersonFile&, PeopleSettings& s) { s.licenceClass.clear(); }},
        {RecordItem::Endorsements, [](PersonFile&, PeopleSettings& s) { s.endorsements.clear(); }},
        {RecordItem::ProviderName, [](PersonFile&, PeopleSettings& s) { s.providerName.clear(); }},
        {RecordItem::ProviderNumber, [](PersonFile&, PeopleSettings& s) { s.providerNumber.clear(); }},
        {RecordItem::Theory, [](PersonFile& p, PeopleSettings&) { p.trainee.theoryPercent = 79; }},
        {RecordItem::RangeHours, [](PersonFile& p, PeopleSettings&) { p.hours.erase(p.hours.begin()); }},
        {RecordItem::RoadHours, [](PersonFile& p, PeopleSettings&) { p.hours.erase(p.hours.begin() + 1); }},
        {RecordItem::RangeDone, [](PersonFile& p, PeopleSettings&) { p.course.rangeDone.clear(); }},
        {RecordItem::RoadDone, [](PersonFile& p, PeopleSettings&) { p.course.roadDone.clear(); }},
        {RecordItem::Proficient, [](PersonFile& p, PeopleSettings&) { p.course.proficientBy.clear(); }},
        {RecordItem::PermitSeen, [](PersonFile& p, PeopleSettings&) { p.course.permitSeen.clear(); }},
        {RecordItem::SelfCertified, [](PersonFile& p, PeopleSettings&) { p.course.selfCertified.clear(); }},
        {RecordItem::TheoryReported, [](PersonFile& p, PeopleSettings&) { p.course.theoryReported.clear(); }},
        {RecordItem::WheelReported, [](PersonFile& p, PeopleSettings&) { p.course.wheelReported.clear(); }}};
    for (const auto& [item, take] : takes) {
        PersonFile person = complete();
        PeopleSettings settings = provider();
        take(person, settings);
        EXPECT_THAT(trainingRecord(person, settings).missing(), ElementsAre(item)) << toWord(item);
        EXPECT_EQ(rowOf(trainingRecord(person, settings)).at("missing"), toWord(item));
    }
}

TEST(TrainingRecord, AsksOnlyAboutWhatTheProgramTeaches) {
    PersonFile person = complete();
    person.course.covers = Covers::Wheel;
    person.trainee.theoryPercent.reset();
    EXPECT_THAT(trainingRecord(person, provider()).missing(), ElementsAre(RecordItem::TheoryElsewhere));
    person.course.theoryProvider = "Invented college";
    EXPECT_THAT(trainingRecord(person, provider()).missing(), IsEmpty());
    EXPECT_EQ(rowOf(trainingRecord(person, provider())).at("theory_report_due"), "");
    PersonFile theory = complete();
    theory.course.covers = Covers::Theory;
    theory.hours.clear();
    theory.course.rangeDone.clear();
    EXPECT_THAT(trainingRecord(theory, provider()).missing(), IsEmpty());
    EXPECT_TRUE(trainingRecord(theory, provider()).completed());
    theory.course.covers = Covers::Both;
    EXPECT_FALSE(trainingRecord(theory, provider()).completed());
}

TEST(TrainingRecord, ATraineesOwnClassGoesBeforeTheProgramsUsualOne) {
    PersonFile person = complete();
    person.course.licenceClass = "C";
    person.course.endorsements = "S";
    const auto row = rowOf(trainingRecord(person, provider()));
    EXPECT_EQ(row.at("licence_class"), "C");
    EXPECT_EQ(row.at("endorsements"), "S");
}

}  // namespace
}  // namespace markerlamp::core
