// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// No SQL is put together from what people or files say. The sources are looked through: text of SQL stands in
// whole literals, values are bound, and every place that joins SQL with something is in the list here, with
// what it joins. SQL stands in db/ only.

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <sstream>
#include <string>
#include <vector>

namespace markerlamp::db {
namespace {

struct Literal {
    std::string text;     ///< with those that follow it without an operator
    bool joined = false;  ///< + before or after it
};

std::string codeOf(const std::filesystem::path& path) {
    std::ostringstream text;
    text << std::ifstream(path).rdbuf();
    return std::regex_replace(text.str(), std::regex("(^|\\n)\\s*(//|#)[^\\n]*"), "\n");
}

/// Literals of code, in order. Raw ones and characters are stepped over.
std::vector<Literal> literalsOf(const std::string& code) {
    std::vector<Literal> literals;
    const auto next = [&](std::size_t at) { return code.find_first_not_of(" \t\r\n\\", at); };
    const auto isJoin = [&](std::size_t at) {
        return at != std::string::npos &&
               (code[at] == '+' || (code[at] == '=' && at > 0 && code[at - 1] == '+'));
    };
    std::size_t after = std::string::npos;  // where the literal before ended
    for (std::size_t at = 0; at < code.size(); ++at) {
        if (code[at] == '\'' && (at == 0 || std::isalnum(static_cast<unsigned char>(code[at - 1])) == 0)) {
            at += code[at + 1] == '\\' ? 3 : 2;
            continue;
        }
        if (code[at] != '"') continue;
        const std::size_t begin = at;
        for (++at; at < code.size() && code[at] != '"'; ++at)
            if (code[at] == '\\') ++at;
        const std::string text = code.substr(begin + 1, at - begin - 1);
        const std::size_t before =
            begin == 0 ? std::string::npos : code.find_last_not_of(" \t\r\n(", begin - 1);
        if (after != std::string::npos && next(after) == begin)
            literals.back().text += text;
        else
            literals.push_back({text, isJoin(before)});
        after = at + 1;
        std::size_t behind = next(after);
        while (behind < code.size() && code[behind] == ')')
            behind = next(behind + 1);  // std::string("...") +
        if (behind < code.size() && code[behind] == '+') literals.back().joined = true;
    }
    return literals;
}

bool isSql(const std::string& text) {
    static const std::regex begins(
        "^\\s*(SELECT|INSERT|UPDATE|DELETE|CREATE|DROP|ALTER|ATTACH|PRAGMA|SAVEPOINT|ROLLBACK|RELEASE|BEGIN|"
        "VACUUM|WITH) ");
    static const std::regex holds(" (FROM|WHERE|VALUES|INTO|JOIN|EXCEPT|ORDER BY) ?|\\(SELECT ");
    return std::regex_search(text, begins) || std::regex_search(text, holds);
}

using Places = std::map<std::string, std::vector<std::string>>;

/// SQL that is joined with something, by file; whole: all SQL.
Places sqlIn(const std::string& module, bool whole) {
    Places places;
    const std::filesystem::path root = MARKERLAMP_SOURCE_DIR;
    for (const auto& entry : std::filesystem::recursive_directory_iterator(root / module)) {
        const auto& path = entry.path();
        if (path.extension() != ".cpp" && path.extension() != ".h") continue;
        for (const Literal& literal : literalsOf(codeOf(path)))
            if ((whole || literal.joined) && isSql(literal.text))
                places[std::filesystem::relative(path, root).string()].push_back(literal.text);
    }
    return places;
}

TEST(SqlInTheSources, IsFoundWhereItIsJoined) {
    const auto found = literalsOf(R"(f("SELECT a " "FROM b"); g("DELETE FROM " + name); h(x + " WHERE y");
        i(std::string("PRAGMA ") + name); j("not sql" + name); k('"', "SELECT 1");)");
    std::vector<std::string> joined;
    for (const Literal& literal : found)
        if (literal.joined && isSql(literal.text)) joined.push_back(literal.text);
    EXPECT_EQ(joined, (std::vector<std::string>{"DELETE FROM ", " WHERE y", "PRAGMA "}));
    EXPECT_EQ(found.front().text, "SELECT a FROM b");
}

TEST(SqlInTheSources, IsJoinedOnlyWithWhatTheProgramItselfSays) {
    // How many pieces of SQL are joined with something, by file, and what that is.
    const std::map<std::string, std::size_t> allowed = {
        {"db/copies/difference.cpp", 14},   // main or copy; tables of files that checkSchema() let in
        {"db/copies/sound_copy.cpp", 1},    // names of pragmas in its own code
        {"db/copies/verify.cpp", 1},        // a number of its own
        {"db/salvage/raw_program.cpp", 1},  // one of two orders of its own
        {"db/salvage/salvage.cpp", 4},      // tables and columns of the file it has just made itself
        {"db/schema/migrator.cpp", 2},      // numbers of its own
        {"db/sqlite/connection.cpp", 4},    // names of pragmas in our code; savepoints are numbered
        {"db/whole_files.cpp", 7},          // main or other; names of tables are quoted
    };
    std::map<std::string, std::size_t> found;
    std::string shown;
    for (const auto& [file, texts] : sqlIn("db", false)) {
        found[file] = texts.size();
        for (const std::string& text : texts) shown += file + ": " + text + "\n";
    }
    EXPECT_EQ(found, allowed) << "bind values; a name that must be joined needs its reason here\n" << shown;
}

TEST(SqlInTheSources, StandsInDbOnly) {
    for (const char* module : {"core", "forms", "app"}) {
        for (const auto& [file, texts] : sqlIn(module, true)) {
            for (const std::string& text : texts)
                EXPECT_FALSE(
                    std::regex_search(text, std::regex("^\\s*(SELECT|INSERT INTO|DELETE FROM|PRAGMA) ")))
                    << file << ": " << text;
        }
    }
}

}  // namespace
}  // namespace markerlamp::db
