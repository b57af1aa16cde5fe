#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// How core, db and forms report what a user, a file or the machine can cause. Bugs are asserted instead.

#include <string>
#include <tl/expected.hpp>
#include <vector>

namespace markerlamp::core {

/// One thing that is wrong with an input, and what would be right.
struct Problem {
    std::string file;  ///< path or name of the document as the caller gave it; empty when there is only one
    int line = 0;      ///< 1-based; 0 when no line can be named
    std::string
        path;        ///< place inside the document, e.g. zones[2].steps[4].say[0].id; a JSON key for attempts
    std::string id;  ///< offending id, key or value; empty when it does not apply
    std::string message;  ///< what is wrong, one sentence without full stop
    std::string remedy;   ///< what would be right, one sentence without full stop

    bool operator==(const Problem&) const = default;
};

enum class ErrorKind {
    Refused,    ///< the input is not acceptable; exit code 1 of the command line
    Usage,      ///< the request itself makes no sense; exit code 2
    Machine,    ///< disk full, no access, i/o error; exit code 3
    Conflict,   ///< same id, other content; nothing was changed; exit code 1
    NewerFile,  ///< made by a newer program; exit code 1
    NotFound,   ///< no such record; exit code 1
    Busy,       ///< somebody else holds the file; exit code 3
};

struct Error {
    ErrorKind kind = ErrorKind::Refused;
    std::string message;            ///< one sentence for people
    std::string detail;             ///< for the log; never personal data
    std::vector<Problem> problems;  ///< every problem found, in document order

    bool operator==(const Error&) const = default;
};

template <class T>
using Result = tl::expected<T, Error>;

/// Shorthand: `return fail(ErrorKind::Refused, "...");`
inline tl::unexpected<Error> fail(ErrorKind kind, std::string message, std::string detail = {}) {
    return tl::unexpected<Error>(Error{kind, std::move(message), std::move(detail), {}});
}
inline tl::unexpected<Error> fail(std::string message, std::vector<Problem> problems) {
    return tl::unexpected<Error>(Error{ErrorKind::Refused, std::move(message), {}, std::move(problems)});
}
inline tl::unexpected<Error> fail(Error error) {
    return tl::unexpected<Error>(std::move(error));
}

/// "file:line: path: message; remedy" for terminals and logs of problems.
[[nodiscard]] std::string toText(const Problem& problem);

}  // namespace markerlamp::core
