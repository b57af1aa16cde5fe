// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/cli/command_line.h"
#include "app/shell/workstation.h"

#include <sys/resource.h>

namespace {

/// A picture of the memory would hold names and scores, and go to whoever collects such pictures.
void leaveNoCoreDump() {
    const rlimit none{0, 0};
    ::setrlimit(RLIMIT_CORE, &none);
}

}  // namespace

int main(int argc, char** argv) {
    leaveNoCoreDump();
    if (const auto code = markerlamp::app::runCommandLine(argc, argv)) return *code;
    return markerlamp::app::runWorkstation(argc, argv);
}
