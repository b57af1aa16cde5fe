// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/readiness/forecast.h"

#include "core/readiness/holding.h"
#include "core/readiness/learning_model_data.h"
#include "core/readiness/test_chance.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <unordered_set>

namespace markerlamp::core {

namespace {

constexpr int kFewestTrainees = 3, kFewestTries = 100;  ///< of a program
constexpr int kFewestAttempts = 2;                      ///< of a trainee
constexpr double kLeastSeen = 1.0 / 3;                  ///< of the steps that would be tested

double meanOf(const std::vector<double>& values) {
    return values.empty() ? 0 : std::accumulate(values.begin(), values.end(), 0.0) / double(values.size());
}

/// Linear between the order statistics.
double quantileOf(std::vector<double> values, double level) {
    if (values.empty()) return 0;
    std::ranges::sort(values);
    const double place = level * double(values.size() - 1);
    const auto below = static_cast<std::size_t>(place);
    const std::size_t above = std::min(below + 1, values.size() - 1);
    return values[below] + (place - double(below)) * (values[above] - values[below]);
}

std::vector<double> chancesOfPart(const TestDraws& draws, std::size_t part) {
    const PartChance chance(draws, part);
    const std::size_t parts = draws.scope.parts.size(), steps = draws.steps.size();
    std::vector<double> all(static_cast<std::size_t>(draws.draws));
    for (std::size_t d = 0; d < all.size(); ++d)
        all[d] = chance.at(draws.logit.data() + d * steps, draws.daySpread[d]) * draws.kept[d * parts + part];
    return all;
}

std::vector<double> overParts(const TestDraws& draws, const std::vector<std::vector<double>>& chances) {
    std::vector<double> all(static_cast<std::size_t>(draws.draws), 0.0);
    for (std::size_t p = 0; p < chances.size(); ++p)
        for (std::size_t d = 0; d < all.size(); ++d) all[d] += draws.scope.parts[p].share * chances[p][d];
    return all;
}

std::string counted(int n, const std::string& one, const std::string& more) {
    return n == 0 ? "no " + more : std::to_string(n) + " " + (n == 1 ? one : more);
}

/// Empty where there is enough.
std::string tooLittle(const LearningModel::Data& data, const TestDraws& draws,
                      const std::vector<std::size_t>& attempts) {
    if (data.trainees < kFewestTrainees || data.tries < kFewestTries)
        return "the program's record holds only " + counted(data.trainees, "trainee", "trainees") + " and " +
               counted(data.tries, "observed step", "observed steps");
    const int count = static_cast<int>(attempts.size());
    if (count < kFewestAttempts)
        return counted(count, "finished attempt", "finished attempts") + " so far, at least " +
               std::to_string(kFewestAttempts) + " are needed";
    std::unordered_set<std::int32_t> tried;
    for (const std::size_t i : attempts)
        for (const StepTry& one : data.record->attempts()[i].tries) tried.insert(one.step);
    int seen = 0;
    for (const ScopeStep& step : draws.steps) {
        const auto number = data.record->stepNumber(draws.scope.rubric->id, step.step);
        if (number && tried.contains(*number)) ++seen;
    }
    const int all = static_cast<int>(draws.steps.size());
    if (seen < kLeastSeen * all)
        return "only " + std::to_string(seen) + " of the " + std::to_string(all) +
               " steps that would be tested were ever observed";
    return {};
}

}  // namespace

std::vector<double> passChances(const TestDraws& draws) {
    std::vector<std::vector<double>> chances;
    for (std::size_t p = 0; p < draws.scope.parts.size(); ++p) chances.push_back(chancesOfPart(draws, p));
    return overParts(draws, chances);
}

Forecast forecast(const LearningModel& model, const ForecastRequest& request) {
    constexpr double kLow = 0.05, kHigh = 0.95;
    const LearningModel::Data& data = model.data();
    const TestDraws draws = testDraws(model, request);
    std::vector<std::size_t> attempts;
    if (const auto trainee = data.record->traineeNumber(request.trainee))
        attempts = data.record->attemptsOf(*trainee, request.at);

    Forecast out;
    out.trainee = request.trainee;
    out.at = request.at;
    out.attempts = static_cast<int>(attempts.size());
    for (const std::size_t i : attempts)
        out.tries += static_cast<int>(data.record->attempts()[i].tries.size());
    out.halfLifeAssumed = data.halfLifeAssumed;
    out.tooLittleWhy = tooLittle(data, draws, attempts);
    out.tooLittle = !out.tooLittleWhy.empty();

    std::vector<std::vector<double>> chances;
    for (std::size_t p = 0; p < draws.scope.parts.size(); ++p) {
        const TestPart& part = draws.scope.parts[p];
        const std::vector<double>& own = chances.emplace_back(chancesOfPart(draws, p));
        out.sections.push_back({part.section, part.title, part.share, meanOf(own), quantileOf(own, kLow),
                                quantileOf(own, kHigh)});
    }
    const std::vector<double> all = overParts(draws, chances);
    out.chance = meanOf(all);
    out.low = quantileOf(all, kLow);
    out.high = quantileOf(all, kHigh);
    out.holding = whatHolds(data, draws, attempts);
    return out;
}

ModelSeries::ModelSeries(std::shared_ptr<const PracticeRecord> record, double growth)
    : m_record(std::move(record)) {
    // A checkpoint stands at an attempt of a fixed rank and knows those before it. Ranks that hung on how
    // many attempts there are would let later ones move an earlier forecast.
    constexpr std::size_t kFirst = 8;
    const auto& attempts = m_record->attempts();
    for (std::size_t rank = 0; rank < attempts.size();
         rank = std::max({kFirst, rank + 1, static_cast<std::size_t>(double(rank) * growth)})) {
        const double day = attempts[rank].day;
        if (m_days.empty() || day > m_days.back()) m_days.push_back(day);
    }
    m_models.resize(m_days.size());
}

std::shared_ptr<const LearningModel> ModelSeries::at(double day,
                                                     const std::function<bool(double)>& progress) {
    // Only checkpoints before the day: the attempt that one stands at must not be of the day or later. The
    // first knows no attempt: it stands for any earlier day too.
    const auto after = std::ranges::lower_bound(m_days, day);
    const std::size_t index =
        after == m_days.begin() ? 0 : static_cast<std::size_t>(after - m_days.begin()) - 1;
    ModelOptions options;
    options.progress = progress;
    if (m_days.empty()) return LearningModel::fit(m_record, options);
    options.before = std::min(m_days[index], day);
    if (!m_models[index]) m_models[index] = LearningModel::fit(m_record, options);
    return m_models[index];
}

}  // namespace markerlamp::core
