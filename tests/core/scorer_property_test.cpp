// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// A second scorer, written straight from the rules with no thought of speed, against the real one on random
// small rubrics and attempts.

#include "displaced_by_enumeration.h"
#include "scoring_support.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <map>
#include <tuple>

namespace markerlamp::core {
namespace {

using testing::pick;

bool oneIn(int n) {
    return pick(0, n) == 0;
}

// --- The naive scorer ---------------------------------------------------------------------------------

class NaiveScorer {
public:
    NaiveScorer(const Rubric& rubric, const Attempt& attempt) : m_rubric(rubric), m_attempt(attempt) {}

    Scorecard score() {
        Scorecard card;
        card.attempt = m_attempt.header.id;
        card.rubric = m_rubric.id;
        card.edition = m_rubric.edition;
        double showAll = 0, showGot = 0, pointsAll = 0, pointsGot = 0;
        std::vector<std::string> missed, unseen;
        for (const Zone& zone : m_rubric.zones) {
            if (std::ranges::count(m_attempt.header.zones, zone.id) == 0) continue;
            ZoneScore sum;
            sum.zone = zone.id;
            for (const Step& step : zone.steps) {
                if (!applies(step)) continue;
                StepScore score = judge(zone, step);
                const bool off =
                    score.outcome == StepOutcome::Unseen || score.outcome == StepOutcome::Unreached;
                if (!off) {
                    sum.possible += step.weight;
                    if (score.outcome == StepOutcome::Satisfied) sum.earned += step.weight;
                    if (!step.show.empty()) showAll += step.weight;
                    if (!step.show.empty() && score.shown) showGot += step.weight;
                    pointsAll += static_cast<double>(step.say.size());
                    pointsGot += score.said;
                }
                if (step.mustPass && off) unseen.push_back(step.id);
                if (step.mustPass && !off && score.outcome != StepOutcome::Satisfied)
                    missed.push_back(step.id);
                card.steps.push_back(score);
            }
            sum.percent = sum.possible == 0 ? 0 : 100.0 * sum.earned / sum.possible;
            card.earned += sum.earned;
            card.possible += sum.possible;
            card.zones.push_back(sum);
        }
        card.percent = card.possible == 0 ? 0 : 100.0 * card.earned / card.possible;
        card.shownPercent = showAll == 0 ? 100 : 100 * showGot / showAll;
        card.saidPercent = pointsAll == 0 ? 100 : 100 * pointsGot / pointsAll;
        order(card);
        card.seconds = seconds();
        result(card, missed, unseen);
        return card;
    }

private:
    bool stands(const Event& event) const {
        return std::ranges::none_of(m_attempt.events, [&](const Event& other) {
            return other.kind == EventKind::Retract && other.retracts == event.n;
        });
    }
    /// Standing events of the step, of these kinds.
    std::vector<Event> of(const std::string& step, std::initializer_list<EventKind> kinds) const {
        std::vector<Event> found;
        for (const Event& event : m_attempt.events)
            if (event.step == step && stands(event) && std::ranges::count(kinds, event.kind) > 0)
                found.push_back(event);
        return found;
    }
    bool applies(const Step& step) const {
        for (const std::string& tag : step.when) {
            const bool unwanted = tag[0] == '!';
            const bool has =
                std::ranges::count(m_attempt.header.equipment, unwanted ? tag.substr(1) : tag) > 0;
            if (has == unwanted) return false;
        }
        return true;
    }
    Limit resolve(const std::string& id, const Limit& own) const {
        if (id.empty()) return own;
        Limit limit = *m_rubric.limit(id);
        if (m_attempt.header.limits.contains(id)) {
            limit.low = m_attempt.header.limits.at(id).low;
            limit.high = m_attempt.header.limits.at(id).high;
        }
        return limit;
    }
    bool right(const Point& point, const Event& said) const {
        if (!point.number || (!said.value && !said.low && !said.high)) return true;
        const Limit bounds = resolve(
            point.number->limit, {{}, point.number->low, point.number->high, point.number->unit, false, {}});
        const double tolerance = point.number->tolerance;
        if (said.unit != bounds.unit) return false;
        if (!said.value)
            return bounds.low && bounds.high && std::abs(*said.low - *bounds.low) <= tolerance &&
                   std::abs(*said.high - *bounds.high) <= tolerance;
        if (bounds.low && bounds.high)
            return *bounds.low - tolerance <= *said.value && *said.value <= *bounds.high + tolerance;
        return std::abs(*said.value - (bounds.low ? *bounds.low : *bounds.high)) <= tolerance;
    }

