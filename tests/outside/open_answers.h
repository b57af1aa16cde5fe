#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Open answers of real people told as attempts: a person is a trainee, an item a step, an occasion a zone and
// an attempt over it. A right answer is a step that was shown, any other one was left out; an answer that is
// not there was not observed.

#include "core/readiness/forecast.h"

#include <map>
#include <memory>
#include <string>
#include <vector>

namespace markerlamp::outside {

struct OpenAnswer {
    int person = 0, occasion = 0, item = 0;  ///< counted from 0
    int place = 0;                           ///< of the occasion in the person's row
    bool right = false;
};

/// All answers of a file of export-open-data.R. memory.csv has counts only: each trial is an occasion in
/// which that many of the 20 pairs, drawn with a fixed seed, are right.
[[nodiscard]] std::vector<OpenAnswer> readAnswers(const std::string& path);
[[nodiscard]] std::vector<OpenAnswer> readTrials(const std::string& path);

/// One zone an occasion, for answers in which an item belongs to one occasion; else one zone for all.
[[nodiscard]] std::shared_ptr<const core::Rubric> rubricOf(const std::vector<OpenAnswer>& answers,
                                                           bool zoneAnOccasion);
/// One attempt a person and occasion, on day kFirstDay + place * `apart`.
inline constexpr double kFirstDay = 20000.25;
[[nodiscard]] std::shared_ptr<const core::PracticeRecord> recordOf(
    const std::shared_ptr<const core::Rubric>& rubric, const std::vector<OpenAnswer>& answers, double apart);

/// The model's chance that each item would be answered right by a person at a day; by item.
[[nodiscard]] std::map<int, double> chances(const core::LearningModel& model,
                                            const std::shared_ptr<const core::Rubric>& rubric, int person,
                                            double day);

}  // namespace markerlamp::outside
