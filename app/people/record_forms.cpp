// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/people/record_forms.h"

#include "app/support/display.h"
#include "core/people/person_file.h"
#include "forms/sheets/training_record_sheet.h"

#include <QCheckBox>
#include <QComboBox>
#include <QFormLayout>
#include <QLineEdit>
#include <QUuid>
#include <QVBoxLayout>

#include <algorithm>

namespace markerlamp::app {

namespace {

constexpr int kMinutesOfADay = 24 * 60;

std::string freshId() {
    return ss(QUuid::createUuid().toString(QUuid::WithoutBraces));
}

tl::unexpected<core::Error> refuse(const QString& words) {
    return core::fail(core::ErrorKind::Refused, ss(words));
}

/// The record that is written down now in the place of the one before.
template <class Record>
Record successorOf(const Record& before) {
    Record record = before;
    record.replaces = before.id;
    record.id = freshId();
    record.at = nowIso();
    return record;
}

void fillInstructors(QComboBox& box, const std::vector<core::Instructor>& instructors,
                     const std::string& chosen) {
    box.addItem(FormDialog::tr("(choose)"), QString());
    for (const core::Instructor& one : instructors)
        box.addItem(qs(one.name.empty() ? one.key : one.name), qs(one.key));
    if (!chosen.empty() && box.findData(qs(chosen)) < 0) box.addItem(qs(chosen), qs(chosen));
    box.setCurrentIndex(std::max(0, box.findData(qs(chosen))));
}

}  // namespace

HoursDialog::HoursDialog(const Theme& theme, const core::ClockHours& before,
                         const std::vector<core::Instructor>& instructors, const QDate& today,
                         QWidget* parent)
    : FormDialog(theme, before.id.empty() ? tr("Clock hours") : tr("Correct the clock hours"),
                 before.id.empty() ? tr("&Add the hours") : tr("&Put it in the place of the old entry"),
                 parent),
      m_before(before),
      m_today(today),
      m_kind(new QComboBox),
      m_instructor(new QComboBox) {
    m_date = addField(tr("&Date"), before.date.empty() ? today.toString(Qt::ISODate) : qs(before.date),
                      tr("YYYY-MM-DD"));
    for (const core::HoursKind kind :
         {core::HoursKind::Range, core::HoursKind::PublicRoad, core::HoursKind::Other})
        m_kind->addItem(forms::hoursKindText(kind), qs(std::string(core::toWord(kind))));
    m_kind->setCurrentIndex(m_kind->findData(qs(std::string(core::toWord(before.kind)))));
    form()->addRow(tr("&Where"), m_kind);
    m_time = addField(tr("&Hours"), before.minutes > 0 ? qs(core::hoursText(before.minutes)) : QString(),
                      tr("by the clock, such as 1:30"));
    fillInstructors(*m_instructor, instructors, before.instructor);
    form()->addRow(tr("&Instructor"), m_instructor);
    m_note = addField(tr("&Note"), qs(before.note));
    m_time->setFocus();
}

core::Result<void> HoursDialog::check() {
    core::ClockHours hours = successorOf(m_before);
    const auto date = dateFrom(tr("Date"), m_date->text(), true);
    if (!date) return core::fail(date.error());
    if (isoDate(*date) > m_today) return refuse(tr("Date: that day is still to come"));
    const auto minutes = core::minutesOf(ss(m_time->text().trimmed()));
    if (!minutes || *minutes < 1 || *minutes > kMinutesOfADay)
        return refuse(tr("Hours: write hours and minutes, such as 1:30, at most 24:00"));
    if (m_instructor->currentData().toString().isEmpty()) return refuse(tr("Instructor: choose who taught"));
    hours.date = *date;
    hours.minutes = *minutes;
    hours.kind = *core::hoursKindFromWord(ss(m_kind->currentData().toString()));
    hours.instructor = ss(m_instructor->currentData().toString());
    hours.note = ss(m_note->text().trimmed());
    m_hours = std::move(hours);
    return {};
}

BookingDialog::BookingDialog(const Theme& theme, const core::BookedTest& before, QWidget* parent)
    : FormDialog(theme, before.id.empty() ? tr("Book a test") : tr("Change the booked test"),
                 before.id.empty() ? tr("&Book the test") : tr("&Keep the changes"), parent),
      m_before(before),
      m_state(new QComboBox) {
    m_date = addField(tr("&Date"), qs(before.date), tr("YYYY-MM-DD"));
    m_time = addField(tr("&Time"), qs(before.time), tr("08:30, or empty"));
    auto* segments = new QWidget;
    auto* column = new QVBoxLayout(segments);
    column->setContentsMargins(0, 0, 0, 0);
    for (std::size_t i = 0; i < m_segments.size(); ++i) {
        const std::string id(core::kSegments[i]);
        m_segments[i] = new QCheckBox(forms::segmentText(id));
        m_segments[i]->setChecked(before.id.empty() ? i == 0 : std::ranges::count(before.segments, id) > 0);
        column->addWidget(m_segments[i]);
    }
    form()->addRow(tr("Segments"), segments);
    m_place = addField(tr("&Place"), qs(before.place));
    m_state->addItem(tr("booked"), QStringLiteral("booked"));
    m_state->addItem(tr("cancelled"), QStringLiteral("cancelled"));
    m_state->addItem(tr("done"), QStringLiteral("done"));
    m_state->setCurrentIndex(m_state->findData(qs(std::string(core::toWord(before.state)))));
    form()->addRow(tr("&State"), m_state);
    m_note = addField(tr("&Note"), qs(before.note));
    m_date->setFocus();
}

core::Result<void> BookingDialog::check() {
    core::BookedTest test = successorOf(m_before);
    const auto date = dateFrom(tr("Date"), m_date->text(), true);
    if (!date) return core::fail(date.error());
    test.date = *date;
    test.time = ss(m_time->text().trimmed());
    if (!test.time.empty() && !core::isTimeOfDay(test.time))
        return refuse(tr("Time: write it like 08:30, or leave it empty"));
    // Segments of the program's own stay as they were.
    std::erase_if(test.segments, [](const std::string& id) {
        return std::ranges::find(core::kSegments, id) != core::kSegments.end();
    });
    for (std::size_t i = 0; i < m_segments.size(); ++i)
        if (m_segments[i]->isChecked()) test.segments.emplace_back(core::kSegments[i]);
    if (test.segments.empty()) return refuse(tr("Segments: choose at least one"));
    test.place = ss(m_place->text().trimmed());
    test.state = *core::bookingStateFromWord(ss(m_state->currentData().toString()));
    test.note = ss(m_note->text().trimmed());
    m_test = std::move(test);
    return {};
}

AwayDialog::AwayDialog(const Theme& theme, const core::Absence& before, QWidget* parent)
    : FormDialog(theme, before.id.empty() ? tr("Left the program") : tr("Time away"), tr("&Keep it"), parent),
      m_before(before) {
    m_left = addField(tr("&Left on"), qs(before.left), tr("YYYY-MM-DD"));
    m_returned = addField(tr("&Returned on"), qs(before.returned), tr("empty while away"));
    m_reason = addField(tr("Re&ason"), qs(before.reason));
    (before.id.empty() ? m_left : m_returned)->setFocus();
}

core::Result<void> AwayDialog::check() {
    core::Absence absence = successorOf(m_before);
    const auto left = dateFrom(tr("Left on"), m_left->text(), true);
    if (!left) return core::fail(left.error());
    const auto returned = dateFrom(tr("Returned on"), m_returned->text(), false);
    if (!returned) return core::fail(returned.error());
    if (!returned->empty() && *returned < *left)
        return refuse(tr("Returned on: nobody returns before leaving"));
    absence.left = *left;
    absence.returned = *returned;
    absence.reason = ss(m_reason->text().trimmed());
    m_absence = std::move(absence);
    return {};
}

ReasonDialog::ReasonDialog(const Theme& theme, const QString& title, const QString& what, QWidget* parent)
    : FormDialog(theme, title, tr("&Take it out"), parent) {
    auto* words = new Text(theme, 15, false, Ink::Full, what);
    words->setWordWrap(true);
    form()->addRow(words);
    m_reason = addField(tr("&Reason"), QString(), tr("what was wrong with it"));
    m_reason->setFocus();
}

QString ReasonDialog::reason() const {
    return m_reason->text().trimmed();
}

core::Result<void> ReasonDialog::check() {
    if (reason().isEmpty()) return refuse(tr("Reason: say what was wrong with it"));
    return {};
}

LicenceDialog::LicenceDialog(const Theme& theme, const core::Licence& licence, QWidget* parent)
    : FormDialog(theme, tr("License or permit"), tr("&Keep it"), parent), m_licence(licence) {
    m_number = addField(tr("&Number"), qs(licence.number), tr("optional; hidden until somebody asks"));
    m_state = addField(tr("&State of issue"), qs(licence.state), tr("two letters"));
    for (QLineEdit* edit : {m_number, m_state}) edit->setMaxLength(40);
    m_number->setFocus();
}

core::Result<void> LicenceDialog::check() {
    m_licence.number = ss(m_number->text().trimmed());
    m_licence.state = ss(m_state->text().trimmed());
    return {};
}

CourseDialog::CourseDialog(const Theme& theme, const core::Course& course,
                           const std::vector<core::Instructor>& instructors, QWidget* parent)
    : FormDialog(theme, tr("What the training record says"), tr("&Keep the changes"), parent),
      m_course(course),
      m_covers(new QComboBox),
      m_by(new QComboBox) {
    for (const core::Covers covers : {core::Covers::Both, core::Covers::Theory, core::Covers::Wheel})
        m_covers->addItem(forms::coversText(covers), qs(std::string(core::toWord(covers))));
    m_covers->setCurrentIndex(m_covers->findData(qs(std::string(core::toWord(course.covers)))));
    form()->addRow(tr("This program &teaches"), m_covers);
    using C = core::Course;
    add(tr("License &class"), &C::licenceClass, false);
    add(tr("&Endorsements"), &C::endorsements, false);
    add(tr("Theory &provider"), &C::theoryProvider, false);
    add(tr("Provider's &number"), &C::theoryProviderNumber, false);
    add(tr("&Range completed"), &C::rangeDone, true);
    add(tr("Public r&oad completed"), &C::roadDone, true);
    add(tr("Pro&ficient in every element on"), &C::proficientOn, true);
    fillInstructors(*m_by, instructors, course.proficientBy);
    form()->addRow(tr("Fo&und proficient by"), m_by);
    add(tr("Copy of &permit on file since"), &C::permitSeen, true);
    add(tr("Self-certification on file &since"), &C::selfCertified, true);
    add(tr("Theor&y reported on"), &C::theoryReported, true);
    add(tr("Behind the &wheel reported on"), &C::wheelReported, true);
    m_covers->setFocus();
}

void CourseDialog::add(const QString& label, std::string core::Course::*member, bool date) {
    const bool usual = member == &core::Course::licenceClass || member == &core::Course::endorsements;
    QLineEdit* edit = addField(label, qs(m_course.*member),
                               date    ? tr("YYYY-MM-DD")
                               : usual ? tr("empty: as in the program's settings")
                                       : QString());
    edit->setMaxLength(usual ? 40 : 200);
    m_fields.push_back({QString(label).remove(QLatin1Char('&')), member, date, edit});
}

core::Result<void> CourseDialog::check() {
    core::Course course = m_course;
    for (const Field& field : m_fields) {
        if (!field.date) {
            course.*field.member = ss(field.edit->text().trimmed());
            continue;
        }
        const auto date = dateFrom(field.label, field.edit->text(), false);
        if (!date) return core::fail(date.error());
        course.*field.member = *date;
    }
    course.covers = *core::coversFromWord(ss(m_covers->currentData().toString()));
    course.proficientBy = ss(m_by->currentData().toString());
    m_course = std::move(course);
    return {};
}

}  // namespace markerlamp::app
