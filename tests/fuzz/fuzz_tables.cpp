// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// libFuzzer target: whatever the bytes, the readers of tables, limit sets and kept choices answer; what is
// sound reads back the same.

#include "core/agreement/kept_choices.h"
#include "core/base/csv.h"
#include "core/people/outcomes.h"
#include "core/people/people.h"
#include "core/people/training.h"
#include "core/rubric/rubric_reader.h"

#include <cstdint>
#include <cstdlib>

using namespace markerlamp::core;

namespace {

template <class Value, class Write, class Read>
void check(const Result<Value>& value, Write write, Read read) {
    if (value) {
        const Result<Value> again = read(write(*value));
        if (!again || !(*again == *value)) std::abort();
    } else if (value.error().problems.empty()) {
        std::abort();  // a refusal names its places
    }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view text(reinterpret_cast<const char*>(data), size);
    check(
        readPeopleCsv(text), [](const auto& all) { return writePeopleCsv(all); },
        [](const std::string& csv) { return readPeopleCsv(csv); });
    check(
        readInstructorsCsv(text), [](const auto& all) { return writeInstructorsCsv(all); },
        [](const std::string& csv) { return readInstructorsCsv(csv); });
    check(
        readBusesCsv(text), [](const auto& all) { return writeBusesCsv(all); },
        [](const std::string& csv) { return readBusesCsv(csv); });
    check(
        readLicencesCsv(text), [](const auto& all) { return writeLicencesCsv(all); },
        [](const std::string& csv) { return readLicencesCsv(csv); });
    check(
        readTrainingCsv(text), [](const auto& all) { return writeTrainingCsv(all); },
        [](const std::string& csv) { return readTrainingCsv(csv); });
    check(
        readChoices(text), [](const Choices& all) { return writeChoices(all); },
        [](const std::string& kept) { return readChoices(kept); });
    Trainee known;
    known.key = "t-1";
    const auto outcomes = readOutcomesCsv(text, "outcomes.csv", {known}, {});
    if (outcomes) {
        // A result that was taken in is on file when the same table comes once more.
        const auto again = readOutcomesCsv(text, "outcomes.csv", {known}, outcomes->results);
        if (!again || !again->results.empty()) std::abort();
    }
    const auto set = readLimitSet(text);
    if (!set && set.error().problems.empty()) std::abort();
    return 0;
}
