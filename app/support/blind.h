#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Two scorings of one performance are blind: while one of them is not closed, nothing of the other is shown.

#include "db/program_file.h"

#include <set>
#include <string>
#include <vector>

namespace markerlamp::app {

/// Ids of closed attempts whose marks must not be shown yet: first scorings of which a second one is under
/// way, and second ones whose first is. One that was set aside holds nobody up.
/// @param infos of the whole file, or at least of the trainee
[[nodiscard]] std::set<std::string> hiddenFrom(const std::vector<db::AttemptInfo>& infos);

/// What is said in the place of a hidden attempt.
[[nodiscard]] std::string hiddenReason();

}  // namespace markerlamp::app
