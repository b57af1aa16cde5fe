#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// JSON Lines, read strictly: one object a line, no doubled or unknown key, bounded in size and nesting; every
// problem names its line and key. For core's own readers: it shows the JSON library, which stays inside core.

#include "core/base/result.h"

#include <nlohmann/json.hpp>

#include <cstddef>
#include <functional>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace markerlamp::core {

using Json = nlohmann::ordered_json;

inline constexpr std::size_t kMaxIdBytes = 200;
inline constexpr std::size_t kMaxTextBytes = 20'000;

/// Collects the problems of one document, up to a bound.
class ProblemList {
public:
    explicit ProblemList(std::string file) : m_file(std::move(file)) {}
    void add(int line, std::string path, std::string id, std::string message, std::string remedy);
    [[nodiscard]] bool full() const;
    [[nodiscard]] std::vector<Problem>& problems() { return m_problems; }

private:
    std::string m_file;
    std::vector<Problem> m_problems;
};

/// One JSON object of one line; problems name its keys. The readers return an empty value where they report.
class JsonLine {
public:
    JsonLine(ProblemList& problems, int number, Json object)
        : m_problems(problems), m_number(number), m_object(std::move(object)) {}

    void problem(const std::string& key, const std::string& message, const std::string& remedy);
    [[nodiscard]] bool has(const std::string& key) const { return m_object.contains(key); }
    [[nodiscard]] const Json& at(const std::string& key) const { return m_object.at(key); }
    [[nodiscard]] bool good() const { return m_good; }

    void onlyKeys(const std::set<std::string>& allowed, const std::string& where);
    /// Non-empty text, unless it may be empty. At most kMaxIdBytes: an id or name, without control
    /// characters.
    std::string text(const std::string& key, bool required, std::size_t most = kMaxIdBytes,
                     bool mayBeEmpty = false);
    std::optional<double> number(const std::string& key, bool required);
    /// A whole number that must be there, from `least` up.
    std::optional<int> integer(const std::string& key, int least = 1);
    std::optional<bool> boolean(const std::string& key, bool required);
    /// A list, possibly empty, of different texts.
    std::vector<std::string> texts(const std::string& key);
    /// ISO 8601 date and time with offset.
    std::string moment(const std::string& key);
    /// "format" must be there and say this.
    void format(std::string_view known);

private:
    ProblemList& m_problems;
    int m_number;
    Json m_object;
    bool m_good = true;
};

/// How large a document may be, and what its readers call things.
struct JsonLinesForm {
    std::size_t mostBytes = 0;
    std::string tooLarge;  ///< message and remedy
    std::string tooLargeRemedy;
    std::size_t mostLines = 0;
    std::string tooManyLines;
    std::string tooManyLinesRemedy = "shorten it";
    std::string oneALine;  ///< remedy for a line that is too long
};

/// Hands every line on, its number from 1; nullptr for a line that cannot be read and has been reported.
void readJsonLines(std::string_view text, const JsonLinesForm& form, ProblemList& problems,
                   const std::function<void(int, JsonLine*)>& take);

/// A text in JSON's quotes.
[[nodiscard]] std::string quotedJson(const std::string& text);

/// Builds one JSON object with keys in the order in which they are added.
class JsonObjectText {
public:
    JsonObjectText& raw(std::string_view key, const std::string& value);
    JsonObjectText& text(std::string_view key, const std::string& value);
    JsonObjectText& textIf(std::string_view key, const std::string& value);
    JsonObjectText& number(std::string_view key, double value);
    JsonObjectText& numberIf(std::string_view key, const std::optional<double>& value);
    JsonObjectText& boolean(std::string_view key, bool value);
    JsonObjectText& list(std::string_view key, const std::vector<std::string>& values);
    [[nodiscard]] std::string done() const { return m_text + "}"; }

private:
    std::string m_text = "{";
};

}  // namespace markerlamp::core
