// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/salvage/salvage.h"

#include "core/attempt/attempt_document.h"
#include "core/base/files.h"
#include "core/rubric/rubric_reader.h"
#include "db/copies/copies.h"
#include "db/copies/sound_copy.h"
#include "db/program_file.h"
#include "db/salvage/raw_program.h"
#include "db/schema/migrator.h"
#include "db/sqlite/failure.h"
#include "db/store/attempt_store.h"

#include <algorithm>
#include <array>
#include <set>

namespace markerlamp::db {

using core::ErrorKind;
using core::Result;

namespace {

// What attempts name, and what has a way of its own; all other tables follow.
constexpr std::array kBefore{"fact", "trainee", "instructor", "bus", "limit_set"};
constexpr std::array kOwnWay{"word", "rubric", "attempt", "event"};

std::string textOf(const RawValues& values, std::size_t place) {
    const auto* text = place < values.size() ? std::get_if<std::string>(&values[place]) : nullptr;
    return text != nullptr ? *text : std::string();
}
std::int64_t numberOf(const RawValues& values, std::size_t place) {
    const auto* number = place < values.size() ? std::get_if<std::int64_t>(&values[place]) : nullptr;
    return number != nullptr ? *number : 0;
}

class Salvage {
public:
    Salvage(Connection& target, const RawProgram& program, const std::filesystem::path& damaged,
            const std::vector<std::string>& rubrics)
        : m_target(target), m_program(program), m_damaged(damaged), m_documents(rubrics) {}

    Result<SalvageReport> run() {
        m_report.guessed = m_program.guessed;
        m_report.strays = m_program.strays;
        for (const auto& [name, table] : m_program.tables)
            m_tables[name] = {name,
                              static_cast<int>(std::ranges::count(table.tree.rows, false, &RawRow::cut)), 0,
                              table.tree.pagesLost, table.indexed};
        auto done = m_target.transaction([&]() -> Result<void> {
            for (const char* name : kBefore) writeTable(name);
            writeWords();
            writeRubrics();
            writeAttempts();
            for (const auto& [name, table] : m_program.tables)
                if (std::ranges::find(kBefore, name) == kBefore.end() &&
                    std::ranges::find(kOwnWay, name) == kOwnWay.end())
                    writeTable(name);
            return sealAnew();
        });
        if (!done) return core::fail(done.error());
        for (auto& [name, table] : m_tables) m_report.tables.push_back(table);
        return std::move(m_report);
    }

private:
    /// What was read out is another file than the one that was sealed: its trail says so and goes on.
    Result<void> sealAnew() {
        TrailStore trail(m_target);
        PeopleStore people(m_target, trail);
        RubricStore rubrics(m_target, trail);
        AttemptStore attempts(m_target, trail, rubrics, people);
        if (auto told = trail.add({core::kFileSalvaged, {}, m_damaged.filename().string(), "{}", {}}); !told)
            return told;
        return attempts.tellAllOf({}, core::kAttemptSalvaged);
    }

    /// True when the record is in the new file now. One that breaks a rule of the file is not taken.
    bool put(const std::string& table, const std::vector<std::string>& columns, const RawRow& row) {
        if (row.cut || row.values.size() != columns.size()) return false;
        std::string names, marks;
        for (const std::string& column : columns) {
            names += (names.empty() ? "\"" : ", \"") + column + "\"";
            marks += marks.empty() ? "?" : ", ?";
        }
        const std::string sql = "INSERT INTO " + table + " (" + names + ") VALUES (" + marks + ")";
        return guarded("",
                       [&]() -> Result<void> {
                           Query query(m_statements.try_emplace(sql, m_target.database(), sql).first->second);
                           for (std::size_t i = 0; i < row.values.size(); ++i) {
                               const int place = static_cast<int>(i) + 1;
                               if (const auto* whole = std::get_if<std::int64_t>(&row.values[i]))
                                   query->bind(place, static_cast<int64_t>(*whole));
                               else if (const auto* real = std::get_if<double>(&row.values[i]))
                                   query->bind(place, *real);
                               else if (const auto* text = std::get_if<std::string>(&row.values[i]))
                                   query->bind(place, *text);
                           }
                           query->exec();
                           return {};
                       })
            .has_value();
    }

    void writeTable(const std::string& name) {
        const RawTable& table = m_program.tables.at(name);
        // A record may name one that follows it: again and again while any goes in.
        // A key that is the row's number stands outside the record.
        std::vector<RawRow> rows = table.tree.rows;
        for (RawRow& row : rows)
            if (!row.values.empty() && std::holds_alternative<std::monostate>(row.values.front()))
                row.values.front() = row.rowid;
        std::vector<const RawRow*> waiting;
        for (const RawRow& row : rows) waiting.push_back(&row);
        for (std::size_t before = 0; before != waiting.size();) {
            before = waiting.size();
            std::erase_if(waiting, [&](const RawRow* row) {
                const bool in = put(name, table.columns, *row);
                m_tables[name].written += in ? 1 : 0;
                return in;
            });
        }
    }

