// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "demo/generator/demo_papers.h"

#include "demo/generator/random.h"

#include <map>

namespace markerlamp::demo {

namespace {

constexpr int kFirstRoadSession = 3;  ///< sessions before it stay on the range

std::string dayOf(const std::string& moment) {
    return moment.substr(0, 10);
}

/// In the afternoon of the day, with the offset of that moment.
std::string eveningOf(const std::string& moment) {
    return dayOf(moment) + "T16:00:00" + moment.substr(19);
}

core::ClockHours hoursOf(const core::Attempt& attempt, int session, std::uint64_t seed) {
    const core::AttemptHeader& header = attempt.header;
    Random random(mix(seed, {"hours", header.id}));
    core::ClockHours hours;
    hours.id = uuidFrom(random.next());
    hours.trainee = header.trainee;
    hours.date = dayOf(header.started);
    const bool road = session >= kFirstRoadSession && random.chance(500);
    hours.kind = road ? core::HoursKind::PublicRoad : core::HoursKind::Range;
    hours.minutes = 5 * random.between(road ? 9 : 12, road ? 20 : 18);
    hours.instructor = header.instructor;
    hours.at = eveningOf(header.started);
    return hours;
}

void addHours(DemoProgram& program, std::uint64_t seed) {
    std::map<std::string, int> sessions;
    for (const core::Attempt& attempt : program.attempts) {
        const bool ended = !attempt.events.empty() && attempt.events.back().kind != core::EventKind::Pause;
        if (!attempt.header.of.empty() || dayOf(attempt.header.started) == program.lastDay || !ended)
            continue;
        program.hours.push_back(hoursOf(attempt, sessions[attempt.header.trainee]++, seed));
    }
}

void book(DemoProgram& program, const Calendar& calendar, const char* trainee, const char* written,
          const char* time, std::uint64_t seed) {
    core::BookedTest test;
    test.id = uuidFrom(mix(seed, {"booking", trainee}));
    test.trainee = trainee;
    test.date = calendar.happened(written);
    test.time = time;
    test.segments = {"inspection", "basic-control", "road"};
    test.place = "Test yard, north lot (invented)";
    test.at = program.lastDay + "T09:00:00-05:00";
    program.bookings.push_back(std::move(test));
}

void addCourses(DemoProgram& program, const Calendar& calendar) {
    for (const core::Trainee& trainee : program.trainees) {
        if (trainee.theoryDate.empty()) continue;
        core::Course course;
        course.trainee = trainee.key;
        course.theoryReported = isoDay(dayOfWorkday(workdayNumber(dayFrom(trainee.theoryDate)) + 1));
        course.permitSeen = course.selfCertified = trainee.started;
        // The first of them is through: range and road were completed, and the report is due.
        if (trainee.key == "t-01") {
            course.rangeDone = calendar.happened("2026-03-06");
            course.roadDone = course.proficientOn = calendar.happened("2026-03-12");
            course.proficientBy = "i-1";
        }
        program.courses.push_back(std::move(course));
    }
}

}  // namespace

void addPapers(DemoProgram& program, const Calendar& calendar, std::uint64_t seed) {
    addHours(program, seed);
    addCourses(program, calendar);
    if (program.trainees.size() < 11) return;
    book(program, calendar, "t-01", "2026-03-24", "08:30", seed);
    book(program, calendar, "t-07", "2026-04-09", "10:00", seed);
    core::Absence absence;
    absence.id = uuidFrom(mix(seed, {"away", "t-11"}));
    absence.trainee = "t-11";
    absence.left = calendar.happened("2026-01-27");
    absence.returned = calendar.happened("2026-03-02");
    absence.reason = "Other work";
    absence.at = absence.left + "T09:00:00-05:00";
    program.absences.push_back(std::move(absence));
}

}  // namespace markerlamp::demo
