// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/readiness/readiness_word.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace markerlamp::core {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::Not;

// 2026-03-10 12:00 UTC: 20,522 days after 1970-01-01 (56 years of 365 days, 14 leap days, 68 days of 2026).
constexpr double kNoon = 56 * 365 + 14 + 31 + 28 + 9 + 0.5;

Forecast forecastOf(double chance, double low, double high) {
    Forecast forecast;
    forecast.trainee = "t-1";
    forecast.at = kNoon;
    forecast.attempts = 5;
    forecast.chance = chance;
    forecast.low = low;
    forecast.high = high;
    Holding holding;
    holding.title = "Engine compartment";
    holding.right = 4;
    holding.seen = 12;
    forecast.holding = {holding};
    return forecast;
}

Gate gateOf(const std::string& id, GateState state, const std::string& opens = {}) {
    Gate gate;
    gate.id = id;
    gate.state = state;
    gate.why = "why of " + id;
    gate.opens = opens;
    return gate;
}

Override overrideOf(const std::string& id, ReadinessWord word, const std::string& at,
                    bool withdrawn = false) {
    return {id, "t-1", word, "seen by me", "i-1", at, withdrawn};
}

ReadinessWord wordOf(double chance, double low, const std::vector<Gate>& gates = {}) {
    return judge(forecastOf(chance, low, 0.95), gates, {}, {}).word;
}

TEST(ReadinessWords, AreReadAsTheyAreWritten) {
    for (const auto word :
         {ReadinessWord::Ready, ReadinessWord::Close, ReadinessWord::NotYet, ReadinessWord::TooLittle})
        EXPECT_EQ(readinessFromWord(toWord(word)), word);
    EXPECT_EQ(toWord(ReadinessWord::NotYet), "not yet");
    EXPECT_EQ(readinessFromWord("Ready"), std::nullopt);
    EXPECT_EQ(readinessFromWord(""), std::nullopt);
    ReadinessSettings settings;
    settings.wordClose = "Almost there";
    EXPECT_EQ(shownWord(ReadinessWord::Close, settings), "Almost there");
    EXPECT_EQ(shownWord(ReadinessWord::TooLittle, settings), "Too little data");
}

TEST(ReadinessWords, TheBoundsThemselvesBelongToTheBetterWord) {
    EXPECT_EQ(wordOf(0.8, 0.6), ReadinessWord::Ready);
    EXPECT_EQ(wordOf(0.799, 0.6), ReadinessWord::Close);
    EXPECT_EQ(wordOf(0.8, 0.599), ReadinessWord::Close);
    EXPECT_EQ(wordOf(0.5, 0.1), ReadinessWord::Close);
    EXPECT_EQ(wordOf(0.499, 0.1), ReadinessWord::NotYet);
}

TEST(ReadinessWords, AGateThatIsNotMetKeepsAtClose) {
    EXPECT_EQ(wordOf(0.9, 0.8, {gateOf("a", GateState::Met)}), ReadinessWord::Ready);
    EXPECT_EQ(wordOf(0.9, 0.8, {gateOf("a", GateState::NotMet)}), ReadinessWord::Close);
    EXPECT_EQ(wordOf(0.9, 0.8, {gateOf("a", GateState::Unknown)}), ReadinessWord::Close);
    EXPECT_EQ(wordOf(0.3, 0.1, {gateOf("a", GateState::Met)}), ReadinessWord::NotYet);
}

