// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Draws from what the model believes of one trainee at one moment.

#include "core/readiness/draws.h"
#include "core/readiness/draws_ahead.h"
#include "core/readiness/forecast.h"
#include "core/readiness/learning_model_data.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <unordered_set>

namespace markerlamp::core {

namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr std::uint64_t kOwnSeed = 0x726561646e657373, kNewSeed = 0x6e65777374657073,
                        kTimeSeed = 0x6f72646572;
constexpr double kNewRubricMean = 1, kNewRubricSpread = 1;  ///< assumed, as the prior of the fit

void fillSteps(TestDraws& out) {
    const TestScope& scope = out.scope;
    std::unordered_set<std::string> zones;
    for (const TestPart& part : scope.parts) zones.insert(part.zones.begin(), part.zones.end());
    out.inPart.resize(scope.parts.size());
    for (const Zone& zone : scope.rubric->zones) {
        if (!zones.contains(zone.id)) continue;
        for (const Step& step : zone.steps) {
            if (!appliesTo(step, scope.equipment)) continue;
            for (std::size_t p = 0; p < scope.parts.size(); ++p)
                if (std::ranges::find(scope.parts[p].zones, zone.id) != scope.parts[p].zones.end())
                    out.inPart[p].push_back(static_cast<int>(out.steps.size()));
            out.steps.push_back({step.id, zone.id, step.weight, step.mustPass, step.minutes});
        }
    }
}

/// The trainee's own effects given the shared ones, and how both vary together.
class Believer {
public:
    Believer(const LearningModel::Data& data, const ForecastRequest& request)
        : m_data(data), m_request(request), m_practice(*data.record, data.layout, data.halfLife) {
        m_practice.begin();
        if (const auto trainee = data.record->traineeNumber(request.trainee))
            m_attempts = data.record->attemptsOf(*trainee, request.at);
        PersonRows rows;
        m_practice.add(m_attempts, rows);
        const LocalFit fit = fitLocal(rows, data.effects, ownPrecision(rows, data.spread), {});
        const LocalTies ties = tiesOf(rows, data.effects, fit);
        const Index draws = request.draws, own = fit.mode.size();
        m_shared.resize(draws, data.layout.effects);
        for (Index d = 0; d < draws; d += kGlobalDraws)
            m_shared.middleRows(d, std::min<Index>(kGlobalDraws, draws - d)) =
                data.effectDraws.topRows(std::min<Index>(kGlobalDraws, draws - d));
        // The own effects follow the shared ones of their draw, and vary by themselves.
        Draws random(kOwnSeed);
        const MatrixXd alone = fit.precision.matrixU().solve(random.normals(own, draws));
        const MatrixXd follows = fit.precision.solve(ties.cross);
        m_own.noalias() = alone.transpose() - m_shared * follows.transpose();
        m_own.rowwise() += (fit.mode + ties.shift).transpose();
        m_shared.rowwise() += data.effects.transpose();
    }

    void fill(TestDraws& out);
    [[nodiscard]] const std::vector<std::size_t>& attempts() const { return m_attempts; }

private:
    /// What all steps of the test have in common, per draw.
    [[nodiscard]] VectorXd common();
    [[nodiscard]] VectorXd zonePart(const std::string& zone);
    [[nodiscard]] VectorXd stepPart(std::int32_t step);
    [[nodiscard]] VectorXd anew(double mean, double sd);

