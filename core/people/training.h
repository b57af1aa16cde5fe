#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What a program keeps of a trainee besides the entry in people.csv: clock hours, booked tests, times away,
// the licence, and what the training record says.
//
// Hours, bookings and times away are records that are added and never changed: a correction is a new record
// that takes the place of an earlier one, so that what was first written down can still be seen, and two
// files of a program come together by set union. Licence and course are entries that an office corrects.

#include "core/base/result.h"
#include "core/people/people.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace markerlamp::core {

/// Range and public road are the two places of behind-the-wheel training (49 CFR 380.605, 380.707). Other
/// time with the bus is kept and does not count as behind the wheel.
enum class HoursKind { Range, PublicRoad, Other };
[[nodiscard]] std::string_view toWord(HoursKind kind);  ///< "range", "public-road", "other"
[[nodiscard]] std::optional<HoursKind> hoursKindFromWord(std::string_view word);

struct ClockHours {
    std::string id;  ///< uuid
    std::string trainee;
    std::string date;
    HoursKind kind = HoursKind::Range;
    int minutes = 0;         ///< 1 to 1440
    std::string instructor;  ///< key
    std::string note;
    std::string at;        ///< moment of writing down, ISO 8601 with offset
    std::string replaces;  ///< id of the record whose place it takes; empty for a first one
    bool struck = false;   ///< the record is taken out; what stands in it is what was struck

    bool operator==(const ClockHours&) const = default;
};

enum class BookingState { Booked, Cancelled, Done };
[[nodiscard]] std::string_view toWord(BookingState state);  ///< "booked", "cancelled", "done"
[[nodiscard]] std::optional<BookingState> bookingStateFromWord(std::string_view word);

struct BookedTest {
    std::string id;
    std::string trainee;
    std::string date;
    std::string time;                   ///< HH:MM or empty
    std::vector<std::string> segments;  ///< ids as in TestResult; at least one
    std::string place;
    BookingState state = BookingState::Booked;
    std::string note;
    std::string at;
    std::string replaces;

    bool operator==(const BookedTest&) const = default;
};

/// A trainee left the program, and came back where `returned` says when.
struct Absence {
    std::string id;
    std::string trainee;
    std::string left;
    std::string returned;  ///< empty: not back
    std::string reason;
    std::string at;
    std::string replaces;
    bool struck = false;

    bool operator==(const Absence&) const = default;
};

/// A test result that was put on file by mistake. The result stays in the file and counts no more.
struct StruckResult {
    std::string id;
    std::string trainee;
    std::string result;  ///< id of the TestResult
    std::string reason;  ///< not empty
    std::string at;

    bool operator==(const StruckResult&) const = default;
};

/// Optional, and hidden on screen until somebody asks to see it. One for each trainee.
struct Licence {
    std::string trainee;
    std::string number;
    std::string state;  ///< of issue, two letters as a rule

    bool operator==(const Licence&) const = default;
    [[nodiscard]] bool empty() const { return number.empty() && state.empty(); }
};

/// Which parts this program teaches, and so certifies (49 CFR 380.717; theory and behind the wheel may come
/// from different providers, 380.707).
enum class Covers { Both, Theory, Wheel };
[[nodiscard]] std::string_view toWord(Covers covers);  ///< "both", "theory", "wheel"
[[nodiscard]] std::optional<Covers> coversFromWord(std::string_view word);

/// What the training record needs besides. One for each trainee; dates are ISO 8601 or empty.
struct Course {
    std::string trainee;
    Covers covers = Covers::Both;
    std::string licenceClass;                          ///< "B"; empty: as the program's settings say
    std::string endorsements;                          ///< "P S"; empty: as the program's settings say
    std::string theoryProvider, theoryProviderNumber;  ///< where somebody else taught theory
    std::string rangeDone, roadDone;                   ///< parts completed behind the wheel
    std::string proficientOn, proficientBy;            ///< every element shown (Appendix B); instructor key
    std::string permitSeen;                            ///< copy of permit or licence on file since
    std::string selfCertified;                         ///< trainee's own certification on file since
    std::string theoryReported, wheelReported;         ///< sent to the registry

    bool operator==(const Course&) const = default;
    /// Nothing was written down yet.
    [[nodiscard]] bool empty() const;
};

// The records that stand, in the order of `all`: of each line of corrections the one that was written down
// last (by moment, then id), unless it is struck. A cancelled booking stands.
[[nodiscard]] std::vector<ClockHours> standing(const std::vector<ClockHours>& all);
[[nodiscard]] std::vector<BookedTest> standing(const std::vector<BookedTest>& all);
[[nodiscard]] std::vector<Absence> standing(const std::vector<Absence>& all);

/// Standing hours in minutes.
struct HoursSum {
    int range = 0, road = 0, other = 0;
    [[nodiscard]] int behindTheWheel() const { return range + road; }

    bool operator==(const HoursSum&) const = default;
};
[[nodiscard]] HoursSum sumOf(const std::vector<ClockHours>& standing);

/// Away on that day: left on or before it and not back by then. @param standing of one trainee
[[nodiscard]] bool isAway(const std::vector<Absence>& standing, std::string_view date);

/// "12:30": hours and minutes.
[[nodiscard]] std::string hoursText(int minutes);
/// Minutes of "12:30", "1.5" or "2"; nothing for other text.
[[nodiscard]] std::optional<int> minutesOf(std::string_view text);
/// A time of day, HH:MM.
[[nodiscard]] bool isTimeOfDay(std::string_view text);

// "markerlamp.hours/1", "markerlamp.bookings/1", "markerlamp.absences/1", "markerlamp.strikes/1": JSON Lines
// as in readiness_records.h.
[[nodiscard]] std::string writeClockHours(const std::vector<ClockHours>& hours);
[[nodiscard]] Result<std::vector<ClockHours>> readClockHours(std::string_view text,
                                                             const std::string& name = {});
[[nodiscard]] std::string writeBookedTests(const std::vector<BookedTest>& tests);
[[nodiscard]] Result<std::vector<BookedTest>> readBookedTests(std::string_view text,
                                                              const std::string& name = {});
[[nodiscard]] std::string writeAbsences(const std::vector<Absence>& absences);
[[nodiscard]] Result<std::vector<Absence>> readAbsences(std::string_view text, const std::string& name = {});

[[nodiscard]] std::string writeStruckResults(const std::vector<StruckResult>& strikes);
[[nodiscard]] Result<std::vector<StruckResult>> readStruckResults(std::string_view text,
                                                                  const std::string& name = {});

// licences.csv: key,number,state. training.csv: key and a column for each member of Course. As in people.h:
// unknown columns are refused, columns that are missing keep what `known` says.
[[nodiscard]] std::string writeLicencesCsv(const std::vector<Licence>& licences);
[[nodiscard]] Result<std::vector<Licence>> readLicencesCsv(std::string_view csv, const std::string& name = {},
                                                           const std::vector<Licence>& known = {});
[[nodiscard]] std::string writeTrainingCsv(const std::vector<Course>& courses);
[[nodiscard]] Result<std::vector<Course>> readTrainingCsv(std::string_view csv, const std::string& name = {},
                                                          const std::vector<Course>& known = {});

/// As in people.h; of a licence only the column is told.
[[nodiscard]] std::vector<ColumnChange> changesBetween(const Licence& old, const Licence& now);
[[nodiscard]] std::vector<ColumnChange> changesBetween(const Course& old, const Course& now);

}  // namespace markerlamp::core
