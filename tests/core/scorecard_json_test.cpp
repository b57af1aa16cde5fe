// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/scoring/scorecard.h"
#include "scoring_support.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

namespace markerlamp::core {
namespace {

using ::testing::ElementsAre;

template <class Json>
std::vector<std::string> keys(const Json& object) {
    std::vector<std::string> all;
    for (const auto& [key, value] : object.items()) all.push_back(key);
    return all;
}

TEST(ScorecardJson, HasExactlyTheKeysOfTheFormat) {
    Rubric rubric = testing::makeRubric({testing::makeStep("a"), testing::makeStep("b")});
    rubric.zones[0].steps[1].mustPass = true;
    rubric.order = {testing::chainRule("line", {"a", "b"})};
    rubric.order[0].strict = rubric.order[0].mustPass = true;
    const std::string text = toJson(score(rubric, testing::AttemptBuilder(rubric).show("b").show("a"), true));
    EXPECT_EQ(text.find('\n'), std::string::npos);
    const auto card = nlohmann::ordered_json::parse(text);
    EXPECT_THAT(keys(card),
                ElementsAre("format", "attempt", "rubric", "edition", "result", "reasons", "percent",
                            "earned", "possible", "shown_percent", "said_percent", "order_percent",
                            "displaced", "order_faults", "broken_rules", "seconds", "zones", "steps"));
    EXPECT_EQ(card["format"], "markerlamp.scorecard/1");
    EXPECT_THAT(keys(card["zones"][0]), ElementsAre("zone", "percent", "earned", "possible"));
    EXPECT_THAT(keys(card["steps"][0]), ElementsAre("step", "zone", "outcome", "shown", "said", "needed",
                                                    "missed_points", "prompted", "position"));
    EXPECT_THAT(keys(card["order_faults"][0]), ElementsAre("first", "then", "rule"));
    EXPECT_EQ(
        card["reasons"].dump(),
        R"([{"code":"below-percent"},{"code":"must-pass","step":"b"},{"code":"strict-order","rule":"line"},)"
        R"({"code":"unfinished"}])");
}

TEST(ScorecardJson, PositionIsNullWhenNotEngaged) {
    const Rubric rubric = testing::makeRubric({testing::makeStep("a"), testing::makeStep("b")});
    const auto card = nlohmann::json::parse(toJson(score(rubric, testing::AttemptBuilder(rubric).show("b"))));
    EXPECT_TRUE(card["steps"][0]["position"].is_null());
    EXPECT_EQ(card["steps"][1]["position"], 1);
}

TEST(ScorecardJson, NumbersReadBackTheSame) {
    Scorecard card;
    card.percent = 200.0 / 3;
    card.seconds = 0.1 + 0.2;
    const auto json = nlohmann::json::parse(toJson(card));
    EXPECT_EQ(json["percent"].get<double>(), card.percent);
    EXPECT_EQ(json["seconds"].get<double>(), card.seconds);
}

}  // namespace
}  // namespace markerlamp::core
