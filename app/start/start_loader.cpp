// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/shell/session.h"
#include "app/start/start_page.h"
#include "app/support/display.h"
#include "app/support/names.h"

#include <algorithm>
#include <map>
#include <utility>

namespace markerlamp::app {

namespace {

core::Result<void> addUnfinished(Session& session, const db::AttemptInfo& info, StartData& data) {
    auto attempt = session.file().attempt(info.id);
    if (!attempt) return core::fail(attempt.error());
    UnfinishedAttempt entry;
    entry.id = qs(info.id);
    entry.traineeName = qs(info.trainee);
    for (const StartTrainee& t : data.trainees)
        if (t.trainee.key == info.trainee) entry.traineeName = StartForm::traineeName(t.trainee);
    core::Bus bus;
    bus.key = info.bus;
    for (const core::Bus& known : data.buses)
        if (known.key == info.bus) bus = known;
    entry.busTitle = busName(bus);
    entry.started = startedAt(info.started);
    const double last = attempt->events.empty() ? 0 : attempt->events.back().t;
    entry.stopped = entry.started.addMSecs(static_cast<qint64>(last * 1000));
    entry.scored = info.stepsScored;
    entry.steps = info.stepsInScope;
    entry.crashed = true;
    for (const core::Event& event : attempt->events) {
        if (event.kind == core::EventKind::Pause) entry.crashed = false;
        if (event.kind == core::EventKind::Resume) entry.crashed = true;
    }
    data.unfinished.push_back(std::move(entry));
    return {};
}

/// Where each part is noted; the first is also named where a person is erased.
constexpr std::pair<const char*, std::string LastUsed::*> kNotes[] = {
    {"ui.start.trainee", &LastUsed::trainee}, {"ui.start.instructor", &LastUsed::instructor},
    {"ui.start.bus", &LastUsed::bus},         {"ui.start.rubric", &LastUsed::rubric},
    {"ui.start.scope", &LastUsed::scope},
};

}  // namespace

core::Result<void> keepLastUsed(Session& session, const LastUsed& last) {
    return session.file().transaction([&]() -> core::Result<void> {
        for (const auto& [key, part] : kNotes)
            if (auto kept = session.file().setFact(key, last.*part); !kept) return kept;
        return {};
    });
}

StartPage::Loader startDataLoader(Session& session) {
    return [&session]() -> core::Result<StartData> {
        StartData data;
        auto trainees = session.file().trainees();
        if (!trainees) return core::fail(trainees.error());
        auto instructors = session.file().instructors();
        if (!instructors) return core::fail(instructors.error());
        auto buses = session.file().buses();
        if (!buses) return core::fail(buses.error());
        auto attempts = session.file().attempts();
        if (!attempts) return core::fail(attempts.error());
        auto rubrics = session.file().rubrics();
        if (!rubrics) return core::fail(rubrics.error());
        data.instructors = std::move(*instructors);
        std::erase_if(data.instructors, [&session](const core::Instructor& one) {
            return !core::isOwn(session.file().acting(), one.key);
        });
        data.buses = std::move(*buses);
        for (const auto& [key, part] : kNotes) {
            auto kept = session.file().fact(key);
            if (!kept) return core::fail(kept.error());
            data.last.*part = kept->value_or(std::string());
        }
        if (!attempts->empty()) {
            const db::AttemptInfo& newest = attempts->front();
            data.newest = {newest.trainee, newest.instructor, newest.bus, newest.rubric, {}};
        }
        std::map<std::string, std::pair<int, QDate>> seen;
        for (const db::AttemptInfo& info : *attempts) {
            if (info.state != db::AttemptState::Ended || !info.of.empty()) continue;
            auto& [count, last] = seen[info.trainee];
            ++count;
            const QDate day = startedAt(info.started).date();
            if (!last.isValid() || day > last) last = day;
        }
        for (core::Trainee& trainee : *trainees) {
            const auto& [count, last] = seen[trainee.key];
            data.trainees.push_back({std::move(trainee), count, last});
        }
        // By name, as people look for one another.
        std::sort(data.trainees.begin(), data.trainees.end(),
                  [](const StartTrainee& a, const StartTrainee& b) {
                      return StartForm::traineeName(a.trainee).localeAwareCompare(
                                 StartForm::traineeName(b.trainee)) < 0;
                  });
        std::stable_sort(rubrics->begin(), rubrics->end(),
                         [](const db::RubricInfo& a, const db::RubricInfo& b) {
                             return a.id != b.id ? a.id < b.id : a.edition > b.edition;
                         });
        for (const db::RubricInfo& info : *rubrics) {
            auto rubric = session.file().rubric(info.id, info.edition);
            if (!rubric) return core::fail(rubric.error());
            data.rubrics.push_back(*rubric);
        }
        for (const db::AttemptInfo& info : *attempts)
            if (info.state == db::AttemptState::Open)
                if (auto done = addUnfinished(session, info, data); !done) return core::fail(done.error());
        return data;
    };
}

}  // namespace markerlamp::app
