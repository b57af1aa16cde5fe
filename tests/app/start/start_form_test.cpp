// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What the start form decides, without a window. Counts are taken again here, step by step, from the rubric.

#include "app/support/display.h"
#include "app/support/names.h"
#include "core/attempt/attempt_document.h"
#include "core/attempt/recorder.h"
#include "start_support.h"

#include <gtest/gtest.h>

#include <QRegularExpression>
#include <QTimeZone>

namespace markerlamp::testing {
namespace {

using app::qs;
using app::StartForm;

TEST(StartForm, FindsTraineesByEveryWordInNameOrKey) {
    const StartForm form = readyForm();
    EXPECT_EQ(form.findTrainees({}), (std::vector<int>{0, 1, 2}));
    EXPECT_EQ(form.findTrainees(QStringLiteral("ex bo")), (std::vector<int>{1}));
    EXPECT_EQ(form.findTrainees(QStringLiteral("T-3")), (std::vector<int>{2})) << "by key";
    EXPECT_EQ(form.findTrainees(QStringLiteral("EXAMPLE")), (std::vector<int>{0, 1}));
    EXPECT_TRUE(form.findTrainees(QStringLiteral("ada sample")).empty()) << "all words, not any";
}

TEST(StartForm, CountsPermitDaysFromTheDayItIsGiven) {
    StartForm form = readyForm();
    const core::Trainee ada = form.data().trainees[0].trainee;
    EXPECT_EQ(form.permitDays(ada), 19);  // 13 March to 1 April
    EXPECT_EQ(form.permitWords(ada), QStringLiteral("permit 19 days"));
    EXPECT_TRUE(form.permitPresses(ada));
    form.setToday(QDate(2026, 3, 2));
    EXPECT_EQ(form.permitDays(ada), 30);
    EXPECT_FALSE(form.permitPresses(ada));
    form.setToday(QDate(2026, 3, 31));
    EXPECT_EQ(form.permitWords(ada), QStringLiteral("permit 1 day"));
    form.setToday(QDate(2026, 4, 1));
    EXPECT_EQ(form.permitWords(ada), QStringLiteral("permit ends today"));
    form.setToday(QDate(2026, 4, 2));
    EXPECT_EQ(form.permitWords(ada), QStringLiteral("permit ended"));
    EXPECT_TRUE(form.permitPresses(ada));
    const core::Trainee cy = form.data().trainees[2].trainee;
    EXPECT_EQ(form.permitDays(cy), std::nullopt);
    EXPECT_EQ(form.permitWords(cy), QStringLiteral("no permit date"));
    EXPECT_FALSE(form.permitPresses(cy));
}

TEST(StartForm, SaysThatTheClockWasSetBackBehindTheRecords) {
    StartForm form = readyForm();
    EXPECT_TRUE(form.clockWords().isEmpty());
    form.setToday(QDate(2026, 3, 3));
    EXPECT_TRUE(form.clockWords().isEmpty()) << "the day of the newest attempt";
    form.setToday(QDate(2026, 3, 2));
    EXPECT_EQ(
        form.clockWords(),
        QStringLiteral("This computer's clock says %1, the newest attempt is of %2: set the clock first.")
            .arg(app::longDate(QDate(2026, 3, 2)), app::longDate(QDate(2026, 3, 3))));
    EXPECT_EQ(form.sentence(), form.clockWords());
    EXPECT_TRUE(form.ready()) << "scoring goes on all the same";
}

TEST(StartForm, TellsAttemptsWithTheDayOfTheLastOne) {
    const StartForm form = readyForm();
    EXPECT_EQ(form.attemptsWords(form.data().trainees[0]),
              QLocale().toString(QDate(2026, 3, 3), QStringLiteral("'5 attempts, last 'ddd d MMM")));
    EXPECT_EQ(form.attemptsWords(startTrainee("x", "X", {}, 1, QDate(2025, 12, 1))),
              QLocale().toString(QDate(2025, 12, 1), QStringLiteral("'1 attempt, last 'd MMM yyyy")));
    EXPECT_EQ(form.attemptsWords(form.data().trainees[1]), QStringLiteral("none yet"));
}

TEST(StartForm, TakesEquipmentAndLimitsFromTheBusThatTheRubricKnows) {
    StartForm form = readyForm();
    const core::AttemptHeader header = form.header("2026-03-02T06:10:00-05:00");
    EXPECT_EQ(header.equipment, (std::vector<std::string>{"air-brakes", "front-engine"}));
    EXPECT_EQ(header.limits,
              (std::map<std::string, core::LimitBounds>{{"low-warning", {60.0, std::nullopt}},
                                                        {"applied-leak", {std::nullopt, 2.0}}}));
    EXPECT_EQ(form.ownLimits(), 2);
    EXPECT_EQ(form.limitWords(), QStringLiteral("limits of Bus 14 replace 2 of its limits"));
    form.setBus("7");
    EXPECT_TRUE(form.hasEquipment("rear-engine"));
    EXPECT_FALSE(form.hasEquipment("front-engine"));
    EXPECT_TRUE(form.header("2026-03-02T06:10:00-05:00").limits.empty());
    EXPECT_EQ(form.limitWords(), QStringLiteral("limits of the rubric"));
}

TEST(StartForm, ChangesEquipmentForTodayAndLeavesTheBusAlone) {
    StartForm form = readyForm();
    form.setEquipment("wheelchair-lift", true);
    form.setEquipment("front-engine", false);
    EXPECT_EQ(form.header("2026-03-02T06:10:00-05:00").equipment,
              (std::vector<std::string>{"air-brakes", "wheelchair-lift"}));
    EXPECT_EQ(form.data().buses[0].equipment, startData().buses[0].equipment);
    form.setData(startData());
    EXPECT_TRUE(form.hasEquipment("wheelchair-lift")) << "coming back to the page keeps it";
    app::StartData edited = startData();
    edited.buses[0].equipment.push_back("strobe");
    form.setData(edited);
    EXPECT_TRUE(form.hasEquipment("strobe")) << "the bus's entry was changed: it holds again";
    EXPECT_FALSE(form.hasEquipment("wheelchair-lift"));
    form.setEquipment("strobe", false);
    form.setBus("7");
    form.setBus("14");
    EXPECT_FALSE(form.hasEquipment("wheelchair-lift")) << "another bus is another start";
}

TEST(StartForm, CountsStepsMustPassAndMinutesOfTheChoiceOnThisBus) {
    StartForm form = readyForm();
    const std::vector<std::string> equipment{"air-brakes", "front-engine"};
    int steps = 0, mustPass = 0;
    double minutes = 0;
    for (const core::Step& step : form.rubric()->zone("air-brakes")->steps) {
        if (!core::appliesTo(step, equipment)) continue;
        ++steps;
        mustPass += step.mustPass ? 1 : 0;
        minutes += step.minutes;
    }
    ASSERT_GT(mustPass, 0);
    form.setAllZones(false);
    form.setZone("air-brakes", true);
    EXPECT_EQ(form.stepsIn(form.zones()), steps);
    EXPECT_EQ(form.mustPassIn(form.zones()), mustPass);
    EXPECT_DOUBLE_EQ(form.minutesIn(form.zones()), minutes);
    EXPECT_EQ(form.sentence(),
              QStringLiteral("Bo Example, Bus 14, 1 zone, %1 steps, %2 must pass, about %3 minutes")
                  .arg(steps)
                  .arg(mustPass)
                  .arg(qRound(minutes)));
    EXPECT_EQ(form.ruleWords(), QStringLiteral("pass at 80 %, %1 must pass, 45 minutes").arg(mustPass));
    form.setEquipment("air-brakes", false);
    EXPECT_LT(form.stepsIn(form.zones()), steps);
}

TEST(StartForm, PicksZonesGoingOnFromWhatTheChoiceMeant) {
    StartForm form = readyForm();
    const std::vector<std::string> all = zoneIds(*form.rubric());
    EXPECT_EQ(form.zones(), all);
    form.setZone("engine", false);
    EXPECT_EQ(form.scope(), StartForm::Scope::Zones);
    EXPECT_EQ(form.zones().size(), all.size() - 1) << "the other boxes stay ticked";
    EXPECT_FALSE(form.hasZone("engine"));

    const core::Section& section = *form.sections().front();
    form.setSection(section.id);
    EXPECT_EQ(form.zones().size(), section.zones.size());
    const std::string extra = *std::find_if(all.begin(), all.end(), [&](const std::string& zone) {
        return std::find(section.zones.begin(), section.zones.end(), zone) == section.zones.end();
    });
    form.setZone(extra, true);
    EXPECT_EQ(form.zones().size(), section.zones.size() + 1);

    const std::vector<std::string> picked = form.zones();
    form.setWhole();
    EXPECT_EQ(form.zones(), all);
    form.setPicked();
    EXPECT_EQ(form.zones(), picked) << "what was picked before is still there";
}

TEST(StartForm, SectionsThatNameEveryZoneAreTheWhole) {
    const StartForm form = readyForm();
    EXPECT_FALSE(form.sections().empty());
    for (const core::Section* section : form.sections())
        EXPECT_LT(section->zones.size(), form.rubric()->zones.size()) << section->id;
}

TEST(StartForm, SaysAllThatIsMissing) {
    StartForm form;
    form.setData({});
    EXPECT_EQ(form.missing(), QStringLiteral("No rubric is in the file: import one."));
    app::StartData data = startData();
    data.newest = {};
    StartForm fresh;
    fresh.setData(data);
    EXPECT_EQ(fresh.missing(),
              QStringLiteral("Still to choose: the trainee, the bus, the instructor who scores."))
        << "no bus and no name is chosen for somebody who did not say so";
    fresh.setTrainee("t-1");
    fresh.setBus("14");
    fresh.setInstructor("i-2");
    EXPECT_TRUE(fresh.ready()) << fresh.missing().toStdString();
    fresh.setAllZones(false);
    EXPECT_EQ(fresh.missing(), QStringLiteral("Still to choose: at least one zone."));

    data.trainees.clear();
    StartForm nobody;
    nobody.setData(data);
    EXPECT_TRUE(nobody.missing().startsWith(QStringLiteral("No trainee")));
}

TEST(StartForm, ZonesWithoutAStepOnThisBusDoNotStart) {
    app::StartData data = startData();
    core::Rubric rubric = *data.rubrics.front();
    for (core::Step& step : rubric.zones.front().steps) step.when = {"wheelchair-lift"};
    data.rubrics = {std::make_shared<core::Rubric>(rubric)};
    StartForm form;
    form.setData(data);
    form.setTrainee("t-1");
    form.setAllZones(false);
    form.setZone(rubric.zones.front().id, true);
    EXPECT_TRUE(form.missing().startsWith(QStringLiteral("No step of these zones is on this bus")));
    form.setEquipment("wheelchair-lift", true);
    EXPECT_TRUE(form.ready());
}

TEST(StartForm, OffersWhatWasUsedLastOnThisWorkstation) {
    StartForm form;
    form.setData(startData({"t-3", "i-2", "7", "hydraulic-brake-school-bus", "whole"}));
    EXPECT_EQ(form.trainee(), "t-3");
    EXPECT_EQ(form.instructor(), "i-2");
    EXPECT_EQ(form.bus(), "7");
    EXPECT_EQ(form.rubric()->id, "hydraulic-brake-school-bus");
    EXPECT_EQ(form.instructorWords(form.data().instructors[1]),
              QStringLiteral("Ian Instructor, this workstation"));
    EXPECT_EQ(form.instructorWords(form.data().instructors[0]), QStringLiteral("Ivy Instructor"));
    form.setAllZones(false);
    form.setZone(form.rubric()->zones[1].id, true);
    form.setZone(form.rubric()->zones[0].id, true);
    StartForm again;
    again.setData(startData(form.lastUsed()));
    EXPECT_EQ(again.zones(), form.zones());
    form.setSection(form.sections().front()->id);
    StartForm section;
    section.setData(startData(form.lastUsed()));
    EXPECT_EQ(section.scope(), StartForm::Scope::Section);
    EXPECT_EQ(section.zones(), form.zones());
}

TEST(StartForm, OffersTheFilesNewestWhereTheWorkstationRemembersNothing) {
    StartForm form;
    form.setData(startData());
    EXPECT_EQ(form.bus(), "14");
    EXPECT_EQ(form.instructor(), "i-1");
    EXPECT_TRUE(form.trainee().empty()) << "who comes next is not who came last on another computer";
    app::StartData single = startData();
    single.newest = {};
    single.buses.resize(1);
    single.instructors.resize(1);
    StartForm only;
    only.setData(single);
    EXPECT_EQ(only.bus(), "14");
    EXPECT_EQ(only.instructor(), "i-1");
}

TEST(StartForm, ForgetsWhatIsNoLongerInTheFile) {
    StartForm gone;
    gone.setData(startData({"left", "left", "left", "left", "section:left"}));
    EXPECT_TRUE(gone.trainee().empty());
    EXPECT_EQ(gone.bus(), "14") << "the file's newest";
    EXPECT_EQ(gone.scope(), StartForm::Scope::Whole);
    gone.setTrainee("t-3");
    gone.setZone("engine", false);
    app::StartData less = startData();
    less.trainees.pop_back();
    gone.setData(less);
    EXPECT_TRUE(gone.trainee().empty());
    EXPECT_EQ(gone.scope(), StartForm::Scope::Zones) << "the rest stays as it was chosen";
}

TEST(StartForm, OffersTheNewestEditionUntilAnOlderOneIsChosen) {
    app::StartData data = startData();
    core::Rubric second = *data.rubrics.front();
    second.edition = 2;
    data.rubrics.insert(data.rubrics.begin(), std::make_shared<core::Rubric>(second));
    StartForm form;
    form.setData(startData());
    EXPECT_EQ(form.rubric()->edition, 1);
    form.setData(data);
    EXPECT_EQ(form.rubric()->edition, 2) << "a new edition came in";
    form.setRubric(second.id, 1);
    form.setData(data);
    EXPECT_EQ(form.rubric()->edition, 1) << "chosen";
    form.setRubric(second.id, 2);
    core::Rubric third = second;
    third.edition = 3;
    data.rubrics.insert(data.rubrics.begin(), std::make_shared<core::Rubric>(third));
    form.setData(data);
    EXPECT_EQ(form.rubric()->edition, 3);
}

TEST(StartForm, NamesABusByItsUnitUnlessItsTitleDoes) {
    core::Bus bus;
    bus.key = "12";
    EXPECT_EQ(app::busName(bus), QStringLiteral("Bus 12"));
    bus.title = "12";
    EXPECT_EQ(StartForm::busWords(bus), QStringLiteral("Bus 12"));
    bus.title = "Coach 12";
    EXPECT_EQ(StartForm::busWords(bus), QStringLiteral("Coach 12"));
    bus.title = "Engine in front, built 2012";
    EXPECT_EQ(app::busName(bus), QStringLiteral("Bus 12"));
    EXPECT_EQ(StartForm::busWords(bus), QStringLiteral("Bus 12: Engine in front, built 2012"));
}

TEST(StartForm, TellsWhereAnUnfinishedAttemptStopped) {
    StartForm form = readyForm();
    const auto attempt = unfinished(QStringLiteral("open-1"), QStringLiteral("Ada Example"));
    EXPECT_EQ(form.unfinishedWords(attempt),
              QStringLiteral("Ada Example on Bus 14, stopped 06:12 after 48 of 118 steps"));
    form.setToday(kToday.addDays(1));
    EXPECT_TRUE(form.unfinishedWords(attempt).contains(QStringLiteral("13")))
        << "another day: the day is named as well";
}

// The document format of attempts: id a uuid (RFC 4122), started ISO 8601 with offset; readable by our own
// reader and accepted by the recorder for every bus, rubric and section.
TEST(StartForm, MakesSoundHeaders) {
    StartForm form = readyForm();
    const QRegularExpression uuid(
        QStringLiteral("^[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$"));
    const QRegularExpression moment(QStringLiteral(R"(^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(Z|[+-]\d\d:\d\d)$)"));
    std::string before;
    int headers = 0;
    for (const auto& rubric : form.data().rubrics)
        for (const core::Bus& bus : form.data().buses) {
            form.setRubric(rubric->id, rubric->edition);
            form.setBus(bus.key);
            std::vector<std::string> scopes{""};
            for (const core::Section& section : rubric->sections) scopes.push_back(section.id);
            for (const std::string& scope : scopes) {
                if (scope.empty())
                    form.setWhole();
                else
                    form.setSection(scope);
                if (!form.ready()) continue;
                const core::AttemptHeader header = form.header(app::nowIso());
                EXPECT_TRUE(uuid.match(qs(header.id)).hasMatch()) << header.id;
                EXPECT_NE(header.id, before) << "every attempt has an id of its own";
                before = header.id;
                EXPECT_TRUE(moment.match(qs(header.started)).hasMatch()) << header.started;
                const auto read = core::readAttempt(core::writeAttempt({header, {}}));
                ASSERT_TRUE(read) << read.error().message;
                EXPECT_EQ(read->header, header);
                EXPECT_TRUE(core::checkAgainstRubric(*read, *rubric).empty());
                const auto recorder = core::Recorder::start(rubric, header);
                ASSERT_TRUE(recorder) << recorder.error().message;
                EXPECT_EQ(static_cast<int>(recorder->marks().size()), form.stepsIn(header.zones));
                ++headers;
            }
        }
    EXPECT_GT(headers, 20);
}

}  // namespace
}  // namespace markerlamp::testing