    void writeWords() {
        for (const auto& [number, text] : m_program.words)
            m_tables["word"].written += put("word", {"number", "text"}, {0, {number, text}, false}) ? 1 : 0;
        // The second place where words stand may have more than the first.
        m_tables["word"].read = std::max(m_tables["word"].read, m_tables["word"].written);
    }

    bool putRubric(std::int64_t number, const std::string& text) {
        const auto rubric = core::readRubric(text);
        if (!rubric) return false;
        return put("rubric", {"number", "id", "edition", "title", "text"},
                   {number, {number, rubric->id, std::int64_t{rubric->edition}, rubric->title, text}, false});
    }

    void writeRubrics() {
        const RawTree& tree = m_program.tables.at("rubric").tree;
        std::map<std::int64_t, RawValues> lost;
        for (const RawRow& row : tree.rows) {
            if (!row.cut && putRubric(row.rowid, textOf(row.values, 4))) {
                ++m_tables["rubric"].written;
                m_rubrics.insert(row.rowid);
            } else {
                lost[row.rowid] = row.values;
            }
        }
        for (const RawRow& row : m_program.tables.at("attempt").tree.rows) {
            const std::int64_t number = numberOf(row.values, 2);
            if (number > 0 && !m_rubrics.contains(number)) lost.emplace(number, RawValues{});
        }
        for (const auto& [number, known] : lost) findRubric(number, textOf(known, 1), numberOf(known, 2));
    }

    /// A lost rubric from the documents at hand, or from a copy of the file, where it has the same number.
    void findRubric(std::int64_t number, const std::string& id, std::int64_t edition) {
        const auto takes = [&](const std::string& text) {
            const auto rubric = core::readRubric(text);
            if (!rubric || (!id.empty() && (rubric->id != id || rubric->edition != edition)) ||
                !putRubric(number, text))
                return false;
            m_rubrics.insert(number);
            m_report.rubrics.push_back(rubric->id + ", edition " + std::to_string(rubric->edition));
            return true;
        };
        if (!id.empty())
            for (const std::string& document : m_documents)
                if (takes(document)) return;
        for (const CopyFile& copy : copiesOf(m_damaged)) {
            const auto text = rubricOf(copy.path, number);
            if (text && takes(*text)) return;
        }
    }

    static Result<std::string> rubricOf(const std::filesystem::path& copy, std::int64_t number) {
        return guarded("", [&]() -> Result<std::string> {
            auto connection = Connection::open(copy, Access::ReadOnly);
            if (!connection) return core::fail(connection.error());
            if (auto ours = identify(**connection, copy); !ours) return core::fail(ours.error());
            Query query = (*connection)->query("SELECT text FROM rubric WHERE number = ?");
            query->bind(1, static_cast<int64_t>(number));
            if (!query->executeStep()) return core::fail(ErrorKind::NotFound, "");
            return db::textOf(*query, 0);
        });
    }

    /// An entry to be completed for a key that an attempt names.
    void ensure(const std::string& table, const std::string& key, std::vector<std::string>& fresh) {
        if (key.empty()) return;
        const auto made = guarded("", [&]() -> Result<bool> {
            SQLite::Statement known(m_target.database(), "SELECT 1 FROM " + table + " WHERE key = ?");
            known.bind(1, key);
            if (known.executeStep()) return false;
            const std::string sql =
                table == "trainee" ? "INSERT INTO trainee (key, name, started, permit_issued, "
                                     "permit_expires, medical_expires, "
                                     "theory_date, \"group\", note, to_complete) VALUES (?1, ?1, '', '', '', "
                                     "'', '', '', '', 1)"
                : table == "bus"
                    ? "INSERT INTO bus (key, title, equipment, limits, note, to_complete) VALUES "
                      "(?1, ?1, '[]', '{}', '', 1)"
                    : "INSERT INTO instructor (key, name, to_complete) VALUES (?1, ?1, 1)";
            SQLite::Statement insert(m_target.database(), sql);
            insert.bind(1, key);
            insert.exec();
            return true;
        });
        if (made && *made) fresh.push_back(table + " " + key);
    }

    void writeAttempts() {
        const RawTable& attempts = m_program.tables.at("attempt");
        const RawTable& events = m_program.tables.at("event");
        std::map<std::int64_t, std::vector<const RawRow*>> ofAttempt;
        for (const RawRow& row : events.tree.rows)
            if (!row.cut) ofAttempt[numberOf(row.values, 0)].push_back(&row);
        TrailStore trail(m_target);
        PeopleStore people(m_target, trail);
        RubricStore rubrics(m_target, trail);
        AttemptStore store(m_target, trail, rubrics, people);
        (void)store.prepareProjection();
        for (const RawRow& row : attempts.tree.rows) {
            RawRow header = row;
            if (header.cut || header.values.size() != attempts.columns.size()) continue;
            header.values[0] = header.rowid;
            const std::string id = textOf(header.values, 1);
            const auto own = ofAttempt.extract(header.rowid);
            if (!m_rubrics.contains(numberOf(header.values, 2))) {
                m_report.left.push_back(id);
                continue;
            }
            writeAttempt(store, rubrics, header, own.empty() ? std::vector<const RawRow*>{} : own.mapped());
        }
        m_report.nameless = static_cast<int>(ofAttempt.size());
        std::ranges::sort(m_report.complete);
        std::ranges::sort(m_report.cut);
    }

