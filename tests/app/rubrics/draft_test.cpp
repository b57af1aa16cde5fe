// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The draft of the next edition without a window: changes with names, undone and done again; what it says of
// itself; keeping it in a program file; and the trial scoring on a thread of its own.

#include "app/rubrics/draft.h"

#include "../../support/sample_attempt.h"
#include "../scoring_support.h"
#include "app/rubrics/draft_keeping.h"
#include "app/rubrics/edition_words.h"
#include "app/rubrics/effect_reader.h"
#include "app/rubrics/rule_drawing.h"
#include "app/shell/new_program.h"
#include "app/support/display.h"
#include "core/rubric/rubric_reader.h"
#include "db/program_file.h"
#include "demo/generator/demo_program.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <QFile>
#include <QSignalSpy>
#include <QTemporaryDir>
#include <QTest>

namespace markerlamp::testing {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;

class DraftTest : public ::testing::Test {
protected:
    const std::shared_ptr<const core::Rubric> m_base = smallRubric();
    app::Draft m_draft{*m_base, {m_base}, 3};

    [[nodiscard]] std::vector<std::string> steps(const char* zone) const {
        std::vector<std::string> ids;
        for (const core::Step& step : m_draft.rubric().zone(zone)->steps) ids.push_back(step.id);
        return ids;
    }
    bool retitle(const char* step, const char* title, const char* merge = "") {
        return m_draft.change(
            QStringLiteral("title of %1").arg(QLatin1String(step)), {{}, QLatin1String(step), {}},
            [&](core::Rubric& rubric) { core::findStep(rubric, step)->title = title; }, QLatin1String(merge));
    }
};

TEST_F(DraftTest, EachChangeIsOneStepOfUndoWithItsName) {
    QSignalSpy changed(&m_draft, &app::Draft::changed);
    EXPECT_TRUE(retitle("b", "Wheels"));
    EXPECT_FALSE(retitle("b", "Wheels")) << "nothing is different";
    EXPECT_EQ(m_draft.addStep(QStringLiteral("rear"), QStringLiteral("Rear plate"), QStringLiteral("g")),
              QStringLiteral("rear-plate"));
    EXPECT_EQ(changed.size(), 2);
    EXPECT_EQ(m_draft.stack().undoText(), QStringLiteral("add step Rear plate"));
    EXPECT_THAT(steps("rear"), ElementsAre("g", "rear-plate", "h", "i"));
    const core::Rubric after = m_draft.rubric();
    m_draft.stack().undo();
    EXPECT_EQ(m_draft.rubric().step("b")->title, "Wheels");
    m_draft.stack().undo();
    EXPECT_EQ(m_draft.rubric(), *m_base);
    EXPECT_FALSE(m_draft.stack().canUndo());
    m_draft.stack().redo();
    m_draft.stack().redo();
    EXPECT_EQ(m_draft.rubric(), after);
}

TEST_F(DraftTest, LettersTypedInARowAreOneStepOfUndoUntilTheFieldIsLeft) {
    for (const char* title : {"W", "Wh", "Whe"}) retitle("b", title, "title/b");
    m_draft.seal();
    for (const char* title : {"Whee", "Wheel"}) retitle("b", title, "title/b");
    EXPECT_EQ(m_draft.stack().count(), 2);
    m_draft.stack().undo();
    EXPECT_EQ(m_draft.rubric().step("b")->title, "Whe");
    m_draft.stack().undo();
    EXPECT_EQ(m_draft.rubric(), *m_base);
    // What is typed and taken out again leaves no step behind.
    retitle("c", "Nuts", "title/c");
    retitle("c", "Lug nuts", "title/c");
    EXPECT_FALSE(m_draft.stack().canUndo());
}

TEST_F(DraftTest, MovingLeadsToWhereTheThingIs) {
    app::DraftSpot last;
    QObject::connect(&m_draft, &app::Draft::changed, [&](const app::DraftSpot& spot) { last = spot; });
    EXPECT_TRUE(m_draft.move({QStringLiteral("left-side"), QStringLiteral("f"), {}}, 1));
    EXPECT_THAT(steps("rear"), ElementsAre("f", "g", "h", "i"));
    EXPECT_EQ(last, (app::DraftSpot{QStringLiteral("rear"), QStringLiteral("f"), {}}));
    EXPECT_FALSE(m_draft.move({QStringLiteral("left-side"), QStringLiteral("a"), {}}, -1));
    EXPECT_TRUE(m_draft.move({QStringLiteral("rear"), {}, {}}, -1));
    EXPECT_EQ(m_draft.rubric().zones.front().id, "rear");
    EXPECT_TRUE(m_draft.move({QStringLiteral("left-side"), QStringLiteral("a"), QStringLiteral("p3")}, -1));
    EXPECT_EQ(m_draft.rubric().step("a")->say[1].id, "p3");
}

TEST_F(DraftTest, RetiringSaysWhatWentAlongAndTheIdStaysTaken) {
    const QString words = m_draft.retire({QStringLiteral("left-side"), QStringLiteral("b"), {}});
    EXPECT_THAT(words.toStdString(), HasSubstr("Rims retired"));
    EXPECT_THAT(words.toStdString(), HasSubstr("left-order"));
    EXPECT_EQ(m_draft.addStep(QStringLiteral("rear"), QStringLiteral("B"), {}), QStringLiteral("b-2"));
    // Added and undone: still not given to another thing.
    const QString first = m_draft.addStep(QStringLiteral("rear"), QStringLiteral("Plate"), {});
    m_draft.stack().undo();
    EXPECT_NE(m_draft.addStep(QStringLiteral("rear"), QStringLiteral("Plate"), {}), first);
    EXPECT_TRUE(m_draft.retire({{}, {}, {}}).isEmpty()) << "the rubric itself cannot be retired";
}

TEST_F(DraftTest, ALimitInUseIsNotRetired) {
    const auto refused = m_draft.retireLimit(QStringLiteral("applied-leak"));
    ASSERT_FALSE(refused);
    EXPECT_THAT(refused.error().message, HasSubstr("Applied leakage"));
    EXPECT_EQ(m_draft.rubric(), *m_base);
    m_draft.addLimit({"spare", 1, {}, "psi", false, "invented"});
    EXPECT_TRUE(m_draft.retireLimit(QStringLiteral("spare")));
    EXPECT_EQ(m_draft.rubric().limits, m_base->limits);
}

TEST_F(DraftTest, ACircleIsToldInTitlesAndDrawnFirst) {
    core::OrderRule rule;
    rule.first = {"zone:rear", "c"};
    rule.then = {"a"};
    rule.why = "a test";
    EXPECT_EQ(m_draft.addRule(rule), QStringLiteral("rear-before-a"));
    EXPECT_FALSE(m_draft.isSound());
    const std::string words = m_draft.circleInWords().toStdString();
    EXPECT_THAT(words, HasSubstr("Tire tread depth before"));
    EXPECT_THAT(words, HasSubstr("(rear-before-a)"));
    const auto rows = app::orderRows(m_draft);
    ASSERT_EQ(rows.size(), 3u);
    EXPECT_TRUE(rows[0].rule.isEmpty());
    EXPECT_TRUE(rows[0].inCircle && rows[1].inCircle && rows[2].inCircle);
    EXPECT_EQ(rows[0].groups.front(), rows[0].groups.back()) << "it comes back to where it began";
    EXPECT_THAT(rows[2].words.toStdString(),
                HasSubstr("all of Rear end and Lug nuts before Tire tread depth"));
    EXPECT_THAT(app::problemInWords(m_draft.check().problems.front(), m_draft).toStdString(),
                HasSubstr("go in a circle: "));
    m_draft.retireRule(QStringLiteral("left-order"));
    EXPECT_TRUE(m_draft.isSound());
    EXPECT_TRUE(m_draft.circleInWords().isEmpty());
}

TEST_F(DraftTest, TheNumberOfTheEditionIsNoPartOfUndo) {
    m_draft.setEdition(4);
    retitle("b", "Wheels");
    m_draft.setEdition(6);
    m_draft.stack().undo();
    EXPECT_EQ(m_draft.rubric().edition, 6);
    EXPECT_EQ(m_draft.rubric().step("b")->title, "Rims");
    m_draft.stack().redo();
    EXPECT_EQ(m_draft.rubric().edition, 6);
}

TEST_F(DraftTest, ProblemsNameTheirPlaceInTitles) {
    m_draft.change(QStringLiteral("x"), {}, [](core::Rubric& rubric) {
        core::findStep(rubric, "a")->say[1].text.clear();
        core::findStep(rubric, "e")->show.clear();
        rubric.limits[0].source.clear();
    });
    std::vector<std::string> words;
    for (const core::Problem& problem : m_draft.check().problems)
        words.push_back(app::problemInWords(problem, m_draft).toStdString());
    EXPECT_THAT(words,
                ::testing::UnorderedElementsAre(HasSubstr("Tire tread depth, point 2: "), HasSubstr("Horn: "),
                                                HasSubstr("limit applied-leak: ")));
}

// Whatever was changed: undone to the bottom it is the base again, done again to the top it is what it was.
TEST_F(DraftTest, UndoAndRedoLoseNothing) {
    EXPECT_TRUE(rc::check([this] {
        app::Draft draft(*m_base, {m_base}, 3);
        const int changes = *rc::gen::inRange(1, 20);
        for (int i = 0; i < changes; ++i) {
            const core::Rubric& now = draft.rubric();
            if (now.zones.empty()) break;
            const core::Zone& zone = now.zones[*rc::gen::inRange<std::size_t>(0, now.zones.size())];
            const QString step =
                zone.steps.empty()
                    ? QString()
                    : app::qs(zone.steps[*rc::gen::inRange<std::size_t>(0, zone.steps.size())].id);
            const app::DraftSpot spot{app::qs(zone.id), step, {}};
            switch (*rc::gen::inRange(0, 6)) {
                case 0:
                    draft.addStep(spot.zone, QStringLiteral("Step"), step);
                    break;
                case 1:
                    draft.addZone(QStringLiteral("Zone"), spot.zone);
                    break;
                case 2:
                    draft.move(spot, *rc::gen::element(-1, 1));
                    break;
                case 3:
                    draft.retire(spot);
                    break;
                case 4:
                    draft.addPoint(step, {{}, "words", {}, {}}, {});
                    break;
                default:
                    draft.retire({spot.zone, {}, {}});
            }
        }
        const core::Rubric top = draft.rubric();
        while (draft.stack().canUndo()) draft.stack().undo();
        RC_ASSERT(draft.rubric() == *m_base);
        while (draft.stack().canRedo()) draft.stack().redo();
        RC_ASSERT(draft.rubric() == top);
    }));
}

TEST(EditionWords, TellEveryKindOfChange) {
    const core::Rubric before = *smallRubric();
    core::Rubric after = before;
    core::findStep(after, "a")->mustPass = true;
    core::findStep(after, "b")->weight = 3;
    core::findStep(after, "c")->caution = "Mind the wheel.";
    core::retireStep(after, "d");
    core::moveStepTo(after, "f", "rear", 0);
    core::retirePoint(after, "g", "p2");
    after.limits[0].high = 2;
    after.pass.minutesFail = true;
    std::vector<std::string> words;
    const auto changes = core::editionDifference(before, after);
    for (const core::EditionChange& change : changes)
        words.push_back((app::subjectOf(change, after) + QStringLiteral(" | ") + app::changeInWords(change))
                            .toStdString());
    EXPECT_THAT(
        words,
        ElementsAre("pass rule | longer than allowed fails now",
                    "limit applied-leak | bounds: high 2 psi, was: high 3 psi", "step Drum | retired",
                    "step Tire tread depth | must pass now", "step Rims | weight: 3, was: 1",
                    "step Lug nuts | caution new: Mind the wheel.",
                    "step Report | moved to Rear end, from Left side", "Tail lamps: \"clean\" | retired",
                    "order rule left-order | order: a before b before c before e before f, was: a before b "
                    "before c before d before e before f"));
    EXPECT_EQ(app::differenceInWords(changes).toStdString(),
              "1 step retired, 4 steps changed, 1 point retired, 1 limit changed, 1 order rule changed, "
              "another pass "
              "rule");
    EXPECT_EQ(app::differenceInWords({}).toStdString(), "nothing is different yet");
}

TEST(EditionWords, TellTheEffect) {
    using core::AttemptResult;
    core::EditionEffect effect;
    EXPECT_THAT(app::effectInWords(effect).toStdString(), HasSubstr("nothing can change"));
    const auto add = [&](AttemptResult before, AttemptResult after, int leftOut = 0) {
        core::TrialResult result;
        result.attempt = std::to_string(effect.results.size());
        result.started = "2026-03-0" + std::to_string(9 - effect.results.size()) + "T06:00:00-05:00";
        result.before = before;
        result.after = after;
        result.percentBefore = 80;
        result.percentAfter = 78.5;
        result.eventsLeftOut = leftOut;
        effect.results.push_back(result);
    };
    add(AttemptResult::Pass, AttemptResult::Pass);
    EXPECT_EQ(app::effectInWords(effect).toStdString(), "None of 1 result would change.");
    add(AttemptResult::Pass, AttemptResult::Fail, 2);
    add(AttemptResult::Pass, AttemptResult::Incomplete);
    add(AttemptResult::Fail, AttemptResult::Pass);
    add(AttemptResult::Incomplete, AttemptResult::Fail);
    EXPECT_EQ(
        app::effectInWords(effect).toStdString(),
        "4 of 5 results would change (no longer pass: 2, now pass: 1, between failed and incomplete: 1).");
    EXPECT_EQ(app::trialRemarks(effect, {}, core::NewThings::TakeNoPart).toStdString(),
              "Marks of steps and points that are no more were left out of 1 attempt.");
    const auto rows =
        app::effectRows(effect, true, [](const std::string&) { return QStringLiteral("Somebody"); });
    ASSERT_EQ(rows.size(), 4u);
    EXPECT_EQ(rows.front().id, QStringLiteral("4")) << "by start";
    EXPECT_EQ(rows.front().cells[7].text, QStringLiteral("\u22121.5"));
    EXPECT_EQ(app::effectRows(effect, false, [](const std::string&) { return QString(); }).size(), 5u);
}

class KeepingTest : public ::testing::Test {
protected:
    void SetUp() override {
        auto made = db::ProgramFile::create(path());
        ASSERT_TRUE(made) << made.error().message;
        m_file = std::move(*made);
    }
    [[nodiscard]] std::filesystem::path path() const {
        return m_dir.filePath(QStringLiteral("program.markerlamp")).toStdString();
    }
    QTemporaryDir m_dir;
    std::unique_ptr<db::ProgramFile> m_file;
};

TEST_F(KeepingTest, AnUnfinishedDraftComesBackAsItWas) {
    core::Rubric draft = *smallRubric();
    draft.title.clear();
    core::findStep(draft, "e")->show.clear();
    core::addRule(draft, {}, {"f"}, {"a"});
    ASSERT_FALSE(core::readRubric(core::writeRubric(draft)));
    ASSERT_TRUE(app::keepDraft(*m_file, draft, 3));
    m_file = *db::ProgramFile::open(path());
    const auto kept = app::keptDraft(*m_file, "small");
    ASSERT_TRUE(kept);
    ASSERT_TRUE(*kept);
    EXPECT_EQ((*kept)->rubric, draft);
    EXPECT_EQ((*kept)->base, 3);
    EXPECT_THAT(*app::draftsIn(*m_file), ElementsAre("small"));
    EXPECT_TRUE(m_file->rubrics()->empty()) << "it is no edition";
    ASSERT_TRUE(app::forgetDraft(*m_file, "small"));
    EXPECT_FALSE(*app::keptDraft(*m_file, "small"));
    EXPECT_TRUE(app::draftsIn(*m_file)->empty());
}

TEST_F(KeepingTest, TheNextEditionIsOneAboveTheHighest) {
    EXPECT_EQ(*app::nextEdition(*m_file, "small"), 1);
    core::Rubric rubric = *smallRubric();
    for (const int edition : {3, 7}) {
        rubric.edition = edition;
        ASSERT_TRUE(m_file->addRubric(core::writeRubric(rubric)));
    }
    EXPECT_EQ(*app::nextEdition(*m_file, "small"), 8);
    const auto editions = app::editionsOf(*m_file, "small");
    ASSERT_EQ(editions->size(), 2u);
    EXPECT_EQ(editions->back()->edition, 7);
}

TEST_F(KeepingTest, WhatIsNoDraftIsRefused) {
    ASSERT_TRUE(m_file->setFact("draft.rubric.small", "[ not a rubric"));
    EXPECT_FALSE(app::keptDraft(*m_file, "small"));
}

// Against a plain loop over the same attempts.
TEST(EffectReader, ScoresEveryFinishedAttemptOfTheRubricAndCanBeStopped) {
    const QTemporaryDir dir;
    const QString file = dir.filePath(QStringLiteral("demo.markerlamp"));
    ASSERT_TRUE(app::makeProgram(file.toStdString(), demo::DemoOptions{}.lastDay));
    const core::Rubric air = builtInRubric("air-brake-school-bus");
    auto draft = std::make_shared<core::Rubric>(air);
    draft->edition = 2;
    draft->pass.percent = 84;
    core::retireStep(*draft, "horn");
    app::EffectReader reader;
    core::EditionEffect effect;
    QObject::connect(&reader, &app::EffectReader::read,
                     [&](const core::EditionEffect& read, double) { effect = read; });
    QSignalSpy read(&reader, &app::EffectReader::read);
    QSignalSpy stopped(&reader, &app::EffectReader::stopped);
    reader.start(file, draft, core::NewThings::TakeNoPart);
    reader.stop();
    ASSERT_TRUE(QTest::qWaitFor([&] { return stopped.size() == 1; }, 60000));
    EXPECT_EQ(read.size(), 0);
    reader.start(file, draft, core::NewThings::TakeNoPart);
    ASSERT_TRUE(QTest::qWaitFor([&] { return read.size() == 1; }, 60000));

    const auto opened = db::ProgramFile::open(file.toStdString(), db::OpenMode::ReadOnly);
    std::map<std::string, core::TrialResult> expected;
    core::EditionTrial trial(draft);
    const auto attempts = (*opened)->attempts();
    for (const db::AttemptInfo& info : *attempts) {
        if (info.rubric != air.id || info.state == db::AttemptState::Open || !info.of.empty()) continue;
        const auto attempt = (*opened)->attempt(info.id);
        if (!core::isEnded(*attempt)) continue;
        expected[info.id] = trial.judge(air, *attempt, core::score(air, *attempt));
    }
    EXPECT_GT(expected.size(), 50u);
    ASSERT_EQ(effect.results.size(), expected.size());
    for (const core::TrialResult& result : effect.results) EXPECT_EQ(result, expected[result.attempt]);
    EXPECT_GT(effect.changed(), 0);

    QSignalSpy failed(&reader, &app::EffectReader::failed);
    reader.start(dir.filePath(QStringLiteral("none")), draft, core::NewThings::TakeNoPart);
    ASSERT_TRUE(QTest::qWaitFor([&] { return failed.size() == 1; }, 60000));
}

}  // namespace
}  // namespace markerlamp::testing
