#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Facts, trainees, instructors and buses.

#include "core/base/result.h"
#include "core/people/people.h"
#include "db/sqlite/connection.h"
#include "db/store/trail_store.h"

#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace markerlamp::db {

class PeopleStore {
public:
    PeopleStore(Connection& connection, TrailStore& trail) : m_connection(connection), m_trail(trail) {}

    core::Result<std::optional<std::string>> fact(const std::string& key);
    /// Sorted by key.
    core::Result<std::vector<std::pair<std::string, std::string>>> facts();
    core::Result<void> setFact(const std::string& key, const std::string& value);

    // Lists are sorted by key.
    core::Result<std::vector<core::Trainee>> trainees();
    core::Result<std::optional<core::Trainee>> trainee(const std::string& key);
    core::Result<void> save(const core::Trainee& trainee);
    core::Result<std::vector<core::Instructor>> instructors();
    core::Result<void> save(const core::Instructor& instructor);
    core::Result<std::vector<core::Bus>> buses();
    core::Result<void> save(const core::Bus& bus);

    // Make entries to be completed for keys that the file does not know.
    core::Result<void> ensureKnown(const core::AttemptHeader& header);
    core::Result<void> ensureTrainee(const std::string& key);
    core::Result<void> ensureInstructor(const std::string& key);

    /// Empty for an attempt that the file does not know. May throw as Connection says.
    std::string traineeOfAttempt(const std::string& attempt);

private:
    /// One transaction; what the machine refuses becomes an error that names `what`.
    core::Result<void> changed(const std::string& what, const std::function<core::Result<void>()>& body);
    /// Tells the trail; nothing when nothing differs.
    core::Result<void> tell(const char* what, const std::string& trainee, const std::string& key,
                            const core::TrailFields& was, const core::TrailFields& is);
    core::Result<void> ensure(const char* sql, const std::string& key);

    Connection& m_connection;
    TrailStore& m_trail;
};

}  // namespace markerlamp::db
