// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/attempt/attempt_document.h"
#include "core/base/csv.h"
#include "core/base/files.h"
#include "core/base/new_folder.h"
#include "core/base/text.h"
#include "core/people/people.h"
#include "db/exchange/exchange.h"
#include "db/exchange/names.h"

#include <algorithm>
#include <cstdio>
#include <set>

namespace markerlamp::db {

using core::ErrorKind;
using core::Result;

namespace {

/// fileNameOf never gives it from the characters of an id.
constexpr char kShortened = '~';
/// Bytes of a name that tell the id; the rest of the 255 that file systems give are for count and ending.
constexpr std::size_t kMostOfAName = 150;

/// The stems that a folder has given away. What two ids would share (ids that differ in case only are one on
/// some media) gets a count behind it, the same one whenever the ids come in the same order.
class Stems {
public:
    std::string of(std::string_view id) {
        const std::string stem = fileNameOf(id);
        std::string name = stem;
        for (int count = 2; !m_given.insert(folded(name)).second; ++count)
            name = stem + kShortened + std::to_string(count);
        return name;
    }

private:
    static std::string folded(std::string text) {
        for (char& c : text)
            if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
        return text;
    }
    std::set<std::string> m_given;
};

using NamedTexts = std::vector<std::pair<std::string, std::string>>;

/// One document for each kind of record that there is any of.
template <class Record>
Result<void> addRecords(NamedTexts& documents, const char* name, const Result<std::vector<Record>>& records,
                        std::string (*write)(const std::vector<Record>&)) {
    if (!records) return core::fail(records.error());
    if (!records->empty()) documents.emplace_back(name, write(*records));
    return {};
}

Result<NamedTexts> recordDocuments(ProgramFile& file) {
    NamedTexts documents;
    for (const Result<void>& done :
         {addRecords(documents, "forecasts.jsonl", file.forecasts(), core::writeForecasts),
          addRecords(documents, "overrides.jsonl", file.overrides(), core::writeOverrides),
          addRecords(documents, "tests.jsonl", file.allTestResults(), core::writeTestResults),
          addRecords(documents, "strikes.jsonl", file.struckResults(), core::writeStruckResults),
          addRecords(documents, "hours.jsonl", file.clockHours(), core::writeClockHours),
          addRecords(documents, "bookings.jsonl", file.bookedTests(), core::writeBookedTests),
          addRecords(documents, "absences.jsonl", file.absences(), core::writeAbsences),
          addRecords(documents, "settlements.jsonl", file.settlements(), core::writeSettlements),
          addRecords(documents, "sheets.jsonl", file.sheetRecords(), core::writeSheetRecords),
          addRecords(documents, "licences.csv", file.licences(), core::writeLicencesCsv),
          addRecords(documents, "training.csv", file.courses(), core::writeTrainingCsv)})
        if (!done) return core::fail(done.error());
    return documents;
}

Result<int> writeAll(ProgramFile& file, const std::filesystem::path& dir,
                     const std::function<bool(double)>& progress) {
    int count = 0;
    const auto write = [&](const std::filesystem::path& name, const std::string& text) {
        ++count;
        return core::writeWhole(dir / name, text);
    };
    for (const char* folder : {"rubrics", "limits", "attempts"}) {
        std::error_code ec;
        std::filesystem::create_directory(dir / folder, ec);
        if (ec)
            return core::fail(ErrorKind::Machine, "cannot make folder " + (dir / folder).string(),
                              ec.message());
    }
    Stems rubricNames, limitNames, attemptNames;
    auto rubrics = file.rubrics();
    if (!rubrics) return core::fail(rubrics.error());
    for (const RubricInfo& info : *rubrics) {
        auto text = file.rubricText(info.id, info.edition);
        if (!text) return core::fail(text.error());
        const std::string name =
            rubricNames.of(info.id + "-" + std::to_string(info.edition)) + ".rubric.yaml";
        if (auto done = write(std::filesystem::path("rubrics") / name, *text); !done)
            return core::fail(done.error());
    }
    auto sets = file.limitSets();
    if (!sets) return core::fail(sets.error());
    for (const core::LimitSet& set : *sets) {
        auto text = file.limitSetText(set.id);
        if (!text) return core::fail(text.error());
        if (auto done =
                write(std::filesystem::path("limits") / (limitNames.of(set.id) + ".limits.yaml"), *text);
            !done)
            return core::fail(done.error());
    }
    auto infos = file.attempts();
    if (!infos) return core::fail(infos.error());
    std::vector<std::vector<std::string>> facts;
    for (std::size_t i = 0; i < infos->size(); ++i) {
        const AttemptInfo& info = (*infos)[i];
        if (progress && !progress(static_cast<double>(i) / static_cast<double>(infos->size())))
            return core::fail(ErrorKind::Usage, {});
        auto attempt = file.attempt(info.id);
        if (!attempt) return core::fail(attempt.error());
        if (auto done =
                write(std::filesystem::path("attempts") / (attemptNames.of(info.id) + ".attempt.jsonl"),
                      core::writeAttempt(*attempt));
            !done)
            return core::fail(done.error());
        if (info.state == AttemptState::SetAside)
            facts.push_back({std::string(kSetAsideFact) + info.id, "yes"});
    }
    auto stored = file.facts();
    if (!stored) return core::fail(stored.error());
    for (const auto& [key, value] : *stored)
        if (isExchangedFact(key)) facts.push_back({key, value});
    std::ranges::sort(facts);
    const auto trainees = file.trainees();
    if (!trainees) return core::fail(trainees.error());
    const auto instructors = file.instructors();
    if (!instructors) return core::fail(instructors.error());
    const auto buses = file.buses();
    if (!buses) return core::fail(buses.error());
    for (const auto& [name, text] : {std::pair{"people.csv", core::writePeopleCsv(*trainees)},
                                     std::pair{"instructors.csv", core::writeInstructorsCsv(*instructors)},
                                     std::pair{"buses.csv", core::writeBusesCsv(*buses)},
                                     std::pair{"program.csv", core::writeCsv({"key", "value"}, facts)}})
        if (auto done = write(name, text); !done) return core::fail(done.error());
    const auto records = recordDocuments(file);
    if (!records) return core::fail(records.error());
    for (const auto& [name, text] : *records)
        if (auto done = write(name, text); !done) return core::fail(done.error());
    return count;
}

}  // namespace

std::string fileNameOf(std::string_view id) {
    std::string name;
    for (const unsigned char c : id) {
        const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
                           c == '_' || c == '-' || (c == '.' && !name.empty());
        char code[4];
        std::snprintf(code, sizeof code, "%%%02X", c);
        const std::string next = plain ? std::string(1, static_cast<char>(c)) : std::string(code);
        if (name.size() + next.size() > kMostOfAName) return name + kShortened + core::hashText(id);
        name += next;
    }
    return name;
}

Result<int> exportTo(ProgramFile& file, const std::filesystem::path& dir,
                     const std::function<bool(double)>& progress) {
    auto folder = core::NewFolder::begin(dir);
    if (!folder) return core::fail(folder.error());
    const auto count = writeAll(file, folder->path(), progress);
    if (!count) return count;
    if (auto published = folder->publish(); !published) return core::fail(published.error());
    return count;
}

}  // namespace markerlamp::db
