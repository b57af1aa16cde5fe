#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Short ways to write rubrics and attempts in tests, so that a test says only what matters to it.

#include "core/attempt/attempt.h"
#include "core/rubric/rubric.h"
#include "core/scoring/scorecard.h"

#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

namespace markerlamp::core::testing {

inline std::string readTestData(const std::string& name) {
    std::ifstream file(std::string(MARKERLAMP_TEST_DATA) + "/" + name, std::ios::binary);
    std::ostringstream text;
    text << file.rdbuf();
    return text.str();
}

/// A step to be shown, with `points` points p0, p1, ... all of them needed.
inline Step makeStep(const std::string& id, int points = 1) {
    Step step;
    step.id = id;
    step.title = "Step " + id;
    step.show = "point at it";
    for (int p = 0; p < points; ++p) {
        Point point;
        point.id = "p" + std::to_string(p);
        point.text = "text of " + point.id;
        step.say.push_back(point);
    }
    step.sayNeeded = points;
    return step;
}

inline Rubric makeRubric(std::vector<Zone> zones) {
    Rubric rubric;
    rubric.id = "test-rubric";
    rubric.title = "Test rubric";
    rubric.pass.percent = 80;
    rubric.zones = std::move(zones);
    return rubric;
}

/// One zone "z" with these steps.
inline Rubric makeRubric(std::vector<Step> steps) {
    return makeRubric(std::vector<Zone>{{"z", "Zone", std::move(steps)}});
}

inline OrderRule chainRule(const std::string& id, std::vector<std::string> chain) {
    OrderRule rule;
    rule.id = id;
    rule.chain = std::move(chain);
    return rule;
}

/// Builds an attempt over all zones of a rubric; numbers the events, one second apart unless told otherwise.
class AttemptBuilder {
public:
    explicit AttemptBuilder(const Rubric& rubric, std::vector<std::string> equipment = {}) {
        m_attempt.header.id = "8f7c2a10-0000-4000-8000-000000000001";
        m_attempt.header.rubric = rubric.id;
        m_attempt.header.edition = rubric.edition;
        m_attempt.header.trainee = "trainee-a";
        m_attempt.header.instructor = "instructor-a";
        m_attempt.header.bus = "12";
        m_attempt.header.equipment = std::move(equipment);
        for (const Zone& zone : rubric.zones) m_attempt.header.zones.push_back(zone.id);
        m_attempt.header.started = "2026-03-02T06:10:00-05:00";
    }

    AttemptHeader& header() { return m_attempt.header; }

    Event& add(EventKind kind, const std::string& step = {}) {
        Event event;
        event.n = static_cast<int>(m_attempt.events.size()) + 1;
        event.t = m_time++;
        event.kind = kind;
        event.step = step;
        m_attempt.events.push_back(event);
        return m_attempt.events.back();
    }
    AttemptBuilder& at(double seconds) {
        m_time = seconds;
        return *this;
    }
    AttemptBuilder& show(const std::string& step) { return add(EventKind::Show, step), *this; }
    AttemptBuilder& say(const std::string& step, const std::string& point = "p0") {
        add(EventKind::Say, step).point = point;
        return *this;
    }
    AttemptBuilder& sayValue(const std::string& step, double value, const std::string& unit,
                             const std::string& point = "p0") {
        Event& event = add(EventKind::Say, step);
        event.point = point;
        event.value = value;
        event.unit = unit;
        return *this;
    }
    AttemptBuilder& sayRange(const std::string& step, double low, double high, const std::string& unit,
                             const std::string& point = "p0") {
        Event& event = add(EventKind::Say, step);
        event.point = point;
        event.low = low;
        event.high = high;
        event.unit = unit;
        return *this;
    }
    AttemptBuilder& reading(const std::string& step, double value, const std::string& unit) {
        Event& event = add(EventKind::Reading, step);
        event.value = value;
        event.unit = unit;
        return *this;
    }
    AttemptBuilder& mark(EventKind kind, const std::string& step) { return add(kind, step), *this; }
    AttemptBuilder& clock(EventKind kind) { return add(kind), *this; }
    AttemptBuilder& retract(int n) {
        add(EventKind::Retract).retracts = n;
        return *this;
    }
    /// Shown and all points said.
    AttemptBuilder& whole(const Step& step) {
        if (!step.show.empty()) show(step.id);
        for (const Point& point : step.say) say(step.id, point.id);
        return *this;
    }
    AttemptBuilder& end() { return add(EventKind::End), *this; }

    operator const Attempt&() const { return m_attempt; }
    [[nodiscard]] const Attempt& attempt() const { return m_attempt; }

private:
    Attempt m_attempt;
    double m_time = 0;
};

inline const StepScore& stepOf(const Scorecard& card, const std::string& id) {
    for (const StepScore& step : card.steps)
        if (step.step == id) return step;
    throw std::out_of_range("no step " + id + " on the card");
}

inline StepOutcome outcomeOf(const Scorecard& card, const std::string& id) {
    return stepOf(card, id).outcome;
}

}  // namespace markerlamp::core::testing
