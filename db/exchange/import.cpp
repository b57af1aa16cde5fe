// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/attempt/attempt_document.h"
#include "core/base/csv.h"
#include "core/base/files.h"
#include "core/base/text.h"
#include "core/people/outcomes.h"
#include "core/people/people.h"
#include "db/exchange/document_kind.h"
#include "db/exchange/exchange.h"
#include "db/exchange/names.h"

#include <algorithm>
#include <map>
#include <set>

namespace markerlamp::db {

using core::ErrorKind;
using core::Result;

namespace {

using Item = ImportReport::Item;
using Outcome = ImportReport::Outcome;
using Kind = DocumentKind;

constexpr std::size_t kAttemptsInOneCommit = 200;

struct Document {
    Kind kind = Kind::Unknown;
    std::filesystem::path path;
};

Result<std::string> contentOf(const std::filesystem::path& path) {
    auto text = core::readDocument(path, kLargestDocument);
    if (text && text->size() > kLargestDocument)
        return core::fail(ErrorKind::Refused, path.string() + " is too large for a document of this program");
    return text;
}

/// Folders become their documents, by path; what is no document of ours in a folder is passed over.
Result<std::vector<Document>> documentsOf(const std::vector<std::filesystem::path>& paths) {
    std::vector<Document> documents;
    for (const std::filesystem::path& path : paths) {
        std::error_code ec;
        if (!std::filesystem::exists(path, ec)) {
            if (ec) return core::fail(ErrorKind::Machine, path.string() + " cannot be read: " + ec.message());
            return core::fail(ErrorKind::NotFound, "there is no file or folder " + path.string());
        }
        if (!std::filesystem::is_directory(path, ec)) {
            documents.push_back({kindOf(path), path});
            continue;
        }
        std::vector<std::filesystem::path> found;
        for (std::filesystem::recursive_directory_iterator it(path, ec), end; !ec && it != end;
             it.increment(ec))
            if (it->is_regular_file() && kindOf(it->path()) != Kind::Unknown) found.push_back(it->path());
        if (ec) return core::fail(ErrorKind::Machine, "cannot read folder " + path.string(), ec.message());
        std::ranges::sort(found);
        for (const auto& file : found) documents.push_back({kindOf(file), file});
    }
    std::ranges::stable_sort(documents, {}, &Document::kind);
    return documents;
}

class Importer {
public:
    explicit Importer(ProgramFile& file) : m_file(file) {}

    Result<void> take(const Document& document, ImportReport& report) {
        if (document.kind == Kind::Unknown) return take(document.kind, document.path, {}, report);
        return take(document.kind, document.path, contentOf(document.path), report);
    }
    Result<void> take(Kind kind, const std::filesystem::path& path, const Result<std::string>& text,
                      ImportReport& report) {
        Item item;
        item.file = path.string();
        item.kind = wordOf(kind);
        if (kind == Kind::Unknown) {
            item.outcome = Outcome::Refused;
            item.error.message = "what " + item.file + " is cannot be told from its name";
            item.error.problems.push_back({item.file,
                                           0,
                                           {},
                                           path.filename().string(),
                                           "the name is not known",
                                           std::string(kNamesOfDocuments)});
            report.items.push_back(std::move(item));
            return {};
        }
        Result<Outcome> done =
            text ? m_transaction(kind, *text, item) : Result<Outcome>(core::fail(text.error()));
        if (done) {
            item.outcome = *done;
        } else {
            // A failing disk ends the import; everything else is this document's own affair.
            if (done.error().kind == ErrorKind::Busy || (text && done.error().kind == ErrorKind::Machine))
                return core::fail(done.error());
            item.outcome = Outcome::Refused;
            item.error = done.error();
            item.changes.clear();
        }
        report.items.push_back(std::move(item));
        return {};
    }

    /// Facts that can only be carried out when the attempts are there.
    Result<void> finish() {
        for (const std::string& id : m_setAside)
            if (auto known = m_file.attemptInfo(id); known && *known)
                if (auto done = m_file.setAside(id); !done) return done;
        return {};
    }

private:
    Result<Outcome> m_transaction(Kind kind, const std::string& text, Item& item) {
        Outcome outcome = Outcome::Added;
        auto done = m_file.transaction([&]() -> Result<void> {
            auto taken = takeText(kind, text, item);
            if (!taken) return core::fail(taken.error());
            outcome = *taken;
            return {};
        });
        if (!done) return core::fail(done.error());
        return outcome;
    }

