// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "forms/sheets/wording.h"

#include <QCoreApplication>
#include <QDateTime>
#include <QLocale>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

namespace markerlamp::forms {

namespace {

using core::Reason;
using core::StepOutcome;

struct Words {
    Q_DECLARE_TR_FUNCTIONS(markerlamp::forms::Words)
};

QString text(const std::string& utf8) {
    return QString::fromStdString(utf8);
}

QString number(double value) {
    return QLocale().toString(value, 'g', QLocale::FloatingPointShortest);
}

QString stepTitle(const core::Rubric& rubric, const std::string& id) {
    const core::Step* step = rubric.step(id);
    return text(step ? step->title : id);
}

bool observed(const core::StepScore& score) {
    return score.outcome != StepOutcome::Unseen && score.outcome != StepOutcome::Unreached;
}

QString sentence(QString words) {
    if (!words.isEmpty() && !words.endsWith(QLatin1Char('.'))) words += QLatin1Char('.');
    return words;
}

/// A rule's `why` as the rest of a sentence.
QString because(const core::OrderRule* rule) {
    return rule && !rule->why.empty() ? Words::tr(" (%1)").arg(text(rule->why)) : QString();
}

const core::OrderRule* ruleOf(const core::Rubric& rubric, const std::string& id) {
    const auto found = std::find_if(rubric.order.begin(), rubric.order.end(),
                                    [&](const core::OrderRule& rule) { return rule.id == id; });
    return found == rubric.order.end() ? nullptr : &*found;
}

QString whyText(const core::ScoredAttempt& scored) {
    const core::Rubric& rubric = *scored.rubric;
    const core::Scorecard& card = scored.card;
    const QString mark = Words::tr("%1 %").arg(number(rubric.pass.percent));
    QStringList sentences;
    QStringList mustPass;
    QStringList unseen;
    bool below = false;
    for (const Reason& reason : card.reasons) {
        switch (reason.code) {
            case Reason::Code::BelowPercent:
                below = true;
                break;
            case Reason::Code::MustPass:
                mustPass << stepTitle(rubric, reason.step);
                break;
            case Reason::Code::StrictOrder:
                sentences
                    << Words::tr("The fixed order was broken%1.").arg(because(ruleOf(rubric, reason.rule)));
                break;
            case Reason::Code::OverTime:
                sentences << Words::tr("It took longer than the %1 minutes allowed.")
                                 .arg(number(rubric.pass.minutes.value_or(0)));
                break;
            case Reason::Code::Unseen:
                unseen << stepTitle(rubric, reason.step);
                break;
            case Reason::Code::Unfinished:
                sentences << Words::tr("The attempt was not finished.");
                break;
        }
    }
    if (!unseen.isEmpty())
        sentences.prepend(Words::tr("Must-pass, not observed: %1.").arg(unseen.join(QStringLiteral("; "))));
    if (!mustPass.isEmpty())
        sentences.prepend(Words::tr("Must-pass, not right: %1.").arg(mustPass.join(QStringLiteral("; "))));
    sentences.prepend(below ? Words::tr("The pass mark is %1.").arg(mark)
                            : Words::tr("The pass mark of %1 is reached.").arg(mark));
    const bool anyMustPass =
        std::any_of(card.steps.begin(), card.steps.end(), [&](const core::StepScore& score) {
            const core::Step* step = rubric.step(score.step);
            return step && step->mustPass;
        });
    if (anyMustPass && mustPass.isEmpty() && unseen.isEmpty() && card.possible > 0)
        sentences << Words::tr("Every must-pass step was right.");
    return sentences.join(QLatin1Char(' '));
}

QString countsText(const core::ScoredAttempt& scored) {
    const core::Rubric& rubric = *scored.rubric;
    int showable = 0, shown = 0, sayable = 0, explained = 0;
    std::map<StepOutcome, int> outcomes;
    for (const core::StepScore& score : scored.card.steps) {
        ++outcomes[score.outcome];
        const core::Step* step = rubric.step(score.step);
        if (!step || !observed(score)) continue;
        if (!step->show.empty()) {
            ++showable;
            if (score.shown) ++shown;
        }
        if (score.needed > 0) {
            ++sayable;
            if (score.said >= score.needed) ++explained;
        }
    }
    QStringList parts;
    if (showable > 0) parts << Words::tr("%1 of %2 shown").arg(shown).arg(showable);
    if (sayable > 0) parts << Words::tr("%1 of %2 fully explained").arg(explained).arg(sayable);
    const auto add = [&](int count, const QString& words) {
        if (count > 0) parts << QString::number(count) + QLatin1Char(' ') + words;
    };
    add(outcomes[StepOutcome::Omitted], Words::tr("left out"));
    add(outcomes[StepOutcome::Wrong], Words::tr("wrong"));
    add(outcomes[StepOutcome::Prompted], Words::tr("with help"));
    add(static_cast<int>(scored.card.displaced.size()), Words::tr("out of place"));
    if (scored.card.displaced.empty() && scored.card.possible > 0 && !rubric.order.empty())
        parts << Words::tr("none out of place");
    add(outcomes[StepOutcome::Unseen], Words::tr("not observed"));
    add(outcomes[StepOutcome::Unreached], Words::tr("not reached"));
    return sentence(parts.join(QStringLiteral(", ")));
}

}  // namespace

QString percentText(double percent, double passMark) {
    const double whole = std::round(percent);
    if (percent < passMark && whole >= passMark)
        return Words::tr("%1 %").arg(QLocale().toString(std::floor(percent * 10) / 10, 'f', 1));
    return Words::tr("%1 %").arg(QLocale().toString(whole, 'f', 0));
}

QString withUnit(const QString& figures, const std::string& unit) {
    if (unit.empty()) return figures;
    // Tyre tread is counted in 32nds: "4 1/32 in" would read as four and a bit.
    if (unit.rfind("1/", 0) == 0) return figures + text(unit.substr(1));
    if (unit == "degF" || unit == "degC")
        return figures + QStringLiteral(" \u00b0") + QLatin1Char(unit.back());
    return figures + QLatin1Char(' ') + text(unit);
}

QString valueText(double value, const std::string& unit) {
    return withUnit(number(value), unit);
}

QString limitText(const core::Limit& limit) {
    if (limit.low && limit.high) {
        QString high = valueText(*limit.high, limit.unit);
        if (*limit.low == *limit.high) return high;
        return (limit.exclusive ? Words::tr("between %1 and %2") : Words::tr("%1 to %2"))
            .arg(number(*limit.low), high);
    }
    if (limit.high)
        return (limit.exclusive ? Words::tr("under %1") : Words::tr("at most %1"))
            .arg(valueText(*limit.high, limit.unit));
    if (limit.low)
        return (limit.exclusive ? Words::tr("over %1") : Words::tr("at least %1"))
            .arg(valueText(*limit.low, limit.unit));
    return {};
}

QString conditionText(const core::Rubric& rubric, const core::Step& step) {
    QStringList with;
    QStringList without;
    for (const std::string& tag : step.when) {
        const bool negated = !tag.empty() && tag.front() == '!';
        const std::string name = negated ? tag.substr(1) : tag;
        const auto found = std::find_if(rubric.equipment.begin(), rubric.equipment.end(),
                                        [&](const auto& item) { return item.first == name; });
        (negated ? without : with) << text(found == rubric.equipment.end() ? name : found->second);
    }
    QStringList parts;
    if (!with.isEmpty()) parts << Words::tr("only with: %1").arg(with.join(QStringLiteral(", ")));
    if (!without.isEmpty()) parts << Words::tr("not with: %1").arg(without.join(QStringLiteral(", ")));
    return parts.join(QStringLiteral("; "));
}

ResultWords resultWords(const core::ScoredAttempt& scored) {
    const core::Scorecard& card = scored.card;
    int right = 0, seen = 0;
    bool weighted = false;
    for (const core::StepScore& score : card.steps) {
        const core::Step* step = scored.rubric->step(score.step);
        if (step && step->weight != 1) weighted = true;
        if (!observed(score)) continue;
        ++seen;
        if (score.outcome == StepOutcome::Satisfied) ++right;
    }
    ResultWords words;
    QString verdict;
    switch (card.result) {
        case core::AttemptResult::Pass:
            verdict = Words::tr("Meets the pass rule.");
            break;
        case core::AttemptResult::Fail:
            verdict = Words::tr("Does not meet the pass rule.");
            break;
        case core::AttemptResult::Incomplete:
            verdict = Words::tr("Not finished, no result yet.");
            break;
    }
    if (seen == 0) {
        words.headline = Words::tr("Nothing was observed. %1").arg(verdict);
    } else {
        const QString percent = percentText(card.percent, scored.rubric->pass.percent);
        words.headline = (weighted ? Words::tr("%1 of %2 steps right, %3 by weight. %4")
                                   : Words::tr("%1 of %2 steps right, %3. %4"))
                             .arg(QString::number(right), QString::number(seen), percent, verdict);
    }
    words.why = whyText(scored);
    words.counts = countsText(scored);
    return words;
}

std::vector<MustPassFact> mustPassFacts(const core::ScoredAttempt& scored) {
    const core::Rubric& rubric = *scored.rubric;
    std::map<std::string, const core::StepScore*> scores;
    for (const core::StepScore& score : scored.card.steps) scores[score.step] = &score;
    std::vector<MustPassFact> facts;
    for (const core::Zone& zone : rubric.zones) {
        int all = 0, right = 0, unseen = 0;
        for (const core::Step& step : zone.steps) {
            const auto found = scores.find(step.id);
            if (!step.mustPass || found == scores.end()) continue;
            ++all;
            if (!observed(*found->second))
                ++unseen;
            else if (found->second->outcome == StepOutcome::Satisfied)
                ++right;
        }
        if (all == 0) continue;
        const QString title = text(zone.title);
        if (right == all)
            facts.push_back(
                {MustPassFact::State::Clean, Words::tr("%1: must-pass clean, %2 of %2").arg(title).arg(all)});
        else if (right + unseen == all)
            facts.push_back(
                {MustPassFact::State::NotSeen,
                 Words::tr("%1: must-pass %2 of %3, %4 not observed")
                     .arg(title, QString::number(right), QString::number(all), QString::number(unseen))});
        else
            facts.push_back(
                {MustPassFact::State::Open, Words::tr("%1: must-pass %2 of %3")
                                                .arg(title, QString::number(right), QString::number(all))});
    }
    const auto& broken = scored.card.brokenRules;
    bool anyRule = false;
    bool kept = true;
    for (const core::OrderRule& rule : rubric.order) {
        if (!rule.strict || !rule.mustPass) continue;
        anyRule = true;
        if (std::find(broken.begin(), broken.end(), rule.id) != broken.end()) kept = false;
    }
    if (anyRule && scored.card.possible > 0)
        facts.push_back(kept ? MustPassFact{MustPassFact::State::Clean, Words::tr("fixed order kept")}
                             : MustPassFact{MustPassFact::State::Open, Words::tr("fixed order broken")});
    // What is open must be seen first.
    std::stable_sort(facts.begin(), facts.end(), [](const MustPassFact& a, const MustPassFact& b) {
        return (a.state != MustPassFact::State::Clean) > (b.state != MustPassFact::State::Clean);
    });
    return facts;
}

namespace {

/// Readings in another unit than the limit's are not compared.
bool liesOutside(double value, const std::string& unit, const core::Limit& limit) {
    if (!unit.empty() && unit != limit.unit) return false;
    if (limit.exclusive) return (limit.low && value <= *limit.low) || (limit.high && value >= *limit.high);
    return (limit.low && value < *limit.low) || (limit.high && value > *limit.high);
}

}  // namespace

QString nextTimeText(const core::ScoredAttempt& scored, const core::SayNext& next, bool full) {
    const core::Step* step = scored.rubric->step(next.step);
    QStringList sentences;
    if (next.outcome == StepOutcome::Wrong) {
        QStringList remarks;
        const std::vector<bool> standing = core::standingEvents(scored.attempt);
        for (std::size_t i = 0; i < scored.attempt.events.size(); ++i) {
            const core::Event& event = scored.attempt.events[i];
            if (!standing[i] || event.step != next.step) continue;
            if (event.kind == core::EventKind::Wrong && !event.text.empty()) remarks << text(event.text);
        }
        if (!remarks.isEmpty())
            sentences << Words::tr("Was wrong: %1.").arg(remarks.join(QStringLiteral("; ")));
        if (step) {
            const auto marks = core::foldMarks(*scored.rubric, scored.attempt);
            const auto mine = std::find_if(marks.begin(), marks.end(),
                                           [&](const core::StepMarks& one) { return one.step == next.step; });
            const auto limit = core::readingLimit(*scored.rubric, scored.attempt.header, *step);
            if (mine != marks.end() && mine->reading && limit && !mine->fault &&
                liesOutside(*mine->reading, mine->readingUnit, *limit))
                sentences << Words::tr("Read %1, limit %2: call it out when it is outside.")
                                 .arg(valueText(*mine->reading, mine->readingUnit), limitText(*limit));
        }
    }
    if (next.outcome == StepOutcome::Prompted)
        sentences << Words::tr("The same without help.");
    else if (next.notShown && step && !step->show.empty())
        sentences << (full ? sentence(text(step->show)) : Words::tr("Show it."));
    QStringList missing;
    for (const std::string& point : next.missing) missing << text(point);
    if (!missing.isEmpty()) {
        const QString said =
            QStringLiteral("\u201c") + missing.join(QStringLiteral("; ")) + QStringLiteral("\u201d");
        const int all = step ? static_cast<int>(step->say.size()) : 0;
        sentences << (step && step->sayNeeded < all
                          ? Words::tr("%1 (%2 of %3 points are enough)")
                                .arg(said, QString::number(step->sayNeeded), QString::number(all))
                          : said);
    }
    if (sentences.isEmpty() && step && step->reading)
        sentences << Words::tr("Read the gauge and say the number.");
    else if (sentences.isEmpty())
        sentences << Words::tr("Show and say all of it.");
    return sentences.join(QLatin1Char(' '));
}

std::vector<OrderRemark> orderRemarks(const core::ScoredAttempt& scored) {
    const core::Rubric& rubric = *scored.rubric;
    std::map<std::string, int> position;
    for (const core::StepScore& score : scored.card.steps) position[score.step] = score.position;
    std::vector<OrderRemark> remarks;
    std::set<std::string> told;
    for (const std::string& step : scored.card.displaced) {
        const core::OrderFault* early =
            nullptr;  // the step came too early: it belongs after the last of these
        const core::OrderFault* late = nullptr;  // it came too late: it belongs before the first of these
        for (const core::OrderFault& fault : scored.card.orderFaults) {
            if (fault.first == step && (!late || position[fault.then] < position[late->then])) late = &fault;
            if (fault.then == step && (!early || position[fault.first] > position[early->first]))
                early = &fault;
        }
        const core::OrderFault* fault = late ? late : early;
        if (!fault) continue;
        OrderRemark remark;
        remark.what =
            late ? Words::tr("%1 before %2").arg(stepTitle(rubric, step), stepTitle(rubric, late->then))
                 : Words::tr("%1 after %2").arg(stepTitle(rubric, step), stepTitle(rubric, early->first));
        // The reason once a rule is enough.
        const core::OrderRule* rule = ruleOf(rubric, fault->rule);
        if (rule && told.insert(fault->rule).second) remark.why = text(rule->why);
        remarks.push_back(std::move(remark));
    }
    return remarks;
}

QString dateTimeText(const std::string& iso) {
    const QDateTime when = QDateTime::fromString(text(iso), Qt::ISODate);
    return when.isValid() ? QLocale().toString(when, QStringLiteral("d MMM yyyy, HH:mm")) : text(iso);
}

QString cautionText() {
    return Words::tr(
        "Hood open: engine off, key out, nothing hot is opened. Before the parking brake is released: level "
        "ground, wheels chocked. Nobody under or in front of the bus while the engine is on.");
}

QString disclaimerText() {
    return Words::tr(
        "Training record. The official test, the state's manual, the maker's limits and the program's safety "
        "rules decide.");
}

}  // namespace markerlamp::forms
