// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/attempt/recorder.h"

#include "core/attempt/recorder_draft.h"

#include <algorithm>
#include <set>

namespace markerlamp::core {

namespace {

bool isGap(EventKind kind) {
    return kind == EventKind::Omit || kind == EventKind::Unseen || kind == EventKind::Unreached;
}

Result<void> checkHeader(const Rubric& rubric, const AttemptHeader& header) {
    std::vector<Problem> problems;
    const auto problem = [&](std::string path, std::string id, std::string message, std::string remedy) {
        problems.push_back({{}, 1, std::move(path), std::move(id), std::move(message), std::move(remedy)});
    };
    if (header.rubric != rubric.id || header.edition != rubric.edition)
        problem("rubric", header.rubric, "the attempt is for another rubric or edition",
                "name rubric " + rubric.id + ", edition " + std::to_string(rubric.edition));
    if (header.zones.empty()) problem("zones", {}, "no zone is to be scored", "name at least one zone");
    for (const std::string& zone : header.zones)
        if (rubric.zone(zone) == nullptr)
            problem("zones", zone, "unknown zone \"" + zone + "\"", "use a zone of the rubric");
    for (const std::string& tag : header.equipment)
        if (std::ranges::find(rubric.equipment, tag, &std::pair<std::string, std::string>::first) ==
            rubric.equipment.end())
            problem("equipment", tag, "unknown equipment \"" + tag + "\"", "use a tag of the rubric");
    for (const auto& [id, bounds] : header.limits)
        if (rubric.limit(id) == nullptr)
            problem("limits", id, "unknown limit \"" + id + "\"", "use a limit of the rubric");
    if (!problems.empty()) return fail("the attempt does not fit the rubric", std::move(problems));
    return {};
}

}  // namespace

Recorder::Recorder(std::shared_ptr<const Rubric> rubric, Attempt attempt)
    : m_rubric(std::move(rubric)), m_attempt(std::move(attempt)) {
    refold();
}

Result<Recorder> Recorder::start(std::shared_ptr<const Rubric> rubric, AttemptHeader header) {
    if (const auto good = checkHeader(*rubric, header); !good) return fail(good.error());
    return Recorder(std::move(rubric), Attempt{std::move(header), {}});
}

Result<Recorder> Recorder::resume(std::shared_ptr<const Rubric> rubric, Attempt attempt) {
    if (const auto good = checkHeader(*rubric, attempt.header); !good) return fail(good.error());
    Recorder recorder(std::move(rubric), std::move(attempt));
    for (const Event& event : recorder.m_attempt.events)
        if (!event.step.empty() && recorder.marksOf(event.step) == nullptr)
            return fail(ErrorKind::Refused, "event " + std::to_string(event.n) + " names step \"" +
                                                event.step + "\", which is not in scope of this attempt");
    if (recorder.ended()) return recorder;
    // Events of one press carry one time; what no longer stands cannot be undone again.
    double last = -1;
    for (const Event& event : recorder.m_attempt.events) {
        if (!retractable(event.kind) || !recorder.m_standing[static_cast<std::size_t>(event.n) - 1]) continue;
        if (recorder.m_presses.empty() || event.t != last) recorder.m_presses.emplace_back();
        recorder.m_presses.back().push_back(event.n);
        last = event.t;
    }
    return recorder;
}

const StepMarks* Recorder::marksOf(std::string_view step) const {
    const auto found = std::ranges::find(m_marks, step, &StepMarks::step);
    return found == m_marks.end() ? nullptr : &*found;
}

bool Recorder::ended() const {
    return isEnded(m_attempt);
}

bool Recorder::paused() const {
    for (auto e = m_attempt.events.rbegin(); e != m_attempt.events.rend(); ++e) {
        if (e->kind == EventKind::Pause) return true;
        if (e->kind == EventKind::Resume) return false;
    }
    return false;
}

void Recorder::refold() {
    m_marks = foldMarks(*m_rubric, m_attempt);
    m_standing = standingEvents(m_attempt);
}

Result<const Step*> Recorder::stepFor(std::string_view step) const {
    if (marksOf(step) == nullptr)
        return fail(ErrorKind::NotFound,
                    "step \"" + std::string(step) + "\" is not in scope of this attempt");
    if (ended() && (m_by.empty() || m_at.empty()))
        return fail(ErrorKind::Refused,
                    "the attempt is over; only an amendment with who and when can change it");
    return m_rubric->step(step);
}

Recorder::Pressed Recorder::commit(Draft& draft, bool undoable) {
    std::vector<Event> events = std::move(draft.events());
    if (events.empty()) return events;
    m_attempt.events.insert(m_attempt.events.end(), events.begin(), events.end());
    refold();
    if (undoable) {
        m_undone.clear();
        std::vector<int> press;
        for (const Event& event : events)
            if (event.kind == EventKind::Retract || retractable(event.kind)) press.push_back(event.n);
        if (!press.empty()) m_presses.push_back(std::move(press));
    }
    return events;
}

Recorder::Pressed Recorder::outcome(std::string_view step, Outcome outcome, double t, bool prompted) {
    const auto known = stepFor(step);
    if (!known) return fail(known.error());
    const Step& s = **known;
    const StepMarks before = *marksOf(step);
    Draft draft(*this, t);

    const bool gap =
        outcome == Outcome::Omitted || outcome == Outcome::NotObserved || outcome == Outcome::NotReached;
    const bool wantsShow = !gap && outcome != Outcome::SaidOnly && before.hasShow;
    const bool wantsPoints = outcome == Outcome::Both || outcome == Outcome::SaidOnly;
    const bool wantsPartly = outcome == Outcome::Partly && !s.say.empty();
    // With help, what is credited must come after the prompt; the first show stays, it orders the step.
    const bool renewShow = prompted && wantsShow && s.say.empty();

    std::set<std::string, std::less<>> kept;
    bool keptPartly = false;
    draft.retractWhere(step, [&](const Event& event) {
        switch (event.kind) {
            case EventKind::Show:
                return !wantsShow || renewShow;
            case EventKind::Say:
                if (!wantsPoints || prompted) return true;
                return !kept.insert(event.point).second;
            case EventKind::Partly:
                if (wantsPartly && !prompted && !keptPartly) {
                    keptPartly = true;
                    return false;
                }
                return true;
            case EventKind::Prompt:
                // An amendment says what the step should have been, so all of it without help takes the help
                // back; a press during the attempt does not.
                return gap || (ended() && outcome == Outcome::Both && !prompted);
            case EventKind::Reading:
            case EventKind::Fault:
                return gap;
            case EventKind::Note:
                return false;
            default:
                return true;  // wrong, omit, unseen, unreached
        }
    });
    if (prompted && !gap) draft.add(EventKind::Prompt, step);
    if (wantsShow && (!before.shown || renewShow)) draft.add(EventKind::Show, step);
    if (wantsPoints)
        for (const Point& point : s.say)
            if (!kept.contains(point.id)) draft.say(step, point.id);
    if (wantsPartly && !keptPartly) draft.add(EventKind::Partly, step);
    if (outcome == Outcome::Omitted) draft.add(EventKind::Omit, step);
    if (outcome == Outcome::NotObserved) draft.add(EventKind::Unseen, step);
    if (outcome == Outcome::NotReached) draft.add(EventKind::Unreached, step);
    return commit(draft);
}

Recorder::Pressed Recorder::show(std::string_view step, double t, bool prompted) {
    const auto known = stepFor(step);
    if (!known) return fail(known.error());
    if ((*known)->show.empty())
        return fail(ErrorKind::Refused, "step \"" + std::string(step) + "\" has nothing to show");
    if (marksOf(step)->shown) return std::vector<Event>{};
    Draft draft(*this, t);
    draft.retractWhere(step, [](const Event& event) { return isGap(event.kind); });
    if (prompted) draft.add(EventKind::Prompt, step);
    draft.add(EventKind::Show, step);
    return commit(draft);
}

Recorder::Pressed Recorder::flipPoint(std::string_view step, int pointIndex, double t) {
    const auto known = stepFor(step);
    if (!known) return fail(known.error());
    const auto& say = (*known)->say;
    if (pointIndex < 0 || pointIndex >= std::ssize(say))
        return fail(ErrorKind::NotFound,
                    "step \"" + std::string(step) + "\" has no point " + std::to_string(pointIndex + 1));
    const std::string& point = say[static_cast<std::size_t>(pointIndex)].id;
    const PointMark mark = marksOf(step)->points[static_cast<std::size_t>(pointIndex)];
    Draft draft(*this, t);
    draft.retractWhere(step, [&](const Event& event) {
        if (event.kind == EventKind::Partly || isGap(event.kind)) return mark == PointMark::Open;
        return event.point == point && (event.kind == EventKind::Say || event.kind == EventKind::Wrong);
    });
    if (mark == PointMark::Open) draft.say(step, point);
    return commit(draft);
}

Recorder::Pressed Recorder::sayNumber(std::string_view step, int pointIndex, double value,
                                      std::string_view unit, double t) {
    const auto known = stepFor(step);
    if (!known) return fail(known.error());
    const auto& say = (*known)->say;
    if (pointIndex < 0 || pointIndex >= std::ssize(say))
        return fail(ErrorKind::NotFound,
                    "step \"" + std::string(step) + "\" has no point " + std::to_string(pointIndex + 1));
    const std::string& point = say[static_cast<std::size_t>(pointIndex)].id;
    Draft draft(*this, t);
    draft.retractWhere(step, [&](const Event& event) {
        if (event.kind == EventKind::Partly || isGap(event.kind)) return true;
        return event.point == point && (event.kind == EventKind::Say || event.kind == EventKind::Wrong);
    });
    Event& event = draft.add(EventKind::Say, step);
    event.point = point;
    event.value = value;
    event.unit = unit;
    return commit(draft);
}

Recorder::Pressed Recorder::wrong(std::string_view step, int pointIndex, std::string_view text, double t) {
    const auto known = stepFor(step);
    if (!known) return fail(known.error());
    const auto& say = (*known)->say;
    if (pointIndex >= std::ssize(say))
        return fail(ErrorKind::NotFound,
                    "step \"" + std::string(step) + "\" has no point " + std::to_string(pointIndex + 1));
    const std::string point = pointIndex < 0 ? std::string() : say[static_cast<std::size_t>(pointIndex)].id;
    Draft draft(*this, t);
    bool stood = false;
    draft.retractWhere(step, [&](const Event& event) {
        if (event.kind == EventKind::Wrong && event.point == point) return stood = true;
        if (isGap(event.kind)) return true;
        return event.kind == EventKind::Say && !point.empty() && event.point == point;
    });
    if (!stood) {
        Event& event = draft.add(EventKind::Wrong, step);
        event.point = point;
        event.text = text;
    }
    return commit(draft);
}

Recorder::Pressed Recorder::prompt(std::string_view step, double t) {
    const auto known = stepFor(step);
    if (!known) return fail(known.error());
    const StepMarks& marks = *marksOf(step);
    Draft draft(*this, t);
    // On a step that is already complete the help must have come before its credit: credit it again after the
    // prompt.
    const bool complete = marks.shown == marks.hasShow && marks.engaged() && marks.prompts == 0 &&
                          std::ranges::all_of(marks.points, [](PointMark m) { return m == PointMark::Said; });
    std::vector<int> again;
    if (complete)
        draft.retractWhere(step, [&](const Event& event) {
            const bool credit =
                (*known)->say.empty() ? event.kind == EventKind::Show : event.kind == EventKind::Say;
            if (credit) again.push_back(event.n);
            return credit;
        });
    draft.add(EventKind::Prompt, step);
    for (const int n : again) draft.repeat(draft.event(n));
    return commit(draft);
}

Recorder::Pressed Recorder::reading(std::string_view step, double value, std::string_view unit, double t) {
    const auto known = stepFor(step);
    if (!known) return fail(known.error());
    const auto limit = readingLimit(*m_rubric, m_attempt.header, **known);
    if (!limit) return fail(ErrorKind::Refused, "step \"" + std::string(step) + "\" takes no reading");
    if (limit->unit != unit)
        return fail(ErrorKind::Refused, "a reading of step \"" + std::string(step) + "\" in \"" +
                                            std::string(unit) + "\" cannot be judged; give it in " +
                                            limit->unit);
    Draft draft(*this, t);
    draft.retractWhere(step, [](const Event& event) { return isGap(event.kind); });
    Event& event = draft.add(EventKind::Reading, step);
    event.value = value;
    event.unit = unit;
    return commit(draft);
}

Recorder::Pressed Recorder::fault(std::string_view step, std::string_view text, double t) {
    const auto known = stepFor(step);
    if (!known) return fail(known.error());
    Draft draft(*this, t);
    draft.retractWhere(step, [](const Event& event) { return isGap(event.kind); });
    draft.add(EventKind::Fault, step).text = text;
    return commit(draft);
}

Recorder::Pressed Recorder::note(std::string_view stepOrEmpty, std::string_view text, double t) {
    if (!stepOrEmpty.empty()) {
        if (const auto known = stepFor(stepOrEmpty); !known) return fail(known.error());
    } else if (ended() && (m_by.empty() || m_at.empty())) {
        return fail(ErrorKind::Refused,
                    "the attempt is over; only an amendment with who and when can change it");
    }
    Draft draft(*this, t);
    draft.add(EventKind::Note, stepOrEmpty).text = text;
    return commit(draft);
}

Recorder::Pressed Recorder::slide(std::string_view from, std::string_view to, double t) {
    const auto source = stepFor(from);
    if (!source) return fail(source.error());
    const auto target = stepFor(to);
    if (!target) return fail(target.error());
    if (from == to || !marksOf(to)->open())
        return fail(ErrorKind::Refused, "step \"" + std::string(to) + "\" already has an outcome");
    const StepMarks marks = *marksOf(from);
    const bool all = !marks.points.empty() &&
                     std::ranges::all_of(marks.points, [](PointMark m) { return m == PointMark::Said; });
    const auto& sourcePoints = (*source)->say;
    const auto& targetPoints = (*target)->say;
    Draft draft(*this, t);
    std::vector<Event> moved;
    draft.retractWhere(from, [&](const Event& event) {
        if (event.kind == EventKind::Reading || event.kind == EventKind::Note) return false;
        moved.push_back(event);
        return true;
    });
    bool said = false;
    for (const Event& event : moved) {
        if (event.kind == EventKind::Say && all) {
            // A full explanation stays a full one, however many points the other step has.
            if (!said)
                for (const Point& point : targetPoints) draft.say(to, point.id);
            said = true;
            continue;
        }
        if (event.kind == EventKind::Show && (*target)->show.empty()) continue;
        std::string point;
        if (!event.point.empty()) {
            const auto index =
                std::ranges::find(sourcePoints, event.point, &Point::id) - sourcePoints.begin();
            if (index >= std::ssize(targetPoints)) continue;
            point = targetPoints[static_cast<std::size_t>(index)].id;
        }
        Event& event2 = draft.add(event.kind, to);
        event2.point = point;
        event2.text = event.text;
    }
    return commit(draft);
}

Recorder::Pressed Recorder::pause(double t) {
    if (ended()) return fail(ErrorKind::Refused, "the attempt is over");
    if (paused()) return fail(ErrorKind::Refused, "the clock already stands still");
    Draft draft(*this, t);
    draft.add(EventKind::Pause);
    return commit(draft, false);
}

Recorder::Pressed Recorder::resumeClock(double t) {
    if (ended()) return fail(ErrorKind::Refused, "the attempt is over");
    if (!paused()) return fail(ErrorKind::Refused, "the clock is running");
    Draft draft(*this, t);
    draft.add(EventKind::Resume);
    return commit(draft, false);
}

Recorder::Pressed Recorder::finish(std::span<const SettleProposal> settled, double t) {
    if (ended()) return fail(ErrorKind::Refused, "the attempt is already over");
    Draft draft(*this, t);
    for (const SettleProposal& proposal : settled) {
        if (const auto known = stepFor(proposal.step); !known) return fail(known.error());
        switch (proposal.outcome) {
            case Outcome::Omitted:
                draft.add(EventKind::Omit, proposal.step);
                break;
            case Outcome::NotObserved:
                draft.add(EventKind::Unseen, proposal.step);
                break;
            case Outcome::NotReached:
                draft.add(EventKind::Unreached, proposal.step);
                break;
            default:
                return fail(
                    ErrorKind::Refused,
                    "step \"" + proposal.step + "\" can be settled as omitted, not observed or not reached");
        }
    }
    draft.add(EventKind::End);
    auto events = commit(draft, false);
    m_presses.clear();
    m_undone.clear();
    return events;
}

void Recorder::amendAs(std::string by, std::string at) {
    m_by = std::move(by);
    m_at = std::move(at);
}

std::vector<SettleProposal> Recorder::proposeSettling(bool stoppedEarly) const {
    std::set<std::string_view> entered;
    for (const StepMarks& marks : m_marks)
        if (!marks.open()) entered.insert(marks.zone);
    std::vector<std::pair<double, double>> pauses;
    for (const Event& event : m_attempt.events) {
        if (event.kind == EventKind::Pause) pauses.emplace_back(event.t, m_attempt.events.back().t);
        if (event.kind == EventKind::Resume && !pauses.empty()) pauses.back().second = event.t;
    }

    std::vector<SettleProposal> proposals;
    for (std::size_t i = 0; i < m_marks.size(); ++i) {
        const StepMarks& marks = m_marks[i];
        if (!marks.open()) continue;
        SettleProposal proposal;
        proposal.step = marks.step;
        const auto sameZone = [&](std::size_t j) { return m_marks[j].zone == marks.zone; };
        const StepMarks* earlier = nullptr;
        for (std::size_t j = i; j-- > 0 && sameZone(j) && earlier == nullptr;)
            if (m_marks[j].engaged()) earlier = &m_marks[j];
        const StepMarks* later = nullptr;
        for (std::size_t j = i + 1; j < m_marks.size() && sameZone(j) && later == nullptr; ++j)
            if (m_marks[j].engaged()) later = &m_marks[j];
        if (!entered.contains(marks.zone)) {
            proposal.why = SettleProposal::Why::ZoneNeverEntered;
            proposal.outcome = stoppedEarly ? Outcome::NotReached : Outcome::Omitted;
        } else if (earlier != nullptr && later != nullptr &&
                   std::ranges::any_of(pauses, [&](const auto& pause) {
                       return earlier->firstSeconds <= pause.first && later->firstSeconds >= pause.second;
                   })) {
            proposal.why = SettleProposal::Why::InsidePause;
            proposal.outcome = Outcome::NotObserved;
        } else if (earlier != nullptr && later != nullptr &&
                   std::abs(later->firstSeconds - earlier->firstSeconds) <= 3) {
            proposal.why = SettleProposal::Why::NeighbourWithin3s;
            proposal.neighbour = later->step;
        }
        proposals.push_back(std::move(proposal));
    }
    return proposals;
}

std::string Recorder::nextOpenAfter(std::string_view step) const {
    const auto here = std::ranges::find(m_marks, step, &StepMarks::step);
    const auto open = [](const StepMarks& marks) { return marks.open(); };
    if (here != m_marks.end()) {
        const auto next = std::find_if(here + 1, m_marks.end(), open);
        if (next != m_marks.end()) return next->step;
    }
    const auto first = std::ranges::find_if(m_marks, open);
    return first == m_marks.end() ? std::string() : first->step;
}

}  // namespace markerlamp::core