TEST(ReadinessWords, TooLittleDataGoesBeforeEverything) {
    Forecast forecast = forecastOf(0.95, 0.9, 0.99);
    forecast.attempts = 1;
    const Readiness few = judge(forecast, {}, {}, {});
    EXPECT_EQ(few.word, ReadinessWord::TooLittle);
    EXPECT_EQ(few.change, "1 more attempt makes a forecast possible.");
    EXPECT_EQ(chanceInWords(few.forecast), "Too little data: 1 attempt so far, at least 2 are asked for.");

    forecast.attempts = 6;
    forecast.tooLittle = true;
    forecast.tooLittleWhy = "only 12 steps were seen";
    const Readiness thin = judge(forecast, {}, {}, {});
    EXPECT_EQ(thin.word, ReadinessWord::TooLittle);
    EXPECT_EQ(chanceInWords(thin.forecast), "Too little data: only 12 steps were seen.");

    ReadinessSettings patient;
    patient.fewestAttempts = 5;
    forecast = forecastOf(0.95, 0.9, 0.99);
    forecast.attempts = 2;
    EXPECT_EQ(judge(forecast, {}, {}, patient).change, "3 more attempts make a forecast possible.");
}

TEST(ReadinessWords, GatesAreSortedByWhatMustBeDone) {
    const Readiness readiness =
        judge(forecastOf(0.9, 0.8, 0.95),
              {gateOf("a", GateState::Met), gateOf("b", GateState::Unknown), gateOf("c", GateState::NotMet),
               gateOf("d", GateState::Unknown), gateOf("e", GateState::NotMet)},
              {}, {});
    std::vector<std::string> order;
    for (const Gate& gate : readiness.gates) order.push_back(gate.id);
    EXPECT_THAT(order, ElementsAre("c", "e", "b", "d", "a"));
}

TEST(ReadinessWords, TheChangeNamesShutGatesThenTheCostliestHolding) {
    EXPECT_EQ(judge(forecastOf(0.9, 0.8, 0.95), {}, {}, {}).change, "") << "nothing to change when ready";
    const Readiness close = judge(forecastOf(0.7, 0.5, 0.9),
                                  {gateOf("theory", GateState::Unknown, "a theory result on file"),
                                   gateOf("full-attempt", GateState::NotMet, "a full-length attempt")},
                                  {}, {});
    EXPECT_EQ(close.change,
              "Ready needs a full-length attempt; a theory result on file; and a higher chance of passing, "
              "which Engine compartment (4 of 12 by oneself lately) holds back most.");
    EXPECT_EQ(judge(forecastOf(0.9, 0.5, 0.95), {}, {}, {}).change,
              "Ready needs a surer forecast, which more attempts over the whole inspection bring.");
    EXPECT_EQ(judge(forecastOf(0.9, 0.8, 0.95),
                    {gateOf("full-attempt", GateState::NotMet, "a full-length attempt")}, {}, {})
                  .change,
              "Ready needs a full-length attempt.");
}

TEST(ReadinessWords, FarFromReadyTheChanceComesFirst) {
    ReadinessSettings settings;
    settings.wordClose = "Nearly";
    EXPECT_EQ(judge(forecastOf(0.2, 0.1, 0.4), {gateOf("a", GateState::NotMet)}, {}, settings).change,
              "Nearly needs a higher chance of passing, which Engine compartment (4 of 12 by oneself lately) "
              "holds back most; 1 gate is shut besides.");
    Forecast bare = forecastOf(0.2, 0.1, 0.4);
    bare.holding.clear();
    EXPECT_EQ(judge(bare, {}, {}, {}).change, "Close needs a higher chance of passing.");
    bare.holding = {{Holding::Kind::OrderRule, "brake-sequence", "Brake checks in order", 0.1, 1, 3, {}}};
    EXPECT_THAT(judge(bare, {}, {}, {}).change, HasSubstr("(1 of 3 in order lately)"));
}

TEST(ReadinessWords, AnOverrideIsShownAndTheComputedWordStaysVisible) {
    const Readiness readiness =
        judge(forecastOf(0.9, 0.8, 0.95), {},
              {overrideOf("o-1", ReadinessWord::NotYet, "2026-03-09T08:00:00-05:00")}, {});
    EXPECT_EQ(readiness.word, ReadinessWord::NotYet);
    EXPECT_EQ(readiness.computed, ReadinessWord::Ready);
    ASSERT_TRUE(readiness.override_);
    EXPECT_EQ(readiness.override_->reason, "seen by me");
    EXPECT_EQ(readiness.change, "Taking back the instructor's own word of 2026-03-09 makes it Ready.");
}

