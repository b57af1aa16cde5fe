// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/readiness/draws.h"
#include "core/readiness/learning_model_data.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace markerlamp::core {

namespace {

using Eigen::Index;
using Eigen::VectorXd;

constexpr std::size_t kSample = 400;  ///< trainees that spreads and half-life are found from
constexpr double kClearlyBetter = 2;  ///< log-likelihood
constexpr std::uint64_t kSeed = 0x6d61726b65726c61;

/// What is usual for the spreads, in logits, and for how many members that stands. Assumed; a program's own
/// record outweighs it soon.
std::vector<GroupSpread> usualSpreads() {
    std::vector<GroupSpread> groups(kModelGroups);
    groups[kTraineeGroup] = {0.8, 3};
    groups[kSlopeGroup] = {0.25, 3};
    groups[kZoneGroup] = {0.4, 3};
    groups[kStepGroup] = {0.8, 3};
    groups[kInstructorGroup] = {0.3, 3};
    groups[kDayGroup] = {0.4, 3};
    return groups;
}

GlobalPrior sharedPrior(const ModelLayout& layout) {
    GlobalPrior prior;
    prior.mean = VectorXd::Zero(layout.effects);
    prior.sd = VectorXd::Ones(layout.effects);
    prior.group.assign(static_cast<std::size_t>(layout.effects), -1);
    const auto set = [&](int effect, double mean, double sd) {
        prior.mean[effect] = mean;
        prior.sd[effect] = sd;
    };
    set(kRightPractice, 0.3, 0.3);
    set(kOtherPractice, 0.3, 0.3);
    set(kLastRight, 0.2, 0.4);
    set(kLastOther, 0, 0.4);
    set(kPractice, 0.3, 0.4);
    set(kGap, -0.05, 0.2);
    for (int effect = kFirstRubric; effect < layout.firstInstructor; ++effect) set(effect, 1, 1.5);
    for (int effect = layout.firstInstructor; effect < layout.firstStep; ++effect)
        prior.group[static_cast<std::size_t>(effect)] = kInstructorGroup;
    for (int effect = layout.firstStep; effect < layout.effects; ++effect)
        prior.group[static_cast<std::size_t>(effect)] = kStepGroup;
    return prior;
}

/// The persons of a fit: a list of trainees, and their rows on demand.
class Persons {
public:
    Persons(const LearningModel::Data& data, std::vector<std::int32_t> trainees, double halfLife)
        : m_data(data), m_trainees(std::move(trainees)), m_practice(*data.record, data.layout, halfLife) {}

    MixedProblem problem() {
        MixedProblem problem;
        problem.persons = static_cast<int>(m_trainees.size());
        problem.globals = m_data.layout.effects;
        problem.prior = sharedPrior(m_data.layout);
        problem.groups = usualSpreads();
        problem.rows = [this](int person, PersonRows& rows) {
            m_practice.begin();
            m_practice.add(
                m_data.record->attemptsOf(m_trainees[static_cast<std::size_t>(person)], m_data.before), rows);
        };
        return problem;
    }

private:
    const LearningModel::Data& m_data;
    std::vector<std::int32_t> m_trainees;
    TraineePractice m_practice;
};

std::vector<std::int32_t> everyNth(const std::vector<std::int32_t>& all, std::size_t most) {
    if (all.size() <= most) return all;
    std::vector<std::int32_t> some;
    for (std::size_t i = 0; i < most; ++i) some.push_back(all[i * all.size() / most]);
    return some;
}

/// Half-life, spreads and shared effects from a sample of the trainees.
class Search {
public:
    Search(const LearningModel::Data& data, std::vector<std::int32_t> trainees,
           std::function<bool()> progress)
        : m_data(data), m_trainees(std::move(trainees)), m_progress(std::move(progress)) {}

    MixedFit spreads(double halfLife) {
        Persons persons(m_data, m_trainees, halfLife);
        MixedOptions options;
        options.progress = m_progress;
        return fitMixed(persons.problem(), options);
    }

    /// The half-life that the data prefer: away from the default step by step as long as it gets better.
    std::pair<double, bool> halfLife(double usual, const MixedFit& atUsual) {
        constexpr double kForever = std::numeric_limits<double>::infinity();
        const std::vector<double> shorter{20, 10, 5}, longer{40, 80, kForever};
        const double base = fixed(usual, atUsual);
        double best = base, bestDays = usual;
        for (const auto& direction : {shorter, longer}) {
            double before = base;
            for (const double days : direction) {
                const double value = fixed(days, atUsual);
                if (value > best) best = value, bestDays = days;
                if (value < before) break;
                before = value;
            }
            if (best > base) break;  // the profile has one top
        }
        if (best - base <= kClearlyBetter) return {usual, true};
        return {bestDays, false};
    }

private:
    double fixed(double halfLife, const MixedFit& from) {
        Persons persons(m_data, m_trainees, halfLife);
        MixedOptions options;
        options.spread = from.spread;
        options.estimateSpreads = false;
        options.start = from.global;
        options.mostPasses = 4;
        options.progress = m_progress;
        return fitMixed(persons.problem(), options).logMarginal;
    }

