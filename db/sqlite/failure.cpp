// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/sqlite/failure.h"

#include <sqlite3.h>

namespace markerlamp::db {

namespace {

/// The name in "malformed database schema (name) - why"; empty for another sentence.
std::string malformed(const std::string& sentence) {
    const std::string start = "malformed database schema (";
    if (!sentence.starts_with(start)) return {};
    std::string name = sentence.substr(start.size(), sentence.find(')') - start.size()).substr(0, 60);
    std::erase_if(name, [](unsigned char c) { return c < 0x20 || c >= 0x7F; });
    return name;
}

}  // namespace

core::Error failure(const SQLite::Exception& e, const std::string& doing) {
    using core::ErrorKind;
    const int code = e.getErrorCode() & 0xff;
    // The library's own words may quote values of a row only where a trigger or constraint of ours names
    // them, and ours do not: nothing personal gets into the log.
    const std::string detail = "SQLite " + std::to_string(e.getExtendedErrorCode()) + ": " + e.what();
    const auto error = [&](ErrorKind kind, const std::string& why) {
        return core::Error{kind, doing + ": " + why, detail, {}};
    };
    switch (code) {
        case SQLITE_BUSY:
        case SQLITE_LOCKED:
            return error(ErrorKind::Busy, "another program is writing to the file");
        case SQLITE_CONSTRAINT:
        case SQLITE_MISMATCH:
        case SQLITE_TOOBIG:
            return error(ErrorKind::Refused, e.what());
        case SQLITE_NOTADB:
            return error(ErrorKind::Refused, "the file is not a program file");
        case SQLITE_CORRUPT:
            if (const std::string name = malformed(e.what()); !name.empty())
                return error(ErrorKind::Machine, "what the file says about its \"" + name +
                                                     "\" makes no sense: the file is damaged; take the "
                                                     "newest good copy of it");
            return error(ErrorKind::Machine, "the file is damaged; take the newest good copy of it");
        case SQLITE_FULL:
            return error(ErrorKind::Machine, "the disk is full");
        case SQLITE_READONLY:
        case SQLITE_PERM:
        case SQLITE_AUTH:
            return error(ErrorKind::Machine, "the file or its folder may not be written to");
        case SQLITE_CANTOPEN:
            return error(ErrorKind::Machine, "the file cannot be opened");
        case SQLITE_IOERR:
            return error(ErrorKind::Machine, "the disk reports an error");
        default:
            return error(ErrorKind::Machine, e.what());
    }
}

}  // namespace markerlamp::db
