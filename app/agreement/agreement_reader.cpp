// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/agreement/agreement_reader.h"

namespace markerlamp::app {

void readPairs(AgreementReader::Promise& promise, db::ProgramFile& file) {
    auto agreement = readAgreement(file);
    if (!agreement) {
        promise.addResult(core::fail(agreement.error()));
        return;
    }
    AgreementReading reading;
    reading.agreement = std::make_shared<const ProgramAgreement>(std::move(*agreement));
    promise.addResult(reading);
    // Without a shared attempt nothing is said of anybody, and with one instructor there is nobody to
    // compare.
    if (reading.agreement->pairs.empty() || reading.agreement->instructors < 2) return;
    auto funnel = funnelOf(file, *reading.agreement, AgreementReader::part(promise, 0, 1));
    if (promise.isCanceled()) return;
    if (!funnel) {
        promise.addResult(core::fail(funnel.error()));
    } else if (*funnel) {
        reading.funnel = std::move(*funnel);
        promise.addResult(std::move(reading));
    }
}

}  // namespace markerlamp::app
