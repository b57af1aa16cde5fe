// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/agreement/scoring_pair.h"

#include "core/attempt/attempt_document.h"

#include <algorithm>
#include <unordered_map>

namespace markerlamp::core {

namespace {

struct Scoring {
    std::unordered_map<std::string, StepMarks> marks;
    std::unordered_map<std::string, const StepScore*> scores;
};

Scoring scoringOf(const ScoredAttempt& scored) {
    Scoring scoring;
    for (StepMarks& marks : foldMarks(*scored.rubric, scored.attempt)) {
        const std::string step = marks.step;
        scoring.marks.emplace(step, std::move(marks));
    }
    for (const StepScore& score : scored.card.steps) scoring.scores.emplace(score.step, &score);
    return scoring;
}

double medianOf(std::vector<double> values) {
    if (values.empty()) return 0;
    std::ranges::sort(values);
    const std::size_t half = values.size() / 2;
    return values.size() % 2 == 1 ? values[half] : (values[half - 1] + values[half]) / 2;
}

bool alike(const StepScore& a, const StepScore& b) {
    const auto unseen = [](const StepScore& s) {
        return s.outcome == StepOutcome::Unseen || s.outcome == StepOutcome::Unreached;
    };
    if (unseen(a) || unseen(b)) return unseen(a) && unseen(b);
    return a.outcome == b.outcome && a.shown == b.shown && a.missedPoints == b.missedPoints;
}

/// Steps in scope of both, in rubric order, with the zone's title.
std::vector<std::pair<const Step*, const Zone*>> commonSteps(const Rubric& rubric, const Scoring& first,
                                                             const Scoring& second) {
    std::vector<std::pair<const Step*, const Zone*>> steps;
    for (const Zone& zone : rubric.zones)
        for (const Step& step : zone.steps)
            if (first.scores.contains(step.id) && second.scores.contains(step.id))
                steps.emplace_back(&step, &zone);
    return steps;
}

double secondsOf(const StepDifference& difference, double behind) {
    const bool first = difference.first.marks.engaged(), second = difference.second.marks.engaged();
    const double a = difference.first.marks.firstSeconds;
    const double b = std::max(0.0, difference.second.marks.firstSeconds - behind);
    if (first && second) return std::min(a, b);
    return first ? a : second ? b : 0;
}

/// What says something about a step, apart from notes.
bool isMark(const Event& event) {
    switch (event.kind) {
        case EventKind::Note:
        case EventKind::Pause:
        case EventKind::Resume:
        case EventKind::Retract:
        case EventKind::End:
            return false;
        default:
            return true;
    }
}

/// Builds the settled events; they are put in order of time at the end.
class SettledEvents {
public:
    SettledEvents(const ScoredAttempt& first, const ScoredAttempt& second, double behind)
        : m_first(first), m_second(second), m_behind(behind) {
        for (const Event& event : first.attempt.events)
            if (event.kind == EventKind::End) m_end = event.t;
    }

    void takeClock() {
        take(m_first.attempt, 0, [](const Event& event) {
            return event.kind == EventKind::Pause || event.kind == EventKind::Resume;
        });
    }
    void takeFirst(const std::string& step) {
        take(m_first.attempt, 0, [&](const Event& event) { return isMark(event) && event.step == step; });
    }
    void takeSecond(const std::string& step) {
        take(m_second.attempt, m_behind,
             [&](const Event& event) { return isMark(event) && event.step == step; });
    }
    void takeOther(const Step& step, const OtherMarks& marks, double t) {
        if (!marks.observed) return add(EventKind::Unseen, step.id, t);
        if (!marks.shown && marks.points.empty()) {
            if (marks.prompted) add(EventKind::Prompt, step.id, t);
            return add(EventKind::Omit, step.id, t);
        }
        if (marks.prompted) add(EventKind::Prompt, step.id, t);
        if (marks.shown && !step.show.empty()) add(EventKind::Show, step.id, t);
        for (const Point& point : step.say)
            if (std::ranges::count(marks.points, point.id) > 0) {
                add(EventKind::Say, step.id, t);
                m_events.back().point = point.id;
            }
    }
    void add(EventKind kind, const std::string& step, double t, const std::string& text = {}) {
        Event event;
        event.kind = kind;
        event.step = step;
        event.t = std::clamp(t, 0.0, m_end);
        event.text = text;
        m_events.push_back(std::move(event));
    }
    std::vector<Event> done() {
        std::ranges::stable_sort(m_events, {}, &Event::t);
        add(EventKind::End, {}, m_end);
        int n = 0;
        for (Event& event : m_events) event.n = ++n;
        return std::move(m_events);
    }

private:
    template <class Wanted>
    void take(const Attempt& attempt, double behind, Wanted wanted) {
        const std::vector<bool> stands = standingEvents(attempt);
        for (std::size_t i = 0; i < attempt.events.size(); ++i) {
            if (!stands[i] || !wanted(attempt.events[i])) continue;
            Event event = attempt.events[i];
            event.t = std::clamp(event.t - behind, 0.0, m_end);
            event.by.clear();
            event.at.clear();
            m_events.push_back(std::move(event));
        }
    }

