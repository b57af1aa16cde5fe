#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Next drill and readiness on the progress sheet, each drawn at the origin. Readiness stands in words with
// its reasons, never as a bare number.

#include "forms/sheets/progress_blocks.h"

namespace markerlamp::forms {

/// How much the drill says; tried from the fullest on. Column: all of it, where the lines for notes would be;
/// Elsewhere: it goes on a further page.
enum class DrillDetail { Full, Column, Small, Short, Elsewhere };

/// One row a zone: what to do, minutes, and a line for the day it was done; cautions under the rows, but in a
/// column, which leaves them to drillCautions().
[[nodiscard]] Block drillBlock(const SheetDrill& drill, double width, DrillDetail detail);
/// The cautions of its zones, each said once; empty where there are none.
[[nodiscard]] QString drillCautions(const SheetDrill& drill);
/// Shape, word and sentence; gates that are shut, what would change the word, an override with its reason.
[[nodiscard]] Block readinessBlock(const SheetReadiness& readiness, double width);

}  // namespace markerlamp::forms
