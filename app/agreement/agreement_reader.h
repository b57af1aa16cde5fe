#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Reads what a program file says about second scorings in the background.

#include "app/agreement/program_agreement.h"
#include "app/support/file_reader.h"

#include <memory>
#include <optional>

namespace markerlamp::app {

/// What is known so far: the pairs come first, the strictness of instructors takes a fit.
struct AgreementReading {
    std::shared_ptr<const ProgramAgreement> agreement;
    std::optional<core::StrictnessFunnel> funnel;
};

using AgreementReader = FileReader<AgreementReading>;
void readPairs(AgreementReader::Promise& promise, db::ProgramFile& file);

}  // namespace markerlamp::app
