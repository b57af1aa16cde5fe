#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What the stores of records share that are added and never changed: listing them, adding one once.

#include "core/base/moment.h"
#include "core/base/result.h"
#include "db/program_file.h"
#include "db/sqlite/connection.h"
#include "db/sqlite/failure.h"
#include "db/store/trail_store.h"

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace markerlamp::db {

/// @param trainee bound to a parameter that the statement has only where it is about one or all of them
template <class Record>
core::Result<std::vector<Record>> listed(Connection& connection, const char* sql, const std::string& what,
                                         Record (*read)(const SQLite::Statement&),
                                         const std::optional<std::string>& trainee = {}) {
    return guarded("the " + what + " cannot be read", [&]() -> core::Result<std::vector<Record>> {
        Query query = connection.query(sql);
        if (trainee) query->bind(1, *trainee);  // else NULL, as every parameter begins
        std::vector<Record> list;
        while (query->executeStep()) list.push_back(read(*query));
        return list;
    });
}

/// How a kind of record is called, found, and written as a document.
template <class Record>
struct KindOfRecord {
    const char* name;
    const char* select;
    Record (*read)(const SQLite::Statement&);
    std::string (*toDocument)(const std::vector<Record>&);
    core::Result<std::vector<Record>> (*fromDocument)(std::string_view, const std::string&);
    const char* what = nullptr;  ///< the trail's word for adding one; none: the trail says nothing of it
};
/// What goes into the file must be able to leave it as a document and to come back.
template <class Record>
core::Result<void> checked(const KindOfRecord<Record>& kind, const Record& record) {
    const auto read = kind.fromDocument(kind.toDocument({record}), {});
    if (read && *read == std::vector{record}) return {};
    core::Error error;
    error.message = std::string("the ") + kind.name + " cannot be stored";
    if (!read) error.problems = read.error().problems;
    for (core::Problem& problem : error.problems) problem.line = 0;  // there is no document
    return core::fail(std::move(error));
}

/// The record of this id, when the file has one, must be the same. `insert` runs in a transaction.
/// @param trainee whom the record is about
template <class Record>
core::Result<Added> addOnce(Connection& connection, TrailStore& trail, const KindOfRecord<Record>& kind,
                            const Record& record, const std::string& trainee,
                            const std::function<core::Result<void>()>& insert) {
    if (auto sound = checked(kind, record); !sound) return core::fail(sound.error());
    return guarded(std::string("the ") + kind.name + " cannot be stored", [&]() -> core::Result<Added> {
        {
            Query query = connection.query(kind.select);
            query->bind(1, record.id);
            if (query->executeStep()) {
                if (kind.read(*query) == record) return Added::AlreadyThere;
                return core::fail(core::ErrorKind::Conflict,
                                  std::string("another ") + kind.name + " " + record.id +
                                      " is in the file and stays as it is; two different ones cannot have "
                                      "one id");
            }
        }
        auto done = connection.transaction([&]() -> core::Result<void> {
            if (auto inserted = insert(); !inserted || kind.what == nullptr) return inserted;
            return trail.add(
                {kind.what, trainee, record.id, core::wordsOfDocument(kind.toDocument({record})), {}});
        });
        if (!done) return core::fail(done.error());
        return Added::New;
    });
}

inline core::Result<std::int64_t> momentIn(const std::string& at) {
    const auto ms = core::millisecondsOf(at);
    if (ms) return *ms;
    return core::fail(core::ErrorKind::Refused,
                      "\"" + at +
                          "\" is not a date and time with its offset; write it like "
                          "2026-03-02T06:10:00-05:00");
}

}  // namespace markerlamp::db
