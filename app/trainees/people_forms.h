#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Checks what was typed into the forms for trainees, instructors and buses. No widgets: every field comes in
// as text, and the first thing that is wrong comes back with the name of its field.

#include "core/people/people.h"

#include <QString>
#include <QStringList>

#include <vector>

namespace markerlamp::app {

struct TraineeFields {
    QString key, name, started, permitIssued, permitExpires, medicalExpires, theoryPercent, theoryDate, group,
        note;
};

[[nodiscard]] TraineeFields fieldsOf(const core::Trainee& trainee);
/// Keys: letters, digits, dot, hyphen and underline, at most 64. Dates: YYYY-MM-DD or empty. taken: keys of
/// the others.
[[nodiscard]] core::Result<core::Trainee> traineeFrom(const TraineeFields& fields, const QStringList& taken);
[[nodiscard]] core::Result<core::Instructor> instructorFrom(const QString& key, const QString& name,
                                                            const QStringList& taken);

/// One limit of the bus form: what was typed, empty where the rubric's own stands.
struct LimitField {
    QString id, low, high;
};
[[nodiscard]] core::Result<core::Bus> busFrom(const QString& key, const QString& title, const QString& note,
                                              const std::vector<std::string>& equipment,
                                              const std::vector<LimitField>& limits,
                                              const QStringList& taken);

/// A date as ISO 8601, from what was typed: YYYY-MM-DD, or as this place writes dates. Empty where nothing
/// was typed and it need not be there.
[[nodiscard]] core::Result<std::string> dateFrom(const QString& field, const QString& text, bool required);

/// The first free key of the form prefix-001, prefix-002, ...
[[nodiscard]] QString freeKey(const QString& prefix, const QStringList& taken);

}  // namespace markerlamp::app
