#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The record of a trainee's completed training: what a training provider's certification holds (49 CFR
// 380.717(a)-(e)) with the dates and hours behind it, when the report of it is due, and what is missing. The
// report itself is made elsewhere, by the provider with the registry.

#include "core/people/person_file.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace markerlamp::core {

/// What a record is asked about, in the order in which a check-list names it.
enum class RecordItem {
    Name,
    LicenceNumber,
    LicenceState,
    LicenceClass,
    Endorsements,
    ProviderName,
    ProviderNumber,
    Theory,           ///< a result that reaches the asked percent, with its date
    TheoryElsewhere,  ///< name of who taught theory, where this program does not
    RangeHours,
    RoadHours,
    RangeDone,
    RoadDone,
    Proficient,     ///< every element shown, who determined it and when (Appendix B, preamble)
    PermitSeen,     ///< copy on file (380.725)
    SelfCertified,  ///< the trainee's own certification on file (380.725)
    TheoryReported,
    WheelReported,
};
[[nodiscard]] std::string_view toWord(RecordItem item);  ///< "name", "licence-number", ...

struct RecordCheck {
    RecordItem item = RecordItem::Name;
    bool there = false;

    bool operator==(const RecordCheck&) const = default;
};

struct TrainingRecord {
    PersonFile person;
    std::string licenceClass, endorsements;  ///< the trainee's, else the program's
    std::string providerName, providerNumber, providerPlace;
    HoursSum hours;
    std::vector<ReportDue> reports;
    std::vector<RecordCheck> checks;  ///< those that this trainee's training asks for

    [[nodiscard]] std::vector<RecordItem> missing() const;
    /// Every part that this program teaches is completed.
    [[nodiscard]] bool completed() const;
};
[[nodiscard]] TrainingRecord trainingRecord(const PersonFile& person, const PeopleSettings& settings);

/// "12.5": hours with at most two decimals.
[[nodiscard]] std::string decimalHours(int minutes);

/// One row for each record; dates ISO 8601, hours as decimals, what is missing by its words, split by spaces.
[[nodiscard]] std::string writeTrainingRecordsCsv(const std::vector<TrainingRecord>& records);

}  // namespace markerlamp::core
