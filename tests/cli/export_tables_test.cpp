// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The tables that `export` writes, read by others: openpyxl, Python's csv module, Python's hashlib.

#include "in_folder.h"
#include "run_program.h"

#include "../support/other_reader.h"

#include "core/base/csv.h"

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <regex>
#include <set>

#include <sys/stat.h>

namespace markerlamp::cli {
namespace {

using nlohmann::json;
using testing::readByOther;

constexpr const char* kNoReader =
    "no /usr/bin/python3 with openpyxl: what was written is not read by others here";

class ExportTables : public InFolder {
protected:
    /// The demo with some people whose names no table should trip over.
    void makeProgram() {
        ASSERT_EQ(runProgram({"new", at("p.markerlamp"), "--demo", "--demo-until", "2026-03-13"}).exitCode,
                  0);
        std::ofstream(at("people.csv"))
            << "key,name,started,group,note\r\n"
            << "x-formula,=1+1,2026-01-05,+group,@SUM(A1:A9)\r\n"
            << "x-quotes,\"Quo \"\"ted\"\", Comma; Semi\",1890-02-03,,\"two\r\nlines\"\r\n"
            << "x-tab,\"\tTabbed\",,-,\"'apostrophe\"\r\n"
            << "x-far,Ñandú \xF0\x9F\x9A\x8C Łódź,2026-12-31,,\"\x01 bell\"\r\n";
        const ProgramRun run = runProgram({"import", at("p.markerlamp"), at("people.csv")});
        ASSERT_EQ(run.exitCode, 0) << run.standardError;
    }
    void expectWritten(const std::vector<std::string>& words) {
        std::vector<std::string> all{"export", at("p.markerlamp")};
        all.insert(all.end(), words.begin(), words.end());
        const ProgramRun run = runProgram(all);
        ASSERT_EQ(run.exitCode, 0) << run.standardError;
    }
    [[nodiscard]] std::string fileText(const std::string& name) const {
        std::ostringstream text;
        text << std::ifstream(at(name), std::ios::binary).rdbuf();
        return text.str();
    }
    [[nodiscard]] core::CsvTable csv(const std::string& name) const {
        return core::readCsv(fileText(name)).value();
    }
    static std::size_t column(const std::vector<std::string>& header, const std::string& name) {
        return static_cast<std::size_t>(std::ranges::find(header, name) - header.begin());
    }
};

/// Cards as the command `score` makes them of documents, by attempt.
std::map<std::string, json> scorecardsOf(const std::map<std::string, std::string>& attempts,
                                         const std::string& documents) {
    std::map<std::string, std::vector<std::string>> byRubric;
    for (const auto& [name, text] : attempts) {
        const json header = json::parse(text.substr(0, text.find('\n')));
        byRubric[header["rubric"].get<std::string>() + "-" + std::to_string(header["edition"].get<int>())]
            .push_back(documents + "/attempts/" + name);
    }
    std::map<std::string, json> cards;
    for (const auto& [rubric, files] : byRubric) {
        std::vector<std::string> words{"score", "--rubric", documents + "/rubrics/" + rubric + ".rubric.yaml",
                                       "--json"};
        words.insert(words.end(), files.begin(), files.end());
        const ProgramRun run = runProgram(words);
        EXPECT_EQ(run.exitCode, 0) << run.standardError;
        std::istringstream lines(run.standardOutput);
        for (std::string line; std::getline(lines, line);) {
            const json card = json::parse(line);
            cards.emplace(card["attempt"].get<std::string>(), card);
        }
    }
    return cards;
}

/// Counted in the documents that the same file gives, which are written by other code.
TEST_F(ExportTables, HoldEveryTraineeAttemptAndStepOnce) {
    makeProgram();
    expectWritten({"--csv", at("tables")});
    expectWritten({"--to", at("documents")});
    EXPECT_EQ(csv("tables/roster.csv").rows.size(), csv("documents/people.csv").rows.size());
    const core::CsvTable attempts = csv("tables/attempts.csv");
    const auto cards = scorecardsOf(filesOf("documents/attempts"), at("documents"));
    EXPECT_EQ(attempts.rows.size(), cards.size());
    std::size_t steps = 0;
    for (const auto& row : attempts.rows) {
        const auto cell = [&](const char* name) { return row[column(attempts.header, name)]; };
        if (cell("state") != "ended") {
            EXPECT_EQ(cell("percent"), "");
            continue;
        }
        const json& card = cards.at(cell("attempt"));
        EXPECT_EQ(cell("result"), card["result"]);
        EXPECT_NEAR(std::stod(cell("percent")), card["percent"].get<double>(), 1e-4);
        EXPECT_EQ(std::stoul(cell("steps")), card["steps"].size());
        steps += card["steps"].size();
    }
    EXPECT_GT(steps, 10000u);
    const core::CsvTable rows = csv("tables/steps.csv");
    ASSERT_EQ(rows.rows.size(), steps);
    std::map<std::string, std::size_t> next;
    for (const auto& row : rows.rows) {
        const auto cell = [&](const char* name) { return row[column(rows.header, name)]; };
        const json& step = cards.at(cell("attempt"))["steps"][next[cell("attempt")]++];
        EXPECT_EQ(cell("step"), step["step"]);
        EXPECT_EQ(cell("outcome"), step["outcome"]);
        EXPECT_EQ(cell("said"), std::to_string(step["said"].get<int>()));
        EXPECT_EQ(cell("position"),
                  step["position"].is_null() ? "" : std::to_string(step["position"].get<int>()));
    }
}

TEST_F(ExportTables, CsvIsReadByAnotherReaderAsItWasMeant) {
    makeProgram();
    expectWritten({"--csv", at("tables")});
    for (const char* name : {"roster", "attempts", "steps", "weak-zones"}) {
        const auto found = readByOther("read-csv.py", at(std::string("tables/") + name + ".csv"));
        if (!found) GTEST_SKIP() << kNoReader;
        const core::CsvTable own = csv(std::string("tables/") + name + ".csv");
        ASSERT_EQ((*found)["rows"].size(), own.rows.size() + 1) << name;
        EXPECT_TRUE((*found)["ends_in_crlf"]);
        EXPECT_EQ((*found)["rows"][0], own.header);
        for (std::size_t i = 0; i < own.rows.size(); ++i) ASSERT_EQ((*found)["rows"][i + 1], own.rows[i]);
    }
    const core::CsvTable roster = csv("tables/roster.csv");
    std::map<std::string, std::vector<std::string>> of;
    for (const auto& row : roster.rows) of[row[0]] = row;
    const auto cell = [&](const char* key, const char* name) {
        return of.at(key)[column(roster.header, name)];
    };
    EXPECT_EQ(cell("x-formula", "name"), "'=1+1");
    EXPECT_EQ(cell("x-formula", "group"), "'+group");
    EXPECT_EQ(cell("x-formula", "note"), "'@SUM(A1:A9)");
    EXPECT_EQ(cell("x-quotes", "name"), "Quo \"ted\", Comma; Semi");
    EXPECT_EQ(cell("x-quotes", "note"), "two\r\nlines");
    EXPECT_EQ(cell("x-tab", "name"), "'\tTabbed");
    EXPECT_EQ(cell("x-tab", "note"), "'apostrophe");
    EXPECT_EQ(cell("x-far", "name"), "Ñandú \xF0\x9F\x9A\x8C Łódź");
    EXPECT_EQ(cell("x-far", "last_attempt"), "");
}

TEST_F(ExportTables, ASpreadsheetHasNumbersDatesAndNoFormulas) {
    makeProgram();
    expectWritten({"--xlsx", at("p.xlsx")});
    expectWritten({"--csv", at("tables")});
    const auto book = readByOther("read-xlsx.py", at("p.xlsx"));
    if (!book) GTEST_SKIP() << kNoReader;
    EXPECT_EQ((*book)["order"], json({"about", "roster", "attempts", "steps", "weak zones"}));
    EXPECT_TRUE((*book)["creator"].is_null());
    EXPECT_TRUE((*book)["last_modified_by"].is_null());
    EXPECT_EQ((*book)["title"], "Practice inspections");

    const std::set<std::string> dates{"started",     "permit_issued", "permit_expires", "medical_expires",
                                      "theory_date", "last_attempt",  "last_test",      "next_test"};
    const std::set<std::string> flags{
        "away",      "to_complete", "own_word", "too_little_data", "last_test_passed", "full",      "amended",
        "must_pass", "shown",       "prompted", "said_wrong",      "fault_called",     "displaced", "weak"};
    const std::set<std::string> percents{"theory_percent", "last_percent",  "percent", "shown_percent",
                                         "said_percent",   "order_percent", "target"};
    const std::set<std::string> shares{"chance",    "chance_low", "chance_high", "share",
                                       "share_low", "share_high", "chance_below"};
    std::map<char, int> kinds;
    for (const char* name : {"roster", "attempts", "steps", "weak-zones"}) {
        std::string title = name;
        std::ranges::replace(title, '-', ' ');
        const json& sheet = (*book)["sheets"][title];
        const core::CsvTable table = csv(std::string("tables/") + name + ".csv");
        EXPECT_EQ(sheet["frozen"], "A2") << name;
        ASSERT_EQ(sheet["rows"].size(), table.rows.size() + 1) << name;
        EXPECT_TRUE(sheet["filter"].get<std::string>().ends_with(std::to_string(table.rows.size() + 1)));
        for (std::size_t c = 0; c < table.header.size(); ++c) {
            const std::string& head = table.header[c];
            EXPECT_EQ(sheet["rows"][0][c][1], head);
            for (std::size_t r = 0; r < table.rows.size(); ++r) {
                const json& cell = sheet["rows"][r + 1][c];
                const std::string& text = table.rows[r][c];
                const auto type = cell[0].get<std::string>();
                ASSERT_NE(type, "f") << "a formula: " << cell;
                if (text.empty()) {
                    EXPECT_TRUE(cell[1].is_null()) << head << cell;
                    continue;
                }
                ++kinds[type[0]];
                if (head == "started" && text.starts_with("1890")) {
                    EXPECT_EQ(cell[1], text) << "a day before spreadsheets count is told as text";
                } else if (dates.contains(head) && name == std::string("roster")) {
                    EXPECT_EQ(type, "d") << head;
                    EXPECT_EQ(cell[1].get<std::string>().substr(0, 10), text);
                    EXPECT_EQ(cell[2], "yyyy-mm-dd");
                } else if (head == "started") {
                    EXPECT_EQ(type, "d");
                    EXPECT_EQ(cell[1].get<std::string>().substr(0, 16), text.substr(0, 16));
                } else if (flags.contains(head)) {
                    EXPECT_EQ(type, "b") << head;
                    EXPECT_EQ(cell[1], text == "yes");
                } else if (percents.contains(head)) {
                    EXPECT_EQ(type, "n");
                    EXPECT_EQ(cell[2], "0.00%");
                    EXPECT_NEAR(cell[1].get<double>(), std::stod(text) / 100, 1e-6) << head;
                } else if (shares.contains(head)) {
                    EXPECT_EQ(cell[2], "0.0%");
                    // Written one after the other: a forecast goes on with the clock.
                    EXPECT_NEAR(cell[1].get<double>(), std::stod(text), 1e-4) << head;
                } else if (type == "n") {
                    EXPECT_DOUBLE_EQ(cell[1].get<double>(), std::stod(text)) << head;
                } else {
                    // A text is the same text, without the apostrophe that CSV needs; openpyxl gives CR LF as
                    // LF.
                    ASSERT_EQ(type, "s") << head << cell;
                    std::string meant = text;
                    if (text.size() > 1 && text[0] == '\'' &&
                        std::string("=+-@\t").find(text[1]) != std::string::npos)
                        meant.erase(0, 1);
                    std::erase(meant, '\r');
                    if (const auto bell = meant.find('\x01'); bell != std::string::npos)
                        meant.replace(bell, 1, "\xEF\xBF\xBD");
                    EXPECT_EQ(cell[1], meant) << head;
                }
            }
        }
    }
    for (const char kind : {'n', 'd', 'b', 's'}) EXPECT_GT(kinds[kind], 100) << kind;
}

/// What the documents of the same file call people and things, and when.
class StudySecrets : public ExportTables {
protected:
    std::set<std::string> secrets() {
        std::set<std::string> found;
        const auto take = [&](const std::string& name, const std::vector<std::string>& columns) {
            const core::CsvTable table = csv("documents/" + name);
            for (const auto& row : table.rows)
                for (const std::string& one : columns) found.insert(row[column(table.header, one)]);
        };
        take("people.csv", {"key", "name", "group", "note", "started", "permit_issued", "permit_expires",
                            "medical_expires", "theory_date"});
        take("instructors.csv", {"key", "name"});
        take("buses.csv", {"title", "note"});  // keys of two digits: see below
        for (const auto& [name, text] : filesOf("documents/attempts")) {
            std::istringstream lines(text);
            for (std::string line; std::getline(lines, line);) {
                const json object = json::parse(line);
                for (const char* key : {"id", "trainee", "started", "rubric", "text", "by", "at"})
                    if (object.contains(key) && object[key].is_string())
                        found.insert(object[key].get<std::string>());
            }
        }
        for (const auto& row : csv("documents/program.csv").rows)
            if (row[0] == "program.title" || row[0] == "program.note") found.insert(row[1]);
        found.erase("");
        found.erase("-");  // the group of one whom nothing else would tell from a hyphen
        return found;
    }
};

TEST_F(StudySecrets, AreNowhereInAStudy) {
    makeProgram();
    expectWritten({"--to", at("documents")});
    expectWritten({"--study", at("study"), "--salt-file", at("salt")});
    const auto files = filesOf("study");
    ASSERT_EQ(files.size(), 6u);
    const std::set<std::string> words = secrets();
    EXPECT_GT(words.size(), 300u);
    EXPECT_TRUE(words.contains("Wren Larkspindle"));
    // Who began in 1890 may be moved to a day of this program's years, which is nobody's secret then.
    const std::regex began1890("(^|\n)[^,\n]*,[^,\n]*,(19|20[0-6])[^\n]*");
    for (const auto& [name, whole] : files) {
        const std::string text = name == "roster.csv" ? std::regex_replace(whole, began1890, "") : whole;
        EXPECT_LE(whole.size() - text.size(), 400u) << "one row at most";
        for (const std::string& word : words)
            EXPECT_EQ(text.find(word), std::string::npos) << word << " stands in " << name;
        EXPECT_EQ(text.find("2026-"), std::string::npos) << name;
        EXPECT_EQ(text.find("2025-"), std::string::npos) << name;
    }
    const core::CsvTable attempts = csv("study/attempts.csv");
    for (const auto& row : attempts.rows)
        EXPECT_EQ(row[column(attempts.header, "bus")].size(), 21u) << "a bus is named by its key only";
    // Names and words of the parts, too: first and last names by themselves.
    for (const auto& row : csv("documents/people.csv").rows) {
        std::istringstream parts(row[1]);
        for (std::string part; parts >> part;) {
            if (part.size() < 5) continue;
            for (const auto& [name, text] : files)
                EXPECT_EQ(text.find(part), std::string::npos) << part << " stands in " << name;
        }
    }
}

TEST_F(StudySecrets, WithTheSaltAnotherProgramFindsTheSameMarks) {
    makeProgram();
    expectWritten({"--csv", at("tables")});
    expectWritten({"--study", at("study"), "--salt-file", at("salt")});
    struct stat status = {};
    ASSERT_EQ(::stat(at("salt").c_str(), &status), 0);
    EXPECT_EQ(status.st_mode & 0777, 0600u);
    const auto run = testing::runScript("check-study.py", {at("tables"), at("study"), at("salt")});
    if (!run) GTEST_SKIP() << kNoReader;
    EXPECT_EQ(run->exitCode, 0) << run->output;
    EXPECT_NE(run->output.find("cells compared"), std::string::npos) << run->output;
}

TEST_F(StudySecrets, KeysStayWithTheSaltAndChangeWithoutIt) {
    makeProgram();
    for (const char* name : {"first", "second"})
        expectWritten({"--study", at(name), "--salt-file", at("salt")});
    expectWritten({"--study", at("third")});
    const auto key = [&](const char* name) {
        return csv(std::string(name) + "/attempts.csv").rows.front().front();
    };
    EXPECT_EQ(key("first"), key("second"));
    EXPECT_NE(key("first"), key("third"));
    EXPECT_NE(fileText("first/README.txt").find("The salt was kept"), std::string::npos);
    EXPECT_NE(fileText("third/README.txt").find("The salt was thrown away"), std::string::npos);
    for (const char* name : {"first", "third"}) {
        EXPECT_NE(fileText(std::string(name) + "/README.txt").find("PEOPLE CAN STILL BE RECOGNIZED"),
                  std::string::npos);
        const json dictionary = json::parse(fileText(std::string(name) + "/dictionary.json"));
        EXPECT_EQ(dictionary["trainees"], 20);
        EXPECT_EQ(dictionary["salt_kept"], name == std::string("first"));
        // Groups of the demo: January, March; those of the table: "+group" and "-".
        EXPECT_EQ(dictionary["groups"], 4);
        EXPECT_GE(dictionary["groups_of_few_trainees"], 2);
    }
}

TEST_F(ExportTables, NothingIsWrittenWhereSomethingIsRefused) {
    ASSERT_EQ(runProgram({"new", at("p.markerlamp")}).exitCode, 0);
    std::ofstream(at("salt")) << "not a salt\n";
    std::filesystem::create_directory(at("full"));
    std::ofstream(at("full/mine")) << "mine";
    const auto before = filesOf(".");
    const std::string file = at("p.markerlamp");
    const std::vector<std::pair<std::vector<std::string>, std::string>> runs{
        {{"--xlsx", at("p.markerlamp")}, "is the program file itself"},
        {{"--xlsx", at("full")}, "is a folder"},
        {{"--xlsx", at("none/p.xlsx")}, "there is no folder"},
        {{"--csv", at("full")}, "is there and not an empty folder"},
        {{"--csv", at("none/tables")}, "there is no folder"},
        {{"--study", at("full")}, "is there and not an empty folder"},
        {{"--study", at("study"), "--salt-file", at("salt")}, "is no salt file"},
        {{"--study", at("study"), "--salt-file", at("study/salt")}, "would travel with the study"},
        {{"--study", at("study"), "--salt-file", at("none/salt")}, "there is no folder"}};
    for (const auto& [words, message] : runs) {
        std::vector<std::string> all{"export", file};
        all.insert(all.end(), words.begin(), words.end());
        const ProgramRun run = runProgram(all);
        EXPECT_EQ(run.exitCode, 1) << ::testing::PrintToString(words);
        EXPECT_NE(run.standardError.find(message), std::string::npos) << run.standardError;
        EXPECT_EQ(run.standardOutput, "");
    }
    EXPECT_EQ(filesOf("."), before);
    EXPECT_FALSE(std::filesystem::exists(at("study")));
}

TEST_F(ExportTables, WrongUsageIsTold) {
    const std::vector<std::vector<std::string>> wrong{{"export", "f"},
                                                      {"export", "f", "--xlsx", ""},
                                                      {"export", "f", "--csv", "a", "--study", "b"},
                                                      {"export", "f", "--csv", "a", "--salt-file", "s"},
                                                      {"export", "f", "--study", "a", "--salt-file", ""},
                                                      {"export", "--csv", "a"},
                                                      {"export", "f", "g", "--csv", "a"}};
    for (const auto& words : wrong) {
        const ProgramRun run = runProgram(words);
        EXPECT_EQ(run.exitCode, 2) << ::testing::PrintToString(words);
        EXPECT_NE(run.standardError.find("Usage: markerlamp export"), std::string::npos);
    }
    const std::string help = runProgram({"export", "--help"}).standardOutput;
    for (const char* word : {"--xlsx", "--csv", "--study", "--salt-file", "apostrophe", "recognized"})
        EXPECT_NE(help.find(word), std::string::npos) << word;
}

TEST_F(ExportTables, AProgramWithoutAnybodyGivesHeadersOnly) {
    ASSERT_EQ(runProgram({"new", at("p.markerlamp")}).exitCode, 0);
    expectWritten({"--csv", at("tables")});
    expectWritten({"--study", at("study")});
    expectWritten({"--xlsx", at("p.xlsx")});
    for (const char* name : {"roster", "attempts", "steps", "weak-zones"})
        EXPECT_EQ(csv(std::string("tables/") + name + ".csv").rows.size(), 0u);
    EXPECT_NE(fileText("study/README.txt").find("none.\n"), std::string::npos);
    // A regular file that is there is replaced, a link stays one.
    std::filesystem::create_symlink("p.xlsx", at("link.xlsx"));
    expectWritten({"--xlsx", at("link.xlsx")});
    EXPECT_TRUE(std::filesystem::is_symlink(at("link.xlsx")));
    if (const auto book = readByOther("read-xlsx.py", at("p.xlsx"))) {
        EXPECT_EQ((*book)["sheets"]["steps"]["rows"].size(), 1u);
    }
}

}  // namespace
}  // namespace markerlamp::cli
