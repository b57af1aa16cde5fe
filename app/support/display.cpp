// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/support/display.h"
#include "forms/sheets/wording.h"

#include <QCoreApplication>
#include <QLocale>

#include <cmath>

namespace markerlamp::app {

namespace {

class Display {
    Q_DECLARE_TR_FUNCTIONS(Display)
};

}  // namespace

QString firstLines(const QStringList& lines, int most) {
    if (lines.size() <= most) return lines.join(QLatin1Char('\n'));
    return (lines.mid(0, most) << Display::tr("and %n more", nullptr, static_cast<int>(lines.size()) - most))
        .join(QLatin1Char('\n'));
}

QString errorText(const core::Error& error, int most) {
    QStringList problems;
    for (const core::Problem& problem : error.problems) problems << qs(core::toText(problem));
    QStringList lines;
    if (!error.message.empty()) lines << qs(error.message);
    if (!problems.isEmpty()) lines << firstLines(problems, most);
    return lines.join(QLatin1Char('\n'));
}

QDateTime startedAt(const std::string& iso) {
    return QDateTime::fromString(qs(iso), Qt::ISODate);
}

std::string isoMoment(const QDateTime& moment) {
    return ss(moment.toOffsetFromUtc(moment.offsetFromUtc()).toString(Qt::ISODate));
}

std::string nowIso() {
    return isoMoment(QDateTime::currentDateTime());
}

QDate isoDate(const std::string& iso) {
    return QDate::fromString(qs(iso), Qt::ISODate);
}

QString longDate(const QDate& date) {
    return date.isValid() ? QLocale().toString(date, Display::tr("d MMM yyyy", "a date with its year"))
                          : QString();
}

QString shortDate(const QDate& date) {
    return date.isValid() ? QLocale().toString(date, Display::tr("d MMM", "a date without its year"))
                          : QString();
}

QString endsText(const QDate& end, const QDate& today) {
    if (!end.isValid()) return Display::tr("no date");
    const int days = static_cast<int>(today.daysTo(end));
    if (days < 0) return Display::tr("ended %1").arg(longDate(end));
    return Display::tr("ends %1 (%n day(s))", nullptr, days).arg(longDate(end));
}

QString percentText(double percent) {
    // 79.9 must not read as the 80 that would pass.
    return Display::tr("%1 %", "a percentage").arg(QLocale().toString(std::floor(percent + 1e-9), 'f', 0));
}

QString clockText(double seconds) {
    const auto whole = static_cast<long long>(std::floor(std::max(0.0, seconds)));
    const auto two = [](long long v) { return QStringLiteral("%1").arg(v, 2, 10, QLatin1Char('0')); };
    if (whole < 3600) return two(whole / 60) + QLatin1Char(':') + two(whole % 60);
    return QString::number(whole / 3600) + QLatin1Char(':') + two(whole / 60 % 60) + QLatin1Char(':') +
           two(whole % 60);
}

QString numberText(double value) {
    QLocale locale;
    locale.setNumberOptions(QLocale::OmitGroupSeparator);
    for (int decimals = 0; decimals < 3; ++decimals) {
        const double scale = std::pow(10.0, decimals);
        if (std::abs(std::round(value * scale) / scale - value) < 1e-9)
            return locale.toString(value, 'f', decimals);
    }
    return locale.toString(value, 'f', 3);
}

QString boundsText(std::optional<double> low, std::optional<double> high, const QString& unit,
                   bool exclusive) {
    QString text;
    if (low && high)
        text = exclusive
                   ? Display::tr("between %1 and %2, ends left out").arg(numberText(*low), numberText(*high))
                   : Display::tr("%1 to %2").arg(numberText(*low), numberText(*high));
    else if (high)
        text = (exclusive ? Display::tr("under %1") : Display::tr("at most %1")).arg(numberText(*high));
    else if (low)
        text = (exclusive ? Display::tr("over %1") : Display::tr("at least %1")).arg(numberText(*low));
    return text.isEmpty() ? text : forms::withUnit(text, ss(unit));
}

QString outcomeWord(core::StepOutcome outcome) {
    switch (outcome) {
        case core::StepOutcome::Satisfied:
            return Display::tr("satisfied");
        case core::StepOutcome::Partial:
            return Display::tr("partial");
        case core::StepOutcome::Wrong:
            return Display::tr("wrong");
        case core::StepOutcome::Prompted:
            return Display::tr("prompted");
        case core::StepOutcome::Omitted:
            return Display::tr("omitted");
        case core::StepOutcome::Unseen:
            return Display::tr("not observed");
        case core::StepOutcome::Unreached:
            return Display::tr("not reached");
    }
    return {};
}

QString resultWord(core::AttemptResult result) {
    switch (result) {
        case core::AttemptResult::Pass:
            return Display::tr("Meets the pass rule");
        case core::AttemptResult::Fail:
            return Display::tr("Does not meet the pass rule");
        case core::AttemptResult::Incomplete:
            return Display::tr("Incomplete");
    }
    return {};
}

QString reasonText(const core::Reason& reason, const core::Rubric& rubric, const core::Scorecard& card) {
    const core::Step* step = rubric.step(reason.step);
    const QString title = step != nullptr ? qs(step->title) : qs(reason.step);
    switch (reason.code) {
        case core::Reason::Code::BelowPercent:
            return Display::tr("%1 is below the pass mark of %2")
                .arg(percentText(card.percent), percentText(rubric.pass.percent));
        case core::Reason::Code::MustPass:
            return Display::tr("must pass: %1").arg(title);
        case core::Reason::Code::StrictOrder:
            return Display::tr("strict order broken: %1").arg(qs(reason.rule));
        case core::Reason::Code::OverTime:
            return Display::tr("longer than %1 minutes").arg(numberText(rubric.pass.minutes.value_or(0)));
        case core::Reason::Code::Unseen:
            return Display::tr("must pass, not observed: %1").arg(title);
        case core::Reason::Code::Unfinished:
            return Display::tr("not finished");
    }
    return {};
}

}  // namespace markerlamp::app
