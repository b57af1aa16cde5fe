// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/store/rubric_store.h"

#include "db/sqlite/failure.h"

namespace markerlamp::db {

using core::ErrorKind;
using core::Result;

Result<Added> RubricStore::add(const std::string& yaml, const std::string& name) {
    auto rubric = core::readRubric(yaml, name);
    if (!rubric) return core::fail(rubric.error());
    const std::string label = rubric->id + ", edition " + std::to_string(rubric->edition);
    return guarded("rubric " + label + " cannot be stored", [&]() -> Result<Added> {
        {
            Query query = m_connection.query("SELECT text FROM rubric WHERE id = ? AND edition = ?");
            query->bind(1, rubric->id);
            query->bind(2, rubric->edition);
            if (query->executeStep()) {
                const std::string stored = textOf(*query, 0);
                if (stored == yaml) return Added::AlreadyThere;
                if (const auto same = core::readRubric(stored); same && *same == *rubric)
                    return Added::AlreadyThere;
                return core::fail(ErrorKind::Conflict,
                                  "another rubric " + label +
                                      " is in the file and stays as it is; give the new one a "
                                      "higher edition");
            }
        }
        auto done = m_connection.transaction([&]() -> Result<void> {
            Query query =
                m_connection.query("INSERT INTO rubric (id, edition, title, text) VALUES (?, ?, ?, ?)");
            query->bind(1, rubric->id);
            query->bind(2, rubric->edition);
            query->bind(3, rubric->title);
            query->bind(4, yaml);
            query->exec();
            return tell("rubric.added", rubric->id + ", edition " + std::to_string(rubric->edition),
                        rubric->title, yaml);
        });
        if (!done) return core::fail(done.error());
        return Added::New;
    });
}

Result<std::vector<RubricInfo>> RubricStore::list() {
    return guarded("the rubrics cannot be read", [&]() -> Result<std::vector<RubricInfo>> {
        Query query = m_connection.query(
            "SELECT id, edition, title, EXISTS (SELECT 1 FROM attempt WHERE attempt.rubric = rubric.number) "
            "FROM rubric ORDER BY id, edition");
        std::vector<RubricInfo> list;
        while (query->executeStep())
            list.push_back({textOf(*query, 0), query->getColumn(1).getInt(), textOf(*query, 2),
                            query->getColumn(3).getInt() != 0});
        return list;
    });
}

Result<std::string> RubricStore::text(const std::string& id, int edition) {
    return guarded("the rubric cannot be read", [&]() -> Result<std::string> {
        Query query = m_connection.query("SELECT text FROM rubric WHERE id = ? AND edition = ?");
        query->bind(1, id);
        query->bind(2, edition);
        if (!query->executeStep())
            return core::fail(ErrorKind::NotFound, "rubric " + id + ", edition " + std::to_string(edition) +
                                                       ", is not in the file; import it first");
        return textOf(*query, 0);
    });
}

Result<long long> RubricStore::number(const std::string& id, int edition) {
    return guarded("the rubric cannot be read", [&]() -> Result<long long> {
        Query query = m_connection.query("SELECT number FROM rubric WHERE id = ? AND edition = ?");
        query->bind(1, id);
        query->bind(2, edition);
        if (!query->executeStep())
            return core::fail(ErrorKind::NotFound, "rubric " + id + ", edition " + std::to_string(edition) +
                                                       ", is not in the file; import it first");
        return query->getColumn(0).getInt64();
    });
}

Result<std::shared_ptr<const core::Rubric>> RubricStore::rubric(const std::string& id, int edition) {
    if (const auto held = m_held.find({id, edition}); held != m_held.end()) return held->second.rubric;
    auto yaml = text(id, edition);
    if (!yaml) return core::fail(yaml.error());
    auto read = core::readRubric(*yaml);
    if (!read) return core::fail(read.error());
    Held held;
    held.rubric = std::make_shared<const core::Rubric>(std::move(*read));
    held.scorer = std::make_unique<core::Scorer>(held.rubric);
    return m_held.emplace(std::pair{id, edition}, std::move(held)).first->second.rubric;
}

Result<const core::Scorer*> RubricStore::scorer(const std::string& id, int edition) {
    if (auto read = rubric(id, edition); !read) return core::fail(read.error());
    return m_held.at({id, edition}).scorer.get();
}

Result<Added> RubricStore::addLimitSet(const std::string& yaml, const std::string& name) {
    auto set = core::readLimitSet(yaml, name);
    if (!set) return core::fail(set.error());
    return guarded("limit set " + set->id + " cannot be stored", [&]() -> Result<Added> {
        {
            Query query = m_connection.query("SELECT text FROM limit_set WHERE id = ?");
            query->bind(1, set->id);
            if (query->executeStep()) {
                const auto stored = core::readLimitSet(textOf(*query, 0));
                if (stored && *stored == *set) return Added::AlreadyThere;
                return core::fail(ErrorKind::Conflict,
                                  "another limit set " + set->id +
                                      " is in the file and stays as it is; give the new one "
                                      "another id");
            }
        }
        auto done = m_connection.transaction([&]() -> Result<void> {
            Query query = m_connection.query("INSERT INTO limit_set (id, title, text) VALUES (?, ?, ?)");
            query->bind(1, set->id);
            query->bind(2, set->title);
            query->bind(3, yaml);
            query->exec();
            return tell("limits.added", set->id, set->title, yaml);
        });
        if (!done) return core::fail(done.error());
        return Added::New;
    });
}

Result<void> RubricStore::tell(const char* what, const std::string& subject, const std::string& title,
                               const std::string& text) {
    const auto words =
        core::wordsOfChange({}, {{"title", title}, {"text", "blake2b " + core::blake2b(text)}});
    return m_trail.add({what, {}, subject, words.value_or("{}"), {}});
}

Result<std::vector<core::LimitSet>> RubricStore::limitSets() {
    return guarded("the limit sets cannot be read", [&]() -> Result<std::vector<core::LimitSet>> {
        Query query = m_connection.query("SELECT text FROM limit_set ORDER BY id");
        std::vector<core::LimitSet> list;
        while (query->executeStep()) {
            auto set = core::readLimitSet(textOf(*query, 0));
            if (!set) return core::fail(set.error());
            list.push_back(std::move(*set));
        }
        return list;
    });
}

Result<std::string> RubricStore::limitSetText(const std::string& id) {
    return guarded("the limit set cannot be read", [&]() -> Result<std::string> {
        Query query = m_connection.query("SELECT text FROM limit_set WHERE id = ?");
        query->bind(1, id);
        if (!query->executeStep())
            return core::fail(ErrorKind::NotFound, "limit set " + id + " is not in the file");
        return textOf(*query, 0);
    });
}

void RubricStore::forget() {
    m_held.clear();
}

}  // namespace markerlamp::db
