// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "forms/sheets/wording.h"
#include "sheet_support.h"

namespace {

using namespace markerlamp;
using namespace markerlamp::forms;
using namespace markerlamp::forms::testing;

TEST(Wording, SaysALimitInPlainWords) {
    const auto words = [](std::optional<double> low, std::optional<double> high, const char* unit,
                          bool exclusive) {
        return limitText(core::Limit{"x", low, high, unit, exclusive, ""}).toStdString();
    };
    EXPECT_EQ(words({}, 3, "psi", false), "at most 3 psi");
    EXPECT_EQ(words({}, 2, "psi", true), "under 2 psi");
    EXPECT_EQ(words(60, {}, "psi", false), "at least 60 psi");
    EXPECT_EQ(words(0.125, {}, "tank", true), "over 0.125 tank");
    EXPECT_EQ(words(20, 45, "psi", false), "20 to 45 psi");
    EXPECT_EQ(words(4, {}, "1/32 in", false), "at least 4/32 in");
    EXPECT_EQ(words(170, 190, "degF", false), "170 to 190 °F");
    EXPECT_EQ(words(3, 3, "pieces", false), "3 pieces");
}

TEST(Wording, NeverRoundsUpToAPassMarkThatWasNotReached) {
    EXPECT_EQ(percentText(79.96, 80).toStdString(), "79.9 %");
    EXPECT_EQ(percentText(79.5, 80).toStdString(), "79.5 %");
    EXPECT_EQ(percentText(80, 80).toStdString(), "80 %");
    EXPECT_EQ(percentText(90.4, 80).toStdString(), "90 %");
}

TEST(Wording, GivesEveryReasonAgainstAPass) {
    auto rubric = makeRubric();
    rubric->pass.minutes = 1;
    rubric->pass.minutesFail = true;
    rubric->zones[8].steps[0].title = "Applied leakage";
    const auto scored = [&] {
        Practice practice(rubric);
        practice.walk([](Practice& p, const core::Step& step, int index) {
            if (index % 2 == 0) p.add(core::EventKind::Omit, step.id);
            return index % 2 == 0;
        });
        return practice.scored();
    }();
    const ResultWords words = resultWords(scored);
    EXPECT_TRUE(words.headline.contains(QStringLiteral("60 of 120 steps right, 50 %")))
        << words.headline.toStdString();
    EXPECT_TRUE(words.headline.contains(QStringLiteral("Does not meet the pass rule.")));
    EXPECT_TRUE(words.why.contains(QStringLiteral("The pass mark is 80 %."))) << words.why.toStdString();
    EXPECT_TRUE(words.why.contains(QStringLiteral("Must-pass, not right: Applied leakage")));
    EXPECT_TRUE(words.why.contains(QStringLiteral("It took longer than the 1 minutes allowed.")));
    EXPECT_TRUE(words.counts.contains(QStringLiteral("60 left out")));
}

TEST(Wording, CallsWeightByItsName) {
    auto rubric = makeRubric();
    rubric->zones[0].steps[0].weight = 3;
    const ResultWords words = resultWords(attemptWithMisses(rubric, 2));
    EXPECT_TRUE(words.headline.contains(QStringLiteral("by weight"))) << words.headline.toStdString();
}

/// What is said of the leak test, at most 3 psi, after a walk on which nothing else was missed.
QString wordsAfterReading(double psi, const char* wrong) {
    auto rubric = makeRubric();
    core::Step& leak = rubric->zones[8].steps[5];
    leak.reading = core::ReadingRule{"loss", "applied-leak", {}, {}, {}, false, {}, true, 0};
    Practice practice(rubric);
    practice.walk([&](Practice& p, const core::Step& step, int) {
        if (step.id != leak.id) return false;
        p.satisfy(step);
        core::Event& reading = p.add(core::EventKind::Reading, step.id);
        reading.value = psi;
        reading.unit = "psi";
        if (wrong != nullptr) p.add(core::EventKind::Wrong, step.id).text = wrong;
        return true;
    });
    const auto scored = practice.scored();
    const auto misses = core::sayNextTime({scored});
    EXPECT_EQ(misses.size(), 1u);
    return misses.empty() ? QString() : nextTimeText(scored, misses[0], true);
}

TEST(Wording, TellsWhatAWrongReadingWas) {
    const QString words = wordsAfterReading(5, nullptr);
    EXPECT_TRUE(words.contains(QStringLiteral("Read 5 psi, limit at most 3 psi"))) << words.toStdString();
}

// Wrong for another reason: the reading as it should be is nothing to call out.
TEST(Wording, KeepsQuietAboutAReadingInsideItsLimit) {
    const QString words = wordsAfterReading(3, "foot moved");
    EXPECT_TRUE(words.contains(QStringLiteral("foot moved"))) << words.toStdString();
    EXPECT_FALSE(words.contains(QStringLiteral("call it out"))) << words.toStdString();
}

TEST(Wording, SaysHowManyPointsAreEnough) {
    auto rubric = makeRubric();
    core::Step& step = rubric->zones[0].steps[0];
    step.sayNeeded = 2;
    Practice practice(rubric);
    practice.walk([&](Practice& p, const core::Step& one, int) {
        if (one.id != step.id) return false;
        p.credit(one, 1);
        return true;
    });
    const auto scored = practice.scored();
    const auto misses = core::sayNextTime({scored});
    ASSERT_EQ(misses.size(), 1u);
    EXPECT_TRUE(nextTimeText(scored, misses[0], true).contains(QStringLiteral("(2 of 3 points are enough)")));
}

}  // namespace
