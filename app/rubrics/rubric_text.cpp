// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/rubrics/rubric_text.h"

#include "app/support/display.h"

#include <QCoreApplication>
#include <QStringList>

#include <algorithm>

namespace markerlamp::app {

namespace {

class RubricText {
    Q_DECLARE_TR_FUNCTIONS(RubricText)
};

QString html(const std::string& text) {
    return qs(text).toHtmlEscaped();
}

QString small(const QString& inner, const RubricTextStyle& style) {
    return QStringLiteral("<span style='font-size:%1px;color:%2'>%3</span>")
        .arg(style.small)
        .arg(style.muted, inner);
}

QString head(const QString& title, const QString& remark, const RubricTextStyle& style) {
    return QStringLiteral(
               "<table width='100%' cellspacing='0' style='margin-top:10px;margin-bottom:4px'><tr>"
               "<td style='border-bottom:1px solid %1;font-size:%2px'><b>%3</b> &nbsp; %4</td></tr></table>")
        .arg(style.line)
        .arg(style.body)
        .arg(title.toHtmlEscaped(), small(remark.toHtmlEscaped(), style));
}

QString fact(const QString& label, const QString& value, const RubricTextStyle& style) {
    return QStringLiteral("<p style='margin:6px 0 0 0'>%1<br><span style='font-size:%2px'>%3</span></p>")
        .arg(small(label.toHtmlEscaped(), style))
        .arg(style.body)
        .arg(value);
}

QString titleOf(const core::Rubric& rubric, const std::string& entry) {
    if (entry.rfind("zone:", 0) == 0) {
        const core::Zone* zone = rubric.zone(entry.substr(5));
        return RubricText::tr("all of %1").arg(zone != nullptr ? qs(zone->title) : qs(entry));
    }
    const core::Step* step = rubric.step(entry);
    return step != nullptr ? qs(step->title) : qs(entry);
}

QString titles(const core::Rubric& rubric, const std::vector<std::string>& entries, const QString& between) {
    QStringList words;
    for (const std::string& entry : entries) words << titleOf(rubric, entry).toHtmlEscaped();
    return words.join(between);
}

}  // namespace

QString whenWords(const core::Rubric& rubric, const core::Step& step) {
    QStringList words;
    for (const std::string& tag : step.when) {
        const bool absent = !tag.empty() && tag.front() == '!';
        const std::string plain = absent ? tag.substr(1) : tag;
        QString title = qs(plain);
        for (const auto& [id, name] : rubric.equipment)
            if (id == plain) title = qs(name);
        words << (absent ? RubricText::tr("without: %1").arg(title) : title);
    }
    return words.join(RubricText::tr(", ", "between equipment"));
}

QString readingWords(const core::Rubric& rubric, const core::ReadingRule& reading) {
    QString text = qs(reading.quantity);
    const core::Limit* limit = reading.limit.empty() ? nullptr : rubric.limit(reading.limit);
    const QString bounds = limit != nullptr
                               ? boundsText(limit->low, limit->high, qs(limit->unit), limit->exclusive)
                               : boundsText(reading.low, reading.high, qs(reading.unit), reading.exclusive);
    if (!bounds.isEmpty()) text = RubricText::tr("%1: %2", "quantity: bounds").arg(text, bounds);
    if (limit != nullptr) text = RubricText::tr("%1, limit %2").arg(text, qs(limit->id));
    if (reading.required) text += RubricText::tr(", must be taken");
    return text;
}

QString numberWords(const core::Rubric& rubric, const core::PointNumber& number) {
    const core::Limit* limit = number.limit.empty() ? nullptr : rubric.limit(number.limit);
    QString text = limit != nullptr ? boundsText(limit->low, limit->high, qs(limit->unit))
                                    : boundsText(number.low, number.high, qs(number.unit));
    if (limit != nullptr) text = RubricText::tr("%1 (limit %2)").arg(text, qs(limit->id));
    if (number.tolerance > 0) text += RubricText::tr(", give or take %1").arg(numberText(number.tolerance));
    return text;
}

QString stepHtml(const core::Rubric& rubric, const core::Step& step, const RubricTextStyle& style) {
    QString out;
    if (!step.caution.empty())
        out += QStringLiteral(
                   "<table width='100%' cellpadding='6' cellspacing='0'><tr><td style='border:2px solid "
                   "%3'><b>%1</b> "
                   "%2</td></tr></table>")
                   .arg(RubricText::tr("Caution."), html(step.caution), style.ink);
    out += fact(RubricText::tr("Show"),
                step.show.empty() ? RubricText::tr("nothing to show") : html(step.show), style);
    QStringList marks;
    marks << RubricText::tr("weight %1").arg(step.weight)
          << RubricText::tr("%1 min").arg(numberText(step.minutes));
    if (step.mustPass) marks.prepend(QStringLiteral("<b>%1</b>").arg(RubricText::tr("must pass")));
    out += fact(RubricText::tr("Counts as"), marks.join(RubricText::tr(", ", "between facts")), style);
    const QString when = whenWords(rubric, step);
    out += fact(RubricText::tr("Asked when the bus has"),
                when.isEmpty() ? RubricText::tr("always asked") : when.toHtmlEscaped(), style);
    if (step.reading)
        out += fact(RubricText::tr("Reading"), readingWords(rubric, *step.reading).toHtmlEscaped(), style);

    if (!step.say.empty()) {
        const int all = static_cast<int>(step.say.size());
        out += head(RubricText::tr("Points to be said"),
                    step.sayNeeded >= all ? RubricText::tr("all %1").arg(all)
                                          : RubricText::tr("%1 of %2 needed").arg(step.sayNeeded).arg(all),
                    style);
        out += QLatin1String("<table width='100%' cellspacing='0' cellpadding='3'>");
        int number = 0;
        for (const core::Point& point : step.say) {
            out +=
                QStringLiteral("<tr><td width='22'><b>%1</b></td><td>%2").arg(++number).arg(html(point.text));
            if (point.number)
                out += QStringLiteral("<br>%1").arg(small(
                    RubricText::tr("number: %1").arg(numberWords(rubric, *point.number)).toHtmlEscaped(),
                    style));
            if (!point.like.empty()) {
                QStringList like;
                for (const std::string& other : point.like) like << html(other);
                out += QStringLiteral("<br>%1").arg(small(
                    RubricText::tr("also takes: %1").arg(like.join(RubricText::tr("; ", "between phrases"))),
                    style));
            }
            out += QLatin1String("</td></tr>");
        }
        out += QLatin1String("</table>");
    }
    QString sources = html(step.source);
    if (step.reading && !step.reading->limit.empty())
        if (const core::Limit* limit = rubric.limit(step.reading->limit);
            limit != nullptr && !limit->source.empty())
            sources += (sources.isEmpty() ? QString() : QStringLiteral("<br>")) +
                       RubricText::tr("limit %1: %2").arg(html(limit->id), html(limit->source));
    if (!sources.isEmpty()) out += fact(RubricText::tr("Source"), small(sources, style), style);
    return out;
}

QString zoneHtml(const core::Rubric& rubric, const core::Zone& zone, const RubricTextStyle& style) {
    double minutes = 0;
    int mustPass = 0;
    QStringList cautions;
    for (const core::Step& step : zone.steps) {
        minutes += step.minutes;
        mustPass += step.mustPass ? 1 : 0;
        if (!step.caution.empty() && !cautions.contains(html(step.caution))) cautions << html(step.caution);
    }
    QString out = fact(RubricText::tr("Steps"),
                       RubricText::tr("%1, of which %2 must pass; about %3 minutes")
                           .arg(zone.steps.size())
                           .arg(mustPass)
                           .arg(numberText(minutes)),
                       style);
    QStringList sections;
    for (const core::Section& section : rubric.sections)
        if (std::find(section.zones.begin(), section.zones.end(), zone.id) != section.zones.end())
            sections << html(section.title);
    if (!sections.isEmpty())
        out += fact(RubricText::tr("In the sections"), sections.join(RubricText::tr("; ")), style);
    if (!cautions.isEmpty())
        out += fact(RubricText::tr("Cautions"),
                    QStringLiteral("<b>%1</b>").arg(cautions.join(QStringLiteral("<br>"))), style);
    return out;
}

QString aboutHtml(const core::Rubric& rubric, const RubricTextStyle& style) {
    QString out = QStringLiteral("<p style='font-size:%1px'>%2</p>")
                      .arg(style.small)
                      .arg(html(rubric.about).replace(QLatin1Char('\n'), QLatin1String("<br>")));
    QString pass = RubricText::tr("%1 of the weight in scope, and every must-pass step")
                       .arg(percentText(rubric.pass.percent));
    if (rubric.pass.minutes)
        pass +=
            rubric.pass.minutesFail
                ? RubricText::tr("; longer than %1 minutes fails").arg(numberText(*rubric.pass.minutes))
                : RubricText::tr("; %1 minutes, longer is reported").arg(numberText(*rubric.pass.minutes));
    return out + fact(RubricText::tr("Pass rule"), pass, style);
}

QString rulesHtml(const core::Rubric& rubric, const std::vector<core::LimitSet>& limitSets,
                  const RubricTextStyle& style) {
    QString out =
        head(RubricText::tr("Order rules"),
             RubricText::tr("%n rule(s); the rest is free", nullptr, static_cast<int>(rubric.order.size())),
             style);
    for (const core::OrderRule& rule : rubric.order) {
        QStringList kind;
        kind << (rule.strict ? RubricText::tr("strict") : RubricText::tr("advice"));
        if (rule.mustPass) kind << RubricText::tr("must pass");
        const QString arrow = QStringLiteral(" &rarr; ");
        // Titles of steps have commas of their own.
        const QString between = RubricText::tr("; ", "between titles");
        const QString body = !rule.chain.empty() ? titles(rubric, rule.chain, arrow)
                                                 : RubricText::tr("%1 &rarr; %2", "first steps, then steps")
                                                       .arg(titles(rubric, rule.first, between),
                                                            titles(rubric, rule.then, between));
        out += QStringLiteral("<p style='margin:4px 0 8px 0'><b>%1</b> &nbsp; %2<br>%3")
                   .arg(html(rule.id), small(kind.join(RubricText::tr(", ")).toHtmlEscaped(), style), body);
        if (!rule.why.empty())
            out += QStringLiteral("<br>%1").arg(small(RubricText::tr("why: %1").arg(html(rule.why)), style));
        out += QLatin1String("</p>");
    }
    out += head(RubricText::tr("Sections"), RubricText::tr("what a test may draw"), style);
    for (const core::Section& section : rubric.sections) {
        QStringList zones;
        for (const std::string& id : section.zones)
            zones << (rubric.zone(id) != nullptr ? html(rubric.zone(id)->title) : html(id));
        out += QStringLiteral("<p style='margin:4px 0'><b>%1</b> &nbsp; %2<br>%3</p>")
                   .arg(html(section.title), small(percentText(100 * section.share), style),
                        small(zones.join(RubricText::tr(", ")), style));
    }
    if (!limitSets.empty()) {
        out += head(RubricText::tr("Limit sets in this file"), RubricText::tr("each makes a new edition"),
                    style);
        for (const core::LimitSet& set : limitSets) {
            QStringList limits;
            for (const core::Limit& limit : set.limits)
                limits << QStringLiteral("%1 %2").arg(
                    html(limit.id),
                    boundsText(limit.low, limit.high, qs(limit.unit), limit.exclusive).toHtmlEscaped());
            out += QStringLiteral("<p style='margin:4px 0'><b>%1</b><br>%2</p>")
                       .arg(html(set.title), small(limits.join(RubricText::tr("; ")), style));
        }
    }
    const auto warnings = core::rubricWarnings(rubric);
    out += head(RubricText::tr("Check"),
                warnings.empty() ? RubricText::tr("nothing to remark")
                                 : RubricText::tr("%n remark(s)", nullptr, static_cast<int>(warnings.size())),
                style);
    for (const core::Problem& warning : warnings)
        out +=
            QStringLiteral("<p style='margin:2px 0'>%1</p>").arg(small(html(core::toText(warning)), style));
    return out;
}

}  // namespace markerlamp::app
