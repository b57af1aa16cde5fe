// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/attempt/marks.h"
#include "core/export/columns.h"

#include <algorithm>

namespace markerlamp::core::columns {

namespace {

using Kind = ColumnKind;
using Line = AttemptLine;

const AttemptHeader& header(const Line& line) {
    return line.attempt.scored.attempt.header;
}

/// Figures of a card that is final; an empty cell for an attempt that was not ended.
template <class Make>
Cell card(const Line& line, Make make) {
    return line.attempt.standing == AttemptStanding::Ended ? Cell(make(line.attempt.scored.card)) : Cell();
}

std::string joined(const std::vector<std::string>& words) {
    std::string all;
    for (const std::string& word : words) all += (all.empty() ? "" : " ") + word;
    return all;
}

Cell named(const std::map<std::string, std::string>& names, const std::string& key) {
    const auto found = names.find(key);
    return text(found == names.end() ? key : found->second);
}

std::string_view standing(const Line& line) {
    switch (line.attempt.standing) {
        case AttemptStanding::Open:
            return "open";
        case AttemptStanding::SetAside:
            return "set aside";
        default:
            return "ended";
    }
}

/// "must-pass:chock below-percent": code and, where there is one, the step or rule.
Cell reasons(const Scorecard& card) {
    std::vector<std::string> words;
    for (const Reason& reason : card.reasons) {
        const std::string& id = reason.step.empty() ? reason.rule : reason.step;
        words.push_back(std::string(toWord(reason.code)) + (id.empty() ? "" : ":" + id));
    }
    return text(joined(words));
}

int stepsThat(const Scorecard& card, bool (*which)(const StepScore&)) {
    return static_cast<int>(std::ranges::count_if(card.steps, which));
}

bool amended(const Line& line) {
    return std::ranges::any_of(line.attempt.scored.attempt.events,
                               [](const Event& event) { return !event.by.empty(); });
}

/// Notes about the whole attempt; those of a step stand with the step.
Cell notes(const Line& line) {
    const Attempt& attempt = line.attempt.scored.attempt;
    const std::vector<bool> stands = standingEvents(attempt);
    std::string all;
    for (std::size_t i = 0; i < attempt.events.size(); ++i) {
        const Event& event = attempt.events[i];
        if (stands[i] && event.kind == EventKind::Note && event.step.empty() && !event.text.empty())
            all += (all.empty() ? "" : " | ") + event.text;
    }
    return text(all);
}

const std::vector<Entry<Line>>& heads() {
    static const std::vector<Entry<Line>> entries{
        {{"attempt", Kind::Text, keyOf(KeyKind::Attempt), 22, "id of the attempt"},
         [](const Line& l) { return text(header(l).id); }},
        {{"trainee", Kind::Text, keyOf(KeyKind::Trainee), 12, "key of the trainee"},
         [](const Line& l) { return text(l.of.person.trainee.key); }},
        {{"name", Kind::Text, kLeftOut, 24, "name of the trainee"},
         [](const Line& l) { return text(l.of.person.trainee.name); }},
        {{"group", Kind::Text, keyOf(KeyKind::Group), 16, "class or group of the trainee"},
         [](const Line& l) { return text(l.of.person.trainee.group); }},
        {{"number", Kind::Whole, kKept, 8,
          "counts the trainee's ended attempts; empty where this one does not count"},
         [](const Line& l) { return l.number > 0 ? whole(l.number) : Cell(); }},
        {{"state", Kind::Text, kKept, 10, "ended, open or set aside"},
         [](const Line& l) { return text(standing(l)); }},
        {{"second_scoring_of", Kind::Text, keyOf(KeyKind::Attempt), 22,
          "the attempt of which this is a second scoring by somebody else"},
         [](const Line& l) { return text(header(l).of); }},
        {{"started", Kind::Moment, kShifted, 17, "when it began, by the clock of the place"},
         [](const Line& l) { return text(header(l).started); }},
        {{"instructor", Kind::Text, keyOf(KeyKind::Instructor), 12, "key of who scored"},
         [](const Line& l) { return text(header(l).instructor); }},
        {{"instructor_name", Kind::Text, kLeftOut, 22, "name of who scored"},
         [](const Line& l) { return named(l.names.instructors, header(l).instructor); }},
        {{"bus", Kind::Text, keyOf(KeyKind::Bus), 8, "unit number of the bus"},
         [](const Line& l) { return text(header(l).bus); }},
        {{"bus_title", Kind::Text, kLeftOut, 22, "what the bus is called"},
         [](const Line& l) { return named(l.names.buses, header(l).bus); }},
        {{"equipment", Kind::Text, kLeftOut, 24, "what the bus has, as tags of the rubric"},
         [](const Line& l) { return text(joined(header(l).equipment)); }},
        {{"rubric", Kind::Text, keyOf(KeyKind::Rubric), 24, "id of the rubric"},
         [](const Line& l) { return text(header(l).rubric); }},
        {{"edition", Kind::Whole, kKept, 8, "edition of the rubric"},
         [](const Line& l) { return whole(header(l).edition); }},
        {{"full", Kind::YesNo, kKept, 8, "yes: over all zones of the rubric"},
         [](const Line& l) { return Cell(isWhole(l.attempt.scored)); }},
        {{"zones", Kind::Text, kKept, 30, "zones in scope"},
         [](const Line& l) { return text(joined(header(l).zones)); }},
    };
    return entries;
}

const std::vector<Entry<Line>>& figures() {
    static const std::vector<Entry<Line>> entries{
        {{"result", Kind::Text, kKept, 11, "pass, incomplete or fail"},
         [](const Line& l) { return card(l, [](const Scorecard& c) { return text(toWord(c.result)); }); }},
        {{"reasons", Kind::Text, kKept, 30, "why it did not pass: codes, with the id of the step or rule"},
         [](const Line& l) { return card(l, reasons); }},
        {{"percent", Kind::Percent, kKept, 9, "earned of possible"},
         [](const Line& l) { return card(l, [](const Scorecard& c) { return Cell(c.percent); }); }},
        {{"earned", Kind::Whole, kKept, 8, "weight of the steps that were satisfied"},
         [](const Line& l) { return card(l, [](const Scorecard& c) { return whole(c.earned); }); }},
        {{"possible", Kind::Whole, kKept, 9, "weight of the steps in scope"},
         [](const Line& l) { return card(l, [](const Scorecard& c) { return whole(c.possible); }); }},
        {{"shown_percent", Kind::Percent, kKept, 14, "of what was to show"},
         [](const Line& l) { return card(l, [](const Scorecard& c) { return Cell(c.shownPercent); }); }},
        {{"said_percent", Kind::Percent, kKept, 13, "of what was to say"},
         [](const Line& l) { return card(l, [](const Scorecard& c) { return Cell(c.saidPercent); }); }},
        {{"order_percent", Kind::Percent, kKept, 14, "of the steps in their order"},
         [](const Line& l) { return card(l, [](const Scorecard& c) { return Cell(c.orderPercent); }); }},
        {{"seconds", Kind::Number, kKept, 9, "by the clock, without pauses"},
         [](const Line& l) { return card(l, [](const Scorecard& c) { return Cell(c.seconds); }); }},
        {{"steps", Kind::Whole, kKept, 8, "steps in scope"},
         [](const Line& l) {
             return card(l, [](const Scorecard& c) { return whole(static_cast<int>(c.steps.size())); });
         }},
        {{"steps_satisfied", Kind::Whole, kKept, 14, "of these satisfied by oneself"},
         [](const Line& l) {
             return card(l, [](const Scorecard& c) {
                 return whole(
                     stepsThat(c, [](const StepScore& s) { return s.outcome == StepOutcome::Satisfied; }));
             });
         }},
        {{"steps_prompted", Kind::Whole, kKept, 14, "of these done only after a prompt"},
         [](const Line& l) {
             return card(l, [](const Scorecard& c) {
                 return whole(
                     stepsThat(c, [](const StepScore& s) { return s.outcome == StepOutcome::Prompted; }));
             });
         }},
        {{"steps_displaced", Kind::Whole, kKept, 14,
          "fewest steps that would have to move to mend the order"},
         [](const Line& l) {
             return card(l, [](const Scorecard& c) { return whole(static_cast<int>(c.displaced.size())); });
         }},
        {{"amended", Kind::YesNo, kKept, 9, "yes: changed after it had ended"},
         [](const Line& l) { return Cell(amended(l)); }},
        {{"notes", Kind::Text, kLeftOut, 30, "what was noted about the whole attempt"}, notes},
    };
    return entries;
}

}  // namespace

const std::vector<Entry<Line>>& attemptEntries() {
    static const std::vector<Entry<Line>> entries = [] {
        std::vector<Entry<Line>> all = heads();
        all.insert(all.end(), figures().begin(), figures().end());
        return all;
    }();
    return entries;
}

}  // namespace markerlamp::core::columns
