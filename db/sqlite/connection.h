#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// One connection to a program file: how it is opened, its prepared statements and its transactions.

#include "core/base/result.h"
#include "db/sqlite/held_place.h"

#include <SQLiteCpp/Database.h>
#include <SQLiteCpp/Statement.h>

#include <filesystem>
#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>

namespace markerlamp::db {

enum class Access { ReadWrite, ReadOnly };

/// A prepared statement on loan: reset when it goes out of scope, so that no read stays open.
class Query {
public:
    explicit Query(SQLite::Statement& statement) : m_statement(statement) {}
    ~Query();
    Query(const Query&) = delete;
    Query& operator=(const Query&) = delete;
    SQLite::Statement* operator->() { return &m_statement; }
    SQLite::Statement& operator*() { return m_statement; }

    /// Binds an empty text as NULL.
    void bindOrNull(int index, std::string_view text);

private:
    SQLite::Statement& m_statement;
};

/// Column text; empty for NULL.
[[nodiscard]] std::string textOf(const SQLite::Statement& statement, int column);

class Connection {
public:
    /// Opens an existing file with the settings every connection needs (write-ahead log, full
    /// synchronisation, foreign keys, no trust in the schema's functions). The path is never read as a URI.
    /// Looks at nothing inside. ReadOnly changes no record and, where the folder allows, leaves nothing
    /// beside the file. Machine where another file lies in the place of one that is held (held_place.h).
    static core::Result<std::unique_ptr<Connection>> open(const std::filesystem::path& path, Access access);
    ~Connection();
    Connection(const Connection&) = delete;
    Connection& operator=(const Connection&) = delete;

    [[nodiscard]] SQLite::Database& database() { return m_database; }
    [[nodiscard]] bool readOnly() const { return m_readOnly; }

    /// From here on functions may throw SQLite::Exception; the stores catch it (see guarded()).
    [[nodiscard]] Query query(const char* sql);
    [[nodiscard]] long long pragma(const char* name);
    /// Runs SQL that makes a table of this connection alone; a connection that only reads may, too.
    void makeTemporary(const char* sql);

    /// Runs `body` in one transaction, or in a savepoint of the one that is open; an error return rolls
    /// back. `undone` listeners are told after each rollback.
    core::Result<void> transaction(const std::function<core::Result<void>()>& body);
    /// Whether the file that is open or its log has lost its name: deleted, moved, or another put in its
    /// place. Nothing is written into it then.
    [[nodiscard]] bool moved();
    /// Caches of rows that a rollback may have taken away register here.
    void onUndone(std::function<void()> listener) { m_undone = std::move(listener); }

private:
    Connection(const std::string& name, int flags, bool readOnly);
    /// Notes which file it is.
    SQLite::Database connect(const std::string& name, int flags);

    OpenPlace m_place;                    ///< till the database is closed
    std::optional<FileId> m_file, m_log;  ///< what is open; the log as soon as one is seen
    SQLite::Database m_database;
    bool m_readOnly;
    int m_depth = 0;
    std::filesystem::path m_path;  ///< where links lead
    std::map<std::string_view, std::unique_ptr<SQLite::Statement>> m_statements;
    std::function<void()> m_undone;
};

/// core::publish() of a database. Refused where the log or journal of a file that is gone lies beside the
/// name: SQLite would take its pages into the new file.
core::Result<void> publishDatabase(const std::filesystem::path& made, const std::filesystem::path& name);
/// Removes a database file and what SQLite keeps beside it.
void removeDatabase(const std::filesystem::path& path) noexcept;

}  // namespace markerlamp::db
