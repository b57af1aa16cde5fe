// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// forecast, drill and track, run as the built program on small programs made by hand and on the demo.

#include "core/readiness/practice_record.h"
#include "in_folder.h"
#include "run_program.h"

#include <gmock/gmock.h>
#include <nlohmann/json.hpp>

#include <ctime>
#include <fstream>
#include <set>
#include <sstream>
#include <string>
#include <vector>

namespace markerlamp::cli {
namespace {

using nlohmann::json;
using ::testing::HasSubstr;
using ::testing::Not;

constexpr const char* kAfterAll = "2026-03-20T00:00:00Z";

/// Every step of the yard rubric (tests/data/golden) for a bus with air brakes, with what must be said.
struct Done {
    const char* step;
    std::vector<const char*> say;
    const char* reading = nullptr;
};
const std::vector<Done> kYard{{"tires", {R"("point":"tread")", R"("point":"cuts")"}, nullptr},
                              {"lamps", {R"("point":"clean")"}, nullptr},
                              {"safe-start", {R"("point":"set")"}, nullptr},
                              {"static-leak", {R"("point":"limit","value":2,"unit":"psi")"}, nullptr},
                              {"applied-leak", {R"("point":"limit","value":3,"unit":"psi")"}, "2"},
                              {"knob", {R"("point":"range","low":20,"high":45,"unit":"psi")"}, nullptr}};

class ReadinessCommands : public InFolder {
protected:
    void SetUp() override {
        InFolder::SetUp();
        ASSERT_EQ(runProgram({"new", at("p.markerlamp")}).exitCode, 0);
        write("people.csv", "key,name\nt-able,Invented Able\nt-late,Invented Late\nt-new,Invented New\n");
        import({MARKERLAMP_TEST_DATA "/golden/yard.rubric.yaml", at("people.csv")});
    }

    void write(const std::string& name, const std::string& text) const {
        std::ofstream(at(name), std::ios::binary) << text;
    }
    void import(std::vector<std::string> paths) const {
        paths.insert(paths.begin(), {"import", at("p.markerlamp")});
        const ProgramRun run = runProgram(paths);
        ASSERT_EQ(run.exitCode, 0) << run.standardError;
    }

    /// A whole attempt in which these steps are left out.
    void addAttempt(const std::string& trainee, const std::string& started,
                    const std::set<std::string>& omitted = {}) {
        std::ostringstream text;
        char id[37];
        std::snprintf(id, sizeof id, "00000000-0000-4000-8000-%012d", ++m_attempts);
        text << R"({"format":"markerlamp.attempt/1","id":")" << id << R"(","rubric":")" << m_rubric
             << R"(","edition":2,"trainee":")" << trainee
             << R"(","instructor":"i-1","bus":"12","equipment":["air-brakes"],"zones":["outside","brakes"],)"
             << R"("started":")" << started << "\"}\n";
        int n = 0;
        const auto event = [&](const std::string& rest) {
            ++n;
            text << R"({"n":)" << n << R"(,"t":)" << n << R"(,"do":)" << rest << "}\n";
        };
        for (const Done& done : kYard) {
            const std::string step = std::string(R"(,"step":")") + done.step + "\"";
            if (omitted.contains(done.step)) {
                event("\"omit\"" + step);
                continue;
            }
            event("\"show\"" + step);
            for (const char* say : done.say) event("\"say\"" + step + "," + say);
            if (done.reading)
                event("\"reading\"" + step + R"(,"value":)" + done.reading + R"(,"unit":"psi")");
        }
        event("\"end\"");
        const std::string name = std::string(id) + ".attempt.jsonl";
        write(name, text.str());
        import({at(name)});
    }

    void addUsualAttempts() {
        for (int day = 2; day <= 7; ++day)
            addAttempt("t-able", "2026-03-0" + std::to_string(day) + "T06:10:00-05:00");
        for (int day = 2; day <= 5; ++day)
            addAttempt("t-late", "2026-03-0" + std::to_string(day) + "T07:10:00-05:00",
                       {"tires", "applied-leak"});
    }

    [[nodiscard]] ProgramRun forecast(std::vector<std::string> more) const {
        more.insert(more.begin(), {"forecast", at("p.markerlamp")});
        return runProgram(more);
    }
    [[nodiscard]] std::vector<json> lines(std::vector<std::string> more) const {
        more.push_back("--json");
        const ProgramRun run = forecast(std::move(more));
        EXPECT_EQ(run.exitCode, 0) << run.standardError;
        std::vector<json> all;
        std::istringstream text(run.standardOutput);
        for (std::string line; std::getline(text, line);) all.push_back(json::parse(line));
        return all;
    }

    int m_attempts = 0;
    std::string m_rubric = "yard";
};

