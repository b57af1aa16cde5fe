#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What keeps a trainee's chance down.

#include "core/readiness/forecast.h"
#include "core/readiness/learning_model_data.h"

#include <vector>

namespace markerlamp::core {

/// Most costly first, at most six.
/// @param attempts of the trainee, indices into the record, oldest first
[[nodiscard]] std::vector<Holding> whatHolds(const LearningModel::Data& data, const TestDraws& draws,
                                             const std::vector<std::size_t>& attempts);

}  // namespace markerlamp::core
