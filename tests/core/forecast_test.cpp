// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/readiness/forecast.h"
#include "practice_support.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <iterator>

namespace markerlamp::core {
namespace {

using ::testing::ElementsAre;
using testing::MarkedAttempt;
using testing::practiceRubric;
using testing::recordOf;
using testing::smallProgram;

Forecast forecastOf(const std::vector<MarkedAttempt>& attempts, const std::string& trainee, double at,
                    const std::shared_ptr<const Rubric>& rubric, double before = 1e9) {
    ModelOptions options;
    options.before = before;
    const auto model = LearningModel::fit(recordOf(attempts), options);
    return forecast(*model, {trainee, at, wholeScope(rubric, {}), 200});
}

void expectSame(const Forecast& a, const Forecast& b) {
    EXPECT_EQ(a.chance, b.chance);
    EXPECT_EQ(a.low, b.low);
    EXPECT_EQ(a.high, b.high);
    ASSERT_EQ(a.holding.size(), b.holding.size());
    for (std::size_t i = 0; i < a.holding.size(); ++i) {
        EXPECT_EQ(a.holding[i].id, b.holding[i].id);
        EXPECT_EQ(a.holding[i].cost, b.holding[i].cost);
        EXPECT_EQ(a.holding[i].attempts, b.holding[i].attempts);
    }
}

void expectSound(const Forecast& f) {
    EXPECT_TRUE(std::isfinite(f.chance) && std::isfinite(f.low) && std::isfinite(f.high));
    EXPECT_GE(f.low, 0);
    EXPECT_LE(f.low, f.high);
    EXPECT_LE(f.high, 1);
    EXPECT_GE(f.chance, f.low - 0.2);
    EXPECT_LE(f.chance, f.high + 0.2);
    EXPECT_EQ(f.tooLittle, !f.tooLittleWhy.empty());
}

constexpr double kLater = 20040;

TEST(Forecast, IsTheSameForTheSameRecordInAnotherOrder) {
    const auto rubric = practiceRubric(3, 6);
    std::vector<MarkedAttempt> attempts = smallProgram(rubric, 8, 6);
    const Forecast first = forecastOf(attempts, "t4", kLater, rubric);
    std::ranges::reverse(attempts);
    std::swap(attempts[2], attempts[17]);
    expectSame(first, forecastOf(attempts, "t4", kLater, rubric));
}

TEST(Forecast, KnowsNothingFromItsDayOn) {
    const auto rubric = practiceRubric(3, 6);
    std::vector<MarkedAttempt> attempts = smallProgram(rubric, 8, 6);
    const double at = 20012;
    std::vector<MarkedAttempt> earlier;
    std::ranges::copy_if(attempts, std::back_inserter(earlier),
                         [&](const MarkedAttempt& a) { return a.day < at; });
    ASSERT_LT(earlier.size(), attempts.size());
    // New trainees, instructors and rubrics too, and one attempt at the very moment.
    attempts.push_back({practiceRubric(2, 3, "another"), "x", "new", "i9", at, "rrwwrr"});
    attempts.push_back({rubric, "y", "t3", "i0", at, "rrrrrrrrrrrrrrrrrr"});
    for (const std::string trainee : {"t0", "t3", "t7"})
        expectSame(forecastOf(earlier, trainee, at, rubric), forecastOf(attempts, trainee, at, rubric, at));
}

TEST(Forecast, TellsTheGoodFromTheWeak) {
    const auto rubric = practiceRubric(3, 6);
    const std::vector<MarkedAttempt> attempts = smallProgram(rubric, 8, 6);
    const auto model = LearningModel::fit(recordOf(attempts));
    std::vector<double> chances;
    for (const std::string trainee : {"t0", "t4", "t7"}) {
        const Forecast f = forecast(*model, {trainee, kLater, wholeScope(rubric, {}), 200});
        expectSound(f);
        EXPECT_FALSE(f.tooLittle);
        EXPECT_EQ(f.attempts, 6);
        EXPECT_EQ(f.tries, 6 * 18);
        chances.push_back(f.chance);
    }
    EXPECT_LT(chances[0], 0.1);
    EXPECT_LT(chances[0], chances[1]);
    EXPECT_LT(chances[1], chances[2]);
    EXPECT_GT(chances[2], 0.5);
}

TEST(Forecast, RisesWithWhatWentRight) {
    const auto rubric = practiceRubric(3, 6);
    std::vector<MarkedAttempt> attempts = smallProgram(rubric, 8, 6);
    const auto newest = std::ranges::find(attempts, "t4-5", &MarkedAttempt::id);
    ASSERT_NE(newest, attempts.end());
    double last = -1;
    for (const std::size_t right : {0u, 6u, 12u, 18u}) {
        newest->marks = std::string(right, 'r') + std::string(18 - right, 'w');
        const double chance = forecastOf(attempts, "t4", kLater, rubric).chance;
        EXPECT_GT(chance, last) << right << " of 18 right";
        last = chance;
    }
}

TEST(Forecast, TakesPromptedForNotRight) {
    const auto rubric = practiceRubric(3, 6);
    std::vector<MarkedAttempt> prompted = smallProgram(rubric, 8, 6), wrong = prompted;
    for (MarkedAttempt& one : prompted) std::ranges::replace(one.marks, 'w', 'p');
    expectSame(forecastOf(wrong, "t5", kLater, rubric), forecastOf(prompted, "t5", kLater, rubric));
}

TEST(Forecast, TakesUnseenForNoEvidence) {
    const auto rubric = practiceRubric(3, 6);
    std::vector<MarkedAttempt> unseen = smallProgram(rubric, 8, 6), unreached = unseen;
    for (std::size_t i = 0; i < unseen.size(); ++i) {
        unseen[i].marks.replace(12, 6, "uuuuuu");
        unreached[i].marks.replace(12, 6, "nnnnnn");
    }
    const Forecast first = forecastOf(unseen, "t5", kLater, rubric);
    expectSame(first, forecastOf(unreached, "t5", kLater, rubric));
    EXPECT_EQ(first.tries, 6 * 12);
}

TEST(Forecast, SaysWhereThereIsTooLittle) {
    const auto rubric = practiceRubric(3, 6);
    // No record at all.
    Forecast f = forecastOf({}, "nobody", kLater, rubric);
    expectSound(f);
    EXPECT_TRUE(f.tooLittle);
    EXPECT_GT(f.high - f.low, 0.5) << "knows next to nothing";
    // One trainee of a new program.
    f = forecastOf({{rubric, "a", "t0", "i0", 20000, "rrrrrrrrrrrrrrrrrr"}}, "t0", kLater, rubric);
    expectSound(f);
    EXPECT_TRUE(f.tooLittle);
    EXPECT_THAT(f.tooLittleWhy, ::testing::HasSubstr("1 trainee"));
    // A new trainee of a program with a record, and one with a single attempt.
    std::vector<MarkedAttempt> attempts = smallProgram(rubric, 8, 6);
    f = forecastOf(attempts, "nobody", kLater, rubric);
    expectSound(f);
    EXPECT_THAT(f.tooLittleWhy, ::testing::HasSubstr("no finished attempts"));
    attempts.push_back({rubric, "n", "new", "i0", 20030, "rrrrrrrrrrrrrrrrrr"});
    const Forecast one = forecastOf(attempts, "new", kLater, rubric);
    EXPECT_THAT(one.tooLittleWhy, ::testing::HasSubstr("1 finished attempt "));
    EXPECT_GT(one.chance, f.chance) << one.low << " " << one.high;
    // Two attempts, but only at a corner of the bus.
    attempts.push_back({rubric, "c1", "corner", "i0", 20030, "rrrrrrxxxxxxxxxxxx"});
    attempts.push_back({rubric, "c2", "corner", "i0", 20031, "rrrrrrxxxxxxxxxxxx"});
    f = forecastOf(attempts, "corner", kLater, practiceRubric(4, 6));
    EXPECT_THAT(f.tooLittleWhy, ::testing::HasSubstr("6 of the 24 steps"));
}

TEST(Forecast, CopesWithStepsAndRubricsWithoutRecord) {
    const auto rubric = practiceRubric(3, 6);
    const std::vector<MarkedAttempt> attempts = smallProgram(rubric, 8, 6);
    const auto model = LearningModel::fit(recordOf(attempts));
    // The next edition has a zone more; another rubric was never practised.
    const auto wider = practiceRubric(4, 6);
    const auto other = practiceRubric(2, 5, "other");
    const Forecast known = forecast(*model, {"t6", kLater, wholeScope(rubric, {}), 200});
    const Forecast more = forecast(*model, {"t6", kLater, wholeScope(wider, {}), 200});
    const Forecast unknown = forecast(*model, {"t6", kLater, wholeScope(other, {}), 200});
    for (const Forecast& f : {known, more, unknown}) expectSound(f);
    EXPECT_GT(more.high - more.low, known.high - known.low);
    EXPECT_GT(unknown.high - unknown.low, known.high - known.low);
    EXPECT_TRUE(unknown.tooLittle);
    // What he showed in the known rubric still speaks for him in the unknown one.
    const Forecast weak = forecast(*model, {"t0", kLater, wholeScope(other, {}), 200});
    EXPECT_GT(unknown.chance, weak.chance);
}

TEST(Forecast, CopesWithAnEmptyScope) {
    const auto rubric = practiceRubric(2, 3);
    Rubric document = *rubric;
    for (Zone& zone : document.zones)
        for (Step& step : zone.steps) step.when = {"air-brakes"};
    const auto narrow = std::make_shared<const Rubric>(document);
    const Forecast f = forecastOf(smallProgram(rubric, 5, 5), "t3", kLater, narrow);
    expectSound(f);
    EXPECT_EQ(f.chance, 0) << "nothing in scope scores 0 percent";
    EXPECT_TRUE(f.holding.empty());
}

TEST(Forecast, CopesWithHundredsOfAttempts) {
    // More than the model gives days of their own; and more zones of another rubric than any bus has.
    const auto rubric = practiceRubric(2, 3), vast = practiceRubric(400, 1, "vast");
    std::vector<MarkedAttempt> attempts = smallProgram(rubric, 3, 6);
    for (int a = 0; a < 200; ++a)
        attempts.push_back(
            {rubric, "m" + std::to_string(a), "much", "i0", 20000 + 0.1 * a, a % 5 == 0 ? "rrwrrr" : ""});
    attempts.push_back({vast, "v", "much", "i0", 20019, ""});
    const Forecast f = forecastOf(attempts, "much", kLater, rubric);
    expectSound(f);
    EXPECT_EQ(f.attempts, 201);
    EXPECT_GT(f.chance, 0.7);
}

TEST(Forecast, MeetsMustPassSteps) {
    const auto rubric = practiceRubric(3, 6);
    const std::vector<MarkedAttempt> attempts = smallProgram(rubric, 8, 6);
    Rubric document = *rubric;
    for (Step& step : document.zones[1].steps) step.mustPass = true;
    const auto strict = std::make_shared<const Rubric>(document);
    EXPECT_LT(forecastOf(attempts, "t6", kLater, strict).chance,
              forecastOf(attempts, "t6", kLater, rubric).chance);
}

/// A rubric of two zones with one strict must-pass chain within the second.
std::shared_ptr<const Rubric> chained() {
    Rubric document = *practiceRubric(2, 6);
    document.order.push_back(testing::chainRule("pressure", {"z1s0", "z1s1", "z1s2"}));
    document.order.back().strict = document.order.back().mustPass = true;
    return std::make_shared<const Rubric>(document);
}

/// All right, but this trainee does the first two steps of the chain the wrong way round.
std::pair<Attempt, Scorecard> swapped(const std::shared_ptr<const Rubric>& rubric, const std::string& id,
                                      double day) {
    auto [attempt, card] = testing::scored({rubric, id, "swapper", "i0", day, ""});
    for (Event& event : attempt.events) {
        if (event.step == "z1s0")
            event.step = "z1s1";
        else if (event.step == "z1s1")
            event.step = "z1s0";
    }
    return {attempt, score(*rubric, attempt)};
}

TEST(Forecast, CountsBrokenStrictRules) {
    const auto rubric = chained();
    auto record = std::make_shared<PracticeRecord>();
    for (const MarkedAttempt& one : smallProgram(rubric, 6, 6)) testing::addTo(*record, one);
    for (int a = 0; a < 5; ++a) {
        const auto [attempt, card] = swapped(rubric, "s" + std::to_string(a), 20000 + 3 * a);
        ASSERT_THAT(card.brokenRules, ElementsAre("pressure"));
        record->add(*rubric, attempt, card);
        testing::addTo(*record, {rubric, "k" + std::to_string(a), "keeper", "i0", 20000 + 3.0 * a, ""});
    }
    record->sort();
    const auto model = LearningModel::fit(record);
    const Forecast swapper = forecast(*model, {"swapper", kLater, wholeScope(rubric, {}), 200});
    const Forecast keeper = forecast(*model, {"keeper", kLater, wholeScope(rubric, {}), 200});
    EXPECT_GT(keeper.chance, 0.7);
    EXPECT_LT(swapper.chance, keeper.chance - 0.4);
    ASSERT_FALSE(swapper.holding.empty());
    EXPECT_EQ(swapper.holding[0].kind, Holding::Kind::OrderRule);
    EXPECT_EQ(swapper.holding[0].id, "pressure");
    EXPECT_EQ(swapper.holding[0].title,
              "Order: " + rubric->step("z1s0")->title + " to " + rubric->step("z1s2")->title);
    EXPECT_EQ(swapper.holding[0].right, 0);
    EXPECT_EQ(swapper.holding[0].seen, 4);
    EXPECT_THAT(swapper.holding[0].attempts, ElementsAre("s4", "s3", "s2", "s1"));
    // A test of the other zone alone cannot break it.
    TestScope scope = wholeScope(rubric, {});
    scope.parts[0].zones = {"z0"};
    EXPECT_GT(forecast(*model, {"swapper", kLater, scope, 200}).chance, 0.7);
}

TEST(Forecast, CountsTheTimeAllowanceWhereItFails) {
    Rubric document = *practiceRubric(2, 6);
    document.pass.minutes = 0.1;  // six seconds; all right takes far longer
    const auto lenient = std::make_shared<const Rubric>(document);
    document.pass.minutesFail = true;
    const auto strict = std::make_shared<const Rubric>(document);
    std::vector<MarkedAttempt> attempts = smallProgram(lenient, 6, 6);
    const double without = forecastOf(attempts, "t5", kLater, lenient).chance;
    const double with = forecastOf(attempts, "t5", kLater, strict).chance;
    EXPECT_GT(without, 0.4);
    EXPECT_LT(with, without / 2);
}

TEST(Forecast, NamesTheWeakZone) {
    const auto rubric = practiceRubric(3, 6);
    std::vector<MarkedAttempt> attempts = smallProgram(rubric, 6, 6);
    for (int a = 0; a < 6; ++a)
        attempts.push_back(
            {rubric, "u" + std::to_string(a), "uneven", "i0", 20000 + 3.0 * a, "rrrrrrwwwwwwrrrrrr"});
    const Forecast f = forecastOf(attempts, "uneven", kLater, rubric);
    ASSERT_FALSE(f.holding.empty());
    EXPECT_EQ(f.holding[0].kind, Holding::Kind::Zone);
    EXPECT_EQ(f.holding[0].id, "z1");
    EXPECT_EQ(f.holding[0].title, "Zone 1");
    EXPECT_EQ(f.holding[0].right, 0);
    EXPECT_EQ(f.holding[0].seen, 24);
    EXPECT_THAT(f.holding[0].attempts, ElementsAre("u5", "u4", "u3", "u2"));
    EXPECT_LE(f.holding.size(), 6u);
    for (const Holding& one : f.holding) EXPECT_LT(one.right, one.seen) << one.title;
    EXPECT_TRUE(std::ranges::is_sorted(f.holding, std::greater{}, &Holding::cost));
}

TEST(TestScopes, FollowTheSections) {
    Rubric document = *practiceRubric(3, 2);
    EXPECT_EQ(testScope(std::make_shared<const Rubric>(document), {})->parts.size(), 1u);
    document.sections = {
        {"front", "Front", {"z0"}, 0.2}, {"rear", "Rear", {"z1", "z2"}, 0.6}, {"never", "N", {"z1"}, 0}};
    const auto rubric = std::make_shared<const Rubric>(document);
    const auto scope = testScope(rubric, {});
    ASSERT_TRUE(scope);
    ASSERT_EQ(scope->parts.size(), 2u);
    EXPECT_DOUBLE_EQ(scope->parts[0].share, 0.25);
    EXPECT_DOUBLE_EQ(scope->parts[1].share, 0.75);
    EXPECT_EQ(testScope(rubric, {}, "never")->parts[0].share, 1);
    const auto unknown = testScope(rubric, {}, "side");
    ASSERT_FALSE(unknown);
    EXPECT_EQ(unknown.error().problems[0].id, "side");
    EXPECT_THAT(unknown.error().problems[0].remedy, ::testing::HasSubstr("front, rear"));
}

TEST(TestDraws, HoldWhatIsInScope) {
    Rubric document = *practiceRubric(3, 2);
    document.zones[1].steps[0].when = {"air-brakes"};
    document.sections = {{"front", "Front", {"z0", "z1"}, 0.5}, {"rear", "Rear", {"z2", "z1"}, 0.5}};
    const auto rubric = std::make_shared<const Rubric>(document);
    const auto model = LearningModel::fit(recordOf(smallProgram(practiceRubric(3, 2), 4, 3)));
    const TestDraws draws = testDraws(*model, {"t1", kLater, *testScope(rubric, {}), 50});
    ASSERT_EQ(draws.steps.size(), 5u) << "z1s0 is only for air brakes";
    EXPECT_THAT(draws.inPart[0], ElementsAre(0, 1, 2));
    EXPECT_THAT(draws.inPart[1], ElementsAre(2, 3, 4));
    EXPECT_EQ(draws.logit.size(), 250u);
    EXPECT_EQ(draws.kept.size(), 100u);
    for (std::size_t i = 0; i < draws.logit.size(); ++i) EXPECT_GE(draws.drilled[i], draws.logit[i]);
    const Forecast f = forecast(*model, {"t1", kLater, *testScope(rubric, {}), 50});
    ASSERT_EQ(f.sections.size(), 2u);
    EXPECT_NEAR(f.chance, 0.5 * f.sections[0].chance + 0.5 * f.sections[1].chance, 1e-12);
}

TEST(LearningModel, FindsTheStrictInstructor) {
    const auto rubric = practiceRubric(3, 6);
    std::vector<MarkedAttempt> attempts = smallProgram(rubric, 10, 8);
    for (MarkedAttempt& one : attempts)
        if (one.instructor == "i2")
            for (std::size_t s = 0; s < one.marks.size(); s += 3) one.marks[s] = 'w';
    const auto model = LearningModel::fit(recordOf(attempts));
    const auto severities = model->severities();
    ASSERT_EQ(severities.size(), 3u);
    EXPECT_EQ(severities[2].instructor, "i2");
    EXPECT_GT(severities[2].mean, severities[0].mean + 2 * severities[0].error);
    EXPECT_GT(severities[2].mean, severities[1].mean + 2 * severities[1].error);
    EXPECT_GT(severities[2].error, 0);
    EXPECT_EQ(severities[0].steps + severities[1].steps + severities[2].steps, 80 * 18);
}

TEST(LearningModel, StopsWhenTold) {
    const auto record = recordOf(smallProgram(practiceRubric(2, 4), 5, 4));
    ModelOptions options;
    int asked = 0;
    double last = 0;
    options.progress = [&](double share) {
        EXPECT_GE(share, last);
        EXPECT_LE(share, 1);
        last = share;
        return ++asked < 4;
    };
    EXPECT_EQ(LearningModel::fit(record, options), nullptr);
    EXPECT_EQ(asked, 4);
}

TEST(LearningModel, AssumesTheHalfLifeWhereTheRecordIsSilent) {
    const auto model = LearningModel::fit(recordOf(smallProgram(practiceRubric(2, 4), 5, 4)));
    EXPECT_TRUE(model->halfLifeIsAssumed());
    EXPECT_EQ(model->halfLifeDays(), 30);
}

TEST(LearningModel, FindsAShortHalfLife) {
    // Practice that is half gone after five days, in gaps of one to thirty.
    const auto rubric = practiceRubric(4, 5);
    std::mt19937 random(11);
    const auto chance = [&] { return double(random() >> 8) / double(1u << 24); };
    std::vector<MarkedAttempt> attempts;
    for (int t = 0; t < 24; ++t) {
        std::vector<double> right(20, 0.0);
        double day = 20000 + 10 * chance();
        for (int a = 0; a < 12; ++a) {
            MarkedAttempt one{
                rubric, std::to_string(t) + "-" + std::to_string(a), "t" + std::to_string(t), "i0", day, ""};
            for (double& practised : right) {
                const bool well = chance() < 1 / (1 + std::exp(1 - 2.5 * std::log1p(practised)));
                one.marks += well ? 'r' : 'w';
                practised += well ? 1 : 0;
            }
            attempts.push_back(std::move(one));
            const double gap = std::pow(30, chance());
            day += gap;
            for (double& practised : right) practised *= std::exp2(-gap / 5);
        }
    }
    const auto model = LearningModel::fit(recordOf(attempts));
    EXPECT_FALSE(model->halfLifeIsAssumed());
    EXPECT_EQ(model->halfLifeDays(), 5);
    ModelOptions options;
    options.searchHalfLife = false;
    EXPECT_TRUE(LearningModel::fit(recordOf(attempts), options)->halfLifeIsAssumed());
}

TEST(ModelSeries, KnowsNothingOfLaterDays) {
    const auto record = recordOf(smallProgram(practiceRubric(2, 4), 8, 5));
    ModelSeries series(record);
    for (const double day : {19000.0, 20000.5, 20008.0, 20015.0, 20100.0}) {
        const auto model = series.at(day);
        ASSERT_NE(model, nullptr);
        EXPECT_LE(model->before(), day);
        EXPECT_EQ(series.at(day), model) << "kept";
    }
    EXPECT_GT(series.at(20100)->before(), series.at(20008)->before());
    EXPECT_EQ(series.at(20018, [](double) { return true; }) == nullptr, false);
}

TEST(ModelSeries, LaterAttemptsMoveNoCheckpoint) {
    const auto all = smallProgram(practiceRubric(2, 4), 8, 5);
    std::vector<MarkedAttempt> byDay = all;
    std::ranges::stable_sort(byDay, {}, &MarkedAttempt::day);
    for (const std::size_t known : {3u, 8u, 15u, 26u}) {
        const double day = dayOf(momentOf(byDay[known].day)).value();  // as the record has it
        std::vector<MarkedAttempt> earlier;
        std::ranges::copy_if(all, std::back_inserter(earlier),
                             [&](const MarkedAttempt& attempt) { return attempt.day < byDay[known].day; });
        ModelSeries whole(recordOf(all)), then(recordOf(earlier));
        const auto withLater = whole.at(day), without = then.at(day);
        const ForecastRequest request{"t1", day, wholeScope(all.front().rubric, {}), 100};
        expectSame(forecast(*withLater, request), forecast(*without, request));
    }
}

TEST(ModelSeries, CopesWithAnEmptyRecord) {
    ModelSeries series(recordOf({}));
    EXPECT_NE(series.at(20000), nullptr);
}

}  // namespace
}  // namespace markerlamp::core