TEST_F(ReadinessCommands, ForecastGivesALineATraineeInTheOrderOfKeys) {
    addUsualAttempts();
    const std::vector<json> all = lines({"--at", kAfterAll});
    ASSERT_EQ(all.size(), 3U);
    const std::set<std::string> keys{"trainee", "at", "attempts", "chance", "low", "high", "word", "gates"};
    for (const json& line : all) {
        std::set<std::string> found;
        for (const auto& [key, value] : line.items()) found.insert(key);
        EXPECT_EQ(found, keys);
        EXPECT_EQ(line["at"], kAfterAll);
        EXPECT_LE(0, line["low"]);
        EXPECT_LE(line["low"], line["chance"]);
        EXPECT_LE(line["chance"], line["high"]);
        EXPECT_LE(line["high"], 1);
        EXPECT_FALSE(line["gates"].empty());
        for (const json& gate : line["gates"]) {
            EXPECT_TRUE(gate["state"] == "met" || gate["state"] == "not met" || gate["state"] == "unknown");
            EXPECT_FALSE(gate["why"].get<std::string>().empty());
        }
    }
    EXPECT_EQ(all[0]["trainee"], "t-able");
    EXPECT_EQ(all[0]["attempts"], 6);
    EXPECT_EQ(all[1]["trainee"], "t-late");
    EXPECT_EQ(all[1]["attempts"], 4);
    EXPECT_GT(all[0]["chance"], all[1]["chance"]);
    EXPECT_EQ(all[2]["trainee"], "t-new");
    EXPECT_EQ(all[2]["attempts"], 0);
    EXPECT_EQ(all[2]["word"], "too little data");
    EXPECT_GT(all[2]["high"].get<double>() - all[2]["low"].get<double>(), 0.3);
    const std::vector<json> one = lines({"--trainee", "t-late", "--at", kAfterAll});
    ASSERT_EQ(one.size(), 1U);
    EXPECT_EQ(one[0], all[1]);
}

TEST_F(ReadinessCommands, WhatCameAtTheMomentOrLaterChangesNothing) {
    addUsualAttempts();
    const std::vector<std::string> question{"--at", "2026-03-10T06:00:00-05:00", "--json"};
    const ProgramRun before = forecast(question);
    ASSERT_EQ(before.exitCode, 0) << before.standardError;
    addAttempt("t-able", "2026-03-10T11:00:00Z", {"lamps", "knob"});  // that very moment
    addAttempt("t-late", "2026-03-11T06:00:00-05:00");
    addAttempt("t-new", "2026-03-12T06:00:00-05:00", {"safe-start"});
    EXPECT_EQ(forecast(question).standardOutput, before.standardOutput);
    addAttempt("t-able", "2026-03-10T10:59:00Z", {"lamps", "knob"});  // a minute earlier
    EXPECT_NE(forecast(question).standardOutput, before.standardOutput);
}

TEST_F(ReadinessCommands, AheadCountsFromEachTraineesOwnLastAttempt) {
    addUsualAttempts();
    const double today = double(std::time(nullptr)) / 86400;
    const std::vector<json> all = lines({"--ahead", "1.5"});
    ASSERT_EQ(all.size(), 3U);
    EXPECT_EQ(all[0]["at"], "2026-03-08T23:10:00Z");
    EXPECT_EQ(all[1]["at"], "2026-03-07T00:10:00Z");
    EXPECT_NEAR(core::dayOf(all[2]["at"].get<std::string>()).value_or(0), today, 0.05) << "now";
    EXPECT_EQ(all[2]["attempts"], 0);
}

