#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The blocks of the progress sheet, each drawn at the origin so that the sheet can try where they fit.

#include "forms/sheets/sheets.h"
#include "forms/style/page_drawing.h"

#include <QString>

#include <vector>

namespace markerlamp::forms {

struct Block {
    PageDrawing drawing;
    double height = 0;  ///< mm
};

/// How roomy the rows of "say next time" are set; tried from the roomiest on.
struct Comfort {
    double title = 10.5;  ///< points
    double advice = 10.5;
    bool full = true;  ///< also what to point at
};

/// What the cells of the plan and the rows of the zones say: names; numbers that lead from a name cut short
/// to the whole one in the list; or numbers alone, where room is short.
enum class ZoneLabels { Names, CutNames, Numbers };
/// Names where every one fits its cell, else CutNames.
[[nodiscard]] ZoneLabels zoneLabels(const core::Rubric& rubric, double planWidth);
/// The attempt on the plan of the bus: satisfied / observed for each zone, four patterns by what was missed.
[[nodiscard]] Block planBlock(const core::ScoredAttempt& scored, double width, ZoneLabels labels);
/// Where the zones stand now: dot and 80 % interval, or counts only.
[[nodiscard]] Block zonesBlock(const std::vector<core::ScoredAttempt>& history, double width,
                               ZoneLabels labels);
/// Meaning of the signs that stand in these rows.
[[nodiscard]] QString signsKey(const std::vector<core::SayNext>& rows);
/// One miss: number, title, lamps, what to do next time, tick box; a thin line at its foot.
[[nodiscard]] Block sayNextRow(const core::ScoredAttempt& scored, const core::SayNext& next, int number,
                               double width, const Comfort& comfort);
/// Must-pass facts in two columns; what is clean is summed up where there are many.
[[nodiscard]] Block mustPassBlock(const core::ScoredAttempt& scored, int cleanInARow, double width);
/// "We talked this through", two signature lines of at least 3.25 in with 0.4 in clear above, dates.
[[nodiscard]] Block signatureBlock(double width);

/// Which pattern a cell gets.
[[nodiscard]] Pattern missedPattern(int satisfied, int observed);

}  // namespace markerlamp::forms
