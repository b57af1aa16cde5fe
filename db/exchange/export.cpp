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

/// People, buses and the facts of the program, which say what attempts were set aside too.
Result<NamedTexts> tableDocuments(ProgramFile& file) {
    const auto infos = file.attempts();
    if (!infos) return core::fail(infos.error());
    std::vector<std::vector<std::string>> facts;
    for (const AttemptInfo& info : *infos)
        if (info.state == AttemptState::SetAside)
            facts.push_back({std::string(kSetAsideFact) + info.id, "yes"});
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
    return NamedTexts{{"program.csv", core::writeCsv({"key", "value"}, facts)},
                      {"people.csv", core::writePeopleCsv(*trainees)},
                      {"instructors.csv", core::writeInstructorsCsv(*instructors)},
                      {"buses.csv", core::writeBusesCsv(*buses)}};
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

Result<void> exportEach(ProgramFile& file,
                        const std::function<Result<void>(const std::string&, const std::string&)>& sink,
                        const std::function<bool(double)>& progress) {
    Stems rubricNames, limitNames, attemptNames;
    auto rubrics = file.rubrics();
    if (!rubrics) return core::fail(rubrics.error());
    for (const RubricInfo& info : *rubrics) {
        auto text = file.rubricText(info.id, info.edition);
        if (!text) return core::fail(text.error());
        const std::string stem = rubricNames.of(info.id + "-" + std::to_string(info.edition));
        if (auto done = sink("rubrics/" + stem + ".rubric.yaml", *text); !done) return done;
    }
    auto sets = file.limitSets();
    if (!sets) return core::fail(sets.error());
    for (const core::LimitSet& set : *sets) {
        auto text = file.limitSetText(set.id);
        if (!text) return core::fail(text.error());
        if (auto done = sink("limits/" + limitNames.of(set.id) + ".limits.yaml", *text); !done) return done;
    }
    const auto tables = tableDocuments(file);
    if (!tables) return core::fail(tables.error());
    for (const auto& [name, text] : *tables)
        if (auto done = sink(name, text); !done) return done;
    auto infos = file.attempts();
    if (!infos) return core::fail(infos.error());
    for (std::size_t i = 0; i < infos->size(); ++i) {
        if (progress && !progress(static_cast<double>(i) / static_cast<double>(infos->size())))
            return core::fail(ErrorKind::Usage, {});
        auto attempt = file.attempt((*infos)[i].id);
        if (!attempt) return core::fail(attempt.error());
        const std::string stem = attemptNames.of((*infos)[i].id);
        if (auto done = sink("attempts/" + stem + ".attempt.jsonl", core::writeAttempt(*attempt)); !done)
            return done;
    }
    const auto records = recordDocuments(file);
    if (!records) return core::fail(records.error());
    for (const auto& [name, text] : *records)
        if (auto done = sink(name, text); !done) return done;
    return {};
}

Result<int> exportTo(ProgramFile& file, const std::filesystem::path& dir,
                     const std::function<bool(double)>& progress) {
    auto folder = core::NewFolder::begin(dir);
    if (!folder) return core::fail(folder.error());
    for (const char* name : {"rubrics", "limits", "attempts"}) {
        const std::filesystem::path sub = folder->path() / name;
        std::error_code ec;
        std::filesystem::create_directory(sub, ec);
        if (ec) return core::fail(ErrorKind::Machine, "cannot make folder " + sub.string(), ec.message());
    }
    int count = 0;
    const auto done = exportEach(
        file,
        [&](const std::string& name, const std::string& text) {
            ++count;
            return core::writeWhole(folder->path() / name, text);
        },
        progress);
    if (!done) return core::fail(done.error());
    if (auto published = folder->publish(); !published) return core::fail(published.error());
    return count;
}

}  // namespace markerlamp::db
