// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The scoring rules, in the order in which they are written down: what stands, what was engaged, credit, the
// parts of a step, its outcome, the sums, the order, the result.

#include "core/scoring/displaced.h"
#include "core/scoring/scorecard.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>
#include <limits>
#include <numeric>
#include <string_view>
#include <unordered_map>

namespace markerlamp::core {

namespace {

constexpr double kPercentSlack = 1e-9;
constexpr double kSecondsPerMinute = 60;
constexpr int kNever = std::numeric_limits<int>::max();

/// Bounds as they count for one attempt.
struct Bounds {
    std::optional<double> low;
    std::optional<double> high;
    bool exclusive = false;
    std::string_view unit;

    [[nodiscard]] bool any() const { return low || high; }
    [[nodiscard]] bool holds(double value) const {
        if (exclusive) return (!low || value > *low) && (!high || value < *high);
        return (!low || value >= *low) && (!high || value <= *high);
    }
};

/// A number of the rubric: a limit by its place in the list, or bounds of its own.
struct NumberRule {
    int limit = -1;
    Bounds own;
    double tolerance = 0;
};

struct PreparedPoint {
    std::string_view id;
    std::optional<NumberRule> number;
};

struct PreparedStep {
    const Step* step = nullptr;
    int zone = 0;
    int firstPoint = 0;  ///< into Prepared::points; step->say.size() of them
    int rank = 0;        ///< must-pass steps first, then rubric order: who is rather kept in place
    std::optional<NumberRule> reading;
};

/// What the standing events say about a step.
struct Tally {
    int firstEngaged = 0;  ///< n; 0 when none
    int firstShow = 0;
    int firstPrompt = kNever;
    bool wrong = false;
    bool fault = false;
    std::optional<double> reading;  ///< the last one
    std::optional<EventKind> last;  ///< last of omit, unseen, unreached

    [[nodiscard]] bool engaged() const { return firstEngaged > 0; }
    [[nodiscard]] bool prompted() const { return firstPrompt != kNever; }
    [[nodiscard]] int position() const { return firstShow > 0 ? firstShow : firstEngaged; }
};

/// Whether the number that was said is the right one for the point.
bool matches(const Event& said, const Bounds& point, double tolerance) {
    if (said.unit != point.unit) return false;
    if (said.low && said.high) {
        return point.low && point.high && std::abs(*said.low - *point.low) <= tolerance &&
               std::abs(*said.high - *point.high) <= tolerance;
    }
    if (!said.value) return false;
    const double value = *said.value;
    if (point.low && point.high) return *point.low - tolerance <= value && value <= *point.high + tolerance;
    if (point.low) return std::abs(value - *point.low) <= tolerance;
    if (point.high) return std::abs(value - *point.high) <= tolerance;
    return false;
}

bool carriesNumber(const Event& event) {
    return event.value || event.low || event.high;
}

/// A retracted event counts here like any other: the clock ran all the same.
double runningSecondsOf(const std::vector<Event>& events) {
    if (events.empty()) return 0;
    double paused = 0;
    std::optional<double> since;
    for (const Event& event : events) {
        if (event.kind == EventKind::Pause && !since) since = event.t;
        if (event.kind == EventKind::Resume && since) {
            paused += event.t - *since;
            since.reset();
        }
    }
    if (since) paused += events.back().t - *since;
    return events.back().t - events.front().t - paused;
}

double share(double part, double whole, double whenNothing) {
    return whole > 0 ? 100 * part / whole : whenNothing;
}

}  // namespace

struct Scorer::Prepared {
    explicit Prepared(std::shared_ptr<const Rubric> given);

    [[nodiscard]] NumberRule numberRule(const std::string& limit, const std::optional<double>& low,
                                        const std::optional<double>& high, const std::string& unit,
                                        bool exclusive, double tolerance) const;
    [[nodiscard]] std::vector<Bounds> limitsOf(const AttemptHeader& header) const;
    [[nodiscard]] std::vector<char> scopeOf(const AttemptHeader& header, std::vector<char>& zones) const;
    [[nodiscard]] int ruleOf(int first, int then) const;