    const ScoredAttempt& m_first;
    const ScoredAttempt& m_second;
    double m_behind;
    double m_end = 0;
    std::vector<Event> m_events;
};

}  // namespace

ScoringPair compareScorings(const ScoredAttempt& first, const ScoredAttempt& second) {
    const Scoring a = scoringOf(first), b = scoringOf(second);
    const auto steps = commonSteps(*first.rubric, a, b);
    ScoringPair pair;
    std::vector<double> later;
    for (const auto& [step, zone] : steps) {
        const StepMarks &ours = a.marks.at(step->id), &theirs = b.marks.at(step->id);
        if (ours.engaged() && theirs.engaged()) later.push_back(theirs.firstSeconds - ours.firstSeconds);
    }
    pair.commonSteps = static_cast<int>(later.size());
    pair.behind = medianOf(std::move(later));
    for (const auto& [step, zone] : steps) {
        const StepScore &ours = *a.scores.at(step->id), &theirs = *b.scores.at(step->id);
        StepDifference one{step->id,
                           step->title,
                           zone->title,
                           {a.marks.at(step->id), ours.outcome},
                           {b.marks.at(step->id), theirs.outcome}};
        const bool same = alike(ours, theirs);
        if (one.observedByBoth()) {
            ++pair.observedByBoth;
            if (!same) ++pair.differing;
        } else if (!same) {
            ++pair.observedByOne;
        }
        if (same) continue;
        one.seconds = secondsOf(one, pair.behind);
        pair.differences.push_back(std::move(one));
    }
    return pair;
}

OtherMarks otherMarksOf(const Step& step, const StepMarks& marks) {
    OtherMarks other;
    other.observed = !marks.unseen && !marks.unreached;
    other.shown = marks.shown;
    other.prompted = marks.prompts > 0;
    for (std::size_t i = 0; i < step.say.size() && i < marks.points.size(); ++i)
        if (marks.points[i] == PointMark::Said) other.points.push_back(step.say[i].id);
    return other;
}

Result<Attempt> settledAttempt(const ScoredAttempt& first, const ScoredAttempt& second,
                               const std::map<std::string, Settling>& settled, const std::string& id,
                               const std::string& by) {
    if (!isEnded(first.attempt) || !isEnded(second.attempt))
        return fail(ErrorKind::Refused, "only two closed scorings can be settled");
    if (first.card.rubric != second.card.rubric || first.card.edition != second.card.edition)
        return fail(ErrorKind::Refused, "the two were scored with different editions of the rubric");
    if (by.empty()) return fail(ErrorKind::Refused, "say who settles: choose an instructor");
    const ScoringPair pair = compareScorings(first, second);
    SettledEvents events(first, second, pair.behind);
    events.takeClock();
    std::map<std::string, const StepDifference*> differences;
    for (const StepDifference& one : pair.differences) differences.emplace(one.step, &one);
    for (const auto& [step, choice] : settled)
        if (!differences.contains(step))
            return fail(ErrorKind::Refused, "the two do not differ on step \"" + step + "\"");
    for (const Step* step : stepsInScope(*first.rubric, first.attempt.header)) {
        const auto difference = differences.find(step->id);
        if (difference == differences.end()) {
            events.takeFirst(step->id);
            continue;
        }
        const double t = difference->second->seconds;
        const auto found = settled.find(step->id);
        const Settling settling = found == settled.end() ? Settling() : found->second;
        switch (settling.choice) {
            case Choice::First:
                events.takeFirst(step->id);
                break;
            case Choice::Second:
                events.takeSecond(step->id);
                break;
            case Choice::Other:
                events.takeOther(*step, settling.other, t);
                break;
            case Choice::Open:
                events.add(EventKind::Unseen, step->id, t);
                break;
        }
        if (!settling.reason.empty()) events.add(EventKind::Note, step->id, t, settling.reason);
    }
    Attempt attempt{first.attempt.header, events.done()};
    attempt.header.id = id;
    attempt.header.of = first.attempt.header.id;
    attempt.header.instructor = by;
    // What is put together must be able to leave the file as a document.
    if (auto read = readAttempt(writeAttempt(attempt)); !read) return fail(read.error());
    if (auto problems = checkAgainstRubric(attempt, *first.rubric); !problems.empty())
        return fail("the settled record cannot be made", std::move(problems));
    return attempt;
}

}  // namespace markerlamp::core
