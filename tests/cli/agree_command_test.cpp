// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "in_folder.h"
#include "run_program.h"

#include <nlohmann/json.hpp>

namespace markerlamp::cli {
namespace {

using nlohmann::json;

class AgreeCommand : public InFolder {
protected:
    std::string write(const std::string& name, const std::string& text) {
        std::ofstream(at(name), std::ios::binary) << text;
        return at(name);
    }
};

// Cohen 1960: 200 cases, kappa .492; see tests/data/agreement.json.
TEST_F(AgreeCommand, GivesTheCoefficientsOfATable) {
    std::string table = "a,b\n";
    const int counts[3][3] = {{88, 10, 2}, {14, 40, 6}, {18, 10, 12}};
    for (int i = 0; i < 3; ++i)
        for (int j = 0; j < 3; ++j)
            for (int k = 0; k < counts[i][j]; ++k)
                table += std::to_string(i) + "," + std::to_string(j) + "\n";
    const ProgramRun run =
        runProgram({"agree", "--table", write("t.csv", table), "--classes", "3", "--json"});
    ASSERT_EQ(run.exitCode, 0) << run.standardError;
    const json answer = json::parse(run.standardOutput);
    EXPECT_NEAR(answer["percent"], 70, 1e-9);
    EXPECT_NEAR(answer["kappa"], 0.4915254, 1e-6);
    EXPECT_NEAR(answer["kappa_ase"], 0.0510018, 1e-6);
    EXPECT_NEAR(answer["kappa_linear"], 0.4736842, 1e-6);
    EXPECT_NEAR(answer["kappa_quadratic"], 0.4545455, 1e-6);
    for (const char* key :
         {"alpha_nominal", "alpha_ordinal", "ac1", "fleiss", "kappa_linear_ase", "kappa_quadratic_ase"})
        EXPECT_TRUE(answer[key].is_number()) << key;
}

TEST_F(AgreeCommand, SaysNullWhereACoefficientIsUndefined) {
    const std::string same = write("same.csv", "a,b,c\n1,1,1\n1,,1\n");
    const ProgramRun run = runProgram({"agree", "--table", same, "--classes", "2", "--json"});
    ASSERT_EQ(run.exitCode, 0) << run.standardError;
    const json answer = json::parse(run.standardOutput);
    EXPECT_EQ(answer["percent"], 100);
    EXPECT_TRUE(answer["alpha_nominal"].is_null());
    EXPECT_TRUE(answer["fleiss"].is_null());
    EXPECT_FALSE(answer.contains("kappa"));  // three raters
}

TEST_F(AgreeCommand, RefusesWhatIsNoTable) {
    const ProgramRun bad =
        runProgram({"agree", "--table", write("bad.csv", "a,b\n0,7\n"), "--classes", "2", "--json"});
    EXPECT_EQ(bad.exitCode, 1);
    EXPECT_TRUE(bad.standardOutput.empty());
    EXPECT_NE(bad.standardError.find(":2: b:"), std::string::npos) << bad.standardError;
    EXPECT_EQ(runProgram({"agree", "--table", at("bad.csv")}).exitCode, 2);
    EXPECT_EQ(runProgram({"agree", "--table", at("bad.csv"), "--classes", "two"}).exitCode, 2);
    EXPECT_EQ(runProgram({"agree", "--table", at("bad.csv"), "--classes", "1"}).exitCode, 2);
    EXPECT_EQ(runProgram({"agree", "--table", at("none.csv"), "--classes", "2"}).exitCode, 1);
    EXPECT_EQ(runProgram({"agree"}).exitCode, 2);
}

TEST_F(AgreeCommand, ComparesTheSharedAttemptsOfAProgram) {
    ASSERT_EQ(runProgram({"new", at("p.markerlamp")}).exitCode, 0);
    write("two.rubric.yaml",
          "format: markerlamp.rubric/1\nid: two\nedition: 1\ntitle: Two\npass: {percent: 50}\nzones:\n"
          "  - id: z\n    title: Z\n    steps:\n"
          "      - {id: a, title: A, show: Point at it}\n      - {id: b, title: B, show: Point at it}\n");
    const auto attempt = [](const std::string& id, const std::string& instructor, const std::string& of,
                            const std::string& second) {
        return R"({"format":"markerlamp.attempt/1","id":")" + id +
               R"(","rubric":"two","edition":1,"trainee":"t","instructor":")" + instructor +
               R"(","bus":"1","equipment":[],"zones":["z"],"started":"2026-03-02T06:10:00-05:00")" +
               (of.empty() ? "" : R"(,"of":")" + of + "\"") + "}\n" +
               R"({"n":1,"t":0,"do":"show","step":"a"})" + "\n" + R"({"n":2,"t":1,"do":")" + second +
               R"(","step":"b"})" + "\n" + R"({"n":3,"t":2,"do":"end"})" + "\n";
    };
    const std::string first = "00000000-0000-4000-8000-000000000001";
    write("1.attempt.jsonl", attempt(first, "i1", "", "show"));
    write("2.attempt.jsonl", attempt("00000000-0000-4000-8000-000000000002", "i2", first, "omit"));
    ASSERT_EQ(runProgram({"import", at("p.markerlamp"), at("two.rubric.yaml"), at("1.attempt.jsonl"),
                          at("2.attempt.jsonl")})
                  .exitCode,
              0);
    const ProgramRun run = runProgram({"agree", at("p.markerlamp"), "--json"});
    ASSERT_EQ(run.exitCode, 0) << run.standardError;
    const json answer = json::parse(run.standardOutput);
    EXPECT_EQ(answer["shared_attempts"], 1);
    EXPECT_EQ(answer["measures"][0]["of"], "shown");
    EXPECT_EQ(answer["measures"][0]["counts"], json::parse("[[0,0],[1,1]]"));
    EXPECT_EQ(answer["measures"][0]["percent"], 50);
    EXPECT_EQ(answer["steps"][0]["step"], "b");
    EXPECT_EQ(answer["pairs"][0]["too_few"], true);
    // Another second scoring, by the code that people typed (made from the first's id), and a settled record,
    // which is nobody's scoring.
    write("3.attempt.jsonl", attempt("00000000-0000-4000-8000-000000000003", "i3", "YGBSRS", "show"));
    write("4.attempt.jsonl", attempt("00000000-0000-4000-8000-000000000004", "i1", first, "show"));
    write("settlements.jsonl",
          "{\"format\":\"markerlamp.settlements/1\"}\n{\"id\":\"s\",\"first\":\"" + first +
              R"(","second":"00000000-0000-4000-8000-000000000002","settled":"00000000-0000-4000-8000-)" +
              R"(000000000004","by":"i1","at":"2026-03-03T06:10:00-05:00","first_right":["b"],)" +
              R"("second_right":[],"other":[],"open":[]})" + "\n");
    ASSERT_EQ(runProgram({"import", at("p.markerlamp"), at("3.attempt.jsonl"), at("4.attempt.jsonl"),
                          at("settlements.jsonl")})
                  .exitCode,
              0);
    const json more = json::parse(runProgram({"agree", at("p.markerlamp"), "--json"}).standardOutput);
    EXPECT_EQ(more["shared_attempts"], 1);
    ASSERT_EQ(more["pairs"].size(), 3u) << "of i1, i2 and i3, each with each";
    EXPECT_EQ(more["pairs"][0]["attempts"], 1) << "the settled record is no scoring of i1";
    const ProgramRun text = runProgram({"agree", at("p.markerlamp")});
    EXPECT_NE(text.standardOutput.find("read differently in 1 of 1: b"), std::string::npos)
        << text.standardOutput;
}

}  // namespace
}  // namespace markerlamp::cli
