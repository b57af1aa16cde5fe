// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "core/export/columns.h"

#include <unordered_map>
#include <unordered_set>

namespace markerlamp::core::columns {

namespace {

using Kind = ColumnKind;
using Line = StepLine;

const AttemptHeader& header(const Line& line) {
    return line.attempt.scored.attempt.header;
}

Cell missedPoints(const Line& line) {
    std::string all;
    for (const std::string& point : line.score.missedPoints) all += (all.empty() ? "" : " ") + point;
    return text(all);
}

bool isWrong(const StepMarks& marks) {
    for (const PointMark mark : marks.points)
        if (mark == PointMark::Wrong) return true;
    return marks.wrong;
}

const std::vector<Entry<Line>>& places() {
    static const std::vector<Entry<Line>> entries{
        {{"attempt", Kind::Text, keyOf(KeyKind::Attempt), 22, "id of the attempt"},
         [](const Line& l) { return text(header(l).id); }},
        {{"trainee", Kind::Text, keyOf(KeyKind::Trainee), 12, "key of the trainee"},
         [](const Line& l) { return text(l.of.person.trainee.key); }},
        {{"rubric", Kind::Text, keyOf(KeyKind::Rubric), 24, "id of the rubric"},
         [](const Line& l) { return text(header(l).rubric); }},
        {{"edition", Kind::Whole, kKept, 8, "edition of the rubric"},
         [](const Line& l) { return whole(header(l).edition); }},
        {{"zone", Kind::Text, kKept, 16, "id of the zone"}, [](const Line& l) { return text(l.zone.id); }},
        {{"step", Kind::Text, kKept, 22, "id of the step"}, [](const Line& l) { return text(l.step.id); }},
        {{"title", Kind::Text, kLeftOut, 28, "what the rubric calls the step"},
         [](const Line& l) { return text(l.step.title); }},
        {{"weight", Kind::Whole, kKept, 8, "its weight"}, [](const Line& l) { return whole(l.step.weight); }},
        {{"must_pass", Kind::YesNo, kKept, 10, "yes: an attempt cannot pass without it"},
         [](const Line& l) { return Cell(l.step.mustPass); }},
    };
    return entries;
}

const std::vector<Entry<Line>>& marks() {
    static const std::vector<Entry<Line>> entries{
        {{"outcome", Kind::Text, kKept, 11,
          "satisfied, partial, wrong, prompted, omitted; unseen and unreached: not observed"},
         [](const Line& l) { return text(toWord(l.score.outcome)); }},
        {{"shown", Kind::YesNo, kKept, 8, "yes: shown by oneself"},
         [](const Line& l) { return Cell(l.score.shown); }},
        {{"said", Kind::Whole, kKept, 7, "points said by oneself"},
         [](const Line& l) { return whole(l.score.said); }},
        {{"needed", Kind::Whole, kKept, 8, "points that had to be said"},
         [](const Line& l) { return whole(l.score.needed); }},
        {{"points_missed", Kind::Text, kKept, 24, "ids of the points not said by oneself"}, missedPoints},
        {{"prompted", Kind::YesNo, kKept, 10, "yes: after a prompt"},
         [](const Line& l) { return Cell(l.score.prompted); }},
        {{"prompts", Kind::Whole, kKept, 9, "how many prompts"},
         [](const Line& l) { return whole(l.marks.prompts); }},
        {{"said_wrong", Kind::YesNo, kKept, 11, "yes: something was said or done wrong"},
         [](const Line& l) { return Cell(isWrong(l.marks)); }},
        {{"fault_called", Kind::YesNo, kKept, 12, "yes: a real defect was called out"},
         [](const Line& l) { return Cell(l.marks.fault); }},
        {{"reading", Kind::Number, kKept, 9, "what was read from the gauge or clock"},
         [](const Line& l) { return l.marks.reading ? Cell(*l.marks.reading) : Cell(); }},
        {{"reading_unit", Kind::Text, kKept, 12, "its unit"},
         [](const Line& l) { return l.marks.reading ? text(l.marks.readingUnit) : Cell(); }},
        {{"position", Kind::Whole, kKept, 9, "place in the order of the attempt: number of its first event"},
         [](const Line& l) { return l.score.position > 0 ? whole(l.score.position) : Cell(); }},
        {{"seconds", Kind::Number, kKept, 9, "of that event since the start, pauses counted"},
         [](const Line& l) { return l.score.position > 0 ? Cell(l.marks.firstSeconds) : Cell(); }},
        {{"displaced", Kind::YesNo, kKept, 10,
          "yes: one of the fewest steps that would have to move to mend the order"},
         [](const Line& l) { return Cell(l.displaced); }},
        {{"amended", Kind::YesNo, kKept, 9, "yes: changed after the attempt had ended"},
         [](const Line& l) { return Cell(l.marks.amended); }},
        {{"remarks", Kind::Text, kLeftOut, 30,
          "notes, and what was wrong or defective, in the instructor's words"},
         [](const Line& l) { return text(l.remarks); }},
    };
    return entries;
}

/// Texts of the events that stand, by step.
std::unordered_map<std::string_view, std::string> remarksOf(const Attempt& attempt) {
    std::unordered_map<std::string_view, std::string> remarks;
    const std::vector<bool> stands = standingEvents(attempt);
    for (std::size_t i = 0; i < attempt.events.size(); ++i) {
        const Event& event = attempt.events[i];
        if (!stands[i] || event.step.empty() || event.text.empty()) continue;
        std::string& all = remarks[event.step];
        all += (all.empty() ? "" : " | ") + event.text;
    }
    return remarks;
}

}  // namespace

const std::vector<Entry<Line>>& stepEntries() {
    static const std::vector<Entry<Line>> entries = [] {
        std::vector<Entry<Line>> all = places();
        all.insert(all.end(), marks().begin(), marks().end());
        return all;
    }();
    return entries;
}

Result<void> writeSteps(const ExportedTrainee& trainee, const ExportedAttempt& attempt, TableSink& sink) {
    const ScoredAttempt& scored = attempt.scored;
    const auto remarks = remarksOf(scored.attempt);
    const std::vector<StepMarks> all = foldMarks(*scored.rubric, scored.attempt);
    std::unordered_map<std::string_view, const StepMarks*> marksOf;
    for (const StepMarks& marks : all) marksOf.emplace(marks.step, &marks);
    std::unordered_map<std::string_view, std::pair<const Zone*, const Step*>> stepOf;
    for (const Zone& zone : scored.rubric->zones)
        for (const Step& step : zone.steps) stepOf.emplace(step.id, std::pair(&zone, &step));
    const std::unordered_set<std::string_view> displaced(scored.card.displaced.begin(),
                                                         scored.card.displaced.end());
    static const StepMarks nothing;
    for (const StepScore& score : scored.card.steps) {
        const auto [zone, step] = stepOf.at(score.step);
        const auto marks = marksOf.find(score.step);
        const auto said = remarks.find(score.step);
        const Line line{trainee,
                        attempt,
                        *zone,
                        *step,
                        score,
                        marks == marksOf.end() ? nothing : *marks->second,
                        said == remarks.end() ? std::string_view() : said->second,
                        displaced.contains(score.step)};
        if (auto done = sink.row(TableId::Steps, rowOf(stepEntries(), line)); !done) return done;
    }
    return {};
}

}  // namespace markerlamp::core::columns
