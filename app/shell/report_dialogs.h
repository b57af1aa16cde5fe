#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Dialogs that only tell: what became of an import, all keys, and about the program.

#include "app/support/theme.h"
#include "db/exchange/exchange.h"

#include <QAction>
#include <QDialog>

namespace markerlamp::app {

class ImportDialog final : public QDialog {
    Q_OBJECT

public:
    ImportDialog(const Theme& theme, const db::ImportReport& report, const QString& summary, QWidget* parent);
};

class KeysDialog final : public QDialog {
    Q_OBJECT

public:
    /// The window's commands; the keys of the scoring page come from the help.
    KeysDialog(const Theme& theme, const QList<QAction*>& commands, QWidget* parent);
};

class AboutDialog final : public QDialog {
    Q_OBJECT

public:
    AboutDialog(const Theme& theme, const QString& file, QWidget* parent);
};

}  // namespace markerlamp::app
