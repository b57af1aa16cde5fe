#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Clock hours, booked tests, times away, struck results (added, never changed), licences and courses (may
// change).

#include "core/base/result.h"
#include "core/people/person_file.h"
#include "core/people/training.h"
#include "db/program_file.h"
#include "db/sqlite/connection.h"
#include "db/store/people_store.h"
#include "db/store/trail_store.h"

#include <optional>
#include <string>
#include <vector>

namespace markerlamp::db {

class TrainingStore {
public:
    TrainingStore(Connection& connection, TrailStore& trail, PeopleStore& people)
        : m_connection(connection), m_trail(trail), m_people(people) {}

    /// For a connection that only reads a file of a form before these tables: empty ones stand in.
    core::Result<void> prepare();

    // All, or those of one trainee; by date, then id.
    core::Result<std::vector<core::ClockHours>> clockHours(const std::optional<std::string>& trainee);
    core::Result<std::vector<core::BookedTest>> bookedTests(const std::optional<std::string>& trainee);
    core::Result<std::vector<core::Absence>> absences(const std::optional<std::string>& trainee);
    core::Result<Added> add(const core::ClockHours& hours);
    core::Result<Added> add(const core::BookedTest& test);
    core::Result<Added> add(const core::Absence& absence);

    core::Result<std::vector<core::StruckResult>> struckResults();
    core::Result<Added> add(const core::StruckResult& strike);

    // By trainee. An entry that says nothing is taken out of the file.
    core::Result<std::vector<core::Licence>> licences(const std::optional<std::string>& trainee);
    core::Result<void> save(const core::Licence& licence);
    core::Result<std::vector<core::Course>> courses(const std::optional<std::string>& trainee);
    core::Result<void> save(const core::Course& course);

private:
    Connection& m_connection;
    TrailStore& m_trail;
    PeopleStore& m_people;
};

}  // namespace markerlamp::db
