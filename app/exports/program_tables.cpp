// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/exports/program_tables.h"

#include "app/readiness/program_readiness.h"
#include "app/support/trainee_history.h"

#include <algorithm>
#include <memory>
#include <utility>
#include <vector>

namespace markerlamp::app {

namespace {

using core::fail;
using core::Result;

/// Of the whole; the forecast reads and scores every attempt once, writing once more.
constexpr double kReading = 0.3;

class Writing {
public:
    Writing(db::ProgramFile& file, const TablesRequest& request, core::TableSink& sink,
            const ExportProgress& progress)
        : m_file(file), m_request(request), m_sink(sink), m_progress(progress), m_scorers(scorersOf(file)) {}

    Result<void> run() {
        if (auto done = read(); !done) return done;
        for (std::size_t i = 0; i < m_people.size(); ++i) {
            m_share =
                kReading + (1 - kReading) * static_cast<double>(i) / static_cast<double>(m_people.size());
            if (!go(m_share)) return fail(core::ErrorKind::Usage, {});
            const auto trainee = whole(m_people[i]);
            if (!trainee) return fail(trainee.error());
            if (auto done = core::writeRows(*trainee, m_names, m_sink); !done) return done;
        }
        return go(1) ? Result<void>() : fail(core::ErrorKind::Usage, {});
    }

private:
    [[nodiscard]] bool go(double share) const { return !m_progress || m_progress(share); }

    Result<void> read() {
        auto people = m_file.personFiles();
        if (!people) return fail(people.error());
        m_people = std::move(*people);
        if (m_request.order)
            std::ranges::sort(m_people, {}, [this](const core::PersonFile& one) {
                return m_request.order(one.trainee.key);
            });
        const auto instructors = m_file.instructors();
        if (!instructors) return fail(instructors.error());
        for (const core::Instructor& one : *instructors)
            if (!one.name.empty()) m_names.instructors[one.key] = one.name;
        const auto buses = m_file.buses();
        if (!buses) return fail(buses.error());
        for (const core::Bus& one : *buses)
            if (!one.title.empty()) m_names.buses[one.key] = one.title;
        return readReadiness();
    }

    Result<void> readReadiness() {
        const auto rubrics = m_file.rubrics();
        if (!rubrics) return fail(rubrics.error());
        if (rubrics->empty()) return {};  // there is nothing that could be forecast
        auto readiness =
            ProgramReadiness::read(m_file, [this](double share) { return go(kReading * share); });
        if (!readiness) return fail(readiness.error());
        m_readiness = std::move(*readiness);
        return {};
    }

    Result<core::ExportedTrainee> whole(const core::PersonFile& person) {
        const core::Trainee& trainee = person.trainee;
        core::ExportedTrainee all;
        all.person = person;
        all.today = m_request.today;
        if (m_readiness) {
            ReadinessQuestion question;
            question.now = m_request.now;
            auto answer =
                m_readiness->readiness(trainee.key, question, [this](double) { return go(m_share); });
            if (!answer) return fail(answer.error());
            all.readiness = std::move(*answer);
        }
        auto infos = m_file.attempts(trainee.key);
        if (!infos) return fail(infos.error());
        for (auto info = infos->rbegin(); info != infos->rend(); ++info) {
            auto attempt = scored(*info);
            if (!attempt) return fail(attempt.error());
            all.attempts.push_back(std::move(*attempt));
        }
        return all;
    }

    Result<core::ExportedAttempt> scored(const db::AttemptInfo& info) {
        auto attempt = m_file.attempt(info.id);
        if (!attempt) return fail(attempt.error());
        const auto scorer = m_scorers(info.rubric, info.edition);
        if (!scorer) return fail(scorer.error());
        auto rubric = m_file.rubric(info.rubric, info.edition);
        if (!rubric) return fail(rubric.error());
        core::Scorecard card = (*scorer)->score(*attempt);
        const auto standing = info.state == db::AttemptState::Ended  ? core::AttemptStanding::Ended
                              : info.state == db::AttemptState::Open ? core::AttemptStanding::Open
                                                                     : core::AttemptStanding::SetAside;
        return core::ExportedAttempt{{*rubric, std::move(*attempt), std::move(card)}, standing};
    }

    db::ProgramFile& m_file;
    const TablesRequest& m_request;
    core::TableSink& m_sink;
    const ExportProgress& m_progress;
    ScorerSource m_scorers;
    std::unique_ptr<ProgramReadiness> m_readiness;
    std::vector<core::PersonFile> m_people;
    core::ExportNames m_names;
    double m_share = kReading;
};

}  // namespace

Result<void> writeTables(db::ProgramFile& file, const TablesRequest& request, core::TableSink& sink,
                         const ExportProgress& progress) {
    return Writing(file, request, sink, progress).run();
}

}  // namespace markerlamp::app