    static Result<Outcome> fromAdded(const Result<Added>& added) {
        if (!added) return core::fail(added.error());
        return *added == Added::New ? Outcome::Added : Outcome::AlreadyThere;
    }

    Result<Outcome> takeText(Kind kind, const std::string& text, Item& item) {
        switch (kind) {
            case Kind::Rubric: {
                if (auto rubric = core::readRubric(text, item.file))
                    item.id = rubric->id + ", edition " + std::to_string(rubric->edition);
                return fromAdded(m_file.addRubric(text, item.file));
            }
            case Kind::LimitSet: {
                if (auto set = core::readLimitSet(text, item.file)) item.id = set->id;
                return fromAdded(m_file.addLimitSet(text, item.file));
            }
            case Kind::Attempt: {
                auto attempt = core::readAttempt(text, item.file);
                if (!attempt) return core::fail(attempt.error());
                item.id = attempt->header.id;
                auto added = m_file.addAttempt(*attempt);
                if (!added) {
                    core::Error error = added.error();
                    for (core::Problem& problem : error.problems) problem.file = item.file;
                    return core::fail(std::move(error));
                }
                return fromAdded(added);
            }
            case Kind::People:
                return table(
                    m_file.trainees(),
                    [&](const auto& known) { return core::readPeopleCsv(text, item.file, known); },
                    &core::Trainee::name, item,
                    [&](const core::Trainee& entry) { return m_file.saveTrainee(entry); });
            case Kind::Instructors:
                return table(
                    m_file.instructors(),
                    [&](const auto& known) { return core::readInstructorsCsv(text, item.file, known); },
                    &core::Instructor::name, item,
                    [&](const core::Instructor& entry) { return m_file.saveInstructor(entry); });
            case Kind::Buses:
                return table(
                    m_file.buses(),
                    [&](const auto& known) { return core::readBusesCsv(text, item.file, known); },
                    &core::Bus::title, item, [&](const core::Bus& entry) { return m_file.saveBus(entry); });
            case Kind::Program:
                return facts(text, item);
            case Kind::Forecasts:
                return records(
                    core::readForecasts(text, item.file), item,
                    [&](const core::FrozenForecast& record) { return m_file.addForecast(record); });
            case Kind::Overrides:
                return records(core::readOverrides(text, item.file), item,
                               [&](const core::Override& record) { return m_file.addOverride(record); });
            case Kind::Tests:
                return records(core::readTestResults(text, item.file), item,
                               [&](const core::TestResult& record) { return m_file.addTestResult(record); });
            case Kind::Strikes:
                return records(
                    core::readStruckResults(text, item.file), item,
                    [&](const core::StruckResult& record) { return m_file.addStruckResult(record); });
            case Kind::Outcomes:
                return outcomes(text, item);
            case Kind::Hours:
                return records(core::readClockHours(text, item.file), item,
                               [&](const core::ClockHours& record) { return m_file.addClockHours(record); });
            case Kind::Bookings:
                return records(core::readBookedTests(text, item.file), item,
                               [&](const core::BookedTest& record) { return m_file.addBookedTest(record); });
            case Kind::Absences:
                return records(core::readAbsences(text, item.file), item,
                               [&](const core::Absence& record) { return m_file.addAbsence(record); });
            case Kind::Settlements:
                return records(core::readSettlements(text, item.file), item,
                               [&](const core::Settlement& record) { return m_file.addSettlement(record); });
            case Kind::Sheets:
                return records(
                    core::readSheetRecords(text, item.file), item,
                    [&](const core::SheetRecord& record) { return m_file.addSheetRecord(record); });
            case Kind::Licences:
                return entries(
                    m_file.licences(),
                    [&](const auto& known) { return core::readLicencesCsv(text, item.file, known); }, item,
                    [&](const core::Licence& entry) { return m_file.saveLicence(entry); });
            case Kind::Training:
                return entries(
                    m_file.courses(),
                    [&](const auto& known) { return core::readTrainingCsv(text, item.file, known); }, item,
                    [&](const core::Course& entry) { return m_file.saveCourse(entry); });
            case Kind::Unknown:
                break;
        }
        return core::fail(ErrorKind::Refused, "the document is not known");
    }

