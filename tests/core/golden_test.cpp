// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Documents in, approved scorecards out.

#include "core/attempt/attempt_document.h"
#include "core/rubric/rubric_reader.h"
#include "core/scoring/scorecard.h"
#include "scoring_support.h"

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

namespace markerlamp::core {
namespace {

using Json = nlohmann::json;

/// Same document up to rounding of its numbers; says where it differs.
void expectSame(const Json& got, const Json& want, const std::string& path) {
    if (want.is_number() && got.is_number()) {
        EXPECT_NEAR(got.get<double>(), want.get<double>(), 1e-9) << path;
    } else if (want.is_object() && got.is_object()) {
        for (const auto& [key, value] : want.items()) {
            ASSERT_TRUE(got.contains(key)) << path << "." << key;
            expectSame(got[key], value, path + "." + key);
        }
        EXPECT_EQ(got.size(), want.size()) << path;
    } else if (want.is_array() && got.is_array()) {
        ASSERT_EQ(got.size(), want.size()) << path << " is " << got;
        for (std::size_t i = 0; i < want.size(); ++i)
            expectSame(got[i], want[i], path + "[" + std::to_string(i) + "]");
    } else {
        EXPECT_EQ(got, want) << path;
    }
}

class Golden : public ::testing::TestWithParam<const char*> {};

TEST_P(Golden, CardIsTheApprovedOne) {
    const auto rubric = readRubric(testing::readTestData("golden/yard.rubric.yaml"), "yard.rubric.yaml");
    ASSERT_TRUE(rubric) << (rubric.error().problems.empty() ? rubric.error().message
                                                            : toText(rubric.error().problems.front()));
    const std::string name = std::string("golden/") + GetParam();
    const auto attempt = readAttempt(testing::readTestData(name + ".attempt.jsonl"), name);
    ASSERT_TRUE(attempt) << (attempt.error().problems.empty() ? attempt.error().message
                                                              : toText(attempt.error().problems.front()));
    for (const Problem& problem : checkAgainstRubric(*attempt, *rubric, name))
        ADD_FAILURE() << toText(problem);
    const std::string card = toJson(score(*rubric, *attempt));
    SCOPED_TRACE("to approve, replace tests/data/" + name + ".scorecard.json by\n" + card);
    expectSame(Json::parse(card), Json::parse(testing::readTestData(name + ".scorecard.json")), "card");
}

INSTANTIATE_TEST_SUITE_P(Approved, Golden,
                         ::testing::Values("clean", "out-of-order", "cut-short", "amended", "hydraulic"),
                         [](const auto& example) {
                             std::string name = example.param;
                             std::erase(name, '-');
                             return name;
                         });

}  // namespace
}  // namespace markerlamp::core
