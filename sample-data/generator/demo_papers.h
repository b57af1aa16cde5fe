#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What the demo program has on file about its invented people besides attempts: clock hours, booked tests, a
// time away, what the training record says. No licence numbers and no results: nobody has been to the test
// yet.

#include "demo/generator/calendar.h"
#include "demo/generator/demo_program.h"

#include <cstdint>

namespace markerlamp::demo {

/// Fills hours, bookings, absences and courses of a program whose people and attempts are there.
void addPapers(DemoProgram& program, const Calendar& calendar, std::uint64_t seed);

}  // namespace markerlamp::demo
