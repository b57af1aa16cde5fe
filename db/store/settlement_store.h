#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What was settled between two scorings: added, never changed.

#include "core/agreement/settlement.h"
#include "core/base/result.h"
#include "db/program_file.h"
#include "db/sqlite/connection.h"
#include "db/store/people_store.h"
#include "db/store/trail_store.h"

#include <vector>

namespace markerlamp::db {

class SettlementStore {
public:
    SettlementStore(Connection& connection, TrailStore& trail, PeopleStore& people)
        : m_connection(connection), m_trail(trail), m_people(people) {}

    /// For a connection that only reads a file of a form before this table: an empty one stands in.
    core::Result<void> prepare();

    core::Result<std::vector<core::Settlement>> settlements();  ///< oldest first
    core::Result<Added> add(const core::Settlement& settlement);

private:
    Connection& m_connection;
    TrailStore& m_trail;
    PeopleStore& m_people;
};

}  // namespace markerlamp::db
