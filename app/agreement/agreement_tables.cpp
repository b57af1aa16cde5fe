// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/agreement/agreement_tables.h"

#include "app/support/display.h"
#include "core/agreement/attempt_code.h"

#include <QCoreApplication>

#include <cmath>

namespace markerlamp::app {

namespace {

struct AgreementText {
    Q_DECLARE_TR_FUNCTIONS(AgreementText)
};

QString twoDecimals(double value) {
    return QString::number(value, 'f', 2);
}

QString optionalText(const std::optional<double>& value) {
    return value ? twoDecimals(*value) : AgreementText::tr("undefined");
}

QString signedText(double value) {
    const QString text = QString::number(std::abs(value), 'f', 1);
    return value < -0.05 ? QStringLiteral("-") + text : value > 0.05 ? QStringLiteral("+") + text : text;
}

QString measureWords(const core::Agreement& a, const QString& what, const QString& first,
                     const QString& second) {
    if (a.steps == 0 || !a.share || a.counts.size() != 2)
        return AgreementText::tr("%1: no step that both observed.").arg(what);
    QString words =
        AgreementText::tr("%1: both yes %2, only %3 %4, only %5 %6, both no %7; alike %8 of the steps")
            .arg(what)
            .arg(a.counts[1][1])
            .arg(first)
            .arg(a.counts[1][0])
            .arg(second)
            .arg(a.counts[0][1])
            .arg(a.counts[0][0])
            .arg(figureText(*a.share, a.interval));
    words += a.alpha ? AgreementText::tr("; alpha %1.").arg(figureText(*a.alpha, a.alphaInterval))
                     : AgreementText::tr("; all marked alike, no coefficient.");
    return words;
}

QString clockWords(const core::ScoringPair& compared, const QString& second) {
    if (compared.commonSteps == 0)
        return AgreementText::tr("no step that both marked, so the clocks stand as they are");
    const QString apart = QString::number(std::abs(compared.behind), 'f', 1);
    if (std::abs(compared.behind) < 0.05)
        return AgreementText::tr("clocks alike over %n step(s)", nullptr, compared.commonSteps);
    return compared.behind > 0
               ? AgreementText::tr("clock of %1 %2 s later, over %n step(s)", nullptr, compared.commonSteps)
                     .arg(second, apart)
               : AgreementText::tr("clock of %1 %2 s earlier, over %n step(s)", nullptr, compared.commonSteps)
                     .arg(second, apart);
}

QString whyWords(WaitingScoring::Why why) {
    switch (why) {
        case WaitingScoring::Why::SecondOpen:
            return AgreementText::tr("the second scoring is not closed");
        case WaitingScoring::Why::FirstOpen:
            return AgreementText::tr("the first scoring is not closed");
        case WaitingScoring::Why::OtherEdition:
            return AgreementText::tr("scored with another edition of the rubric");
        case WaitingScoring::Why::FirstMissing:
            break;
    }
    return AgreementText::tr("the first scoring is not in this file: import it");
}

}  // namespace

QString figureText(double value, const std::optional<core::Interval>& interval) {
    if (!interval) return twoDecimals(value);
    return AgreementText::tr("%1 (%2 to %3)", "figure with interval")
        .arg(twoDecimals(value), twoDecimals(interval->low), twoDecimals(interval->high));
}

QStringList pairFacts(const AgreementModel& model) {
    const PairOnFile* pair = model.pair();
    if (pair == nullptr) return {};
    const core::AttemptHeader &first = pair->first.attempt.header, &second = pair->second.attempt.header;
    const QDateTime began = startedAt(first.started), again = startedAt(second.started);
    const bool live = qAbs(began.secsTo(again)) < 12 * 3600;
    QStringList facts{AgreementText::tr("%1, %2", "trainee, date")
                          .arg(model.trainee(first.trainee), longDate(began.date()))};
    facts << (live ? AgreementText::tr("%1 and %2 scored live")
                         .arg(model.instructor(first.instructor), model.instructor(second.instructor))
                   : AgreementText::tr("%1 scored live, %2 later")
                         .arg(model.instructor(first.instructor), model.instructor(second.instructor)));
    facts << clockWords(model.compared(), model.secondMark());
    if (pair->settled)
        facts << AgreementText::tr("settled %1 by %2")
                     .arg(longDate(startedAt(pair->settled->at).date()), model.instructor(pair->settled->by));
    return facts;
}

QString differenceRemark(const core::ScoringPair& pair) {
    QString words = AgreementText::tr("%1 of %n step(s)", nullptr, pair.observedByBoth).arg(pair.differing);
    if (pair.observedByOne > 0)
        words += AgreementText::tr(", and %n that one did not observe", nullptr, pair.observedByOne);
    return words;
}

QString waitingWords(const std::vector<WaitingScoring>& waiting) {
    QStringList lines;
    for (const WaitingScoring& one : waiting)
        lines
            << AgreementText::tr("%1: %2", "attempt code: why it waits").arg(qs(one.code), whyWords(one.why));
    return lines.isEmpty() ? QString()
                           : AgreementText::tr("Not compared yet: %1.").arg(lines.join(QStringLiteral("; ")));
}

QString resampledWords(const core::Agreement& agreement) {
    if (agreement.byAttempt)
        return AgreementText::tr("95 % interval: %n attempt(s) resampled.", nullptr, agreement.attempts);
    return agreement.attempts == 1
               ? AgreementText::tr(
                     "95 % interval. One attempt only: its steps were resampled, so the intervals "
                     "are somewhat too narrow.")
               : AgreementText::tr(
                     "95 % interval. Fewer than 8 shared attempts: steps were resampled, so the "
                     "intervals are somewhat too narrow.");
}

QString agreementWords(const core::Agreement& shown, const core::Agreement& said, const QString& first,
                       const QString& second) {
    return measureWords(shown, AgreementText::tr("Shown"), first, second) + QLatin1Char(' ') +
           measureWords(said, AgreementText::tr("Said, as much as is needed"), first, second);
}

DataTable agreementTable(const QString& title, const core::Agreement& shown, const core::Agreement& said) {
    DataTable table{title,
                    {{AgreementText::tr("figure")},
                     {AgreementText::tr("shown"), true},
                     {AgreementText::tr("said in full"), true}},
                    {}};
    const auto row = [&](const QString& what, auto figure) {
        table.rows.push_back({what, {Cell{what}, Cell{figure(shown)}, Cell{figure(said)}}});
    };
    const auto count = [](int i, int j) {
        return [i, j](const core::Agreement& a) {
            const auto r = static_cast<std::size_t>(i), c = static_cast<std::size_t>(j);
            return a.counts.size() == 2 ? QString::number(a.counts[r][c]) : QString();
        };
    };
    row(AgreementText::tr("attempts"), [](const auto& a) { return QString::number(a.attempts); });
    row(AgreementText::tr("steps that both observed"),
        [](const auto& a) { return QString::number(a.steps); });
    row(AgreementText::tr("both yes"), count(1, 1));
    row(AgreementText::tr("first yes, second no"), count(1, 0));
    row(AgreementText::tr("first no, second yes"), count(0, 1));
    row(AgreementText::tr("both no"), count(0, 0));
    row(AgreementText::tr("marked alike (observed agreement), 95 % interval"),
        [](const auto& a) { return a.share ? figureText(*a.share, a.interval) : optionalText(a.share); });
    row(AgreementText::tr("agreement on yes"), [](const auto& a) { return optionalText(a.agreedYes); });
    row(AgreementText::tr("agreement on no"), [](const auto& a) { return optionalText(a.agreedNo); });
    row(AgreementText::tr("alpha (Krippendorff), 95 % interval"), [](const auto& a) {
        return a.alpha ? figureText(*a.alpha, a.alphaInterval) : optionalText(a.alpha);
    });
    row(AgreementText::tr("kappa (Cohen)"),
        [](const auto& a) { return a.kappa ? twoDecimals(a.kappa->value) : AgreementText::tr("undefined"); });
    row(AgreementText::tr("AC1 (Gwet)"), [](const auto& a) { return optionalText(a.ac1); });
    row(AgreementText::tr("resampled"), [](const auto& a) {
        return a.byAttempt ? AgreementText::tr("attempts") : AgreementText::tr("steps");
    });
    return table;
}

QString luckWords(const core::StrictnessFunnel& funnel) {
    const int judged = funnel.judged();
    if (judged == 0)
        return AgreementText::tr("Dotted: fewer than %1 shared attempts, too few to compare.")
            .arg(core::kFewestShared);
    return AgreementText::tr(
               "By luck alone at least one of %1 lies outside the 95 % limits in %2 of 100 programs, "
               "outside the 80 % limits in %3.")
        .arg(judged)
        .arg(std::lround(100 * funnel.chanceByLuck(0.95)))
        .arg(std::lround(100 * funnel.chanceByLuck(0.80)));
}

DataTable strictnessTable(const AgreementModel& model) {
    DataTable table{AgreementText::tr("Strictness"),
                    {{AgreementText::tr("instructor")},
                     {AgreementText::tr("steps scored"), true},
                     {AgreementText::tr("shared attempts"), true},
                     {AgreementText::tr("credited, steps in 100"), true},
                     {AgreementText::tr("95 % interval"), true},
                     {AgreementText::tr("outside")}},
                    {}};
    if (!model.funnel()) return table;
    for (const core::Strictness& one : model.funnel()->instructors)
        table.rows.push_back(
            {qs(one.instructor),
             {Cell{model.instructor(one.instructor)}, Cell{QString::number(one.steps)},
              Cell{QString::number(one.shared)}, Cell{signedText(one.credit)},
              Cell{AgreementText::tr("%1 to %2").arg(signedText(one.low), signedText(one.high))},
              Cell{one.tooFew         ? AgreementText::tr("too few to compare")
                   : one.outsideOuter ? AgreementText::tr("95 % limits")
                   : one.outsideInner ? AgreementText::tr("80 % limits")
                                      : QString()}}});
    return table;
}

DataTable pairsTable(const AgreementModel& model) {
    DataTable table{AgreementText::tr("Who scored together"),
                    {{AgreementText::tr("instructors")},
                     {AgreementText::tr("attempts"), true},
                     {AgreementText::tr("steps"), true},
                     {AgreementText::tr("credited by the first only"), true},
                     {AgreementText::tr("by the other only"), true},
                     {AgreementText::tr("alike, 95 % interval"), true}},
                    {}};
    if (model.agreement() == nullptr) return table;
    for (const core::PairOfInstructors& one : core::pairsOfInstructors(model.agreement()->shared)) {
        const bool few = one.attempts < core::kFewestShared;
        const double share = one.steps > 0 ? 1 - static_cast<double>(one.differing) / one.steps : 0;
        table.rows.push_back(
            {qs(one.a + " " + one.b),
             {Cell{AgreementText::tr("%1 and %2").arg(model.instructor(one.a), model.instructor(one.b))},
              Cell{QString::number(one.attempts)}, Cell{QString::number(one.steps)},
              Cell{QString::number(one.onlyA)}, Cell{QString::number(one.differing - one.onlyA)},
              Cell{few ? AgreementText::tr("too few to compare") : figureText(share, one.share)}}});
    }
    return table;
}

std::vector<Column> disputedColumns() {
    return {{AgreementText::tr("step")},
            {AgreementText::tr("zone")},
            {AgreementText::tr("differed"), true},
            {AgreementText::tr("of attempts"), true}};
}

std::vector<Row> disputedRows(const std::vector<core::DisputedStep>& steps) {
    std::vector<Row> rows;
    for (const core::DisputedStep& one : steps)
        rows.push_back({qs(one.rubric + " " + one.step),
                        {longCell(qs(one.title)), mutedCell(qs(one.zone)),
                         sortedCell(QString::number(one.differing), one.differing),
                         sortedCell(QString::number(one.compared), one.compared)}});
    return rows;
}

}  // namespace markerlamp::app
