#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What became of the sheets of attempts: added, never changed.

#include "core/base/result.h"
#include "core/history/sheet_record.h"
#include "db/program_file.h"
#include "db/sqlite/connection.h"
#include "db/store/people_store.h"
#include "db/store/trail_store.h"

#include <optional>
#include <string>
#include <vector>

namespace markerlamp::db {

class SheetStore {
public:
    SheetStore(Connection& connection, TrailStore& trail, PeopleStore& people)
        : m_connection(connection), m_trail(trail), m_people(people) {}

    /// For a connection that only reads a file of a form before this table: an empty one stands in.
    core::Result<void> prepare();

    /// Of all attempts or of one; oldest first.
    core::Result<std::vector<core::SheetRecord>> records(const std::optional<std::string>& attempt);
    core::Result<Added> add(const core::SheetRecord& record);

private:
    Connection& m_connection;
    TrailStore& m_trail;
    PeopleStore& m_people;
};

}  // namespace markerlamp::db
