#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The trail of changes in a program file: added to by the stores, in the transaction that makes the change.

#include "core/base/result.h"
#include "core/trail/trail.h"
#include "db/sqlite/connection.h"

#include <string>
#include <string_view>
#include <vector>

namespace markerlamp::db {

/// What an entry is to say; number, moment and seals are added by the store.
struct TrailChange {
    std::string_view what;
    std::string trainee;
    std::string subject;
    std::string words;  ///< JSON object, see core/trail
    std::string by;     ///< who it was as far as is known where nobody has signed in; may be empty
};

class TrailStore {
public:
    explicit TrailStore(Connection& connection) : m_connection(connection) {}

    /// For a connection that only reads a file of a form before this table: an empty one stands in.
    core::Result<void> prepare();

    void actAs(std::string name) { m_name = std::move(name); }
    core::Result<void> add(const TrailChange& change);
    core::Result<std::vector<core::TrailEntry>> entries();  ///< by number

    /// Takes out what the entries about a trainee say; the table `erasing` must name the trainee. Returns
    /// their numbers.
    std::vector<std::int64_t> takeOutWords(const std::string& trainee);

private:
    Connection& m_connection;
    std::string m_name;
};

}  // namespace markerlamp::db