    const LearningModel::Data& m_data;
    const ForecastRequest& m_request;
    TraineePractice m_practice;
    std::vector<std::size_t> m_attempts;
    MatrixXd m_shared, m_own;  ///< draws x effects
    std::map<std::string, VectorXd> m_zones;
    Draws m_new{kNewSeed};
};

VectorXd Believer::anew(double mean, double sd) {
    VectorXd values(m_request.draws);
    for (Index d = 0; d < values.size(); ++d) values[d] = mean + sd * m_new.normal();
    return values;
}

VectorXd Believer::common() {
    const double practised = std::log1p(m_practice.attemptsSoFar() + m_request.further);
    // Further attempts come one after the other, without the gap that there is now.
    const double gap = m_request.further > 0 ? 0 : m_practice.gapFeature(m_request.at);
    VectorXd sum = m_shared.col(kPractice) * practised + m_shared.col(kGap) * gap;
    sum += m_own.col(kOwnLevel) + m_own.col(kOwnSlope) * practised;
    const auto& rubrics = m_data.record->rubrics();
    const auto at = std::ranges::find(rubrics, m_request.scope.rubric->id);
    const int effect =
        at == rubrics.end() ? -1 : m_data.layout.rubric[static_cast<std::size_t>(at - rubrics.begin())];
    return sum + (effect >= 0 ? VectorXd(m_shared.col(effect)) : anew(kNewRubricMean, kNewRubricSpread));
}

VectorXd Believer::zonePart(const std::string& zone) {
    const std::string key = ModelLayout::zoneKey(m_request.scope.rubric->id, zone);
    const auto known = m_zones.find(key);
    if (known != m_zones.end()) return known->second;
    const auto number = m_data.layout.zoneNumber.find(key);
    const int own = number == m_data.layout.zoneNumber.end() ? -1 : m_practice.ownZone(number->second);
    VectorXd part = own >= 0 ? VectorXd(m_own.col(own)) : anew(0, m_data.spreads.zone);
    return m_zones.emplace(key, std::move(part)).first->second;
}

VectorXd Believer::stepPart(std::int32_t step) {
    const int effect = step < 0 ? -1 : m_data.layout.step[static_cast<std::size_t>(step)];
    VectorXd part = effect >= 0 ? VectorXd(m_shared.col(effect)) : anew(0, m_data.spreads.step);
    const std::array<float, kRowFeatures> x = m_practice.features(step, m_request.at);
    for (int k = 0; k < kRowFeatures; ++k)
        part += m_shared.col(k) * static_cast<double>(x[static_cast<std::size_t>(k)]);
    return part;
}

/// How far this trainee's own log odds of a step may lie from what his history says, as a standard deviation.
/// Steps are known or not in ways that the rows do not hold. One more outcome would tell of it: under a
/// normal spread s, right instead of wrong moves the log odds by s^2 / (1 + s^2 p (1 - p)) to first order,
/// and that move is what the model has learned from the record (effects of counts and of the last try).
class OwnSpread {
public:
    explicit OwnSpread(const StepPractice& now)
        : m_right(std::log1p(now.right + 1) - std::log1p(now.right)),
          m_other(std::log1p(now.other + 1) - std::log1p(now.other)) {}

    [[nodiscard]] double at(double logit, const MatrixXd& effects, Index d) const {
        constexpr double kLeastLeft = 0.25;  // first order goes no further
        const double told = effects(d, kRightPractice) * m_right - effects(d, kOtherPractice) * m_other +
                            effects(d, kLastRight) - effects(d, kLastOther);
        if (told <= 0) return 0;
        const double p = 1 / (1 + std::exp(-logit));
        return std::sqrt(told / std::max(kLeastLeft, 1 - told * p * (1 - p)));
    }

private:
    double m_right, m_other;  ///< what one more outcome adds to the features
};

/// Spread out by own normals, the mean chance kept: a logistic under a normal is nearly one of a wider scale
/// (Zeger, Liang & Albert 1988).
VectorXd spreadOut(const VectorXd& logits, const StepPractice& now, const MatrixXd& effects, Draws& random) {
    constexpr double kPerVariance = 0.346;  // (16 sqrt 3 / (15 pi))^2
    VectorXd spread(logits.size());
    const OwnSpread own(now);
    for (Index d = 0; d < logits.size(); ++d) {
        const double sd = own.at(logits[d], effects, d);
        spread[d] = logits[d] * std::sqrt(1 + kPerVariance * sd * sd) + sd * random.normal();
    }
    return spread;
}

/// What one more try adds to the log odds: only what practice does, never less than nothing. That the last
/// try went right or wrong is a sign of what the trainee can do; trying does not make it so.
class Drilled {
public:
    explicit Drilled(const StepPractice& now, int tries = 1)
        : m_now(now), m_tries(tries), m_right(std::log1p(now.right)), m_other(std::log1p(now.other)) {}

