// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/base/moment.h"
#include "core/base/text.h"
#include "core/export/columns.h"

#include <algorithm>
#include <cmath>

namespace markerlamp::core::columns {

namespace {

using Kind = ColumnKind;
using Line = RosterLine;

int counted(const Line& line, bool (*which)(const ScoredAttempt&)) {
    return static_cast<int>(std::ranges::count_if(line.of.attempts, [which](const ExportedAttempt& attempt) {
        return attempt.counts() && which(attempt.scored);
    }));
}

const ExportedAttempt* last(const Line& line) {
    const ExportedAttempt* found = nullptr;
    for (const ExportedAttempt& attempt : line.of.attempts)
        if (attempt.counts()) found = &attempt;
    return found;
}

std::vector<const TestResult*> inspections(const Line& line) {
    std::vector<const TestResult*> tests;
    for (const TestResult& test : line.of.person.results)
        if (test.segment == kInspectionSegment) tests.push_back(&test);
    return tests;
}

/// Day of the next test that is booked, today's among them.
Cell nextTest(const Line& line) {
    std::string next;
    for (const BookedTest& test : line.of.person.bookings)
        if (test.state == BookingState::Booked && test.date >= line.of.today &&
            (next.empty() || test.date < next))
            next = test.date;
    return text(next);
}

Cell segmentsPassed(const Line& line) {
    std::string ids;
    for (const SegmentState& segment : segmentStates(line.of.person.results))
        if (segment.passed) ids += (ids.empty() ? "" : " ") + segment.segment;
    return text(ids);
}

Cell hours(const Line& line, int HoursSum::*kind) {
    return Cell(std::round(sumOf(line.of.person.hours).*kind / 0.6) / 100);
}

/// Of what was worked out; an empty cell where nothing was.
template <class Make>
Cell ready(const Line& line, Make make) {
    return line.of.readiness ? Cell(make(*line.of.readiness)) : Cell();
}

Cell gatesThatAre(const Line& line, GateState state) {
    std::string ids;
    if (line.of.readiness)
        for (const Gate& gate : line.of.readiness->gates)
            if (gate.state == state) ids += (ids.empty() ? "" : " ") + gate.id;
    return text(ids);
}

Cell holdingBack(const Line& line) {
    std::vector<std::string> titles;
    if (line.of.readiness && !line.of.readiness->forecast.tooLittle)
        for (const Holding& holding : line.of.readiness->forecast.holding) titles.push_back(holding.title);
    return text(listed(titles));
}

const std::vector<Entry<Line>>& people() {
    static const std::vector<Entry<Line>> entries{
        {{"trainee", Kind::Text, keyOf(KeyKind::Trainee), 12, "key of the trainee"},
         [](const Line& l) { return text(l.of.person.trainee.key); }},
        {{"name", Kind::Text, kLeftOut, 24, "name of the trainee"},
         [](const Line& l) { return text(l.of.person.trainee.name); }},
        {{"group", Kind::Text, keyOf(KeyKind::Group), 16, "class or group"},
         [](const Line& l) { return text(l.of.person.trainee.group); }},
        {{"started", Kind::Date, kShifted, 12, "day on which the training began"},
         [](const Line& l) { return text(l.of.person.trainee.started); }},
        {{"permit_issued", Kind::Date, kShifted, 14, "issue of the learner's permit"},
         [](const Line& l) { return text(l.of.person.trainee.permitIssued); }},
        {{"permit_expires", Kind::Date, kShifted, 14, "last day of the learner's permit"},
         [](const Line& l) { return text(l.of.person.trainee.permitExpires); }},
        {{"medical_expires", Kind::Date, kLeftOut, 15, "last day of the medical certificate"},
         [](const Line& l) { return text(l.of.person.trainee.medicalExpires); }},
        {{"theory_percent", Kind::Percent, kKept, 14, "result of the theory test"},
         [](const Line& l) {
             return l.of.person.trainee.theoryPercent ? Cell(*l.of.person.trainee.theoryPercent) : Cell();
         }},
        {{"theory_date", Kind::Date, kShifted, 12, "day of the theory test"},
         [](const Line& l) { return text(l.of.person.trainee.theoryDate); }},
        {{"note", Kind::Text, kLeftOut, 30, "note of the trainee's entry"},
         [](const Line& l) { return text(l.of.person.trainee.note); }},
        {{"to_complete", Kind::YesNo, kLeftOut, 12,
          "yes: the entry was made because an attempt named the key"},
         [](const Line& l) { return Cell(l.of.person.trainee.toComplete); }},
    };
    return entries;
}

const std::vector<Entry<Line>>& marks() {
    static const std::vector<Entry<Line>> entries{
        {{"attempts", Kind::Whole, kKept, 10, "ended attempts, without second scorings"},
         [](const Line& l) { return whole(counted(l, [](const ScoredAttempt&) { return true; })); }},
        {{"full_attempts", Kind::Whole, kKept, 13, "of these over all zones of the rubric"},
         [](const Line& l) { return whole(counted(l, [](const ScoredAttempt& a) { return isWhole(a); })); }},
        {{"full_attempts_passed", Kind::Whole, kKept, 13, "of these passed"},
         [](const Line& l) {
             return whole(counted(l, [](const ScoredAttempt& a) {
                 return isWhole(a) && a.card.result == AttemptResult::Pass;
             }));
         }},
        {{"last_attempt", Kind::Date, kShifted, 13, "day of the newest of them, where it was scored"},
         [](const Line& l) {
             const ExportedAttempt* newest = last(l);
             return newest == nullptr ? Cell() : text(localDateOf(newest->scored.attempt.header.started));
         }},
        {{"last_result", Kind::Text, kKept, 11, "its result: pass, incomplete or fail"},
         [](const Line& l) {
             const ExportedAttempt* newest = last(l);
             return newest == nullptr ? Cell() : text(toWord(newest->scored.card.result));
         }},
        {{"last_percent", Kind::Percent, kKept, 12, "its percent of the weight in scope"},
         [](const Line& l) {
             const ExportedAttempt* newest = last(l);
             return newest == nullptr ? Cell() : Cell(newest->scored.card.percent);
         }},
        {{"official_tests", Kind::Whole, kKept, 13, "official inspection tests on file"},
         [](const Line& l) { return whole(static_cast<std::int64_t>(inspections(l).size())); }},
        {{"last_test", Kind::Date, kShifted, 12, "day of the newest of them"},
         [](const Line& l) {
             const auto tests = inspections(l);
             return tests.empty() ? Cell() : text(tests.back()->date);
         }},
        {{"last_test_passed", Kind::YesNo, kKept, 15, "whether it was passed"},
         [](const Line& l) {
             const auto tests = inspections(l);
             return tests.empty() ? Cell() : Cell(tests.back()->passed);
         }},
        {{"segments_passed", Kind::Text, kKept, 24,
          "segments of the official test whose last result is a pass: inspection, basic-control, road"},
         segmentsPassed},
        {{"next_test", Kind::Date, kShifted, 12, "day of the next test that is booked"}, nextTest},
        {{"hours_range", Kind::Number, kKept, 11, "clock hours behind the wheel on the range"},
         [](const Line& l) { return hours(l, &HoursSum::range); }},
        {{"hours_road", Kind::Number, kKept, 11, "clock hours behind the wheel on public roads"},
         [](const Line& l) { return hours(l, &HoursSum::road); }},
        {{"hours_other", Kind::Number, kKept, 11, "other clock hours with the bus"},
         [](const Line& l) { return hours(l, &HoursSum::other); }},
        {{"away", Kind::YesNo, kKept, 8, "yes: left the program and is not back"},
         [](const Line& l) { return Cell(isAway(l.of.person.absences, l.of.today)); }},
    };
    return entries;
}

const std::vector<Entry<Line>>& readiness() {
    static const std::vector<Entry<Line>> entries{
        {{"readiness", Kind::Text, kKept, 14,
          "ready, close, not yet or too little data, on the day of the export; the instructor's own word "
          "where "
          "there is one"},
         [](const Line& l) { return ready(l, [](const Readiness& r) { return text(toWord(r.word)); }); }},
        {{"readiness_computed", Kind::Text, kKept, 14, "the same as the program sees it"},
         [](const Line& l) { return ready(l, [](const Readiness& r) { return text(toWord(r.computed)); }); }},
        {{"own_word", Kind::YesNo, kKept, 10, "yes: an instructor's own word stands"},
         [](const Line& l) {
             return ready(l, [](const Readiness& r) { return Cell(r.override_.has_value()); });
         }},
        {{"own_word_reason", Kind::Text, kLeftOut, 30, "why it stands"},
         [](const Line& l) {
             return ready(
                 l, [](const Readiness& r) { return r.override_ ? text(r.override_->reason) : Cell(); });
         }},
        {{"chance", Kind::Share, kKept, 9,
          "forecast chance of passing the inspection now; with too little data it is hardly more than a "
          "guess"},
         [](const Line& l) { return ready(l, [](const Readiness& r) { return Cell(r.forecast.chance); }); }},
        {{"chance_low", Kind::Share, kKept, 10, "low end of its 90 percent interval"},
         [](const Line& l) { return ready(l, [](const Readiness& r) { return Cell(r.forecast.low); }); }},
        {{"chance_high", Kind::Share, kKept, 11, "high end of its 90 percent interval"},
         [](const Line& l) { return ready(l, [](const Readiness& r) { return Cell(r.forecast.high); }); }},
        {{"too_little_data", Kind::YesNo, kKept, 13, "yes: do not lean on the chance"},
         [](const Line& l) {
             return ready(l, [](const Readiness& r) { return Cell(r.forecast.tooLittle); });
         }},
        {{"gates_shut", Kind::Text, kKept, 24, "gates that are not met"},
         [](const Line& l) { return gatesThatAre(l, GateState::NotMet); }},
        {{"gates_unknown", Kind::Text, kKept, 24, "gates of which nothing is known"},
         [](const Line& l) { return gatesThatAre(l, GateState::Unknown); }},
        {{"holding_back", Kind::Text, kLeftOut, 40, "what keeps the chance down, most costly first"},
         holdingBack},
        {{"would_change", Kind::Text, kLeftOut, 40, "what would change the word"},
         [](const Line& l) { return ready(l, [](const Readiness& r) { return text(r.change); }); }},
    };
    return entries;
}

}  // namespace

const std::vector<Entry<Line>>& rosterEntries() {
    static const std::vector<Entry<Line>> entries = [] {
        std::vector<Entry<Line>> all;
        for (const auto* part : {&people(), &marks(), &readiness()})
            all.insert(all.end(), part->begin(), part->end());
        return all;
    }();
    return entries;
}

}  // namespace markerlamp::core::columns
