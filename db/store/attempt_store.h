#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Attempts, their events, and the figures that lists show of them (a projection that can be dropped and
// refilled).

#include "core/attempt/attempt.h"
#include "core/base/result.h"
#include "db/program_file.h"
#include "db/sqlite/connection.h"
#include "db/store/people_store.h"
#include "db/store/rubric_store.h"
#include "db/store/trail_store.h"

#include <functional>
#include <optional>
#include <span>
#include <string>
#include <unordered_map>
#include <vector>

namespace markerlamp::db {

class AttemptStore {
public:
    AttemptStore(Connection& connection, TrailStore& trail, RubricStore& rubrics, PeopleStore& people)
        : m_connection(connection), m_trail(trail), m_rubrics(rubrics), m_people(people) {}

    /// Makes the projection's table, or drops one of another version.
    core::Result<void> prepareProjection();

    core::Result<std::vector<AttemptInfo>> list(const std::optional<std::string>& trainee);
    core::Result<std::optional<AttemptInfo>> info(const std::string& id);
    core::Result<core::Attempt> attempt(const std::string& id);
    core::Result<Added> add(const core::Attempt& attempt);
    core::Result<void> start(const core::AttemptHeader& header);
    core::Result<void> append(const std::string& id, std::span<const core::Event> events);
    core::Result<void> setAside(const std::string& id, bool aside);
    core::Result<void> refresh(const std::string& id);
    core::Result<void> refill(const std::function<bool(double)>& progress);
    /// Ids of attempts whose stored figures are not what their events give.
    core::Result<std::vector<std::string>> wrongFigures();

    /// Tells the trail anew what the ended attempts are: all, or those of one trainee.
    core::Result<void> tellAllOf(const std::optional<std::string>& trainee, std::string_view what);

    /// After a rollback: words and numbers may be gone again.
    void forget();

private:
    struct Row;

    core::Result<std::optional<long long>> numberOf(const std::string& id);
    /// The trail's word about an attempt as it is now, with its last `added` events.
    /// @param by who it was where nobody has signed in; nothing: its instructor
    core::Result<void> tell(std::string_view what, const std::string& id, std::size_t added,
                            const std::optional<std::string>& by);
    void insertHeader(const core::AttemptHeader& header, long long rubric, std::int64_t startedMs);
    void insertEvents(long long number, std::span<const core::Event> events);
    std::vector<core::Event> readEvents(long long number);
    long long wordNumber(const std::string& word);
    const std::string& wordText(long long number);
    core::Result<std::vector<AttemptInfo>> query(const char* sql, const std::string& argument);
    core::Result<void> figure(const core::Attempt& attempt, AttemptInfo& into);
    core::Result<void> project(long long number, const core::Attempt& attempt, AttemptInfo* into);

    Connection& m_connection;
    TrailStore& m_trail;
    RubricStore& m_rubrics;
    PeopleStore& m_people;
    std::unordered_map<std::string, long long> m_wordNumbers;
    std::unordered_map<long long, std::string> m_wordTexts;
};

}  // namespace markerlamp::db