    [[nodiscard]] double by(double logit, double rightSlope, double otherSlope) const {
        const double p = 1 / (1 + std::exp(-logit));
        const double more = rightSlope * (std::log1p(m_now.right + m_tries * p) - m_right) +
                            otherSlope * (std::log1p(m_now.other + m_tries * (1 - p)) - m_other);
        return std::max(0.0, more);
    }

private:
    StepPractice m_now;
    int m_tries;
    double m_right, m_other;
};

void Believer::fill(TestDraws& out) {
    // What the record does not know is the same in every look ahead.
    m_zones.clear();
    m_new = Draws(kNewSeed);
    const std::size_t count = out.steps.size();
    out.draws = m_request.draws;
    out.logit.assign(count * static_cast<std::size_t>(out.draws), 0);
    out.drilled = out.logit;
    const VectorXd all = common();
    for (std::size_t s = 0; s < count; ++s) {
        const std::optional<std::int32_t> known =
            m_data.record->stepNumber(out.scope.rubric->id, out.steps[s].step);
        const std::int32_t number = known.value_or(-1);
        const std::string& zone =
            known ? m_data.record->steps()[static_cast<std::size_t>(number)].zone : out.steps[s].zone;
        const StepPractice now = m_practice.practice(number, m_request.at);
        const VectorXd logits = spreadOut(all + zonePart(zone) + stepPart(number), now, m_shared, m_new);
        const Drilled further(now, m_request.further), drilled(now, m_request.further + 1);
        for (Index d = 0; d < logits.size(); ++d) {
            const std::size_t place = static_cast<std::size_t>(d) * count + s;
            const double right = m_shared(d, kRightPractice), other = m_shared(d, kOtherPractice);
            out.logit[place] = logits[d] + further.by(logits[d], right, other);
            out.drilled[place] = logits[d] + drilled.by(logits[d], right, other);
        }
    }
    // The examiner is not known: one more unknown of that day, and 0 on average.
    out.daySpread.assign(static_cast<std::size_t>(out.draws),
                         std::hypot(m_data.spreads.day, m_data.spreads.instructor));
}

double minutesOf(const TestDraws& draws, const std::vector<int>& steps) {
    double minutes = 0;
    for (const int step : steps) minutes += draws.steps[static_cast<std::size_t>(step)].minutes;
    return minutes;
}

/// Share of the whole rubric's minutes that a part takes.
double shareOfMinutes(const TestDraws& draws, std::size_t part) {
    double whole = 0;
    for (const Zone& zone : draws.scope.rubric->zones)
        for (const Step& step : zone.steps)
            if (appliesTo(step, draws.scope.equipment)) whole += step.minutes;
    return whole > 0 ? std::min(1.0, minutesOf(draws, draws.inPart[part]) / whole) : 1;
}

void fillKept(TestDraws& out, const LearningModel::Data& data, const std::vector<std::size_t>& attempts) {
    const Rubric& rubric = *out.scope.rubric;
    const std::size_t parts = out.scope.parts.size(), draws = static_cast<std::size_t>(out.draws);
    out.kept.assign(draws * parts, 1);
    std::vector<std::unordered_set<std::string>> stepsOf(parts);
    for (std::size_t p = 0; p < parts; ++p)
        for (const int step : out.inPart[p])
            stepsOf[p].insert(out.steps[static_cast<std::size_t>(step)].step);
    const Habits::Keeping keeping = data.habits.keeping(attempts, out.draws);
    for (const OrderRule& rule : rubric.order) {
        if (!rule.strict || !rule.mustPass) continue;
        const Eigen::ArrayXd chances =
            keeping.chances(data.record->ruleNumber(rubric.id, rule.id).value_or(-1));
        for (std::size_t p = 0; p < parts; ++p) {
            if (!canBreak(rubric, rule, stepsOf[p])) continue;
            for (std::size_t d = 0; d < draws; ++d) out.kept[d * parts + p] *= chances[static_cast<Index>(d)];
        }
    }
    if (!rubric.pass.minutes || !rubric.pass.minutesFail) return;
    Draws random(kTimeSeed);
    const std::vector<double> levels = random.stratified(out.draws);
    const auto& rubrics = data.record->rubrics();
    const auto number = static_cast<std::int32_t>(std::ranges::find(rubrics, rubric.id) - rubrics.begin());
    for (std::size_t p = 0; p < parts; ++p) {
        const BetaBelief belief =
            data.habits.inTime(number, *rubric.pass.minutes, shareOfMinutes(out, p), attempts);
        for (std::size_t d = 0; d < draws; ++d) out.kept[d * parts + p] *= belief.quantile(levels[d]);
    }
}

}  // namespace

void testDrawsAhead(const LearningModel& model, const ForecastRequest& request, std::span<const int> further,
                    const std::function<bool(const TestDraws&)>& look) {
    TestDraws out;
    out.scope = request.scope;
    fillSteps(out);
    ForecastRequest asked = request;
    asked.draws = std::max(2, request.draws);
    Believer believer(model.data(), asked);
    for (const int attempts : further) {
        asked.further = attempts;
        believer.fill(out);
        if (out.kept.empty()) fillKept(out, model.data(), believer.attempts());
        if (!look(out)) return;
    }
}

TestDraws testDraws(const LearningModel& model, const ForecastRequest& request) {
    TestDraws draws;
    testDrawsAhead(model, request, std::array{request.further}, [&draws](const TestDraws& made) {
        draws = made;
        return false;
    });
    return draws;
}

}  // namespace markerlamp::core
