// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The events of an amendment: who, when, why; the record made during the attempt stays as it was.

#include "app/debrief/debrief_presenter.h"

#include "app/support/display.h"
#include "core/attempt/attempt_document.h"
#include "scored_attempts.h"

#include <gtest/gtest.h>

namespace markerlamp::testing {
namespace {

using core::EventKind;
using core::Outcome;
using core::StepOutcome;

constexpr const char* kAt = "2026-03-05T17:20:00-05:00";

core::Result<std::vector<core::Event>> amended(
    const core::ScoredAttempt& scored, const std::vector<app::OutcomeChange>& changes,
    const QString& reason = QStringLiteral("seen on the recording"),
    const QString& by = QStringLiteral("i-b")) {
    return app::amendmentEvents(scored, changes, reason, by, kAt);
}

core::ScoredAttempt with(const core::ScoredAttempt& scored, const std::vector<core::Event>& events) {
    core::ScoredAttempt changed = scored;
    changed.attempt.events.insert(changed.attempt.events.end(), events.begin(), events.end());
    changed.card = core::score(*changed.rubric, changed.attempt, true);
    return changed;
}

core::StepMarks marksOf(const core::ScoredAttempt& scored, const std::string& step) {
    for (const core::StepMarks& marks : core::foldMarks(*scored.rubric, scored.attempt))
        if (marks.step == step) return marks;
    throw std::out_of_range(step);
}

TEST(Amendment, EveryEventCarriesWhoAndWhenAndTheFirstIsTheReason) {
    const auto scored = smallAttempt("one", "2026-03-02T06:10:00-05:00", {{"a", Outcome::Omitted}});
    const auto events = amended(scored, {{QStringLiteral("a"), Outcome::Both}});
    ASSERT_TRUE(events);
    EXPECT_EQ(events->front().kind, EventKind::Note);
    EXPECT_EQ(events->front().text, "seen on the recording");
    EXPECT_TRUE(events->front().step.empty());
    int n = static_cast<int>(scored.attempt.events.size());
    for (const core::Event& event : *events) {
        EXPECT_EQ(event.n, ++n);
        EXPECT_EQ(event.t, scored.attempt.events.back().t) << "the clock of the attempt stands";
        EXPECT_EQ(event.by, "i-b");
        EXPECT_EQ(event.at, kAt);
    }
    const auto after = with(scored, *events);
    EXPECT_TRUE(core::checkAgainstRubric(after.attempt, *after.rubric).empty());
    const auto read = core::readAttempt(core::writeAttempt(after.attempt));
    ASSERT_TRUE(read) << read.error().message;
    EXPECT_EQ(*read, after.attempt);
}

TEST(Amendment, GivesTheStepTheOutcomeThatWasChosen) {
    // By scoring rule 5 of the document format.
    const std::vector<std::pair<Outcome, StepOutcome>> cases{
        {Outcome::Both, StepOutcome::Satisfied},      {Outcome::Partly, StepOutcome::Partial},
        {Outcome::ShownOnly, StepOutcome::Partial},   {Outcome::SaidOnly, StepOutcome::Partial},
        {Outcome::Omitted, StepOutcome::Omitted},     {Outcome::NotObserved, StepOutcome::Unseen},
        {Outcome::NotReached, StepOutcome::Unreached}};
    for (const auto& [before, scoredBefore] : cases) {
        const auto scored = smallAttempt("one", "2026-03-02T06:10:00-05:00", {{"c", before}});
        ASSERT_EQ(scoreOf(scored, "c").outcome, scoredBefore);
        for (const auto& [chosen, expected] : cases) {
            const auto events = amended(scored, {{QStringLiteral("c"), chosen}});
            ASSERT_TRUE(events);
            const auto after = with(scored, *events);
            EXPECT_EQ(scoreOf(after, "c").outcome, expected)
                << app::outcomeWord(scoredBefore).toStdString() << " to "
                << app::outcomeWord(expected).toStdString();
            for (const core::StepScore& step : scored.card.steps)
                EXPECT_TRUE(step.step == "c" || scoreOf(after, step.step) == step) << "only the chosen step";
        }
    }
}

TEST(Amendment, CanSayThatSomethingWasWrongAndTakeItBack) {
    const auto clean = smallAttempt("one", "2026-03-02T06:10:00-05:00");
    app::OutcomeChange wrong{QStringLiteral("c")};
    wrong.wrong = true;
    const auto marked = amended(clean, {wrong});
    ASSERT_TRUE(marked);
    const auto after = with(clean, *marked);
    EXPECT_EQ(scoreOf(after, "c").outcome, StepOutcome::Wrong);
    const auto twice = amended(after, {wrong});
    ASSERT_TRUE(twice);
    EXPECT_EQ(scoreOf(with(after, *twice), "c").outcome, StepOutcome::Wrong) << "said again, it stays";
    const auto back = amended(after, {{QStringLiteral("c"), Outcome::Both}});
    ASSERT_TRUE(back);
    EXPECT_EQ(scoreOf(with(after, *back), "c").outcome, StepOutcome::Satisfied);
    const auto omitted = smallAttempt("two", "2026-03-02T06:10:00-05:00", {{"c", Outcome::Omitted}});
    const auto seen = amended(omitted, {wrong});
    ASSERT_TRUE(seen);
    EXPECT_EQ(scoreOf(with(omitted, *seen), "c").outcome, StepOutcome::Wrong);
}

TEST(Amendment, CanGiveHelpAndTakeItBack) {
    const auto clean = smallAttempt("one", "2026-03-02T06:10:00-05:00");
    const auto helped = amended(clean, {{QStringLiteral("c"), Outcome::Both, true}});
    ASSERT_TRUE(helped);
    const auto after = with(clean, *helped);
    EXPECT_EQ(scoreOf(after, "c").outcome, StepOutcome::Prompted);
    EXPECT_EQ(scoreOf(after, "c").position, scoreOf(clean, "c").position) << "the order stays";
    const auto alone = app::amendmentEvents(after, {{QStringLiteral("c"), Outcome::Both}},
                                            QStringLiteral("that was for the next step"),
                                            QStringLiteral("i-b"), "2026-03-06T08:00:00-05:00");
    ASSERT_TRUE(alone);
    const auto again = with(after, *alone);
    EXPECT_EQ(scoreOf(again, "c").outcome, StepOutcome::Satisfied);
    EXPECT_FALSE(scoreOf(again, "c").prompted);

    // During the attempt the help of an earlier press stays.
    core::Recorder live = beginSmall("two", "2026-03-02T06:10:00-05:00");
    ASSERT_TRUE(live.outcome("c", Outcome::Both, 1, true));
    ASSERT_TRUE(live.outcome("c", Outcome::Both, 2));
    EXPECT_EQ(scoreOf(scoredNow(live), "c").outcome, StepOutcome::Prompted);
}

TEST(Amendment, ChangesTheCardAndMarksTheStep) {
    const auto scored =
        smallAttempt("one", "2026-03-02T06:10:00-05:00", {{"b", Outcome::Omitted}, {"leak", Outcome::Both}});
    ASSERT_EQ(scored.card.result, core::AttemptResult::Fail) << "b must pass";
    ASSERT_EQ(scored.card.earned, 10);
    const auto events = amended(scored, {{QStringLiteral("b"), Outcome::Both}});
    ASSERT_TRUE(events);
    const auto after = with(scored, *events);
    EXPECT_EQ(after.card.result, core::AttemptResult::Pass);
    EXPECT_EQ(after.card.earned, 11);
    EXPECT_EQ(after.card.seconds, scored.card.seconds);
    EXPECT_TRUE(marksOf(after, "b").amended);
    EXPECT_TRUE(app::marksWords(marksOf(after, "b")).endsWith(QLatin1String("amended")));
    EXPECT_FALSE(marksOf(after, "a").amended);
}

TEST(Amendment, IsSaidForAStepThatIsNowMissingToo) {
    const auto scored = smallAttempt("one", "2026-03-02T06:10:00-05:00");
    for (const Outcome gap : {Outcome::Omitted, Outcome::NotObserved, Outcome::NotReached}) {
        const auto events = amended(scored, {{QStringLiteral("b"), gap}});
        ASSERT_TRUE(events);
        EXPECT_TRUE(app::marksWords(marksOf(with(scored, *events), "b")).endsWith(QLatin1String("amended")));
    }
}

TEST(Amendment, KeepsTheFirstRecordAndCanBeAmendedAgain) {
    const auto scored = smallAttempt("one", "2026-03-02T06:10:00-05:00", {{"a", Outcome::Omitted}});
    const auto first = amended(scored, {{QStringLiteral("a"), Outcome::Both}});
    ASSERT_TRUE(first);
    const auto once = with(scored, *first);
    const auto second =
        app::amendmentEvents(once, {{QStringLiteral("a"), Outcome::Partly}}, QStringLiteral("heard again"),
                             QStringLiteral("i-c"), "2026-03-06T08:00:00-05:00");
    ASSERT_TRUE(second);
    const auto twice = with(once, *second);
    const auto& events = twice.attempt.events;
    for (std::size_t i = 0; i < scored.attempt.events.size(); ++i)
        EXPECT_EQ(events[i], scored.attempt.events[i]);
    EXPECT_EQ(scoreOf(twice, "a").outcome, StepOutcome::Partial);

    const app::Debrief debrief = app::makeDebrief({twice}, {});
    ASSERT_EQ(debrief.amendments.size(), 2u);
    EXPECT_EQ(debrief.amendments[0].by, QStringLiteral("i-b"));
    EXPECT_EQ(debrief.amendments[0].at.toStdString(), kAt);
    EXPECT_EQ(debrief.amendments[0].reason, QStringLiteral("seen on the recording"));
    EXPECT_EQ(debrief.amendments[1].by, QStringLiteral("i-c"));
    EXPECT_EQ(debrief.amendments[1].reason, QStringLiteral("heard again"));
    for (const app::NoteLine& note : debrief.notes)
        EXPECT_NE(note.text, QStringLiteral("heard again")) << "the reason is no note about the trainee";
}

TEST(Amendment, RefusesWithoutReasonWithoutNameAndBeforeTheEnd) {
    const auto scored = smallAttempt("one", "2026-03-02T06:10:00-05:00");
    const std::vector<app::OutcomeChange> change{{QStringLiteral("a"), Outcome::Omitted}};
    const auto noReason = amended(scored, change, QStringLiteral("  "));
    ASSERT_FALSE(noReason);
    EXPECT_NE(noReason.error().message.find("reason"), std::string::npos);
    const auto nobody = amended(scored, change, QStringLiteral("seen again"), {});
    ASSERT_FALSE(nobody);
    EXPECT_NE(nobody.error().message.find("who"), std::string::npos);
    core::Recorder running = beginSmall("two", "2026-03-02T06:10:00-05:00");
    const auto open = amended(scoredNow(running), change);
    ASSERT_FALSE(open);
    EXPECT_NE(open.error().message.find("finish it first"), std::string::npos);
    const auto unknown = amended(scored, {{QStringLiteral("h"), Outcome::Both}});
    ASSERT_FALSE(unknown) << "this bus has no lift";
}

}  // namespace
}  // namespace markerlamp::testing
