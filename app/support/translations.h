#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Loads the plural forms of English and, where there is one, the language of this desktop.

class QCoreApplication;

namespace markerlamp::app {

/// Before any text is made. False when the English forms that travel inside the program cannot be loaded.
bool loadTranslations(QCoreApplication& application);

}  // namespace markerlamp::app
