// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The numbers of the built-in documents against published ones. Rows of check-values.csv carry their source
// and how it is known; a row id stands beside each value here. What trainers teach without a public source is
// marked "common practice, no published source".

#include "../support/sample_attempt.h"
#include "core/base/csv.h"
#include "core/rubric/rubric_reader.h"
#include "core/scoring/scorecard.h"
#include "scoring_support.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <numbers>
#include <optional>

namespace markerlamp::core {

namespace {

using markerlamp::testing::addBeforeEnd;
using markerlamp::testing::builtInLimits;
using markerlamp::testing::builtInRubric;
using markerlamp::testing::equipmentWithout;
using markerlamp::testing::wholeAttempt;
using testing::outcomeOf;
using testing::readTestData;

constexpr const char* kAir = "air-brake-school-bus";
constexpr const char* kHydraulic = "hydraulic-brake-school-bus";
constexpr const char* kCommonPractice = "common practice, no published source";

struct CheckValue {
    std::string comparison;
    std::optional<double> low;
    std::optional<double> high;
    std::string unit;
};

/// Rows by id.
const std::map<std::string, CheckValue>& checkValues() {
    static const std::map<std::string, CheckValue> values = [] {
        std::map<std::string, CheckValue> rows;
        const auto table = readCsv(readTestData("check-values.csv"), "check-values.csv");
        if (!table) throw std::runtime_error(table.error().message);
        const auto number = [](const std::string& text) -> std::optional<double> {
            return text.empty() ? std::nullopt : std::optional(std::stod(text));
        };
        // id,topic,quantity,comparison,value_low,value_high,unit,condition,source,how_known
        for (const auto& row : table->rows)
            rows[row.at(0)] = {row.at(3), number(row.at(4)), number(row.at(5)), row.at(6)};
        return rows;
    }();
    return values;
}

/// The bounds of a limit as the row states them; "<=" is a high end, "=" a value that must be one of the
/// ends.
void expectAgrees(const Limit& limit, const std::string& row) {
    ASSERT_TRUE(checkValues().contains(row)) << row;
    const CheckValue& value = checkValues().at(row);
    SCOPED_TRACE(limit.id + " against " + row);
    if (value.comparison == "range") {
        EXPECT_EQ(limit.low, value.low);
        EXPECT_EQ(limit.high, value.high);
        EXPECT_FALSE(limit.exclusive);
    } else if (value.comparison == "<=" || value.comparison == "<") {
        EXPECT_EQ(limit.high, value.low);
        EXPECT_EQ(limit.low, std::nullopt);
        EXPECT_EQ(limit.exclusive, value.comparison == "<");
    } else if (value.comparison == ">=" || value.comparison == ">") {
        EXPECT_EQ(limit.low, value.low);
        EXPECT_EQ(limit.high, std::nullopt);
        EXPECT_EQ(limit.exclusive, value.comparison == ">");
    } else {
        EXPECT_TRUE(limit.low == value.low || limit.high == value.low);
    }
}

/// A whole attempt in which this step was measured; the outcome of the step by the real scorer.
StepOutcome outcomeAt(const Rubric& rubric, const std::string& step, double value,
                      const std::map<std::string, LimitBounds>& busLimits = {}) {
    Attempt attempt = wholeAttempt(rubric, equipmentWithout(rubric, {"rear-engine", "hydraulic-brakes"}));
    attempt.header.limits = busLimits;
    Event& reading = addBeforeEnd(attempt, EventKind::Reading, step);
    reading.value = value;
    reading.unit = rubric.limit(rubric.step(step)->reading->limit)->unit;
    return outcomeOf(score(rubric, attempt), step);
}

Rubric withSet(const std::string& set) {
    return *withLimits(builtInRubric(kAir), builtInLimits(set), 2);
}

struct PublishedNumber {
    const char* limit;
    const char* row;
};

}  // namespace

TEST(PublishedLimits, AirBrakeRubricAgreesRowByRow) {
    const Rubric rubric = builtInRubric(kAir);
    for (const auto& [limit, row] : std::vector<PublishedNumber>{
             {"applied-leak", "AIR-03a"}, {"applied-leak", "AIR-05a"},   {"static-leak", "AIR-01a"},
             {"leak-minute", "AIR-06"},   {"low-warning", "AIR-10"},     {"spring-brakes", "AIR-20"},
             {"cut-out", "AIR-43"},       {"cut-out", "GAU-04"},         {"cut-in", "AIR-40a"},
             {"cut-in", "AIR-41"},        {"build-up", "AIR-30"},        {"drive-pressure", "AIR-55"},
             {"slack-travel", "AIR-57"},  {"lining-drum", "AIR-56b"},    {"roll-speed", "AIR-52"},
             {"tread-front", "TYR-01"},   {"tread-rear", "TYR-02"},      {"steering-play", "STR-32b"},
             {"belt-play", "TYR-07"},     {"mirror-distance", "SCH-01"}, {"mirror-distance", "SCH-04"},
             {"extinguisher", "SCH-30a"}, {"triangles", "SCH-31"}}) {
        ASSERT_TRUE(rubric.limit(limit)) << limit;
        expectAgrees(*rubric.limit(limit), row);
    }
    // Indiana manual update page: more than one eighth of the exhaust fluid tank.
    EXPECT_EQ(rubric.limit("def-level")->low, 0.125);
    EXPECT_TRUE(rubric.limit("def-level")->exclusive);
}

TEST(PublishedLimits, HydraulicRubricAgreesRowByRow) {
    const Rubric rubric = builtInRubric(kHydraulic);
    for (const auto& [limit, row] : std::vector<PublishedNumber>{{"pump-count", "AIR-54a"},
                                                                 {"pump-hold", "AIR-54b"},
                                                                 {"roll-speed", "AIR-52"},
                                                                 {"tread-front", "TYR-01"},
                                                                 {"tread-rear", "TYR-02"},
                                                                 {"steering-play", "STR-32b"},
                                                                 {"belt-play", "TYR-07"},
                                                                 {"mirror-distance", "SCH-01"},
                                                                 {"extinguisher", "SCH-30a"},
                                                                 {"triangles", "SCH-31"}}) {
        ASSERT_TRUE(rubric.limit(limit)) << limit;
        expectAgrees(*rubric.limit(limit), row);
    }
}

TEST(PublishedLimits, BothRubricsAgreeWhereTheyShareALimit) {
    const Rubric air = builtInRubric(kAir);
    for (const Limit& limit : builtInRubric(kHydraulic).limits)
        if (const Limit* same = air.limit(limit.id)) {
            EXPECT_EQ(*same, limit);
        }
}

TEST(PublishedLimits, EachSetAgreesRowByRow) {
    const std::map<std::string, std::vector<PublishedNumber>> rows{
        {"model-manual",
         {{"static-leak", "AIR-01a"},
          {"applied-leak", "AIR-03a"},
          {"low-warning", "AIR-10"},
          {"spring-brakes", "AIR-20"},
          {"build-up", "AIR-30"},
          {"cut-out", "AIR-42b"},
          {"cut-in", "AIR-42a"}}},
        {"modernised-test", {{"applied-leak", "AIR-05a"}, {"low-warning", "AIR-11"}, {"cut-out", "AIR-43"}}},
        {"california-2012",
         {{"static-leak", "AIR-02a"},
          {"applied-leak", "AIR-04a"},
          {"low-warning", "AIR-12"},
          {"spring-brakes", "AIR-20"},
          {"cut-out", "AIR-44"},
          {"cut-in", "AIR-41"}}},
        {"federal-in-use",
         {{"tread-front", "TYR-01"},
          {"tread-rear", "TYR-02"},
          {"steering-play", "STR-20c"},
          {"extinguisher", "SCH-30a"},
          {"triangles", "SCH-31"}}},
        {"federal-in-use-air", {{"cut-in", "AIR-40a"}, {"lining-drum", "AIR-56b"}}}};
    for (const auto& [id, numbers] : rows) {
        const Rubric edition = withSet(id);
        for (const auto& [limit, row] : numbers) expectAgrees(*edition.limit(limit), row);
    }
    // AIR-14b, from memory: the signal is on at or below 55 psi, so it has come on by then.
    EXPECT_EQ(withSet("federal-in-use-air").limit("low-warning")->low, checkValues().at("AIR-14b").low);
}

struct Boundary {
    const char* step;
    double reading;
    std::optional<bool> modelManual;  ///< within; nothing where the set has no such test
    std::optional<bool> modernised;
    std::optional<bool> california;
};

// The same reading judged by each rule set. "Outside the usual figure" and "check the maker" of the model
// manual's governor count as not within: there the maker's sheet decides.
TEST(BoundaryTable, SameReadingGetsEachSetsVerdict) {
    const std::vector<Boundary> table{
        {"low-warning", 75.0, true, true, true},
        {"low-warning", 75.1, true, true, false},  // only California caps it
        {"low-warning", 60.0, true, true, true},
        {"low-warning", 59.9, false, true, true},
        {"low-warning", 55.0, false, true, true},
        {"low-warning", 54.9, false, false, false},
        {"static-leak", 2.0, false, std::nullopt, true},  // "less than" against "not more than"
        {"static-leak", 1.9, true, std::nullopt, true},
        {"static-leak", 2.1, false, std::nullopt, false},
        {"applied-leak", 3.0, true, true, true},
        {"applied-leak", 3.1, false, false, false},
        {"cut-out", 135, false, true, false},
        {"cut-out", 129.9, false, true, true},
        {"cut-out", 130.0, false, true, false},  // before 130
        {"cut-out", 125.0, true, true, true},
        {"cut-in", 90, false, std::nullopt, true},
        {"cut-in", 85, false, std::nullopt, true},
        {"cut-in", 84.9, false, std::nullopt, false},
        {"spring-brakes", 20.0, true, std::nullopt, true},
        {"spring-brakes", 45.0, true, std::nullopt, true},
        {"spring-brakes", 45.1, false, std::nullopt, false},
        {"spring-brakes", 19.9, false, std::nullopt, false},
    };
    const Rubric modelManual = withSet("model-manual");
    const Rubric modernised = withSet("modernised-test");
    const Rubric california = withSet("california-2012");
    for (const Boundary& row : table) {
        SCOPED_TRACE(std::string(row.step) + " at " + std::to_string(row.reading));
        const auto expect = [&](const Rubric& rubric, const std::optional<bool>& within) {
            if (!within) return;
            EXPECT_EQ(outcomeAt(rubric, row.step, row.reading),
                      *within ? StepOutcome::Satisfied : StepOutcome::Wrong);
        };
        expect(modelManual, row.modelManual);
        expect(modernised, row.modernised);
        expect(california, row.california);
    }
}

TEST(BoundaryTable, MakersWarningLevelReplacesTheModernisedTests) {
    const Rubric modernised = withSet("modernised-test");
    EXPECT_EQ(outcomeAt(modernised, "low-warning", 54.9), StepOutcome::Wrong);
    EXPECT_EQ(outcomeAt(modernised, "low-warning", 54.9, {{"low-warning", {50, std::nullopt}}}),
              StepOutcome::Satisfied);
    EXPECT_EQ(outcomeAt(modernised, "low-warning", 59.9, {{"low-warning", {60, std::nullopt}}}),
              StepOutcome::Wrong);
}

TEST(BoundaryTable, FederalCutInFitsABus) {
    const Rubric federal = withSet("federal-in-use-air");
    EXPECT_EQ(outcomeAt(federal, "cut-in", 90), StepOutcome::Satisfied);
    EXPECT_EQ(outcomeAt(federal, "cut-in", 84.9), StepOutcome::Wrong);
}

TEST(BoundaryTable, ADefectThatIsCalledOutIsNoFaultOfTheTrainee) {
    const Rubric rubric = builtInRubric(kAir);
    Attempt attempt = wholeAttempt(rubric, equipmentWithout(rubric, {"rear-engine", "hydraulic-brakes"}));
    Event& reading = addBeforeEnd(attempt, EventKind::Reading, "applied-leak");
    reading.value = 3.1;
    reading.unit = "psi";
    EXPECT_EQ(outcomeOf(score(rubric, attempt), "applied-leak"), StepOutcome::Wrong);
    addBeforeEnd(attempt, EventKind::Fault, "applied-leak").text = "loses too much";
    EXPECT_EQ(outcomeOf(score(rubric, attempt), "applied-leak"), StepOutcome::Satisfied);
}

// 49 CFR 393.209(b)(1): a bus carries the figure of its own wheel; the limit itself still passes.
TEST(SteeringPlay, FollowsTheFederalTableByWheel) {
    const Rubric rubric = builtInRubric(kAir);
    for (const char* row : {"STR-16a", "STR-16c", "STR-18a", "STR-18c", "STR-19a", "STR-19c", "STR-20a",
                            "STR-20c", "STR-21a", "STR-21c", "STR-22a", "STR-22c"}) {
        SCOPED_TRACE(row);
        ASSERT_TRUE(checkValues().contains(row));
        EXPECT_EQ(checkValues().at(row).unit, rubric.limit("steering-play")->unit);
        const double play = *checkValues().at(row).low;
        const std::map<std::string, LimitBounds> wheel{{"steering-play", {std::nullopt, play}}};
        EXPECT_EQ(outcomeAt(rubric, "steering-play", play, wheel), StepOutcome::Satisfied);
        EXPECT_EQ(outcomeAt(rubric, "steering-play", play + 0.01, wheel), StepOutcome::Wrong);
    }
}

// STR-31a, computed: 10 degrees at the rim of a 20-in wheel are pi x 20 x 10 / 360 = 1.745 in, which the
// driver manuals round up to "about 2".
TEST(SteeringPlay, TwoInchesAreTenDegreesRoundedUp) {
    const Rubric rubric = builtInRubric(kAir);
    const double rim = std::numbers::pi * 20 * *checkValues().at("STR-32a").low / 360;
    EXPECT_NEAR(rim, *checkValues().at("STR-31a").low, 0.001);
    EXPECT_EQ(outcomeAt(rubric, "steering-play", rim), StepOutcome::Satisfied);
    EXPECT_EQ(std::ceil(rim), rubric.limit("steering-play")->high);
    EXPECT_EQ(outcomeAt(rubric, "steering-play", 2.01), StepOutcome::Wrong);
}

// 49 CFR 393.75(b) and (c).
TEST(TireTread, FourThirtySecondsInFrontTwoBehind) {
    const Rubric rubric = builtInRubric(kAir);
    EXPECT_EQ(outcomeAt(rubric, "front-tread", 4), StepOutcome::Satisfied);
    EXPECT_EQ(outcomeAt(rubric, "front-tread", 3.9), StepOutcome::Wrong);
    EXPECT_EQ(outcomeAt(rubric, "rear-tread", 2), StepOutcome::Satisfied);
    EXPECT_EQ(outcomeAt(rubric, "rear-tread", 1.9), StepOutcome::Wrong);
}

namespace {

/// What becomes of a step when one of its points is said with this number.
StepOutcome whenSaid(const std::string& step, const std::string& point, double value) {
    const Rubric rubric = builtInRubric(kAir);
    Attempt attempt = wholeAttempt(rubric, equipmentWithout(rubric, {"rear-engine", "hydraulic-brakes"}));
    for (Event& event : attempt.events) {
        if (event.step != step || event.point != point) continue;
        event.value = value;
        const auto& number = *std::ranges::find(rubric.step(step)->say, point, &Point::id)->number;
        event.unit = rubric.limit(number.limit)->unit;
    }
    return outcomeOf(score(rubric, attempt), step);
}

}  // namespace

TEST(SpokenNumbers, TreadsThatAreSwappedEarnNothing) {
    EXPECT_EQ(whenSaid("front-tread", "depth", 4), StepOutcome::Satisfied);
    EXPECT_EQ(whenSaid("front-tread", "depth", 2), StepOutcome::Partial);
    EXPECT_EQ(whenSaid("rear-tread", "depth", 2), StepOutcome::Satisfied);
    EXPECT_EQ(whenSaid("rear-tread", "depth", 4), StepOutcome::Partial);
}

// SCH-01 (49 CFR 571.111 S9.2(b)) and SCH-04 (driver manual): 200 ft.
TEST(SpokenNumbers, FlatMirrorsShowTwoHundredFeet) {
    EXPECT_EQ(whenSaid("flat-mirrors", "behind", 200), StepOutcome::Satisfied);
    EXPECT_EQ(whenSaid("flat-mirrors", "behind", 100), StepOutcome::Partial);
}

TEST(SpokenNumbers, LeakLimitsAreNotMixedUp) {
    EXPECT_EQ(whenSaid("applied-leak", "limit", 3), StepOutcome::Satisfied);
    EXPECT_EQ(whenSaid("applied-leak", "limit", 2), StepOutcome::Partial);
    EXPECT_EQ(whenSaid("static-leak", "limit", 2), StepOutcome::Satisfied)
        << "exclusive plays no part in speech";
    EXPECT_EQ(whenSaid("static-leak", "limit", 3), StepOutcome::Partial);
}

// 49 CFR 571.121 S5.1.1: seconds = actual capacity x 25 / required capacity. AIR-32a to c, computed.
TEST(BuildUp, FollowsTheCapacityFormula) {
    const Rubric rubric = builtInRubric(kAir);
    const double base = *checkValues().at("AIR-32").low;
    for (const auto& [ratio, row] :
         std::vector<std::pair<double, const char*>>{{1.0, "AIR-32a"}, {1.2, "AIR-32b"}, {1.8, "AIR-32c"}}) {
        SCOPED_TRACE(row);
        const double seconds = *checkValues().at(row).low;
        EXPECT_DOUBLE_EQ(base * ratio, seconds);
        const std::map<std::string, LimitBounds> tanks{{"build-up", {std::nullopt, seconds}}};
        EXPECT_EQ(outcomeAt(rubric, "build-up", seconds, tanks), StepOutcome::Satisfied);
        EXPECT_EQ(outcomeAt(rubric, "build-up", seconds + 0.1, tanks), StepOutcome::Wrong);
    }
    // The driver manuals' 45 s is the formula's at 1.8 times the required capacity.
    EXPECT_EQ(rubric.limit("build-up")->high, checkValues().at("AIR-32c").low);
}

// Figures that trainers teach: common practice, no published source.
TEST(CommonPractice, StandsInItsSetAndIsMarked) {
    const LimitSet set = builtInLimits("common-practice");
    struct Figure {
        const char* limit;
        std::optional<double> low, high;
        const char* unit;
    };
    const std::vector<Figure> figures{
        {"transmission-temp", 150, 170, "degF"}, {"coolant-temp", 170, 190, "degF"},
        {"oil-pressure", 40, 60, "psi"},         {"volts", 12, 14, "V"},
        {"tanks-full", 120, {}, "psi"},          {"steering-play", {}, 2, "in"},
        {"applied-leak", {}, 3, "psi"},          {"low-warning", 60, {}, "psi"},
        {"spring-brakes", 20, 40, "psi"},        {"mirror-distance", 200, {}, "ft"}};
    for (const Figure& figure : figures) {
        const auto limit = std::ranges::find(set.limits, figure.limit, &Limit::id);
        ASSERT_NE(limit, set.limits.end()) << figure.limit;
        EXPECT_EQ(limit->low, figure.low) << figure.limit;
        EXPECT_EQ(limit->high, figure.high) << figure.limit;
        EXPECT_EQ(limit->unit, figure.unit) << figure.limit;
    }
    for (const Limit& limit : set.limits) EXPECT_EQ(limit.source, kCommonPractice) << limit.id;
}

TEST(CommonPractice, IsTheDefaultOfABusWhereNothingIsPublished) {
    const LimitSet set = builtInLimits("common-practice");
    for (const char* rubricId : {kAir, kHydraulic}) {
        const Rubric rubric = builtInRubric(rubricId);
        for (const char* id : {"oil-pressure", "coolant-temp", "coolant-hot", "transmission-temp",
                               "transmission-hot", "volts"}) {
            ASSERT_TRUE(rubric.limit(id)) << id;
            EXPECT_EQ(*rubric.limit(id), *std::ranges::find(set.limits, id, &Limit::id));
        }
    }
    EXPECT_EQ(*builtInRubric(kAir).limit("tanks-full"),
              *std::ranges::find(set.limits, "tanks-full", &Limit::id));
}

TEST(CommonPractice, ColdPracticeBusIsNoFaultOfTheTrainee) {
    const Rubric rubric = builtInRubric(kAir);
    EXPECT_EQ(outcomeAt(rubric, "gauge-coolant", 120), StepOutcome::Satisfied);
    EXPECT_EQ(outcomeAt(rubric, "gauge-coolant", 190), StepOutcome::Satisfied);
    EXPECT_EQ(outcomeAt(rubric, "gauge-coolant", 191), StepOutcome::Wrong);
    EXPECT_EQ(outcomeAt(rubric, "gauge-coolant", 200, {{"coolant-hot", {std::nullopt, 205}}}),
              StepOutcome::Satisfied)
        << "the maker's figure replaces it";
    EXPECT_EQ(outcomeAt(rubric, "gauge-transmission", 100), StepOutcome::Satisfied);
    EXPECT_EQ(outcomeAt(rubric, "gauge-transmission", 171), StepOutcome::Wrong);
}

TEST(CommonPractice, GaugesOutsideTheirRangeMustBeCalledOut) {
    const Rubric rubric = builtInRubric(kAir);
    EXPECT_EQ(outcomeAt(rubric, "gauge-oil", 40), StepOutcome::Satisfied);
    EXPECT_EQ(outcomeAt(rubric, "gauge-oil", 39), StepOutcome::Wrong);
    EXPECT_EQ(outcomeAt(rubric, "gauge-volts", 14), StepOutcome::Satisfied);
    EXPECT_EQ(outcomeAt(rubric, "gauge-volts", 14.1), StepOutcome::Wrong);
}

// In the silent minute of a leak test good trainees say what comes next: common practice, no published
// source.
TEST(SilentMinute, PointSaidEarlyCountsAndKeepsTheOrder) {
    const Rubric rubric = builtInRubric(kAir);
    const Attempt usual = wholeAttempt(rubric, equipmentWithout(rubric, {"rear-engine", "hydraulic-brakes"}));
    Attempt early = usual;
    const auto isLimitOf = [](const std::string& step) {
        return [step](const Event& event) { return event.step == step && event.point == "limit"; };
    };
    const auto minute = std::ranges::find_if(early.events, [](const Event& event) {
        return event.step == "applied-leak" && event.kind == EventKind::Show;
    });
    const auto index = minute - early.events.begin() + 1;
    for (const char* step : {"spring-brakes", "low-warning"}) {
        const auto said = std::ranges::find_if(early.events, isLimitOf(step));
        ASSERT_NE(said, early.events.end());
        std::rotate(early.events.begin() + index, said, said + 1);
    }
    for (std::size_t i = 0; i < early.events.size(); ++i) {
        early.events[i].n = static_cast<int>(i) + 1;
        early.events[i].t = static_cast<double>(i);
    }
    const Scorecard card = score(rubric, early);
    EXPECT_EQ(outcomeOf(card, "low-warning"), StepOutcome::Satisfied);
    EXPECT_EQ(outcomeOf(card, "spring-brakes"), StepOutcome::Satisfied);
    EXPECT_DOUBLE_EQ(card.orderPercent, 100);
    EXPECT_EQ(card.result, AttemptResult::Pass);
}

}  // namespace markerlamp::core