    StepScore judge(const Zone& zone, const Step& step) const {
        using enum EventKind;
        StepScore score;
        score.step = step.id;
        score.zone = zone.id;
        score.needed = step.sayNeeded;
        const auto engaging = of(step.id, {Show, Say, Partly, Wrong, Reading, Fault});
        const auto shows = of(step.id, {Show});
        const auto prompts = of(step.id, {Prompt});
        score.prompted = !prompts.empty();
        if (!shows.empty())
            score.position = shows.front().n;
        else if (!engaging.empty())
            score.position = engaging.front().n;
        const auto own = [&](const Event& event) { return prompts.empty() || event.n < prompts.front().n; };
        score.shown = step.show.empty() || std::ranges::any_of(shows, own);
        const bool shownAny = step.show.empty() || !shows.empty();
        int saidAny = 0;
        for (const Point& point : step.say) {
            bool any = false, byOwn = false;
            for (const Event& event : of(step.id, {Say}))
                if (event.point == point.id && right(point, event)) {
                    any = true;
                    byOwn = byOwn || own(event);
                }
            saidAny += any ? 1 : 0;
            score.said += byOwn ? 1 : 0;
            if (!byOwn) score.missedPoints.push_back(point.id);
        }

        bool met = true, readingWrong = false;
        if (step.reading) {
            const ReadingRule& rule = *step.reading;
            const Limit limit = resolve(rule.limit, {{}, rule.low, rule.high, rule.unit, rule.exclusive, {}});
            const auto readings = of(step.id, {Reading});
            bool inside = true;
            if (!readings.empty()) {
                const double value = *readings.back().value;
                if (limit.low && (value < *limit.low || (limit.exclusive && value == *limit.low)))
                    inside = false;
                if (limit.high && (value > *limit.high || (limit.exclusive && value == *limit.high)))
                    inside = false;
            }
            const bool fault = !of(step.id, {Fault}).empty();
            met = (!readings.empty() && inside) || fault || (readings.empty() && !rule.required);
            readingWrong = !readings.empty() && !inside && !fault;
        }

        const auto absent = of(step.id, {Omit, Unseen, Unreached});
        if (engaging.empty() && prompts.empty() && !absent.empty() && absent.back().kind == Unseen)
            score.outcome = StepOutcome::Unseen;
        else if (engaging.empty() && prompts.empty() && !absent.empty() && absent.back().kind == Unreached)
            score.outcome = StepOutcome::Unreached;
        else if (engaging.empty())
            score.outcome = StepOutcome::Omitted;
        else if (!of(step.id, {Wrong}).empty() || readingWrong)
            score.outcome = StepOutcome::Wrong;
        else if (met && score.shown && score.said >= step.sayNeeded)
            score.outcome = StepOutcome::Satisfied;
        else if (met && shownAny && saidAny >= step.sayNeeded)
            score.outcome = StepOutcome::Prompted;
        else
            score.outcome = StepOutcome::Partial;
        return score;
    }

