// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/readiness/ready_ahead.h"

#include "core/readiness/draws_ahead.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

namespace markerlamp::core {

namespace {

/// Where the chance is looked at; between two of them it is taken to rise evenly.
constexpr std::array kLooks{0, 1, 2, 4, 8, 16, kFarthestAhead};
constexpr int kDraws = 60;  ///< an interval of days needs no more
constexpr std::size_t kRecent = 6;

/// First attempt at which a draw reaches the chance; nothing within the looks.
std::optional<int> firstReached(const std::vector<std::vector<double>>& chances, std::size_t draw,
                                double asked) {
    for (std::size_t look = 0; look < chances.size(); ++look) {
        const double here = chances[look][draw];
        if (here < asked) continue;
        if (look == 0) return 0;
        const double before = chances[look - 1][draw];
        const double share = here > before ? (asked - before) / (here - before) : 1;
        const int from = kLooks[look - 1], to = kLooks[look];
        return static_cast<int>(std::ceil(from + std::clamp(share, 0.0, 1.0) * (to - from)));
    }
    return std::nullopt;
}

}  // namespace

std::optional<int> ReadyAhead::days(const std::optional<int>& attempts) const {
    if (!attempts) return std::nullopt;
    return static_cast<int>(std::ceil(*attempts * paceDays));
}

int ReadyAhead::horizonDays() const {
    return static_cast<int>(std::ceil(kFarthestAhead * paceDays));
}

double paceOf(const std::vector<double>& days, double usual) {
    if (days.size() < 2) return usual;
    std::vector<double> gaps;
    for (std::size_t i = days.size() - 1; i > 0 && gaps.size() + 1 < kRecent; --i)
        gaps.push_back(days[i] - days[i - 1]);
    std::ranges::sort(gaps);
    const std::size_t half = gaps.size() / 2;
    const double median = gaps.size() % 2 == 1 ? gaps[half] : (gaps[half - 1] + gaps[half]) / 2;
    return std::max(1.0, median);
}

ReadyAhead readyAhead(const LearningModel& model, ForecastRequest request, double readyAt, double paceDays) {
    ReadyAhead ahead;
    ahead.paceDays = paceDays;
    request.draws = kDraws;
    std::vector<std::vector<double>> chances;
    testDrawsAhead(model, request, kLooks, [&](const TestDraws& draws) {
        chances.push_back(passChances(draws));
        const auto& last = chances.back();
        const double mean = std::accumulate(last.begin(), last.end(), 0.0) / double(last.size());
        if (chances.size() == 1) ahead.now = mean >= readyAt;
        // Who is there in every draw needs no further look.
        return !ahead.now && !std::ranges::all_of(last, [&](double chance) { return chance >= readyAt; });
    });
    std::vector<int> reached;
    const std::size_t draws = chances.front().size();
    for (std::size_t draw = 0; draw < draws; ++draw)
        reached.push_back(firstReached(chances, draw, readyAt).value_or(kFarthestAhead + 1));
    std::ranges::sort(reached);
    const auto quantile = [&](double share) -> std::optional<int> {
        const int value = reached[static_cast<std::size_t>(share * double(draws - 1))];
        return value > kFarthestAhead ? std::nullopt : std::optional(value);
    };
    ahead.low = ahead.now ? 0 : quantile(0.1);
    ahead.high = ahead.now ? 0 : quantile(0.9);
    return ahead;
}

}  // namespace markerlamp::core