TEST_F(ReadinessCommands, TextSaysWordsAndNoPercentage) {
    addUsualAttempts();
    for (int day = 2; day <= 9; ++day)  // with these the record is large enough for a forecast
        for (const char* hour : {"T08", "T15"})
            addAttempt("t-third", "2026-03-0" + std::to_string(day) + hour + ":10:00-05:00", {"lamps"});
    const ProgramRun run = forecast({"--at", kAfterAll});
    EXPECT_EQ(run.exitCode, 0);
    EXPECT_THAT(run.standardOutput, HasSubstr("in 10"));
    EXPECT_THAT(run.standardOutput, HasSubstr("t-new, 2026-03-20T00:00:00Z: Too little data: "));
    EXPECT_THAT(run.standardOutput, HasSubstr("gate must-pass, not met"));
    std::istringstream text(run.standardOutput);
    for (std::string line; std::getline(text, line);) {
        if (line.find("theory result") != std::string::npos) continue;  // that one is a percentage
        EXPECT_THAT(line, Not(HasSubstr("%")));
        EXPECT_THAT(line, Not(HasSubstr("percent")));
    }
}

TEST_F(ReadinessCommands, ForecastRefusesWithWhatWouldBeRight) {
    addUsualAttempts();
    struct Row {
        std::vector<std::string> words;
        const char* says;
    };
    for (const Row& row :
         {Row{{"--trainee", "t-abel"}, "is t-able meant?"},
          Row{{"--at", "tomorrow"}, "2026-03-02T06:10:00-05:00"},
          Row{{"--at", "2026-03-02T06:10:00"}, "with the offset or Z"},
          Row{{"--at", "2026-02-30"}, "is no moment"}, Row{{"--ahead", "-1"}, "from 0 to 3650"},
          Row{{"--ahead", "soon"}, "from 0 to 3650"}, Row{{"--ahead", "nan"}, "from 0 to 3650"},
          Row{{"--section", "al"}, "all"}}) {
        const ProgramRun run = forecast(row.words);
        EXPECT_EQ(run.exitCode, 1) << row.words.back();
        EXPECT_THAT(run.standardError, HasSubstr(row.says));
        EXPECT_EQ(run.standardOutput, "");
    }
    EXPECT_EQ(runProgram({"forecast", at("nowhere.markerlamp")}).exitCode, 1);
}

TEST_F(ReadinessCommands, WhoseRubricLacksTheSectionIsLeftOutByName) {
    addUsualAttempts();
    std::ifstream source(MARKERLAMP_TEST_DATA "/golden/yard.rubric.yaml", std::ios::binary);
    std::string text(std::istreambuf_iterator<char>(source), {});
    text.replace(text.find("id: yard"), 8, "id: lane");
    const auto section = text.find("{id: all,");
    ASSERT_NE(section, std::string::npos);
    text.replace(section, 9, "{id: lot,");
    write("lane.rubric.yaml", text);
    import({at("lane.rubric.yaml")});
    m_rubric = "lane";
    for (int day = 2; day <= 5; ++day) addAttempt("t-new", "2026-03-0" + std::to_string(day) + "T07:10:00Z");
    const ProgramRun run = forecast({"--section", "all", "--at", kAfterAll});
    EXPECT_EQ(run.exitCode, 0) << run.standardError;
    EXPECT_THAT(run.standardError, HasSubstr("no section \"all\": t-new"));
    EXPECT_THAT(run.standardOutput, HasSubstr("t-able, "));
    EXPECT_THAT(run.standardOutput, Not(HasSubstr("t-new, ")));
    EXPECT_EQ(forecast({"--section", "all", "--trainee", "t-new"}).exitCode, 1);
    EXPECT_EQ(forecast({"--section", "nowhere"}).exitCode, 1);
}

