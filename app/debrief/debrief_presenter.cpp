// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/debrief/debrief_presenter.h"

#include "app/printing/sheet_signing.h"
#include "app/shell/session.h"
#include "app/support/blind.h"
#include "app/support/display.h"
#include "app/support/names.h"
#include "core/agreement/attempt_code.h"
#include "forms/sheets/plan_layout.h"
#include "forms/sheets/wording.h"

#include <QCoreApplication>
#include <QRegularExpression>

#include <algorithm>
#include <map>

namespace markerlamp::app {

namespace {

using core::StepOutcome;

class DebriefText {
    Q_DECLARE_TR_FUNCTIONS(DebriefText)
};

bool observed(StepOutcome outcome) {
    return outcome != StepOutcome::Unseen && outcome != StepOutcome::Unreached;
}

std::vector<CountFact> countFacts(const core::Rubric& rubric, const core::Scorecard& card) {
    int shown = 0, shownOf = 0, explained = 0, explainedOf = 0;
    std::map<StepOutcome, int> outcomes;
    for (const core::StepScore& score : card.steps) {
        ++outcomes[score.outcome];
        if (!observed(score.outcome)) continue;
        const core::Step* step = rubric.step(score.step);
        if (!step->show.empty()) {
            ++shownOf;
            shown += score.shown ? 1 : 0;
        }
        if (!step->say.empty()) {
            ++explainedOf;
            explained += score.said >= score.needed ? 1 : 0;
        }
    }
    std::vector<CountFact> facts{
        {shown, DebriefText::tr("of %1 shown").arg(shownOf)},
        {explained, DebriefText::tr("of %1 explained").arg(explainedOf)},
        {outcomes[StepOutcome::Omitted], DebriefText::tr("omitted")},
        {outcomes[StepOutcome::Wrong], DebriefText::tr("wrong")},
        {outcomes[StepOutcome::Prompted], DebriefText::tr("with help")},
        {static_cast<int>(card.displaced.size()), DebriefText::tr("out of place")},
        {outcomes[StepOutcome::Unseen], DebriefText::tr("not observed")},
    };
    if (outcomes[StepOutcome::Unreached] > 0)
        facts.push_back({outcomes[StepOutcome::Unreached], DebriefText::tr("not reached")});
    return facts;
}

/// One line for each zone with must-pass steps, those that failed first; at most two, then how many in a row
/// were clean.
std::vector<MustPassFact> mustPassFacts(const core::Rubric& rubric, const core::Scorecard& card,
                                        const std::vector<core::ScoredAttempt>& history) {
    std::vector<MustPassFact> facts;
    for (const core::Zone& zone : rubric.zones) {
        int of = 0, met = 0, unseen = 0;
        for (const core::StepScore& score : card.steps) {
            if (score.zone != zone.id || !rubric.step(score.step)->mustPass) continue;
            ++of;
            if (score.outcome == StepOutcome::Satisfied) ++met;
            if (!observed(score.outcome)) ++unseen;
        }
        if (of == 0) continue;
        const QString title = qs(zone.title);
        if (met == of)
            facts.push_back({DebriefText::tr("%1: must-pass clean").arg(title), forms::LampState::Lit});
        else if (met + unseen == of)
            facts.push_back(
                {DebriefText::tr("%1: must-pass not all seen").arg(title), forms::LampState::Half});
        else
            facts.push_back({DebriefText::tr("%1: %2 of %3 must-pass").arg(title).arg(met).arg(of),
                             forms::LampState::Open});
    }
    const auto rank = [](const MustPassFact& fact) {
        return fact.state == forms::LampState::Open ? 0 : fact.state == forms::LampState::Half ? 1 : 2;
    };
    std::stable_sort(facts.begin(), facts.end(),
                     [&rank](const auto& a, const auto& b) { return rank(a) < rank(b); });
    if (facts.empty()) return facts;
    const int hidden = static_cast<int>(facts.size()) - 2;
    if (hidden > 0) {
        const int stillOpen = static_cast<int>(std::count_if(
            facts.begin() + 2, facts.end(), [&rank](const auto& fact) { return rank(fact) < 2; }));
        facts.resize(2);
        if (stillOpen > 0)
            facts.push_back(
                {DebriefText::tr("%n more zone(s) not clean", nullptr, stillOpen), forms::LampState::Open});
        else
            facts.push_back(
                {DebriefText::tr("%n more zone(s) clean", nullptr, hidden), forms::LampState::Lit});
    }
    const int row = core::cleanMustPassInARow(history);
    facts.push_back({DebriefText::tr("clean in a row: %1").arg(row),
                     row == 0 ? forms::LampState::Open : forms::LampState::Lit});
    return facts;
}

std::vector<PlanFact> planFacts(const core::Rubric& rubric, const core::Scorecard& card) {
    std::vector<PlanFact> plan;
    const auto cells = forms::planCells(rubric);
    for (std::size_t i = 0; i < rubric.zones.size(); ++i) {
        PlanFact fact;
        fact.title = qs(rubric.zones[i].title);
        fact.column = cells[i].column;
        fact.row = cells[i].row;
        for (const core::StepScore& score : card.steps) {
            if (score.zone != rubric.zones[i].id) continue;
            fact.inScope = true;
            if (!observed(score.outcome)) continue;
            ++fact.observed;
            fact.satisfied += score.outcome == StepOutcome::Satisfied ? 1 : 0;
        }
        fact.weak = fact.observed > 0 && 100.0 * fact.satisfied < rubric.pass.percent * fact.observed - 1e-9;
        plan.push_back(fact);
    }
    return plan;
}

/// Numbers stand out: they are what a trainee gets wrong most.
QString withBoldNumbers(const QString& plain) {
    static const QRegularExpression number(QStringLiteral(
        "(\\d+(?:[.,/]\\d+)?(?: ?(?:to|-) ?\\d+(?:[.,/]\\d+)?)?"
        "(?: ?(?:psi|inch(?:es)?|in\\b|seconds?|minutes?|feet|ft|degrees|volts?|F\\b|V\\b|%))?)"));
    return plain.toHtmlEscaped().replace(number, QStringLiteral("<b>\\1</b>"));
}

void fillSentence(MissedLine& line, const core::Step* step) {
    const core::SayNext& say = line.say;
    QStringList points;
    for (const std::string& text : say.missing) points << qs(text);
    const int most = 3;
    const int more = static_cast<int>(points.size()) - most;
    QString joined = QStringList(points.mid(0, most)).join(DebriefText::tr("; ", "between points to say"));
    if (more > 0) joined += DebriefText::tr("; and %n more", nullptr, more);
    if (!points.isEmpty()) {
        line.missing = joined;
        line.sentence = DebriefText::tr("“%1.”").arg(withBoldNumbers(joined));
        if (say.outcome == StepOutcome::Prompted)
            line.sentence = DebriefText::tr("The same without help. Say %1").arg(line.sentence);
        else if (say.notShown && step != nullptr && !step->show.empty())
            line.sentence = DebriefText::tr("Show it, and say %1").arg(line.sentence);
        return;
    }
    if (say.notShown && say.outcome != StepOutcome::Prompted && step != nullptr && !step->show.empty()) {
        line.missing = DebriefText::tr("to be shown: %1").arg(qs(step->show));
        line.sentence = DebriefText::tr("Show: %1.").arg(withBoldNumbers(qs(step->show)));
    } else if (say.outcome == StepOutcome::Prompted) {
        line.missing = DebriefText::tr("done with help");
        line.sentence = DebriefText::tr("Complete, but with help: do it once more <b>without a prompt</b>.");
    } else if (say.outcome == StepOutcome::Wrong) {
        line.missing = DebriefText::tr("something wrong was said or done");
        line.sentence =
            DebriefText::tr("Something here was <b>wrong</b>: see the notes, and go over it together.");
    } else {
        line.missing = DebriefText::tr("not complete");
        line.sentence = DebriefText::tr("Not complete: go over it together.");
    }
}

/// Why it did not pass, besides the percentage; steps of one kind together.
QString reasonLine(const core::Rubric& rubric, const core::Scorecard& card) {
    QStringList missed, unseen, others;
    for (const core::Reason& reason : card.reasons) {
        const core::Step* step = rubric.step(reason.step);
        const QString title = step != nullptr ? qs(step->title) : QString();
        if (reason.code == core::Reason::Code::BelowPercent) continue;  // the line above says it
        if (reason.code == core::Reason::Code::MustPass)
            missed << title;
        else if (reason.code == core::Reason::Code::Unseen)
            unseen << title;
        else
            others << reasonText(reason, rubric, card);
    }
    // Titles of steps have commas of their own.
    const QString between = DebriefText::tr("; ", "between titles");
    QStringList parts;
    if (!missed.isEmpty()) parts << DebriefText::tr("must pass: %1").arg(missed.join(between));
    if (!unseen.isEmpty()) parts << DebriefText::tr("must pass, not observed: %1").arg(unseen.join(between));
    return (parts + others).join(DebriefText::tr(".  ", "between reasons"));
}

std::vector<NoteLine> noteLines(const core::ScoredAttempt& scored) {
    std::vector<NoteLine> lines;
    const core::Rubric& rubric = *scored.rubric;
    const std::vector<bool> stands = core::standingEvents(scored.attempt);
    for (std::size_t i = 0; i < scored.attempt.events.size(); ++i) {
        const core::Event& event = scored.attempt.events[i];
        if (!stands[i]) continue;
        const core::Step* step = rubric.step(event.step);
        const QString title = step != nullptr ? qs(step->title) : QString();
        switch (event.kind) {
            case core::EventKind::Note:
                if (event.by.empty()) lines.push_back({DebriefText::tr("note"), title, qs(event.text)});
                break;
            case core::EventKind::Fault:
                lines.push_back({DebriefText::tr("defect called out"), title,
                                 event.text.empty() ? DebriefText::tr("report it as your program asks")
                                                    : qs(event.text)});
                break;
            case core::EventKind::Wrong: {
                QString what = qs(event.text);
                if (what.isEmpty() && step != nullptr)
                    for (const core::Point& point : step->say)
                        if (point.id == event.point) what = DebriefText::tr("wrong: %1").arg(qs(point.text));
                if (!what.isEmpty()) lines.push_back({DebriefText::tr("wrong"), title, what});
                break;
            }
            case core::EventKind::Reading: {
                QString text = forms::withUnit(numberText(event.value.value_or(0)), event.unit);
                if (step != nullptr)
                    if (const auto limit = core::readingLimit(rubric, scored.attempt.header, *step)) {
                        const QString bounds =
                            boundsText(limit->low, limit->high, qs(limit->unit), limit->exclusive);
                        if (!bounds.isEmpty()) text = DebriefText::tr("%1, limit %2").arg(text, bounds);
                    }
                lines.push_back({DebriefText::tr("reading"), title, text});
                break;
            }
            default:
                break;
        }
    }
    return lines;
}

std::vector<Amendment> amendmentsOf(const core::Attempt& attempt) {
    std::vector<Amendment> list;
    for (const core::Event& event : attempt.events) {
        if (event.by.empty()) continue;
        if (list.empty() || list.back().at != qs(event.at) || list.back().by != qs(event.by))
            list.push_back({qs(event.by), qs(event.at), {}});
        if (event.kind == core::EventKind::Note && list.back().reason.isEmpty())
            list.back().reason = qs(event.text);
    }
    return list;
}

}  // namespace

QString marksWords(const core::StepMarks& marks) {
    QStringList words;
    const bool gap = marks.omitted || marks.unseen || marks.unreached;
    if (marks.omitted) words << DebriefText::tr("omitted");
    if (marks.unseen) words << DebriefText::tr("not observed");
    if (marks.unreached) words << DebriefText::tr("not reached");
    if (marks.hasShow && !gap)
        words << (marks.shown ? DebriefText::tr("shown") : DebriefText::tr("not shown"));
    if (!marks.points.empty() && !gap) {
        const auto said = std::count(marks.points.begin(), marks.points.end(), core::PointMark::Said);
        const auto wrong = std::count(marks.points.begin(), marks.points.end(), core::PointMark::Wrong);
        if (marks.partly && said == 0)
            words << DebriefText::tr("partly said");
        else
            words << DebriefText::tr("%1 of %2 points said").arg(said).arg(marks.points.size());
        if (wrong > 0) words << DebriefText::tr("%n point(s) wrong", nullptr, static_cast<int>(wrong));
    }
    if (marks.wrong) words << DebriefText::tr("wrong");
    if (marks.fault) words << DebriefText::tr("defect called out");
    if (marks.prompts > 0) words << DebriefText::tr("prompted");
    if (marks.amended) words << DebriefText::tr("amended");
    return words.join(DebriefText::tr(", ", "between facts"));
}

Debrief makeDebrief(const std::vector<core::ScoredAttempt>& history, const DebriefNames& names,
                    bool counted) {
    Debrief debrief;
    const core::ScoredAttempt& scored = history.back();
    const core::Rubric& rubric = *scored.rubric;
    const core::Scorecard& card = scored.card;
    const core::AttemptHeader& header = scored.attempt.header;
    debrief.scored = scored;
    debrief.attempt = qs(header.id);
    debrief.traineeKey = qs(header.trainee);
    debrief.traineeName = names.trainee;
    debrief.code = qs(core::attemptCode(header.id));
    debrief.number = counted ? static_cast<int>(history.size()) : 0;
    debrief.ended = core::isEnded(scored.attempt);
    debrief.passPercent = rubric.pass.percent;

    const QDateTime start = startedAt(header.started);
    const QString when = DebriefText::tr("%1, %2", "date, time of day")
                             .arg(longDate(start.date()), start.time().toString(QStringLiteral("HH:mm")));
    debrief.facts << (debrief.number > 0 ? DebriefText::tr("Attempt %1, %2").arg(debrief.number).arg(when)
                                         : when)
                  << names.bus << DebriefText::tr("Instructor %1").arg(names.instructor)
                  << DebriefText::tr("edition %1").arg(header.edition)
                  << DebriefText::tr("code %1").arg(debrief.code)
                  << (rubric.pass.minutes
                          ? DebriefText::tr("%1 of %2")
                                .arg(clockText(card.seconds), clockText(*rubric.pass.minutes * 60))
                          : clockText(card.seconds));
    if (!debrief.ended) debrief.facts << DebriefText::tr("not finished");

    debrief.result = resultWord(card.result);
    debrief.resultLine = DebriefText::tr("%1 satisfied (%2 of %3), pass mark %4")
                             .arg(percentText(card.percent))
                             .arg(card.earned)
                             .arg(card.possible)
                             .arg(percentText(rubric.pass.percent));
    debrief.reasons = reasonLine(rubric, card);
    debrief.counts = countFacts(rubric, card);
    debrief.mustPass = mustPassFacts(rubric, card, history);
    debrief.plan = planFacts(rubric, card);
    debrief.planRows = forms::planRowCount(forms::planCells(rubric));
    debrief.order = orderPicture(scored);
    debrief.notes = noteLines(scored);
    debrief.amendments = amendmentsOf(scored.attempt);

    std::map<std::string, core::StepMarks> marks;
    for (core::StepMarks& mark : core::foldMarks(rubric, scored.attempt)) {
        std::string id = mark.step;
        marks.emplace(std::move(id), std::move(mark));
    }
    for (core::SayNext& say : core::sayNextTime(history)) {
        MissedLine line;
        line.rank = static_cast<int>(debrief.missed.size()) + 1;
        const core::Step* step = rubric.step(say.step);
        line.sign = forms::signState(marks[say.step], say.mustPass);
        line.lampWords = marksWords(marks[say.step]);
        line.say = std::move(say);
        fillSentence(line, step);
        if (step != nullptr && !step->caution.empty()) {
            line.caution = qs(step->caution);
        }
        debrief.missed.push_back(std::move(line));
    }
    return debrief;
}

core::Result<Debrief> loadDebrief(Session& session, const QString& attemptId) {
    const auto infos = session.file().attempts();
    if (!infos) return core::fail(infos.error());
    if (hiddenFrom(*infos).contains(ss(attemptId))) return core::fail(core::ErrorKind::Busy, hiddenReason());
    auto scored = session.scored(attemptId);
    if (!scored) return core::fail(scored.error());
    const core::AttemptHeader header = scored->attempt.header;
    auto history = session.history(qs(header.trainee), attemptId);
    if (!history) return core::fail(history.error());
    const bool counted = !history->empty() && history->back().attempt.header.id == header.id;
    if (counted)
        history->back() = std::move(*scored);  // the same, with the steps that are always out of place
    else
        history->push_back(std::move(*scored));

    DebriefNames names{qs(header.trainee), qs(header.instructor), qs(header.bus)};
    if (const auto trainee = session.file().trainee(header.trainee); trainee && *trainee)
        names.trainee = qs((*trainee)->name.empty() ? (*trainee)->key : (*trainee)->name);
    names.instructor = instructorName(session.file(), header.instructor);
    names.bus = busName(session.file(), header.bus);
    Debrief debrief = makeDebrief(*history, names, counted);
    for (Amendment& amendment : debrief.amendments)
        amendment.by = instructorName(session.file(), ss(amendment.by));
    const auto sheet = sheetOf(session, attemptId);
    if (!sheet) return core::fail(sheet.error());
    if (const QString words = sheetWords(*sheet); !words.isEmpty()) debrief.facts << words;
    return debrief;
}

core::Result<std::vector<core::Event>> amendmentEvents(const core::ScoredAttempt& scored,
                                                       const std::vector<OutcomeChange>& changes,
                                                       const QString& reason, const QString& by,
                                                       const std::string& at) {
    if (!core::isEnded(scored.attempt))
        return core::fail(core::ErrorKind::Refused,
                          ss(DebriefText::tr("only a finished attempt can be amended; finish it first")));
    if (reason.trimmed().isEmpty())
        return core::fail(core::ErrorKind::Refused, ss(DebriefText::tr("an amendment needs its reason")));
    if (by.isEmpty())
        return core::fail(core::ErrorKind::Refused,
                          ss(DebriefText::tr("say who amends: choose an instructor")));
    auto recorder = core::Recorder::resume(scored.rubric, scored.attempt);
    if (!recorder) return core::fail(recorder.error());
    recorder->amendAs(ss(by), at);
    const double t = scored.attempt.events.empty() ? 0 : scored.attempt.events.back().t;
    std::vector<core::Event> events;
    const auto take = [&events](core::Result<std::vector<core::Event>> added) -> core::Result<void> {
        if (!added) return core::fail(added.error());
        events.insert(events.end(), added->begin(), added->end());
        return {};
    };
    if (auto done = take(recorder->note({}, ss(reason.trimmed()), t)); !done) return core::fail(done.error());
    for (const OutcomeChange& change : changes) {
        const std::string step = ss(change.step);
        if (change.wrong) {
            // A second press would take back the first.
            const core::StepMarks* marks = recorder->marksOf(step);
            if (marks != nullptr && marks->wrong) continue;
        }
        auto done = take(change.wrong ? recorder->wrong(step, -1, {}, t)
                                      : recorder->outcome(step, change.outcome, t, change.prompted));
        if (!done) return core::fail(done.error());
    }
    return events;
}

}  // namespace markerlamp::app
