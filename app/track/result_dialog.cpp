// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/track/result_dialog.h"

#include "app/shell/session.h"
#include "app/support/display.h"
#include "core/people/person_file.h"
#include "forms/sheets/training_record_sheet.h"

#include <QComboBox>
#include <QFormLayout>
#include <QHBoxLayout>
#include <QLineEdit>
#include <QMessageBox>
#include <QPlainTextEdit>
#include <QRadioButton>
#include <QUuid>

#include <algorithm>
#include <cmath>

namespace markerlamp::app {

namespace {

core::Problem problemOf(const char* field, const QString& message, const QString& remedy) {
    return {{}, 0, field, {}, ss(message), ss(remedy)};
}

}  // namespace

ResultDialog::ResultDialog(const Theme& theme, const std::vector<core::Trainee>& trainees,
                           std::vector<core::FrozenForecast> forecasts, const QString& trainee,
                           const QDate& today, QWidget* parent)
    : FormDialog(theme, tr("Record an official test result"), tr("&Record the result"), parent),
      m_forecasts(std::move(forecasts)),
      m_today(today),
      m_trainee(new QComboBox),
      m_segment(new QComboBox),
      m_passed(new QRadioButton(tr("&Passed"))),
      m_failed(new QRadioButton(tr("N&ot passed"))),
      m_note(new QPlainTextEdit),
      m_against(new Text(theme, 13, false, Ink::Muted)) {
    m_trainee->addItem(tr("(choose)"), QString());
    for (const core::Trainee& one : trainees) {
        const QString key = qs(one.key);
        m_trainee->addItem(one.name.empty() || one.name == one.key
                               ? key
                               : tr("%1 (%2)", "name and key").arg(qs(one.name), key),
                           key);
    }
    m_trainee->setCurrentIndex(std::max(0, m_trainee->findData(trainee)));
    m_trainee->setMinimumWidth(qRound(theme.s(300)));
    form()->addRow(tr("&Trainee"), m_trainee);
    m_date = addField(tr("&Date of the test"), today.toString(Qt::ISODate), tr("YYYY-MM-DD"));
    for (const auto segment : core::kSegments)
        m_segment->addItem(forms::segmentText(std::string(segment)), qs(std::string(segment)));
    form()->addRow(tr("&Segment"), m_segment);
    auto* results = new QWidget;
    auto* row = new QHBoxLayout(results);
    row->setContentsMargins(0, 0, 0, 0);
    row->setSpacing(qRound(theme.s(24)));
    row->addWidget(m_passed);
    row->addWidget(m_failed);
    row->addStretch(1);
    form()->addRow(tr("Result"), results);
    m_note->setTabChangesFocus(true);
    m_note->setMaximumHeight(qRound(theme.s(70)));
    m_note->setPlaceholderText(tr("what the examiner wrote, for example"));
    form()->addRow(tr("&Note"), m_note);
    m_against->setWordWrap(true);
    form()->addRow(QString(), m_against);
    for (QComboBox* box : {m_trainee, m_segment})
        connect(box, &QComboBox::currentIndexChanged, this, &ResultDialog::showForecast);
    connect(m_date, &QLineEdit::textChanged, this, &ResultDialog::showForecast);
    showForecast();
    if (chosen().isEmpty())
        m_trainee->setFocus();
    else
        m_passed->setFocus();
}

QString ResultDialog::chosen() const {
    return m_trainee->currentData().toString();
}

QDate ResultDialog::day() const {
    const auto date = dateFrom(tr("Date of the test"), m_date->text(), true);
    return date ? isoDate(*date) : QDate();
}

std::string ResultDialog::segment() const {
    return ss(m_segment->currentData().toString());
}

void ResultDialog::showForecast() {
    const QDate day = this->day();
    if (chosen().isEmpty() || !day.isValid()) {
        m_against->setText(
            tr("A result stays as it is recorded. It is held against the newest forecast that "
               "was frozen before the day of the test."));
        return;
    }
    if (segment() != core::kInspectionSegment) {
        m_against->setText(tr("Kept on file. Forecasts are about the vehicle inspection only."));
        return;
    }
    const core::FrozenForecast* newest = nullptr;
    for (const core::FrozenForecast& one : m_forecasts)
        if (qs(one.trainee) == chosen() && startedAt(one.at).date() < day &&
            (newest == nullptr || startedAt(newest->at) < startedAt(one.at)))
            newest = &one;
    m_against->setText(newest == nullptr
                           ? tr("No forecast was frozen before that day, so this result is kept but not "
                                "compared. A forecast "
                                "is frozen when an attempt over all zones starts.")
                           : tr("Held against the forecast frozen on %1: %2 in 100 (90 % interval %3 to %4).")
                                 .arg(longDate(startedAt(newest->at).date()))
                                 .arg(std::lround(100 * newest->chance))
                                 .arg(std::lround(100 * newest->low))
                                 .arg(std::lround(100 * newest->high)));
}

core::Result<void> ResultDialog::check() {
    std::vector<core::Problem> problems;
    const QString date = m_date->text().trimmed();
    const QDate day = this->day();
    if (chosen().isEmpty())
        problems.push_back(problemOf("trainee", tr("nobody is chosen"), tr("choose who took the test")));
    if (!day.isValid())
        problems.push_back(
            problemOf("date", tr("\"%1\" is not a day").arg(date),
                      tr("write it as YYYY-MM-DD, such as %1").arg(m_today.toString(Qt::ISODate))));
    else if (day > m_today)
        problems.push_back(problemOf("date", tr("%1 is still to come").arg(longDate(day)),
                                     tr("record a result once it is known")));
    if (!m_passed->isChecked() && !m_failed->isChecked())
        problems.push_back(problemOf("result", tr("no result is chosen"), tr("choose Passed or Not passed")));
    if (!problems.empty()) return core::fail(ss(tr("The result is not complete")), std::move(problems));
    m_result.id = ss(QUuid::createUuid().toString(QUuid::WithoutBraces));
    m_result.trainee = ss(chosen());
    m_result.date = ss(day.toString(Qt::ISODate));
    m_result.segment = segment();
    m_result.passed = m_passed->isChecked();
    m_result.note = ss(m_note->toPlainText().trimmed());
    return {};
}

bool recordResult(const Theme& theme, Session& session, const QString& trainee, QWidget* parent) {
    const auto failed = [parent](const core::Error& error) {
        QMessageBox::warning(parent, ResultDialog::tr("Not recorded"), errorText(error));
        return false;
    };
    const auto trainees = session.file().trainees();
    if (!trainees) return failed(trainees.error());
    auto forecasts = session.file().forecasts();
    if (!forecasts) return failed(forecasts.error());
    ResultDialog dialog(theme, *trainees, std::move(*forecasts), trainee, QDate::currentDate(), parent);
    if (dialog.exec() != QDialog::Accepted) return false;
    if (auto done = session.file().addTestResult(dialog.result()); !done) return failed(done.error());
    session.notePeopleChanged();
    return true;
}

}  // namespace markerlamp::app
