// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/rubrics/edition_words.h"

#include "app/support/display.h"

#include <QCoreApplication>
#include <QLocale>
#include <QStringList>

#include <algorithm>
#include <cmath>
#include <set>

namespace markerlamp::app {

namespace {

using What = core::EditionChange::What;
using Act = core::EditionChange::Act;

class EditionWords {
    Q_DECLARE_TR_FUNCTIONS(EditionWords)
};

QString stepTitle(const core::Rubric& rubric, const std::string& id) {
    const core::Step* step = rubric.step(id);
    return step == nullptr ? qs(id) : qs(step->title);
}

QString fieldName(const std::string& field) {
    static const std::vector<std::pair<std::string, const char*>> names{
        {"title", QT_TRANSLATE_NOOP("EditionWords", "title")},
        {"about", QT_TRANSLATE_NOOP("EditionWords", "about")},
        {"show", QT_TRANSLATE_NOOP("EditionWords", "show")},
        {"say_needed", QT_TRANSLATE_NOOP("EditionWords", "points needed")},
        {"weight", QT_TRANSLATE_NOOP("EditionWords", "weight")},
        {"when", QT_TRANSLATE_NOOP("EditionWords", "only when the bus has")},
        {"reading", QT_TRANSLATE_NOOP("EditionWords", "reading")},
        {"minutes", QT_TRANSLATE_NOOP("EditionWords", "minutes")},
        {"caution", QT_TRANSLATE_NOOP("EditionWords", "caution")},
        {"source", QT_TRANSLATE_NOOP("EditionWords", "source")},
        {"text", QT_TRANSLATE_NOOP("EditionWords", "words")},
        {"like", QT_TRANSLATE_NOOP("EditionWords", "also takes")},
        {"number", QT_TRANSLATE_NOOP("EditionWords", "number")},
        {"bounds", QT_TRANSLATE_NOOP("EditionWords", "bounds")},
        {"percent", QT_TRANSLATE_NOOP("EditionWords", "pass mark")},
        {"order", QT_TRANSLATE_NOOP("EditionWords", "order")},
        {"why", QT_TRANSLATE_NOOP("EditionWords", "why")},
        {"zones", QT_TRANSLATE_NOOP("EditionWords", "zones")},
        {"share", QT_TRANSLATE_NOOP("EditionWords", "share")}};
    for (const auto& [key, name] : names)
        if (key == field) return EditionWords::tr(name);
    return qs(field);
}

/// A yes or no reads as what holds now.
QString flagInWords(const core::EditionChange& change) {
    const bool now = change.after == "true";
    if (change.field == "must_pass")
        return now ? EditionWords::tr("must pass now") : EditionWords::tr("need not pass any more");
    if (change.field == "strict")
        return now ? EditionWords::tr("strict now") : EditionWords::tr("advice now");
    if (change.field == "minutes_fail")
        return now ? EditionWords::tr("longer than allowed fails now")
                   : EditionWords::tr("longer than allowed is only reported now");
    return {};
}

}  // namespace

QString subjectOf(const core::EditionChange& change, const core::Rubric& after) {
    const QString title = qs(change.title);
    switch (change.what) {
        case What::Rubric:
            return EditionWords::tr("rubric");
        case What::Equipment:
            return EditionWords::tr("equipment %1").arg(title);
        case What::Pass:
            return EditionWords::tr("pass rule");
        case What::Limit:
            return EditionWords::tr("limit %1").arg(qs(change.id));
        case What::Zone:
            return EditionWords::tr("zone %1").arg(title);
        case What::Step:
            return EditionWords::tr("step %1").arg(title);
        case What::Point:
            return EditionWords::tr("%1: \"%2\"", "step, one of its points")
                .arg(stepTitle(after, change.step), title);
        case What::Rule:
            return EditionWords::tr("order rule %1").arg(qs(change.id));
        case What::Section:
            return EditionWords::tr("section %1").arg(title);
    }
    return {};
}

QString changeInWords(const core::EditionChange& change) {
    switch (change.act) {
        case Act::Added:
            return change.after.empty() ? EditionWords::tr("new")
                                        : EditionWords::tr("new: %1").arg(qs(change.after));
        case Act::Retired:
            return EditionWords::tr("retired");
        case Act::Moved:
            return change.field.empty()
                       ? EditionWords::tr("stands at another place")
                       : EditionWords::tr("moved to %1, from %2").arg(qs(change.after), qs(change.before));
        case Act::Changed:
            break;
    }
    if (QString flag = flagInWords(change); !flag.isEmpty()) return flag;
    const QString name = fieldName(change.field);
    if (change.before.empty())
        return EditionWords::tr("%1 new: %2", "field, value").arg(name, qs(change.after));
    if (change.after.empty()) return EditionWords::tr("%1 taken out, was: %2").arg(name, qs(change.before));
    return EditionWords::tr("%1: %2, was: %3", "field, now, before")
        .arg(name, qs(change.after), qs(change.before));
}

QString differenceInWords(const std::vector<core::EditionChange>& changes) {
    if (changes.empty()) return EditionWords::tr("nothing is different yet");
    const auto count = [&](What what, Act act, bool except = false) {
        std::set<std::pair<std::string, std::string>> ids;
        for (const core::EditionChange& change : changes)
            if (change.what == what && (change.act == act) != except) ids.insert({change.step, change.id});
        return static_cast<int>(ids.size());
    };
    QStringList words;
    const auto say = [&words](int n, const QString& text) {
        if (n > 0) words << text;
    };
    const auto three = [&](What what, const std::function<QString(int)>& added,
                           const std::function<QString(int)>& retired,
                           const std::function<QString(int)>& changed) {
        say(count(what, Act::Added), added(count(what, Act::Added)));
        say(count(what, Act::Retired), retired(count(what, Act::Retired)));
        std::set<std::pair<std::string, std::string>> ids;
        for (const core::EditionChange& change : changes)
            if (change.what == what && (change.act == Act::Changed || change.act == Act::Moved))
                ids.insert({change.step, change.id});
        say(static_cast<int>(ids.size()), changed(static_cast<int>(ids.size())));
    };
    three(
        What::Zone, [](int n) { return EditionWords::tr("%n zone(s) new", nullptr, n); },
        [](int n) { return EditionWords::tr("%n zone(s) retired", nullptr, n); },
        [](int n) { return EditionWords::tr("%n zone(s) changed", nullptr, n); });
    three(
        What::Step, [](int n) { return EditionWords::tr("%n step(s) new", nullptr, n); },
        [](int n) { return EditionWords::tr("%n step(s) retired", nullptr, n); },
        [](int n) { return EditionWords::tr("%n step(s) changed", nullptr, n); });
    three(
        What::Point, [](int n) { return EditionWords::tr("%n point(s) new", nullptr, n); },
        [](int n) { return EditionWords::tr("%n point(s) retired", nullptr, n); },
        [](int n) { return EditionWords::tr("%n point(s) changed", nullptr, n); });
    three(
        What::Limit, [](int n) { return EditionWords::tr("%n limit(s) new", nullptr, n); },
        [](int n) { return EditionWords::tr("%n limit(s) retired", nullptr, n); },
        [](int n) { return EditionWords::tr("%n limit(s) changed", nullptr, n); });
    three(
        What::Rule, [](int n) { return EditionWords::tr("%n order rule(s) new", nullptr, n); },
        [](int n) { return EditionWords::tr("%n order rule(s) retired", nullptr, n); },
        [](int n) { return EditionWords::tr("%n order rule(s) changed", nullptr, n); });
    if (std::ranges::any_of(changes, [](const auto& change) { return change.what == What::Pass; }))
        words << EditionWords::tr("another pass rule");
    if (std::ranges::any_of(changes, [](const auto& change) {
            return change.what == What::Rubric || change.what == What::Equipment ||
                   change.what == What::Section;
        }))
        words << EditionWords::tr("other words, equipment or sections");
    return words.join(EditionWords::tr(", ", "between counts"));
}

std::vector<Column> differenceColumns() {
    return {{EditionWords::tr("what")}, {EditionWords::tr("how it is different")}};
}

std::vector<Row> differenceRows(const std::vector<core::EditionChange>& changes, const core::Rubric& after) {
    std::vector<Row> rows;
    for (const core::EditionChange& change : changes) {
        Cell subject = longCell(subjectOf(change, after));
        subject.bold = change.act == Act::Retired || change.act == Act::Added;
        rows.push_back({qs(change.id), {subject, longCell(changeInWords(change))}});
    }
    return rows;
}

QString effectInWords(const core::EditionEffect& effect) {
    const int all = static_cast<int>(effect.results.size());
    if (all == 0) return EditionWords::tr("No attempt is stored yet: nothing can change.");
    const int changed = effect.changed();
    if (changed == 0) return EditionWords::tr("None of %n result(s) would change.", nullptr, all);
    QStringList how;
    const auto say = [&how](const QString& words, int n) {
        if (n > 0) how << words.arg(n);
    };
    say(EditionWords::tr("no longer pass: %1"), effect.noLongerPass());
    say(EditionWords::tr("now pass: %1"), effect.nowPass());
    say(EditionWords::tr("between failed and incomplete: %1"),
        changed - effect.noLongerPass() - effect.nowPass());
    return EditionWords::tr("%1 of %2 results would change (%3).")
        .arg(changed)
        .arg(all)
        .arg(how.join(EditionWords::tr(", ", "between counts")));
}

QString trialRemarks(const core::EditionEffect& effect, const std::vector<core::EditionChange>& changes,
                     core::NewThings newThings) {
    QStringList remarks;
    if (const int left = effect.withEventsLeftOut(); left > 0)
        remarks << EditionWords::tr(
            "Marks of steps and points that are no more were left out of %n attempt(s).", nullptr, left);
    const bool anythingNew = std::ranges::any_of(changes, [](const core::EditionChange& change) {
        return change.act == Act::Added && (change.what == What::Step || change.what == What::Point);
    });
    if (anythingNew)
        remarks << (newThings == core::NewThings::TakeNoPart
                        ? EditionWords::tr("New steps and points take no part: nobody was asked for them.")
                        : EditionWords::tr("New steps and points count as if everybody had left them out."));
    return remarks.join(QLatin1Char(' '));
}

QString signedText(double value) {
    const double tenths = std::round(value * 10) / 10;
    QString digits = QLocale().toString(std::abs(tenths), 'f', 1);
    if (tenths == 0) return digits;
    return (tenths < 0 ? QStringLiteral("\u2212") : QStringLiteral("+")) + digits;
}

std::vector<Column> effectColumns() {
    return {{EditionWords::tr("trainee")},
            {EditionWords::tr("day")},
            {EditionWords::tr("edition"), true},
            {EditionWords::tr("result")},
            {EditionWords::tr("percent"), true},
            {EditionWords::tr("would be")},
            {EditionWords::tr("percent"), true},
            {EditionWords::tr("change"), true},
            {EditionWords::tr("marks left out"), true}};
}

std::vector<Row> effectRows(const core::EditionEffect& effect, bool onlyChanged, const NameOf& nameOf) {
    std::vector<const core::TrialResult*> shown;
    for (const core::TrialResult& result : effect.results)
        if (!onlyChanged || result.resultChanges()) shown.push_back(&result);
    std::ranges::stable_sort(
        shown, [](const auto* a, const auto* b) { return startedAt(a->started) < startedAt(b->started); });
    std::vector<Row> rows;
    const auto number = [](double value) { return QLocale().toString(value, 'f', 1); };
    for (const core::TrialResult* one : shown)
        rows.push_back({qs(one->attempt),
                        {longCell(nameOf(one->trainee)),
                         {longDate(startedAt(one->started).date())},
                         {QString::number(one->edition)},
                         {resultWord(one->before)},
                         {number(one->percentBefore)},
                         boldCell(resultWord(one->after), one->resultChanges()),
                         {number(one->percentAfter)},
                         {signedText(one->percentAfter - one->percentBefore)},
                         {one->eventsLeftOut == 0 ? QString() : QString::number(one->eventsLeftOut)}}});
    return rows;
}

QString problemInWords(const core::Problem& problem, const Draft& draft) {
    const core::DraftPlace place = core::placeOfProblem(draft.rubric(), problem);
    QString where;
    if (!place.point.empty()) {
        const core::Step* step = draft.rubric().step(place.step);
        const auto at = std::ranges::find(step->say, place.point, &core::Point::id) - step->say.begin();
        where = EditionWords::tr("%1, point %2").arg(draft.titleOfStep(qs(place.step))).arg(at + 1);
    } else if (!place.step.empty()) {
        where = draft.titleOfStep(qs(place.step));
    } else if (!place.zone.empty()) {
        where = EditionWords::tr("zone %1").arg(draft.titleOfZone(qs(place.zone)));
    } else if (!place.limit.empty()) {
        where = EditionWords::tr("limit %1").arg(qs(place.limit));
    } else if (!place.rule.empty()) {
        where = EditionWords::tr("order rule %1").arg(qs(place.rule));
    } else if (!place.section.empty()) {
        where = EditionWords::tr("section %1").arg(qs(place.section));
    }
    if (problem.path == "order" && !draft.check().circle.steps.empty())
        return EditionWords::tr("The order rules go in a circle: %1").arg(draft.circleInWords());
    const QString what = EditionWords::tr("%1; %2", "what is wrong, what would be right")
                             .arg(qs(problem.message), qs(problem.remedy));
    return where.isEmpty() ? what : EditionWords::tr("%1: %2", "place, what is wrong").arg(where, what);
}

}  // namespace markerlamp::app
