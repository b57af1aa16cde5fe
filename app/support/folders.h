#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include <QString>

namespace markerlamp::app {

/// Where a suggested file goes: the folder for documents, or the home folder where there is none.
[[nodiscard]] QString documentsFolder();

}  // namespace markerlamp::app
