// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The invented demo program: sound in every document, plausible as ten weeks of practice, the same
// everywhere.

#include "demo/generator/demo_program.h"
#include "../support/sample_attempt.h"
#include "core/attempt/attempt_document.h"
#include "core/attempt/recorder.h"
#include "core/base/moment.h"
#include "core/scoring/scorecard.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <array>
#include <cstdint>
#include <cstdlib>
#include <map>
#include <memory>
#include <set>

namespace markerlamp::core {

namespace {

using demo::DemoOptions;
using demo::DemoProgram;
using markerlamp::testing::builtInRubric;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

struct Scored {
    const Attempt* attempt;
    Scorecard card;
};

/// Everything is made once for all tests here.
class DemoProgramTest : public ::testing::Test {
protected:
    static void SetUpTestSuite() {
        s_air = std::make_shared<const Rubric>(builtInRubric("air-brake-school-bus"));
        s_hydraulic = std::make_shared<const Rubric>(builtInRubric("hydraulic-brake-school-bus"));
        s_program = std::make_unique<DemoProgram>(demo::makeDemoProgram(*s_air, *s_hydraulic));
        for (const Attempt& attempt : s_program->attempts)
            s_byTrainee[attempt.header.trainee].push_back({&attempt, score(*rubricOf(attempt), attempt)});
    }
    static void TearDownTestSuite() {
        s_byTrainee.clear();
        s_program.reset();
        s_air.reset();
        s_hydraulic.reset();
    }

    static std::shared_ptr<const Rubric> rubricOf(const Attempt& attempt) {
        return attempt.header.rubric == s_air->id ? s_air : s_hydraulic;
    }
    static const DemoProgram& program() { return *s_program; }
    static DemoProgram endingOn(const std::string& lastDay) {
        DemoOptions options;
        options.lastDay = lastDay;
        return demo::makeDemoProgram(*s_air, *s_hydraulic, options);
    }
    /// Oldest first, second scorings and the open attempt left out.
    static std::vector<Scored> course(const std::string& trainee) {
        std::vector<Scored> own;
        for (const Scored& scored : s_byTrainee.at(trainee))
            if (scored.attempt->header.of.empty() && isEnded(*scored.attempt)) own.push_back(scored);
        return own;
    }
    static double meanPercent(const std::vector<Scored>& attempts, std::size_t from, std::size_t count) {
        double sum = 0;
        for (std::size_t i = from; i < from + count; ++i) sum += attempts[i].card.percent;
        return sum / static_cast<double>(count);
    }

