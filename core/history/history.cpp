// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/history/history.h"

#include <algorithm>
#include <charconv>
#include <chrono>
#include <cstddef>
#include <unordered_map>

namespace markerlamp::core {

namespace {

constexpr int kFewestForInterval = 8;
constexpr std::size_t kRecentAttempts = 4;

bool isObserved(StepOutcome outcome) {
    return outcome != StepOutcome::Unseen && outcome != StepOutcome::Unreached;
}

/// The whole text as a number, as far as the two digits of dates and times need it.
std::optional<int> digits(std::string_view text) {
    int value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc{} || end != text.data() + text.size() || text.empty() || text[0] == '-')
        return std::nullopt;
    return value;
}

/// Seconds since 1970 UTC of "YYYY-MM-DDThh:mm[:ss[.fff]]" with "Z" or an offset "+hh:mm". nullopt when it is
/// none.
std::optional<double> utcSeconds(std::string_view text) {
    if (text.size() < 16 || text[4] != '-' || text[7] != '-' || text[10] != 'T' || text[13] != ':')
        return std::nullopt;
    const auto year = digits(text.substr(0, 4)), month = digits(text.substr(5, 2)),
               day = digits(text.substr(8, 2)), hour = digits(text.substr(11, 2)),
               minute = digits(text.substr(14, 2));
    if (!year || !month || !day || !hour || !minute) return std::nullopt;
    const std::chrono::year_month_day date{std::chrono::year(*year),
                                           std::chrono::month(static_cast<unsigned>(*month)),
                                           std::chrono::day(static_cast<unsigned>(*day))};
    if (!date.ok()) return std::nullopt;
    double seconds =
        std::chrono::sys_days(date).time_since_epoch().count() * 86400.0 + *hour * 3600.0 + *minute * 60.0;
    std::string_view rest = text.substr(16);
    if (rest.size() >= 3 && rest[0] == ':') {
        seconds += digits(rest.substr(1, 2)).value_or(0);
        rest.remove_prefix(3);
    }
    if (const auto zone = rest.find_first_of("+-"); zone != rest.npos && rest.size() >= zone + 6) {
        const auto offsetHours = digits(rest.substr(zone + 1, 2)),
                   offsetMinutes = digits(rest.substr(zone + 4, 2));
        if (!offsetHours || !offsetMinutes) return std::nullopt;
        const double offset = *offsetHours * 3600.0 + *offsetMinutes * 60.0;
        seconds += rest[zone] == '+' ? -offset : offset;
    }
    return seconds;
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

}  // namespace

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
    for (ZoneNow& zone : zones) {
        if (zone.observed < kFewestForInterval) continue;
        zone.interval = wilson(zone.satisfied, zone.observed, level);
        zone.weak = zone.interval && zone.interval->high < newest.rubric->pass.percent / 100;
    }
    return zones;
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
    const std::optional<double> start = utcSeconds(attempts.front().attempt.header.started);
    for (const ScoredAttempt& attempt : attempts) {
        LearningPoint& point = points.emplace_back();
        point.attempt = attempt.card.attempt;
        const std::optional<double> at = utcSeconds(attempt.attempt.header.started);
        if (start && at) point.days = (*at - *start) / 86400.0;
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
