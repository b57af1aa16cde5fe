// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/store/attempt_store.h"

#include "core/attempt/attempt_document.h"
#include "core/attempt/marks.h"
#include "core/base/moment.h"
#include "db/schema/schema_check.h"
#include "db/sqlite/failure.h"
#include "db/store/json_columns.h"

#include <algorithm>

namespace markerlamp::db {

using core::ErrorKind;
using core::Result;

namespace {

/// Raised whenever the scoring rules or the columns change what the projection holds.
constexpr int kProjectionVersion = 1;

// The codes of the table event_kind are the places in this list, from 1.
constexpr core::EventKind kKinds[] = {
    core::EventKind::Show,   core::EventKind::Say,       core::EventKind::Partly, core::EventKind::Wrong,
    core::EventKind::Prompt, core::EventKind::Reading,   core::EventKind::Fault,  core::EventKind::Omit,
    core::EventKind::Unseen, core::EventKind::Unreached, core::EventKind::Note,   core::EventKind::Pause,
    core::EventKind::Resume, core::EventKind::Retract,   core::EventKind::End};

int codeOf(core::EventKind kind) {
    return static_cast<int>(std::find(std::begin(kKinds), std::end(kKinds), kind) - std::begin(kKinds)) + 1;
}

constexpr const char* kHeaderColumns =
    "SELECT a.number, a.id, r.id, r.edition, a.trainee, a.instructor, a.bus, a.equipment, a.zones, a.limits, "
    "a.started, a.second_of FROM attempt a JOIN rubric r ON r.number = a.rubric WHERE a.id = ?";

core::AttemptHeader headerOf(const SQLite::Statement& row) {
    core::AttemptHeader header;
    header.id = textOf(row, 1);
    header.rubric = textOf(row, 2);
    header.edition = row.getColumn(3).getInt();
    header.trainee = textOf(row, 4);
    header.instructor = textOf(row, 5);
    header.bus = textOf(row, 6);
    header.equipment = listFromJson(textOf(row, 7));
    header.zones = listFromJson(textOf(row, 8));
    header.limits = limitsFromJson(textOf(row, 9));
    header.started = textOf(row, 10);
    header.of = textOf(row, 11);
    return header;
}

#define MARKERLAMP_INFO_COLUMNS                                                                              \
    "SELECT a.number, a.id, a.trainee, a.instructor, a.bus, r.id, r.edition, a.started, a.second_of, "       \
    "a.set_aside, "                                                                                          \
    "p.ended, p.result, p.percent, p.earned, p.possible, p.shown_percent, p.said_percent, p.order_percent, " \
    "p.seconds, p.steps_scored, p.steps_in_scope, p.amended, p.partial "                                     \
    "FROM attempt a JOIN rubric r ON r.number = a.rubric LEFT JOIN attempt_projection p ON p.attempt = "     \
    "a.number "
constexpr const char* kAll = MARKERLAMP_INFO_COLUMNS "ORDER BY a.started_ms DESC, a.id";
constexpr const char* kOfTrainee =
    MARKERLAMP_INFO_COLUMNS "WHERE a.trainee = ? ORDER BY a.started_ms DESC, a.id";
constexpr const char* kOne = MARKERLAMP_INFO_COLUMNS "WHERE a.id = ?";
#undef MARKERLAMP_INFO_COLUMNS

void readFigures(const SQLite::Statement& row, AttemptInfo& info) {
    info.state = row.getColumn(10).getInt() != 0  ? AttemptState::Ended
                 : row.getColumn(9).getInt() != 0 ? AttemptState::SetAside
                                                  : AttemptState::Open;
    info.result = static_cast<core::AttemptResult>(row.getColumn(11).getInt());
    info.percent = row.getColumn(12).getDouble();
    info.earned = row.getColumn(13).getInt();
    info.possible = row.getColumn(14).getInt();
    info.shownPercent = row.getColumn(15).getDouble();
    info.saidPercent = row.getColumn(16).getDouble();
    info.orderPercent = row.getColumn(17).getDouble();
    info.seconds = row.getColumn(18).getDouble();
    info.stepsScored = row.getColumn(19).getInt();
    info.stepsInScope = row.getColumn(20).getInt();
    info.amended = row.getColumn(21).getInt() != 0;
    info.partial = row.getColumn(22).getInt() != 0;
}

Result<std::int64_t> startOf(const core::AttemptHeader& header) {
    const auto ms = core::millisecondsOf(header.started);
    if (!ms)
        return core::fail(ErrorKind::Refused, "\"" + header.started +
                                                  "\" is not a date and time with its offset; write it like "
                                                  "2026-03-02T06:10:00-05:00");
    return *ms;
}

}  // namespace

Result<void> AttemptStore::prepareProjection() {
    return guarded("the lists cannot be prepared", [&]() -> Result<void> {
        const auto version = m_people.fact("projection.version");
        if (!version) return core::fail(version.error());
        Query made = m_connection.query("SELECT sql FROM sqlite_schema WHERE name = 'attempt_projection'");
        const bool current = *version && **version == std::to_string(kProjectionVersion) &&
                             made->executeStep() && textOf(*made, 0) == kFiguresTable;
        made->reset();
        if (m_connection.readOnly()) {
            // Nothing may be written: an empty table of this connection alone stands in, and figures are
            // computed.
            if (!current)
                m_connection.makeTemporary(
                    "CREATE TEMP TABLE IF NOT EXISTS attempt_projection (attempt INTEGER PRIMARY KEY, ended, "
                    "result, "
                    "percent, earned, possible, shown_percent, said_percent, order_percent, seconds, "
                    "steps_scored, "
                    "steps_in_scope, amended, partial)");
            return {};
        }
        if (current) return {};
        return m_connection.transaction([&]() -> Result<void> {
            m_connection.database().exec("DROP TABLE IF EXISTS attempt_projection");
            m_connection.database().exec(kFiguresTable);
            return m_people.setFact("projection.version", std::to_string(kProjectionVersion));
        });
    });
}

void AttemptStore::forget() {
    m_wordNumbers.clear();
    m_wordTexts.clear();
}

long long AttemptStore::wordNumber(const std::string& word) {
    if (const auto known = m_wordNumbers.find(word); known != m_wordNumbers.end()) return known->second;
    {
        Query insert = m_connection.query("INSERT INTO word (text) VALUES (?) ON CONFLICT DO NOTHING");
        insert->bind(1, word);
        insert->exec();
    }
    Query query = m_connection.query("SELECT number FROM word WHERE text = ?");
    query->bind(1, word);
    query->executeStep();
    const long long number = query->getColumn(0).getInt64();
    m_wordNumbers.emplace(word, number);
    return number;
}

const std::string& AttemptStore::wordText(long long number) {
    if (const auto known = m_wordTexts.find(number); known != m_wordTexts.end()) return known->second;
    Query query = m_connection.query("SELECT text FROM word WHERE number = ?");
    query->bind(1, static_cast<int64_t>(number));
    return m_wordTexts.emplace(number, query->executeStep() ? textOf(*query, 0) : std::string())
        .first->second;
}

Result<std::optional<long long>> AttemptStore::numberOf(const std::string& id) {
    return guarded("the attempt cannot be read", [&]() -> Result<std::optional<long long>> {
        Query query = m_connection.query("SELECT number FROM attempt WHERE id = ?");
        query->bind(1, id);
        if (!query->executeStep()) return std::optional<long long>{};
        return std::optional<long long>(query->getColumn(0).getInt64());
    });
}

void AttemptStore::insertHeader(const core::AttemptHeader& header, long long rubric, std::int64_t startedMs) {
    Query query = m_connection.query(
        "INSERT INTO attempt (id, rubric, trainee, instructor, bus, equipment, zones, limits, started, "
        "started_ms, "
        "second_of) VALUES (?,?,?,?,?,?,?,?,?,?,?)");
    query->bind(1, header.id);
    query->bind(2, static_cast<int64_t>(rubric));
    query->bind(3, header.trainee);
    query->bind(4, header.instructor);
    query->bind(5, header.bus);
    query->bind(6, toJsonText(header.equipment));
    query->bind(7, toJsonText(header.zones));
    query->bind(8, toJsonText(header.limits));
    query->bind(9, header.started);
    query->bind(10, static_cast<int64_t>(startedMs));
    query.bindOrNull(11, header.of);
    query->exec();
}

void AttemptStore::insertEvents(long long number, std::span<const core::Event> events) {
    for (const core::Event& event : events) {
        Query query = m_connection.query(
            "INSERT INTO event (attempt, n, t, kind, step, point, value, low, high, unit, text, retracts, "
            "by_whom, "
            "at_time) VALUES (?,?,?,?,?,?,?,?,?,?,?,?,?,?)");
        const auto word = [&](int index, const std::string& text) {
            if (!text.empty()) query->bind(index, static_cast<int64_t>(wordNumber(text)));
        };
        const auto real = [&](int index, const std::optional<double>& value) {
            if (value) query->bind(index, *value);
        };
        query->bind(1, static_cast<int64_t>(number));
        query->bind(2, event.n);
        query->bind(3, event.t);
        query->bind(4, codeOf(event.kind));
        word(5, event.step);
        word(6, event.point);
        real(7, event.value);
        real(8, event.low);
        real(9, event.high);
        word(10, event.unit);
        query.bindOrNull(11, event.text);
        if (event.retracts > 0) query->bind(12, event.retracts);
        query.bindOrNull(13, event.by);
        query.bindOrNull(14, event.at);
        query->exec();
    }
}

std::vector<core::Event> AttemptStore::readEvents(long long number) {
    Query query = m_connection.query(
        "SELECT n, t, kind, step, point, value, low, high, unit, text, retracts, by_whom, at_time FROM event "
        "WHERE "
        "attempt = ? ORDER BY n");
    query->bind(1, static_cast<int64_t>(number));
    std::vector<core::Event> events;
    const auto word = [&](int column, std::string& into) {
        if (const auto value = query->getColumn(column); !value.isNull()) into = wordText(value.getInt64());
    };
    const auto real = [&](int column, std::optional<double>& into) {
        if (const auto value = query->getColumn(column); !value.isNull()) into = value.getDouble();
    };
    while (query->executeStep()) {
        core::Event& event = events.emplace_back();
        event.n = query->getColumn(0).getInt();
        event.t = query->getColumn(1).getDouble();
        const int code = query->getColumn(2).getInt();
        if (code >= 1 && code <= static_cast<int>(std::size(kKinds))) event.kind = kKinds[code - 1];
        word(3, event.step);
        word(4, event.point);
        real(5, event.value);
        real(6, event.low);
        real(7, event.high);
        word(8, event.unit);
        event.text = textOf(*query, 9);
        if (const auto value = query->getColumn(10); !value.isNull()) event.retracts = value.getInt();
        event.by = textOf(*query, 11);
        event.at = textOf(*query, 12);
    }
    return events;
}

Result<core::Attempt> AttemptStore::attempt(const std::string& id) {
    return guarded("the attempt cannot be read", [&]() -> Result<core::Attempt> {
        core::Attempt attempt;
        long long number = 0;
        {
            Query query = m_connection.query(kHeaderColumns);
            query->bind(1, id);
            if (!query->executeStep())
                return core::fail(ErrorKind::NotFound, "attempt " + id + " is not in the file");
            number = query->getColumn(0).getInt64();
            attempt.header = headerOf(*query);
        }
        attempt.events = readEvents(number);
        return attempt;
    });
}

Result<Added> AttemptStore::add(const core::Attempt& offered) {
    const core::AttemptHeader& header = offered.header;
    auto rubric = m_rubrics.rubric(header.rubric, header.edition);
    if (!rubric) return core::fail(rubric.error());
    if (auto problems = core::checkAgainstRubric(offered, **rubric); !problems.empty())
        return core::fail("the attempt does not fit its rubric", std::move(problems));
    auto known = numberOf(header.id);
    if (!known) return core::fail(known.error());
    if (*known) {
        auto stored = attempt(header.id);
        if (!stored) return core::fail(stored.error());
        if (*stored == offered) return Added::AlreadyThere;
        return core::fail(ErrorKind::Conflict,
                          "another attempt " + header.id +
                              " is in the file and stays as it is; two different attempts "
                              "cannot have one id");
    }
    auto started = startOf(header);
    if (!started) return core::fail(started.error());
    auto rubricNumber = m_rubrics.number(header.rubric, header.edition);
    if (!rubricNumber) return core::fail(rubricNumber.error());
    auto done = m_connection.transaction([&]() -> Result<void> {
        if (auto ensured = m_people.ensureKnown(header); !ensured) return ensured;
        insertHeader(header, *rubricNumber, *started);
        auto number = numberOf(header.id);
        if (!number) return core::fail(number.error());
        insertEvents(**number, offered.events);
        if (core::isEnded(offered))
            if (auto told = m_trail.add({core::kAttemptAdded,
                                         header.trainee,
                                         header.id,
                                         core::wordsOfAttempt(core::writeAttempt(offered), 0),
                                         {}});
                !told)
                return told;
        return project(**number, offered, nullptr);
    });
    if (!done) return core::fail(done.error());
    return Added::New;
}

Result<void> AttemptStore::start(const core::AttemptHeader& header) {
    auto known = numberOf(header.id);
    if (!known) return core::fail(known.error());
    if (*known) {
        auto stored = attempt(header.id);
        if (stored && stored->header == header) return {};  // said again after trouble
        return core::fail(ErrorKind::Conflict, "another attempt " + header.id + " is in the file");
    }
    auto rubric = m_rubrics.rubric(header.rubric, header.edition);
    if (!rubric) return core::fail(rubric.error());
    if (auto problems = core::checkAgainstRubric({header, {}}, **rubric); !problems.empty())
        return core::fail("the attempt does not fit its rubric", std::move(problems));
    auto started = startOf(header);
    if (!started) return core::fail(started.error());
    auto rubricNumber = m_rubrics.number(header.rubric, header.edition);
    if (!rubricNumber) return core::fail(rubricNumber.error());
    return m_connection.transaction([&]() -> Result<void> {
        if (auto ensured = m_people.ensureKnown(header); !ensured) return ensured;
        insertHeader(header, *rubricNumber, *started);
        return {};
    });
}

Result<void> AttemptStore::append(const std::string& id, std::span<const core::Event> events) {
    if (events.empty()) return {};
    return m_connection.transaction([&]() -> Result<void> {
        auto number = numberOf(id);
        if (!number) return core::fail(number.error());
        if (!*number) return core::fail(ErrorKind::NotFound, "attempt " + id + " is not in the file");
        insertEvents(**number, events);
        {
            Query query = m_connection.query("DELETE FROM attempt_projection WHERE attempt = ?");
            query->bind(1, static_cast<int64_t>(**number));
            query->exec();
        }
        const auto amended =
            std::ranges::count_if(events, [](const core::Event& event) { return !event.by.empty(); });
        if (std::ranges::any_of(events,
                                [](const core::Event& event) { return event.kind == core::EventKind::End; }))
            return tell(core::kAttemptEnded, id, static_cast<std::size_t>(amended), std::nullopt);
        if (amended == 0) return {};
        return tell(core::kAttemptAmended, id, events.size(), events.back().by);
    });
}

Result<void> AttemptStore::tell(std::string_view what, const std::string& id, std::size_t added,
                                const std::optional<std::string>& by) {
    const auto whole = attempt(id);
    if (!whole) return core::fail(whole.error());
    return m_trail.add({what, whole->header.trainee, id,
                        core::wordsOfAttempt(core::writeAttempt(*whole), added),
                        by.value_or(whole->header.instructor)});
}

Result<void> AttemptStore::tellAllOf(const std::optional<std::string>& trainee, std::string_view what) {
    std::vector<std::string> ids;
    {
        Query query = m_connection.query(
            "SELECT id FROM attempt a WHERE (?1 IS NULL OR trainee = ?1) AND EXISTS (SELECT 1 FROM event e "
            "WHERE e.attempt = "
            "a.number AND e.kind = 15) ORDER BY number");
        if (trainee) query->bind(1, *trainee);  // else NULL: all
        while (query->executeStep()) ids.push_back(textOf(*query, 0));
    }
    for (const std::string& id : ids)
        if (auto told = tell(what, id, 0, std::string()); !told) return told;
    return {};
}

Result<void> AttemptStore::setAside(const std::string& id, bool aside) {
    return guarded("the attempt cannot be set aside", [&]() -> Result<void> {
        return m_connection.transaction([&]() -> Result<void> {
            auto number = numberOf(id);
            if (!number) return core::fail(number.error());
            if (!*number) return core::fail(ErrorKind::NotFound, "attempt " + id + " is not in the file");
            Query query =
                m_connection.query("UPDATE attempt SET set_aside = ?1 WHERE id = ?2 AND set_aside <> ?1");
            query->bind(1, aside ? 1 : 0);
            query->bind(2, id);
            if (query->exec() == 0) return {};
            return m_trail.add({aside ? core::kAttemptSetAside : core::kAttemptTakenUp,
                                m_people.traineeOfAttempt(id),
                                id,
                                "{}",
                                {}});
        });
    });
}

/// The figures that lists show, from the events.
Result<void> AttemptStore::figure(const core::Attempt& attempt, AttemptInfo& into) {
    auto scorer = m_rubrics.scorer(attempt.header.rubric, attempt.header.edition);
    if (!scorer) return core::fail(scorer.error());
    const core::Scorecard card = (*scorer)->score(attempt);
    const std::vector<core::StepMarks> marks = core::foldMarks((*scorer)->rubric(), attempt);
    into.result = card.result;
    into.percent = card.percent;
    into.earned = card.earned;
    into.possible = card.possible;
    into.shownPercent = card.shownPercent;
    into.saidPercent = card.saidPercent;
    into.orderPercent = card.orderPercent;
    into.seconds = card.seconds;
    into.stepsScored =
        static_cast<int>(std::ranges::count_if(marks, [](const core::StepMarks& m) { return !m.open(); }));
    into.stepsInScope = static_cast<int>(card.steps.size());
    into.amended =
        std::ranges::any_of(attempt.events, [](const core::Event& event) { return !event.by.empty(); });
    into.partial = attempt.header.zones.size() < (*scorer)->rubric().zones.size();
    if (core::isEnded(attempt)) into.state = AttemptState::Ended;
    return {};
}

Result<void> AttemptStore::project(long long number, const core::Attempt& attempt, AttemptInfo* into) {
    AttemptInfo own;
    AttemptInfo& info = into != nullptr ? *into : own;
    if (auto done = figure(attempt, info); !done) return done;
    if (m_connection.readOnly()) return {};
    return guarded("the figures of the attempt cannot be stored", [&]() -> Result<void> {
        Query query = m_connection.query(
            "INSERT OR REPLACE INTO attempt_projection (attempt, ended, result, percent, earned, possible, "
            "shown_percent, said_percent, order_percent, seconds, steps_scored, steps_in_scope, amended, "
            "partial) "
            "VALUES (?,?,?,?,?,?,?,?,?,?,?,?,?,?)");
        query->bind(1, static_cast<int64_t>(number));
        query->bind(2, info.state == AttemptState::Ended ? 1 : 0);
        query->bind(3, static_cast<int>(info.result));
        query->bind(4, info.percent);
        query->bind(5, info.earned);
        query->bind(6, info.possible);
        query->bind(7, info.shownPercent);
        query->bind(8, info.saidPercent);
        query->bind(9, info.orderPercent);
        query->bind(10, info.seconds);
        query->bind(11, info.stepsScored);
        query->bind(12, info.stepsInScope);
        query->bind(13, info.amended ? 1 : 0);
        query->bind(14, info.partial ? 1 : 0);
        query->exec();
        return {};
    });
}

Result<std::vector<std::string>> AttemptStore::wrongFigures() {
    auto stored = list({});
    if (!stored) return core::fail(stored.error());
    std::vector<std::string> wrong;
    for (const AttemptInfo& info : *stored) {
        auto events = attempt(info.id);
        if (!events) return core::fail(events.error());
        AttemptInfo again = info;
        if (again.state == AttemptState::Ended) again.state = AttemptState::Open;
        if (auto done = figure(*events, again); !done) return core::fail(done.error());
        if (again != info) wrong.push_back(info.id);
    }
    return wrong;
}

Result<std::vector<AttemptInfo>> AttemptStore::query(const char* sql, const std::string& argument) {
    std::vector<AttemptInfo> list;
    std::vector<std::pair<std::size_t, long long>> missing;
    auto read = guarded("the attempts cannot be read", [&]() -> Result<void> {
        Query rows = m_connection.query(sql);
        if (sql != kAll) rows->bind(1, argument);
        while (rows->executeStep()) {
            AttemptInfo& info = list.emplace_back();
            info.id = textOf(*rows, 1);
            info.trainee = textOf(*rows, 2);
            info.instructor = textOf(*rows, 3);
            info.bus = textOf(*rows, 4);
            info.rubric = textOf(*rows, 5);
            info.edition = rows->getColumn(6).getInt();
            info.started = textOf(*rows, 7);
            info.of = textOf(*rows, 8);
            if (rows->getColumn(10).isNull()) {
                info.state = rows->getColumn(9).getInt() != 0 ? AttemptState::SetAside : AttemptState::Open;
                missing.emplace_back(list.size() - 1, rows->getColumn(0).getInt64());
            } else {
                readFigures(*rows, info);
            }
        }
        return {};
    });
    if (!read) return core::fail(read.error());
    const auto fill = [&]() -> Result<void> {
        for (const auto& [index, number] : missing) {
            auto stored = attempt(list[index].id);
            if (!stored) return core::fail(stored.error());
            if (auto done = project(number, *stored, &list[index]); !done) return done;
        }
        return {};
    };
    if (!missing.empty()) {
        auto filled = m_connection.readOnly() ? fill() : m_connection.transaction(fill);
        if (!filled) return core::fail(filled.error());
    }
    return list;
}

Result<std::vector<AttemptInfo>> AttemptStore::list(const std::optional<std::string>& trainee) {
    return trainee ? query(kOfTrainee, *trainee) : query(kAll, {});
}

Result<std::optional<AttemptInfo>> AttemptStore::info(const std::string& id) {
    auto found = query(kOne, id);
    if (!found) return core::fail(found.error());
    if (found->empty()) return std::optional<AttemptInfo>{};
    return std::optional(std::move(found->front()));
}

Result<void> AttemptStore::refresh(const std::string& id) {
    auto number = numberOf(id);
    if (!number) return core::fail(number.error());
    auto stored = attempt(id);
    if (!stored) return core::fail(stored.error());
    return project(**number, *stored, nullptr);
}

Result<void> AttemptStore::refill(const std::function<bool(double)>& progress) {
    return m_connection.transaction([&]() -> Result<void> {
        m_connection.database().exec("DELETE FROM attempt_projection");
        std::vector<std::pair<long long, std::string>> all;
        {
            Query query = m_connection.query("SELECT number, id FROM attempt ORDER BY number");
            while (query->executeStep()) all.emplace_back(query->getColumn(0).getInt64(), textOf(*query, 1));
        }
        for (std::size_t i = 0; i < all.size(); ++i) {
            if (progress && i % 64 == 0 &&
                !progress(static_cast<double>(i) / static_cast<double>(all.size())))
                return core::fail(ErrorKind::Refused, "stopped; the figures stay as they were");
            auto stored = attempt(all[i].second);
            if (!stored) return core::fail(stored.error());
            if (auto done = project(all[i].first, *stored, nullptr); !done) return done;
        }
        if (progress) progress(1);
        return {};
    });
}

}  // namespace markerlamp::db