    /// Saves the rows that are new or differ. known: what the file has; read: the reader of the table; title:
    /// the member that carries the key until somebody completes an entry that an attempt made.
    template <class Entry, class Read, class Save>
    static Result<Outcome> table(const Result<std::vector<Entry>>& known, Read read,
                                 std::string Entry::*title, Item& item, Save store) {
        if (!known) return core::fail(known.error());
        const Result<std::vector<Entry>> rows = read(*known);
        if (!rows) return core::fail(rows.error());
        item.id = std::to_string(rows->size()) + (rows->size() == 1 ? " row" : " rows");
        std::map<std::string_view, const Entry*> byKey;
        for (const Entry& entry : *known) byKey.emplace(entry.key, &entry);
        bool added = false, changed = false;
        for (Entry row : *rows) {
            const auto found = byKey.find(row.key);
            const Entry* old = found == byKey.end() ? nullptr : found->second;
            Entry bare;
            bare.key = bare.*title = row.key;
            row.toComplete = false;
            row.toComplete = row == bare && (!old || old->toComplete);
            if (old && *old == row) continue;
            if (old) item.changes.push_back({row.key, core::changesBetween(*old, row)});
            (old ? changed : added) = true;
            if (auto done = store(row); !done) return core::fail(done.error());
        }
        return changed ? Outcome::Changed : added ? Outcome::Added : Outcome::AlreadyThere;
    }

    /// As table(), for what is kept of a trainee in a table of its own.
    template <class Entry, class Read, class Save>
    static Result<Outcome> entries(const Result<std::vector<Entry>>& known, Read read, Item& item,
                                   Save store) {
        if (!known) return core::fail(known.error());
        const Result<std::vector<Entry>> rows = read(*known);
        if (!rows) return core::fail(rows.error());
        item.id = std::to_string(rows->size()) + (rows->size() == 1 ? " row" : " rows");
        bool added = false, changed = false;
        for (const Entry& row : *rows) {
            Entry old;
            old.trainee = row.trainee;
            const auto found = std::ranges::find(*known, row.trainee, &Entry::trainee);
            if (found != known->end()) old = *found;
            if (old == row) continue;
            if (found != known->end()) item.changes.push_back({row.trainee, core::changesBetween(old, row)});
            (found != known->end() ? changed : added) = true;
            if (auto done = store(row); !done) return core::fail(done.error());
        }
        return changed ? Outcome::Changed : added ? Outcome::Added : Outcome::AlreadyThere;
    }

    /// Results that are on file already, struck ones too, are passed over.
    Result<Outcome> outcomes(const std::string& text, Item& item) {
        const auto trainees = m_file.trainees();
        if (!trainees) return core::fail(trainees.error());
        const auto stored = m_file.allTestResults();
        if (!stored) return core::fail(stored.error());
        const auto table = core::readOutcomesCsv(text, item.file, *trainees, *stored);
        if (!table) return core::fail(table.error());
        item.id = core::counted(table->rows, "row");
        for (const core::TestResult& result : table->results)
            if (auto done = m_file.addTestResult(result); !done) return core::fail(done.error());
        return table->results.empty() ? Outcome::AlreadyThere : Outcome::Added;
    }

    /// Records that never change: new ones are added, one that differs from the file's refuses them all.
    template <class Record, class Add>
    static Result<Outcome> records(const Result<std::vector<Record>>& read, Item& item, Add add) {
        if (!read) return core::fail(read.error());
        item.id = std::to_string(read->size()) + (read->size() == 1 ? " record" : " records");
        bool added = false;
        for (const Record& record : *read) {
            const Result<Added> done = add(record);
            if (!done) {
                core::Error error = done.error();
                if (error.kind == ErrorKind::Refused || error.kind == ErrorKind::Conflict) {
                    error.problems.push_back({item.file, 0, "id", record.id, error.message,
                                              "leave the record out, or correct it where it was made"});
                    error.message = "the document is refused";
                }
                return core::fail(std::move(error));
            }
            added |= *done == Added::New;
        }
        return added ? Outcome::Added : Outcome::AlreadyThere;
    }

    Result<Outcome> facts(const std::string& text, Item& item) {
        auto table = core::readCsv(text, item.file);
        if (!table) return core::fail(table.error());
        if (table->header != std::vector<std::string>{"key", "value"})
            return core::fail(
                "the table is refused",
                {{item.file, 1, {}, {}, "the columns are not key,value", "write the header key,value"}});
        item.id = std::to_string(table->rows.size()) + (table->rows.size() == 1 ? " fact" : " facts");
        bool changed = false;
        for (std::size_t i = 0; i < table->rows.size(); ++i) {
            const std::string& key = table->rows[i][0];
            if (key.starts_with(kSetAsideFact)) {
                m_setAside.push_back(key.substr(kSetAsideFact.size()));
                continue;
            }
            if (!isExchangedFact(key))
                return core::fail("the table is refused", {{item.file, table->lines[i], "key", key,
                                                            "fact \"" + key + "\" is not one of a program",
                                                            "use keys that begin with program."}});
            auto old = m_file.fact(key);
            if (!old) return core::fail(old.error());
            if (*old == table->rows[i][1]) continue;
            changed = true;
            if (*old) item.changes.push_back({key, {{"value", false, {}, {}}}});
            if (auto done = m_file.setFact(key, table->rows[i][1]); !done) return core::fail(done.error());
        }
        return changed ? Outcome::Changed : Outcome::AlreadyThere;
    }

