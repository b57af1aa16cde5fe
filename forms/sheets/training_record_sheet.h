#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The printed record of a trainee's training, and the words for what it asks about.

#include "core/people/training_record.h"
#include "forms/sheets/sheets.h"

#include <QDateTime>
#include <QString>

#include <map>
#include <string>

namespace markerlamp::forms {

struct TrainingRecordInput {
    core::TrainingRecord record;
    QString programTitle;
    std::map<std::string, QString> instructors;  ///< names by key; a key without one stands for itself
    QString version;
    QDateTime printed;
    Paper paper = Paper::Letter;
};

/// Pages as many as the hours take. What is missing is listed with boxes to tick.
[[nodiscard]] Sheet trainingRecordSheet(const TrainingRecordInput& input);

/// "Licence or permit number", "Clock hours on public roads", ...
[[nodiscard]] QString recordItemText(core::RecordItem item);
/// "range", "public road", "other time with the bus"
[[nodiscard]] QString hoursKindText(core::HoursKind kind);
/// "theory", "behind the wheel", "theory and behind the wheel"
[[nodiscard]] QString coversText(core::Covers covers);
/// "vehicle inspection", "basic control skills", "road test"; another id as it is.
[[nodiscard]] QString segmentText(const std::string& segment);
/// That the report itself is made elsewhere and that the official rules decide.
[[nodiscard]] QString reportElsewhereText();

}  // namespace markerlamp::forms
