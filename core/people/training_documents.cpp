// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Hours, bookings and times away as JSON Lines.

#include "core/base/json_records.h"
#include "core/base/text.h"
#include "core/people/training.h"

#include <cmath>

namespace markerlamp::core {

namespace {

constexpr std::string_view kHours = "markerlamp.hours/1";
constexpr std::string_view kBookings = "markerlamp.bookings/1";
constexpr std::string_view kAbsences = "markerlamp.absences/1";
constexpr std::string_view kStrikes = "markerlamp.strikes/1";
constexpr int kMinutesOfADay = 24 * 60;

std::string readDate(JsonLine& line, const std::string& key, bool required) {
    std::string date = line.text(key, required);
    if (!date.empty() && !isIsoDate(date))
        line.problem(key, "\"" + key + "\" is not a day that exists", "write it like 2026-03-02");
    return date;
}

/// What every record has.
template <class Record>
Record readHead(JsonLine& line) {
    Record record;
    record.id = line.text("id", true);
    record.trainee = line.text("trainee", true);
    record.at = line.moment("at");
    return record;
}

template <class Record>
Record readCommon(JsonLine& line) {
    auto record = readHead<Record>(line);
    if (line.has("replaces")) record.replaces = line.text("replaces", true);
    if (!record.id.empty() && record.replaces == record.id)
        line.problem("replaces", "the record takes its own place", "name an earlier record");
    return record;
}

template <class Record>
JsonObjectText writeCommon(const Record& record) {
    JsonObjectText object;
    object.text("id", record.id).text("trainee", record.trainee);
    return object;
}

ClockHours readHours(JsonLine& line) {
    line.onlyKeys(
        {"id", "trainee", "date", "kind", "minutes", "instructor", "note", "at", "replaces", "struck"},
        " in clock hours");
    auto hours = readCommon<ClockHours>(line);
    hours.date = readDate(line, "date", true);
    const std::string kind = line.text("kind", true);
    const auto known = hoursKindFromWord(kind);
    if (!kind.empty() && !known)
        line.problem("kind", "\"" + kind + "\" is no kind of hours",
                     "use \"range\", \"public-road\" or \"other\"");
    hours.kind = known.value_or(HoursKind::Range);
    hours.minutes = line.integer("minutes").value_or(1);
    if (hours.minutes > kMinutesOfADay)
        line.problem("minutes", "a day has no more than 1440 minutes", "write one record for each day");
    hours.instructor = line.text("instructor", true);
    hours.note = line.text("note", false, kMaxTextBytes);
    hours.struck = line.boolean("struck", false).value_or(false);
    return hours;
}

BookedTest readBooking(JsonLine& line) {
    line.onlyKeys({"id", "trainee", "date", "time", "segments", "place", "state", "note", "at", "replaces"},
                  " in a booked test");
    auto test = readCommon<BookedTest>(line);
    test.date = readDate(line, "date", true);
    if (line.has("time")) test.time = line.text("time", true);
    if (!test.time.empty() && !isTimeOfDay(test.time))
        line.problem("time", "\"" + test.time + "\" is no time of day", "write it like 08:30");
    test.segments = line.texts("segments");
    if (line.good() && test.segments.empty())
        line.problem("segments", "no segment is booked", "name at least one, like \"inspection\"");
    test.place = line.text("place", false, kMaxTextBytes);
    const std::string state = line.text("state", true);
    const auto known = bookingStateFromWord(state);
    if (!state.empty() && !known)
        line.problem("state", "\"" + state + "\" is no state of a booking",
                     "use \"booked\", \"cancelled\" or \"done\"");
    test.state = known.value_or(BookingState::Booked);
    test.note = line.text("note", false, kMaxTextBytes);
    return test;
}

Absence readAbsence(JsonLine& line) {
    line.onlyKeys({"id", "trainee", "left", "returned", "reason", "at", "replaces", "struck"},
                  " in a time away");
    auto absence = readCommon<Absence>(line);
    absence.left = readDate(line, "left", true);
    absence.returned = readDate(line, "returned", false);
    if (line.good() && !absence.returned.empty() && absence.returned < absence.left)
        line.problem("returned", "the return lies before the leaving",
                     "give a day on or after " + absence.left);
    absence.reason = line.text("reason", false, kMaxTextBytes);
    absence.struck = line.boolean("struck", false).value_or(false);
    return absence;
}

StruckResult readStrike(JsonLine& line) {
    line.onlyKeys({"id", "trainee", "result", "reason", "at"}, " in a struck result");
    auto strike = readHead<StruckResult>(line);
    strike.result = line.text("result", true);
    strike.reason = line.text("reason", true, kMaxTextBytes);
    if (!strike.reason.empty() && strike.reason.find_first_not_of(" \t\r\n") == std::string::npos)
        line.problem("reason", "\"reason\" says nothing", "say what was wrong with the result");
    return strike;
}

}  // namespace

std::string writeClockHours(const std::vector<ClockHours>& list) {
    std::string text = formatLine(kHours);
    for (const ClockHours& hours : list) {
        JsonObjectText object = writeCommon(hours);
        object.text("date", hours.date)
            .text("kind", std::string(toWord(hours.kind)))
            .number("minutes", hours.minutes)
            .text("instructor", hours.instructor)
            .textIf("note", hours.note)
            .text("at", hours.at)
            .textIf("replaces", hours.replaces);
        if (hours.struck) object.boolean("struck", true);
        text += object.done() + "\n";
    }
    return text;
}

Result<std::vector<ClockHours>> readClockHours(std::string_view text, const std::string& name) {
    return readRecords<ClockHours>(text, name, kHours, "the clock hours cannot be read", readHours);
}

std::string writeBookedTests(const std::vector<BookedTest>& list) {
    std::string text = formatLine(kBookings);
    for (const BookedTest& test : list)
        text += writeCommon(test)
                    .text("date", test.date)
                    .textIf("time", test.time)
                    .list("segments", test.segments)
                    .textIf("place", test.place)
                    .text("state", std::string(toWord(test.state)))
                    .textIf("note", test.note)
                    .text("at", test.at)
                    .textIf("replaces", test.replaces)
                    .done() +
                "\n";
    return text;
}

Result<std::vector<BookedTest>> readBookedTests(std::string_view text, const std::string& name) {
    return readRecords<BookedTest>(text, name, kBookings, "the booked tests cannot be read", readBooking);
}

std::string writeAbsences(const std::vector<Absence>& list) {
    std::string text = formatLine(kAbsences);
    for (const Absence& absence : list) {
        JsonObjectText object = writeCommon(absence);
        object.text("left", absence.left)
            .textIf("returned", absence.returned)
            .textIf("reason", absence.reason)
            .text("at", absence.at)
            .textIf("replaces", absence.replaces);
        if (absence.struck) object.boolean("struck", true);
        text += object.done() + "\n";
    }
    return text;
}

Result<std::vector<Absence>> readAbsences(std::string_view text, const std::string& name) {
    return readRecords<Absence>(text, name, kAbsences, "the times away cannot be read", readAbsence);
}

std::string writeStruckResults(const std::vector<StruckResult>& list) {
    std::string text = formatLine(kStrikes);
    for (const StruckResult& strike : list)
        text += writeCommon(strike)
                    .text("result", strike.result)
                    .text("reason", strike.reason)
                    .text("at", strike.at)
                    .done() +
                "\n";
    return text;
}

Result<std::vector<StruckResult>> readStruckResults(std::string_view text, const std::string& name) {
    return readRecords<StruckResult>(text, name, kStrikes, "the struck results cannot be read", readStrike);
}

}  // namespace markerlamp::core