TEST_F(ReadinessCommands, WrongUsageIsToldWithTheHelp) {
    const std::vector<std::vector<std::string>> wrong{
        {"forecast"},
        {"forecast", at("p.markerlamp"), "more"},
        {"forecast", at("p.markerlamp"), "--at", "2026-03-02", "--ahead", "3"},
        {"forecast", at("p.markerlamp"), "--colour"},
        {"forecast", at("p.markerlamp"), "--trainee"},
        {"drill", at("p.markerlamp")},
        {"drill", at("p.markerlamp"), "--trainee", "t-able"},
        {"drill", "--trainee", "t-able", "--minutes", "5"},
        {"track"},
        {"track", at("p.markerlamp"), "--trainee", "t-able"}};
    for (const auto& words : wrong) {
        const ProgramRun run = runProgram(words);
        EXPECT_EQ(run.exitCode, 2) << ::testing::PrintToString(words);
        EXPECT_THAT(run.standardError, HasSubstr("Usage: markerlamp " + words[0]));
        EXPECT_EQ(run.standardOutput, "");
    }
    for (const char* command : {"forecast", "drill", "track"}) {
        const ProgramRun run = runProgram({command, "--help"});
        EXPECT_EQ(run.exitCode, 0);
        EXPECT_THAT(run.standardOutput, HasSubstr(std::string("Usage: markerlamp ") + command));
    }
}

TEST_F(ReadinessCommands, AFileWithoutTraineesGivesNoLine) {
    ASSERT_EQ(runProgram({"new", at("empty.markerlamp")}).exitCode, 0);
    const ProgramRun run = runProgram({"forecast", at("empty.markerlamp"), "--json"});
    EXPECT_EQ(run.exitCode, 0);
    EXPECT_EQ(run.standardOutput, "");
    EXPECT_THAT(runProgram({"forecast", at("empty.markerlamp")}).standardOutput, HasSubstr("no trainee"));
}

TEST_F(ReadinessCommands, DrillPlansWithinTheMinutes) {
    addUsualAttempts();
    const std::vector<std::string> base{"drill", at("p.markerlamp"), "--trainee", "t-late",
                                        "--at",  kAfterAll};
    for (const char* minutes : {"0.5", "2", "6", "60"}) {
        std::vector<std::string> words = base;
        words.insert(words.end(), {"--minutes", minutes, "--json"});
        const ProgramRun run = runProgram(words);
        ASSERT_EQ(run.exitCode, 0) << run.standardError;
        const json plan = json::parse(run.standardOutput);
        EXPECT_EQ(plan["trainee"], "t-late");
        EXPECT_LE(plan["minutes"].get<double>(), std::stod(minutes) + 1e-9);
        EXPECT_GE(plan["after"], plan["before"]);
        EXPECT_EQ(plan["parts"].empty(), std::string(minutes) == "0.5");
    }
    std::vector<std::string> words = base;
    words.insert(words.end(), {"--minutes", "20"});
    const ProgramRun text = runProgram(words);
    EXPECT_THAT(text.standardOutput, HasSubstr("keeping their order, show and say \"Safe start\""));
    EXPECT_THAT(text.standardOutput, HasSubstr("after this drill"));
    EXPECT_THAT(text.standardOutput, Not(HasSubstr("%")));
    words.back() = "0.5";
    EXPECT_THAT(runProgram(words).standardOutput, HasSubstr("nothing to drill fits"));
}

TEST_F(ReadinessCommands, DrillDoesNotOfferWhatWasDoneTheSameDay) {
    addUsualAttempts();
    const auto stepsAt = [&](const std::string& moment) {
        const ProgramRun run = runProgram({"drill", at("p.markerlamp"), "--trainee", "t-late", "--minutes",
                                           "60", "--json", "--at", moment});
        EXPECT_EQ(run.exitCode, 0) << run.standardError;
        std::set<std::string> steps;
        const json plan = json::parse(run.standardOutput);
        for (const json& part : plan["parts"])
            for (const json& step : part["steps"]) steps.insert(step);
        return steps;
    };
    const auto sameDay = stepsAt("2026-03-05T15:00:00-05:00");
    EXPECT_FALSE(sameDay.contains("lamps")) << "right this morning";
    EXPECT_TRUE(sameDay.contains("tires")) << "left out this morning";
    EXPECT_TRUE(stepsAt("2026-03-06T15:00:00-05:00").contains("lamps"));
}

