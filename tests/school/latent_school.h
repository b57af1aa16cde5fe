#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// An invented driver school in which the true chance of passing is known, to hold forecasts against. It is
// built on purpose from other parts than the forecast's own model, so that the model cannot win by being the
// truth: nothing here is a sum of logits.
//
// A trainee knows a step or does not. What is known comes to mind with a chance that falls with the days as a
// power of time, slower the more often the step was done (spacing makes it slower still). What comes to mind
// can slip, more on a bad day and more towards the end of the walk; what does not can be carried off by luck.
// Steps are learned from the debrief after an attempt and at home, at everybody's own pace. Instructors do
// not shift a scale: a strict one refuses some good answers, a lenient one lets some bad ones pass. The order
// of the brake checks is kept with a chance of its own. Numbers are invented; only their spread matters.

#include "core/attempt/attempt.h"
#include "core/rubric/rubric.h"
#include "core/scoring/scorecard.h"
#include "demo/generator/random.h"

#include <cstdint>
#include <memory>
#include <string>
#include <vector>

namespace markerlamp::school {

/// Chance with fractions, on top of the demo program's generator.
class Luck {
public:
    explicit Luck(std::uint64_t seed) : m_random(seed) {}
    double uniform() { return static_cast<double>(m_random.next() >> 11) * 0x1p-53; }
    double between(double low, double high) { return low + (high - low) * uniform(); }
    bool happens(double chance) { return uniform() < chance; }
    int below(int bound) { return m_random.below(bound); }
    double normal();

private:
    demo::Random m_random;
};

struct Shape {
    std::string name;
    int trainees = 60;
    int instructors = 6;
    int zones = 10;          ///< the last but one is the brake zone
    int stepsPerZone = 8;    ///< at least 6
    double days = 180;       ///< from the first trainee's first day to the end
    double gapDays = 7;      ///< median between attempts of a trainee
    double gapSpread = 0.3;  ///< standard deviation of its logarithm
    double wholeShare = 0.8;
    double badDays = 0.4;  ///< standard deviation of the logarithm of a day's slips
    double dropOut = 0.12;
    int mostAttempts = 14;
};

/// Weekly practice, mostly over the whole bus.
[[nodiscard]] Shape steady();
/// Few attempts, most of them over some zones, long and uneven gaps, good and bad days far apart.
[[nodiscard]] Shape patchy();

struct Held {
    core::Attempt attempt;
    core::Scorecard card;
    double day = 0;  ///< since 1970-01-01, as documents' moments are counted
    int trainee = 0;
    bool whole = false;
    bool stopped = false;  ///< broken off before the last step
};

class School {
public:
    School(Shape shape, std::uint64_t seed);

    [[nodiscard]] const Shape& shape() const { return m_shape; }
    [[nodiscard]] const std::shared_ptr<const core::Rubric>& rubric() const { return m_rubric; }
    [[nodiscard]] const std::vector<Held>& attempts() const { return m_held; }  ///< oldest first
    [[nodiscard]] double firstDay() const;
    [[nodiscard]] std::string traineeKey(int trainee) const;
    /// Trainees with an attempt before the day who come again after it or have come within 60 days.
    [[nodiscard]] std::vector<int> activeAt(double day) const;

    /// Share of passes among `runs` imagined tests over these zones, begun at that day by a trainee who is as
    /// his last attempt before it left him. Marked by an examiner of the school's average severity. Nothing
    /// in the school changes.
    [[nodiscard]] double passChance(int trainee, double day, const std::vector<std::string>& zones, int runs,
                                    std::uint64_t seed) const;

private:
    struct Memory {
        bool known = false;
        double stability = 0;  ///< days after which nine in ten still come to mind
        double last = 0;       ///< day of the last rehearsal
    };
    struct State {
        double day = 0;
        std::vector<Memory> steps;
        double chainKept = 0.5;
    };
    struct Person {
        double learn = 0, study = 0, memory = 0, slip = 0, tires = 0, chainLearn = 0, background = 0;
        int instructor = 0;
        std::vector<State> states;  ///< before the first attempt, then after each
    };
    struct Severity {
        double refuses = 0, forgives = 0;
    };
    struct StepKind {
        double ease = 0, slip = 0, luck = 0;
        int zone = 0;
        bool mustPass = false;
        int weight = 1;
    };
    struct Performance {
        std::vector<int> steps;             ///< in the order of the rubric
        std::vector<bool> recalled, right;  ///< did it come to mind; was it marked as right
        bool chainKept = true;
    };

    void makeRubric();
    void makePeople(Luck& luck);
    void run(Person& person, int number, Luck& luck);
    void hold(Person& person, int number, double day, Luck& luck);
    [[nodiscard]] std::vector<int> someZones(Luck& luck) const;
    void elapse(const Person& person, State& state, double day, Luck& luck) const;
    [[nodiscard]] Performance perform(const Person& person, const State& state, const std::vector<int>& zones,
                                      const Severity& severity, Luck& luck) const;
    void debrief(const Person& person, State& state, const Performance& done, std::size_t observed,
                 Luck& luck) const;
    [[nodiscard]] bool passes(const Performance& done) const;
    [[nodiscard]] core::Attempt document(const Performance& done, std::size_t observed, Luck& luck) const;
    /// The day as it stands in the document: whole seconds.
    static double setStart(core::AttemptHeader& header, double day);
    [[nodiscard]] const State& stateAt(const Person& person, double day) const;

    Shape m_shape;
    std::shared_ptr<const core::Rubric> m_rubric;
    std::vector<StepKind> m_kinds;
    std::vector<const core::Step*> m_steps;
    std::vector<Severity> m_severities;
    Severity m_examiner;
    std::vector<Person> m_people;
    std::vector<Held> m_held;
};

}  // namespace markerlamp::school
