#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Official test results as a table: outcomes.csv, trainee,date,segment,result[,note].

#include "core/base/result.h"
#include "core/people/people.h"
#include "core/readiness/readiness_records.h"

#include <string>
#include <string_view>
#include <vector>

namespace markerlamp::core {

struct Outcomes {
    int rows = 0;
    std::vector<TestResult> results;  ///< those that are not on file yet, each once
};

/// segment: inspection, basic-control or road, or one that a result on file has; result: pass or fail.
/// Unknown trainees, dates that are none and unknown columns are refused with their row. A row is on file
/// when a result has its trainee, date, segment and result. The id of a new result follows from these four,
/// so that the same table taken in at two workstations makes the same records.
[[nodiscard]] Result<Outcomes> readOutcomesCsv(std::string_view csv, const std::string& name,
                                               const std::vector<Trainee>& known,
                                               const std::vector<TestResult>& onFile);
/// In the order of the results.
[[nodiscard]] std::string writeOutcomesCsv(const std::vector<TestResult>& results);

}  // namespace markerlamp::core
