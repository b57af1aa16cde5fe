// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/attempt/marks.h"

#include <algorithm>
#include <unordered_map>

namespace markerlamp::core {

namespace {

bool engages(EventKind kind) {
    switch (kind) {
        case EventKind::Show:
        case EventKind::Say:
        case EventKind::Partly:
        case EventKind::Wrong:
        case EventKind::Reading:
        case EventKind::Fault:
            return true;
        default:
            return false;
    }
}

/// Marks while they are folded, with what is needed only meanwhile.
struct Folding {
    const Step* step = nullptr;
    const Event* firstShow = nullptr;
    const Event* firstEngaging = nullptr;
    EventKind lastGap = EventKind::Note;  ///< last omit, unseen or unreached
};

void foldEvent(const Event& event, StepMarks& marks, Folding& folding) {
    const auto pointIndex = [&]() -> std::ptrdiff_t {
        const auto& say = folding.step->say;
        return std::ranges::find(say, event.point, &Point::id) - say.begin();
    };
    const auto known = [&](std::ptrdiff_t index) { return index < std::ssize(marks.points); };
    switch (event.kind) {
        case EventKind::Show:
            marks.shown = true;
            break;
        case EventKind::Say:
            if (const auto i = pointIndex(); known(i))
                marks.points[static_cast<std::size_t>(i)] = PointMark::Said;
            break;
        case EventKind::Partly:
            marks.partly = true;
            break;
        case EventKind::Wrong:
            if (event.point.empty())
                marks.wrong = true;
            else if (const auto i = pointIndex(); known(i))
                marks.points[static_cast<std::size_t>(i)] = PointMark::Wrong;
            break;
        case EventKind::Prompt:
            ++marks.prompts;
            break;
        case EventKind::Reading:
            marks.reading = event.value;
            marks.readingUnit = event.unit;
            break;
        case EventKind::Fault:
            marks.fault = true;
            break;
        case EventKind::Omit:
        case EventKind::Unseen:
        case EventKind::Unreached:
            folding.lastGap = event.kind;
            break;
        case EventKind::Note:
            marks.notes.push_back(event.text);
            break;
        default:
            break;
    }
    if (engages(event.kind)) {
        if (folding.firstEngaging == nullptr) folding.firstEngaging = &event;
        if (event.kind == EventKind::Show && folding.firstShow == nullptr) folding.firstShow = &event;
    }
}

}  // namespace

std::vector<bool> standingEvents(const Attempt& attempt) {
    std::vector<bool> standing(attempt.events.size(), true);
    for (const Event& event : attempt.events) {
        if (event.kind != EventKind::Retract) continue;
        const auto index = static_cast<std::size_t>(event.retracts) - 1;
        if (event.retracts > 0 && index < standing.size()) standing[index] = false;
    }
    return standing;
}

std::vector<const Step*> stepsInScope(const Rubric& rubric, const AttemptHeader& header) {
    std::vector<const Step*> steps;
    for (const Zone& zone : rubric.zones) {
        if (std::ranges::find(header.zones, zone.id) == header.zones.end()) continue;
        for (const Step& step : zone.steps)
            if (appliesTo(step, header.equipment)) steps.push_back(&step);
    }
    return steps;
}

std::vector<StepMarks> foldMarks(const Rubric& rubric, const Attempt& attempt) {
    std::vector<StepMarks> all;
    std::vector<Folding> folding;
    std::unordered_map<std::string_view, std::size_t> indexOf;
    for (const Zone& zone : rubric.zones) {
        if (std::ranges::find(attempt.header.zones, zone.id) == attempt.header.zones.end()) continue;
        for (const Step& step : zone.steps) {
            if (!appliesTo(step, attempt.header.equipment)) continue;
            StepMarks marks;
            marks.step = step.id;
            marks.zone = zone.id;
            marks.hasShow = !step.show.empty();
            marks.points.assign(step.say.size(), PointMark::Open);
            indexOf.emplace(step.id, all.size());
            all.push_back(std::move(marks));
            folding.push_back({&step, nullptr, nullptr, EventKind::Note});
        }
    }

    const std::vector<bool> standing = standingEvents(attempt);
    bool ended = false;
    for (std::size_t i = 0; i < attempt.events.size(); ++i) {
        const Event& event = attempt.events[i];
        if (event.kind == EventKind::End) ended = true;
        // An amendment shows as one even when it only takes something back.
        const Event* touched = &event;
        if (event.kind == EventKind::Retract && event.retracts > 0 &&
            static_cast<std::size_t>(event.retracts) <= attempt.events.size())
            touched = &attempt.events[static_cast<std::size_t>(event.retracts) - 1];
        const auto found = indexOf.find(touched->step);
        if (touched->step.empty() || found == indexOf.end()) continue;
        if (ended) all[found->second].amended = true;
        if (standing[i] && event.kind != EventKind::Retract)
            foldEvent(event, all[found->second], folding[found->second]);
    }

    for (std::size_t i = 0; i < all.size(); ++i) {
        StepMarks& marks = all[i];
        const Event* first =
            folding[i].firstShow != nullptr ? folding[i].firstShow : folding[i].firstEngaging;
        if (first != nullptr) {
            marks.position = first->n;
            marks.firstSeconds = first->t;
            continue;
        }
        marks.omitted = folding[i].lastGap == EventKind::Omit;
        marks.unseen = folding[i].lastGap == EventKind::Unseen && marks.prompts == 0;
        marks.unreached = folding[i].lastGap == EventKind::Unreached && marks.prompts == 0;
    }
    return all;
}

namespace {

Limit overridden(Limit limit, const AttemptHeader& header) {
    if (const auto own = header.limits.find(limit.id); own != header.limits.end()) {
        limit.low = own->second.low;
        limit.high = own->second.high;
    }
    return limit;
}

}  // namespace

std::optional<Limit> readingLimit(const Rubric& rubric, const AttemptHeader& header, const Step& step) {
    if (!step.reading) return std::nullopt;
    const ReadingRule& rule = *step.reading;
    if (!rule.limit.empty()) {
        const Limit* limit = rubric.limit(rule.limit);
        if (limit == nullptr) return std::nullopt;
        return overridden(*limit, header);
    }
    return Limit{{}, rule.low, rule.high, rule.unit, rule.exclusive, rule.source};
}

std::optional<Limit> pointLimit(const Rubric& rubric, const AttemptHeader& header,
                                const PointNumber& number) {
    if (!number.limit.empty()) {
        const Limit* limit = rubric.limit(number.limit);
        if (limit == nullptr) return std::nullopt;
        return overridden(*limit, header);
    }
    return Limit{{}, number.low, number.high, number.unit, false, {}};
}

double pausedSeconds(const Attempt& attempt) {
    double pauses = 0;
    bool paused = false;
    double since = 0;
    for (const Event& event : attempt.events) {
        if (event.kind == EventKind::Pause && !paused) {
            paused = true;
            since = event.t;
        } else if (event.kind == EventKind::Resume && paused) {
            paused = false;
            pauses += event.t - since;
        }
    }
    return paused ? pauses + attempt.events.back().t - since : pauses;
}

double runningSeconds(const Attempt& attempt) {
    return attempt.events.empty() ? 0 : attempt.events.back().t - pausedSeconds(attempt);
}

}  // namespace markerlamp::core