    const LearningModel::Data& m_data;
    std::vector<std::int32_t> m_trainees;
    std::function<bool()> m_progress;
};

void keep(LearningModel::Data& data, const MixedFit& fit) {
    data.effects = fit.global;
    data.spread = fit.spread;
    const std::vector<double>& s = fit.spread;
    data.spreads = {s[kTraineeGroup], s[kSlopeGroup],      s[kZoneGroup],
                    s[kStepGroup],    s[kInstructorGroup], s[kDayGroup]};
    const Index n = fit.global.size();
    const Eigen::MatrixXd root = fit.inner.matrixL().solve(Eigen::MatrixXd::Identity(n, n));
    data.errors = root.colwise().norm().transpose();
    Draws draws(kSeed);
    data.effectDraws = fit.inner.matrixU().solve(draws.normals(n, kGlobalDraws)).transpose();
}

/// Counts passes; an estimate of how many there will be is good enough for a bar.
class Progress {
public:
    Progress(const std::function<bool(double)>& tell, double from, double to, double passes)
        : m_tell(tell), m_at(from), m_to(to), m_step((to - from) / passes) {}
    bool operator()() {
        m_at = std::min(m_to, m_at + m_step);
        if (m_tell && !m_tell(m_at)) m_stopped = true;
        return !m_stopped;
    }
    [[nodiscard]] bool stopped() const { return m_stopped; }

private:
    const std::function<bool(double)>& m_tell;
    double m_at, m_to, m_step;
    bool m_stopped = false;
};

}  // namespace

LearningModel::LearningModel(std::unique_ptr<const Data> data) : m_data(std::move(data)) {}
LearningModel::~LearningModel() = default;

std::shared_ptr<const LearningModel> LearningModel::fit(std::shared_ptr<const PracticeRecord> record,
                                                        const ModelOptions& options) {
    auto data = std::make_unique<Data>(std::move(record), options.before);
    data->halfLife = options.halfLifeDays;
    std::vector<std::int32_t> trainees;
    std::vector<char> seen(data->record->trainees().size(), 0);
    for (const PracticeAttempt& attempt : data->record->attempts()) {
        if (attempt.day >= options.before) break;
        data->tries += static_cast<int>(attempt.tries.size());
        if (!attempt.tries.empty()) seen[static_cast<std::size_t>(attempt.trainee)] = 1;
    }
    for (std::size_t t = 0; t < seen.size(); ++t)
        if (seen[t]) trainees.push_back(static_cast<std::int32_t>(t));
    data->trainees = static_cast<int>(trainees.size());

    constexpr double kSampleShare = 0.6, kUsualPasses = 30, kLastPasses = 6;
    Progress sampling(options.progress, 0, kSampleShare, kUsualPasses);
    Search search(*data, everyNth(trainees, kSample), [&] { return sampling(); });
    const MixedFit sample = search.spreads(data->halfLife);
    if (!sampling.stopped() && options.searchHalfLife && !trainees.empty())
        std::tie(data->halfLife, data->halfLifeAssumed) = search.halfLife(data->halfLife, sample);
    if (sampling.stopped()) return nullptr;

    Progress last(options.progress, kSampleShare, 1, kLastPasses);
    Persons persons(*data, trainees, data->halfLife);
    MixedOptions whole;
    whole.spread = sample.spread;
    whole.estimateSpreads = false;
    whole.start = sample.global;
    whole.progress = [&] { return last(); };
    const MixedFit fitted = fitMixed(persons.problem(), whole);
    if (last.stopped()) return nullptr;
    keep(*data, fitted);
    return std::shared_ptr<const LearningModel>(new LearningModel(std::move(data)));
}

const LearningModel::Spreads& LearningModel::spreads() const {
    return m_data->spreads;
}
double LearningModel::halfLifeDays() const {
    return m_data->halfLife;
}
bool LearningModel::halfLifeIsAssumed() const {
    return m_data->halfLifeAssumed;
}
double LearningModel::before() const {
    return m_data->before;
}
const PracticeRecord& LearningModel::record() const {
    return *m_data->record;
}

std::vector<LearningModel::Severity> LearningModel::severities() const {
    std::vector<Severity> all;
    for (std::size_t i = 0; i < m_data->layout.instructor.size(); ++i) {
        const int effect = m_data->layout.instructor[i];
        if (effect < 0) continue;
        all.push_back({m_data->record->instructors()[i], m_data->effects[effect], m_data->errors[effect],
                       m_data->layout.instructorTries[i]});
    }
    return all;
}

}  // namespace markerlamp::core
