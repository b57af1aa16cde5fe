// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/cli/command_line.h"
#include "app/shell/workstation.h"

int main(int argc, char** argv) {
    if (const auto code = markerlamp::app::runCommandLine(argc, argv)) return *code;
    return markerlamp::app::runWorkstation(argc, argv);
}
