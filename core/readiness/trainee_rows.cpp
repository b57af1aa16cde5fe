// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/readiness/trainee_rows.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace markerlamp::core {

namespace {

// Bounds that no real program meets; they keep a file from strangers from growing the model without limit.
constexpr std::size_t kMostSteps = 1500;
constexpr std::size_t kMostInstructors = 300;
constexpr std::size_t kMostRubrics = 60;
constexpr std::size_t kMostDays = 120;   ///< own day effects of a trainee; the oldest share one
constexpr std::size_t kMostZones = 150;  ///< own zone effects of a trainee

/// Gives effects to the members with the most tries, in the order of their numbers.
std::vector<int> effectsOf(const std::vector<int>& tries, std::size_t most, int& next) {
    std::vector<std::size_t> order;
    for (std::size_t i = 0; i < tries.size(); ++i)
        if (tries[i] > 0) order.push_back(i);
    if (order.size() > most) {
        std::ranges::stable_sort(order, std::greater{}, [&](std::size_t i) { return tries[i]; });
        order.resize(most);
        std::ranges::sort(order);
    }
    std::vector<int> effects(tries.size(), -1);
    for (const std::size_t i : order) effects[i] = next++;
    return effects;
}

}  // namespace

std::string ModelLayout::zoneKey(const std::string& rubric, const std::string& zone) {
    return rubric + '\n' + zone;
}

ModelLayout::ModelLayout(const PracticeRecord& record, double before) {
    std::vector<int> stepTries(record.steps().size(), 0);
    rubricTries.assign(record.rubrics().size(), 0);
    instructorTries.assign(record.instructors().size(), 0);
    for (const PracticeAttempt& attempt : record.attempts()) {
        if (attempt.day >= before) break;
        const int tries = static_cast<int>(attempt.tries.size());
        rubricTries[static_cast<std::size_t>(attempt.rubric)] += tries;
        instructorTries[static_cast<std::size_t>(attempt.instructor)] += tries;
        for (const StepTry& one : attempt.tries) ++stepTries[static_cast<std::size_t>(one.step)];
    }
    effects = kFirstRubric;
    rubric = effectsOf(rubricTries, kMostRubrics, effects);
    firstInstructor = effects;
    instructor = effectsOf(instructorTries, kMostInstructors, effects);
    firstStep = effects;
    step = effectsOf(stepTries, kMostSteps, effects);
    for (const PracticeStep& one : record.steps())
        zone.push_back(zoneNumber.emplace(zoneKey(one.rubric, one.zone), static_cast<int>(zoneNumber.size()))
                           .first->second);
}

TraineePractice::TraineePractice(const PracticeRecord& record, const ModelLayout& layout, double halfLifeDays)
    : m_record(record),
      m_layout(layout),
      m_halfLife(halfLifeDays),
      m_steps(record.steps().size()),
      m_zone(layout.zoneNumber.size(), -1) {}

void TraineePractice::begin() {
    for (const std::int32_t step : m_touched) m_steps[static_cast<std::size_t>(step)] = {};
    m_touched.clear();
    for (const int zone : m_zones) m_zone[static_cast<std::size_t>(zone)] = -1;
    m_zones.clear();
    m_attempts = 0;
    m_lastDay = 0;
}

double TraineePractice::decay(double days) const {
    return days > 0 && std::isfinite(m_halfLife) ? std::exp2(-days / m_halfLife) : 1;
}

StepPractice TraineePractice::practice(std::int32_t step, double day) const {
    if (step < 0) return {};
    StepPractice now = m_steps[static_cast<std::size_t>(step)];
    if (now.last == 0) return now;
    const double kept = decay(day - now.day);
    now.right *= kept;
    now.other *= kept;
    now.day = day;
    return now;
}

