// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "trial.h"

#include "baselines.h"
#include "core/readiness/forecast.h"
#include "core/stats/forecast_quality.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace markerlamp::school {

namespace {

constexpr std::size_t at(Method method) {
    return static_cast<std::size_t>(method);
}

struct Known {
    std::vector<const Held*> attempts;  ///< begun before the moment, oldest first
    std::vector<std::vector<const Held*>> of;
    double base = 0.5;
    double chainKept = 0.5;
};

bool passed(const Held& held) {
    return held.card.result == core::AttemptResult::Pass;
}

Known knownBefore(const School& school, double day) {
    Known known;
    known.of.resize(static_cast<std::size_t>(school.shape().trainees));
    double passes = 0, tried = 0, kept = 0;
    const core::Zone& brakes = *(school.rubric()->zones.end() - 2);
    for (const Held& held : school.attempts()) {
        if (held.day >= day) break;
        known.attempts.push_back(&held);
        known.of[static_cast<std::size_t>(held.trainee)].push_back(&held);
        passes += passed(held);
        if (std::ranges::count(held.attempt.header.zones, brakes.id) == 0) continue;
        tried += 1;
        kept += held.card.brokenRules.empty();
    }
    known.base = shrunk(passes, static_cast<double>(known.attempts.size()), 0.5, 1);
    known.chainKept = shrunk(kept, tried, 0.5, 2);
    return known;
}

class Rasch {
public:
    Rasch(const School& school, const Known& known, std::size_t last)
        : m_steps(stepsOf(*school.rubric())), m_chain(known.chainKept), m_fit(fitted(school, known, last)) {}

    double passChance(const School& school, int trainee, const std::vector<std::string>& zones) const {
        std::vector<Chanced> items;
        int possible = 0;
        for (const core::Zone& zone : school.rubric()->zones) {
            if (std::ranges::count(zones, zone.id) == 0) continue;
            for (const core::Step& step : zone.steps) {
                items.push_back({m_fit.chance(trainee, m_steps.at(step.id)), step.weight, step.mustPass});
                possible += step.weight;
            }
        }
        const double needed = school.rubric()->pass.percent / 100 * possible;
        return m_chain * chanceOfPassing(items, static_cast<int>(std::ceil(needed - 1e-9)));
    }

private:
    static std::map<std::string, int> stepsOf(const core::Rubric& rubric) {
        std::map<std::string, int> numbers;
        for (const core::Zone& zone : rubric.zones)
            for (const core::Step& step : zone.steps)
                numbers.emplace(step.id, static_cast<int>(numbers.size()));
        return numbers;
    }
    PersonPlusItem fitted(const School& school, const Known& known, std::size_t last) const {
        std::vector<Answer> answers;
        for (const auto& own : known.of)
            for (std::size_t i = own.size() - std::min(own.size(), last); i < own.size(); ++i)
                for (const core::StepScore& step : own[i]->card.steps)
                    if (step.outcome != core::StepOutcome::Unseen &&
                        step.outcome != core::StepOutcome::Unreached)
                        answers.push_back({own[i]->trainee, m_steps.at(step.step),
                                           step.outcome == core::StepOutcome::Satisfied});
        return PersonPlusItem(answers, school.shape().trainees, static_cast<int>(m_steps.size()));
    }

    std::map<std::string, int> m_steps;
    double m_chain;
    PersonPlusItem m_fit;
};

void foretellSimply(const Known& known, Foretold& row) {
    const auto& own = known.of[static_cast<std::size_t>(row.trainee)];
    const auto passes =
        static_cast<double>(std::ranges::count_if(own, [](const Held* held) { return passed(*held); }));
    const auto tries = static_cast<double>(own.size());
    row.attempts = static_cast<int>(own.size());
    row.forecast[at(Method::Constant)] = known.base;
    row.forecast[at(Method::OwnShare)] = own.empty() ? known.base : passes / tries;
    row.forecast[at(Method::OwnShrunk)] = shrunk(passes, tries, known.base, 2);
    row.forecast[at(Method::LastResult)] = own.empty() ? known.base : passed(*own.back()) ? 0.95 : 0.05;
}

std::shared_ptr<const core::PracticeRecord> recordOf(const School& school) {
    auto record = std::make_shared<core::PracticeRecord>();
    for (const Held& held : school.attempts()) record->add(*school.rubric(), held.attempt, held.card);
    record->sort();
    return record;
}

class Moment {
public:
    Moment(const School& school, const Plan& plan, std::shared_ptr<const core::PracticeRecord> record,
           double day)
        : m_school(school),
          m_plan(plan),
          m_day(day),
          m_known(knownBefore(school, day)),
          m_rasch(school, m_known, 1000),
          m_raschLast(school, m_known, 3),
          m_scope(plan.drawn ? core::testScope(school.rubric(), {}).value()
                             : core::wholeScope(school.rubric(), {})) {
        core::ModelOptions options;
        options.before = day;
        m_model = core::LearningModel::fit(std::move(record), options);
    }

