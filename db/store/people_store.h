#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Facts, trainees, instructors and buses.

#include "core/base/result.h"
#include "core/people/people.h"
#include "db/sqlite/connection.h"

#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace markerlamp::db {

class PeopleStore {
public:
    explicit PeopleStore(Connection& connection) : m_connection(connection) {}

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

private:
    core::Result<void> ensure(const char* sql, const std::string& key);

    Connection& m_connection;
};

}  // namespace markerlamp::db
