// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "latent_school.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

namespace markerlamp::school {

namespace {

constexpr double kFirstDay = 20000.25;  // a day in October 2024
constexpr double kAwayForGood = 60;     // days

}  // namespace

double Luck::normal() {
    const double radius = std::sqrt(-2 * std::log(1 - uniform()));
    return radius * std::cos(2 * std::numbers::pi * uniform());
}

Shape steady() {
    Shape shape;
    shape.name = "steady";
    return shape;
}

Shape patchy() {
    Shape shape;
    shape.name = "patchy";
    shape.gapDays = 10;
    shape.gapSpread = 0.9;
    shape.wholeShare = 0.35;
    shape.badDays = 0.6;
    shape.dropOut = 0.2;
    shape.mostAttempts = 10;
    return shape;
}

School::School(Shape shape, std::uint64_t seed) : m_shape(std::move(shape)) {
    Luck luck(seed);
    makeRubric();
    for (const core::Zone& zone : m_rubric->zones)
        for (const core::Step& step : zone.steps) {
            StepKind kind;
            kind.zone = static_cast<int>(&zone - m_rubric->zones.data());
            kind.mustPass = step.mustPass;
            kind.weight = step.weight;
            kind.ease = step.mustPass ? luck.between(0.9, 1.1) : luck.between(0.25, 1.0);
            kind.slip = step.mustPass ? luck.between(0.05, 0.4) : luck.between(0.3, 1.7);
            kind.luck = luck.between(0.02, 0.3);
            m_kinds.push_back(kind);
            m_steps.push_back(&step);
        }
    for (int i = 0; i < m_shape.instructors; ++i)
        m_severities.push_back({luck.between(0, 0.08), luck.between(0, 0.16)});
    for (const Severity& one : m_severities) {
        m_examiner.refuses += one.refuses / m_shape.instructors;
        m_examiner.forgives += one.forgives / m_shape.instructors;
    }
    makePeople(luck);
    std::ranges::stable_sort(m_held, {}, &Held::day);
}

double School::firstDay() const {
    return kFirstDay;
}

std::string School::traineeKey(int trainee) const {
    return "trainee-" + std::to_string(trainee);
}

void School::makePeople(Luck& luck) {
    m_people.resize(static_cast<std::size_t>(m_shape.trainees));
    for (int number = 0; number < m_shape.trainees; ++number) {
        Person& person = m_people[static_cast<std::size_t>(number)];
        person.background = luck.between(0.2, 0.8);
        person.learn = luck.between(0.2, 0.9);
        person.study = luck.happens(0.3) ? 0 : luck.between(0, 0.06);
        person.memory = std::exp(3 + 0.6 * luck.normal());
        person.slip = luck.between(0.01, 0.12);
        person.tires = luck.between(0, 1.5);
        person.chainLearn = luck.between(0.05, 0.5);
        person.instructor = luck.below(m_shape.instructors);
        State begin;
        begin.day = kFirstDay + luck.uniform() * m_shape.days * 0.6;
        begin.chainKept = luck.between(0.4, 1);
        std::vector<double> zones;
        for (int z = 0; z < m_shape.zones; ++z) zones.push_back(luck.between(-0.3, 0.3));
        for (const StepKind& kind : m_kinds) {
            Memory memory;
            memory.known = luck.happens(
                kind.ease * (person.background + zones[static_cast<std::size_t>(kind.zone)]) + 0.1);
            memory.stability = person.memory * luck.between(0.6, 1.4);
            memory.last = begin.day - luck.between(0, 10);
            begin.steps.push_back(memory);
        }
        person.states.push_back(std::move(begin));
        run(person, number, luck);
    }
}

void School::run(Person& person, int number, Luck& luck) {
    const double end = kFirstDay + m_shape.days;
    const int last = luck.happens(m_shape.dropOut) ? 1 + luck.below(4) : m_shape.mostAttempts;
    double day = person.states.front().day;
    for (int attempt = 0; attempt < last && day < end; ++attempt) {
        hold(person, number, day, luck);
        day += std::max(1.0, m_shape.gapDays * std::exp(m_shape.gapSpread * luck.normal()));
    }
}

std::vector<int> School::someZones(Luck& luck) const {
    std::vector<int> all(static_cast<std::size_t>(m_shape.zones));
    std::iota(all.begin(), all.end(), 0);
    const std::size_t count = 2 + static_cast<std::size_t>(luck.below(4));
    for (std::size_t i = 0; i < count && i + 1 < all.size(); ++i)
        std::swap(all[i], all[i + static_cast<std::size_t>(luck.below(static_cast<int>(all.size() - i)))]);
    all.resize(std::min(count, all.size()));
    std::ranges::sort(all);
    return all;
}

void School::hold(Person& person, int number, double day, Luck& luck) {
    State state = person.states.back();
    elapse(person, state, day, luck);
    Held held;
    held.day = day;
    held.trainee = number;
    held.whole = luck.happens(m_shape.wholeShare);
    std::vector<int> zones(static_cast<std::size_t>(m_shape.zones));
    std::iota(zones.begin(), zones.end(), 0);
    if (!held.whole) zones = someZones(luck);
    const int instructor = luck.happens(0.6) ? person.instructor : luck.below(m_shape.instructors);
    const Performance done =
        perform(person, state, zones, m_severities[static_cast<std::size_t>(instructor)], luck);
    std::size_t observed = done.steps.size();
    held.stopped = luck.happens(0.04);
    if (held.stopped) observed = 1 + static_cast<std::size_t>(luck.below(static_cast<int>(observed) - 1));
    held.attempt = document(done, observed, luck);
    core::AttemptHeader& header = held.attempt.header;
    header.id = "attempt-" + std::to_string(number) + "-" + std::to_string(person.states.size());
    header.trainee = traineeKey(number);
    header.instructor = "instructor-" + std::to_string(instructor);
    for (const int z : zones) header.zones.push_back(m_rubric->zones[static_cast<std::size_t>(z)].id);
    held.day = setStart(header, day);
    const core::Scorer scorer(m_rubric);
    held.card = scorer.score(held.attempt);
    m_held.push_back(std::move(held));
    debrief(person, state, done, observed, luck);
    person.states.push_back(std::move(state));
}

/// What the days since the last attempt did: some steps are learned at home. Forgetting needs no doing: it is
/// in the chance that a step comes to mind.
void School::elapse(const Person& person, State& state, double day, Luck& luck) const {
    const double days = std::max(0.0, day - state.day);
    for (std::size_t s = 0; s < state.steps.size(); ++s) {
        Memory& memory = state.steps[s];
        if (memory.known || person.study == 0) continue;
        if (!luck.happens(1 - std::exp(-person.study * m_kinds[s].ease * days))) continue;
        memory.known = true;
        memory.last = day - days * luck.uniform();
    }
    state.day = day;
}

School::Performance School::perform(const Person& person, const State& state, const std::vector<int>& zones,
                                    const Severity& severity, Luck& luck) const {
    Performance done;
    const double slips = person.slip * std::exp(m_shape.badDays * luck.normal());
    const double all = static_cast<double>(m_kinds.size());
    bool brakes = false;
    for (std::size_t s = 0; s < m_kinds.size(); ++s) {
        const StepKind& kind = m_kinds[s];
        if (!std::ranges::binary_search(zones, kind.zone)) continue;
        const Memory& memory = state.steps[s];
        const double away = std::max(0.0, state.day - memory.last);
        // Power law of forgetting (Wickelgren 1974): nine in ten are left after `stability` days.
        const bool recalled = memory.known && luck.happens(1 / (1 + away / (9 * memory.stability)));
        const double walked = static_cast<double>(done.steps.size()) / all;
        const double slip = std::min(0.9, slips * kind.slip * (1 + person.tires * walked));
        const bool good = recalled ? !luck.happens(slip) : luck.happens(kind.luck);
        done.steps.push_back(static_cast<int>(s));
        done.recalled.push_back(recalled);
        done.right.push_back(good ? !luck.happens(severity.refuses) : luck.happens(severity.forgives));
        brakes = brakes || kind.mustPass;
    }
    done.chainKept = !brakes || luck.happens(state.chainKept);
    return done;
}

void School::debrief(const Person& person, State& state, const Performance& done, std::size_t observed,
                     Luck& luck) const {
    bool brakes = false;
    for (std::size_t i = 0; i < observed; ++i) {
        const auto s = static_cast<std::size_t>(done.steps[i]);
        Memory& memory = state.steps[s];
        brakes = brakes || m_kinds[s].mustPass;
        if (done.recalled[i]) {
            const double away = std::max(0.0, state.day - memory.last);
            memory.stability *= 1.15 + std::min(1.0, away / (4 * memory.stability));
            memory.last = state.day;
        } else if (luck.happens(person.learn * m_kinds[s].ease * (memory.known ? 1.3 : 1.0))) {
            memory.known = true;
            memory.last = state.day;
        }
    }
    if (brakes) state.chainKept += (1 - state.chainKept) * person.chainLearn * luck.uniform();
}

bool School::passes(const Performance& done) const {
    int possible = 0, earned = 0;
    for (std::size_t i = 0; i < done.steps.size(); ++i) {
        const StepKind& kind = m_kinds[static_cast<std::size_t>(done.steps[i])];
        if (kind.mustPass && !done.right[i]) return false;
        possible += kind.weight;
        if (done.right[i]) earned += kind.weight;
    }
    return done.chainKept && 100.0 * earned >= m_rubric->pass.percent * possible - 1e-9;
}

const School::State& School::stateAt(const Person& person, double day) const {
    const auto after =
        std::ranges::partition_point(person.states, [day](const State& state) { return state.day < day; });
    return after == person.states.begin() ? *after : *(after - 1);
}

std::vector<int> School::activeAt(double day) const {
    std::vector<int> active;
    for (int number = 0; number < m_shape.trainees; ++number) {
        const auto& states = m_people[static_cast<std::size_t>(number)].states;
        if (states.size() < 2 || states[1].day >= day) continue;
        const bool again = states.back().day >= day;
        if (again || day - states.back().day < kAwayForGood) active.push_back(number);
    }
    return active;
}

double School::passChance(int trainee, double day, const std::vector<std::string>& zones, int runs,
                          std::uint64_t seed) const {
    const Person& person = m_people[static_cast<std::size_t>(trainee)];
    const State& before = stateAt(person, day);
    std::vector<int> numbers;
    for (std::size_t z = 0; z < m_rubric->zones.size(); ++z)
        if (std::ranges::count(zones, m_rubric->zones[z].id) > 0) numbers.push_back(static_cast<int>(z));
    Luck luck(seed);
    int passed = 0;
    for (int run = 0; run < runs; ++run) {
        State state = before;
        elapse(person, state, day, luck);
        if (passes(perform(person, state, numbers, m_examiner, luck))) ++passed;
    }
    return static_cast<double>(passed) / runs;
}

}  // namespace markerlamp::school
