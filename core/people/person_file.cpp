// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/people/person_file.h"

#include "core/base/moment.h"

#include <algorithm>
#include <chrono>
#include <map>
#include <tuple>

namespace markerlamp::core {

namespace {

template <class Record>
std::map<std::string_view, std::vector<Record>> byTrainee(const std::vector<Record>& records) {
    std::map<std::string_view, std::vector<Record>> map;
    for (const Record& record : records) map[record.trainee].push_back(record);
    return map;
}

template <class Record>
std::vector<Record> standingOf(const std::map<std::string_view, std::vector<Record>>& all,
                               const std::string& trainee, std::string Record::*date) {
    const auto found = all.find(trainee);
    if (found == all.end()) return {};
    std::vector<Record> list = standing(found->second);
    std::ranges::sort(list, {}, [date](const Record& one) { return std::tie(one.*date, one.id); });
    return list;
}

template <class Entry>
std::map<std::string_view, const Entry*> entriesOf(const std::vector<Entry>& entries) {
    std::map<std::string_view, const Entry*> map;
    for (const Entry& entry : entries) map.emplace(entry.trainee, &entry);
    return map;
}

/// A pass on the day of a failure is taken as the later of the two.
bool olderResult(const TestResult& a, const TestResult& b) {
    return std::tie(a.date, a.passed, a.id) < std::tie(b.date, b.passed, b.id);
}

class Ahead {
public:
    Ahead(const PersonFile& person, std::int64_t today) : m_person(person), m_today(today) {}

