#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// The figures behind the pictures of the debrief as tables: everything that was missed, the plan, the order.
// Pure functions; no names of people in them.

#include "app/debrief/debrief_presenter.h"
#include "app/support/data_table_dialog.h"

namespace markerlamp::app {

/// Every missed step by rank, also those that "say next time" shows.
[[nodiscard]] DataTable missedTable(const Debrief& debrief);
/// Satisfied and observed steps of each zone in walk order; a zone that was not asked has no figures.
[[nodiscard]] DataTable planTable(const Debrief& debrief);
/// The steps in the order in which they were done, from 1, each with the place where it belongs.
[[nodiscard]] DataTable orderTable(const Debrief& debrief);

}  // namespace markerlamp::app
