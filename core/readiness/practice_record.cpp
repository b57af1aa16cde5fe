// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/readiness/practice_record.h"

#include "core/base/moment.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <numeric>

namespace markerlamp::core {

namespace {

constexpr double kSecondsPerDay = 86400;
constexpr double kSecondsPerMinute = 60;
constexpr char kBetween = '\n';  ///< no id contains it

std::string keyOf(std::string_view rubric, std::string_view part) {
    std::string key;
    key.reserve(rubric.size() + part.size() + 1);
    key.append(rubric).push_back(kBetween);
    key.append(part);
    return key;
}

std::optional<std::int32_t> found(const std::unordered_map<std::string, std::int32_t>& numbers,
                                  const std::string& key) {
    const auto at = numbers.find(key);
    if (at == numbers.end()) return std::nullopt;
    return at->second;
}

/// Puts every value where its new number says.
template <class T>
void renumber(std::vector<T>& values, const std::vector<std::int32_t>& newNumber) {
    std::vector<T> moved(values.size());
    for (std::size_t i = 0; i < values.size(); ++i)
        moved[static_cast<std::size_t>(newNumber[i])] = std::move(values[i]);
    values = std::move(moved);
}

bool coversAll(const Rubric& rubric, const std::vector<std::string>& zones) {
    return std::ranges::all_of(
        rubric.zones, [&](const Zone& zone) { return std::ranges::find(zones, zone.id) != zones.end(); });
}

}  // namespace

std::optional<double> dayOf(std::string_view moment) {
    const auto milliseconds = millisecondsOf(moment);
    if (!milliseconds) return std::nullopt;
    return static_cast<double>(*milliseconds) / (1000 * kSecondsPerDay);
}

std::string momentOf(double day) {
    using namespace std::chrono;
    const auto all = static_cast<std::int64_t>(std::llround(day * kSecondsPerDay));
    const sys_seconds moment{seconds(all)};
    const sys_days midnight = floor<days>(moment);
    const year_month_day date(midnight);
    const hh_mm_ss time(moment - midnight);
    char text[40];
    std::snprintf(text, sizeof text, "%04d-%02u-%02uT%02d:%02d:%02dZ", static_cast<int>(date.year()),
                  static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()),
                  static_cast<int>(time.hours().count()), static_cast<int>(time.minutes().count()),
                  static_cast<int>(time.seconds().count()));
    return text;
}

std::optional<int> offsetSecondsOf(std::string_view moment) {
    if (!millisecondsOf(moment)) return std::nullopt;
    if (moment.back() == 'Z') return 0;
    constexpr std::size_t kOffset = 6;  // +hh:mm; millisecondsOf() has seen it
    const std::string_view offset = moment.substr(moment.size() - kOffset);
    const auto two = [&](std::size_t at) { return (offset[at] - '0') * 10 + (offset[at + 1] - '0'); };
    const int seconds = (two(1) * 60 + two(4)) * static_cast<int>(kSecondsPerMinute);
    return offset[0] == '-' ? -seconds : seconds;
}

std::vector<std::string> stepsNamed(const Rubric& rubric, const std::string& entry) {
    constexpr std::string_view kZone = "zone:";
    if (!entry.starts_with(kZone)) return {entry};
    std::vector<std::string> steps;
    if (const Zone* zone = rubric.zone(std::string_view(entry).substr(kZone.size())))
        for (const Step& step : zone->steps) steps.push_back(step.id);
    return steps;
}

bool canBreak(const Rubric& rubric, const OrderRule& rule, const std::unordered_set<std::string>& steps) {
    const auto meets = [&](const std::string& entry) {
        const std::vector<std::string> named = stepsNamed(rubric, entry);
        return std::ranges::any_of(named, [&](const std::string& step) { return steps.contains(step); });
    };
    if (!rule.chain.empty()) return std::ranges::count_if(rule.chain, meets) >= 2;
    return std::ranges::any_of(rule.first, meets) && std::ranges::any_of(rule.then, meets);
}

std::int32_t PracticeRecord::Numbers::number(const std::string& key) {
    return of.emplace(key, static_cast<std::int32_t>(of.size())).first->second;
}

std::vector<std::int32_t> PracticeRecord::Numbers::sorted() {
    std::vector<std::string> keys(of.size());
    for (const auto& [key, number] : of) keys[static_cast<std::size_t>(number)] = key;
    std::vector<std::int32_t> order(keys.size());
    std::iota(order.begin(), order.end(), 0);
    std::ranges::sort(
        order, {}, [&](std::int32_t i) -> const std::string& { return keys[static_cast<std::size_t>(i)]; });
    std::vector<std::int32_t> newNumber(keys.size());
    for (std::size_t i = 0; i < order.size(); ++i)
        newNumber[static_cast<std::size_t>(order[i])] = static_cast<std::int32_t>(i);
    for (auto& [key, number] : of) number = newNumber[static_cast<std::size_t>(number)];
    return newNumber;
}

std::int32_t PracticeRecord::numberOfStep(const Rubric& rubric, const StepScore& score, double day) {
    const std::int32_t number = m_stepNumbers.number(keyOf(rubric.id, score.step));
    const auto place = static_cast<std::size_t>(number);
    const std::string& attempt = m_attempts.back().id;
    if (place == m_steps.size()) {
        m_steps.push_back({rubric.id, score.step, score.zone});
        m_stepZoneFrom.emplace_back(day, attempt);
    } else if (m_steps[place].zone != score.zone && m_stepZoneFrom[place] < std::pair(day, attempt)) {
        m_steps[place].zone = score.zone;  // an edition moved it: the newest attempt decides
        m_stepZoneFrom[place] = {day, attempt};
    }
    return number;
}

