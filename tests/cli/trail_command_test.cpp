// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// trail, and what verify says of it, as the built program.

#include "in_folder.h"
#include "run_program.h"

#include <gmock/gmock.h>
#include <nlohmann/json.hpp>

#include <sstream>

namespace markerlamp::cli {
namespace {

using ::testing::HasSubstr;

class TrailCommand : public InFolder {
protected:
    void SetUp() override {
        InFolder::SetUp();
        ASSERT_EQ(runProgram({"new", file(), "--demo", "--demo-until", "2026-03-13"}).exitCode, 0);
    }
    [[nodiscard]] std::string file() const { return at("p.markerlamp"); }
    [[nodiscard]] std::vector<nlohmann::json> entries(const std::vector<std::string>& more = {}) const {
        std::vector<std::string> words{"trail", file(), "--json"};
        words.insert(words.end(), more.begin(), more.end());
        const ProgramRun run = runProgram(words);
        EXPECT_EQ(run.exitCode, 0) << run.standardError;
        std::vector<nlohmann::json> list;
        std::istringstream lines(run.standardOutput);
        for (std::string line; std::getline(lines, line);) list.push_back(nlohmann::json::parse(line));
        return list;
    }
};

TEST_F(TrailCommand, ListsWhoChangedWhat) {
    const auto all = entries();
    ASSERT_GT(all.size(), 100u);
    for (std::size_t i = 0; i < all.size(); ++i) EXPECT_EQ(all[i].at("number"), i + 1);
    const std::string trainee = [&] {
        for (const auto& entry : all)
            if (entry.at("what") == "attempt.added") return entry.at("trainee").get<std::string>();
        return std::string();
    }();
    ASSERT_FALSE(trainee.empty());
    const auto about = entries({"--trainee", trainee});
    EXPECT_GT(about.size(), 1u);
    EXPECT_LT(about.size(), all.size());
    for (const auto& entry : about) EXPECT_EQ(entry.at("trainee"), trainee);
    const ProgramRun plain = runProgram({"trail", file(), "--trainee", trainee});
    EXPECT_EQ(plain.exitCode, 0);
    EXPECT_THAT(plain.standardOutput, HasSubstr("attempt.added"));
    EXPECT_EQ(runProgram({"trail"}).exitCode, 2);
    EXPECT_EQ(runProgram({"trail", at("none")}).exitCode, 1);
    EXPECT_EQ(runProgram({"trail", file(), "--trainee", ""}).exitCode, 2);
}

TEST_F(TrailCommand, VerifyNamesTheLastSeal) {
    const ProgramRun run = runProgram({"verify", file()});
    EXPECT_EQ(run.exitCode, 0) << run.standardError;
    EXPECT_THAT(run.standardOutput, HasSubstr("every seal fits"));
    EXPECT_THAT(run.standardOutput, HasSubstr(entries().back().at("seal").get<std::string>().substr(0, 12)));
    const auto json = nlohmann::json::parse(runProgram({"verify", file(), "--json"}).standardOutput);
    EXPECT_EQ(json.at("trail"), entries().size());
    EXPECT_EQ(json.at("seal"), entries().back().at("seal"));
    EXPECT_EQ(json.at("unsealed"), 0);
    EXPECT_TRUE(json.at("seals").empty());
}

}  // namespace
}  // namespace markerlamp::cli