    ProgramFile& m_file;
    std::vector<std::string> m_setAside;
};

template <class Entries>
std::set<std::string> incomplete(const Entries& entries, const std::string& what) {
    std::set<std::string> keys;
    if (entries)
        for (const auto& entry : *entries)
            if (entry.toComplete) keys.insert(what + " " + entry.key);
    return keys;
}

std::set<std::string> allIncomplete(ProgramFile& file) {
    std::set<std::string> all = incomplete(file.trainees(), "trainee");
    all.merge(incomplete(file.instructors(), "instructor"));
    all.merge(incomplete(file.buses(), "bus"));
    return all;
}

}  // namespace

int ImportReport::count(Outcome outcome) const {
    return static_cast<int>(std::ranges::count(items, outcome, &Item::outcome));
}

std::string toText(const ImportReport::EntryChange& change) {
    const auto shown = [](const std::string& value) { return value.empty() ? "(empty)" : value; };
    std::string text;
    for (const core::ColumnChange& column : change.columns) {
        text += (text.empty() ? "" : ", ") + column.column;
        if (column.told) text += " " + shown(column.from) + " -> " + shown(column.to);
    }
    // No column: only the mark that the entry is to be completed was taken off.
    return change.key + ": " + (text.empty() ? "complete" : text);
}

namespace {

/// Takes documents in groups that are committed together, each document whole or not at all by a savepoint of
/// its own. `takeNext` takes the next one, and says whether there was one.
Result<ImportReport> inGroups(ProgramFile& file, std::size_t count,
                              const std::function<bool(double)>& progress,
                              const std::function<Result<bool>(Importer&, ImportReport&)>& takeNext) {
    const std::set<std::string> before = allIncomplete(file);
    ImportReport report;
    Importer importer(file);
    for (bool more = true; more;) {
        const std::size_t had = report.items.size();
        const auto done = file.transaction([&]() -> Result<void> {
            while (more && report.items.size() < had + kAttemptsInOneCommit) {
                const auto taken = takeNext(importer, report);
                if (!taken) return core::fail(taken.error());
                more = *taken;
            }
            return {};
        });
        if (!done) {
            core::Error error = done.error();
            error.message += "; " + std::to_string(had) + " documents before that are in the file";
            return core::fail(std::move(error));
        }
        const double all = static_cast<double>(std::max(count, report.items.size()));
        if (progress && all > 0 && !progress(static_cast<double>(report.items.size()) / all)) break;
    }
    if (auto done = importer.finish(); !done) return core::fail(done.error());
    for (const std::string& entry : allIncomplete(file))
        if (!before.contains(entry)) report.toComplete.push_back(entry);
    return report;
}

}  // namespace

Result<ImportReport> importPaths(ProgramFile& file, const std::vector<std::filesystem::path>& paths,
                                 const std::function<bool(double)>& progress) {
    auto documents = documentsOf(paths);
    if (!documents) return core::fail(documents.error());
    std::size_t at = 0;
    return inGroups(file, documents->size(), progress,
                    [&](Importer& importer, ImportReport& report) -> Result<bool> {
                        if (at == documents->size()) return false;
                        if (auto taken = importer.take((*documents)[at++], report); !taken)
                            return core::fail(taken.error());
                        return at < documents->size();
                    });
}

Result<ImportReport> importEach(ProgramFile& file, std::size_t count,
                                const std::function<Result<std::optional<NamedDocument>>()>& next,
                                const std::function<bool(double)>& progress) {
    return inGroups(file, count, progress, [&](Importer& importer, ImportReport& report) -> Result<bool> {
        auto document = next();
        if (!document) return core::fail(document.error());
        if (!*document) return false;
        const std::filesystem::path name = (*document)->name;
        if (auto taken = importer.take(kindOf(name), name, std::move((*document)->text), report); !taken)
            return core::fail(taken.error());
        return true;
    });
}

}  // namespace markerlamp::db
