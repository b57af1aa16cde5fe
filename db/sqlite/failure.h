#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Turns what SQLite reports into core errors. SQLite's codes end here.

#include "core/base/result.h"

#include <SQLiteCpp/Exception.h>

#include <exception>
#include <string>
#include <utility>

namespace markerlamp::db {

/// The error for a failed call. @param doing what was tried, e.g. "the attempt could not be stored"
[[nodiscard]] core::Error failure(const SQLite::Exception& e, const std::string& doing);

/// The machine's doing or another program's: the same request may be met later.
[[nodiscard]] inline bool mayPass(const core::Error& error) {
    return error.kind == core::ErrorKind::Machine || error.kind == core::ErrorKind::Busy;
}

/// Runs `body`, which returns a core::Result, and turns what the library throws into an error.
template <class Body>
auto guarded(const std::string& doing, Body&& body) -> decltype(body()) {
    try {
        return std::forward<Body>(body)();
    } catch (const SQLite::Exception& e) {
        return core::fail(failure(e, doing));
    } catch (const std::exception& e) {
        return core::fail(core::ErrorKind::Machine, doing, e.what());
    }
}

}  // namespace markerlamp::db