std::int32_t PracticeRecord::numberOfRule(const Rubric& rubric, const OrderRule& rule) {
    const std::int32_t number = m_ruleNumbers.number(keyOf(rubric.id, rule.id));
    if (static_cast<std::size_t>(number) == m_rules.size()) m_rules.push_back({rubric.id, rule.id});
    return number;
}

void PracticeRecord::addRules(const Rubric& rubric, const Scorecard& card, PracticeAttempt& taken) {
    std::unordered_set<std::string> engaged;
    for (const OrderRule& rule : rubric.order) {
        if (!rule.strict || !rule.mustPass) continue;
        if (engaged.empty())
            for (const StepScore& step : card.steps)
                if (step.position > 0) engaged.insert(step.step);
        if (!canBreak(rubric, rule, engaged)) continue;
        const bool broken = std::ranges::find(card.brokenRules, rule.id) != card.brokenRules.end();
        taken.rules.push_back({numberOfRule(rubric, rule), !broken});
    }
}

bool PracticeRecord::add(const Rubric& rubric, const Attempt& attempt, const Scorecard& card) {
    const AttemptHeader& header = attempt.header;
    const std::optional<double> day = dayOf(header.started);
    if (!day || !header.of.empty() || !isEnded(attempt) || !m_ids.insert(header.id).second) return false;
    PracticeAttempt& taken = m_attempts.emplace_back();
    taken.id = header.id;
    taken.day = *day;
    taken.trainee = m_traineeNumbers.number(header.trainee);
    taken.instructor = m_instructorNumbers.number(header.instructor);
    taken.rubric = m_rubricNumbers.number(rubric.id);
    taken.whole = coversAll(rubric, header.zones);
    taken.result = card.result;
    taken.minutes = card.seconds / kSecondsPerMinute;
    taken.overTime = rubric.pass.minutes && taken.minutes > *rubric.pass.minutes;
    taken.tries.reserve(card.steps.size());
    for (const StepScore& step : card.steps) {
        if (step.outcome == StepOutcome::Unseen || step.outcome == StepOutcome::Unreached) continue;
        taken.tries.push_back({numberOfStep(rubric, step, *day), step.outcome == StepOutcome::Satisfied});
    }
    addRules(rubric, card, taken);
    return true;
}

void PracticeRecord::sort() {
    const std::vector<std::int32_t> steps = m_stepNumbers.sorted(), rules = m_ruleNumbers.sorted(),
                                    trainees = m_traineeNumbers.sorted(),
                                    instructors = m_instructorNumbers.sorted(),
                                    rubrics = m_rubricNumbers.sorted();
    const auto anew = [](std::int32_t& number, const std::vector<std::int32_t>& numbers) {
        number = numbers[static_cast<std::size_t>(number)];
    };
    for (PracticeAttempt& attempt : m_attempts) {
        anew(attempt.trainee, trainees);
        anew(attempt.instructor, instructors);
        anew(attempt.rubric, rubrics);
        for (StepTry& one : attempt.tries) anew(one.step, steps);
        for (RuleTry& one : attempt.rules) anew(one.rule, rules);
    }
    renumber(m_steps, steps);
    renumber(m_stepZoneFrom, steps);
    renumber(m_rules, rules);
    std::ranges::sort(m_attempts, [](const PracticeAttempt& a, const PracticeAttempt& b) {
        return std::tie(a.day, a.id) < std::tie(b.day, b.id);
    });
    const auto keys = [](const Numbers& numbers) {
        std::vector<std::string> all(numbers.of.size());
        for (const auto& [key, number] : numbers.of) all[static_cast<std::size_t>(number)] = key;
        return all;
    };
    m_trainees = keys(m_traineeNumbers);
    m_instructors = keys(m_instructorNumbers);
    m_rubrics = keys(m_rubricNumbers);
    m_byTrainee.assign(m_trainees.size(), {});
    for (std::size_t i = 0; i < m_attempts.size(); ++i)
        m_byTrainee[static_cast<std::size_t>(m_attempts[i].trainee)].push_back(i);
}

std::optional<std::int32_t> PracticeRecord::traineeNumber(std::string_view key) const {
    return found(m_traineeNumbers.of, std::string(key));
}

std::optional<std::int32_t> PracticeRecord::stepNumber(std::string_view rubric, std::string_view step) const {
    return found(m_stepNumbers.of, keyOf(rubric, step));
}

std::optional<std::int32_t> PracticeRecord::ruleNumber(std::string_view rubric, std::string_view rule) const {
    return found(m_ruleNumbers.of, keyOf(rubric, rule));
}

std::vector<std::size_t> PracticeRecord::attemptsOf(std::int32_t trainee, double before) const {
    const auto place = static_cast<std::size_t>(trainee);
    if (trainee < 0 || place >= m_byTrainee.size()) return {};
    const std::vector<std::size_t>& all = m_byTrainee[place];
    const auto end =
        std::ranges::lower_bound(all, before, {}, [&](std::size_t i) { return m_attempts[i].day; });
    return {all.begin(), end};
}

}  // namespace markerlamp::core
