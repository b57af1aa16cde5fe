#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Frozen forecasts, overrides and official test results: added, never changed. And the evidence of all
// attempts.

#include "core/base/result.h"
#include "core/readiness/practice_record.h"
#include "core/readiness/readiness_records.h"
#include "db/program_file.h"
#include "db/sqlite/connection.h"
#include "db/store/attempt_store.h"
#include "db/store/people_store.h"
#include "db/store/rubric_store.h"
#include "db/store/trail_store.h"

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace markerlamp::db {

class ReadinessStore {
public:
    ReadinessStore(Connection& connection, TrailStore& trail, PeopleStore& people, RubricStore& rubrics,
                   AttemptStore& attempts)
        : m_connection(connection),
          m_trail(trail),
          m_people(people),
          m_rubrics(rubrics),
          m_attempts(attempts) {}

    /// For a connection that only reads a file of a form before these tables: empty ones stand in.
    core::Result<void> prepare();

    core::Result<std::vector<core::FrozenForecast>> forecasts();
    core::Result<Added> add(const core::FrozenForecast& forecast);
    core::Result<std::vector<core::Override>> overrides();
    core::Result<Added> add(const core::Override& override_);
    /// Those that were not struck; the second: all.
    core::Result<std::vector<core::TestResult>> testResults(const std::optional<std::string>& trainee = {});
    core::Result<std::vector<core::TestResult>> allTestResults();
    core::Result<Added> add(const core::TestResult& result);

    /// One attempt in memory at a time; nullptr when progress said stop.
    core::Result<std::shared_ptr<const core::PracticeRecord>> practiceRecord(
        const std::function<bool(double)>& progress, const ScoredSeen& seen);

private:
    Connection& m_connection;
    TrailStore& m_trail;
    PeopleStore& m_people;
    RubricStore& m_rubrics;
    AttemptStore& m_attempts;
};

}  // namespace markerlamp::db