    /// @param within nothing: it is shown however far it lies ahead
    void add(DateKind kind, const std::string& date, std::optional<int> within, bool assumed = false,
             const std::string& booking = {}) {
        const auto day = dayCountOf(date);
        if (!day) return;
        const auto days = static_cast<int>(*day - m_today);
        if (!within || days <= *within)
            m_list.push_back({kind, m_person.trainee.key, date, days, assumed, booking});
    }
    std::vector<DateAhead> done() {
        std::ranges::stable_sort(m_list, {}, &DateAhead::date);
        return std::move(m_list);
    }

private:
    const PersonFile& m_person;
    std::int64_t m_today;
    std::vector<DateAhead> m_list;
};

void addPapers(Ahead& ahead, const Trainee& trainee, const PeopleSettings& settings) {
    const bool assumed = trainee.permitExpires.empty();
    ahead.add(DateKind::Permit,
              assumed ? monthsAfter(trainee.permitIssued, settings.permitMonths) : trainee.permitExpires,
              settings.permitAheadDays, assumed);
    ahead.add(DateKind::Medical, trainee.medicalExpires, settings.medicalAheadDays);
    if (settings.theoryMonths > 0)
        ahead.add(DateKind::Theory, monthsAfter(trainee.theoryDate, settings.theoryMonths),
                  settings.theoryAheadDays);
}

}  // namespace

std::vector<PersonFile> personFiles(const PeopleOnFile& all) {
    const auto licences = entriesOf(all.licences);
    const auto courses = entriesOf(all.courses);
    const auto hours = byTrainee(all.hours);
    const auto bookings = byTrainee(all.bookings);
    const auto absences = byTrainee(all.absences);
    const auto results = byTrainee(all.results);
    std::vector<PersonFile> files;
    for (const Trainee& trainee : all.trainees) {
        PersonFile file;
        file.trainee = trainee;
        file.licence.trainee = file.course.trainee = trainee.key;
        if (const auto found = licences.find(trainee.key); found != licences.end())
            file.licence = *found->second;
        if (const auto found = courses.find(trainee.key); found != courses.end())
            file.course = *found->second;
        file.hours = standingOf(hours, trainee.key, &ClockHours::date);
        file.bookings = standingOf(bookings, trainee.key, &BookedTest::date);
        file.absences = standingOf(absences, trainee.key, &Absence::left);
        if (const auto found = results.find(trainee.key); found != results.end())
            file.results = found->second;
        std::ranges::sort(file.results, olderResult);
        files.push_back(std::move(file));
    }
    return files;
}

std::vector<SegmentState> segmentStates(const std::vector<TestResult>& results) {
    std::vector<TestResult> ordered = results;
    std::ranges::sort(ordered, olderResult);
    std::vector<SegmentState> states;
    for (const std::string_view segment : kSegments) states.push_back({std::string(segment), 0, false, {}});
    for (const TestResult& result : ordered) {
        auto found = std::ranges::find(states, result.segment, &SegmentState::segment);
        if (found == states.end())
            found = states.insert(states.end(), SegmentState{result.segment, 0, false, {}});
        ++found->tries;
        found->passed = result.passed;
        found->last = result.date;
    }
    return states;
}

bool passedAll(const std::vector<TestResult>& results) {
    const std::vector<SegmentState> states = segmentStates(results);
    return std::all_of(states.begin(), states.begin() + kSegments.size(),
                       [](const SegmentState& state) { return state.passed; });
}

std::vector<ReportDue> reportsDue(const PersonFile& person, const PeopleSettings& settings) {
    const BusinessCalendar calendar = settings.calendar();
    std::vector<ReportDue> reports;
    const auto add = [&](ReportDue::Part part, const std::string& completed, const std::string& sent) {
        reports.push_back(
            {part, completed, calendar.businessDaysAfter(completed, settings.reportBusinessDays), sent});
    };
    const Course& course = person.course;
    if (course.covers != Covers::Wheel) {
        const bool reached =
            person.trainee.theoryPercent && *person.trainee.theoryPercent >= settings.theoryPercent;
        add(ReportDue::Part::Theory, reached ? person.trainee.theoryDate : std::string(),
            course.theoryReported);
    }
    if (course.covers != Covers::Theory) {
        const bool both = !course.rangeDone.empty() && !course.roadDone.empty();
        add(ReportDue::Part::Wheel, both ? std::max(course.rangeDone, course.roadDone) : std::string(),
            course.wheelReported);
    }
    return reports;
}

std::string_view toWord(DateKind kind) {
    switch (kind) {
        case DateKind::Permit:
            return "permit";
        case DateKind::Medical:
            return "medical";
        case DateKind::Theory:
            return "theory";
        case DateKind::BookedTest:
            return "test";
        case DateKind::TheoryReport:
            return "theory-report";
        case DateKind::WheelReport:
            break;
    }
    return "wheel-report";
}

std::vector<DateAhead> datesAhead(const PersonFile& person, const std::string& today,
                                  const PeopleSettings& settings) {
    const auto day = dayCountOf(today);
    if (!day || isAway(person.absences, today)) return {};
    Ahead ahead(person, *day);
    if (!passedAll(person.results)) addPapers(ahead, person.trainee, settings);
    for (const BookedTest& test : person.bookings)
        if (test.state == BookingState::Booked)
            ahead.add(DateKind::BookedTest, test.date, settings.testAheadDays, false, test.id);
    if (person.course.empty()) return ahead.done();
    for (const ReportDue& report : reportsDue(person, settings))
        if (report.sent.empty())
            ahead.add(report.part == ReportDue::Part::Theory ? DateKind::TheoryReport : DateKind::WheelReport,
                      report.due, std::nullopt);
    return ahead.done();
}

std::vector<DateAhead> datesAhead(const std::vector<PersonFile>& people, const std::string& today,
                                  const PeopleSettings& settings) {
    std::vector<DateAhead> all;
    for (const PersonFile& person : people)
        std::ranges::copy(datesAhead(person, today, settings), std::back_inserter(all));
    std::ranges::stable_sort(all, {}, [](const DateAhead& one) { return std::tie(one.date, one.trainee); });
    return all;
}

std::string monthsAfter(std::string_view date, int months) {
    using namespace std::chrono;
    const auto count = dayCountOf(date);
    if (!count) return {};
    const year_month_day from{sys_days(days(*count))};
    year_month_day to = from + std::chrono::months(months);
    if (!to.ok()) to = to.year() / to.month() / last;
    return dateOfDayCount(sys_days(to).time_since_epoch().count());
}

}  // namespace markerlamp::core