TEST_F(ReadinessCommands, DrillRefusesWithWhatWouldBeRight) {
    struct Row {
        std::string trainee, minutes;
        const char* says;
    };
    for (const Row& row : {Row{"t-lat", "10", "is t-late meant?"}, Row{"t-late", "0", "more than 0"},
                           Row{"t-late", "-5", "from 0 to 1440"}, Row{"t-late", "ten", "from 0 to 1440"}}) {
        const ProgramRun run =
            runProgram({"drill", at("p.markerlamp"), "--trainee", row.trainee, "--minutes", row.minutes});
        EXPECT_EQ(run.exitCode, 1) << row.says;
        EXPECT_THAT(run.standardError, HasSubstr(row.says));
        EXPECT_EQ(run.standardOutput, "");
    }
}

TEST_F(ReadinessCommands, TrackReplaysThePastAndSaysWhereThereIsTooLittle) {
    addUsualAttempts();
    const ProgramRun run = runProgram({"track", at("p.markerlamp"), "--json"});
    ASSERT_EQ(run.exitCode, 0) << run.standardError;
    const json track = json::parse(run.standardOutput);
    EXPECT_EQ(track["format"], "markerlamp.track/1");
    EXPECT_EQ(track["frozen"]["results"], 0);
    EXPECT_TRUE(track["frozen"]["brier"].is_null());
    const json& replayed = track["replayed"];
    EXPECT_EQ(replayed["results"], 10);
    EXPECT_EQ(replayed["passed"], 6);
    EXPECT_EQ(replayed["too_few"], true);
    EXPECT_TRUE(replayed["groups"].empty());
    ASSERT_EQ(replayed["rows"].size(), 10U);
    double sum = 0;
    for (const json& row : replayed["rows"]) {
        const double miss = row["chance"].get<double>() - (row["passed"].get<bool>() ? 1 : 0);
        sum += miss * miss;
        EXPECT_EQ(row["passed"], row["trainee"] == "t-able");
    }
    EXPECT_NEAR(replayed["brier"].get<double>(), sum / 10, 1e-12);
    const ProgramRun text = runProgram({"track", at("p.markerlamp")});
    EXPECT_THAT(text.standardOutput, HasSubstr("Too few results"));
    EXPECT_THAT(text.standardOutput, HasSubstr("10, and 20 are needed"));
    EXPECT_THAT(text.standardOutput, Not(HasSubstr("%")));
}

TEST_F(ReadinessCommands, WorkOnTheDemo) {
    ASSERT_EQ(runProgram({"new", at("d.markerlamp"), "--demo", "--demo-until", "2026-03-13"}).exitCode, 0);
    const ProgramRun forecast =
        runProgram({"forecast", at("d.markerlamp"), "--at", "2026-03-14T12:00:00Z", "--json"});
    ASSERT_EQ(forecast.exitCode, 0) << forecast.standardError;
    std::istringstream text(forecast.standardOutput);
    std::string last;
    int count = 0;
    for (std::string line; std::getline(text, line); ++count) {
        const std::string key = json::parse(line)["trainee"];
        EXPECT_LT(last, key);
        last = key;
    }
    EXPECT_EQ(count, 16);
    const ProgramRun drill = runProgram({"drill", at("d.markerlamp"), "--trainee", "t-03", "--minutes", "30",
                                         "--at", "2026-03-14T12:00:00Z", "--json"});
    ASSERT_EQ(drill.exitCode, 0) << drill.standardError;
    const json plan = json::parse(drill.standardOutput);
    EXPECT_LE(plan["minutes"].get<double>(), 30 + 1e-9);
    EXPECT_GT(plan["after"], plan["before"]);
    bool chain = false;
    for (const json& part : plan["parts"]) {
        if (part["block"] != "chocks-before-release") continue;
        chain = true;
        EXPECT_EQ(part["steps"].size(), 7U);
        EXPECT_THAT(part["caution"].get<std::string>(), HasSubstr("Wheels chocked"));
        EXPECT_THAT(part["words"].get<std::string>(), HasSubstr("Wheels chocked"));
    }
    EXPECT_TRUE(chain) << "must-pass steps that still fail";
}

}  // namespace
}  // namespace markerlamp::cli
