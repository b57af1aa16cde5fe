// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/shell/workstation.h"

namespace markerlamp::app {

int runWorkstation(int argc, char** argv) {
    (void)argc;
    (void)argv;
    return 3;
}

}  // namespace markerlamp::app
