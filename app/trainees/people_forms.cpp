// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/trainees/people_forms.h"

#include "app/support/display.h"

#include <QCoreApplication>
#include <QLocale>
#include <QRegularExpression>

namespace markerlamp::app {

namespace {

class PeopleForms {
    Q_DECLARE_TR_FUNCTIONS(PeopleForms)
};

core::Result<void> checkKey(const QString& key, const QStringList& taken) {
    static const QRegularExpression allowed(QStringLiteral("^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$"));
    if (key.isEmpty())
        return core::fail(core::ErrorKind::Refused,
                          ss(PeopleForms::tr("Key: give a short key, such as t-017")));
    if (!allowed.match(key).hasMatch())
        return core::fail(
            core::ErrorKind::Refused,
            ss(PeopleForms::tr("Key: use letters, digits, dot, hyphen and underline only, no spaces")));
    if (taken.contains(key, Qt::CaseInsensitive))
        return core::fail(core::ErrorKind::Refused,
                          ss(PeopleForms::tr("Key: %1 is in use already").arg(key)));
    return {};
}

core::Result<std::optional<double>> checkNumber(const QString& field, const QString& text) {
    const QString trimmed = text.trimmed();
    if (trimmed.isEmpty()) return std::optional<double>();
    bool good = false;
    double value = QLocale().toDouble(trimmed, &good);
    if (!good) value = QLocale::c().toDouble(trimmed, &good);
    if (!good || !std::isfinite(value))
        return core::fail(core::ErrorKind::Refused,
                          ss(PeopleForms::tr("%1: %2 is no number").arg(field, trimmed)));
    return std::optional<double>(value);
}

}  // namespace

core::Result<std::string> dateFrom(const QString& field, const QString& text, bool required) {
    const QString trimmed = text.trimmed();
    if (trimmed.isEmpty()) {
        if (!required) return std::string();
        return core::fail(core::ErrorKind::Refused, ss(PeopleForms::tr("%1: give the date").arg(field)));
    }
    QDate date = QDate::fromString(trimmed, Qt::ISODate);
    if (!date.isValid()) date = QLocale().toDate(trimmed, QLocale::ShortFormat);
    // Qt takes a year of two digits for one of 1900 to 1999.
    if (date.isValid() && !trimmed.contains(QString::number(date.year()))) date = date.addYears(100);
    if (!date.isValid() || date.year() < 1900)
        return core::fail(core::ErrorKind::Refused,
                          ss(PeopleForms::tr("%1: %2 is no date; write it as YYYY-MM-DD, such as %3")
                                 .arg(field, trimmed, QDate::currentDate().toString(Qt::ISODate))));
    return ss(date.toString(Qt::ISODate));
}

TraineeFields fieldsOf(const core::Trainee& trainee) {
    return {qs(trainee.key),
            qs(trainee.name),
            qs(trainee.started),
            qs(trainee.permitIssued),
            qs(trainee.permitExpires),
            qs(trainee.medicalExpires),
            trainee.theoryPercent ? numberText(*trainee.theoryPercent) : QString(),
            qs(trainee.theoryDate),
            qs(trainee.group),
            qs(trainee.note)};
}

core::Result<core::Trainee> traineeFrom(const TraineeFields& fields, const QStringList& taken) {
    core::Trainee trainee;
    const QString key = fields.key.trimmed();
    if (auto good = checkKey(key, taken); !good) return core::fail(good.error());
    trainee.key = ss(key);
    trainee.name = ss(fields.name.trimmed());
    if (trainee.name.empty())
        return core::fail(core::ErrorKind::Refused,
                          ss(PeopleForms::tr("Name: give the name that lists and sheets show")));
    const std::vector<std::tuple<QString, QString, std::string*>> dates{
        {PeopleForms::tr("Training started"), fields.started, &trainee.started},
        {PeopleForms::tr("Permit issued"), fields.permitIssued, &trainee.permitIssued},
        {PeopleForms::tr("Permit ends"), fields.permitExpires, &trainee.permitExpires},
        {PeopleForms::tr("Medical card ends"), fields.medicalExpires, &trainee.medicalExpires},
        {PeopleForms::tr("Theory test on"), fields.theoryDate, &trainee.theoryDate},
    };
    for (const auto& [field, text, target] : dates) {
        auto date = dateFrom(field, text, false);
        if (!date) return core::fail(date.error());
        *target = *date;
    }
    if (!trainee.permitIssued.empty() && !trainee.permitExpires.empty() &&
        trainee.permitExpires < trainee.permitIssued)
        return core::fail(core::ErrorKind::Refused,
                          ss(PeopleForms::tr("Permit ends: the permit cannot end before it was issued")));
    auto percent = checkNumber(PeopleForms::tr("Theory result"), fields.theoryPercent);
    if (!percent) return core::fail(percent.error());
    if (*percent && (**percent < 0 || **percent > 100))
        return core::fail(core::ErrorKind::Refused,
                          ss(PeopleForms::tr("Theory result: a percentage from 0 to 100")));
    trainee.theoryPercent = *percent;
    trainee.group = ss(fields.group.trimmed());
    trainee.note = ss(fields.note.trimmed());
    return trainee;
}

core::Result<core::Instructor> instructorFrom(const QString& key, const QString& name,
                                              const QStringList& taken) {
    if (auto good = checkKey(key.trimmed(), taken); !good) return core::fail(good.error());
    if (name.trimmed().isEmpty())
        return core::fail(core::ErrorKind::Refused,
                          ss(PeopleForms::tr("Name: give the name that lists and sheets show")));
    return core::Instructor{ss(key.trimmed()), ss(name.trimmed()), false};
}

core::Result<core::Bus> busFrom(const QString& key, const QString& title, const QString& note,
                                const std::vector<std::string>& equipment,
                                const std::vector<LimitField>& limits, const QStringList& taken) {
    core::Bus bus;
    if (auto good = checkKey(key.trimmed(), taken); !good) return core::fail(good.error());
    bus.key = ss(key.trimmed());
    bus.title = ss(title.trimmed());
    bus.note = ss(note.trimmed());
    bus.equipment = equipment;
    for (const LimitField& field : limits) {
        auto low = checkNumber(PeopleForms::tr("%1, low").arg(field.id), field.low);
        if (!low) return core::fail(low.error());
        auto high = checkNumber(PeopleForms::tr("%1, high").arg(field.id), field.high);
        if (!high) return core::fail(high.error());
        if (!*low && !*high) continue;
        if (*low && *high && **low > **high)
            return core::fail(core::ErrorKind::Refused,
                              ss(PeopleForms::tr("%1: the low end is above the high end").arg(field.id)));
        bus.limits[ss(field.id)] = {*low, *high};
    }
    return bus;
}

QString freeKey(const QString& prefix, const QStringList& taken) {
    for (int n = 1;; ++n) {
        QString key = QStringLiteral("%1-%2").arg(prefix).arg(n, 3, 10, QLatin1Char('0'));
        if (!taken.contains(key, Qt::CaseInsensitive)) return key;
    }
}

}  // namespace markerlamp::app
