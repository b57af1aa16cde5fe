// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/readiness/gates.h"

#include "core/base/moment.h"
#include "core/base/text.h"
#include "core/rubric/order_relation.h"

#include <algorithm>
#include <cassert>
#include <cstdint>
#include <optional>
#include <set>
#include <utility>

namespace markerlamp::core {

namespace {

constexpr std::size_t kMostNamed = 3;

/// What one attempt says about one thing that must be passed.
enum class Saw { OutOfScope, Nothing, Done, NotDone };

/// A must-pass step, or an order rule that is strict and must-pass.
struct MustPass {
    std::string id;
    std::string title;
    std::vector<std::pair<std::string, std::string>> pairs;  ///< of a rule: what it wants in this order

    [[nodiscard]] bool isRule() const { return !pairs.empty(); }
};

const StepScore* scoreOf(const Scorecard& card, const std::string& step) {
    const auto found = std::ranges::find(card.steps, step, &StepScore::step);
    return found == card.steps.end() ? nullptr : &*found;
}

Saw sawStep(const ScoredAttempt& attempt, const std::string& step) {
    const StepScore* score = scoreOf(attempt.card, step);
    if (score == nullptr) return Saw::OutOfScope;
    switch (score->outcome) {
        case StepOutcome::Satisfied:
            return Saw::Done;
        case StepOutcome::Unseen:
        case StepOutcome::Unreached:
            return Saw::Nothing;
        case StepOutcome::Partial:
        case StepOutcome::Wrong:
        case StepOutcome::Prompted:
        case StepOutcome::Omitted:
            break;
    }
    return Saw::NotDone;
}

/// An order can only be kept or broken where both steps of one of its pairs were done.
Saw sawRule(const ScoredAttempt& attempt, const MustPass& rule) {
    Saw what = Saw::OutOfScope;
    for (const auto& [first, then] : rule.pairs) {
        const StepScore* one = scoreOf(attempt.card, first);
        const StepScore* other = scoreOf(attempt.card, then);
        if (one == nullptr || other == nullptr) continue;
        if (what == Saw::OutOfScope) what = Saw::Nothing;
        if (one->position > 0 && other->position > 0) what = Saw::Done;
    }
    const auto& broken = attempt.card.brokenRules;
    return what == Saw::Done && std::ranges::find(broken, rule.id) != broken.end() ? Saw::NotDone : what;
}

Saw saw(const ScoredAttempt& attempt, const MustPass& item) {
    return item.isRule() ? sawRule(attempt, item) : sawStep(attempt, item.id);
}

/// Appends the rules that are strict and must-pass and that this bus can break.
void addRules(std::vector<MustPass>& items, const Rubric& rubric, const std::vector<std::string>& equipment) {
    const auto asked = [](const OrderRule& rule) { return rule.strict && rule.mustPass; };
    if (std::ranges::none_of(rubric.order, asked)) return;
    std::vector<const Step*> steps;
    for (const Zone& zone : rubric.zones)
        for (const Step& step : zone.steps) steps.push_back(&step);
    const OrderRelation relation(rubric);
    for (std::size_t r = 0; r < rubric.order.size(); ++r) {
        if (!asked(rubric.order[r])) continue;
        MustPass item{rubric.order[r].id, "the order of " + rubric.order[r].id, {}};
        for (const auto& [a, b] : relation.statedPairs(static_cast<int>(r))) {
            const Step& first = *steps[static_cast<std::size_t>(a)];
            const Step& then = *steps[static_cast<std::size_t>(b)];
            if (appliesTo(first, equipment) && appliesTo(then, equipment))
                item.pairs.emplace_back(first.id, then.id);
        }
        if (item.isRule()) items.push_back(std::move(item));
    }
}

std::vector<MustPass> mustPassOf(const Rubric& rubric, const std::vector<std::string>& equipment) {
    std::vector<MustPass> items;
    for (const Zone& zone : rubric.zones)
        for (const Step& step : zone.steps)
            if (step.mustPass && appliesTo(step, equipment)) items.push_back({step.id, step.title, {}});
    addRules(items, rubric, equipment);
    return items;
}

/// How the last attempts stand with one item.
struct Standing {
    GateState state = GateState::Unknown;
    int done = 0;
    std::vector<const ScoredAttempt*> attempts;  ///< that had it in scope, newest first
};

/// Over the last `window` attempts with the item in scope: met when it was done in all of them; not met when
/// it was seen and not done, or not done often enough yet; unknown when one of them did not show it.
Standing standingOf(const MustPass& item, const std::vector<const ScoredAttempt*>& newestFirst,
                    std::size_t window) {
    Standing standing;
    bool missed = false;
    bool unseen = false;
    for (const ScoredAttempt* attempt : newestFirst) {
        if (standing.attempts.size() == window) break;
        const Saw what = saw(*attempt, item);
        if (what == Saw::OutOfScope) continue;
        standing.attempts.push_back(attempt);
        missed |= what == Saw::NotDone;
        unseen |= what == Saw::Nothing;
        if (what == Saw::Done) ++standing.done;
    }
    if (missed)
        standing.state = GateState::NotMet;
    else if (unseen || standing.attempts.empty())
        standing.state = GateState::Unknown;
    else
        standing.state = standing.attempts.size() == window ? GateState::Met : GateState::NotMet;
    return standing;
}

std::string lastAttempts(int window) {
    return window == 1 ? "the last attempt" : "the last " + std::to_string(window) + " attempts";
}

/// Attempts with the newest one's rubric, any edition, newest first.
std::vector<const ScoredAttempt*> ofNewestRubric(const std::vector<ScoredAttempt>& attempts) {
    std::vector<const ScoredAttempt*> list;
    for (auto attempt = attempts.rbegin(); attempt != attempts.rend(); ++attempt)
        if (attempt->card.rubric == attempts.back().card.rubric) list.push_back(&*attempt);
    return list;
}

/// What the items that are not met, or the unknown ones, come to in words.
void tellOpenItems(Gate& gate, const std::vector<std::pair<const MustPass*, Standing>>& standings,
                   int window) {
    std::vector<std::string> named;
    std::vector<std::string> titles;
    for (const auto& [item, standing] : standings) {
        if (standing.state != gate.state) continue;
        gate.steps.push_back(item->id);
        titles.push_back(item->title);
        named.push_back(item->title + " (" + std::to_string(standing.done) + " of " + std::to_string(window) +
                        ")");
    }
    const std::string each = (window == 1 ? " in " : " in each of ") + lastAttempts(window) + ": ";
    gate.why = gate.state == GateState::NotMet
                   ? "Not by oneself" + each + listedAtMost(window == 1 ? titles : named, kMostNamed)
                   : "Not seen" + each + listedAtMost(titles, kMostNamed);
    gate.opens = listedAtMost(titles, kMostNamed) + " by oneself" +
                 (window == 1 ? "" : " in " + std::to_string(window) + " attempts in a row");
}

Gate mustPassGate(const std::vector<ScoredAttempt>& attempts, int window) {
    Gate gate;
    gate.id = "must-pass";
    if (attempts.empty()) {
        gate.why = "No attempt yet shows the steps that must be passed";
        gate.opens = counted(window, "attempt") + " with every must-pass step by oneself";
        return gate;
    }
    const ScoredAttempt& newest = attempts.back();
    const auto items = mustPassOf(*newest.rubric, newest.attempt.header.equipment);
    const auto newestFirst = ofNewestRubric(attempts);
    std::vector<std::pair<const MustPass*, Standing>> standings;
    std::set<const ScoredAttempt*> used;
    gate.state = GateState::Met;
    for (const MustPass& item : items) {
        Standing standing = standingOf(item, newestFirst, static_cast<std::size_t>(window));
        if (standing.state == GateState::NotMet ||
            (standing.state == GateState::Unknown && gate.state == GateState::Met))
            gate.state = standing.state;
        used.insert(standing.attempts.begin(), standing.attempts.end());
        standings.emplace_back(&item, std::move(standing));
    }
    for (const ScoredAttempt* attempt : newestFirst)
        if (used.contains(attempt)) gate.attempts.push_back(attempt->card.attempt);
    if (items.empty())
        gate.why = "The rubric has no step or order that must be passed";
    else if (gate.state == GateState::Met)
        gate.why = (items.size() == 1 ? "The one must-pass item (" + items.front().title + ") was"
                                      : "All " + std::to_string(items.size()) + " must-pass items were") +
                   " done by oneself in " + lastAttempts(window);
    else
        tellOpenItems(gate, standings, window);
    return gate;
}

/// Over all zones, and not stopped before the trainee came to the end.
bool isFullLength(const ScoredAttempt& attempt) {
    return isWhole(attempt) && isEnded(attempt.attempt) &&
           std::ranges::none_of(attempt.card.steps,
                                [](const StepScore& step) { return step.outcome == StepOutcome::Unreached; });
}

std::string daysAgo(std::int64_t days) {
    return days <= 0 ? "today" : counted(static_cast<int>(days), "day") + " ago";
}

Gate fullAttemptGate(const std::vector<ScoredAttempt>& attempts, std::int64_t today, int mostDays) {
    Gate gate;
    gate.id = "full-attempt";
    gate.state = GateState::NotMet;
    const std::string asked = "at most " + counted(mostDays, "day") + " ago";
    gate.opens = "a full-length attempt";
    const auto last = std::find_if(attempts.rbegin(), attempts.rend(), isFullLength);
    if (last == attempts.rend()) {
        gate.why = attempts.empty() ? "No attempt yet" : "No full-length attempt yet";
        return gate;
    }
    const std::string date(localDateOf(last->attempt.header.started));
    const auto day = dayCountOf(date);
    if (!day) {
        gate.state = GateState::Unknown;
        gate.why = "The last full-length attempt has no date";
        return gate;
    }
    gate.attempts = {last->card.attempt};
    gate.why = "The last full-length attempt was on " + date + ", " + daysAgo(today - *day);
    if (today - *day <= mostDays) {
        gate.state = GateState::Met;
        gate.opens.clear();
    } else {
        gate.why += "; it should be " + asked;
    }
    return gate;
}

/// "in 1 day", "today".
std::string inDays(std::int64_t days) {
    return days <= 0 ? "today" : "in " + counted(static_cast<int>(days), "day");
}

Gate permitHeldGate(const Trainee& trainee, std::int64_t today, const ReadinessSettings& settings) {
    Gate gate;
    gate.id = "permit-held";
    const auto issued = dayCountOf(trainee.permitIssued);
    if (!issued) {
        gate.why = "No issue date of the permit is on file";
        gate.opens = "the permit's issue date on file";
        return gate;
    }
    const bool strict = settings.permitDayRule == PermitDayRule::IssuePlusDaysAndOne;
    const std::int64_t earliest = *issued + settings.permitDays + (strict ? 1 : 0);
    const std::string date = dateOfDayCount(earliest);
    gate.state = today >= earliest ? GateState::Met : GateState::NotMet;
    gate.why = "Permit issued on " + trainee.permitIssued + ": by the " + (strict ? "stricter" : "looser") +
               " reading of the " + std::to_string(settings.permitDays) +
               "-day rule a test may be taken from " + date;
    if (gate.state == GateState::Met) return gate;
    gate.why += ", " + inDays(earliest - today);
    gate.opens = "to wait until " + date + ", when the permit has been held long enough";
    return gate;
}

Gate permitRunsGate(const Trainee& trainee, std::int64_t today, int leastDays) {
    Gate gate;
    gate.id = "permit-runs";
    const auto expires = dayCountOf(trainee.permitExpires);
    if (!expires) {
        gate.why = "No expiry date of the permit is on file";
        gate.opens = "the permit's expiry date on file";
        return gate;
    }
    const std::int64_t left = *expires - today;
    gate.state = left >= leastDays ? GateState::Met : GateState::NotMet;
    gate.why = left < 0 ? "The permit ran out on " + trainee.permitExpires + ", " + daysAgo(-left)
                        : "The permit runs out on " + trainee.permitExpires + ", " + inDays(left);
    if (gate.state == GateState::Met) return gate;
    if (left >= 0) gate.why += "; at least " + counted(leastDays, "day") + " should be left";
    gate.opens = "a renewed permit";
    return gate;
}

Gate medicalGate(const Trainee& trainee, std::int64_t today) {
    Gate gate;
    gate.id = "medical";
    const auto expires = dayCountOf(trainee.medicalExpires);
    if (!expires) {
        gate.why = "No medical certificate is on file";
        gate.opens = "the medical certificate's expiry date on file";
        return gate;
    }
    const std::int64_t left = *expires - today;
    gate.state = left >= 0 ? GateState::Met : GateState::NotMet;
    gate.why = left < 0
                   ? "The medical certificate ran out on " + trainee.medicalExpires + ", " + daysAgo(-left)
                   : "The medical certificate runs out on " + trainee.medicalExpires + ", " + inDays(left);
    if (gate.state == GateState::NotMet) gate.opens = "a medical certificate that is in date";
    return gate;
}

Gate theoryGate(const Trainee& trainee, double leastPercent) {
    Gate gate;
    gate.id = "theory";
    const std::string asked = "at least " + shortestText(leastPercent) + " %";
    if (!trainee.theoryPercent) {
        gate.why = "No theory result is on file";
        gate.opens = "a theory result of " + asked + " on file";
        return gate;
    }
    gate.state = *trainee.theoryPercent >= leastPercent ? GateState::Met : GateState::NotMet;
    gate.why = "Theory result " + shortestText(*trainee.theoryPercent) + " %" +
               (trainee.theoryDate.empty() ? "" : " of " + trainee.theoryDate);
    if (gate.state == GateState::Met) return gate;
    gate.why += "; " + asked + " is asked for";
    gate.opens = "a theory result of " + asked;
    return gate;
}

}  // namespace

std::string_view toWord(GateState state) {
    switch (state) {
        case GateState::Met:
            return "met";
        case GateState::NotMet:
            return "not met";
        case GateState::Unknown:
            break;
    }
    return "unknown";
}

std::vector<Gate> gates(const Trainee& trainee, const std::vector<ScoredAttempt>& attempts,
                        const std::string& today, const ReadinessSettings& settings) {
    const auto day = dayCountOf(today);
    assert(day.has_value());
    std::vector<Gate> list;
    if (settings.askMustPass) list.push_back(mustPassGate(attempts, settings.mustPassAttempts));
    if (!day) return list;
    if (settings.askFullAttempt) list.push_back(fullAttemptGate(attempts, *day, settings.fullAttemptDays));
    if (settings.askPermit) {
        list.push_back(permitHeldGate(trainee, *day, settings));
        list.push_back(permitRunsGate(trainee, *day, settings.permitLeftDays));
    }
    if (settings.askMedical) list.push_back(medicalGate(trainee, *day));
    if (settings.askTheory) list.push_back(theoryGate(trainee, settings.theoryPercent));
    return list;
}

}  // namespace markerlamp::core
