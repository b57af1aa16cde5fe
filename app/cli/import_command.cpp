// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/cli/command_line.h"

#include <QStringList>

namespace markerlamp::app {

int importCommand(const QStringList& arguments) {
    Q_UNUSED(arguments)
    return kMachineFailed;
}

}  // namespace markerlamp::app