    void order(Scorecard& card) {
        std::vector<std::string> ids;
        std::map<std::string, std::vector<std::string>> zoneSteps;
        std::map<std::string, int> number;
        std::map<std::string, bool> must;
        for (const Zone& zone : m_rubric.zones)
            for (const Step& step : zone.steps) {
                number[step.id] = static_cast<int>(ids.size());
                ids.push_back(step.id);
                zoneSteps["zone:" + zone.id].push_back(step.id);
                must[step.id] = step.mustPass;
            }
        const auto expand = [&](const std::string& entry) {
            return zoneSteps.contains(entry) ? zoneSteps[entry] : std::vector<std::string>{entry};
        };
        testing::Pairs all;
        std::vector<std::set<std::pair<int, int>>> stated;
        for (const OrderRule& rule : m_rubric.order) {
            std::set<std::pair<int, int>>& pairs = stated.emplace_back();
            const auto add = [&](const std::string& from, const std::string& to) {
                for (const std::string& a : expand(from))
                    for (const std::string& b : expand(to)) pairs.emplace(number[a], number[b]);
            };
            for (std::size_t i = 0; i < rule.chain.size(); ++i)
                for (std::size_t j = i + 1; j < rule.chain.size(); ++j) add(rule.chain[i], rule.chain[j]);
            for (const std::string& a : rule.first)
                for (const std::string& b : rule.then) add(a, b);
            all.insert(all.end(), pairs.begin(), pairs.end());
        }
        std::set<std::pair<int, int>> closed(all.begin(), all.end());
        for (bool grown = true; grown;) {
            grown = false;
            const auto current = closed;
            for (const auto& [a, b] : current)
                for (const auto& [c, d] : current)
                    if (b == c && closed.emplace(a, d).second) grown = true;
        }

        std::vector<std::pair<int, int>> line;  // position, step
        for (const StepScore& step : card.steps)
            if (step.position > 0) line.emplace_back(step.position, number[step.step]);
        std::ranges::sort(line);
        std::vector<int> observed;
        std::vector<int> prefer;
        for (const auto& [position, step] : line) {
            observed.push_back(step);
            prefer.push_back(step +
                             (must[ids[static_cast<std::size_t>(step)]] ? 0 : static_cast<int>(ids.size())));
        }
        const auto found =
            testing::displacedByEnumeration(all, static_cast<int>(ids.size()), observed, prefer);
        for (int step : found.set) card.displaced.push_back(ids[static_cast<std::size_t>(step)]);
        for (int step : found.always) card.alwaysDisplaced.push_back(ids[static_cast<std::size_t>(step)]);
        if (!observed.empty())
            card.orderPercent =
                100 * (1 - static_cast<double>(found.set.size()) / static_cast<double>(observed.size()));
        for (std::size_t i = 0; i < observed.size(); ++i)
            for (std::size_t j = i + 1; j < observed.size(); ++j) {
                if (!closed.contains({observed[j], observed[i]})) continue;
                std::string named;
                for (std::size_t r = stated.size(); r-- > 0;)
                    for (const auto& [a, b] : stated[r])
                        if (a == observed[j] && closed.contains({b, observed[i]}))
                            named = m_rubric.order[r].id;
                for (std::size_t r = stated.size(); r-- > 0;)
                    if (stated[r].contains({observed[j], observed[i]})) named = m_rubric.order[r].id;
                card.orderFaults.push_back({ids[static_cast<std::size_t>(observed[j])],
                                            ids[static_cast<std::size_t>(observed[i])], named});
            }
        for (std::size_t r = 0; r < stated.size(); ++r)
            for (const auto& pair : stated[r])
                if (found.faults.contains(pair)) {
                    card.brokenRules.push_back(m_rubric.order[r].id);
                    break;
                }
    }

    double seconds() const {
        double running = 0;
        bool paused = false;
        for (std::size_t i = 0; i < m_attempt.events.size(); ++i) {
            if (i > 0 && !paused) running += m_attempt.events[i].t - m_attempt.events[i - 1].t;
            if (m_attempt.events[i].kind == EventKind::Pause) paused = true;
            if (m_attempt.events[i].kind == EventKind::Resume) paused = false;
        }
        return running;
    }

    void result(Scorecard& card, const std::vector<std::string>& missed,
                const std::vector<std::string>& unseen) const {
        const bool ended = std::ranges::any_of(
            m_attempt.events, [](const Event& event) { return event.kind == EventKind::End; });
        const bool over = m_rubric.pass.minutes && card.seconds > *m_rubric.pass.minutes * 60;
        bool fails = over && m_rubric.pass.minutesFail;
        if (card.percent < m_rubric.pass.percent - 1e-9) {
            card.reasons.push_back({Reason::Code::BelowPercent, {}, {}});
            fails = true;
        }
        for (const std::string& step : missed) {
            card.reasons.push_back({Reason::Code::MustPass, step, {}});
            fails = true;
        }
        for (const std::string& id : card.brokenRules)
            for (const OrderRule& rule : m_rubric.order)
                if (rule.id == id && rule.strict && rule.mustPass) {
                    card.reasons.push_back({Reason::Code::StrictOrder, {}, id});
                    fails = true;
                }
        if (over) card.reasons.push_back({Reason::Code::OverTime, {}, {}});
        for (const std::string& step : unseen) card.reasons.push_back({Reason::Code::Unseen, step, {}});
        if (!ended) card.reasons.push_back({Reason::Code::Unfinished, {}, {}});
        card.result = fails                       ? AttemptResult::Fail
                      : !unseen.empty() || !ended ? AttemptResult::Incomplete
                                                  : AttemptResult::Pass;
    }

