// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/schema/schema_check.h"

#include "core/base/text.h"
#include "db/sqlite/failure.h"

#include <array>
#include <map>
#include <mutex>
#include <set>
#include <string>
#include <tuple>
#include <utility>

namespace markerlamp::db {

using core::ErrorKind;
using core::Result;

namespace {

using Key = std::pair<std::string, std::string>;  ///< type and name
/// Tables first: what belongs to one is missing with it.
struct TablesFirst {
    bool operator()(const Key& a, const Key& b) const {
        const bool firstOfA = a.first != "table", firstOfB = b.first != "table";
        return std::tie(firstOfA, a) < std::tie(firstOfB, b);
    }
};
struct Object {
    std::string table, sql;
    bool operator==(const Object&) const = default;
};
using Objects = std::map<Key, Object, TablesFirst>;

constexpr const char* kRemedy =
    "; nothing of it was run and nothing was changed: restore a copy, or read its records into a new file "
    "with restore --salvage";

/// What SQLite keeps by itself: the statistics of its planner and the numbers of AUTOINCREMENT.
constexpr std::array<std::pair<const char*, const char*>, 3> kOfSqlite{{
    {"sqlite_stat1", "CREATE TABLE sqlite_stat1(tbl,idx,stat)"},
    {"sqlite_stat4", "CREATE TABLE sqlite_stat4(tbl,idx,neq,nlt,ndlt,sample)"},
    {"sqlite_sequence", "CREATE TABLE sqlite_sequence(name,seq)"},
}};

/// A name that a stranger chose, fit for a message.
std::string quoted(const std::string& name) {
    constexpr std::size_t kMost = 60;
    std::string shown = core::isUtf8(name) ? name : std::string("?");
    if (shown.size() > kMost) {
        std::size_t end = kMost;
        while (end > 0 && (static_cast<unsigned char>(shown[end]) & 0xC0U) == 0x80U) --end;
        shown = shown.substr(0, end) + "...";
    }
    for (char& c : shown)
        if (static_cast<unsigned char>(c) < 0x20 || c == 0x7F) c = '?';
    return "\"" + shown + "\"";
}

std::string kindOf(const std::string& type) {
    for (const char* known : {"table", "view", "trigger"})
        if (type == known) return "a " + type;
    return type == "index" ? "an index" : "an entry";
}

Objects read(SQLite::Database& database) {
    Objects objects;
    SQLite::Statement rows(database, "SELECT type, name, tbl_name, sql FROM sqlite_schema");
    while (rows.executeStep()) {
        Key key{textOf(rows, 0), textOf(rows, 1)};
        Object object{textOf(rows, 2), textOf(rows, 3)};
        // Two of one name can only come from somebody who wrote into the schema itself: none fits then.
        if (const auto [at, fresh] = objects.try_emplace(key, std::move(object)); !fresh) at->second = {};
    }
    return objects;
}

Objects made(int version, const std::vector<SchemaStep>& steps) {
    SQLite::Database memory(":memory:", SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE);
    memory.exec("BEGIN");
    for (const SchemaStep& step : steps)
        if (step.number <= version) memory.exec(step.sql);
    return read(memory);
}

/// Made once for each form: the steps are the same as long as the program runs.
const Objects& ofForm(int version) {
    static std::mutex mutex;
    static std::map<int, Objects> known;
    const std::lock_guard lock(mutex);
    auto found = known.find(version);
    if (found == known.end()) found = known.emplace(version, made(version, schemaSteps())).first;
    return found->second;
}

bool mayBeThere(const Key& key, const Object& object) {
    const auto& [type, name] = key;
    if (type != "table" || object.table != name) return false;
    // An earlier version may have made it with other columns; it is dropped before it is used then.
    if (name == "attempt_projection") return object.sql.starts_with("CREATE TABLE attempt_projection (");
    for (const auto& [known, sql] : kOfSqlite)
        if (name == known) return object.sql == sql;
    return false;
}

/// What is wrong, in words that follow the file's name; empty: nothing.
std::string firstDifference(const Objects& found, const Objects& wanted) {
    for (const auto& [key, object] : found) {
        const auto& [type, name] = key;
        if (const auto ours = wanted.find(key); ours != wanted.end()) {
            if (!(ours->second == object))
                return "has " + kindOf(type) + " " + quoted(name) + " that is not as this program makes it";
            continue;
        }
        if (mayBeThere(key, object)) continue;
        std::string text = "has " + kindOf(type) + " " + quoted(name);
        for (const auto& [other, ours] : wanted)
            if (other.second == name) return text + " where a " + other.first + " of that name belongs";
        return text + " that this program did not make";
    }
    for (const auto& [key, object] : wanted)
        if (!found.contains(key)) return "lacks the " + key.first + " " + quoted(key.second);
    return {};
}

/// Two tables in one place, or one that is nowhere: damage, or the work of somebody who wrote into the
/// schema.
std::string wrongPlace(SQLite::Database& database) {
    SQLite::Statement rows(database, "SELECT name, rootpage, type IN ('table', 'index') FROM sqlite_schema");
    std::set<std::int64_t> places{1};
    while (rows.executeStep()) {
        const std::int64_t place = rows.getColumn(1).getInt64();
        const bool stored = rows.getColumn(2).getInt() != 0;
        if (stored ? place < 2 || !places.insert(place).second : place != 0)
            return "keeps " + quoted(textOf(rows, 0)) + " in a place where it cannot be";
    }
    return {};
}

}  // namespace

Result<void> checkSchema(Connection& connection, const std::filesystem::path& path, int version,
                         const std::vector<SchemaStep>& steps) {
    return guarded(path.string() + " cannot be opened", [&]() -> Result<void> {
        SQLite::Statement encoding(connection.database(), "PRAGMA encoding");
        if (encoding.executeStep() && textOf(encoding, 0) != "UTF-8")
            return core::fail(ErrorKind::Refused, path.string() +
                                                      " keeps its texts in another encoding than UTF-8, "
                                                      "which this program never does" +
                                                      kRemedy);
        const Objects found = read(connection.database());
        std::string wrong = &steps == &schemaSteps() ? firstDifference(found, ofForm(version))
                                                     : firstDifference(found, made(version, steps));
        if (wrong.empty()) wrong = wrongPlace(connection.database());
        if (wrong.empty()) return {};
        return core::fail(ErrorKind::Refused, path.string() + " " + wrong + kRemedy);
    });
}

}  // namespace markerlamp::db
