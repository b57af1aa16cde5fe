// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/scoring/edition_trial.h"

#include "core/attempt/marks.h"
#include "core/rubric/rubric_edit.h"

#include <algorithm>
#include <set>

namespace markerlamp::core {

int EditionEffect::changed() const {
    return static_cast<int>(std::ranges::count_if(results, &TrialResult::resultChanges));
}

int EditionEffect::noLongerPass() const {
    return static_cast<int>(std::ranges::count_if(results, [](const TrialResult& one) {
        return one.before == AttemptResult::Pass && one.after != AttemptResult::Pass;
    }));
}

int EditionEffect::nowPass() const {
    return static_cast<int>(std::ranges::count_if(results, [](const TrialResult& one) {
        return one.before != AttemptResult::Pass && one.after == AttemptResult::Pass;
    }));
}

int EditionEffect::withEventsLeftOut() const {
    return static_cast<int>(
        std::ranges::count_if(results, [](const TrialResult& one) { return one.eventsLeftOut > 0; }));
}

EditionEffect::Change EditionEffect::change() const {
    Change change;
    for (bool first = true; const TrialResult& one : results) {
        const double by = one.percentAfter - one.percentBefore;
        change.mean += by / static_cast<double>(results.size());
        change.least = first ? by : std::min(change.least, by);
        change.most = first ? by : std::max(change.most, by);
        first = false;
    }
    return change;
}

struct EditionTrial::Prepared {
    std::shared_ptr<const Rubric> rubric;
    Scorer scorer;
};

EditionTrial::EditionTrial(std::shared_ptr<const Rubric> draft, NewThings newThings)
    : m_draft(std::move(draft)), m_newThings(newThings) {}
EditionTrial::~EditionTrial() = default;
EditionTrial::EditionTrial(EditionTrial&&) noexcept = default;
EditionTrial& EditionTrial::operator=(EditionTrial&&) noexcept = default;

namespace {

void leaveNewPointsOut(Step& step, const Step& own) {
    std::erase_if(step.say, [&own](const Point& point) {
        return std::ranges::find(own.say, point.id, &Point::id) == own.say.end();
    });
    step.sayNeeded = std::min(step.sayNeeded, static_cast<int>(step.say.size()));
}

bool coversAllZones(const Rubric& rubric, const std::vector<std::string>& zones) {
    return std::ranges::all_of(
        rubric.zones, [&](const Zone& zone) { return std::ranges::find(zones, zone.id) != zones.end(); });
}

}  // namespace

Rubric EditionTrial::asked(const Rubric& own, const AttemptHeader& header) const {
    std::set<std::string_view> inScope;
    for (const Step* step : stepsInScope(own, header)) inScope.insert(step->id);
    const bool whole = coversAllZones(own, header.zones);
    Rubric cut = *m_draft;
    std::vector<std::string> unasked;
    for (Zone& zone : cut.zones) {
        const bool zoneAsked = whole || std::ranges::find(header.zones, zone.id) != header.zones.end();
        for (Step& step : zone.steps) {
            const Step* before = own.step(step.id);
            const bool isNew = before == nullptr;
            const bool takesPart =
                isNew ? m_newThings == NewThings::CountAsOmitted && zoneAsked : inScope.contains(step.id);
            if (!takesPart)
                unasked.push_back(step.id);
            else if (!isNew && m_newThings == NewThings::TakeNoPart)
                leaveNewPointsOut(step, *before);
        }
    }
    for (const std::string& step : unasked) retireStep(cut, step);
    std::vector<std::string> empty;
    for (const Zone& zone : cut.zones)
        if (zone.steps.empty()) empty.push_back(zone.id);
    for (const std::string& zone : empty) retireZone(cut, zone);
    return cut;
}

Attempt EditionTrial::fitted(const Attempt& attempt, const Rubric& asked, int* leftOut) {
    Attempt fitted = attempt;
    AttemptHeader& header = fitted.header;
    header.edition = asked.edition;
    header.zones.clear();
    for (const Zone& zone : asked.zones) header.zones.push_back(zone.id);
    std::erase_if(header.equipment, [&asked](const std::string& tag) {
        return std::ranges::find(asked.equipment, tag, &std::pair<std::string, std::string>::first) ==
               asked.equipment.end();
    });
    std::erase_if(header.limits, [&asked](const auto& own) { return asked.limit(own.first) == nullptr; });

    std::map<std::string_view, const Step*> inScope;
    for (const Step* step : stepsInScope(asked, header)) inScope.emplace(step->id, step);
    const auto fits = [&](const Event& event) {
        const auto step = inScope.find(event.step);
        if (step == inScope.end()) return false;
        if (!event.point.empty() &&
            std::ranges::find(step->second->say, event.point, &Point::id) == step->second->say.end())
            return false;
        if (event.kind != EventKind::Reading) return true;
        const auto limit = readingLimit(asked, header, *step->second);
        return !limit || limit->unit == event.unit;
    };
    int count = 0;
    for (Event& event : fitted.events) {
        if (event.step.empty() || fits(event)) continue;
        // A note in its place keeps numbers, times and what takes it back as they are.
        if (event.kind != EventKind::Note) ++count;
        Event note;
        note.n = event.n;
        note.t = event.t;
        note.text = event.kind == EventKind::Note ? event.text : "left out of the trial";
        note.by = event.by;
        note.at = event.at;
        event = std::move(note);
    }
    if (leftOut != nullptr) *leftOut = count;
    return fitted;
}

TrialResult EditionTrial::judge(const Rubric& own, const Attempt& attempt, const Scorecard& card) {
    const AttemptHeader& header = attempt.header;
    Key key{own.edition, header.zones, header.equipment};
    auto prepared = m_prepared.find(key);
    if (prepared == m_prepared.end()) {
        auto rubric = std::make_shared<const Rubric>(asked(own, header));
        prepared = m_prepared.emplace(std::move(key), Prepared{rubric, Scorer(rubric)}).first;
    }
    TrialResult result;
    result.attempt = header.id;
    result.trainee = header.trainee;
    result.started = header.started;
    result.edition = own.edition;
    result.before = card.result;
    result.percentBefore = card.percent;
    const Scorecard trial =
        prepared->second.scorer.score(fitted(attempt, *prepared->second.rubric, &result.eventsLeftOut));
    result.after = trial.result;
    result.percentAfter = trial.percent;
    return result;
}

}  // namespace markerlamp::core
