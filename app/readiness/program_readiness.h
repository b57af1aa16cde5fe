#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What the command line and the window ask about readiness, answered from one program file. Reads the file
// once and keeps what it needs; no widgets, no Qt types, usable from a worker thread.

#include "core/drill/drill_plan.h"
#include "core/readiness/forecast.h"
#include "core/readiness/readiness_word.h"
#include "core/readiness/ready_ahead.h"
#include "core/readiness/track_record.h"
#include "db/program_file.h"

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace markerlamp::app {

struct ReadinessQuestion {
    std::optional<double> at;         ///< day (core::dayOf); absent: now, as `now` says
    std::optional<double> aheadDays;  ///< instead: this long after each trainee's last attempt
    std::optional<std::string> section;
    double now = 0;  ///< day; the clock is the caller's
};

/// What the roster of a program shows besides readiness.
struct Outlook {
    core::ReadyAhead ahead;
    std::vector<std::string> failedTwice;  ///< titles of must-pass steps missed in both of the last two tries
};

class ProgramReadiness {
public:
    using Progress = std::function<bool(double)>;

    /// Reads record, people, settings, overrides. An error is the file's; a stop asked for by progress is an
    /// error of kind Usage with an empty message.
    static core::Result<std::unique_ptr<ProgramReadiness>> read(db::ProgramFile& file,
                                                                const Progress& progress = {});
    ~ProgramReadiness();

    [[nodiscard]] const std::vector<core::Trainee>& trainees() const;
    [[nodiscard]] const core::ReadinessSettings& settings() const;
    [[nodiscard]] const core::PracticeRecord& record() const;

    /// The moment a question is about for this trainee; nothing for aheadDays and a trainee without attempts.
    [[nodiscard]] std::optional<double> momentFor(const std::string& trainee,
                                                  const ReadinessQuestion& question) const;
    /// Unknown trainee, unknown section, no rubric at all: refused, each with what would be right.
    core::Result<core::Readiness> readiness(const std::string& trainee, const ReadinessQuestion& question,
                                            const Progress& progress = {});
    core::Result<Outlook> outlook(const std::string& trainee, const ReadinessQuestion& question,
                                  const Progress& progress = {});
    core::Result<core::DrillPlanner> planner(const std::string& trainee, const ReadinessQuestion& question,
                                             const Progress& progress = {});
    /// Frozen forecasts with their results.
    [[nodiscard]] core::TrackRecord frozen() const;
    /// The past again, see core::replay().
    [[nodiscard]] core::TrackRecord replayed(const Progress& progress = {});

private:
    struct Impl;
    explicit ProgramReadiness(std::unique_ptr<Impl> impl);
    std::unique_ptr<Impl> m_impl;
};

}  // namespace markerlamp::app
