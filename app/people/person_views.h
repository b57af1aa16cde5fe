#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Words and rows for what is on file about a person. No widgets.

#include "app/support/rows_model.h"
#include "core/people/keeping.h"
#include "core/people/training_record.h"

#include <QDate>
#include <QString>
#include <QStringList>

#include <map>
#include <string>
#include <vector>

namespace markerlamp::app {

/// Names of instructors by key.
using Names = std::map<std::string, QString>;
[[nodiscard]] Names namesOf(const std::vector<core::Instructor>& instructors);
[[nodiscard]] QString nameOf(const Names& names, const std::string& key);

/// "vehicle inspection, road test"
[[nodiscard]] QString segmentsText(const std::vector<std::string>& segments);
/// "permit ends 30 Apr 2026 (9 days)", "test on 2 May 2026 (4 days): vehicle inspection", ...
[[nodiscard]] QString aheadText(const core::DateAhead& ahead, const core::PersonFile& person,
                                const QDate& today);
/// One for each date ahead, the first first.
[[nodiscard]] QStringList aheadTexts(const core::PersonFile& person, const QDate& today,
                                     const core::PeopleSettings& settings);
/// "12:30 behind the wheel (range 8:00, public road 4:30), 0:20 other"; empty without hours.
[[nodiscard]] QString hoursSummary(const core::HoursSum& sum);
/// "vehicle inspection passed 2 May 2026 at try 2; road test not yet"
[[nodiscard]] QString segmentsSummary(const std::vector<core::TestResult>& results);
/// When a report goes: "due by the end of 6 Jul 2026", "sent 2 Jul 2026", "due once completed".
[[nodiscard]] QString reportText(const core::ReportDue& report);

// Newest first; the id of a row is that of its record.
[[nodiscard]] std::vector<Column> hoursColumns();
[[nodiscard]] std::vector<Row> hoursRows(const core::PersonFile& person, const Names& names);
[[nodiscard]] std::vector<Column> bookingColumns();
[[nodiscard]] std::vector<Row> bookingRows(const core::PersonFile& person);
[[nodiscard]] std::vector<Column> officialColumns();
[[nodiscard]] std::vector<Row> officialRows(const core::PersonFile& person);
[[nodiscard]] std::vector<Column> awayColumns();
[[nodiscard]] std::vector<Row> awayRows(const core::PersonFile& person);
/// What a record asks about, what is missing first.
[[nodiscard]] std::vector<Column> checkColumns();
[[nodiscard]] std::vector<Row> checkRows(const core::TrainingRecord& record);
/// Who may be erased when; the id is the trainee's key.
[[nodiscard]] std::vector<Column> keepColumns();
[[nodiscard]] std::vector<Row> keepRows(const std::vector<core::KeepRow>& rows,
                                        const std::vector<core::Trainee>& trainees);

}  // namespace markerlamp::app
