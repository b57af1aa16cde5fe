// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/history/history.h"

#include "core/base/moment.h"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <unordered_map>

namespace markerlamp::core {

namespace {

constexpr int kFewestForInterval = 8;
constexpr std::size_t kRecentAttempts = 4;

bool isObserved(StepOutcome outcome) {
    return outcome != StepOutcome::Unseen && outcome != StepOutcome::Unreached;
}

/// The moment an attempt began; nothing when it is none.
std::optional<std::int64_t> startOf(const ScoredAttempt& attempt) {
    return millisecondsOf(attempt.attempt.header.started);
}
double daysBetween(std::int64_t from, std::int64_t to) {
    return static_cast<double>(to - from) / 86'400'000;
}

bool sameRubric(const ScoredAttempt& a, const ScoredAttempt& b) {
    return a.card.rubric == b.card.rubric;
}
bool sameEdition(const ScoredAttempt& a, const ScoredAttempt& b) {
    return sameRubric(a, b) && a.card.edition == b.card.edition;
}

/// Marks of one zone in one attempt: how many of how many.
struct Cluster {
    double hit = 0;
    double of = 0;
};

/// Wilson interval on effective counts. The marks of one zone hang together (who forgets one lamp forgets the
/// next), so the zones are taken as clusters: the variance of the share is that of a ratio of cluster totals,
/// v = k / (k - 1) * sum (hit_i - p of_i)^2 / (sum of_i)^2, and the counts are divided by the design effect
/// v / (p (1 - p) / n). Source: Rao & Scott 1992, A simple method for the analysis of clustered binary data,
/// Biometrics 48:577-585; ratio estimator as in Cochran, Sampling Techniques (1977), chapter 6 (both from
/// memory). Never below 1: with few zones v is itself a rough estimate, and an interval that is narrower
/// than that of independent marks would claim too much. With a single zone, or when all or none hit, v says
/// nothing and the counts are taken as they are.
std::optional<Interval> clusteredWilson(const std::vector<Cluster>& clusters, double level) {
    double hit = 0;
    double of = 0;
    int used = 0;
    for (const Cluster& cluster : clusters) {
        hit += cluster.hit;
        of += cluster.of;
        if (cluster.of > 0) ++used;
    }
    if (of <= 0) return std::nullopt;
    const double share = hit / of;
    double effect = 1;
    if (used > 1 && hit > 0 && hit < of) {
        double squares = 0;
        for (const Cluster& cluster : clusters) {
            const double off = cluster.hit - share * cluster.of;
            squares += off * off;
        }
        const double variance = squares * used / (used - 1) / (of * of);
        effect = std::max(1.0, variance / (share * (1 - share) / of));
    }
    return wilson(hit / effect, of / effect, level);
}

/// Weakness of zones from their counts.
std::vector<ZoneChance> chancesOf(const std::vector<ZoneNow>& zones, double passPercent) {
    std::vector<ZoneCounts> counts;
    counts.reserve(zones.size());
    for (const ZoneNow& zone : zones) counts.push_back({zone.zone, zone.satisfied, zone.observed});
    return weakZones(counts, std::clamp(passPercent / 100, 0.01, 0.99));
}

}  // namespace

bool isWhole(const ScoredAttempt& attempt) {
    const auto& inScope = attempt.attempt.header.zones;
    return std::ranges::all_of(attempt.rubric->zones, [&](const Zone& zone) {
        return std::ranges::find(inScope, zone.id) != inScope.end();
    });
}

std::vector<ZoneNow> zonesNow(const std::vector<ScoredAttempt>& attempts, int last, double level) {
    std::vector<ZoneNow> zones;
    if (attempts.empty() || last <= 0) return zones;
    const ScoredAttempt& newest = attempts.back();
    std::unordered_map<std::string_view, std::size_t> index;
    for (const Zone& zone : newest.rubric->zones) {
        index.emplace(zone.id, zones.size());
        ZoneNow& row = zones.emplace_back();
        row.zone = zone.id;
        row.title = zone.title;
    }
    for (auto attempt = attempts.rbegin(); attempt != attempts.rend() && last > 0; ++attempt) {
        if (!sameRubric(*attempt, newest)) continue;
        --last;
        for (const StepScore& step : attempt->card.steps) {
            const auto found = index.find(step.zone);
            if (found == index.end() || !isObserved(step.outcome)) continue;
            ++zones[found->second].observed;
            if (step.outcome == StepOutcome::Satisfied) ++zones[found->second].satisfied;
        }
    }
    const auto chances = chancesOf(zones, newest.rubric->pass.percent);
    for (std::size_t z = 0; z < zones.size(); ++z) {
        zones[z].below = chances[z].below;
        zones[z].weak = chances[z].weak;
        if (zones[z].observed >= kFewestForInterval)
            zones[z].interval = wilson(zones[z].satisfied, zones[z].observed, level);
    }
    return zones;
}

std::vector<ZoneChance> zoneChances(const std::vector<ScoredAttempt>& attempts, int last) {
    if (attempts.empty()) return {};
    return chancesOf(zonesNow(attempts, last), attempts.back().rubric->pass.percent);
}

PercentTrend percentTrend(const std::vector<ScoredAttempt>& attempts, int most) {
    PercentTrend found;
    const ScoredAttempt* newest = nullptr;
    std::vector<double> days;  // counted back from the newest
    std::vector<double> percents;
    for (auto attempt = attempts.rbegin(); attempt != attempts.rend() && found.attempts < most; ++attempt) {
        const auto start = startOf(*attempt);
        if (!start || !isWhole(*attempt) || (newest != nullptr && !sameRubric(*attempt, *newest))) continue;
        if (newest == nullptr) newest = &*attempt;
        days.push_back(daysBetween(*startOf(*newest), *start));
        percents.push_back(attempt->card.percent);
        ++found.attempts;
    }
    found.trend = theilSen(days, percents);
    return found;
}

HeatMap zonesByAttempts(const std::vector<ScoredAttempt>& attempts) {
    HeatMap map;
    if (attempts.empty()) return map;
    const ScoredAttempt& newest = attempts.back();
    std::unordered_map<std::string_view, std::size_t> index;
    for (const Zone& zone : newest.rubric->zones) {
        index.emplace(zone.id, map.zones.size());
        map.zones.push_back(zone.id);
        map.titles.push_back(zone.title);
    }
    map.cells.assign(map.zones.size(), std::vector<HeatCell>(attempts.size()));
    for (std::size_t a = 0; a < attempts.size(); ++a) {
        const ScoredAttempt& attempt = attempts[a];
        map.otherEdition.push_back(!sameEdition(attempt, newest));
        for (const std::string& zone : attempt.attempt.header.zones)
            if (const auto found = index.find(zone); found != index.end())
                map.cells[found->second][a].inScope = true;
        for (const StepScore& step : attempt.card.steps) {
            const auto found = index.find(step.zone);
            if (found == index.end()) continue;
            HeatCell& cell = map.cells[found->second][a];
            if (step.outcome == StepOutcome::Unseen)
                ++cell.unseen;
            else if (step.outcome == StepOutcome::Unreached)
                ++cell.unreached;
            else
                ++cell.observed;
            if (step.outcome == StepOutcome::Satisfied) ++cell.satisfied;
        }
    }
    return map;
}

std::vector<LearningPoint> learningPoints(const std::vector<ScoredAttempt>& attempts, double level) {
    std::vector<LearningPoint> points;
    if (attempts.empty()) return points;
    const auto start = startOf(attempts.front());
    for (const ScoredAttempt& attempt : attempts) {
        LearningPoint& point = points.emplace_back();
        point.attempt = attempt.card.attempt;
        const auto at = startOf(attempt);
        if (start && at) point.days = daysBetween(*start, *at);
        point.otherEdition = !sameEdition(attempt, attempts.back());

        std::unordered_map<std::string_view, const Step*> steps;
        for (const Zone& zone : attempt.rubric->zones)
            for (const Step& step : zone.steps) steps.emplace(step.id, &step);
        std::vector<Cluster> shown;
        std::vector<Cluster> said;
        std::string_view zone;
        for (const StepScore& score : attempt.card.steps) {
            const auto found = steps.find(score.step);
            if (found == steps.end() || !isObserved(score.outcome)) continue;
            if (shown.empty() || score.zone != zone) {  // the steps of a zone follow one another
                shown.emplace_back();
                said.emplace_back();
                zone = score.zone;
            }
            if (!found->second->show.empty()) {
                ++shown.back().of;
                if (score.shown) ++shown.back().hit;
            }
            said.back().of += static_cast<double>(found->second->say.size());
            said.back().hit += score.said;
        }
        for (std::size_t z = 0; z < shown.size(); ++z) {
            point.shownCount += static_cast<int>(shown[z].hit);
            point.shownOf += static_cast<int>(shown[z].of);
            point.saidCount += static_cast<int>(said[z].hit);
            point.saidOf += static_cast<int>(said[z].of);
        }
        point.shown = clusteredWilson(shown, level);
        point.said = clusteredWilson(said, level);
    }
    return points;
}

std::vector<SayNext> sayNextTime(const std::vector<ScoredAttempt>& attempts) {
    std::vector<SayNext> lines;
    if (attempts.empty()) return lines;
    const ScoredAttempt& newest = attempts.back();
    std::vector<const ScoredAttempt*> recent;  // newest first
    for (auto attempt = attempts.rbegin(); attempt != attempts.rend() && recent.size() < kRecentAttempts;
         ++attempt)
        if (sameRubric(*attempt, newest)) recent.push_back(&*attempt);
    std::ranges::reverse(recent);

    std::vector<std::unordered_map<std::string_view, StepOutcome>> outcomes;
    for (const ScoredAttempt* attempt : recent) {
        auto& map = outcomes.emplace_back();
        for (const StepScore& step : attempt->card.steps) map.emplace(step.step, step.outcome);
    }

    std::vector<std::pair<SayNext, int>> ranked;  // with the weight
    for (const StepScore& score : newest.card.steps) {
        if (!isObserved(score.outcome) || score.outcome == StepOutcome::Satisfied) continue;
        const Zone* zone = newest.rubric->zone(score.zone);
        const Step* step = newest.rubric->step(score.step);
        if (zone == nullptr || step == nullptr) continue;
        SayNext line;
        line.step = step->id;
        line.title = step->title;
        line.zone = zone->id;
        line.zoneTitle = zone->title;
        line.outcome = score.outcome;
        line.mustPass = step->mustPass;
        line.notShown = !score.shown;
        if (score.said < score.needed)
            for (const Point& point : step->say)
                if (std::ranges::find(score.missedPoints, point.id) != score.missedPoints.end())
                    line.missing.push_back(point.text);
        for (const auto& map : outcomes) {
            const auto found = map.find(score.step);
            if (found == map.end()) continue;
            line.recent.push_back(found->second);
            if (!isObserved(found->second)) continue;
            ++line.seenRecent;
            if (found->second != StepOutcome::Satisfied) ++line.missedRecent;
        }
        ranked.emplace_back(std::move(line), step->weight);
    }
    std::ranges::stable_sort(ranked, [](const auto& a, const auto& b) {
        if (a.first.mustPass != b.first.mustPass) return a.first.mustPass;
        if (a.first.missedRecent != b.first.missedRecent) return a.first.missedRecent > b.first.missedRecent;
        return a.second > b.second;
    });
    lines.reserve(ranked.size());
    for (auto& [line, weight] : ranked) lines.push_back(std::move(line));
    return lines;
}

int cleanMustPassInARow(const std::vector<ScoredAttempt>& attempts) {
    int clean = 0;
    for (auto attempt = attempts.rbegin(); attempt != attempts.rend(); ++attempt) {
        int observed = 0;
        for (const StepScore& score : attempt->card.steps) {
            if (!isObserved(score.outcome)) continue;
            const Step* step = attempt->rubric->step(score.step);
            if (step == nullptr || !step->mustPass) continue;
            if (score.outcome != StepOutcome::Satisfied) return clean;
            ++observed;
        }
        if (observed > 0) ++clean;
    }
    return clean;
}

}  // namespace markerlamp::core
