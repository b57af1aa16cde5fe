#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// No file is open: make a new program, open one, or try the demo; and the files used lately.

#include "app/shell/page.h"
#include "app/support/text_widgets.h"

#include <QStringList>

class QVBoxLayout;

namespace markerlamp::app {

class FirstPage final : public Page {
    Q_OBJECT

public:
    explicit FirstPage(const Theme& theme, QWidget* parent = nullptr);
    void setRecentFiles(const QStringList& files);

signals:
    void newRequested();
    void openRequested();
    void demoRequested();
    void bringBackRequested();
    void fileRequested(QString path);

private:
    const Theme& m_theme;
    BlockHead* m_recentHead;
    QVBoxLayout* m_recent;
};

}  // namespace markerlamp::app
