#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Where each zone stands on the plan of the bus, for screens and paper alike. The bus is seen from above with
// its nose to the left: row 0 is its right side (entry door), row 1 the inside, row 2 its left side.

#include "core/rubric/rubric.h"

#include <vector>

namespace markerlamp::forms {

inline constexpr int kPlanColumns = 4;
inline constexpr int kPlanRows = 3;

struct PlanCell {
    int column = 0;
    int row = 0;

    bool operator==(const PlanCell&) const = default;
};

/// One cell for each zone, in rubric order, no cell twice. Words of the zone's id and title choose the cell
/// (engine at the nose, rear at the tail, ...); what no word places takes the free cells, row by row, in
/// rubric order. More than twelve zones go on in further rows below. The same rubric gives the same cells
/// everywhere.
[[nodiscard]] std::vector<PlanCell> planCells(const core::Rubric& rubric);

/// Rows that the cells take: at least kPlanRows.
[[nodiscard]] int planRowCount(const std::vector<PlanCell>& cells);

}  // namespace markerlamp::forms
