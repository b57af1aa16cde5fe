#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Finds steps by what the instructor remembers of them: number, words of the title, of a point or of another
// way to say it, or the zone.

#include <QString>

#include <vector>

namespace markerlamp::app {

class ScoringModel;

/// Steps that hold every word, best first: number, beginning of the title, word of the title, anywhere in the
/// title, then the rest; rubric order among equals. Empty words: nothing.
[[nodiscard]] std::vector<int> findSteps(const ScoringModel& model, const QString& words);

}  // namespace markerlamp::app