TEST(ReadinessWords, TheNewestOverrideBeforeTheMomentCounts) {
    const Override early = overrideOf("o-1", ReadinessWord::Close, "2026-03-01T08:00:00Z");
    // 07:00 at five hours behind UTC is noon: the moment itself. One second later has not happened yet.
    const Override noon = overrideOf("o-2", ReadinessWord::NotYet, "2026-03-10T07:00:00-05:00");
    const Override later = overrideOf("o-3", ReadinessWord::Ready, "2026-03-10T12:00:01Z");
    const Forecast forecast = forecastOf(0.6, 0.3, 0.8);
    EXPECT_EQ(judge(forecast, {}, {later, noon, early}, {}).override_, noon);
    EXPECT_EQ(judge(forecast, {}, {early, later}, {}).override_, early);
    EXPECT_EQ(judge(forecast, {}, {later}, {}).override_, std::nullopt);
    Override other = noon;
    other.trainee = "t-2";
    EXPECT_EQ(judge(forecast, {}, {other}, {}).override_, std::nullopt) << "somebody else's";
}

TEST(ReadinessWords, AWithdrawnOverrideLeavesTheComputedWord) {
    const Override first = overrideOf("o-1", ReadinessWord::Ready, "2026-03-01T08:00:00Z");
    const Override back = overrideOf("o-0", ReadinessWord::Ready, "2026-03-01T08:00:00Z", true);
    const Override again = overrideOf("o-2", ReadinessWord::NotYet, "2026-03-02T08:00:00Z");
    const Forecast forecast = forecastOf(0.6, 0.3, 0.8);
    for (const auto& entries : {std::vector{first, back}, std::vector{back, first}}) {
        const Readiness readiness = judge(forecast, {}, entries, {});
        EXPECT_EQ(readiness.word, ReadinessWord::Close);
        EXPECT_FALSE(readiness.override_) << "of the same second the withdrawal is the later one";
    }
    EXPECT_EQ(judge(forecast, {}, {again, back, first}, {}).word, ReadinessWord::NotYet);
}

TEST(ChanceInWords, CountsInTensAndNeverWithoutItsRange) {
    EXPECT_EQ(chanceInWords(forecastOf(0.7, 0.5, 0.9)), "About 7 in 10 would pass (likely 5 to 9).");
    EXPECT_EQ(chanceInWords(forecastOf(0.1, 0.02, 0.3)),
              "About 1 in 10 would pass (likely hardly any to 3).");
    EXPECT_EQ(chanceInWords(forecastOf(0.9, 0.7, 0.98)),
              "About 9 in 10 would pass (likely 7 to nearly all).");
    EXPECT_EQ(chanceInWords(forecastOf(0.5, 0.48, 0.52)), "About 5 in 10 would pass (likely just that).");
    EXPECT_EQ(chanceInWords(forecastOf(0.97, 0.82, 0.999)),
              "Nearly all would pass (likely at least 8 in 10).");
    EXPECT_EQ(chanceInWords(forecastOf(1, 1, 1)), "Nearly all would pass (likely at least 9 in 10).");
    EXPECT_EQ(chanceInWords(forecastOf(0.01, 0, 0.16)), "Hardly any would pass (likely at most 2 in 10).");
    EXPECT_EQ(chanceInWords(forecastOf(0, 0, 0)), "Hardly any would pass (likely at most 1 in 10).");
}

TEST(ChanceInWords, NeverClaimsARangeBesideItsOwnMiddle) {
    // A skewed belief can have its mean above the 95 % quantile.
    EXPECT_EQ(chanceInWords(forecastOf(0.3, 0.0, 0.2)), "About 3 in 10 would pass (likely hardly any to 3).");
    for (int chance = 0; chance <= 100; ++chance)
        EXPECT_THAT(chanceInWords(forecastOf(chance / 100.0, chance / 200.0, (100 + chance) / 200.0)),
                    Not(HasSubstr("%")));
}

}  // namespace
}  // namespace markerlamp::core
