#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Which steps nearly everybody misses: what is taught to the group instead of to one trainee after the other.

#include "core/readiness/practice_record.h"

#include <string>
#include <vector>

namespace markerlamp::core {

/// One step over all trainees who tried it lately; each counts once, by the last try.
struct ClassStep {
    std::string rubric, step, zone;
    int trainees = 0;  ///< who tried it since the day
    int missed = 0;    ///< of them, not by oneself the last time
    /// Share missed, 80 % Jeffreys interval (Brown, Cai & DasGupta 2001).
    double low = 0, high = 1;
    /// The last attempts of those who missed it, newest first.
    std::vector<std::string> attempts;

    bool operator==(const ClassStep&) const = default;
};

/// Steps that at least `fewest` trainees tried on or after `since` (day, see dayOf()), those missed by most
/// first: by the low end of the interval, then by the share.
[[nodiscard]] std::vector<ClassStep> classSteps(const PracticeRecord& record, double since, int fewest = 3);

}  // namespace markerlamp::core
