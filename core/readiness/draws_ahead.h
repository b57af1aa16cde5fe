#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What is believed of a test after further attempts, for several numbers of them at once.

#include "core/readiness/forecast.h"

#include <functional>
#include <span>

namespace markerlamp::core {

/// As testDraws() for each number of further attempts in turn (in place of request.further), with the
/// trainee's own part fitted once. Ends when `look` returns false.
void testDrawsAhead(const LearningModel& model, const ForecastRequest& request, std::span<const int> further,
                    const std::function<bool(const TestDraws&)>& look);

}  // namespace markerlamp::core
