// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/rubric/order_relation.h"
#include "core/scoring/displaced.h"
#include "displaced_by_enumeration.h"
#include "scoring_support.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <numeric>
#include <set>

namespace markerlamp::core {
namespace {

using testing::ByEnumeration;
using testing::chainRule;
using testing::makeRubric;
using testing::makeStep;
using testing::Pairs;
using testing::pick;

std::vector<int> rubricOrder(const std::vector<int>& observed) {
    return observed;  // rank = step number: earlier rubric position is kept first
}

/// Keeps the first occurrence of each.
std::vector<int> firstOnly(const std::vector<int>& observed) {
    std::vector<int> kept;
    for (int step : observed)
        if (std::ranges::find(kept, step) == kept.end()) kept.push_back(step);
    return kept;
}

TEST(OrderRelation, BindsThroughStepsThatWereLeftOut) {
    const OrderRelation relation(3, {{0, 1}, {1, 2}});
    EXPECT_TRUE(relation.before(0, 2));
    EXPECT_FALSE(relation.before(2, 0));
    EXPECT_FALSE(relation.before(1, 1));
}

TEST(OrderRelation, ClosesAcrossWordBoundaries) {
    Pairs pairs;
    for (int i = 0; i + 1 < 200; ++i) pairs.emplace_back(i, i + 1);
    const OrderRelation relation(200, pairs);
    for (int a = 0; a < 200; ++a)
        for (int b = 0; b < 200; ++b) EXPECT_EQ(relation.before(a, b), a < b);
}

TEST(OrderRelation, StatesAllOrderedPairsOfAChainAndUnfoldsZones) {
    Rubric rubric = makeRubric(std::vector<Zone>{{"one", "One", {makeStep("a"), makeStep("b")}},
                                                 {"two", "Two", {makeStep("c"), makeStep("d")}}});
    rubric.order.push_back(chainRule("line", {"c", "zone:one", "d"}));
    OrderRule firstThen;
    firstThen.id = "zones";
    firstThen.first = {"a"};
    firstThen.then = {"zone:two"};
    rubric.order.push_back(firstThen);
    rubric.order[1].then = {"b", "d"};
    const OrderRelation relation(rubric);
    const auto sorted = [](Pairs pairs) {
        std::ranges::sort(pairs);
        return pairs;
    };
    // a=0 b=1 c=2 d=3; within a zone nothing is said.
    EXPECT_EQ(sorted(relation.statedPairs(0)), (Pairs{{0, 3}, {1, 3}, {2, 0}, {2, 1}, {2, 3}}));
    EXPECT_EQ(sorted(relation.statedPairs(1)), (Pairs{{0, 1}, {0, 3}}));
    EXPECT_FALSE(relation.before(1, 0));
}

TEST(Displaced, AgreesWithTheOutsideExamples) {
    const auto document = nlohmann::json::parse(testing::readTestData("order-examples.json"));
    ASSERT_EQ(document["cases"].size(), 66u);
    for (const auto& example : document["cases"]) {
        SCOPED_TRACE(example["name"].get<std::string>());
        Pairs pairs;
        for (const auto& rule : example["rules"]) pairs.emplace_back(rule[0].get<int>(), rule[1].get<int>());
        for (const auto& chain : example["chains"])
            for (std::size_t i = 0; i + 1 < chain.size(); ++i)
                pairs.emplace_back(chain[i].get<int>(), chain[i + 1].get<int>());
        const OrderRelation relation(example["steps"].get<int>(), pairs);
        const auto observed = firstOnly(example["observed"].get<std::vector<int>>());
        const Displaced got = displacedSteps(relation, observed, rubricOrder(observed), true);
        const auto& expect = example["expect"];
        EXPECT_EQ(got.set.size(), expect["min_moves"].get<std::size_t>());
        EXPECT_EQ(got.faults.size(), expect["pairs_broken"].get<std::size_t>());
        auto always = got.always;
        std::ranges::sort(always);
        EXPECT_EQ(always, expect["always_moved_unit_weights"].get<std::vector<int>>());
    }
}

RC_GTEST_PROP(Displaced, IsTheChosenSmallestSetOfAnEnumeration, ()) {
    const int steps = pick(1, 10);
    // Acyclic by construction: rules go up a shuffled line.
    std::vector<int> line(static_cast<std::size_t>(steps));
    std::iota(line.begin(), line.end(), 0);
    const auto shuffled = [](std::vector<int> items) {
        for (std::size_t i = items.size(); i > 1; --i)
            std::swap(items[i - 1], items[pick<std::size_t>(0, i)]);
        return items;
    };
    line = shuffled(line);
    const int density = pick(0, 11);
    Pairs rules;
    for (std::size_t i = 0; i < line.size(); ++i)
        for (std::size_t j = i + 1; j < line.size(); ++j)
            if (pick(0, 10) < density) rules.emplace_back(line[i], line[j]);
    std::vector<int> observed = shuffled(line);
    observed.resize(pick<std::size_t>(0, observed.size() + 1));
    std::vector<int> prefer(observed.size());
    std::iota(prefer.begin(), prefer.end(), 0);
    prefer = shuffled(prefer);

    const OrderRelation relation(steps, rules);
    const Displaced got = displacedSteps(relation, observed, prefer, true);
    const ByEnumeration want = testing::displacedByEnumeration(rules, steps, observed, prefer);
    RC_ASSERT(got.set == want.set);
    RC_ASSERT(got.always == want.always);
    RC_ASSERT((std::set<std::pair<int, int>>(got.faults.begin(), got.faults.end()) == want.faults));
    RC_ASSERT(got.faults.size() == want.faults.size());
}

TEST(Displaced, ReversedLongChainKeepsThePreferredStepOnly) {
    constexpr int kSteps = 150;
    Pairs rules;
    for (int i = 0; i + 1 < kSteps; ++i) rules.emplace_back(i, i + 1);
    const OrderRelation relation(kSteps, rules);
    std::vector<int> observed(kSteps);
    std::iota(observed.rbegin(), observed.rend(), 0);
    std::vector<int> prefer = observed;
    prefer[100] = -1;  // step 49
    const Displaced got = displacedSteps(relation, observed, prefer, true);
    EXPECT_EQ(got.set.size(), 149u);
    EXPECT_EQ(std::ranges::count(got.set, 49), 0);
    EXPECT_TRUE(got.always.empty()) << "any one step may stay";
}

}  // namespace
}  // namespace markerlamp::core