    static inline std::shared_ptr<const Rubric> s_air, s_hydraulic;
    static inline std::unique_ptr<DemoProgram> s_program;
    static inline std::map<std::string, std::vector<Scored>> s_byTrainee;
};

/// Monday to Friday; a leap day, both ends of daylight saving between attempts, the farthest day that the
/// program takes.
constexpr std::array kLastDays{"2026-11-23", "2028-02-29", "2025-12-31", "2099-12-31", "2026-03-13"};

/// Days since 1970; 0 for an empty date.
long dayNumber(const std::string& iso) {
    return iso.empty() ? 0 : static_cast<long>(*millisecondsOf(iso.substr(0, 10) + "T00:00Z") / 86400000);
}

/// 1 January 1970 was a Thursday.
bool isWorkday(const std::string& iso) {
    return (dayNumber(iso) % 7 + 7 + 3) % 7 < 5;
}

int workdaysTo(const std::string& last, const std::string& iso) {
    int count = 0;
    for (long day = dayNumber(iso); day < dayNumber(last); ++day) count += (day % 7 + 7 + 3) % 7 < 5;
    return count;
}

Attempt withoutDates(Attempt attempt) {
    attempt.header.started = "2026-03-02T06:10:00-05:00";
    for (Event& event : attempt.events)
        if (!event.at.empty()) event.at = "2026-03-03T06:10:00-05:00";
    return attempt;
}

std::string allText(const DemoProgram& program) {
    std::string text;
    for (const Attempt& attempt : program.attempts) text += writeAttempt(attempt);
    return text;
}

std::uint64_t fnv1a(const std::string& text) {
    std::uint64_t hash = 0xCBF29CE484222325u;
    for (const char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001B3u;
    return hash;
}

}  // namespace

TEST_F(DemoProgramTest, IsAsLargeAsATrainingProgram) {
    EXPECT_EQ(program().trainees.size(), 16u);
    EXPECT_EQ(program().instructors.size(), 4u);
    EXPECT_EQ(program().buses.size(), 5u);
    EXPECT_GE(program().attempts.size(), 90u);
    EXPECT_EQ(program().lastDay, "2026-03-13");
    EXPECT_EQ(program().attempts.back().header.started.substr(0, 10), "2026-03-13");
    // Ten weeks: the first Monday is 5 January 2026.
    EXPECT_GE(program().attempts.front().header.started, "2026-01-05");
    EXPECT_LT(program().attempts.front().header.started, "2026-01-10");
}

TEST_F(DemoProgramTest, SaysThatAllOfItIsInvented) {
    EXPECT_THAT(program().title, HasSubstr("(invented)"));
    EXPECT_THAT(program().note, HasSubstr("invented"));
}

TEST_F(DemoProgramTest, EveryAttemptReadsBackAndIsSoundForItsRubric) {
    for (const Attempt& attempt : program().attempts) {
        const auto again = readAttempt(writeAttempt(attempt), attempt.header.id);
        ASSERT_TRUE(again) << again.error().message
                           << (again.error().problems.empty() ? "" : toText(again.error().problems.front()));
        EXPECT_EQ(*again, attempt);
        const auto problems = checkAgainstRubric(attempt, *rubricOf(attempt), attempt.header.id);
        EXPECT_THAT(problems, IsEmpty()) << (problems.empty() ? "" : toText(problems.front()));
    }
}

TEST_F(DemoProgramTest, NamesOnlyItsOwnPeopleAndBuses) {
    std::map<std::string, const Bus*> buses;
    std::set<std::string> trainees, instructors, ids;
    for (const Bus& bus : program().buses) buses[bus.key] = &bus;
    for (const Trainee& trainee : program().trainees) trainees.insert(trainee.key);
    for (const Instructor& instructor : program().instructors) instructors.insert(instructor.key);
    EXPECT_EQ(trainees.size(), program().trainees.size());
    for (const Attempt& attempt : program().attempts) {
        const AttemptHeader& header = attempt.header;
        EXPECT_TRUE(ids.insert(header.id).second) << header.id;
        EXPECT_TRUE(trainees.contains(header.trainee));
        EXPECT_TRUE(instructors.contains(header.instructor));
        ASSERT_TRUE(buses.contains(header.bus));
        EXPECT_EQ(header.equipment, buses[header.bus]->equipment);
        EXPECT_EQ(header.limits, buses[header.bus]->limits);
    }
}

TEST_F(DemoProgramTest, LeavesNotesWithoutPersonalData) {
    for (const Attempt& attempt : program().attempts)
        for (const Event& event : attempt.events)
            for (const Trainee& trainee : program().trainees) {
                const std::string last = trainee.name.substr(trainee.name.find(' ') + 1);
                EXPECT_EQ(event.text.find(last), std::string::npos) << event.text;
            }
}

TEST_F(DemoProgramTest, HasNoBusAndNoInstructorInTwoPlacesAtOnce) {
    for (const Attempt& a : program().attempts) {
        for (const Attempt& b : program().attempts) {
            if (&a == &b || !a.header.of.empty() || !b.header.of.empty()) continue;
            if (a.header.started.substr(0, 13) != b.header.started.substr(0, 13)) continue;
            EXPECT_NE(a.header.bus, b.header.bus) << a.header.started << " " << b.header.started;
            EXPECT_NE(a.header.instructor, b.header.instructor) << a.header.started;
        }
    }
}

TEST_F(DemoProgramTest, UsesEveryKindOfEvent) {
    std::map<EventKind, int> kinds;
    int wrongNumbers = 0, ranges = 0;
    for (const Attempt& attempt : program().attempts)
        for (const Event& event : attempt.events) {
            ++kinds[event.kind];
            ranges += event.low && event.high;
            if (event.kind != EventKind::Say || !event.value) continue;
            const auto& say = rubricOf(attempt)->step(event.step)->say;
            const auto& number = *std::ranges::find(say, event.point, &Point::id)->number;
            const Limit* limit = rubricOf(attempt)->limit(number.limit);
            wrongNumbers += (limit->low ? *limit->low : *limit->high) != *event.value;
        }
    for (int kind = 0; kind <= static_cast<int>(EventKind::End); ++kind)
        EXPECT_GE(kinds[static_cast<EventKind>(kind)], 10) << toWord(static_cast<EventKind>(kind));
    EXPECT_GE(wrongNumbers, 10);
    EXPECT_GE(ranges, 10);
}

TEST_F(DemoProgramTest, OnlyTheNewestAttemptIsUnfinishedAndCanGoOn) {
    int open = 0;
    for (const Attempt& attempt : program().attempts) open += !isEnded(attempt);
    EXPECT_EQ(open, 1);
    const Attempt& newest = program().attempts.back();
    EXPECT_FALSE(isEnded(newest));
    const auto recorder = Recorder::resume(rubricOf(newest), newest);
    ASSERT_TRUE(recorder) << recorder.error().message;
    EXPECT_FALSE(recorder->ended());
}

TEST_F(DemoProgramTest, OneAttemptWasAmendedByNameAndTime) {
    int amended = 0;
    for (const Attempt& attempt : program().attempts) {
        bool ended = false;
        int after = 0;
        for (const Event& event : attempt.events) {
            if (ended) {
                ++after;
                EXPECT_FALSE(event.by.empty());
                EXPECT_GT(event.at, attempt.header.started);
            }
            ended = ended || event.kind == EventKind::End;
        }
        amended += after > 0;
        if (after == 0) continue;
        // It gave credit that was not there before.
        Attempt before = attempt;
        before.events.resize(attempt.events.size() - static_cast<std::size_t>(after));
        EXPECT_GT(score(*rubricOf(attempt), attempt).earned, score(*rubricOf(attempt), before).earned);
    }
    EXPECT_EQ(amended, 1);
}

TEST_F(DemoProgramTest, SomeAttemptsHaveASecondScoringThatDiffersALittle) {
    int second = 0;
    std::map<std::string, int> shared;
    for (const Attempt& attempt : program().attempts) {
        if (attempt.header.of.empty()) continue;
        ++second;
        const auto first = std::ranges::find(program().attempts, attempt.header.of,
                                             [](const Attempt& a) { return a.header.id; });
        ASSERT_NE(first, program().attempts.end());
        EXPECT_NE(first->header.instructor, attempt.header.instructor);
        ++shared[first->header.instructor];
        ++shared[attempt.header.instructor];
        EXPECT_EQ(first->header.trainee, attempt.header.trainee);
        EXPECT_EQ(first->header.started, attempt.header.started);
        const Scorecard a = score(*rubricOf(*first), *first), b = score(*rubricOf(attempt), attempt);
        EXPECT_NE(a.steps, b.steps);
        EXPECT_NEAR(a.percent, b.percent, 20);
        EXPECT_NEAR(a.seconds, b.seconds, 5);
    }
    EXPECT_GE(second, 8) << "enough to resample attempts";
    int compared = 0, few = 0;
    for (const auto& [who, count] : shared) (count >= 3 ? compared : few) += 1;
    EXPECT_GE(compared, 2);
    EXPECT_GE(few, 1) << "too few to compare, as happens";
}

TEST_F(DemoProgramTest, TakesTheTimeThatPracticeTakes) {
    int whole = 0;
    for (const auto& [trainee, attempts] : s_byTrainee) {
        for (const auto& [attempt, card] : attempts) {
            if (!isEnded(*attempt)) continue;
            EXPECT_GT(card.seconds, 7 * 60) << attempt->header.id;
            EXPECT_LT(card.seconds, 50 * 60) << attempt->header.id;
            const bool cut = std::ranges::any_of(
                attempt->events, [](const Event& event) { return event.kind == EventKind::Unreached; });
            if (cut || attempt->header.zones.size() < rubricOf(*attempt)->zones.size()) continue;
            EXPECT_GT(card.seconds, 20 * 60) << attempt->header.id;
            ++whole;
        }
    }
    EXPECT_GE(whole, 40);
}

TEST_F(DemoProgramTest, HasAFastLearner) {
    const std::vector<Scored> fast = course("t-01");
    ASSERT_GE(fast.size(), 5u);
    EXPECT_GT(fast[1].card.percent, 90);
    int passed = 0;
    for (const Scored& scored : fast) passed += scored.card.result == AttemptResult::Pass;
    EXPECT_GE(passed, 3);
    EXPECT_EQ(fast.back().card.result, AttemptResult::Pass);
}

TEST_F(DemoProgramTest, HasATraineeWhoIsStuckForWeeks) {
    const std::vector<Scored> stuck = course("t-07");
    ASSERT_GE(stuck.size(), 10u);
    for (const Scored& scored : stuck) {
        EXPECT_NE(scored.card.result, AttemptResult::Pass);
        EXPECT_LT(scored.card.percent, 75);
    }
    EXPECT_LT(meanPercent(stuck, stuck.size() - 4, 4) - meanPercent(stuck, 1, 4), 6);
}

TEST_F(DemoProgramTest, MostOthersGetBetter) {
    for (const char* trainee :
         {"t-02", "t-03", "t-04", "t-05", "t-06", "t-08", "t-12", "t-13", "t-14", "t-15"}) {
        const std::vector<Scored> own = course(trainee);
        ASSERT_GE(own.size(), 5u) << trainee;
        EXPECT_GT(meanPercent(own, own.size() - 2, 2) - meanPercent(own, 0, 2), 12) << trainee;
    }
}

TEST_F(DemoProgramTest, HasNewcomersAndOneWhoCameBack) {
    EXPECT_LE(course("t-09").size(), 3u);
    EXPECT_LE(course("t-10").size(), 2u);
    const std::vector<Scored> back = course("t-11");
    // The break: weeks 3 to 7, 26 January to 27 February.
    std::size_t afterBreak = 0;
    while (afterBreak < back.size() && back[afterBreak].attempt->header.started < "2026-01-26") ++afterBreak;
    ASSERT_GT(afterBreak, 0u);
    ASSERT_LT(afterBreak, back.size());
    EXPECT_GE(back[afterBreak].attempt->header.started, "2026-03-02");
    EXPECT_LT(back[afterBreak].card.percent, back[afterBreak - 1].card.percent);
}

TEST_F(DemoProgramTest, WeakZonesShow) {
    // t-07's axles, as one share over all attempts, against the rest of the bus.
    double axles = 0, axlesOf = 0, rest = 0, restOf = 0;
    for (const Scored& scored : course("t-07"))
        for (const ZoneScore& zone : scored.card.zones) {
            const bool axle = zone.zone == "front-axle" || zone.zone == "rear-axle";
            (axle ? axles : rest) += zone.earned;
            (axle ? axlesOf : restOf) += zone.possible;
        }
    ASSERT_GT(axlesOf, 100);
    EXPECT_LT(axles / axlesOf, rest / restOf - 0.15);
}

TEST_F(DemoProgramTest, HasPermitsAndTheoryInEveryState) {
    for (const char* lastDay : kLastDays) {
        SCOPED_TRACE(lastDay);
        const DemoProgram made = endingOn(lastDay);
        const long today = dayNumber(made.lastDay);
        int ended = 0, soon = 0, noPermit = 0, noTheory = 0, medical = 0;
        for (const Trainee& trainee : made.trainees) {
            SCOPED_TRACE(trainee.key);
            const long card = dayNumber(trainee.medicalExpires) - today;
            EXPECT_GT(card, 0);
            medical += card <= 30;
            noTheory += !trainee.theoryPercent;
            EXPECT_EQ(trainee.theoryPercent.has_value(), !trainee.theoryDate.empty());
            EXPECT_EQ(trainee.permitIssued.empty(), trainee.permitExpires.empty());
            if (trainee.permitIssued.empty()) {
                ++noPermit;
                continue;
            }
            const long left = dayNumber(trainee.permitExpires) - today;
            ended += left < 0;
            soon += left >= 19 && left <= 30;
            EXPECT_TRUE(left < 0 || left >= 19) << left;
            // 49 CFR 383.25(c): a permit lasts no more than a year from its issue.
            const long lasts = dayNumber(trainee.permitExpires) - dayNumber(trainee.permitIssued);
            EXPECT_GT(lasts, 360);
            EXPECT_LE(lasts, 365);
        }
        EXPECT_EQ(ended, 1);
        EXPECT_EQ(soon, 1);
        EXPECT_EQ(noPermit, 1);
        EXPECT_EQ(medical, 1);
        EXPECT_GE(noTheory, 3);
    }
}

TEST_F(DemoProgramTest, NobodyPractisesBeforeTheStartOrOutsideThePermit) {
    for (const char* lastDay : kLastDays) {
        const DemoProgram made = endingOn(lastDay);
        std::map<std::string, const Trainee*> trainees;
        for (const Trainee& trainee : made.trainees) trainees[trainee.key] = &trainee;
        for (const Attempt& attempt : made.attempts) {
            const Trainee& trainee = *trainees.at(attempt.header.trainee);
            const std::string day = attempt.header.started.substr(0, 10);
            EXPECT_GE(day, trainee.started) << lastDay << " " << trainee.key;
            if (trainee.permitIssued.empty()) continue;
            EXPECT_GE(day, trainee.permitIssued) << lastDay << " " << trainee.key;
            EXPECT_LE(day, trainee.permitExpires) << lastDay << " " << trainee.key;
        }
    }
}

TEST_F(DemoProgramTest, EveryDateFollowsTheLastDayAndNothingElseChanges) {
    for (const char* lastDay : kLastDays) {
        SCOPED_TRACE(lastDay);
        const DemoProgram made = endingOn(lastDay);
        const long shift = dayNumber(made.lastDay) - dayNumber(program().lastDay);
        EXPECT_EQ(made.attempts.back().header.started.substr(0, 10), made.lastDay);
        ASSERT_EQ(made.attempts.size(), program().attempts.size());
        for (std::size_t i = 0; i < made.attempts.size(); ++i) {
            const std::string& day = made.attempts[i].header.started;
            const std::string& written = program().attempts[i].header.started;
            EXPECT_TRUE(isWorkday(day)) << day;
            EXPECT_EQ(workdaysTo(made.lastDay, day), workdaysTo(program().lastDay, written)) << day;
            // A weekend more or less lies between, no other day.
            EXPECT_LE(std::abs(dayNumber(day) - dayNumber(written) - shift), 2) << day;
            EXPECT_EQ(day.substr(10, 9), written.substr(10, 9)) << "the same time of day";
            for (const Event& event : made.attempts[i].events)
                EXPECT_TRUE(event.at.empty() || (isWorkday(event.at) && event.at > day)) << event.at;
            EXPECT_TRUE(withoutDates(made.attempts[i]) == withoutDates(program().attempts[i])) << day;
        }
        ASSERT_EQ(made.trainees.size(), program().trainees.size());
        for (std::size_t i = 0; i < made.trainees.size(); ++i) {
            const Trainee& own = made.trainees[i];
            const Trainee& written = program().trainees[i];
            SCOPED_TRACE(own.key);
            const auto moved = [](const std::string& date, const std::string& from) {
                return dayNumber(date) - dayNumber(from);
            };
            EXPECT_EQ(moved(own.medicalExpires, written.medicalExpires), shift);
            EXPECT_EQ(moved(own.permitExpires, written.permitExpires),
                      written.permitExpires.empty() ? 0 : shift);
            EXPECT_TRUE(isWorkday(own.started)) << own.started;
            EXPECT_EQ(workdaysTo(made.lastDay, own.started), workdaysTo(program().lastDay, written.started));
            if (!own.theoryDate.empty()) {
                EXPECT_TRUE(isWorkday(own.theoryDate)) << own.theoryDate;
                EXPECT_LT(own.theoryDate, made.lastDay);
            }
            if (!own.permitIssued.empty()) {
                EXPECT_TRUE(isWorkday(own.permitIssued)) << own.permitIssued;
                const long issue = moved(own.permitIssued, written.permitIssued) - shift;
                EXPECT_TRUE(issue >= 0 && issue <= 2) << issue;
            }
            EXPECT_EQ(own.name, written.name);
            EXPECT_EQ(own.note, written.note);
        }
    }
}

TEST_F(DemoProgramTest, MonthsThatAreNamedFollowToo) {
    EXPECT_EQ(program().trainees[0].group, "January");
    EXPECT_EQ(program().trainees[9].group, "March");
    EXPECT_THAT(program().buses[2].note, HasSubstr("December"));
    // 257 days on: 5 January 2026 becomes 19 September, 2 March 14 November, 15 December 29 August.
    const DemoProgram autumn = endingOn("2026-11-25");
    EXPECT_EQ(autumn.trainees[0].group, "September");
    EXPECT_EQ(autumn.trainees[9].group, "November");
    EXPECT_THAT(autumn.buses[2].note, HasSubstr("August"));
}

TEST_F(DemoProgramTest, ALastDayOnAWeekendIsTheFridayBefore) {
    for (const char* weekend : {"2026-11-28", "2026-11-29"}) {
        const DemoProgram made = endingOn(weekend);
        EXPECT_EQ(made.lastDay, "2026-11-27");
        EXPECT_EQ(made.attempts.back().header.started.substr(0, 10), "2026-11-27");
    }
    EXPECT_EQ(endingOn("2026-11-27").lastDay, "2026-11-27");
}

TEST_F(DemoProgramTest, TheLastWorkingDayIsNeverOnAWeekend) {
    // From Thursday 19 November 2026 on; New Year's Eve (Thursday); the leap day (Tuesday).
    for (const auto& [day, last] : std::map<std::string, std::string>{{"2026-11-19", "2026-11-19"},
                                                                      {"2026-11-20", "2026-11-20"},
                                                                      {"2026-11-21", "2026-11-20"},
                                                                      {"2026-11-22", "2026-11-20"},
                                                                      {"2026-11-23", "2026-11-23"},
                                                                      {"2026-12-31", "2026-12-31"},
                                                                      {"2028-02-29", "2028-02-29"}})
        EXPECT_EQ(demo::lastWorkingDayUpTo(day), last) << day;
}

TEST_F(DemoProgramTest, GoodTraineesSpeakAheadInTheSilentMinute) {
    int ahead = 0;
    for (const auto& [trainee, attempts] : s_byTrainee) {
        for (const auto& [attempt, card] : attempts) {
            int said = 0, shown = 0;
            for (const Event& event : attempt->events) {
                if (event.step != "low-warning") continue;
                if (event.kind == EventKind::Say && event.point == "limit" && said == 0) said = event.n;
                if (event.kind == EventKind::Show && shown == 0) shown = event.n;
            }
            const auto step = std::ranges::find(card.steps, "low-warning", &StepScore::step);
            if (said > 0 && said < shown && step->outcome == StepOutcome::Satisfied) {
                ++ahead;
                EXPECT_EQ(step->position, shown);
            }
        }
    }
    EXPECT_GE(ahead, 10);
}

TEST_F(DemoProgramTest, HasOrderFaultsAndRealDefects) {
    int outOfPlace = 0, faults = 0, wrongByReading = 0;
    for (const auto& [trainee, attempts] : s_byTrainee) {
        for (const auto& [attempt, card] : attempts) {
            outOfPlace += !card.displaced.empty();
            for (const Event& event : attempt->events) faults += event.kind == EventKind::Fault;
            for (const StepScore& step : card.steps) wrongByReading += step.outcome == StepOutcome::Wrong;
        }
    }
    EXPECT_GE(outOfPlace, 15);
    EXPECT_GE(faults, 10);
    EXPECT_GE(wrongByReading, 20);
}

TEST_F(DemoProgramTest, LenientInstructorsHelpMoreThanStrictOnes) {
    std::map<std::string, std::pair<int, int>> prompts;  // prompts, attempts
    for (const Attempt& attempt : program().attempts) {
        auto& [count, attempts] = prompts[attempt.header.instructor];
        ++attempts;
        for (const Event& event : attempt.events) count += event.kind == EventKind::Prompt;
    }
    const auto rate = [&](const char* key) { return 1.0 * prompts[key].first / prompts[key].second; };
    EXPECT_GT(rate("i-3"), rate("i-2"));
    EXPECT_GT(rate("i-2"), rate("i-4"));
}

TEST_F(DemoProgramTest, HasHoursBookedTestsAndATimeAwayThatFollowTheLastDay) {
    for (const char* lastDay : kLastDays) {
        SCOPED_TRACE(lastDay);
        const DemoProgram made = endingOn(lastDay);
        EXPECT_GT(made.hours.size(), 80u);
        EXPECT_EQ(readClockHours(writeClockHours(made.hours)).value(), made.hours);
        EXPECT_EQ(readBookedTests(writeBookedTests(made.bookings)).value(), made.bookings);
        EXPECT_EQ(readAbsences(writeAbsences(made.absences)).value(), made.absences);
        EXPECT_EQ(readTrainingCsv(writeTrainingCsv(made.courses)).value(), made.courses);
        std::set<std::string> trainees, instructors;
        for (const Trainee& trainee : made.trainees) trainees.insert(trainee.key);
        for (const Instructor& instructor : made.instructors) instructors.insert(instructor.key);
        for (const ClockHours& hours : made.hours) {
            EXPECT_TRUE(trainees.contains(hours.trainee));
            EXPECT_TRUE(instructors.contains(hours.instructor));
            EXPECT_LT(hours.date, made.lastDay);
        }
        ASSERT_EQ(made.bookings.size(), 2u);
        for (const BookedTest& test : made.bookings) {
            EXPECT_GT(test.date, made.lastDay);
            EXPECT_TRUE(isWorkday(test.date)) << test.date;
        }
        ASSERT_EQ(made.absences.size(), 1u);
        // Nobody practises while away.
        for (const Attempt& attempt : made.attempts)
            if (attempt.header.trainee == made.absences[0].trainee) {
                EXPECT_FALSE(isAway(made.absences, attempt.header.started.substr(0, 10)));
            }
        EXPECT_EQ(made.hours.size(), program().hours.size());
    }
}

TEST_F(DemoProgramTest, SameSeedSameBytes) {
    const DemoProgram again = demo::makeDemoProgram(*s_air, *s_hydraulic);
    EXPECT_EQ(allText(again), allText(program()));
    EXPECT_EQ(again.trainees, program().trainees);
    EXPECT_EQ(again.buses, program().buses);
    DemoOptions other;
    other.seed = 7;
    EXPECT_NE(allText(demo::makeDemoProgram(*s_air, *s_hydraulic, other)), allText(program()));
}

// The sum of all attempt documents, approved on 2026-11-28. It moves when a rubric's steps or the generator
// do: look at what changed, then write the new sum here.
TEST_F(DemoProgramTest, KeepsItsApprovedSum) {
    EXPECT_EQ(fnv1a(allText(program())), 16160099656930009923u) << "new sum: " << fnv1a(allText(program()));
}

TEST_F(DemoProgramTest, FollowsItsOptions) {
    DemoOptions options;
    options.trainees = 18;
    options.weeks = 4;
    options.lastDay = "2025-11-21";
    const DemoProgram small = demo::makeDemoProgram(*s_air, *s_hydraulic, options);
    EXPECT_EQ(small.trainees.size(), 18u);
    std::set<std::string> keys;
    for (const Trainee& trainee : small.trainees) keys.insert(trainee.key);
    EXPECT_EQ(keys.size(), 18u);
    EXPECT_EQ(small.attempts.back().header.started.substr(0, 10), "2025-11-21");
    EXPECT_GE(small.attempts.front().header.started, "2025-10-27");
    for (const Attempt& attempt : small.attempts)
        EXPECT_THAT(checkAgainstRubric(attempt, *rubricOf(attempt)), IsEmpty());
}

}  // namespace markerlamp::core
