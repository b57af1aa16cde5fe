// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The scoring rules, in the order in which they are written down: what stands, what was engaged, credit, the
// parts of a step, its outcome, the sums, the order, the result.

#include "core/attempt/marks.h"
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

const Bounds& boundsOf(const NumberRule& number, const std::vector<Bounds>& limits) {
    return number.limit >= 0 ? limits[static_cast<std::size_t>(number.limit)] : number.own;
}

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

/// Retracted events and retracts count here like any other: the clock ran all the same.
double secondsOf(const Attempt& attempt) {
    const std::vector<Event>& events = attempt.events;
    return events.empty() ? 0 : events.back().t - events.front().t - pausedSeconds(attempt);
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
    /// For each step the (later step, rule) pairs that rules state, sorted.
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
    for (auto& stated : statedFrom) std::ranges::sort(stated);
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
    const auto& stated = statedFrom[static_cast<std::size_t>(first)];
    const auto found = std::ranges::lower_bound(stated, std::pair(then, 0));
    if (found != stated.end() && found->first == then) return found->second;
    int implying = -1;
    for (const auto& [after, rule] : stated)
        if ((implying < 0 || rule < implying) && relation.before(after, then)) implying = rule;
    return implying;
}

namespace {

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
        const Bounds& bounds = boundsOf(*step.reading, limits);
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

/// One attempt on its way to a scorecard; the steps of the work in the order of the rules.
class Scorer::Judging {
public:
    Judging(const Prepared& ready, const Attempt& attempt)
        : m_ready(ready),
          m_rules(*ready.rubric),
          m_attempt(attempt),
          m_limits(ready.limitsOf(attempt.header)),
          m_inScope(ready.scopeOf(attempt.header, m_zoneInScope)),
          m_tallies(ready.steps.size()),
          m_saidAt(ready.points.size(), kNever) {
        m_card.attempt = attempt.header.id;
        m_card.rubric = m_rules.id;
        m_card.edition = m_rules.edition;
    }

    Scorecard run(bool withAlways) {
        gather();
        judgeSteps();
        sumUp();
        judgeOrder(withAlways);
        decide();
        return std::move(m_card);
    }

private:
    void gather();
    void judgeSteps();
    Credit creditOf(const PreparedStep& prepared, const Tally& tally, StepScore& score) const;
    void sumUp();
    void judgeOrder(bool withAlways);
    void findBrokenRules();
    void decide();

    [[nodiscard]] const PreparedStep& step(int i) const { return m_ready.steps[static_cast<std::size_t>(i)]; }
    [[nodiscard]] const Tally& tally(int i) const { return m_tallies[static_cast<std::size_t>(i)]; }

