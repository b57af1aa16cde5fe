// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// libFuzzer target: whatever the bytes, the readers of records of readiness, settlements and training answer;
// what is sound reads back the same.

#include "core/agreement/settlement.h"
#include "core/history/sheet_record.h"
#include "core/people/training.h"
#include "core/readiness/readiness_records.h"

#include <cstdint>
#include <cstdlib>

using namespace markerlamp::core;

namespace {

template <class Record>
void check(const Result<std::vector<Record>>& records, std::string (*write)(const std::vector<Record>&),
           Result<std::vector<Record>> (*read)(std::string_view, const std::string&)) {
    if (records) {
        const auto again = read(write(*records), {});
        if (!again || !(*again == *records)) std::abort();
    } else if (records.error().problems.empty()) {
        std::abort();
    }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view text(reinterpret_cast<const char*>(data), size);
    check(readForecasts(text), writeForecasts, readForecasts);
    check(readOverrides(text), writeOverrides, readOverrides);
    check(readTestResults(text), writeTestResults, readTestResults);
    check(readSettlements(text), writeSettlements, readSettlements);
    check(readSheetRecords(text), writeSheetRecords, readSheetRecords);
    check(readClockHours(text), writeClockHours, readClockHours);
    check(readBookedTests(text), writeBookedTests, readBookedTests);
    check(readAbsences(text), writeAbsences, readAbsences);
    check(readStruckResults(text), writeStruckResults, readStruckResults);
    return 0;
}
