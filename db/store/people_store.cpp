// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/store/people_store.h"

#include "db/sqlite/failure.h"
#include "db/store/json_columns.h"

#include <algorithm>
#include <array>
#include <charconv>

namespace markerlamp::db {

using core::Result;

namespace {

core::Trainee traineeOf(const SQLite::Statement& row) {
    core::Trainee t;
    t.key = textOf(row, 0);
    t.name = textOf(row, 1);
    t.started = textOf(row, 2);
    t.permitIssued = textOf(row, 3);
    t.permitExpires = textOf(row, 4);
    t.medicalExpires = textOf(row, 5);
    if (const auto percent = row.getColumn(6); !percent.isNull()) t.theoryPercent = percent.getDouble();
    t.theoryDate = textOf(row, 7);
    t.group = textOf(row, 8);
    t.note = textOf(row, 9);
    t.toComplete = row.getColumn(10).getInt() != 0;
    return t;
}

constexpr const char* kTrainees =
    "SELECT key, name, started, permit_issued, permit_expires, medical_expires, theory_percent, theory_date, "
    "\"group\", note, to_complete FROM trainee ORDER BY key";
constexpr const char* kTrainee =
    "SELECT key, name, started, permit_issued, permit_expires, medical_expires, theory_percent, theory_date, "
    "\"group\", note, to_complete FROM trainee WHERE key = ?";

std::string numberText(double value) {
    std::array<char, 32> text{};
    const auto end = std::to_chars(text.data(), text.data() + text.size(), value).ptr;
    return {text.data(), end};
}

core::TrailFields fieldsOf(const core::Trainee& t) {
    return {{"name", t.name},
            {"started", t.started},
            {"permit_issued", t.permitIssued},
            {"permit_expires", t.permitExpires},
            {"medical_expires", t.medicalExpires},
            {"theory_percent", t.theoryPercent ? numberText(*t.theoryPercent) : std::string()},
            {"theory_date", t.theoryDate},
            {"group", t.group},
            {"note", t.note},
            {"to_complete", t.toComplete ? "yes" : ""}};
}

core::TrailFields fieldsOf(const core::Instructor& instructor) {
    return {{"name", instructor.name}, {"to_complete", instructor.toComplete ? "yes" : ""}};
}

core::TrailFields fieldsOf(const core::Bus& bus) {
    return {{"title", bus.title},
            {"equipment", toJsonText(bus.equipment)},
            {"limits", toJsonText(bus.limits)},
            {"note", bus.note},
            {"to_complete", bus.toComplete ? "yes" : ""}};
}

/// Settings of the program; not what a window remembers, what is not finished, what is computed.
bool isSetting(const std::string& key) {
    for (const char* other : {"ui.", "draft.", "projection."})
        if (key.starts_with(other)) return false;
    return true;
}

template <class Entry>
std::optional<Entry> ofKey(const std::vector<Entry>& entries, const std::string& key) {
    const auto found = std::ranges::find(entries, key, &Entry::key);
    return found == entries.end() ? std::nullopt : std::optional(*found);
}

Result<void> needsKey(const std::string& key, const char* what) {
    if (!key.empty()) return {};
    return core::fail(core::ErrorKind::Refused, std::string("a ") + what + " needs a key");
}

}  // namespace

Result<std::optional<std::string>> PeopleStore::fact(const std::string& key) {
    return guarded("the facts of the program cannot be read", [&]() -> Result<std::optional<std::string>> {
        Query query = m_connection.query("SELECT value FROM fact WHERE key = ?");
        query->bind(1, key);
        if (!query->executeStep()) return std::optional<std::string>{};
        return std::optional(textOf(*query, 0));
    });
}

Result<std::vector<std::pair<std::string, std::string>>> PeopleStore::facts() {
    using Facts = std::vector<std::pair<std::string, std::string>>;
    return guarded("the facts of the program cannot be read", [&]() -> Result<Facts> {
        Query query = m_connection.query("SELECT key, value FROM fact ORDER BY key");
        Facts facts;
        while (query->executeStep()) facts.emplace_back(textOf(*query, 0), textOf(*query, 1));
        return facts;
    });
}

Result<void> PeopleStore::setFact(const std::string& key, const std::string& value) {
    if (auto good = needsKey(key, "fact"); !good) return good;
    return changed("the fact " + key, [&]() -> Result<void> {
        const auto was = fact(key);
        if (!was) return core::fail(was.error());
        if (isSetting(key))
            if (auto told = tell("setting.changed", {}, key,
                                 *was ? core::TrailFields{{"value", **was}} : core::TrailFields(),
                                 {{"value", value}});
                !told)
                return told;
        Query query = m_connection.query(
            "INSERT INTO fact (key, value) VALUES (?, ?) ON CONFLICT (key) DO UPDATE SET value = "
            "excluded.value");
        query->bind(1, key);
        query->bind(2, value);
        query->exec();
        return {};
    });
}

Result<std::vector<core::Trainee>> PeopleStore::trainees() {
    return guarded("the trainees cannot be read", [&]() -> Result<std::vector<core::Trainee>> {
        Query query = m_connection.query(kTrainees);
        std::vector<core::Trainee> list;
        while (query->executeStep()) list.push_back(traineeOf(*query));
        return list;
    });
}

Result<std::optional<core::Trainee>> PeopleStore::trainee(const std::string& key) {
    return guarded("the trainee cannot be read", [&]() -> Result<std::optional<core::Trainee>> {
        Query query = m_connection.query(kTrainee);
        query->bind(1, key);
        if (!query->executeStep()) return std::optional<core::Trainee>{};
        return std::optional(traineeOf(*query));
    });
}

Result<void> PeopleStore::save(const core::Trainee& t) {
    if (auto good = needsKey(t.key, "trainee"); !good) return good;
    return changed("the trainee", [&]() -> Result<void> {
        const auto was = trainee(t.key);
        if (!was) return core::fail(was.error());
        if (auto told = tell(*was ? "trainee.changed" : "trainee.added", t.key, t.key,
                             *was ? fieldsOf(**was) : core::TrailFields(), fieldsOf(t));
            !told)
            return told;
        Query query = m_connection.query(
            "INSERT INTO trainee (key, name, started, permit_issued, permit_expires, medical_expires, "
            "theory_percent, theory_date, \"group\", note, to_complete) VALUES (?,?,?,?,?,?,?,?,?,?,?) "
            "ON CONFLICT (key) DO UPDATE SET name = excluded.name, started = excluded.started, "
            "permit_issued = excluded.permit_issued, permit_expires = excluded.permit_expires, "
            "medical_expires = excluded.medical_expires, theory_percent = excluded.theory_percent, "
            "theory_date = excluded.theory_date, \"group\" = excluded.\"group\", note = excluded.note, "
            "to_complete = excluded.to_complete");
        query->bind(1, t.key);
        query->bind(2, t.name);
        query->bind(3, t.started);
        query->bind(4, t.permitIssued);
        query->bind(5, t.permitExpires);
        query->bind(6, t.medicalExpires);
        if (t.theoryPercent)
            query->bind(7, *t.theoryPercent);
        else
            query->bind(7);
        query->bind(8, t.theoryDate);
        query->bind(9, t.group);
        query->bind(10, t.note);
        query->bind(11, t.toComplete ? 1 : 0);
        query->exec();
        return {};
    });
}

Result<std::vector<core::Instructor>> PeopleStore::instructors() {
    return guarded("the instructors cannot be read", [&]() -> Result<std::vector<core::Instructor>> {
        Query query = m_connection.query("SELECT key, name, to_complete FROM instructor ORDER BY key");
        std::vector<core::Instructor> list;
        while (query->executeStep())
            list.push_back({textOf(*query, 0), textOf(*query, 1), query->getColumn(2).getInt() != 0});
        return list;
    });
}

Result<void> PeopleStore::save(const core::Instructor& instructor) {
    if (auto good = needsKey(instructor.key, "instructor"); !good) return good;
    return changed("the instructor", [&]() -> Result<void> {
        const auto all = instructors();
        if (!all) return core::fail(all.error());
        const auto was = ofKey(*all, instructor.key);
        if (auto told = tell(was ? "instructor.changed" : "instructor.added", {}, instructor.key,
                             was ? fieldsOf(*was) : core::TrailFields(), fieldsOf(instructor));
            !told)
            return told;
        Query query = m_connection.query(
            "INSERT INTO instructor (key, name, to_complete) VALUES (?, ?, ?) "
            "ON CONFLICT (key) DO UPDATE SET name = excluded.name, to_complete = excluded.to_complete");
        query->bind(1, instructor.key);
        query->bind(2, instructor.name);
        query->bind(3, instructor.toComplete ? 1 : 0);
        query->exec();
        return {};
    });
}

Result<std::vector<core::Bus>> PeopleStore::buses() {
    return guarded("the buses cannot be read", [&]() -> Result<std::vector<core::Bus>> {
        Query query = m_connection.query(
            "SELECT key, title, equipment, limits, note, to_complete FROM bus ORDER BY key");
        std::vector<core::Bus> list;
        while (query->executeStep())
            list.push_back({textOf(*query, 0), textOf(*query, 1), listFromJson(textOf(*query, 2)),
                            limitsFromJson(textOf(*query, 3)), textOf(*query, 4),
                            query->getColumn(5).getInt() != 0});
        return list;
    });
}

Result<void> PeopleStore::save(const core::Bus& bus) {
    if (auto good = needsKey(bus.key, "bus"); !good) return good;
    return changed("the bus", [&]() -> Result<void> {
        const auto all = buses();
        if (!all) return core::fail(all.error());
        const auto was = ofKey(*all, bus.key);
        if (auto told = tell(was ? "bus.changed" : "bus.added", {}, bus.key,
                             was ? fieldsOf(*was) : core::TrailFields(), fieldsOf(bus));
            !told)
            return told;
        Query query = m_connection.query(
            "INSERT INTO bus (key, title, equipment, limits, note, to_complete) VALUES (?, ?, ?, ?, ?, ?) "
            "ON CONFLICT (key) DO UPDATE SET title = excluded.title, equipment = excluded.equipment, "
            "limits = excluded.limits, note = excluded.note, to_complete = excluded.to_complete");
        query->bind(1, bus.key);
        query->bind(2, bus.title);
        query->bind(3, toJsonText(bus.equipment));
        query->bind(4, toJsonText(bus.limits));
        query->bind(5, bus.note);
        query->bind(6, bus.toComplete ? 1 : 0);
        query->exec();
        return {};
    });
}

Result<void> PeopleStore::changed(const std::string& what, const std::function<Result<void>()>& body) {
    return guarded(what + " cannot be stored",
                   [&]() -> Result<void> { return m_connection.transaction(body); });
}

Result<void> PeopleStore::tell(const char* what, const std::string& trainee, const std::string& key,
                               const core::TrailFields& was, const core::TrailFields& is) {
    const auto words = core::wordsOfChange(was, is);
    return words ? m_trail.add({what, trainee, key, *words, {}}) : Result<void>();
}

std::string PeopleStore::traineeOfAttempt(const std::string& attempt) {
    Query query = m_connection.query("SELECT trainee FROM attempt WHERE id = ?");
    query->bind(1, attempt);
    return query->executeStep() ? textOf(*query, 0) : std::string();
}

Result<void> PeopleStore::ensure(const char* sql, const std::string& key) {
    return guarded("an entry cannot be made", [&]() -> Result<void> {
        Query query = m_connection.query(sql);
        query->bind(1, key);
        query->exec();
        return {};
    });
}

// The name is the key until somebody completes the entry; that is also how exported tables carry it.

Result<void> PeopleStore::ensureTrainee(const std::string& key) {
    return ensure(
        "INSERT INTO trainee (key, name, started, permit_issued, permit_expires, medical_expires, "
        "theory_date, \"group\", note, to_complete) VALUES (?1, ?1, '', '', '', '', '', '', '', 1) "
        "ON CONFLICT DO NOTHING",
        key);
}

Result<void> PeopleStore::ensureInstructor(const std::string& key) {
    return ensure("INSERT INTO instructor (key, name, to_complete) VALUES (?1, ?1, 1) ON CONFLICT DO NOTHING",
                  key);
}

Result<void> PeopleStore::ensureKnown(const core::AttemptHeader& header) {
    if (auto known = ensureTrainee(header.trainee); !known) return known;
    if (auto known = ensureInstructor(header.instructor); !known) return known;
    return ensure(
        "INSERT INTO bus (key, title, equipment, limits, note, to_complete) VALUES (?1, ?1, '[]', '{}', '', "
        "1) ON CONFLICT DO NOTHING",
        header.bus);
}

}  // namespace markerlamp::db
