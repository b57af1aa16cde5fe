#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

namespace markerlamp::app {

/// Opens the window; `markerlamp [--demo] [PROGRAM-FILE]`. Returns the exit code of the event loop.
int runWorkstation(int argc, char** argv);

}  // namespace markerlamp::app
