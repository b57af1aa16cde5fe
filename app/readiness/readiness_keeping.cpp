// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What the desk puts on file: overrides, and forecasts frozen before what they are about begins.

#include "app/readiness/readiness_desk.h"

#include "app/shell/session.h"
#include "app/support/display.h"

#include <QUuid>

#include <algorithm>

namespace markerlamp::app {

namespace {

std::string newId() {
    return ss(QUuid::createUuid().toString(QUuid::WithoutBraces));
}

}  // namespace

std::vector<core::Override> ReadinessDesk::overridesOf(const QString& trainee) const {
    auto all = m_session.file().overrides();
    if (!all) return {};
    std::erase_if(*all, [&](const core::Override& one) { return one.trainee != ss(trainee); });
    return std::move(*all);
}

void ReadinessDesk::judgeAnew(ReadinessStanding& standing, const QString& trainee) const {
    core::Readiness& readiness = standing.answer.readiness;
    // An override made after the figures counts with them: it is judged as of now, and a moment that is
    // written in whole seconds lies before the end of its second.
    core::Forecast asOfNow = readiness.forecast;
    if (const auto now = core::dayOf(isoMoment(m_clock())))
        asOfNow.at = std::max(asOfNow.at, *now + 1 / 86'400.0);
    const double at = readiness.forecast.at;
    readiness = core::judge(asOfNow, std::move(readiness.gates), overridesOf(trainee), settings());
    readiness.forecast.at = at;
}

core::Result<void> ReadinessDesk::store(core::Override entry) {
    const QString trainee = qs(entry.trainee);
    const auto reason = qs(entry.reason).trimmed();
    if (reason.isEmpty())
        return core::fail(
            core::ErrorKind::Refused,
            ss(tr("reason: an override needs one; write what you saw that the figures do not")));
    if (entry.by.empty())
        return core::fail(core::ErrorKind::Refused,
                          ss(tr("by: nobody is named; choose the instructor who decides it")));
    entry.reason = ss(reason);
    entry.id = newId();
    entry.at = isoMoment(m_clock());
    if (auto added = m_session.file().addOverride(entry); !added) return core::fail(added.error());
    ReadinessStanding& standing = m_standings[trainee];
    if (standing.known) judgeAnew(standing, trainee);
    emit changed(trainee);
    return {};
}

core::Result<void> ReadinessDesk::setOverride(const QString& trainee, core::ReadinessWord word,
                                              const QString& reason, const QString& by) {
    core::Override entry;
    entry.trainee = ss(trainee);
    entry.word = word;
    entry.reason = ss(reason);
    entry.by = ss(by);
    return store(std::move(entry));
}

core::Result<void> ReadinessDesk::withdrawOverride(const QString& trainee, const QString& reason,
                                                   const QString& by) {
    const auto all = overridesOf(trainee);
    if (all.empty() || all.back().withdrawn)
        return core::fail(core::ErrorKind::NotFound,
                          ss(tr("there is no override to take back; the computed word counts")));
    core::Override entry = all.back();
    entry.withdrawn = true;
    entry.reason = ss(reason);
    entry.by = ss(by);
    return store(std::move(entry));
}

core::FrozenForecast ReadinessDesk::toFreeze(const QString& trainee) const {
    const ReadinessAnswer& answer = of(trainee).answer;
    const core::Forecast& forecast = answer.readiness.forecast;
    core::FrozenForecast frozen;
    frozen.id = newId();
    frozen.trainee = ss(trainee);
    frozen.at = isoMoment(m_clock());
    frozen.rubric = answer.rubric;
    frozen.edition = std::max(1, answer.edition);
    frozen.modelVersion = forecast.modelVersion;
    frozen.attempts = forecast.attempts;
    frozen.chance = forecast.chance;
    frozen.low = forecast.low;
    frozen.high = forecast.high;
    frozen.word = answer.readiness.word;
    frozen.computed = answer.readiness.computed;
    return frozen;
}

bool ReadinessDesk::freezeBefore(const core::AttemptHeader& header) {
    const QString trainee = qs(header.trainee);
    const ReadinessStanding& standing = of(trainee);
    if (!header.of.empty() || !upToDate(standing) || standing.answer.rubric != header.rubric) return false;
    const auto rubric = m_session.file().rubric(header.rubric, header.edition);
    if (!rubric || header.zones.size() != (*rubric)->zones.size()) return false;
    core::FrozenForecast frozen = toFreeze(trainee);
    frozen.about = core::FrozenForecast::About::FullAttempt;
    frozen.attempt = header.id;
    // On another thread and connection: the first press must not wait for the disk.
    m_writer.start([this, frozen, trainee, path = m_session.file().path(),
                    acting = m_session.file().acting()] {
        auto file = db::ProgramFile::open(path);
        if (file) (*file)->actAs(acting);
        auto added = file ? (*file)->addForecast(frozen) : core::Result<db::Added>(core::fail(file.error()));
        const QString trouble = added ? QString() : errorText(added.error(), 1);
        QMetaObject::invokeMethod(
            this,
            [this, trainee, trouble] {
                if (trouble.isEmpty())
                    emit this->frozen(trainee);
                else
                    emit said(tr("The forecast before this attempt was not kept: %1").arg(trouble));
            },
            Qt::QueuedConnection);
    });
    return true;
}

core::Result<core::FrozenForecast> ReadinessDesk::sendToTest(const QString& trainee) {
    const ReadinessStanding& standing = of(trainee);
    if (!upToDate(standing) || standing.answer.rubric.empty())
        return core::fail(core::ErrorKind::Refused,
                          ss(tr("there is no forecast of today's state yet; wait until it is worked out")));
    core::FrozenForecast frozen = toFreeze(trainee);
    frozen.about = core::FrozenForecast::About::OfficialTest;
    if (auto added = m_session.file().addForecast(frozen); !added) return core::fail(added.error());
    emit this->frozen(trainee);
    return frozen;
}

}  // namespace markerlamp::app