    const Prepared& m_ready;
    const Rubric& m_rules;
    const Attempt& m_attempt;
    std::vector<char> m_zoneInScope;
    std::vector<Bounds> m_limits;
    std::vector<char> m_inScope;
    std::vector<Tally> m_tallies;
    std::vector<int> m_saidAt;  ///< n of the first credit of each point; kNever without one
    bool m_ended = false;
    std::vector<int> m_scored;        ///< step number of each entry of m_card.steps
    std::vector<int> m_strictBroken;  ///< rules that are strict and must-pass
    Scorecard m_card;
};

// Rules 1 to 3. A point keeps the n of its first credit; the credit is own when that comes before the first
// prompt of its step.
void Scorer::Judging::gather() {
    const std::vector<Event>& events = m_attempt.events;
    const std::vector<bool> stands = standingEvents(m_attempt);
    for (std::size_t i = 0; i < events.size(); ++i) {
        const Event& event = events[i];
        m_ended = m_ended || event.kind == EventKind::End;
        if (!stands[i] || event.step.empty()) continue;
        const auto found = m_ready.stepIndex.find(event.step);
        if (found == m_ready.stepIndex.end()) continue;
        take(m_tallies[static_cast<std::size_t>(found->second)], event);
        if (event.kind != EventKind::Say) continue;

        const PreparedStep& prepared = step(found->second);
        const auto begin = m_ready.points.begin() + prepared.firstPoint;
        const auto end = begin + static_cast<std::ptrdiff_t>(prepared.step->say.size());
        const auto point = std::find_if(begin, end, [&](const auto& p) { return p.id == event.point; });
        if (point == end) continue;
        if (point->number && carriesNumber(event) &&
            !matches(event, boundsOf(*point->number, m_limits), point->number->tolerance))
            continue;
        int& first = m_saidAt[static_cast<std::size_t>(point - m_ready.points.begin())];
        first = std::min(first, event.n);
    }
}

Credit Scorer::Judging::creditOf(const PreparedStep& prepared, const Tally& tally, StepScore& score) const {
    const Step& step = *prepared.step;
    Credit credit;
    credit.shownAny = step.show.empty() || tally.firstShow > 0;
    credit.shownOwn = step.show.empty() || (tally.firstShow > 0 && tally.firstShow < tally.firstPrompt);
    for (std::size_t p = 0; p < step.say.size(); ++p) {
        const int at = m_saidAt[static_cast<std::size_t>(prepared.firstPoint) + p];
        if (at != kNever) ++credit.saidAny;
        if (at < tally.firstPrompt)
            ++credit.saidOwn;
        else
            score.missedPoints.push_back(step.say[p].id);
    }
    return credit;
}

// Rules 4 and 5.
void Scorer::Judging::judgeSteps() {
    m_card.steps.reserve(m_ready.steps.size());
    m_scored.reserve(m_ready.steps.size());
    for (int i = 0; i < static_cast<int>(m_ready.steps.size()); ++i) {
        if (!m_inScope[static_cast<std::size_t>(i)]) continue;
        const PreparedStep& prepared = step(i);
        m_scored.push_back(i);
        StepScore& score = m_card.steps.emplace_back();
        score.step = prepared.step->id;
        score.zone = m_rules.zones[static_cast<std::size_t>(prepared.zone)].id;
        score.needed = prepared.step->sayNeeded;
        score.prompted = tally(i).prompted();
        score.position = tally(i).position();
        const Credit credit = creditOf(prepared, tally(i), score);
        score.shown = credit.shownOwn;
        score.said = credit.saidOwn;
        score.outcome = outcomeOf(prepared, tally(i), credit, m_limits);
    }
}

// Rule 6.
void Scorer::Judging::sumUp() {
    std::vector<ZoneScore> zones(m_rules.zones.size());
    double showWeight = 0;
    double shownWeight = 0;
    std::size_t points = 0;
    int pointsSaid = 0;
    for (std::size_t k = 0; k < m_scored.size(); ++k) {
        const StepScore& score = m_card.steps[k];
        if (isUnseen(score.outcome)) continue;
        const PreparedStep& prepared = step(m_scored[k]);
        const int weight = prepared.step->weight;
        ZoneScore& zone = zones[static_cast<std::size_t>(prepared.zone)];
        zone.possible += weight;
        if (score.outcome == StepOutcome::Satisfied) zone.earned += weight;
        if (!prepared.step->show.empty()) {
            showWeight += weight;
            if (score.shown) shownWeight += weight;
        }
        points += prepared.step->say.size();
        pointsSaid += score.said;
    }
    for (std::size_t z = 0; z < zones.size(); ++z) {
        if (!m_zoneInScope[z]) continue;
        zones[z].zone = m_rules.zones[z].id;
        zones[z].percent = share(zones[z].earned, zones[z].possible, 0);
        m_card.earned += zones[z].earned;
        m_card.possible += zones[z].possible;
        m_card.zones.push_back(std::move(zones[z]));
    }
    m_card.percent = share(m_card.earned, m_card.possible, 0);
    m_card.shownPercent = share(shownWeight, showWeight, 100);
    m_card.saidPercent = share(pointsSaid, static_cast<double>(points), 100);
}

// Rule 7.
void Scorer::Judging::judgeOrder(bool withAlways) {
    std::vector<int> sequence;
    sequence.reserve(m_scored.size());
    for (int i : m_scored)
        if (tally(i).engaged()) sequence.push_back(i);
    std::ranges::sort(sequence, {}, [&](int i) { return tally(i).position(); });
    std::vector<int> prefer;
    prefer.reserve(sequence.size());
    for (int i : sequence) prefer.push_back(step(i).rank);

    const Displaced order = displacedSteps(m_ready.relation, sequence, prefer, withAlways);
    if (!sequence.empty())
        m_card.orderPercent =
            100 * (1 - static_cast<double>(order.set.size()) / static_cast<double>(sequence.size()));
    if (order.faults.empty()) return;
    for (int i : order.set) m_card.displaced.push_back(step(i).step->id);
    for (int i : order.always) m_card.alwaysDisplaced.push_back(step(i).step->id);
    m_card.orderFaults.reserve(order.faults.size());
    for (const auto& [first, then] : order.faults) {
        const int rule = m_ready.ruleOf(first, then);
        m_card.orderFaults.push_back({step(first).step->id, step(then).step->id,
                                      rule >= 0 ? m_rules.order[static_cast<std::size_t>(rule)].id : ""});
    }
    findBrokenRules();
}

void Scorer::Judging::findBrokenRules() {
    const auto inSequence = [&](int i) {
        return m_inScope[static_cast<std::size_t>(i)] != 0 && tally(i).engaged();
    };
    for (int rule = 0; rule < m_ready.relation.rules(); ++rule) {
        const bool broken = std::ranges::any_of(m_ready.relation.statedPairs(rule), [&](const auto& pair) {
            return inSequence(pair.first) && inSequence(pair.second) &&
                   tally(pair.second).position() < tally(pair.first).position();
        });
        if (!broken) continue;
        const OrderRule& stated = m_rules.order[static_cast<std::size_t>(rule)];
        m_card.brokenRules.push_back(stated.id);
        if (stated.strict && stated.mustPass) m_strictBroken.push_back(rule);
    }
}

// Rules 8 and 9.
void Scorer::Judging::decide() {
    const PassRule& pass = m_rules.pass;
    m_card.seconds = secondsOf(m_attempt);
    bool fails = false;
    bool incomplete = !m_ended;
    std::vector<Reason>& reasons = m_card.reasons;
    if (m_card.percent < pass.percent - kPercentSlack) {
        reasons.push_back({Reason::Code::BelowPercent, {}, {}});
        fails = true;
    }
    for (std::size_t k = 0; k < m_scored.size(); ++k) {
        const StepScore& score = m_card.steps[k];
        if (!step(m_scored[k]).step->mustPass || score.outcome == StepOutcome::Satisfied ||
            isUnseen(score.outcome))
            continue;
        reasons.push_back({Reason::Code::MustPass, score.step, {}});
        fails = true;
    }
    for (int rule : m_strictBroken) {
        reasons.push_back({Reason::Code::StrictOrder, {}, m_rules.order[static_cast<std::size_t>(rule)].id});
        fails = true;
    }
    if (pass.minutes && m_card.seconds > *pass.minutes * kSecondsPerMinute) {
        reasons.push_back({Reason::Code::OverTime, {}, {}});
        fails = fails || pass.minutesFail;
    }
    for (std::size_t k = 0; k < m_scored.size(); ++k) {
        const StepScore& score = m_card.steps[k];
        if (!step(m_scored[k]).step->mustPass || !isUnseen(score.outcome)) continue;
        reasons.push_back({Reason::Code::Unseen, score.step, {}});
        incomplete = true;
    }
    if (!m_ended) reasons.push_back({Reason::Code::Unfinished, {}, {}});
    m_card.result = fails        ? AttemptResult::Fail
                    : incomplete ? AttemptResult::Incomplete
                                 : AttemptResult::Pass;
}

Scorer::Scorer(std::shared_ptr<const Rubric> rubric)
    : m_prepared(std::make_unique<const Prepared>(std::move(rubric))) {}
Scorer::~Scorer() = default;
Scorer::Scorer(Scorer&&) noexcept = default;
Scorer& Scorer::operator=(Scorer&&) noexcept = default;

const Rubric& Scorer::rubric() const {
    return *m_prepared->rubric;
}

Scorecard Scorer::score(const Attempt& attempt, bool withAlways) const {
    return Judging(*m_prepared, attempt).run(withAlways);
}

Scorecard score(const Rubric& rubric, const Attempt& attempt, bool withAlways) {
    // Not owning: the scorer does not outlive this call.
    return Scorer(std::shared_ptr<const Rubric>(std::shared_ptr<const Rubric>(), &rubric))
        .score(attempt, withAlways);
}

}  // namespace markerlamp::core
