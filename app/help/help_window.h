#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// Help for a newcomer: pages written in Markdown that travel inside the program, with a list of them beside.

#include "app/support/theme.h"

#include <QDialog>

class QListWidget;
class QTextBrowser;

namespace markerlamp::app {

struct HelpPage {
    QString id;     ///< file name without ending
    QString title;  ///< its first heading
};

/// In reading order.
[[nodiscard]] std::vector<HelpPage> helpPages();
/// The page's Markdown; empty when there is no such page.
[[nodiscard]] QString helpText(const QString& id);

class HelpWindow final : public QDialog {
    Q_OBJECT

public:
    HelpWindow(const Theme& theme, QWidget* parent);
    void showPage(const QString& id);

private:
    const Theme& m_theme;
    QListWidget* m_list;
    QTextBrowser* m_text;
};

}  // namespace markerlamp::app
