// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/sqlite/connection.h"

#include "core/base/files.h"
#include "db/sqlite/failure.h"

#include <sqlite3.h>

#include <cstdio>
#include <fstream>
#include <system_error>
#include <utility>

#include <unistd.h>

namespace markerlamp::db {

using core::Result;

namespace {

constexpr int kBusyMilliseconds = 5000;
constexpr const char* kMoved =
    "the file or its log (-wal) is not there any more, or another one has taken its place; put it back where "
    "it was";

/// SQLite as Debian builds it takes a name that begins with "file:" for a URI; an absolute path never does.
Result<std::string> plainName(const std::filesystem::path& path) {
    std::error_code ec;
    const auto absolute = std::filesystem::absolute(path, ec);
    if (ec || absolute.empty())
        return core::fail(core::ErrorKind::Machine, "the path " + path.string() + " cannot be used",
                          ec.message());
    return absolute.string();
}

/// A file on a read-only medium has no place for the log's index: it is opened as one that cannot change,
/// which only a URI can ask for. Every byte outside [A-Za-z0-9/._-] is percent-encoded.
std::string immutableUri(const std::string& absolute) {
    std::string uri = "file:";
    for (const unsigned char c : absolute) {
        const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
                           c == '/' || c == '.' || c == '_' || c == '-';
        char code[4];
        std::snprintf(code, sizeof code, "%%%02X", c);
        uri += plain ? std::string(1, static_cast<char>(c)) : std::string(code);
    }
    return uri + "?immutable=1";
}

/// Nothing of the file's own making may reach further than its rows: no functions, no writing into the
/// schema, nothing that is larger than what this program writes. (SQLite, "Defense Against The Dark Arts".)
void harden(sqlite3* handle) {
    for (const auto& [option, value] : {std::pair{SQLITE_DBCONFIG_DEFENSIVE, 1},
                                        {SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0},
                                        {SQLITE_DBCONFIG_WRITABLE_SCHEMA, 0},
                                        {SQLITE_DBCONFIG_ENABLE_LOAD_EXTENSION, 0}})
        sqlite3_db_config(handle, option, value, nullptr);
    for (const auto& [limit, most] : {std::pair{SQLITE_LIMIT_LENGTH, 64 << 20},
                                      {SQLITE_LIMIT_SQL_LENGTH, 256 << 10},
                                      {SQLITE_LIMIT_COLUMN, 200},
                                      {SQLITE_LIMIT_EXPR_DEPTH, 200},
                                      {SQLITE_LIMIT_COMPOUND_SELECT, 100},
                                      {SQLITE_LIMIT_ATTACHED, 2},
                                      {SQLITE_LIMIT_TRIGGER_DEPTH, 10},
                                      {SQLITE_LIMIT_WORKER_THREADS, 0}})
        sqlite3_limit(handle, limit, most);
}

/// A journal that an interrupted change left is rolled back into the file by whoever opens it next, and may
/// name a further file, which SQLite then removes. This program never makes one of those.
bool journalNamesAnother(const std::string& absolute) {
    constexpr std::string_view kMagic("\xd9\xd5\x05\xf9\x20\xa1\x63\xd7", 8);
    std::ifstream in(absolute + "-journal", std::ios::binary | std::ios::ate);
    if (!in || in.tellg() < static_cast<std::streamoff>(kMagic.size())) return false;
    in.seekg(-static_cast<std::streamoff>(kMagic.size()), std::ios::end);
    std::string end(kMagic.size(), '\0');
    return in.read(end.data(), static_cast<std::streamsize>(end.size())) && end == kMagic;
}

bool emptyOrMissing(const std::filesystem::path& path) {
    std::error_code ec;
    const auto size = std::filesystem::file_size(path, ec);
    return ec || size == 0;
}

}  // namespace

Query::~Query() {
    m_statement.tryReset();
    try {
        m_statement.clearBindings();
    } catch (const SQLite::Exception&) {
        // Only a misuse of the interface gets here; the next bind reports it.
    }
}

void Query::bindOrNull(int index, std::string_view text) {
    if (text.empty())
        m_statement.bind(index);
    else
        m_statement.bind(index, std::string(text));
}

std::string textOf(const SQLite::Statement& statement, int column) {
    const auto value = statement.getColumn(column);
    return value.isNull() ? std::string() : value.getString();
}

Connection::Connection(const std::string& name, int flags, bool readOnly)
    : m_database(connect(name, flags)),
      m_readOnly(readOnly),
      m_path(sqlite3_db_filename(m_database.getHandle(), "main")) {
    if (!m_file) m_file = fileIdOf(m_path);
}

SQLite::Database Connection::connect(const std::string& name, int flags) {
    const OpenedFile opened;
    SQLite::Database database(name, flags, kBusyMilliseconds);
    m_file = opened.last();
    return database;
}

Connection::~Connection() {
    // The last one to close clears the log away, by its name: another's may have it.
    int keep = 1;
    if (moved()) sqlite3_file_control(m_database.getHandle(), "main", SQLITE_FCNTL_PERSIST_WAL, &keep);
}

Result<std::unique_ptr<Connection>> Connection::open(const std::filesystem::path& path, Access access) {
    const std::string doing = path.string() + " cannot be opened";
    std::error_code ec;
    if (!std::filesystem::exists(path, ec)) {
        if (ec) return core::fail(core::ErrorKind::Machine, doing + ": " + ec.message());
        return core::fail(core::ErrorKind::NotFound, "there is no file " + path.string());
    }
    if (!std::filesystem::is_regular_file(path, ec))
        return core::fail(core::ErrorKind::Refused, path.string() + " is not a file");
    auto name = plainName(path);
    if (!name) return core::fail(name.error());
    if (const std::string wrong = HeldPlace::wrongAt(*name); !wrong.empty())
        return core::fail(core::ErrorKind::Machine, doing + ": " + wrong);
    if (journalNamesAnother(*name))
        return core::fail(core::ErrorKind::Refused,
                          doing + ": beside it lies " + path.filename().string() +
                              "-journal, which names a further file and was not made by this program; take "
                              "that away, or restore a copy");
    return guarded(doing, [&]() -> Result<std::unique_ptr<Connection>> {
        const bool readOnly = access == Access::ReadOnly;
        const auto dir = std::filesystem::path(*name).parent_path();
        const bool folderTakesFiles = ::access(dir.c_str(), W_OK) == 0;
        // Who only reads may not clear away the log and its index, which opening makes beside the file. So
        // where writing is possible the file is opened for it, and told to refuse every change.
        const bool clearsAway = folderTakesFiles && ::access(name->c_str(), W_OK) == 0;
        int flags =
            SQLite::OPEN_NOMUTEX | (readOnly && !clearsAway ? SQLite::OPEN_READONLY : SQLite::OPEN_READWRITE);
        if (readOnly && !folderTakesFiles && emptyOrMissing(*name + "-wal")) {
            *name = immutableUri(*name);
            flags |= SQLite::OPEN_URI;
        }
        std::unique_ptr<Connection> connection(new Connection(*name, flags, readOnly));
        SQLite::Database& database = connection->m_database;
        // Looked at again, and before anything is read: another may have come between.
        if (const std::string wrong = connection->m_place.take(connection->m_path, connection->m_file);
            !wrong.empty())
            return core::fail(core::ErrorKind::Machine, doing + ": " + wrong);
        harden(database.getHandle());
        // A file that may not be written to is opened for reading by SQLite without a word.
        if (!readOnly && sqlite3_db_readonly(database.getHandle(), "main") == 1)
            return core::fail(core::ErrorKind::Machine, doing + ": it may not be written to");
        database.exec("PRAGMA foreign_keys = ON; PRAGMA cell_size_check = ON; PRAGMA mmap_size = 0;");
        database.exec(readOnly ? "PRAGMA query_only = ON;" : "PRAGMA synchronous = FULL;");
        return connection;
    });
}

Query Connection::query(const char* sql) {
    auto found = m_statements.find(sql);
    if (found == m_statements.end()) {
        auto statement = std::make_unique<SQLite::Statement>(m_database, sql);
        found = m_statements.emplace(sql, std::move(statement)).first;
    }
    return Query(*found->second);
}

long long Connection::pragma(const char* name) {
    SQLite::Statement statement(m_database, std::string("PRAGMA ") + name);
    return statement.executeStep() ? statement.getColumn(0).getInt64() : 0;
}

void Connection::makeTemporary(const char* sql) {
    m_database.exec("PRAGMA query_only = OFF");
    const int code = m_database.tryExec(sql);
    if (m_readOnly) m_database.exec("PRAGMA query_only = ON");
    if (code != SQLITE_OK) throw SQLite::Exception(m_database.getHandle(), code);
}

Result<void> Connection::transaction(const std::function<Result<void>()>& body) {
    const bool outer = sqlite3_get_autocommit(m_database.getHandle()) != 0;
    const std::string savepoint = "level" + std::to_string(m_depth + 1);
    const auto run = [&](const char* plain, const std::string& nested) {
        if (outer)
            query(plain)->exec();
        else
            m_database.exec(nested);
    };
    const auto undo = [&] {
        // After some failures (a full disk) SQLite has rolled back already.
        if (sqlite3_get_autocommit(m_database.getHandle()) == 0)
            m_database.tryExec(outer ? std::string("ROLLBACK")
                                     : "ROLLBACK TO " + savepoint + "; RELEASE " + savepoint);
        if (m_undone) m_undone();
    };
    // IMMEDIATE: a transaction that reads first and writes later could not become a writer when another
    // connection wrote in between.
    auto begun = guarded("the file cannot be written to", [&]() -> Result<void> {
        run("BEGIN IMMEDIATE", "SAVEPOINT " + savepoint);
        return {};
    });
    if (!begun) return begun;
    if (outer && moved()) {
        undo();
        return core::fail(core::ErrorKind::Machine, kMoved);
    }
    ++m_depth;
    auto done = guarded("the file cannot be written to", body);
    --m_depth;
    if (!done) {
        undo();
        return done;
    }
    auto committed = guarded("the file cannot be written to", [&]() -> Result<void> {
        run("COMMIT", "RELEASE " + savepoint);
        return {};
    });
    if (!committed) undo();
    // What went into a file that lost its name meanwhile is not in the file that people have.
    if (committed && outer && moved()) return core::fail(core::ErrorKind::Machine, kMoved);
    return committed;
}

bool Connection::moved() {
    if (fileIdOf(m_path) != m_file) return true;
    // While a connection is open its log stays one file.
    const auto log = fileIdOf(logOf(m_path));
    if (!m_log) m_log = log;
    return log != m_log;
}

Result<void> publishDatabase(const std::filesystem::path& made, const std::filesystem::path& name) {
    std::error_code ec;
    for (const char* tail : {"-wal", "-journal"}) {
        const std::filesystem::path left = name.string() + tail;
        if (!std::filesystem::exists(name, ec) && std::filesystem::exists(left, ec))
            return core::fail(core::ErrorKind::Refused,
                              left.string() +
                                  " is left of a file that is gone and would get into the new one; move it "
                                  "away and keep it, or choose another name");
    }
    return core::publish(made, name);
}

void removeDatabase(const std::filesystem::path& path) noexcept {
    for (const char* tail : {"", "-wal", "-shm", "-journal"}) ::unlink((path.string() + tail).c_str());
}

}  // namespace markerlamp::db
