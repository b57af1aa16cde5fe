// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "forms/sheets/training_record_sheet.h"

#include <QCoreApplication>

namespace markerlamp::forms {

namespace {

struct RecordWords {
    Q_DECLARE_TR_FUNCTIONS(RecordWords)
};

}  // namespace

QString recordItemText(core::RecordItem item) {
    using Item = core::RecordItem;
    switch (item) {
        case Item::Name:
            return RecordWords::tr("Name of the trainee");
        case Item::LicenceNumber:
            return RecordWords::tr("License or permit number");
        case Item::LicenceState:
            return RecordWords::tr("State that issued it");
        case Item::LicenceClass:
            return RecordWords::tr("License class trained for");
        case Item::Endorsements:
            return RecordWords::tr("Endorsements trained for");
        case Item::ProviderName:
            return RecordWords::tr("Name of the training provider");
        case Item::ProviderNumber:
            return RecordWords::tr("Provider's number in the registry");
        case Item::Theory:
            return RecordWords::tr("Theory result that reaches the asked percent, with its date");
        case Item::TheoryElsewhere:
            return RecordWords::tr("Provider of the theory training");
        case Item::RangeHours:
            return RecordWords::tr("Clock hours on the range");
        case Item::RoadHours:
            return RecordWords::tr("Clock hours on public roads");
        case Item::RangeDone:
            return RecordWords::tr("Date on which range training was completed");
        case Item::RoadDone:
            return RecordWords::tr("Date on which public-road training was completed");
        case Item::Proficient:
            return RecordWords::tr("Who found the trainee proficient in every element, and when");
        case Item::PermitSeen:
            return RecordWords::tr("Copy of permit or license on file");
        case Item::SelfCertified:
            return RecordWords::tr("Trainee's self-certification on file");
        case Item::TheoryReported:
            return RecordWords::tr("Theory reported to the registry");
        case Item::WheelReported:
            break;
    }
    return RecordWords::tr("Behind the wheel reported to the registry");
}

QString hoursKindText(core::HoursKind kind) {
    switch (kind) {
        case core::HoursKind::Range:
            return RecordWords::tr("range");
        case core::HoursKind::PublicRoad:
            return RecordWords::tr("public road");
        case core::HoursKind::Other:
            break;
    }
    return RecordWords::tr("other time with the bus");
}

QString coversText(core::Covers covers) {
    switch (covers) {
        case core::Covers::Theory:
            return RecordWords::tr("theory");
        case core::Covers::Wheel:
            return RecordWords::tr("behind the wheel");
        case core::Covers::Both:
            break;
    }
    return RecordWords::tr("theory and behind the wheel");
}

QString segmentText(const std::string& segment) {
    if (segment == core::kSegments[0]) return RecordWords::tr("vehicle inspection");
    if (segment == core::kSegments[1]) return RecordWords::tr("basic control skills");
    if (segment == core::kSegments[2]) return RecordWords::tr("road test");
    return QString::fromStdString(segment);
}

QString reportElsewhereText() {
    return RecordWords::tr(
        "This page is the program's own record. The report to the Training Provider Registry is made "
        "elsewhere, by the provider; the official rules decide what it must hold and by when it goes.");
}

}  // namespace markerlamp::forms
