// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/agreement/shared_attempts.h"

#include "core/agreement/attempt_code.h"

#include <algorithm>
#include <map>
#include <numeric>
#include <set>
#include <unordered_map>

namespace markerlamp::core {

namespace {

constexpr int kFewestToResampleAttempts = 8;

bool observed(StepOutcome outcome) {
    return outcome != StepOutcome::Unseen && outcome != StepOutcome::Unreached;
}

/// The class that a scoring gives to a step; kNotRated where the step has nothing of the kind.
int classOf(const StepScore& score, const Step& step, Compared compared) {
    if (!observed(score.outcome)) return kNotRated;
    switch (compared) {
        case Compared::Shown:
            return step.show.empty() ? kNotRated : int{score.shown};
        case Compared::Said:
            if (step.say.empty()) return kNotRated;
            return score.said >= score.needed ? 2 : score.said > 0 ? 1 : 0;
        case Compared::SaidInFull:
            return step.say.empty() ? kNotRated : int{score.said >= score.needed};
        case Compared::Credited:
            break;
    }
    return int{score.outcome == StepOutcome::Satisfied};
}

int ratedCount(const std::vector<int>& unit) {
    return static_cast<int>(unit.size() - static_cast<std::size_t>(std::ranges::count(unit, kNotRated)));
}

bool differ(const std::vector<int>& unit) {
    int first = kNotRated;
    for (const int code : unit) {
        if (code == kNotRated) continue;
        if (first != kNotRated && code != first) return true;
        first = code;
    }
    return false;
}

/// Without the units that fewer than two scored.
ComparedSteps ratedTwice(ComparedSteps all) {
    ComparedSteps kept{{all.table.classes, all.table.raters, {}}, {}, {}};
    for (std::size_t i = 0; i < all.table.units.size(); ++i) {
        if (ratedCount(all.table.units[i]) < 2) continue;
        kept.table.units.push_back(std::move(all.table.units[i]));
        kept.attempt.push_back(all.attempt[i]);
        kept.steps.push_back(std::move(all.steps[i]));
    }
    return kept;
}

}  // namespace

std::string_view toWord(Compared compared) {
    switch (compared) {
        case Compared::Shown:
            return "shown";
        case Compared::Said:
            return "said";
        case Compared::SaidInFull:
            return "said-in-full";
        case Compared::Credited:
            break;
    }
    return "credited";
}

std::vector<SharedAttempt> sharedAttempts(std::vector<ScoredAttempt> attempts) {
    std::ranges::sort(attempts, {}, [](const ScoredAttempt& a) { return a.attempt.header.id; });
    std::map<std::string, std::vector<std::size_t>> seconds;  // by the first's id
    std::unordered_map<std::string, std::size_t> byId;
    const auto asOne = [](const AttemptHeader& h) {
        return FirstScorings::One{h.id, h.trainee, h.rubric, h.edition};
    };
    FirstScorings firsts;
    for (std::size_t i = 0; i < attempts.size(); ++i) {
        if (!isEnded(attempts[i].attempt)) continue;
        byId.emplace(attempts[i].attempt.header.id, i);
        if (attempts[i].attempt.header.of.empty()) firsts.add(asOne(attempts[i].attempt.header));
    }
    for (std::size_t i = 0; i < attempts.size(); ++i) {
        const AttemptHeader& header = attempts[i].attempt.header;
        if (header.of.empty() || !byId.contains(header.id)) continue;
        if (const std::string first = firsts.idOf(header.of, asOne(header)); !first.empty())
            seconds[first].push_back(i);
    }
    std::vector<SharedAttempt> shared;
    for (const auto& [firstId, others] : seconds) {
        const auto first = byId.find(firstId);
        if (first == byId.end()) continue;
        const Scorecard& card = attempts[first->second].card;
        SharedAttempt one;
        one.scorings.push_back(attempts[first->second]);
        for (const std::size_t other : others)
            if (attempts[other].card.rubric == card.rubric && attempts[other].card.edition == card.edition)
                one.scorings.push_back(attempts[other]);
        if (one.scorings.size() > 1) shared.push_back(std::move(one));
    }
    return shared;
}

std::vector<SharedAttempt> pairsOf(const std::vector<SharedAttempt>& attempts) {
    std::vector<SharedAttempt> pairs;
    for (const SharedAttempt& attempt : attempts)
        for (std::size_t i = 1; i < attempt.scorings.size(); ++i)
            pairs.push_back({{attempt.scorings.front(), attempt.scorings[i]}});
    return pairs;
}

std::map<std::string, int> sharedByInstructor(const std::vector<SharedAttempt>& attempts) {
    std::map<std::string, int> shared;
    for (const SharedAttempt& attempt : attempts) {
        std::set<std::string> here;
        for (const ScoredAttempt& scoring : attempt.scorings) here.insert(scoring.attempt.header.instructor);
        for (const std::string& one : here) ++shared[one];
    }
    return shared;
}

ComparedSteps comparedSteps(const std::vector<SharedAttempt>& attempts, Compared compared) {
    std::size_t raters = 2;
    for (const SharedAttempt& attempt : attempts) raters = std::max(raters, attempt.scorings.size());
    ComparedSteps all{{compared == Compared::Said ? 3 : 2, static_cast<int>(raters), {}}, {}, {}};
    for (std::size_t a = 0; a < attempts.size(); ++a) {
        const auto& scorings = attempts[a].scorings;
        std::unordered_map<std::string_view, std::size_t> unitOf;
        const std::size_t begin = all.table.units.size();
        for (const Zone& zone : scorings.front().rubric->zones)
            for (const Step& step : zone.steps) {
                unitOf.emplace(step.id, all.table.units.size());
                all.table.units.emplace_back(raters, kNotRated);
                all.attempt.push_back(static_cast<int>(a));
                all.steps.push_back(step.id);
            }
        std::vector<const Step*> steps;
        for (const Zone& zone : scorings.front().rubric->zones)
            for (const Step& step : zone.steps) steps.push_back(&step);
        for (std::size_t rater = 0; rater < scorings.size(); ++rater)
            for (const StepScore& score : scorings[rater].card.steps)
                if (const auto unit = unitOf.find(score.step); unit != unitOf.end())
                    all.table.units[unit->second][rater] =
                        classOf(score, *steps[unit->second - begin], compared);
    }
    return ratedTwice(std::move(all));
}

Agreement agreementOf(const std::vector<SharedAttempt>& attempts, Compared compared) {
    const ComparedSteps steps = comparedSteps(attempts, compared);
    const RatingTable& table = steps.table;
    Agreement agreement;
    agreement.compared = compared;
    agreement.attempts = static_cast<int>(attempts.size());
    agreement.steps = static_cast<int>(table.units.size());
    agreement.share = shareAgreed(table);
    agreement.kappa =
        cohenKappa(table, compared == Compared::Said ? KappaWeights::Linear : KappaWeights::Plain);
    const AlphaScale scale = compared == Compared::Said ? AlphaScale::Ordinal : AlphaScale::Nominal;
    const auto alpha = [scale](const RatingTable& t) { return krippendorffAlpha(t, scale); };
    agreement.alpha = alpha(table);
    agreement.ac1 = gwetAc1(table);
    if (table.raters == 2) {
        agreement.counts.assign(static_cast<std::size_t>(table.classes),
                                std::vector<int>(static_cast<std::size_t>(table.classes), 0));
        for (const auto& unit : table.units)
            ++agreement.counts[static_cast<std::size_t>(unit[0])][static_cast<std::size_t>(unit[1])];
        if (table.classes == 2) {
            agreement.agreedYes = agreementOn(table, 1);
            agreement.agreedNo = agreementOn(table, 0);
        }
    }
    agreement.byAttempt = agreement.attempts >= kFewestToResampleAttempts;
    std::vector<int> group = steps.attempt;
    if (!agreement.byAttempt) std::iota(group.begin(), group.end(), 0);
    agreement.interval = resampledInterval(table, group, shareAgreed);
    agreement.alphaInterval = resampledInterval(table, group, alpha);
    return agreement;
}

std::vector<DisputedStep> disputedSteps(const std::vector<SharedAttempt>& attempts) {
    std::map<std::pair<std::string, std::string>, DisputedStep> byStep;
    const ComparedSteps steps = comparedSteps(attempts, Compared::Credited);
    for (std::size_t i = 0; i < steps.steps.size(); ++i) {
        const Rubric& rubric = *attempts[static_cast<std::size_t>(steps.attempt[i])].scorings.front().rubric;
        DisputedStep& row = byStep[{rubric.id, steps.steps[i]}];
        if (row.compared++ == 0) {
            row.rubric = rubric.id;
            row.step = steps.steps[i];
            row.title = rubric.step(row.step)->title;
            row.zone = rubric.zoneOfStep(row.step)->title;
        }
        if (differ(steps.table.units[i])) ++row.differing;
    }
    std::vector<DisputedStep> rows;
    for (auto& [key, row] : byStep)
        if (row.differing > 0) rows.push_back(std::move(row));
    std::ranges::stable_sort(rows, [](const DisputedStep& a, const DisputedStep& b) {
        if (a.differing != b.differing) return a.differing > b.differing;
        return a.compared < b.compared;
    });
    return rows;
}

std::vector<PairOfInstructors> pairsOfInstructors(const std::vector<SharedAttempt>& attempts) {
    std::map<std::pair<std::string, std::string>, PairOfInstructors> pairs;
    for (const SharedAttempt& attempt : attempts)
        for (std::size_t i = 0; i < attempt.scorings.size(); ++i)
            for (std::size_t j = i + 1; j < attempt.scorings.size(); ++j) {
                std::size_t a = i, b = j;
                const auto who = [&](std::size_t k) { return attempt.scorings[k].attempt.header.instructor; };
                if (who(a) == who(b)) continue;
                if (who(b) < who(a)) std::swap(a, b);
                PairOfInstructors& pair = pairs[{who(a), who(b)}];
                pair.a = who(a);
                pair.b = who(b);
                ++pair.attempts;
                const ComparedSteps steps = comparedSteps(
                    {SharedAttempt{{attempt.scorings[a], attempt.scorings[b]}}}, Compared::Credited);
                for (const auto& unit : steps.table.units) {
                    ++pair.steps;
                    if (unit[0] == unit[1]) continue;
                    ++pair.differing;
                    if (unit[0] == 1) ++pair.onlyA;
                }
            }
    std::vector<PairOfInstructors> rows;
    for (auto& [key, pair] : pairs) {
        pair.share = wilson(pair.steps - pair.differing, pair.steps, 0.95);
        rows.push_back(std::move(pair));
    }
    return rows;
}

}  // namespace markerlamp::core