    const Rubric& m_rubric;
    const Attempt& m_attempt;
};

// --- Random rubrics and attempts ----------------------------------------------------------------------

std::pair<std::optional<double>, std::optional<double>> randomBounds() {
    const double low = pick(0, 4);
    const double high = low + pick(0, 4);
    switch (pick(0, 3)) {
        case 0:
            return {low, std::nullopt};
        case 1:
            return {std::nullopt, high};
        default:
            return {low, high};
    }
}

Step randomStep(int number) {
    Step step = testing::makeStep("s" + std::to_string(number), pick(0, 4));
    if (oneIn(4)) step.show.clear();
    step.sayNeeded = step.say.empty() ? 0 : pick(1, static_cast<int>(step.say.size()) + 1);
    step.weight = pick(1, 4);
    step.mustPass = oneIn(4);
    if (oneIn(4)) step.when = {oneIn(2) ? "air" : "!air"};
    for (Point& point : step.say) {
        if (!oneIn(2)) continue;
        PointNumber& number_ = point.number.emplace();
        number_.tolerance = pick(0, 3);
        if (oneIn(2)) {
            number_.limit = "limit";
        } else {
            std::tie(number_.low, number_.high) = randomBounds();
            number_.unit = "psi";
        }
    }
    const bool bare = step.show.empty() && step.say.empty();
    if (bare || oneIn(3)) {
        ReadingRule& rule = step.reading.emplace();
        rule.quantity = "pressure";
        rule.required = bare || oneIn(2);
        if (oneIn(2)) {
            rule.limit = "limit";
        } else {
            std::tie(rule.low, rule.high) = randomBounds();
            rule.unit = "psi";
            rule.exclusive = oneIn(2);
        }
    }
    return step;
}

Rubric randomRubric() {
    const int count = pick(1, 8);
    std::vector<Zone> zones;
    for (int i = 0; i < count; ++i) {
        if (zones.empty() || oneIn(3)) {
            const std::string name = "z" + std::to_string(zones.size());
            zones.push_back({name, "Zone " + name, {}});
        }
        zones.back().steps.push_back(randomStep(i));
    }
    Rubric rubric = testing::makeRubric(zones);
    rubric.edition = pick(1, 4);
    rubric.pass.percent = pick(0, 101);
    if (oneIn(2)) rubric.pass.minutes = pick(0, 60) / 60.0;
    rubric.pass.minutesFail = oneIn(2);
    Limit limit;
    limit.id = "limit";
    std::tie(limit.low, limit.high) = randomBounds();
    limit.unit = "psi";
    limit.exclusive = oneIn(2);
    rubric.limits = {limit};

    // Acyclic because all rules follow one shuffled line of the steps, or of the zones when they use zones.
    std::vector<std::string> line;
    const bool byZones = rubric.zones.size() > 1 && oneIn(3);
    for (const Zone& zone : rubric.zones) {
        if (byZones) line.push_back("zone:" + zone.id);
        for (const Step& step : zone.steps)
            if (!byZones) line.push_back(step.id);
    }
    for (std::size_t i = line.size(); i > 1; --i) std::swap(line[i - 1], line[pick<std::size_t>(0, i)]);
    for (int r = pick(0, 5); r > 0 && line.size() > 1; --r) {
        OrderRule rule;
        rule.id = "r" + std::to_string(r);
        rule.strict = oneIn(2);
        rule.mustPass = oneIn(2);
        std::vector<std::string> chosen;
        for (const std::string& entry : line)
            if (oneIn(2)) chosen.push_back(entry);
        if (chosen.size() < 2) chosen = {line.front(), line.back()};
        if (oneIn(2)) {
            rule.chain = chosen;
        } else {
            const auto cut = chosen.begin() + pick<std::ptrdiff_t>(1, std::ssize(chosen));
            rule.first.assign(chosen.begin(), cut);
            rule.then.assign(cut, chosen.end());
        }
        rubric.order.push_back(rule);
    }
    return rubric;
}

Attempt randomAttempt(const Rubric& rubric) {
    using enum EventKind;
    Attempt attempt = testing::AttemptBuilder(rubric);
    if (oneIn(2)) attempt.header.equipment = {"air"};
    std::erase_if(attempt.header.zones, [](const std::string&) { return oneIn(6); });
    if (attempt.header.zones.empty()) attempt.header.zones = {rubric.zones.front().id};
    if (oneIn(2)) {
        LimitBounds& bounds = attempt.header.limits["limit"];
        std::tie(bounds.low, bounds.high) = randomBounds();
    }
    std::vector<const Step*> steps;
    for (const Zone& zone : rubric.zones)
        for (const Step& step : zone.steps)
            if (std::ranges::count(attempt.header.zones, zone.id) > 0 &&
                appliesTo(step, attempt.header.equipment))
                steps.push_back(&step);

    std::set<int> retracted;
    double time = pick(0, 3);
    bool paused = false;
    bool ended = false;
    const int count = pick(0, 40);
    for (int n = 1; n <= count; ++n) {
        Event event;
        event.n = n;
        event.t = time;
        event.kind = static_cast<EventKind>(pick(0, 16));
        if (static_cast<int>(event.kind) > static_cast<int>(End)) event.kind = Show;
        const bool ofClock = event.kind == Pause || event.kind == Resume || event.kind == End;
        if (ofClock && ended) event.kind = Note;
        if (event.kind == Pause && paused) event.kind = Resume;
        if (event.kind == Resume && !paused) event.kind = Pause;
        if (event.kind == End && n + 5 < count) event.kind = Say;
        if (event.kind == Retract) {
            event.retracts = pick(1, n + 1);
            const bool sound = event.retracts < n && !retracted.contains(event.retracts) && [&] {
                const EventKind of = attempt.events[static_cast<std::size_t>(event.retracts) - 1].kind;
                return of != Pause && of != Resume && of != End && of != Retract;
            }();
            if (sound) {
                retracted.insert(event.retracts);
            } else {
                event.kind = Note;
                event.retracts = 0;
            }
        }
        if (event.kind == Pause) paused = true;
        if (event.kind == Resume) paused = false;
        if (event.kind == End) ended = true;
        if (static_cast<int>(event.kind) <= static_cast<int>(Unreached)) {
            if (steps.empty()) {
                event.kind = Note;
            } else {
                const Step& step = *steps[pick<std::size_t>(0, steps.size())];
                event.step = step.id;
                if (event.kind == Say && step.say.empty()) event.kind = Partly;
                if (event.kind == Reading && !step.reading) event.kind = Show;
                if (event.kind == Say) {
                    event.point = step.say[pick<std::size_t>(0, step.say.size())].id;
                    const int form = pick(0, 3);
                    if (form == 1) event.value = pick(0, 10);
                    if (form == 2) {
                        event.low = pick(0, 5);
                        event.high = *event.low + pick(0, 5);
                    }
                    if (form > 0) event.unit = oneIn(6) ? "kPa" : "psi";
                }
                if (event.kind == Reading) {
                    event.value = pick(0, 10);
                    event.unit = "psi";
                }
            }
        }
        attempt.events.push_back(event);
        if (!ended) time += pick(0, 5);
    }
    return attempt;
}

RC_GTEST_PROP(Scorer, AgreesWithTheRulesTakenWordForWord, ()) {
    const Rubric rubric = randomRubric();
    const Scorer scorer(std::make_shared<const Rubric>(rubric));
    for (int i = 0; i < 10; ++i) {
        const Attempt attempt = randomAttempt(rubric);
        const Scorecard got = scorer.score(attempt, true);
        const Scorecard want = NaiveScorer(rubric, attempt).score();
        RC_ASSERT(got.steps == want.steps);
        RC_ASSERT(got.zones == want.zones);
        RC_ASSERT(got.displaced == want.displaced);
        RC_ASSERT(got.alwaysDisplaced == want.alwaysDisplaced);
        RC_ASSERT(got.orderFaults == want.orderFaults);
        RC_ASSERT(got.brokenRules == want.brokenRules);
        RC_ASSERT(got.reasons == want.reasons);
        RC_ASSERT(toJson(got) == toJson(want));
    }
}

RC_GTEST_PROP(Scorer, NotesAndRetractedEventsChangeNothingButTheClock, ()) {
    const Rubric rubric = randomRubric();
    const Attempt attempt = randomAttempt(rubric);
    Attempt noted = attempt;
    // At the end, so that the numbers of the other events stay.
    const double last = noted.events.empty() ? 0 : noted.events.back().t;
    Event note;
    note.n = static_cast<int>(noted.events.size()) + 1;
    note.t = last;
    noted.events.push_back(note);
    const std::string step = rubric.zones.front().steps.front().id;
    if (std::ranges::count(noted.header.zones, rubric.zones.front().id) > 0 &&
        appliesTo(rubric.zones.front().steps.front(), noted.header.equipment)) {
        Event show = note;
        show.n = note.n + 1;
        show.kind = EventKind::Show;
        show.step = step;
        noted.events.push_back(show);
        Event back = note;
        back.n = note.n + 2;
        back.kind = EventKind::Retract;
        back.retracts = show.n;
        noted.events.push_back(back);
    }
    RC_ASSERT(score(rubric, noted) == score(rubric, attempt));
}

}  // namespace
}  // namespace markerlamp::core
