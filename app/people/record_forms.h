#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Forms for what is kept of a trainee: hours, a booked test, a time away, a reason, licence, training.

#include "app/trainees/people_dialogs.h"
#include "core/people/training.h"

#include <QDate>

#include <array>

class QCheckBox;
class QComboBox;

namespace markerlamp::app {

/// A record is written down anew; one that corrects another takes its place.
class HoursDialog final : public FormDialog {
    Q_OBJECT

public:
    /// before: with an id, the record that is corrected; else only its trainee counts.
    HoursDialog(const Theme& theme, const core::ClockHours& before,
                const std::vector<core::Instructor>& instructors, const QDate& today, QWidget* parent);
    [[nodiscard]] const core::ClockHours& hours() const { return m_hours; }

protected:
    core::Result<void> check() override;

private:
    core::ClockHours m_before, m_hours;
    QDate m_today;
    QLineEdit *m_date, *m_time, *m_note;
    QComboBox *m_kind, *m_instructor;
};

class BookingDialog final : public FormDialog {
    Q_OBJECT

public:
    BookingDialog(const Theme& theme, const core::BookedTest& before, QWidget* parent);
    [[nodiscard]] const core::BookedTest& test() const { return m_test; }

protected:
    core::Result<void> check() override;

private:
    core::BookedTest m_before, m_test;
    QLineEdit *m_date, *m_time, *m_place, *m_note;
    QComboBox* m_state;
    std::array<QCheckBox*, 3> m_segments{};
};

class AwayDialog final : public FormDialog {
    Q_OBJECT

public:
    AwayDialog(const Theme& theme, const core::Absence& before, QWidget* parent);
    [[nodiscard]] const core::Absence& absence() const { return m_absence; }

protected:
    core::Result<void> check() override;

private:
    core::Absence m_before, m_absence;
    QLineEdit *m_left, *m_returned, *m_reason;
};

/// Why a record is taken out.
class ReasonDialog final : public FormDialog {
    Q_OBJECT

public:
    ReasonDialog(const Theme& theme, const QString& title, const QString& what, QWidget* parent);
    [[nodiscard]] QString reason() const;

protected:
    core::Result<void> check() override;

private:
    QLineEdit* m_reason;
};

class LicenceDialog final : public FormDialog {
    Q_OBJECT

public:
    LicenceDialog(const Theme& theme, const core::Licence& licence, QWidget* parent);
    [[nodiscard]] const core::Licence& licence() const { return m_licence; }

protected:
    core::Result<void> check() override;

private:
    core::Licence m_licence;
    QLineEdit *m_number, *m_state;
};

class CourseDialog final : public FormDialog {
    Q_OBJECT

public:
    CourseDialog(const Theme& theme, const core::Course& course,
                 const std::vector<core::Instructor>& instructors, QWidget* parent);
    [[nodiscard]] const core::Course& course() const { return m_course; }

protected:
    core::Result<void> check() override;

private:
    struct Field {
        QString label;
        std::string core::Course::*member;
        bool date;
        QLineEdit* edit;
    };
    void add(const QString& label, std::string core::Course::*member, bool date);

    core::Course m_course;
    QComboBox *m_covers, *m_by;
    std::vector<Field> m_fields;
};

}  // namespace markerlamp::app