    void writeAttempt(AttemptStore& store, RubricStore& rubrics, const RawRow& header,
                      const std::vector<const RawRow*>& events) {
        const std::string id = textOf(header.values, 1);
        // As many events as the file takes and the rubric knows; what follows one that is missing is left.
        std::size_t most = 0;
        while (most < events.size() &&
               numberOf(events[most]->values, 1) == static_cast<std::int64_t>(most) + 1)
            ++most;
        const std::size_t found = most;
        for (;;) {
            std::size_t taken = 0;
            std::vector<std::string> toComplete;
            const auto tried = m_target.transaction([&]() -> Result<void> {
                ensure("trainee", textOf(header.values, 3), toComplete);
                ensure("instructor", textOf(header.values, 4), toComplete);
                ensure("bus", textOf(header.values, 5), toComplete);
                if (!put("attempt", m_program.tables.at("attempt").columns, header))
                    return core::fail(ErrorKind::Refused, "header");
                while (taken < most && put("event", m_program.tables.at("event").columns, *events[taken]))
                    ++taken;
                const auto attempt = store.attempt(id);
                if (!attempt) return core::fail(attempt.error());
                const auto rubric = rubrics.rubric(attempt->header.rubric, attempt->header.edition);
                if (!rubric) return core::fail(rubric.error());
                if (!core::checkAgainstRubric(*attempt, **rubric).empty())
                    return core::fail(ErrorKind::Refused, "rubric");
                return {};
            });
            if (tried) {
                m_report.toComplete.insert(m_report.toComplete.end(), toComplete.begin(), toComplete.end());
                ++m_tables["attempt"].written;
                m_tables["event"].written += static_cast<int>(taken);
                const auto stray = m_program.strayEvents.find(header.rowid);
                const bool whole = taken == found && found == events.size() &&
                                   (stray == m_program.strayEvents.end() ||
                                    stray->second <= static_cast<std::int64_t>(taken)) &&
                                   !m_program.tables.at("event").tree.mayHaveLost(
                                       {header.rowid, static_cast<std::int64_t>(taken) + 1});
                (whole ? m_report.complete : m_report.cut).push_back(id);
                return;
            }
            if (taken == 0) return;
            most = taken - 1;
        }
    }

    Connection& m_target;
    const RawProgram& m_program;
    const std::filesystem::path& m_damaged;
    const std::vector<std::string>& m_documents;
    SalvageReport m_report;
    std::map<std::string, SalvagedTable> m_tables;
    std::set<std::int64_t> m_rubrics;
    std::map<std::string, SQLite::Statement> m_statements;  ///< by their text
};

Result<SalvageReport> fill(const std::filesystem::path& damaged, const std::filesystem::path& part,
                           const std::vector<std::string>& rubrics) {
    auto target = Connection::open(part, Access::ReadWrite);
    if (!target) return core::fail(target.error());
    if (auto made = initialise(**target); !made) return core::fail(made.error());
    const auto program = readRawProgram(damaged, **target);
    if (!program) return core::fail(program.error());
    auto report = Salvage(**target, *program, damaged, rubrics).run();
    if (!report) return report;
    return guarded("the new file cannot be written", [&]() -> Result<SalvageReport> {
        if (const std::string wrong = unsoundness((*target)->database()); !wrong.empty())
            return core::fail(ErrorKind::Machine, "what was read out does not make a sound file", wrong);
        return std::move(*report);
    });
}

}  // namespace

bool SalvageReport::everything() const {
    return cut.empty() && left.empty() && nameless == 0 && toComplete.empty() && rubrics.empty() &&
           strays == 0 && !guessed && std::ranges::all_of(tables, [](const SalvagedTable& table) {
               return table.pagesLost == 0 && table.read == table.written && table.known <= table.written;
           });
}

Result<SalvageReport> salvage(const std::filesystem::path& damaged, const std::filesystem::path& target,
                              const std::vector<std::string>& rubrics) {
    if (auto there = core::folderIsThere(target); !there) return core::fail(there.error());
    std::error_code ec;
    if (std::filesystem::exists(std::filesystem::symlink_status(target, ec)))
        return core::fail(ErrorKind::Refused, target.string() + " is there already; choose another name");
    const std::filesystem::path part = core::besideName(target, "part");
    if (auto made = core::createPrivateFile(part); !made) return core::fail(made.error());
    auto report = fill(damaged, part, rubrics);
    if (report)
        if (auto published = publishDatabase(part, target); !published)
            report = core::fail(published.error());
    removeDatabase(part);
    return report;
}

}  // namespace markerlamp::db
