// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/people/person_views.h"

#include "app/support/display.h"
#include "forms/sheets/training_record_sheet.h"

#include <QCoreApplication>

#include <algorithm>

namespace markerlamp::app {

namespace {

class PersonViews {
    Q_DECLARE_TR_FUNCTIONS(PersonViews)
};

QString dateText(const std::string& iso) {
    return longDate(isoDate(iso));
}

Cell dateCell(const std::string& iso) {
    return sortedCell(dateText(iso), isoDate(iso));
}

/// "in 4 days", "today", "3 days ago"
QString inDays(int days) {
    if (days == 0) return PersonViews::tr("today");
    return days > 0 ? PersonViews::tr("in %n day(s)", nullptr, days)
                    : PersonViews::tr("%n day(s) ago", nullptr, -days);
}

QString stateText(core::BookingState state) {
    switch (state) {
        case core::BookingState::Booked:
            return PersonViews::tr("booked");
        case core::BookingState::Cancelled:
            return PersonViews::tr("cancelled");
        case core::BookingState::Done:
            break;
    }
    return PersonViews::tr("done");
}

const core::BookedTest* bookingOf(const core::PersonFile& person, const std::string& id) {
    const auto found = std::ranges::find(person.bookings, id, &core::BookedTest::id);
    return found == person.bookings.end() ? nullptr : &*found;
}

/// Rows of records by date, the newest first.
template <class Record, class Make>
std::vector<Row> newestFirst(const std::vector<Record>& records, Make make) {
    std::vector<Row> rows;
    for (auto one = records.rbegin(); one != records.rend(); ++one) rows.push_back({qs(one->id), make(*one)});
    return rows;
}

}  // namespace

Names namesOf(const std::vector<core::Instructor>& instructors) {
    Names names;
    for (const core::Instructor& one : instructors) names[one.key] = qs(one.name);
    return names;
}

QString nameOf(const Names& names, const std::string& key) {
    const auto found = names.find(key);
    return found == names.end() || found->second.isEmpty() ? qs(key) : found->second;
}

QString segmentsText(const std::vector<std::string>& segments) {
    QStringList words;
    for (const std::string& segment : segments) words << forms::segmentText(segment);
    return words.join(PersonViews::tr(", "));
}

QString aheadText(const core::DateAhead& ahead, const core::PersonFile& person, const QDate& today) {
    const QDate date = isoDate(ahead.date);
    const QString day = longDate(date);
    switch (ahead.kind) {
        case core::DateKind::Permit:
            return ahead.assumed
                       ? PersonViews::tr("permit, no last day on file: %1").arg(endsText(date, today))
                       : PersonViews::tr("permit %1").arg(endsText(date, today));
        case core::DateKind::Medical:
            return PersonViews::tr("medical card %1").arg(endsText(date, today));
        case core::DateKind::Theory:
            return PersonViews::tr("theory result grows old %1 (%2)").arg(day, inDays(ahead.days));
        case core::DateKind::BookedTest: {
            const core::BookedTest* test = bookingOf(person, ahead.booking);
            const QString segments = test == nullptr ? QString() : segmentsText(test->segments);
            return ahead.over()
                       ? PersonViews::tr("test of %1: put the result on file (%2)").arg(day, segments)
                       : PersonViews::tr("test on %1 (%2): %3").arg(day, inDays(ahead.days), segments);
        }
        case core::DateKind::TheoryReport:
            return PersonViews::tr("report of theory due %1 (%2)").arg(day, inDays(ahead.days));
        case core::DateKind::WheelReport:
            break;
    }
    return PersonViews::tr("report of behind the wheel due %1 (%2)").arg(day, inDays(ahead.days));
}

QStringList aheadTexts(const core::PersonFile& person, const QDate& today,
                       const core::PeopleSettings& settings) {
    QStringList texts;
    for (const core::DateAhead& ahead : core::datesAhead(person, ss(today.toString(Qt::ISODate)), settings))
        texts << aheadText(ahead, person, today);
    return texts;
}

QString hoursSummary(const core::HoursSum& sum) {
    if (sum == core::HoursSum{}) return {};
    QString text = PersonViews::tr("%1 behind the wheel (range %2, public road %3)")
                       .arg(qs(core::hoursText(sum.behindTheWheel())), qs(core::hoursText(sum.range)),
                            qs(core::hoursText(sum.road)));
    if (sum.other > 0) text += PersonViews::tr(", %1 other").arg(qs(core::hoursText(sum.other)));
    return text;
}

QString segmentsSummary(const std::vector<core::TestResult>& results) {
    QStringList parts;
    for (const core::SegmentState& state : core::segmentStates(results)) {
        const QString segment = forms::segmentText(state.segment);
        if (state.tries == 0)
            parts << PersonViews::tr("%1 not yet taken").arg(segment);
        else if (state.passed)
            parts << PersonViews::tr("%1 passed %2 at try %3")
                         .arg(segment, dateText(state.last))
                         .arg(state.tries);
        else
            parts << PersonViews::tr("%1 not passed, %n test(s) taken", nullptr, state.tries).arg(segment);
    }
    return parts.join(PersonViews::tr("; "));
}

QString reportText(const core::ReportDue& report) {
    if (!report.sent.empty()) return PersonViews::tr("sent %1").arg(dateText(report.sent));
    if (report.due.empty()) return PersonViews::tr("due once completed");
    return PersonViews::tr("due by the end of %1").arg(dateText(report.due));
}

std::vector<Column> hoursColumns() {
    return {{PersonViews::tr("date")},
            {PersonViews::tr("where")},
            {PersonViews::tr("hours"), true},
            {PersonViews::tr("instructor")},
            {PersonViews::tr("note")}};
}

std::vector<Row> hoursRows(const core::PersonFile& person, const Names& names) {
    return newestFirst(person.hours, [&](const core::ClockHours& one) -> std::vector<Cell> {
        return {dateCell(one.date), longCell(forms::hoursKindText(one.kind)),
                sortedCell(qs(core::hoursText(one.minutes)), one.minutes),
                longCell(nameOf(names, one.instructor)), mutedCell(qs(one.note))};
    });
}

std::vector<Column> bookingColumns() {
    return {{PersonViews::tr("date")},     {PersonViews::tr("time")},  {PersonViews::tr("state")},
            {PersonViews::tr("segments")}, {PersonViews::tr("place")}, {PersonViews::tr("note")}};
}

std::vector<Row> bookingRows(const core::PersonFile& person) {
    return newestFirst(person.bookings, [](const core::BookedTest& one) -> std::vector<Cell> {
        return {dateCell(one.date),
                Cell{qs(one.time)},
                boldCell(stateText(one.state), one.state == core::BookingState::Booked),
                longCell(segmentsText(one.segments)),
                longCell(qs(one.place)),
                mutedCell(qs(one.note))};
    });
}

std::vector<Column> officialColumns() {
    return {{PersonViews::tr("date")},
            {PersonViews::tr("segment")},
            {PersonViews::tr("try"), true},
            {PersonViews::tr("result")},
            {PersonViews::tr("note")}};
}

std::vector<Row> officialRows(const core::PersonFile& person) {
    std::map<std::string, int> tries;
    std::map<std::string, int> number;  // by id
    for (const core::TestResult& one : person.results) number[one.id] = ++tries[one.segment];
    return newestFirst(person.results, [&](const core::TestResult& one) -> std::vector<Cell> {
        return {dateCell(one.date), longCell(forms::segmentText(one.segment)),
                Cell{QString::number(number[one.id])},
                boldCell(one.passed ? PersonViews::tr("passed") : PersonViews::tr("not passed"), one.passed),
                mutedCell(qs(one.note))};
    });
}

std::vector<Column> awayColumns() {
    return {{PersonViews::tr("left")}, {PersonViews::tr("returned")}, {PersonViews::tr("reason")}};
}

std::vector<Row> awayRows(const core::PersonFile& person) {
    return newestFirst(person.absences, [](const core::Absence& one) -> std::vector<Cell> {
        return {dateCell(one.left),
                one.returned.empty() ? boldCell(PersonViews::tr("not back")) : dateCell(one.returned),
                mutedCell(qs(one.reason))};
    });
}

std::vector<Column> checkColumns() {
    return {{PersonViews::tr("what the record asks about")}, {PersonViews::tr("state")}};
}

std::vector<Row> checkRows(const core::TrainingRecord& record) {
    std::vector<core::RecordCheck> checks = record.checks;
    std::ranges::stable_sort(checks, {}, &core::RecordCheck::there);
    std::vector<Row> rows;
    for (const core::RecordCheck& check : checks)
        rows.push_back(
            {qs(std::string(core::toWord(check.item))),
             {longCell(forms::recordItemText(check.item)),
              check.there ? mutedCell(PersonViews::tr("on file")) : boldCell(PersonViews::tr("missing"))}});
    return rows;
}

std::vector<Column> keepColumns() {
    return {{PersonViews::tr("name")},
            {PersonViews::tr("key")},
            {PersonViews::tr("newest record")},
            {PersonViews::tr("may be erased")}};
}

std::vector<Row> keepRows(const std::vector<core::KeepRow>& keep,
                          const std::vector<core::Trainee>& trainees) {
    std::map<std::string_view, const core::Trainee*> byKey;
    for (const core::Trainee& trainee : trainees) byKey.emplace(trainee.key, &trainee);
    std::vector<Row> rows;
    for (const core::KeepRow& one : keep) {
        const auto found = byKey.find(one.trainee);
        const QString name = found == byKey.end() ? qs(one.trainee) : qs(found->second->name);
        const QString from =
            one.may ? PersonViews::tr("now") : PersonViews::tr("from %1").arg(dateText(one.from));
        rows.push_back({qs(one.trainee),
                        {longCell(name), mutedCell(qs(one.trainee)),
                         one.last.empty() ? mutedCell(PersonViews::tr("none")) : dateCell(one.last),
                         boldCell(from, one.may)}});
    }
    return rows;
}

}  // namespace markerlamp::app
