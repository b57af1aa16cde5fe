// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/attempt/attempt_document.h"

#include "core/attempt/marks.h"
#include "core/base/json_lines.h"

#include <algorithm>
#include <cmath>
#include <set>

namespace markerlamp::core {

namespace {

constexpr std::string_view kFormat = "markerlamp.attempt/1";

void readHeader(JsonLine& line, AttemptHeader& header) {
    line.onlyKeys({"format", "id", "rubric", "edition", "trainee", "instructor", "bus", "equipment", "zones",
                   "limits", "started", "of"},
                  " in the header");
    line.format(kFormat);
    header.id = line.text("id", true);
    header.rubric = line.text("rubric", true);
    header.edition = line.integer("edition").value_or(1);
    header.trainee = line.text("trainee", true);
    header.instructor = line.text("instructor", true);
    header.bus = line.text("bus", true);
    header.equipment = line.texts("equipment");
    header.zones = line.texts("zones");
    header.started = line.moment("started");
    if (line.has("of")) header.of = line.text("of", true);
    if (!header.of.empty() && header.of == header.id)
        line.problem("of", "the attempt names itself as its first scoring", "name the other attempt");
    if (!line.has("limits")) return;
    const Json& limits = line.at("limits");
    if (!limits.is_object()) {
        line.problem("limits", "\"limits\" is not an object",
                     "write {\"limit-id\":{\"low\":..,\"high\":..}}");
        return;
    }
    for (const auto& [id, bounds] : limits.items()) {
        LimitBounds own;
        bool good = bounds.is_object() && !bounds.empty();
        if (good)
            for (const auto& [key, value] : bounds.items()) {
                if ((key != "low" && key != "high") || !value.is_number() ||
                    !std::isfinite(value.get<double>())) {
                    good = false;
                    break;
                }
                (key == "low" ? own.low : own.high) = value.get<double>();
            }
        if (good && own.low && own.high && *own.low > *own.high) good = false;
        if (!good)
            line.problem("limits", "limit \"" + id + "\" needs low and/or high, with low not above high",
                         "write {\"" + id + "\":{\"low\":..,\"high\":..}} with numbers and no other key");
        else
            header.limits.emplace(id, own);
    }
}

std::set<std::string> keysOf(EventKind kind) {
    switch (kind) {
        case EventKind::Show:
        case EventKind::Partly:
        case EventKind::Prompt:
        case EventKind::Omit:
        case EventKind::Unseen:
        case EventKind::Unreached:
            return {"step"};
        case EventKind::Say:
            return {"step", "point", "value", "low", "high", "unit"};
        case EventKind::Wrong:
            return {"step", "point", "text"};
        case EventKind::Reading:
            return {"step", "value", "unit"};
        case EventKind::Fault:
        case EventKind::Note:
            return {"step", "text"};
        case EventKind::Retract:
            return {"event"};
        case EventKind::Pause:
        case EventKind::Resume:
        case EventKind::End:
            return {};
    }
    return {};
}

/// Where the document stands while its events are read.
struct Progress {
    double t = 0;
    bool running = true;
    std::optional<double> end;
    std::set<int> taken;
};

void readEvent(JsonLine& line, Attempt& attempt, Progress& progress) {
    Event event;
    const int expected = static_cast<int>(attempt.events.size()) + 1;
    event.n = line.integer("n").value_or(expected);
    if (line.good() && event.n != expected)
        line.problem("n", "events are not numbered without gaps", "write n " + std::to_string(expected));
    event.n = expected;
    const auto t = line.number("t", true);
    if (t && *t < 0) line.problem("t", "the time is before the start", "give seconds since the start");
    if (t && *t < progress.t)
        line.problem("t", "the time runs backwards", "give at least the time of the line before");
    event.t = t.value_or(progress.t);

    const std::string word = line.text("do", true);
    const auto kind = eventKindFromWord(word);
    if (!kind) {
        if (!word.empty())
            line.problem(
                "do", "\"" + word + "\" is not an event",
                "use show, say, partly, wrong, prompt, reading, fault, omit, unseen, unreached, note, pause, "
                "resume, retract or end");
        attempt.events.push_back(std::move(event));
        return;
    }
    event.kind = *kind;
    std::set<std::string> allowed = keysOf(event.kind);
    allowed.insert({"n", "t", "do"});
    if (progress.end) allowed.insert({"by", "at"});
    line.onlyKeys(allowed, " in a \"" + word + "\" event");

    const bool stepRequired = keysOf(event.kind).contains("step") && event.kind != EventKind::Note;
    if (keysOf(event.kind).contains("step")) event.step = line.text("step", stepRequired);
    if (event.kind == EventKind::Say || (event.kind == EventKind::Wrong && line.has("point")))
        event.point = line.text("point", true);
    if (event.kind == EventKind::Note ||
        ((event.kind == EventKind::Wrong || event.kind == EventKind::Fault) && line.has("text")))
        event.text = line.text("text", event.kind == EventKind::Note, kMaxTextBytes, true);
    if (event.kind == EventKind::Reading) {
        event.value = line.number("value", true);
        event.unit = line.text("unit", true);
    }
    if (event.kind == EventKind::Say) {
        event.value = line.number("value", false);
        event.low = line.number("low", false);
        event.high = line.number("high", false);
        if (line.has("value") && (line.has("low") || line.has("high")))
            line.problem("value", "a value and a pair of bounds stand together",
                         "give either value or low and high");
        if (line.has("low") != line.has("high"))
            line.problem(line.has("low") ? "low" : "high", "one bound of the pair is missing",
                         "give both low and high");
        if (event.low && event.high && *event.low > *event.high)
            line.problem("low", "low is above high", "give the smaller number as low");
        const bool number = event.value || event.low || event.high;
        if (number || line.has("unit")) event.unit = line.text("unit", true);
        if (!number && line.has("unit"))
            line.problem("unit", "a unit stands without a number", "give value, or low and high");
    }
    if (event.kind == EventKind::Retract) {
        const auto target = line.integer("event");
        event.retracts = target.value_or(0);
        if (target && *target >= event.n) {
            line.problem("event", "event " + std::to_string(*target) + " has not happened yet",
                         "name an earlier event");
        } else if (target) {
            const EventKind other = attempt.events[static_cast<std::size_t>(*target) - 1].kind;
            if (other == EventKind::Pause || other == EventKind::Resume || other == EventKind::End ||
                other == EventKind::Retract)
                line.problem("event",
                             "event " + std::to_string(event.retracts) + " (" + std::string(toWord(other)) +
                                 ") cannot be taken back",
                             "name an event that marks a step or a note");
            else if (!progress.taken.insert(*target).second)
                line.problem("event", "event " + std::to_string(*target) + " is already taken back",
                             "take it back once");
        }
    }

    if (progress.end) {
        if (event.kind == EventKind::Pause || event.kind == EventKind::Resume || event.kind == EventKind::End)
            line.problem("do", "\"" + word + "\" stands after the end",
                         "after the end only amendments may follow");
        event.by = line.text("by", true);
        event.at = line.moment("at");
        if (t && *t != *progress.end)
            line.problem("t", "the time of an amendment differs from that of the end",
                         "repeat the time of the end");
    } else if (event.kind == EventKind::Pause || event.kind == EventKind::Resume) {
        const bool pausing = event.kind == EventKind::Pause;
        if (progress.running != pausing)
            line.problem("do", pausing ? "the clock already stands still" : "the clock is already running",
                         "let pause and resume take turns");
        progress.running = !pausing;
    } else if (event.kind == EventKind::End) {
        progress.end = event.t;
    }
    progress.t = std::max(progress.t, event.t);
    attempt.events.push_back(std::move(event));
}

/// Takes the place of a line that cannot be read, so that later lines are not blamed for it.
Event unreadableEvent(const Attempt& attempt, const Progress& progress) {
    Event event;
    event.n = static_cast<int>(attempt.events.size()) + 1;
    event.t = progress.t;
    return event;
}

}  // namespace

Result<Attempt> readAttempt(std::string_view jsonl, const std::string& name) {
    const JsonLinesForm form{.mostBytes = kMaxAttemptBytes,
                             .tooLarge = "the document is larger than 32 MiB",
                             .tooLargeRemedy = "split it; one attempt is a few hundred lines",
                             .mostLines = kMaxAttemptEvents + 1,
                             .tooManyLines = "the document has more than 200,000 events",
                             .oneALine = "write one event on each line"};
    ProblemList report(name);
    Attempt attempt;
    Progress progress;
    readJsonLines(jsonl, form, report, [&](int number, JsonLine* line) {
        if (number == 1) {
            if (line != nullptr) readHeader(*line, attempt.header);
        } else if (line != nullptr) {
            readEvent(*line, attempt, progress);
        } else {
            attempt.events.push_back(unreadableEvent(attempt, progress));
        }
    });
    if (!report.problems().empty()) return fail("the attempt cannot be read", std::move(report.problems()));
    return attempt;
}

std::vector<Problem> checkAgainstRubric(const Attempt& attempt, const Rubric& rubric,
                                        const std::string& name) {
    ProblemList report(name);
    const AttemptHeader& header = attempt.header;
    if (header.rubric != rubric.id)
        report.add(1, "rubric", header.rubric, "the attempt is for rubric \"" + header.rubric + "\"",
                   "score it with that rubric, not with \"" + rubric.id + "\"");
    if (header.edition != rubric.edition)
        report.add(1, "edition", std::to_string(header.edition),
                   "the attempt is for edition " + std::to_string(header.edition),
                   "score it with that edition, not with " + std::to_string(rubric.edition));
    for (const std::string& zone : header.zones)
        if (rubric.zone(zone) == nullptr)
            report.add(1, "zones", zone, "unknown zone \"" + zone + "\"", "use a zone of the rubric");
    for (const std::string& tag : header.equipment)
        if (std::ranges::find(rubric.equipment, tag, &std::pair<std::string, std::string>::first) ==
            rubric.equipment.end())
            report.add(1, "equipment", tag, "unknown equipment \"" + tag + "\"", "use a tag of the rubric");
    for (const auto& [id, bounds] : header.limits)
        if (rubric.limit(id) == nullptr)
            report.add(1, "limits", id, "unknown limit \"" + id + "\"", "use a limit of the rubric");

    std::set<std::string_view> inScope;
    for (const Step* step : stepsInScope(rubric, header)) inScope.insert(step->id);
    for (const Event& event : attempt.events) {
        if (event.step.empty() || report.full()) continue;
        const int line = event.n + 1;
        const Step* step = rubric.step(event.step);
        if (step == nullptr) {
            report.add(line, "step", event.step, "unknown step \"" + event.step + "\"",
                       "use a step of the rubric");
            continue;
        }
        if (!inScope.contains(event.step)) {
            report.add(line, "step", event.step,
                       "step \"" + event.step + "\" is not in scope of this attempt",
                       "name its zone in the header and the equipment that it needs, or leave the event out");
            continue;
        }
        if (!event.point.empty() && std::ranges::find(step->say, event.point, &Point::id) == step->say.end())
            report.add(line, "point", event.point,
                       "step \"" + event.step + "\" has no point \"" + event.point + "\"",
                       "use a point of the step");
        if (event.kind != EventKind::Reading) continue;
        // A number measured where the rubric sets no limit is a fact like any other.
        const auto limit = readingLimit(rubric, header, *step);
        if (limit && limit->unit != event.unit)
            report.add(line, "unit", event.unit, "the reading is in another unit than its limit",
                       "give it in " + limit->unit);
    }
    return std::move(report.problems());
}

std::string writeHeaderLine(const AttemptHeader& header) {
    JsonObjectText object;
    object.text("format", std::string(kFormat))
        .text("id", header.id)
        .text("rubric", header.rubric)
        .number("edition", header.edition)
        .text("trainee", header.trainee)
        .text("instructor", header.instructor)
        .text("bus", header.bus)
        .list("equipment", header.equipment)
        .list("zones", header.zones);
    if (!header.limits.empty()) {
        JsonObjectText limits;
        for (const auto& [id, bounds] : header.limits)
            limits.raw(quotedJson(id).substr(1, quotedJson(id).size() - 2),
                       JsonObjectText().numberIf("low", bounds.low).numberIf("high", bounds.high).done());
        object.raw("limits", limits.done());
    }
    return object.text("started", header.started).textIf("of", header.of).done();
}

std::string writeEventLine(const Event& event) {
    JsonObjectText object;
    object.number("n", event.n).number("t", event.t).text("do", std::string(toWord(event.kind)));
    object.textIf("step", event.step)
        .textIf("point", event.point)
        .numberIf("value", event.value)
        .numberIf("low", event.low)
        .numberIf("high", event.high)
        .textIf("unit", event.unit);
    if (event.kind == EventKind::Note)
        object.text("text", event.text);
    else
        object.textIf("text", event.text);
    if (event.kind == EventKind::Retract) object.number("event", event.retracts);
    return object.textIf("by", event.by).textIf("at", event.at).done();
}

std::string writeAttempt(const Attempt& attempt) {
    std::string text = writeHeaderLine(attempt.header) + "\n";
    for (const Event& event : attempt.events) text += writeEventLine(event) + "\n";
    return text;
}

}  // namespace markerlamp::core
