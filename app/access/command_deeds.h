#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Which commands of the window are somebody's business only: those that are not here are everybody's.

#include "core/access/deeds.h"

#include <QString>

#include <map>

namespace markerlamp::app {

/// By object name of the command.
[[nodiscard]] const std::map<QString, core::Deed>& commandDeeds();

}  // namespace markerlamp::app
