#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// All that is on file about one trainee besides attempts, and what it says: segments passed, reports due,
// dates that run out.

#include "core/people/people.h"
#include "core/people/people_settings.h"
#include "core/people/training.h"
#include "core/readiness/readiness_records.h"

#include <array>
#include <string>
#include <string_view>
#include <vector>

namespace markerlamp::core {

/// Vehicle inspection, basic control, road: the order in which they are taken (49 CFR 383.133(c)(6)).
inline constexpr std::array<std::string_view, 3> kSegments{kInspectionSegment, "basic-control", "road"};

struct PersonFile {
    Trainee trainee;
    Licence licence;
    Course course;
    // What stands, by date.
    std::vector<ClockHours> hours;
    std::vector<BookedTest> bookings;
    std::vector<Absence> absences;
    std::vector<TestResult> results;

    bool operator==(const PersonFile&) const = default;
};

/// Everything that a program has, in any order, struck and corrected records among it.
struct PeopleOnFile {
    std::vector<Trainee> trainees;
    std::vector<Licence> licences;
    std::vector<Course> courses;
    std::vector<ClockHours> hours;
    std::vector<BookedTest> bookings;
    std::vector<Absence> absences;
    std::vector<TestResult> results;
};
/// One for each trainee, in the order of `all.trainees`.
[[nodiscard]] std::vector<PersonFile> personFiles(const PeopleOnFile& all);

/// Where a trainee stands with one segment of the official test. The last result counts.
struct SegmentState {
    std::string segment;
    int tries = 0;
    bool passed = false;
    std::string last;  ///< date of the last result; empty without one

    bool operator==(const SegmentState&) const = default;
};
/// The three segments in their order, then others that have results.
[[nodiscard]] std::vector<SegmentState> segmentStates(const std::vector<TestResult>& results);
[[nodiscard]] bool passedAll(const std::vector<TestResult>& results);

/// A part of the training that this program certifies, and by when the report of it must go.
struct ReportDue {
    enum class Part { Theory, Wheel } part = Part::Theory;
    std::string completed;  ///< empty: not completed
    std::string due;        ///< its last day; empty until completed
    std::string sent;       ///< empty: not sent

    bool operator==(const ReportDue&) const = default;
};
/// Theory is complete on the day of a result that reaches the asked percent; behind the wheel on the later
/// day of range and public road.
[[nodiscard]] std::vector<ReportDue> reportsDue(const PersonFile& person, const PeopleSettings& settings);

enum class DateKind { Permit, Medical, Theory, BookedTest, TheoryReport, WheelReport };
[[nodiscard]] std::string_view toWord(DateKind kind);  ///< "permit", "medical", "theory", "test", ...

/// A date that somebody must know about.
struct DateAhead {
    DateKind kind = DateKind::Permit;
    std::string trainee;
    std::string date;      ///< last day on which it holds, day of the test, last day for the report
    int days = 0;          ///< until then from today; negative: over
    bool assumed = false;  ///< permit: from its issue, as no last day is on file
    std::string booking;   ///< BookedTest: id of the record

    [[nodiscard]] bool over() const { return days < 0; }
    bool operator==(const DateAhead&) const = default;
};

/// What runs out within the days that the settings name, and what is over, by date. Nothing for a trainee who
/// is away; no permit, medical certificate or theory for one who has passed every segment. A booked test
/// whose day is over stays until it is done or cancelled. A report stays until it is
/// sent, and is asked for once something of the course is on file.
/// @param today ISO 8601 date
[[nodiscard]] std::vector<DateAhead> datesAhead(const PersonFile& person, const std::string& today,
                                                const PeopleSettings& settings);
/// Those of all people, by date, then trainee.
[[nodiscard]] std::vector<DateAhead> datesAhead(const std::vector<PersonFile>& people,
                                                const std::string& today, const PeopleSettings& settings);

/// The day that many months later; the last of its month where the day does not exist. Empty for no date.
[[nodiscard]] std::string monthsAfter(std::string_view date, int months);

}  // namespace markerlamp::core
