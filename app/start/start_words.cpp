// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The words of the start form: what each row, line and refusal says.

#include "app/start/start_data.h"
#include "app/support/display.h"
#include "app/support/names.h"

#include <QLocale>
#include <QRegularExpression>
#include <QStringList>

#include <algorithm>

namespace markerlamp::app {

namespace {

/// Days before its end from which a permit presses; common practice, no published source.
constexpr int kPressingDays = 30;

}  // namespace

QString StartForm::traineeName(const core::Trainee& trainee) {
    return qs(trainee.name.empty() ? trainee.key : trainee.name);
}

QString StartForm::busWords(const core::Bus& bus) {
    QString name = busName(bus);
    if (bus.title.empty() || bus.title == bus.key || name == qs(bus.title)) return name;
    return tr("%1: %2", "Bus 14: engine in front").arg(name, qs(bus.title));
}

QString StartForm::instructorWords(const core::Instructor& instructor) const {
    const QString name = qs(instructor.name.empty() ? instructor.key : instructor.name);
    return instructor.key == m_station ? tr("%1, this workstation").arg(name) : name;
}

std::optional<int> StartForm::permitDays(const core::Trainee& trainee) const {
    const QDate end = isoDate(trainee.permitExpires);
    if (!end.isValid()) return std::nullopt;
    return static_cast<int>(today().daysTo(end));
}

QString StartForm::permitWords(const core::Trainee& trainee) const {
    const std::optional<int> days = permitDays(trainee);
    if (!days) return tr("no permit date");
    if (*days < 0) return tr("permit ended");
    if (*days == 0) return tr("permit ends today");
    return tr("permit %n day(s)", nullptr, *days);
}

bool StartForm::permitPresses(const core::Trainee& trainee) const {
    const std::optional<int> days = permitDays(trainee);
    return days && *days < kPressingDays;
}

QString StartForm::attemptsWords(const StartTrainee& trainee) const {
    if (trainee.attempts == 0) return tr("none yet", "attempts of a trainee");
    const QString day = trainee.last.year() == today().year()
                            ? QLocale().toString(trainee.last, tr("ddd d MMM", "a day of this year"))
                            : longDate(trainee.last);
    return tr("%n attempt(s), last %1", nullptr, trainee.attempts).arg(day);
}

QString StartForm::equipmentWords() const {
    if (!m_rubric) return {};
    const auto on = std::count_if(m_rubric->equipment.begin(), m_rubric->equipment.end(),
                                  [this](const auto& entry) { return hasEquipment(entry.first); });
    return tr("%1 of %2").arg(on).arg(m_rubric->equipment.size());
}

QString StartForm::ruleWords() const {
    if (!m_rubric) return {};
    QStringList words{tr("pass at %1 %").arg(numberText(m_rubric->pass.percent)),
                      tr("%n must pass", nullptr, mustPassIn(zones()))};
    if (m_rubric->pass.minutes) words << tr("%n minute(s)", nullptr, qRound(*m_rubric->pass.minutes));
    return words.join(QStringLiteral(", "));
}

QString StartForm::limitWords() const {
    const core::Bus* bus = busEntry();
    const int own = ownLimits();
    if (bus == nullptr || own == 0) return tr("limits of the rubric");
    return tr("limits of %1 replace %n of its limits", nullptr, own).arg(busName(*bus));
}

QString StartForm::unfinishedWords(const UnfinishedAttempt& attempt) const {
    const QString when =
        attempt.stopped.date() == today()
            ? attempt.stopped.toString(QStringLiteral("HH:mm"))
            : tr("%1 at %2", "a day at a time")
                  .arg(shortDate(attempt.stopped.date()), attempt.stopped.toString(QStringLiteral("HH:mm")));
    return tr("%1 on %2, stopped %3 after %4 of %n step(s)", nullptr, attempt.steps)
        .arg(attempt.traineeName, attempt.busTitle, when, QString::number(attempt.scored));
}

QString StartForm::missing() const {
    if (!m_rubric) return tr("No rubric is in the file: import one.");
    if (m_data.trainees.empty()) return tr("No trainee is in the file: add one, or import a list.");
    if (m_data.buses.empty()) return tr("No bus is in the file: add one in the Program menu.");
    if (m_data.instructors.empty()) return tr("No instructor is in the file: add one in the Program menu.");
    QStringList open;
    if (m_trainee.empty()) open << tr("the trainee");
    if (m_bus.empty()) open << tr("the bus");
    if (m_instructor.empty()) open << tr("the instructor who scores");
    if (zones().empty()) open << tr("at least one zone");
    if (!open.isEmpty()) return tr("Still to choose: %1.").arg(open.join(QStringLiteral(", ")));
    if (stepsIn(zones()) == 0)
        return tr("No step of these zones is on this bus: pick others, or its equipment.");
    return {};
}

QString StartForm::clockWords() const {
    QDate newest;
    for (const StartTrainee& entry : m_data.trainees)
        if (entry.last.isValid() && (!newest.isValid() || entry.last > newest)) newest = entry.last;
    if (!newest.isValid() || newest <= today()) return {};
    return tr("This computer's clock says %1, the newest attempt is of %2: set the clock first.")
        .arg(longDate(today()), longDate(newest));
}

QString StartForm::sentence() const {
    if (!ready()) return missing();
    if (QString clock = clockWords(); !clock.isEmpty()) return clock;
    QStringList parts;
    for (const StartTrainee& entry : m_data.trainees)
        if (entry.trainee.key == m_trainee) parts << traineeName(entry.trainee);
    parts << busName(*busEntry());
    const std::vector<std::string> chosen = zones();
    if (m_scope == Scope::Section)
        parts << qs(m_rubric->section(m_section)->title);
    else if (chosen.size() == m_rubric->zones.size())
        parts << tr("whole inspection");
    else
        parts << tr("%n zone(s)", nullptr,
                    static_cast<int>(std::count_if(chosen.begin(), chosen.end(), [this](const auto& zone) {
                        return stepsIn({zone}) > 0;
                    })));
    parts << tr("%n step(s)", nullptr, stepsIn(chosen)) << tr("%n must pass", nullptr, mustPassIn(chosen))
          << tr("about %n minute(s)", nullptr, std::max(1, qRound(minutesIn(chosen))));
    return parts.join(QStringLiteral(", "));
}

}  // namespace markerlamp::app