    Foretold foretell(int trainee, std::uint64_t seed) const {
        Foretold row;
        row.trainee = trainee;
        row.day = m_day;
        foretellSimply(m_known, row);
        for (const core::TestPart& part : m_scope.parts) {
            const auto runs = std::max(1, static_cast<int>(m_plan.runs * part.share));
            row.truth += part.share * m_school.passChance(trainee, m_day, part.zones, runs, seed++);
            row.forecast[at(Method::Rasch)] += part.share * m_rasch.passChance(m_school, trainee, part.zones);
            row.forecast[at(Method::RaschLast)] +=
                part.share * m_raschLast.passChance(m_school, trainee, part.zones);
        }
        const core::Forecast made =
            core::forecast(*m_model, {m_school.traineeKey(trainee), m_day, m_scope, m_plan.draws});
        row.forecast[at(Method::Model)] = made.chance;
        row.low = made.low;
        row.high = made.high;
        const double likely = shrunk(row.truth * m_plan.runs, m_plan.runs, 0.5, 2);
        row.truthError = std::sqrt(likely * (1 - likely) / m_plan.runs);
        row.passed = Luck(seed).happens(row.truth);
        return row;
    }

private:
    const School& m_school;
    const Plan& m_plan;
    double m_day;
    Known m_known;
    Rasch m_rasch, m_raschLast;
    core::TestScope m_scope;
    std::shared_ptr<const core::LearningModel> m_model;
};

}  // namespace

std::string_view nameOf(Method method) {
    static constexpr std::array<std::string_view, kMethods> names = {
        "the model",
        "constant",
        "share of own attempts passed",
        "the same, shrunken",
        "last result",
        "person plus step, convolved",
        "the same, last three attempts",
    };
    return names.at(at(method));
}

std::vector<Foretold> hold(const School& school, const Plan& plan, std::uint64_t seed) {
    const auto record = recordOf(school);
    std::vector<Foretold> rows;
    for (const double after : plan.moments) {
        const Moment moment(school, plan, record, school.firstDay() + after);
        for (const int trainee : school.activeAt(school.firstDay() + after))
            rows.push_back(moment.foretell(trainee, seed += 16));
    }
    return rows;
}

Verdict verdict(const std::vector<Foretold>& rows, Method method) {
    Verdict made;
    std::vector<core::ForecastAndResult> pairs;
    const auto count = static_cast<double>(std::max<std::size_t>(1, rows.size()));
    for (const Foretold& row : rows) {
        const double miss = row.forecast[at(method)] - row.truth;
        made.distance += miss * miss / count;
        made.bias += miss / count;
        pairs.push_back({row.forecast[at(method)], row.passed});
    }
    const core::ForecastQuality quality = core::forecastQuality(pairs);
    made.brier = quality.brier.value_or(0);
    made.logLoss = quality.logLoss.value_or(0);
    return made;
}

double coverage(const std::vector<Foretold>& rows) {
    const auto within = std::ranges::count_if(rows, [](const Foretold& row) {
        const double slack = 2 * row.truthError;
        return row.low - slack <= row.truth && row.truth <= row.high + slack;
    });
    return static_cast<double>(within) / static_cast<double>(std::max<std::size_t>(1, rows.size()));
}

double meanWidth(const std::vector<Foretold>& rows) {
    double sum = 0;
    for (const Foretold& row : rows) sum += row.high - row.low;
    return sum / static_cast<double>(std::max<std::size_t>(1, rows.size()));
}

}  // namespace markerlamp::school