std::array<float, kRowFeatures> TraineePractice::features(std::int32_t step, double day) const {
    const StepPractice now = practice(step, day);
    if (now.last == 0) return {};
    return {static_cast<float>(std::log1p(now.right)), static_cast<float>(std::log1p(now.other)),
            now.last > 0 ? 1.0F : 0.0F, now.last < 0 ? 1.0F : 0.0F};
}

double TraineePractice::practiceFeature() const {
    return std::log1p(m_attempts);
}

double TraineePractice::gapFeature(double day) const {
    return m_attempts > 0 ? std::log1p(std::max(0.0, day - m_lastDay)) : 0;
}

int TraineePractice::ownZone(int zone) const {
    return zone < 0 || static_cast<std::size_t>(zone) >= m_zone.size()
               ? -1
               : m_zone[static_cast<std::size_t>(zone)];
}

void TraineePractice::countZones(const std::vector<std::size_t>& attempts) {
    for (const std::size_t index : attempts) {
        for (const StepTry& one : m_record.attempts()[index].tries) {
            const int zone = m_layout.zone[static_cast<std::size_t>(one.step)];
            int& own = m_zone[static_cast<std::size_t>(zone)];
            if (own >= 0 || m_zones.size() == kMostZones) continue;
            own = kOwnFirstZone + static_cast<int>(m_zones.size());
            m_zones.push_back(zone);
        }
    }
}

void TraineePractice::add(const std::vector<std::size_t>& attempts, PersonRows& rows) {
    countZones(attempts);
    const std::size_t days = std::min(attempts.size(), kMostDays);
    rows.group = {kTraineeGroup, kSlopeGroup};
    rows.group.resize(rows.group.size() + m_zones.size(), kZoneGroup);
    const int firstDay = static_cast<int>(rows.group.size());
    rows.group.resize(rows.group.size() + days, kDayGroup);
    for (std::size_t i = 0; i < attempts.size(); ++i) {
        const std::size_t fromEnd = attempts.size() - 1 - i;
        const PracticeAttempt& attempt = m_record.attempts()[attempts[i]];
        addSitting(attempt, firstDay + static_cast<int>(std::min(fromEnd, days - 1)), rows);
        remember(attempt);
    }
}

void TraineePractice::addSitting(const PracticeAttempt& attempt, int day, PersonRows& rows) const {
    if (attempt.tries.empty()) return;
    MixedSitting& sitting = rows.sittings.emplace_back();
    sitting.begin = rows.rows.size();
    const double practised = practiceFeature();
    sitting.global = {{kPractice, practised}, {kGap, gapFeature(attempt.day)}};
    const int rubric = m_layout.rubric[static_cast<std::size_t>(attempt.rubric)];
    const int instructor = m_layout.instructor[static_cast<std::size_t>(attempt.instructor)];
    if (rubric >= 0) sitting.global.emplace_back(rubric, 1.0);
    if (instructor >= 0) sitting.global.emplace_back(instructor, -1.0);  // severity lowers the chance
    sitting.local = {{kOwnLevel, 1.0}, {kOwnSlope, practised}, {day, 1.0}};
    for (const StepTry& one : attempt.tries) {
        MixedRow& row = rows.rows.emplace_back();
        row.x = features(one.step, attempt.day);
        row.global = m_layout.step[static_cast<std::size_t>(one.step)];
        row.local = m_zone[static_cast<std::size_t>(m_layout.zone[static_cast<std::size_t>(one.step)])];
        row.right = one.right;
    }
    sitting.end = rows.rows.size();
}

void TraineePractice::remember(const PracticeAttempt& attempt) {
    if (attempt.tries.empty()) return;
    for (const StepTry& one : attempt.tries) {
        StepPractice& step = m_steps[static_cast<std::size_t>(one.step)];
        if (step.last == 0) m_touched.push_back(one.step);
        step = practice(one.step, attempt.day);
        (one.right ? step.right : step.other) += 1;
        step.day = attempt.day;
        step.last = one.right ? 1 : -1;
    }
    m_attempts += 1;
    m_lastDay = attempt.day;
}

}  // namespace markerlamp::core