    std::shared_ptr<const Rubric> rubric;
    std::vector<PreparedStep> steps;
    std::vector<PreparedPoint> points;
    std::unordered_map<std::string_view, int> stepIndex;
    std::unordered_map<std::string_view, int> limitIndex;
    OrderRelation relation;
    /// For each step the (later step, rule) pairs that rules state, sorted by rule.
    std::vector<std::vector<std::pair<int, int>>> statedFrom;
};

Scorer::Prepared::Prepared(std::shared_ptr<const Rubric> given)
    : rubric(std::move(given)), relation(*rubric) {
    for (std::size_t i = 0; i < rubric->limits.size(); ++i)
        limitIndex.emplace(rubric->limits[i].id, static_cast<int>(i));
    for (std::size_t z = 0; z < rubric->zones.size(); ++z) {
        for (const Step& step : rubric->zones[z].steps) {
            PreparedStep prepared;
            prepared.step = &step;
            prepared.zone = static_cast<int>(z);
            prepared.firstPoint = static_cast<int>(points.size());
            if (step.reading) {
                const ReadingRule& rule = *step.reading;
                prepared.reading = numberRule(rule.limit, rule.low, rule.high, rule.unit, rule.exclusive, 0);
            }
            for (const Point& point : step.say) {
                PreparedPoint& entry = points.emplace_back();
                entry.id = point.id;
                if (point.number) {
                    const PointNumber& number = *point.number;
                    entry.number = numberRule(number.limit, number.low, number.high, number.unit, false,
                                              number.tolerance);
                }
            }
            stepIndex.emplace(step.id, static_cast<int>(steps.size()));
            steps.push_back(prepared);
        }
    }
    std::vector<int> byPreference(steps.size());
    std::iota(byPreference.begin(), byPreference.end(), 0);
    std::ranges::stable_sort(byPreference, {},
                             [&](int i) { return !steps[static_cast<std::size_t>(i)].step->mustPass; });
    for (std::size_t rank = 0; rank < byPreference.size(); ++rank)
        steps[static_cast<std::size_t>(byPreference[rank])].rank = static_cast<int>(rank);

    statedFrom.resize(steps.size());
    for (int rule = 0; rule < relation.rules(); ++rule)
        for (const auto& [a, b] : relation.statedPairs(rule))
            statedFrom[static_cast<std::size_t>(a)].emplace_back(b, rule);
}

NumberRule Scorer::Prepared::numberRule(const std::string& limit, const std::optional<double>& low,
                                        const std::optional<double>& high, const std::string& unit,
                                        bool exclusive, double tolerance) const {
    NumberRule rule;
    rule.tolerance = tolerance;
    if (const auto found = limitIndex.find(limit); !limit.empty() && found != limitIndex.end())
        rule.limit = found->second;
    else
        rule.own = {low, high, exclusive, unit};
    return rule;
}

/// The rubric's limits; a limit of the bus replaces both bounds and leaves unit and exclusive.
std::vector<Bounds> Scorer::Prepared::limitsOf(const AttemptHeader& header) const {
    std::vector<Bounds> limits;
    limits.reserve(rubric->limits.size());
    for (const Limit& limit : rubric->limits)
        limits.push_back({limit.low, limit.high, limit.exclusive, limit.unit});
    for (const auto& [id, bounds] : header.limits) {
        const auto found = limitIndex.find(id);
        if (found == limitIndex.end()) continue;
        Bounds& limit = limits[static_cast<std::size_t>(found->second)];
        limit.low = bounds.low;
        limit.high = bounds.high;
    }
    return limits;
}

std::vector<char> Scorer::Prepared::scopeOf(const AttemptHeader& header, std::vector<char>& zones) const {
    zones.assign(rubric->zones.size(), 0);
    for (std::size_t z = 0; z < zones.size(); ++z)
        zones[z] = std::ranges::find(header.zones, rubric->zones[z].id) != header.zones.end();
    std::vector<char> inScope(steps.size());
    for (std::size_t i = 0; i < steps.size(); ++i)
        inScope[i] =
            zones[static_cast<std::size_t>(steps[i].zone)] && appliesTo(*steps[i].step, header.equipment);
    return inScope;
}

/// First rule that states the pair; else the first that states a pair from which the pair follows.
int Scorer::Prepared::ruleOf(int first, int then) const {
    int implying = -1;
    for (const auto& [after, rule] : statedFrom[static_cast<std::size_t>(first)]) {
        if (after == then) return rule;
        if (implying < 0 && relation.before(after, then)) implying = rule;
    }
    return implying;
}

namespace {

/// Which events no retract names.
std::vector<char> standing(const std::vector<Event>& events) {
    std::vector<char> stands(events.size(), 1);
    for (const Event& event : events) {
        if (event.kind != EventKind::Retract) continue;
        const int index = event.retracts - 1;
        if (index >= 0 && index < static_cast<int>(events.size()))
            stands[static_cast<std::size_t>(index)] = 0;
    }
    return stands;
}

void engage(Tally& tally, int n) {
    if (tally.firstEngaged == 0) tally.firstEngaged = n;
}

/// Everything but say, which needs the points of the step.
void take(Tally& tally, const Event& event) {
    switch (event.kind) {
        case EventKind::Show:
            engage(tally, event.n);
            if (tally.firstShow == 0) tally.firstShow = event.n;
            break;
        case EventKind::Say:
        case EventKind::Partly:
            engage(tally, event.n);
            break;
        case EventKind::Wrong:
            engage(tally, event.n);
            tally.wrong = true;
            break;
        case EventKind::Reading:
            engage(tally, event.n);
            tally.reading = event.value;
            break;
        case EventKind::Fault:
            engage(tally, event.n);
            tally.fault = true;
            break;
        case EventKind::Prompt:
            tally.firstPrompt = std::min(tally.firstPrompt, event.n);
            break;
        case EventKind::Omit:
        case EventKind::Unseen:
        case EventKind::Unreached:
            tally.last = event.kind;
            break;
        case EventKind::Note:
        case EventKind::Pause:
        case EventKind::Resume:
        case EventKind::Retract:
        case EventKind::End:
            break;
    }
}

/// Credit of a step, own and all.
struct Credit {
    bool shownOwn = false;
    bool shownAny = false;
    int saidOwn = 0;
    int saidAny = 0;
};

StepOutcome outcomeOf(const PreparedStep& step, const Tally& tally, const Credit& credit,
                      const std::vector<Bounds>& limits) {
    if (!tally.engaged()) {
        if (!tally.prompted() && tally.last == EventKind::Unseen) return StepOutcome::Unseen;
        if (!tally.prompted() && tally.last == EventKind::Unreached) return StepOutcome::Unreached;
        return StepOutcome::Omitted;
    }
    bool readingMet = true;
    bool readingWrong = false;
    if (step.reading) {
        const Bounds& bounds = step.reading->limit >= 0
                                   ? limits[static_cast<std::size_t>(step.reading->limit)]
                                   : step.reading->own;
        if (bounds.any() && !tally.fault) {
            readingWrong = tally.reading && !bounds.holds(*tally.reading);
            readingMet = tally.reading ? !readingWrong : !step.step->reading->required;
        }
    }
    if (tally.wrong || readingWrong) return StepOutcome::Wrong;
    const int needed = step.step->sayNeeded;
    if (readingMet && credit.shownOwn && credit.saidOwn >= needed) return StepOutcome::Satisfied;
    if (readingMet && credit.shownAny && credit.saidAny >= needed) return StepOutcome::Prompted;
    return StepOutcome::Partial;
}

bool isUnseen(StepOutcome outcome) {
    return outcome == StepOutcome::Unseen || outcome == StepOutcome::Unreached;
}

}  // namespace

Scorer::Scorer(std::shared_ptr<const Rubric> rubric)
    : m_prepared(std::make_unique<const Prepared>(std::move(rubric))) {}
Scorer::~Scorer() = default;
Scorer::Scorer(Scorer&&) noexcept = default;
Scorer& Scorer::operator=(Scorer&&) noexcept = default;

const Rubric& Scorer::rubric() const {
    return *m_prepared->rubric;
}

Scorecard Scorer::score(const Attempt& attempt, bool withAlways) const {
    const Prepared& ready = *m_prepared;
    const Rubric& rules = *ready.rubric;
    const std::vector<Event>& events = attempt.events;
    const std::vector<Bounds> limits = ready.limitsOf(attempt.header);
    std::vector<char> zoneInScope;
    const std::vector<char> inScope = ready.scopeOf(attempt.header, zoneInScope);

    Scorecard card;
    card.attempt = attempt.header.id;
    card.rubric = rules.id;
    card.edition = rules.edition;

    // Rules 1 to 3: gather. A point keeps the n of its first credit; credit is own when that comes before the
    // first prompt.
    std::vector<Tally> tallies(ready.steps.size());
    std::vector<int> saidAt(ready.points.size(), kNever);
    const std::vector<char> stands = standing(events);
    bool ended = false;
    for (std::size_t i = 0; i < events.size(); ++i) {
        const Event& event = events[i];
        ended = ended || event.kind == EventKind::End;
        if (!stands[i] || event.step.empty()) continue;
        const auto found = ready.stepIndex.find(event.step);
        if (found == ready.stepIndex.end()) continue;
        const auto index = static_cast<std::size_t>(found->second);
        take(tallies[index], event);
        if (event.kind != EventKind::Say) continue;
        const auto begin = ready.points.begin() + ready.steps[index].firstPoint;
        const auto end = begin + static_cast<std::ptrdiff_t>(ready.steps[index].step->say.size());
        const auto point = std::find_if(begin, end, [&](const auto& p) { return p.id == event.point; });
        if (point == end) continue;
        if (point->number && carriesNumber(event)) {
            const NumberRule& number = *point->number;
            const Bounds& bounds =
                number.limit >= 0 ? limits[static_cast<std::size_t>(number.limit)] : number.own;
            if (!matches(event, bounds, number.tolerance)) continue;
        }
        int& first = saidAt[static_cast<std::size_t>(point - ready.points.begin())];
        first = std::min(first, event.n);
    }

    // Rules 4 to 6: outcomes and sums.
    std::vector<int> zoneEarned(rules.zones.size());
    std::vector<int> zonePossible(rules.zones.size());
    double showWeight = 0;
    double shownWeight = 0;
    int pointCount = 0;
    int pointsSaid = 0;
    std::vector<std::size_t> mustPassMissed;
    std::vector<std::size_t> mustPassUnseen;
    std::vector<int> sequence;
    card.steps.reserve(ready.steps.size());
    for (std::size_t i = 0; i < ready.steps.size(); ++i) {
        if (!inScope[i]) continue;
        const PreparedStep& prepared = ready.steps[i];
        const Step& step = *prepared.step;
        const Tally& tally = tallies[i];
        StepScore& score = card.steps.emplace_back();
        score.step = step.id;
        score.zone = rules.zones[static_cast<std::size_t>(prepared.zone)].id;
        score.needed = step.sayNeeded;
        score.prompted = tally.prompted();
        score.position = tally.position();

        Credit credit;
        credit.shownAny = step.show.empty() || tally.firstShow > 0;
        credit.shownOwn = step.show.empty() || (tally.firstShow > 0 && tally.firstShow < tally.firstPrompt);
        for (std::size_t p = 0; p < step.say.size(); ++p) {
            const int at = saidAt[static_cast<std::size_t>(prepared.firstPoint) + p];
            credit.saidAny += at != kNever;
            if (at < tally.firstPrompt)
                ++credit.saidOwn;
            else
                score.missedPoints.push_back(step.say[p].id);
        }
        score.shown = credit.shownOwn;
        score.said = credit.saidOwn;
        score.outcome = outcomeOf(prepared, tally, credit, limits);
        if (tally.engaged()) sequence.push_back(static_cast<int>(i));

        if (isUnseen(score.outcome)) {
            if (step.mustPass) mustPassUnseen.push_back(card.steps.size() - 1);
            continue;
        }
        const bool satisfied = score.outcome == StepOutcome::Satisfied;
        if (step.mustPass && !satisfied) mustPassMissed.push_back(card.steps.size() - 1);
        zonePossible[static_cast<std::size_t>(prepared.zone)] += step.weight;
        if (satisfied) zoneEarned[static_cast<std::size_t>(prepared.zone)] += step.weight;
        if (!step.show.empty()) {
            showWeight += step.weight;
            if (credit.shownOwn) shownWeight += step.weight;
        }
        pointCount += static_cast<int>(step.say.size());
        pointsSaid += credit.saidOwn;
    }
    for (std::size_t z = 0; z < rules.zones.size(); ++z) {
        if (!zoneInScope[z]) continue;
        card.zones.push_back(
            {rules.zones[z].id, share(zoneEarned[z], zonePossible[z], 0), zoneEarned[z], zonePossible[z]});
        card.earned += zoneEarned[z];
        card.possible += zonePossible[z];
    }
    card.percent = share(card.earned, card.possible, 0);
    card.shownPercent = share(shownWeight, showWeight, 100);
    card.saidPercent = share(pointsSaid, pointCount, 100);

    // Rule 7: order.
    std::ranges::sort(sequence, {}, [&](int i) { return tallies[static_cast<std::size_t>(i)].position(); });
    std::vector<int> prefer;
    prefer.reserve(sequence.size());
    for (int i : sequence) prefer.push_back(ready.steps[static_cast<std::size_t>(i)].rank);
    const Displaced order = displacedSteps(ready.relation, sequence, prefer, withAlways);
    const auto idOf = [&](int i) -> const std::string& {
        return ready.steps[static_cast<std::size_t>(i)].step->id;
    };
    for (int i : order.set) card.displaced.push_back(idOf(i));
    for (int i : order.always) card.alwaysDisplaced.push_back(idOf(i));
    card.orderFaults.reserve(order.faults.size());
    for (const auto& [first, then] : order.faults) {
        const int rule = ready.ruleOf(first, then);
        card.orderFaults.push_back(
            {idOf(first), idOf(then), rule >= 0 ? rules.order[static_cast<std::size_t>(rule)].id : ""});
    }
    if (!sequence.empty())
        card.orderPercent =
            100 * (1 - static_cast<double>(order.set.size()) / static_cast<double>(sequence.size()));
    std::vector<int> strictBroken;
    for (int rule = 0; rule < ready.relation.rules() && !order.faults.empty(); ++rule) {
        const auto& pairs = ready.relation.statedPairs(rule);
        const bool broken = std::ranges::any_of(pairs, [&](const auto& pair) {
            const Tally& a = tallies[static_cast<std::size_t>(pair.first)];
            const Tally& b = tallies[static_cast<std::size_t>(pair.second)];
            return inScope[static_cast<std::size_t>(pair.first)] &&
                   inScope[static_cast<std::size_t>(pair.second)] && a.engaged() && b.engaged() &&
                   b.position() < a.position();
        });
        if (!broken) continue;
        const OrderRule& stated = rules.order[static_cast<std::size_t>(rule)];
        card.brokenRules.push_back(stated.id);
        if (stated.strict && stated.mustPass) strictBroken.push_back(rule);
    }

    // Rules 8 and 9: time and result.
    card.seconds = runningSecondsOf(events);
    const bool below = card.percent < rules.pass.percent - kPercentSlack;
    const bool over = rules.pass.minutes && card.seconds > *rules.pass.minutes * kSecondsPerMinute;
    if (below) card.reasons.push_back({Reason::Code::BelowPercent, {}, {}});
    for (std::size_t i : mustPassMissed)
        card.reasons.push_back({Reason::Code::MustPass, card.steps[i].step, {}});
    for (int rule : strictBroken)
        card.reasons.push_back(
            {Reason::Code::StrictOrder, {}, rules.order[static_cast<std::size_t>(rule)].id});
    if (over) card.reasons.push_back({Reason::Code::OverTime, {}, {}});
    for (std::size_t i : mustPassUnseen)
        card.reasons.push_back({Reason::Code::Unseen, card.steps[i].step, {}});
    if (!ended) card.reasons.push_back({Reason::Code::Unfinished, {}, {}});

    if (below || !mustPassMissed.empty() || !strictBroken.empty() || (over && rules.pass.minutesFail))
        card.result = AttemptResult::Fail;
    else if (!mustPassUnseen.empty() || !ended)
        card.result = AttemptResult::Incomplete;
    else
        card.result = AttemptResult::Pass;
    return card;
}

Scorecard score(const Rubric& rubric, const Attempt& attempt, bool withAlways) {
    // Not owning: the scorer does not outlive this call.
    return Scorer(std::shared_ptr<const Rubric>(std::shared_ptr<const Rubric>(), &rubric))
        .score(attempt, withAlways);
}

}  // namespace markerlamp::core
